//! Openings and what closes them, over a drawn population: the body passes, marks meet, and every piece can be sewn and cut.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::{Body, Measure};
use document::{Finding, Severity};
use garment::Garment;
use pattern::{Closing, Closure, Edge, Mark, Pattern};

const INCH: f64 = 25.4;

/// What a body's own contradictions, or its proportions, earn it.
const EXPLAINED: [&str; 5] = [
    "bust-witnesses-disagree",
    "armhole-and-armpit-disagree",
    "armhole-has-no-level",
    "armhole-without-bottom",
    // A straight skirt without a vent: not what is tried here.
    "hem-too-narrow",
];

/// Bodies drawn by bust and hip, the rest completed.
fn population() -> Vec<Body> {
    let rows = [
        (800.0, 880.0),
        (860.0, 960.0),
        (920.0, 980.0),
        (960.0, 1080.0),
        (1040.0, 1100.0),
        (1160.0, 1240.0),
    ];
    rows.iter()
        .map(|&(bust, hip)| common::body(&[(Measure::Bust, bust), (Measure::Hip, hip)]))
        .collect()
}

fn made(text: &str, body: &Body) -> Garment {
    let recipe = common::recipe(text);
    garment::make(&recipe, body).unwrap_or_else(|finding| panic!("{text}: {finding:#?}"))
}

fn clean(garment: &Garment, text: &str) {
    for finding in pattern::check::all(&garment.pattern) {
        // A garment without an opening is tried here as well, and nobody gets into it.
        let is_shut = finding.code == "opening-does-not-pass" && text.contains("opening \"none\"");
        let explained = finding.severity == Severity::Note
            || is_shut
            || finding.severity == Severity::Warning && EXPLAINED.contains(&finding.code);
        assert!(explained, "{text}: {finding:#?}");
    }
}

fn found<'a>(pattern: &'a Pattern, code: &str) -> Option<&'a Finding> {
    pattern.findings.iter().find(|finding| finding.code == code)
}

fn notch(pattern: &Pattern, piece: &str, name: &str) -> Option<(String, f64)> {
    let marks = pattern.piece(piece).map(|piece| &piece.marks)?;
    marks.iter().find_map(|mark| match mark {
        Mark::Notch {
            name: found,
            edge,
            along,
            ..
        } if found == name => Some((edge.clone(), *along)),
        _ => None,
    })
}

fn zip(pattern: &Pattern) -> &Closing {
    let is_zip =
        |closing: &&Closing| matches!(closing.closure, Closure::InvisibleZip | Closure::LappedZip);
    pattern
        .makeup
        .closings
        .iter()
        .find(is_zip)
        .expect("a zip was asked for")
}

fn dress(opening: &str, skirt: &str) -> String {
    format!(
        "garment \"Test\" {{ opening {opening}; ease {{ bust \"60 mm\"; waist \"40 mm\" }}; bodice {{ bust-dart \"side\"; neckline \"round\" depth=\"90 mm\" width=\"40 mm\" back-depth=\"20 mm\" }}; skirt {skirt} }}"
    )
}

#[test]
fn what_a_recipe_does_not_say_stays_as_it_was() {
    let body = common::body_of_bust(920.0);
    for skirt in [
        "\"straight\" length=\"600 mm\"",
        "\"gathered\" length=\"600 mm\"",
    ] {
        let silent = made(&format!("garment \"A\" {{ skirt {skirt} }}"), &body);
        let said = made(
            &format!("garment \"A\" {{ opening \"back\"; skirt {skirt} }}"),
            &body,
        );
        assert_eq!(silent.pattern.pieces, said.pattern.pieces);
        assert_eq!(silent.pattern.seams, said.pattern.seams);
        assert!(silent.pattern.makeup.closings.is_empty());
        assert!(notch(&silent.pattern, "skirt-back", "opening-end").is_some());
    }
}

