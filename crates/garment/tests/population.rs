//! Whole populations are drafted: every body gives a pattern, and what a check says is explained by its own measures.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use std::fmt::Write as _;

use body::{Body, Measure, Tape};
use document::{Allowed, Finding, Severity};
use garment::{Garment, Recipe};
use pattern::Edge;

/// Words that a body's own contradictions, or ease that its frame cannot take, earn it.
const EXPLAINED: [&str; 4] = [
    "bust-witnesses-disagree",
    "armhole-and-armpit-disagree",
    "armhole-has-no-level",
    "armhole-without-bottom",
];

/// Figures of one drafted body: dart angle, armhole over bust, front over back armhole height, front neck depth.
type Row = [f64; 4];

const TITLES: [&str; 4] = [
    "bust dart, degrees",
    "armhole over bust",
    "front over back armhole height",
    "front neck depth, mm",
];

fn recipes() -> Vec<Recipe> {
    vec![
        common::dress(
            "side",
            "\"gathered\" fullness=2.1 length=\"700 mm\"",
            "sleeve ease=\"60 mm\" cap-ease=\"30 mm\"",
        ),
        common::dress("shoulder", "\"a-line\" length=\"650 mm\"", ""),
        common::dress("waist", "\"straight\" length=\"650 mm\"", ""),
        common::dress("neck", "\"straight\" length=\"650 mm\"", ""),
        common::dress("armhole", "\"straight\" length=\"650 mm\"", ""),
        common::recipe("garment \"Skirt\" { skirt \"straight\" length=\"600 mm\"; waistband }"),
    ]
}

fn drafted(recipe: &Recipe, body: &Body, who: &str) -> Garment {
    let made = garment::make(recipe, body)
        .or_else(|finding| garment::make(&cured(recipe, &finding), body));
    let garment = made.unwrap_or_else(|finding| panic!("{who}: {finding:#?}"));
    for finding in pattern::check::of_sewing(&garment.pattern) {
        let explained = finding.severity == Severity::Warning && EXPLAINED.contains(&finding.code);
        assert!(explained, "{who}: {finding:#?}");
    }
    garment
}

/// A sleeve with the ease that was asked for may be wider than the armhole allows; the finding says by how much, and with
/// that much less ease it must fit.
fn cured(recipe: &Recipe, finding: &Finding) -> Recipe {
    let mut recipe = recipe.clone();
    if let (
        "sleeve-wider-than-armhole",
        Some(measured),
        Some(Allowed::AtMost(most)),
        Some(sleeve),
    ) = (
        finding.code,
        &finding.measured,
        &finding.allowed,
        &mut recipe.sleeve,
    ) {
        sleeve.value.ease -= measured.value - most.value;
    }
    recipe
}

fn row(garment: &Garment, body: &Body) -> Row {
    let piece = |name: &str| {
        garment
            .pattern
            .piece(name)
            .expect("a dress has a front and a back")
    };
    let armhole = |name: &str| {
        piece(name)
            .edge("armhole")
            .expect("a bodice has an armhole")
    };
    let (front, back) = (armhole("front"), armhole("back"));
    let height = |edge: &Edge| edge.end().y - edge.start().y;
    let neck = piece("front")
        .edge("neckline")
        .expect("a front has a neckline");
    [
        garment
            .witnesses
            .as_ref()
            .expect("a bodice has witnesses")
            .joined
            .degrees,
        (front.length() + back.length()) / body.mm(Measure::Bust),
        height(front) / height(back),
        neck.start().y - neck.end().y,
    ]
}

fn all_drafted(tapes: impl Iterator<Item = Tape>) -> Vec<Row> {
    let recipes = recipes();
    tapes
        .map(|tape| {
            let body = body::complete(&tape);
            let garments: Vec<Garment> = recipes
                .iter()
                .map(|recipe| drafted(recipe, &body, tape.name()))
                .collect();
            row(&garments[0], &body)
        })
        .collect()
}

fn table(title: &str, rows: &[Row]) -> String {
    let mut text = format!(
        "## {title} ({} bodies)\n\n| figure | 1 % | 5 % | median | 95 % | 99 % |\n|---|---|---|---|---|---|\n",
        rows.len()
    );
    for (column, name) in TITLES.iter().enumerate() {
        let mut values: Vec<f64> = rows.iter().map(|row| row[column]).collect();
        values.sort_by(f64::total_cmp);
        let at = |share: f64| values[((values.len() - 1) as f64 * share).round() as usize];
        let [a, b, c, d, e] = [0.01, 0.05, 0.5, 0.95, 0.99].map(at);
        let decimals = if c < 2.0 { 2 } else { 1 };
        writeln!(text, "| {name} | {a:.decimals$} | {b:.decimals$} | {c:.decimals$} | {d:.decimals$} | {e:.decimals$} |").expect("text takes writing");
    }
    text
}

/// The table in the docs is what the code makes; `NOTCHBOOK_WRITE=1` writes it anew.
fn same_as_docs(file: &str, text: &str) {
    let path = format!(
        "{}/../../docs/population/{file}",
        env!("CARGO_MANIFEST_DIR")
    );
    if std::env::var_os("NOTCHBOOK_WRITE").is_some() {
        std::fs::create_dir_all(format!(
            "{}/../../docs/population",
            env!("CARGO_MANIFEST_DIR")
        ))
        .expect("docs can be written");
        std::fs::write(&path, text).expect("docs can be written");
    }
    let written = std::fs::read_to_string(&path).unwrap_or_default();
    assert_eq!(
        written, text,
        "docs/population/{file} is old: run NOTCHBOOK_WRITE=1 cargo test -p garment --test population"
    );
}

#[test]
fn drawn_population() {
    let rows = all_drafted(body::population::draw(2000, 1));
    same_as_docs(
        "drawn.md",
        &table("Drawn from the published means and covariance", &rows),
    );
}

#[test]
fn survey_population() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../../shared/data/ansur2_female_tape.csv"
    );
    let Ok(text) = std::fs::read_to_string(path) else {
        common::skipped("survey_population: the survey's rows are not beside the project");
        return;
    };
    let rows = all_drafted(common::survey(&text).into_iter());
    same_as_docs(
        "survey.md",
        &table(
            "Women of the survey of 2012, completed where it lacks a measure",
            &rows,
        ),
    );
}
