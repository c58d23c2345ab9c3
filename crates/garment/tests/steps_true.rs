//! Steps that true: seams walk, edges run on, notches meet and levels fit after them, on small and large bodies; and what
//! cannot be trued is refused with what can.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use common::{body_of_bust, recipe};
use document::Finding;
use garment::{do_step, make};
use pattern::step::kit::corner::Tip;
use pattern::{Edge, Fullness, Pattern, Piece};

const BUSTS: [f64; 4] = [780.0, 900.0, 1040.0, 1220.0];

/// A dress whose sides were changed by some steps.
fn dress(bust: f64, steps: &str) -> Pattern {
    let text = format!(
        "garment \"Dress\" {{ bodice; skirt \"straight\" length=\"600 mm\"; steps {{ {steps} }} }}"
    );
    make(&recipe(&text), &body_of_bust(bust))
        .unwrap_or_else(|finding| panic!("{finding:#?}"))
        .pattern
}

fn step(pattern: &Pattern, line: &str) -> Result<Pattern, Finding> {
    let recipe = recipe(&format!("garment \"One\" {{ bodice; steps {{ {line} }} }}"));
    do_step(&recipe.steps[0], pattern).map(|done| done.pattern)
}

fn done(pattern: &Pattern, line: &str) -> Pattern {
    step(pattern, line).unwrap_or_else(|finding| panic!("{line}\n{finding:#?}"))
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    pattern.piece(name).expect("the dress has it")
}

fn edge<'a>(pattern: &'a Pattern, owner: &str, name: &str) -> &'a Edge {
    piece(pattern, owner).edge(name).expect("the piece has it")
}

/// Interior angle at an end of an edge, degrees.
fn angle(pattern: &Pattern, owner: &str, name: &str, at_end: bool) -> f64 {
    let index = pattern.pieces.iter().position(|piece| piece.name == owner);
    let piece = index.expect("the dress has it");
    let edge = pattern.pieces[piece].edge_index(name);
    let edge = edge.expect("the piece has it");
    let tip = Tip {
        piece,
        edge,
        at_end,
    };
    tip.angle(pattern).degrees()
}

/// By how much the worked side of a seam is longer than it should be, mm.
fn off(pattern: &Pattern, name: &str) -> f64 {
    let seam = pattern.seams.iter().find(|seam| seam.name == name);
    let seam = seam.expect("the dress has it");
    let [held, worked] = [&seam.held, &seam.worked].map(|side| pattern.side_length(side));
    match seam.fullness {
        Fullness::Eased(more) | Fullness::Pleated(more) => worked - held - more,
        Fullness::Gathered(times) => worked - held * times,
        Fullness::None => worked - held,
    }
}

/// All edges but some are bit for bit what they were.
fn rest_stays(before: &Pattern, after: &Pattern, changed: &[(&str, &str)]) {
    for piece in &before.pieces {
        for edge in &piece.edges {
            let (piece, name) = (piece.name.as_str(), edge.name.as_str());
            if !changed.contains(&(piece, name)) {
                let now = after.piece(piece).and_then(|piece| piece.edge(name));
                assert_eq!(now.map(|now| &now.runs), Some(&edge.runs), "{piece}.{name}");
            }
        }
    }
}

const FLARED: &str = "widen edge=\"skirt-front.side\" by=\"0 mm\" by-end=\"40 mm\"";
const SHAPED: &str = "redraw edge=\"skirt-front.side\" shape=\"straight\"";

#[test]
fn a_hem_is_smooth_over_the_side_and_its_corners_stay() {
    for bust in BUSTS {
        let before = dress(bust, FLARED);
        let side = |pattern: &Pattern| {
            angle(pattern, "skirt-front", "hem", false) + angle(pattern, "skirt-back", "hem", false)
        };
        let peak = side(&before) - 180.0;
        assert!(peak.abs() > 3.0, "{bust}: {peak}");
        let after = done(&before, "smooth edge=\"skirt-front.hem, skirt-back.hem\"");
        assert!((side(&after) - 180.0).abs() < 1e-6, "{bust}");
        // Each gives half.
        let front = angle(&after, "skirt-front", "hem", false);
        let turned = angle(&before, "skirt-front", "hem", false) - front;
        assert!(
            (turned - peak / 2.0).abs() < 1e-6,
            "{bust}: {turned} of {peak}"
        );
        let hems = [("skirt-front", "hem"), ("skirt-back", "hem")];
        rest_stays(&before, &after, &hems);
        for (owner, name) in hems {
            let [old, new] = [&before, &after].map(|pattern| edge(pattern, owner, name));
            assert_eq!((old.start(), old.end()), (new.start(), new.end()));
        }
        let again = done(&after, "smooth edge=\"skirt-front.hem, skirt-back.hem\"");
        assert_eq!(again, after, "{bust}: what is smooth stays");
    }
}

#[test]
fn one_edge_alone_takes_the_whole_turn_and_meets_the_centre_square() {
    for bust in BUSTS {
        let before = dress(
            bust,
            "redraw edge=\"skirt-back.centre\" shape=\"straight\" start-by=\"20 mm\"",
        );
        let at_centre = |pattern: &Pattern| angle(pattern, "skirt-back", "hem", true);
        assert!((at_centre(&before) - 90.0).abs() > 1.0, "{bust}");
        let after = done(&before, "smooth edge=\"skirt-back.hem\"");
        assert!((at_centre(&after) - 90.0).abs() < 1e-6, "{bust}");
        rest_stays(&before, &after, &[("skirt-back", "hem")]);
    }
}