#[test]
fn hips_pass_every_zip_of_the_population() {
    for body in population() {
        for at in ["back", "front", "side"] {
            for skirt in [
                "\"straight\" length=\"620 mm\"",
                "\"a-line\" length=\"620 mm\"",
                "\"gathered\" length=\"620 mm\" fullness=2.0",
            ] {
                let text = dress(&format!("\"{at}\" closed=\"invisible-zip\""), skirt);
                let garment = made(&text, &body);
                clean(&garment, &text);
                passes(&garment.pattern, &body, at);
            }
        }
    }
}

/// A trade magazine's worked example, as a rule: at least (hip − waist + 2 in)/2 below the waist.
fn passes(pattern: &Pattern, body: &Body, at: &str) {
    let zip = zip(pattern);
    let bodice: f64 = zip
        .along
        .iter()
        .filter(|stretch| !stretch.piece.starts_with("skirt"))
        .map(|stretch| pattern.side_length(std::slice::from_ref(stretch)))
        .sum();
    let below = zip.from + zip.opening - bodice;
    let rule = (body.mm(Measure::Hip) - body.mm(Measure::Waist) + 2.0 * INCH) / 2.0;
    assert!(below >= rule - 1e-6, "{below} below the waist for {rule}");
    assert!(zip.length >= zip.opening, "{zip:?}");
    assert!((zip.length / 50.0).fract() < 1e-9, "{zip:?}");
    // Half the difference is what a slit of that length gives at the waist, whatever the garment's own waist.
    let waist = pattern.girths.iter().find(|girth| girth.level == "waist");
    let waist = pattern.girth(waist.expect("a dress has a waist"));
    assert!(waist + 2.0 * below >= body.mm(Measure::Hip));
    let pieces = match at {
        "back" => vec![("skirt-back", "centre")],
        "front" => vec![("skirt-front", "centre")],
        _ => vec![("skirt-front", "side"), ("skirt-back", "side")],
    };
    for (piece, edge) in pieces {
        let (on, along) = notch(pattern, piece, "opening-end").expect("the opening has an end");
        assert_eq!(on, edge);
        let length = pattern
            .piece(piece)
            .and_then(|piece| piece.edge(edge))
            .map_or(0.0, Edge::length);
        let down = if edge == "centre" {
            length - along
        } else {
            along
        };
        assert!((down - below).abs() < 1e-6, "{piece}: {down} for {below}");
    }
}

#[test]
fn an_opening_in_front_parts_the_front_and_closes_the_back() {
    let body = common::body_of_bust(920.0);
    let garment = made(
        &dress(
            "\"front\" closed=\"lapped-zip\"",
            "\"straight\" length=\"620 mm\"",
        ),
        &body,
    );
    for (piece, count) in [
        ("front", 2),
        ("skirt-front", 2),
        ("back", 1),
        ("skirt-back", 1),
    ] {
        let piece = garment.pattern.piece(piece).expect("a dress has it");
        assert_eq!(piece.cut.count, count, "{}", piece.name);
    }
    let front = garment
        .pattern
        .piece("front")
        .and_then(|piece| piece.edge("centre"));
    assert!(front.is_some_and(|edge| edge.allowance >= 25.0));
    assert!((zip(&garment.pattern).lap - 12.0).abs() < 1e-9);
}

#[test]
fn the_seam_below_an_invisible_zip_waits() {
    let body = common::body_of_bust(920.0);
    let text = "garment \"A\" { opening \"back\" closed=\"invisible-zip\"; skirt \"straight\" length=\"600 mm\"; waistband }";
    let garment = made(text, &body);
    clean(&garment, text);
    let end = notch(&garment.pattern, "skirt-back", "opening-end").expect("an end");
    let wait = notch(&garment.pattern, "skirt-back", "seam-end").expect("a mark");
    // 1 1/2 in: common practice, no source.
    assert!((end.1 - wait.1 - 38.0).abs() < 1e-9);
    assert!(found(&garment.pattern, "seam-open-below-zip").is_some());
    // A band of 35 mm is held by two hooks: common practice, no source.
    let hooks = Closure::Hooks { count: 2 };
    assert!(
        garment
            .pattern
            .makeup
            .closings
            .iter()
            .any(|one| one.closure == hooks)
    );
}

