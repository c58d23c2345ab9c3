//! Every check of the table of truing has a garment that trips it, and a cure that clears it: each mend that a finding offers is
//! written into the recipe as the program does, and the finding is gone.
//!
//! What a recipe cannot bring about, since the draft and the steps forbid it, is brought about in the pattern itself
//! (`checks_spoilt.rs`); no code that a check declares is left out of both.

mod common;

use body::Body;
use common::spoilt::SPOILT;
use common::{body_of_bust, recipe};
use document::mend::apply;
use document::{Finding, Source};
use garment::make;
use geometry::Curve;
use pattern::Pattern;
use pattern::check::{CHECKS, all};

fn body() -> Body {
    body_of_bust(900.0)
}

fn pattern(text: &str) -> Pattern {
    make(&recipe(text), &body())
        .unwrap_or_else(|finding| panic!("{text}\n{finding:#?}"))
        .pattern
}

fn found(text: &str, code: &str) -> Vec<Finding> {
    let findings = all(&pattern(text));
    findings
        .into_iter()
        .filter(|one| one.code == code)
        .collect()
}

/// The recipe after a mend of the first finding of a code (numbered from 0) has been written into it as the program does, and again
/// until there is none: each of several pieces may have the same finding.
fn mended(text: &str, code: &str, number: usize) -> String {
    let mut now = text.to_owned();
    for _ in 0..8 {
        let findings = found(&now, code);
        let Some(finding) = findings.first() else {
            assert_ne!(now, text, "{code} is tripped by {text}");
            return now;
        };
        // Once the first is mended, the next finding may have fewer ways.
        let last = finding.mends.len().checked_sub(1);
        let last = last.unwrap_or_else(|| panic!("{code} has no mend: {now}\n{finding:#?}"));
        let mend = &finding.mends[number.min(last)];
        now = apply(&Source::new("test.kdl", now), &[], &mend.changes)
            .unwrap_or_else(|finding| panic!("{finding:#?}"));
    }
    panic!("{code} is not cleared: {now}\n{:#?}", found(&now, code));
}

const SKIRT: &str = "garment \"Skirt\" { skirt \"straight\" length=\"600 mm\"; waistband }";
const DRESS: &str = "garment \"Dress\" { bodice; skirt \"straight\" length=\"600 mm\" }";

/// Recipes as people write them that trip a check, by its code.
const RECIPES: &[(&str, &str)] = &[
    (
        "grain-differs",
        "garment \"Skirt\" {\n    skirt \"straight\" length=\"600 mm\"\n    steps {\n        grain piece=\"skirt-back\" angle=\"30 deg\" // swings\n    }\n}\n",
    ),
    (
        "opening-does-not-pass",
        "garment \"Top\" { opening \"none\"; bodice { neckline \"round\" }; skirt \"straight\" length=\"500 mm\" }",
    ),
    (
        "opening-does-not-pass",
        "garment \"Dress\" { opening \"back\" closed=\"invisible-zip\" length=\"60 mm\"; bodice; skirt \"straight\" length=\"500 mm\" }",
    ),
    (
        "opening-does-not-pass",
        "garment \"Skirt\" { opening \"none\"; skirt \"straight\" length=\"600 mm\" }",
    ),
    (
        "hem-too-narrow",
        "garment \"Skirt\" { skirt \"straight\" length=\"950 mm\"; waistband }",
    ),
    (
        "hem-too-narrow",
        "garment \"Skirt\" { opening \"side\"; skirt \"straight\" length=\"950 mm\"; waistband }",
    ),
    (
        "piece-wider-than-cloth",
        "garment \"Skirt\" {\n    skirt \"straight\" length=\"600 mm\"\n    cloths {\n        shell \"linen\" width=\"40 cm\"\n    }\n}\n",
    ),
    ("seam-too-thick", COAT),
    ("hem-too-thick", COAT),
    ("allowance-does-not-fit", SLIT),
    // The side of the front is shaped, that of the back is not.
    (
        "seam-lengths-differ",
        "garment \"Dress\" { bodice; skirt \"straight\" length=\"600 mm\"; steps { redraw edge=\"front.side\" at=0.5 out=\"-20 mm\" } }",
    ),
    // The shoulder of the front is prolonged for a cap, that of the back is not.
    (
        "seam-lengths-differ",
        "garment \"Top\" { bodice; steps { redraw edge=\"front.armhole\" start-by=\"12 mm\" across=#false } }",
    ),
    // A sleeve is not changed with its armhole.
    (
        "seam-lengths-differ",
        "garment \"Dress\" { bodice; sleeve; skirt \"straight\" length=\"600 mm\"; steps { redraw edge=\"front.armhole\" start-by=\"-12 mm\" } }",
    ),
    // The sides are flared at the hem only.
    (
        "seam-not-smooth",
        "garment \"Skirt\" { skirt \"straight\" length=\"600 mm\"; waistband; steps { widen edge=\"skirt-front.side\" by=\"0 mm\" by-end=\"40 mm\" } }",
    ),
    (
        "seam-not-smooth",
        "garment \"Dress\" { bodice; skirt \"straight\" length=\"600 mm\"; steps { redraw edge=\"skirt-front.side\" shape=\"straight\" } }",
    ),
    // CB is flared to a train.
    (
        "centre-not-square",
        "garment \"Dress\" { bodice; skirt \"straight\" length=\"600 mm\"; steps { redraw edge=\"skirt-back.centre\" shape=\"straight\" start-by=\"20 mm\" } }",
    ),
    // A person measures each side for itself, and once wrongly.
    (
        "notches-do-not-meet",
        "garment \"Top\" { bodice; steps { notch at=\"front.side at 90 mm from armhole\" name=\"balance\" matched=#false; notch at=\"back.side at 98 mm from armhole\" name=\"balance\" matched=#false } }",
    ),
];

