//! The recipes on the page docs/recipes.md are real: each is read and made.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::Body;
use document::{Finding, Severity, Source};
use garment::Garment;

const PAGE: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/../../docs/recipes.md");

fn person() -> Body {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../examples/bodies/cellist.kdl"
    );
    let text = std::fs::read_to_string(path).expect("the example is part of the project");
    body::complete(&body::read(&Source::new(path, text)).expect("the example is sound"))
}

fn made(text: &str) -> Result<Garment, Vec<Finding>> {
    let base = "garment \"Block\" { bodice; sleeve; skirt \"straight\" length=\"600 mm\" }";
    let opened = garment::recipe::open(&Source::new("page.kdl", text), &mut |name, _| {
        Ok(Source::new(name, base))
    })?;
    let body = person();
    garment::make(&opened.recipe(&body)?, &body).map_err(|finding| vec![finding])
}

/// A piece of the page as a whole garment.
fn whole(block: &str) -> String {
    let block = block.replace('…', "");
    if block.starts_with("garment") {
        return block;
    }
    let skirt = if block.contains("skirt \"") {
        ""
    } else {
        "skirt \"straight\" length=\"600 mm\""
    };
    format!("garment \"Page\" {{\nbodice\nsleeve\n{skirt}\n{block}\n}}")
}

/// Lines that all begin with one statement are so many ways to write it, each for a garment of its own.
fn each(block: &str) -> Vec<String> {
    let lines: Vec<&str> = block
        .lines()
        .filter(|line| !line.trim().is_empty())
        .collect();
    let word = |line: &str| line.split(' ').next().map(str::to_owned);
    let alike = lines.len() > 1 && lines.iter().all(|line| word(line) == word(lines[0]));
    if alike {
        lines.into_iter().map(str::to_owned).collect()
    } else {
        vec![block.to_owned()]
    }
}

#[test]
fn every_recipe_on_the_page_can_be_made() {
    let page = std::fs::read_to_string(PAGE).expect("the page lies in docs/");
    let blocks: Vec<&str> = page
        .split("```kdl\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .collect();
    assert!(blocks.len() >= 7, "{}", blocks.len());
    let mut wrong = Vec::new();
    for block in blocks.into_iter().flat_map(each) {
        let block = block.as_str();
        let made = made(&whole(block)).unwrap_or_else(|findings| panic!("{block}\n{findings:#?}"));
        let findings = pattern::check::all(&made.pattern);
        let errors = findings
            .iter()
            .filter(|one| one.severity == Severity::Error);
        wrong.extend(errors.map(|one| format!("{block}\n{}: {}", one.code, one.message)));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n\n"));
}

/// Every way of writing a place on the page finds a place on the block, where a dart is transferred to it; a dart that then
/// lies badly is none of the page's business.
#[test]
fn every_place_on_the_page_is_found() {
    const BADLY: [&str; 6] = [
        "dart-crosses",
        "outline-crosses",
        "place-in-dart",
        "place-at-corner",
        "place-not-on-edge",
        "place-on-other-piece",
    ];
    let page = std::fs::read_to_string(PAGE).expect("the page lies in docs/");
    let (_, table) = page
        .split_once("| a place |")
        .expect("the page has a table of places");
    let (table, _) = table.split_once("\n\n").expect("the table ends");
    let places: Vec<&str> = table
        .lines()
        .skip(2)
        .filter_map(|row| row.split('|').nth(1))
        .flat_map(|cell| cell.split('`').skip(1).step_by(2))
        .collect();
    assert!(places.len() >= 13, "{places:?}");
    for place in places {
        let step =
            format!("steps {{ transfer dart=\"front.bust-dart\" to=\"{place}\" share=0.02 }}");
        if let Err(findings) = made(&whole(&step)) {
            let only_badly = findings.iter().all(|one| BADLY.contains(&one.code));
            assert!(only_badly, "{place}: {findings:#?}");
        }
    }
}