#[test]
fn a_zip_that_is_too_short_is_told_with_the_length_that_does() {
    let body = common::body_of_bust(920.0);
    let text = |length: f64| {
        format!(
            "garment \"A\" {{ opening \"back\" closed=\"lapped-zip\" length=\"{length} mm\"; skirt \"straight\" length=\"600 mm\" }}"
        )
    };
    let short = made(&text(80.0), &body).pattern;
    let finding = found(&short, "opening-does-not-pass").expect("hips do not pass 80 mm");
    assert_eq!(finding.severity, Severity::Error);
    let Some(document::Allowed::AtLeast(least)) = &finding.allowed else {
        panic!("{finding:?}");
    };
    let cured = made(&text(least.value), &body).pattern;
    assert!(found(&cured, "opening-does-not-pass").is_none());
}

#[test]
fn a_wide_sack_opens_for_the_head_only() {
    let body = common::body_of_bust(920.0);
    let text = "garment \"Sack\" { opening \"back\" closed=\"nothing\" length=\"120 mm\"; ease { bust \"200 mm\"; waist \"330 mm\" }; bodice; skirt \"straight\" length=\"600 mm\" }";
    let garment = made(text, &body);
    assert!(found(&garment.pattern, "opening-does-not-pass").is_none());
    let shorter = text.replace("120 mm", "40 mm");
    let finding = made(&shorter, &body).pattern;
    let finding = found(&finding, "opening-does-not-pass").expect("the head does not pass");
    assert!(finding.message.contains("head"), "{finding:?}");
}

#[test]
fn what_opens_at_the_side_is_pulled_over_the_head() {
    let body = common::body_of_bust(920.0);
    let text = "garment \"A\" { opening \"side\" closed=\"invisible-zip\"; bodice; skirt \"straight\" length=\"600 mm\" }";
    let garment = made(text, &body);
    assert!(found(&garment.pattern, "neckline-does-not-pass-head").is_some());
    let wide = made(
        &dress(
            "\"side\" closed=\"invisible-zip\"",
            "\"straight\" length=\"600 mm\"",
        ),
        &body,
    );
    assert!(found(&wide.pattern, "neckline-does-not-pass-head").is_none());
    // The left side only: both pieces stay alike on both sides.
    let front = wide.pattern.piece("front").expect("a front");
    assert_eq!(front.cut.count, 1);
    assert!(notch(&wide.pattern, "front", "opening-start").is_some());
    assert!(notch(&wide.pattern, "back", "opening-start").is_some());
}

#[test]
fn a_band_goes_round_from_wherever_it_opens() {
    let body = common::body_of_bust(920.0);
    for at in ["back", "front", "side", "none"] {
        let closed = if at == "none" {
            ""
        } else {
            " closed=\"hooks\""
        };
        let text = format!(
            "garment \"A\" {{ opening \"{at}\"{closed}; skirt \"a-line\" length=\"600 mm\"; waistband }}"
        );
        let garment = made(&text, &body);
        clean(&garment, &text);
    }
}

#[test]
fn words_without_use_are_told() {
    let read = |line: &str| {
        let text = format!("garment \"A\" {{ {line}; skirt \"straight\" length=\"600 mm\" }}");
        garment::recipe::read(&document::Source::new("test.kdl", text.as_str()))
    };
    for line in [
        "opening \"none\" closed=\"hooks\"",
        "opening \"back\" length=\"200 mm\"",
        "opening \"back\" closed=\"lapped-zip\" button=\"18 mm\"",
        "opening \"back\" closed=\"lapped-zip\" from=\"30 mm\"",
    ] {
        let findings = read(line).expect_err(line);
        assert_eq!(findings[0].code, "property-without-use", "{findings:#?}");
    }
    assert_eq!(
        read("opening \"top\"").expect_err("no top")[0].code,
        "unknown-word"
    );
}