/// A neckline that is a slit of half the width of its allowances.
const SLIT: &str = "garment \"Top\" { bodice; steps { redraw edge=\"front.neckline\" shape=\"square\" start-by=\"-80 mm\" end-by=\"45 mm\" }; allowances { edge \"front.neckline\" \"30 mm\" } }";

const COAT: &str = "garment \"Coat dress\" { bodice; skirt \"gathered\" fullness=2.0 length=\"600 mm\"; cloths { shell \"coating\" thickness=\"2.6 mm\" } }";

/// All recipes that trip a check: those above, and those that are worked out from a pattern.
fn tripping() -> Vec<(&'static str, String)> {
    let written = RECIPES
        .iter()
        .map(|(code, text)| (*code, (*text).to_owned()));
    let worked_out = [("waist-darts-apart", darts_apart())];
    written.chain(worked_out).collect()
}

/// A skirt dart 8 mm beside that of the bodice.
fn darts_apart() -> String {
    let block = pattern(DRESS);
    let skirt = block.piece("skirt-front").expect("it has a skirt");
    let waist = skirt.edge("waist").expect("a skirt has a waist");
    let dart = &skirt.darts[0];
    let before: f64 = waist.runs[..=dart.gap].iter().map(Curve::length).sum();
    let aside = 100.0 * (before + 8.0) / waist.length();
    let step = format!(
        "steps {{ transfer dart=\"skirt-front.{}\" to=\"skirt-front.waist at {aside:.1} % from start\" }}",
        dart.name
    );
    DRESS.replace(" }", &format!("\n    {step}\n}}"))
}

#[test]
fn every_mend_clears_what_was_found() {
    for (code, text) in tripping() {
        let first = found(&text, code);
        let finding = first.first();
        let finding = finding.unwrap_or_else(|| panic!("{code} is not tripped by {text}"));
        assert!(!finding.mends.is_empty(), "{code} has no mend: {text}");
        for number in 0..finding.mends.len() {
            mended(&text, code, number);
        }
    }
}

/// Each code that a check declares is tripped by a recipe, or by a pattern that was spoilt.
#[test]
fn no_check_is_left_out() {
    let tripping = tripping();
    for check in CHECKS {
        for (code, _) in check.codes {
            let by_recipe = tripping.iter().any(|(tripped, _)| tripped == code);
            let by_spoiling = SPOILT.iter().any(|spoilt| spoilt.code == *code);
            assert!(by_recipe || by_spoiling, "nothing trips {code}");
        }
    }
}

/// A mend stands where a person would write it, and a comment behind a line stays there.
#[test]
fn a_grain_is_copied_across_the_seam() {
    let (code, text) = RECIPES[0];
    for number in [0, 1] {
        let mended = mended(text, code, number);
        assert!(mended.contains("// swings\n        grain piece=\"skirt-"));
    }
}

#[test]
fn a_loose_top_needs_no_opening() {
    let loose = "garment \"Top\" { opening \"none\"; ease { waist \"360 mm\" }; bodice { neckline \"round\" depth=\"90 mm\" width=\"40 mm\" back-depth=\"30 mm\" } }";
    assert_eq!(found(loose, "opening-does-not-pass"), []);
}

#[test]
fn a_skirt_that_opens_at_the_side_is_slit_there() {
    let whole =
        "garment \"Skirt\" { opening \"side\"; skirt \"straight\" length=\"950 mm\"; waistband }";
    let mended = mended(whole, "hem-too-narrow", 0);
    assert!(mended.contains("slit seam=\"skirt-side\""), "{mended}");
    assert_eq!(found(SKIRT, "hem-too-narrow"), []);
}

/// With a vent that reaches as high as the hem of the short skirt, the long one lets walk as that one does.
#[test]
fn a_vent_lets_one_walk() {
    let mut long = pattern(&SKIRT.replace("600", "850"));
    let trips = |pattern: &Pattern| all(pattern).iter().any(|one| one.code == "hem-too-narrow");
    assert!(trips(&long));
    long.makeup.vents.push(pattern::Vent {
        seam: "centre-back".into(),
        height: 260.0,
        width: 0.0,
    });
    assert!(!trips(&long));
}

/// What is wrong in the shell is wrong in the lining behind it, and one mend clears both.
#[test]
fn a_lining_follows_what_is_mended_in_the_shell() {
    let lined = "garment \"Dress\" { bodice; skirt \"straight\" length=\"600 mm\"; lining \"open\"; steps { redraw edge=\"front.side\" at=0.5 out=\"-20 mm\" } }";
    let findings = found(lined, "seam-lengths-differ");
    assert_eq!(findings.len(), 2);
    let mended_once = mended(lined, "seam-lengths-differ", 0);
    assert_eq!(mended_once.matches("true-seam").count(), 1, "{mended_once}");
}

/// A hem, a shoulder and a side keep all that they had apart from what the mend says: nothing else is found after it.
#[test]
fn a_mend_makes_nothing_else_wrong() {
    let codes = [
        "seam-lengths-differ",
        "seam-not-smooth",
        "centre-not-square",
        "notches-do-not-meet",
    ];
    for (code, text) in RECIPES.iter().filter(|(code, _)| codes.contains(code)) {
        let before = all(&pattern(text));
        let after = all(&pattern(&mended(text, code, 0)));
        for one in &after {
            let known = before.iter().any(|other| other.code == one.code);
            assert!(known, "{code}: {text}\n{one:#?}");
        }
    }
}
