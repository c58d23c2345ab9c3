//! Every derived part stays tied to the shell: any style number may change, and all layers follow it on every body.
//!
//! Ten numbers of a dress are changed one at a time over a drawn population. After each change all seams and mates are walked
//! again, and every edge that lies on a changed edge of the shell must have changed by as much.

mod common;

use body::Body;
use document::{Finding, Severity};
use garment::Garment;
use pattern::{Fullness, Pattern, Seam};

/// How many bodies each number is tried on.
const BODIES: usize = 24;
/// How much the ease between two layers may change with a number, mm: a bagged lining ends where the hem of the shell does, and a
/// wider skirt turns up less of it.
const EASE_MAY_CHANGE: f64 = 20.0;
/// Findings that would say that a layer did not follow.
const TORN: [&str; 6] = [
    "seam-lengths-differ",
    "layers-differ",
    "seam-without-edge",
    "notches-do-not-meet",
    "outline-crosses-itself",
    "allowance-does-not-fit",
];

/// The numbers, each with what it is before and after.
const NUMBERS: [(&str, &str, &str); 10] = [
    ("DEPTH", "60 mm", "85 mm"),
    ("WIDTH", "15 mm", "30 mm"),
    ("BEHIND", "15 mm", "35 mm"),
    ("BUST", "60 mm", "84 mm"),
    ("WAIST", "40 mm", "60 mm"),
    ("LENGTH", "620 mm", "740 mm"),
    ("SWEEP", "1700 mm", "2000 mm"),
    ("CAP", "26 mm", "34 mm"),
    ("CUFF", "260 mm", "300 mm"),
    ("BAND", "50 mm", "60 mm"),
];

const DRESS: &str = r#"garment "Dress that follows" {
    ease { bust "BUST"; waist "WAIST"; hip "80 mm" }
    bodice { bust-dart "side"; neckline "round" depth="DEPTH" width="WIDTH" back-depth="BEHIND" }
    sleeve ease="50 mm" cap-ease="CAP" hem="CUFF"
    skirt "a-line" length="LENGTH" sweep="SWEEP"
    opening "back" closed="invisible-zip"
    facings { neck width="BAND" without-seam="shoulder" }
    interfacing { behind "neck-facing"; tape width="10 mm" }
    lining "LINED"
    pockets { in-seam seam="skirt-side" below-waist="80 mm" opening="150 mm" }
    hems { skirt "HEMMED"; sleeve "turned" }
}"#;

/// The dress with all numbers as they are before, but for one.
fn written(changed: Option<usize>, lined: &str, hemmed: &str) -> String {
    let text = DRESS.replace("LINED", lined).replace("HEMMED", hemmed);
    NUMBERS
        .iter()
        .enumerate()
        .fold(text, |text, (index, (name, before, after))| {
            let value = if changed == Some(index) {
                after
            } else {
                before
            };
            text.replace(name, value)
        })
}

/// Errors mean that the dress cannot be cut for this body at all: a sleeve that its armhole does not take. Such bodies are
/// passed over, and counted.
fn made(text: &str, body: &Body) -> Option<Garment> {
    garment::make(&common::recipe(text), body).ok()
}

fn torn(garment: &Garment, what: &str) {
    let findings: Vec<Finding> = pattern::check::all(&garment.pattern)
        .into_iter()
        .filter(|finding| TORN.contains(&finding.code) || finding.severity == Severity::Error)
        .collect();
    assert!(findings.is_empty(), "{what}: {findings:#?}");
}

/// Lengths of the two sides of a mate, mm.
fn sides(pattern: &Pattern, mate: &Seam) -> [f64; 2] {
    [&mate.held, &mate.worked].map(|side| pattern.side_length(side))
}

/// Every mate of one pattern, found again in the other, changed on both sides by as much; how many changed at all.
fn followed(before: &Pattern, after: &Pattern, what: &str) -> usize {
    let mut changed = 0;
    for mate in &before.makeup.mates {
        let found = after.makeup.mates.iter().find(|one| one.name == mate.name);
        let again = found.unwrap_or_else(|| panic!("{what}: {} is gone", mate.name));
        let [old, new] = [sides(before, mate), sides(after, again)];
        let [held, worked] = [new[0] - old[0], new[1] - old[1]];
        let ratio = match mate.fullness {
            Fullness::Gathered(times) => times,
            _ => 1.0,
        };
        assert!(
            (worked - held * ratio).abs() < EASE_MAY_CHANGE,
            "{what}: {} changed by {held:.1} mm on one side and {worked:.1} mm on the other",
            mate.name
        );
        changed += usize::from(held.abs() > 1.0);
    }
    changed
}

fn all_layers_follow(lined: &str, hemmed: &str, seed: u64) {
    let base = written(None, lined, hemmed);
    let mut drafted = 0;
    let mut tried = [0; NUMBERS.len()];
    let mut moved = [0; NUMBERS.len()];
    for tape in body::population::draw(BODIES, seed) {
        let body = body::complete(&tape);
        let Some(before) = made(&base, &body) else {
            continue;
        };
        drafted += 1;
        torn(&before, tape.name());
        for (index, (name, ..)) in NUMBERS.iter().enumerate() {
            let what = format!("{} with another {name}", tape.name());
            let Some(after) = made(&written(Some(index), lined, hemmed), &body) else {
                continue;
            };
            torn(&after, &what);
            tried[index] += 1;
            moved[index] += followed(&before.pattern, &after.pattern, &what);
        }
    }
    assert!(drafted * 10 >= BODIES * 7, "{drafted} bodies were drafted");
    for (index, (name, ..)) in NUMBERS.iter().enumerate() {
        assert!(
            tried[index] * 4 >= drafted * 3,
            "{name} was tried on {} of {drafted} bodies only",
            tried[index]
        );
        // The width of a facing changes no edge of the shell, and mates only where the lining ends at its outer edge.
        let must_move = *name != "BAND" || lined == "bagged";
        assert!(!must_move || moved[index] > 0, "nothing followed {name}");
    }
}

#[test]
fn layers_of_a_bagged_dress_follow_every_number() {
    all_layers_follow("bagged", "turned", 11);
}

#[test]
fn layers_of_an_open_lined_dress_follow_every_number() {
    all_layers_follow("open", "faced", 12);
}

#[test]
fn layers_of_a_mounted_dress_follow_every_number() {
    all_layers_follow("mounted", "bound", 13);
}