/// The linen dress, buttoned in front.
fn buttoned(facing: &str, skirt: &str, diameter: f64) -> String {
    dress(
        &format!("\"front\" closed=\"buttons\" button=\"{diameter} mm\" facing=\"{facing}\""),
        skirt,
    )
}

/// Where the buttons sit, from the neck edge down the centre line, mm.
fn places(pattern: &Pattern) -> Vec<f64> {
    let mut places = Vec::new();
    let mut above = 0.0;
    for name in ["front", "skirt-front"] {
        let Some(piece) = pattern.piece(name) else {
            continue;
        };
        let line = piece.line("centre").expect("the centre line stays").runs[0].clone();
        for mark in &piece.marks {
            if let Mark::Point { name, at } = mark
                && name.starts_with("button-")
            {
                let near = line.nearest(*at);
                assert!(near.distance < 1e-6, "{name} lies beside the centre line");
                places.push(above + line.length() - near.along);
            }
        }
        above += line.length();
    }
    places
}

#[test]
fn buttons_sit_evenly_over_the_population() {
    for body in population() {
        for skirt in [
            "\"straight\" length=\"620 mm\"",
            "\"a-line\" length=\"620 mm\"",
            "\"gathered\" length=\"620 mm\" fullness=2.0",
        ] {
            let text = buttoned("separate", skirt, 18.0);
            let garment = made(&text, &body);
            clean(&garment, &text);
            let pattern = &garment.pattern;
            let places = places(pattern);
            let gaps: Vec<f64> = places.windows(2).map(|pair| pair[1] - pair[0]).collect();
            assert!(
                gaps.iter().all(|gap| (30.0..=90.0 + 1e-6).contains(gap)),
                "{gaps:?}"
            );
            // Even from the bust down, nearly so above it.
            let last = gaps[gaps.len() - 1];
            assert!(
                gaps.iter().all(|gap| (gap / last - 1.0).abs() < 0.35),
                "{gaps:?}"
            );
            let front = pattern.piece("front").expect("a dress has a front");
            let bust = front.line("bust").expect("it has a bust line").runs[0]
                .start()
                .y;
            let at_bust = front.marks.iter().any(|mark| {
                matches!(mark, Mark::Point { name, at } if name.starts_with("button-") && (at.y - bust).abs() < 1.0)
            });
            assert!(at_bust, "no button at the bust");
            // Watson, Textiles and Clothing, 1907: half the button and 1/4 in beyond the centre line.
            let stand = front.edge("stand-neckline").expect("a stand").length();
            assert!(stand >= 18.0 / 2.0 + INCH / 4.0);
        }
    }
}

#[test]
fn a_buttonhole_is_as_long_as_the_book_says() {
    let body = common::body_of_bust(920.0);
    let skirt = "\"a-line\" length=\"620 mm\"";
    let garment = made(&buttoned("separate", skirt, 18.0), &body);
    let holes = garment.pattern.pieces.iter().flat_map(|piece| &piece.lines);
    let mut count = 0;
    for hole in holes.filter(|line| line.name.starts_with("buttonhole")) {
        // Watson, Textiles and Clothing, 1907: diameter and 1/8 in.
        assert!((hole.length() - (18.0 + INCH / 8.0)).abs() < 1e-6);
        count += 1;
    }
    let told = &garment.pattern.makeup.closings[0];
    let Closure::Buttons { count: bought, .. } = told.closure else {
        panic!("{told:?}");
    };
    assert_eq!(bought, count);
    assert!((told.lap - 2.0 * 16.0).abs() < 1e-6, "{told:?}");
}