#[test]
fn a_seam_is_trued_at_an_end_or_bowed() {
    for bust in BUSTS {
        let before = dress(bust, SHAPED);
        let was = off(&before, "skirt-side");
        assert!(was.abs() > 0.1, "{bust}: {was}");
        let at_hem = done(
            &before,
            "true-seam seam=\"skirt-side\" edge=\"skirt-back.side\" at=\"skirt-back.hem\"",
        );
        assert!(off(&at_hem, "skirt-side").abs() < 1e-6, "{bust}");
        rest_stays(
            &before,
            &at_hem,
            &[("skirt-back", "side"), ("skirt-back", "hem")],
        );
        let sum = angle(&at_hem, "skirt-front", "hem", false)
            + angle(&at_hem, "skirt-back", "hem", false);
        assert!((sum - 180.0).abs() < 0.01, "{bust}: {sum}");
        let bowed = done(
            &before,
            "true-seam seam=\"skirt-side\" edge=\"skirt-front.side\"",
        );
        assert!(off(&bowed, "skirt-side").abs() < 1e-6, "{bust}");
        rest_stays(&before, &bowed, &[("skirt-front", "side")]);
    }
}

#[test]
fn what_is_eased_in_moves_no_line() {
    for bust in BUSTS {
        let before = dress(bust, SHAPED);
        let after = done(&before, "ease-in seam=\"skirt-side\"");
        assert!(off(&after, "skirt-side").abs() < 1e-9, "{bust}");
        rest_stays(&before, &after, &[]);
        let seam = after.seams.iter().find(|seam| seam.name == "skirt-side");
        let ease = seam.map(|seam| seam.fullness);
        assert!(
            matches!(ease, Some(Fullness::Eased(more)) if more > 0.1),
            "{bust}: {ease:?}"
        );
    }
}

#[test]
fn notches_come_together_on_either_side() {
    let apart = "notch at=\"skirt-front.side at 100 mm from waist\" name=\"balance\" matched=#false
        notch at=\"skirt-back.side at 108 mm from waist\" name=\"balance\" matched=#false";
    let along = |pattern: &Pattern, owner: &str| {
        let marks = piece(pattern, owner).marks.iter();
        let mut found = marks.filter_map(|mark| match mark {
            pattern::Mark::Notch { name, along, .. } if name == "balance" => Some(*along),
            _ => None,
        });
        found.next().expect("it was set")
    };
    for bust in BUSTS {
        let before = dress(bust, apart);
        for (moves, stays) in [("skirt-front", "skirt-back"), ("skirt-back", "skirt-front")] {
            let line =
                format!("match-notches seam=\"skirt-side\" piece=\"{moves}\" notch=\"balance\"");
            let after = done(&before, &line);
            rest_stays(&before, &after, &[]);
            let moved = (along(&after, moves) - along(&before, moves)).abs();
            assert!((moved - 8.0).abs() < 1e-6, "{bust}, {moves}: {moved}");
            assert_eq!(along(&after, stays), along(&before, stays), "{bust}");
        }
    }
}

#[test]
fn a_level_has_the_ease_that_is_asked_for() {
    let sides = "front.side, back.side, skirt-front.side, skirt-back.side";
    for bust in BUSTS {
        let before = dress(bust, "");
        for (level, ease) in [("waist", 70.0), ("hip", 20.0), ("bust", 120.0)] {
            let line = format!("fit-girth level=\"{level}\" ease=\"{ease} mm\" edge=\"{sides}\"");
            let after = done(&before, &line);
            let girth = after.girths.iter().find(|girth| girth.level == level);
            let girth = girth.expect("the dress has it");
            assert!(
                (after.girth(girth) - girth.body - ease).abs() < 1e-5,
                "{bust}, {level}"
            );
            for other in &after.girths {
                let off = after.girth(other) - other.body - other.ease;
                assert!(off.abs() < 1e-5, "{bust}, {level}, {}: {off}", other.level);
            }
            for seam in ["side", "skirt-side"] {
                assert!(off(&after, seam).abs() < 0.01, "{bust}, {level}, {seam}");
            }
        }
    }
}

#[test]
fn what_cannot_be_trued_is_refused_in_words() {
    let (plain, shaped) = (dress(900.0, ""), dress(900.0, SHAPED));
    let eased = dress(
        900.0,
        "redraw edge=\"front.armhole\" start-by=\"30 mm\" across=#false",
    );
    let refused: [(&Pattern, &str, &str); 8] = [
        (
            &shaped,
            "true-seam seam=\"skirt-side\" edge=\"skirt-back.hem\"",
            "edge-not-in-seam",
        ),
        (
            &shaped,
            "true-seam seam=\"skirt-side\" edge=\"skirt-back.side\" at=\"skirt-back.centre\"",
            "edge-not-beside",
        ),
        (
            &shaped,
            "true-seam seam=\"waist-front\" edge=\"skirt-front.waist\" at=\"skirt-front.centre\"",
            "fold-stays-straight",
        ),
        (
            &shaped,
            "true-seam seam=\"sleeve\" edge=\"skirt-back.side\"",
            "seam-not-there",
        ),
        (&eased, "ease-in seam=\"shoulder\"", "too-much-to-ease"),
        (
            &shaped,
            "match-notches seam=\"skirt-side\" notch=\"knee\"",
            "notch-not-there",
        ),
        (
            &plain,
            "fit-girth level=\"knee\" edge=\"skirt-front.side\"",
            "level-not-there",
        ),
        (
            &plain,
            "fit-girth level=\"hip\" edge=\"front.shoulder\"",
            "level-out-of-reach",
        ),
    ];
    for (pattern, line, code) in refused {
        let finding = step(pattern, line).expect_err(line);
        assert_eq!(finding.code, code, "{finding:#?}");
        assert!(!finding.cure.is_empty(), "{line}");
    }
}