#[test]
fn the_strip_lies_on_its_piece() {
    for body in population() {
        let garment = made(
            &buttoned("separate", "\"a-line\" length=\"620 mm\"", 18.0),
            &body,
        );
        for (strip, piece) in [
            ("front-stand-facing", "front"),
            ("skirt-front-stand-facing", "skirt-front"),
        ] {
            let strip = garment
                .pattern
                .piece(strip)
                .expect("a facing was asked for");
            let shell = garment.pattern.piece(piece).expect("a dress has it");
            for edge in strip.edges.iter().filter(|edge| edge.name != "outer") {
                let whole = shell.edge(&edge.name).expect("it is the shell's own");
                let run = &edge.runs[0];
                for share in [0.0, 0.3, 0.7, 1.0] {
                    let point = run.point_at(run.length() * share);
                    let near = whole.runs.iter().map(|run| run.nearest(point).distance);
                    assert!(
                        near.fold(f64::INFINITY, f64::min) < 1e-3,
                        "{piece} {}",
                        edge.name
                    );
                }
            }
            // 65 mm from the finished edge all the way: common practice, no source.
            let outer = &strip.edge("outer").expect("its inner edge is free").runs[0];
            let edge = &strip.edge("centre").expect("its edge is the shell's").runs[0];
            for share in [0.1, 0.5, 0.9] {
                let off = edge
                    .nearest(outer.point_at(outer.length() * share))
                    .distance;
                assert!((off - 65.0).abs() < 0.5, "{off}");
            }
        }
    }
}

#[test]
fn a_folded_facing_tells_where_it_misses() {
    let body = common::body_of_bust(920.0);
    let skirt = "\"a-line\" length=\"620 mm\"";
    let folded = made(&buttoned("folded", skirt, 18.0), &body).pattern;
    assert!(found(&folded, "folded-facing-misses-neckline").is_some());
    let front = folded.piece("front").and_then(|piece| piece.edge("centre"));
    assert!(front.is_some_and(|edge| (edge.allowance - 65.0).abs() < 1e-9));
    let text = "garment \"A\" { opening \"front\" closed=\"buttons\" facing=\"folded\"; skirt \"straight\" length=\"600 mm\"; waistband }";
    let garment = made(text, &body);
    clean(&garment, text);
    assert!(found(&garment.pattern, "folded-facing-misses-neckline").is_none());
}

#[test]
fn narrow_stands_are_told_and_side_seams_take_no_buttons() {
    let body = common::body_of_bust(920.0);
    let text = |stand: &str| {
        format!(
            "garment \"A\" {{ opening \"back\" closed=\"buttons\" button=\"20 mm\" {stand}; bodice; skirt \"straight\" length=\"600 mm\" }}"
        )
    };
    let narrow = made(&text("stand=\"12 mm\""), &body).pattern;
    assert!(found(&narrow, "button-stand-narrow").is_some());
    let right = made(&text(""), &body);
    clean(&right, "buttons at the back");
    let side = "garment \"A\" { opening \"side\" closed=\"buttons\"; skirt \"straight\" length=\"600 mm\" }";
    let refused = garment::make(&common::recipe(side), &body).map(|_| ());
    assert_eq!(
        refused.expect_err("no stand at the side").code,
        "closing-without-place"
    );
}

#[test]
fn a_stand_that_a_step_has_made_is_kept() {
    let body = common::body_of_bust(920.0);
    let text = "garment \"A\" { opening \"front\" closed=\"buttons\"; bodice { neckline \"round\" depth=\"20 mm\" }; skirt \"a-line\" length=\"600 mm\"; steps { extend edge=\"front.centre, skirt-front.centre\" by=\"70 mm\" name=\"wrap\" } }";
    let garment = made(text, &body);
    clean(&garment, text);
    assert!((garment.pattern.makeup.closings[0].lap - 140.0).abs() < 0.1);
}
