//! Steps of a recipe replayed: from the beginning, from the first step that changed, and where one cannot be done.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::{Body, Measure};
use document::{Finding, Place, Severity};
use garment::{Garment, Recipe, Replayed};

fn body() -> Body {
    common::body(&[
        (Measure::Bust, 920.0),
        (Measure::Waist, 740.0),
        (Measure::Hip, 990.0),
    ])
}

fn recipe(steps: &str) -> Recipe {
    common::recipe(&format!(
        "garment \"Test\" {{\n bodice\n skirt \"straight\" length=\"600 mm\"\n steps {{\n{steps}\n }}\n}}"
    ))
}

fn made(steps: &str) -> Result<Garment, Finding> {
    garment::make(&recipe(steps), &body())
}

const STYLE: [&str; 4] = [
    "transfer dart=\"front.bust-dart\" to=\"front.shoulder at 1/2\"",
    "lengthen at=\"front.side at 60 mm from waist, back.side at 60 mm from waist\" by=\"12 mm\"",
    "flare hem=\"skirt-front.hem\" from=\"skirt-front.waist\" by=\"80 mm\"",
    "flare hem=\"skirt-back.hem\" from=\"skirt-back.waist\" by=\"80 mm\"",
];

#[test]
fn every_step_is_kept_with_what_was_before_and_after_it() {
    let recipe = recipe(&STYLE.join("\n"));
    let replayed = Replayed::new(&recipe, &body()).expect("the style can be done");
    assert_eq!(replayed.replays().len(), 4);
    assert_eq!(*replayed.replays()[0].before, *replayed.block());
    for pair in replayed.replays().windows(2) {
        assert_eq!(pair[0].after(), &pair[1].before);
    }
    let plain = garment::make(&self::recipe(""), &body()).expect("the block can be drafted");
    // Only parts, which follow the last step, fill the makeup.
    assert_eq!(
        replayed.block().pieces,
        plain.pattern.pieces,
        "steps begin where the block ends"
    );
    assert_eq!(replayed.block().seams, plain.pattern.seams);
    let changed =
        |index: usize| replayed.replays()[index].before != *replayed.replays()[index].after();
    assert!((0..4).all(changed));
}

/// A replay that stands on an earlier one is the same as one from the beginning, whatever changed.
#[test]
fn a_replay_on_a_replay_is_the_same() {
    let body = body();
    let first = Replayed::new(&recipe(&STYLE.join("\n")), &body).expect("the style can be done");
    let changed_last = STYLE.join("\n").replace(
        "flare hem=\"skirt-back.hem\" from=\"skirt-back.waist\" by=\"80 mm\"",
        "flare hem=\"skirt-back.hem\" from=\"skirt-back.waist\" by=\"90 mm\"",
    );
    let cases = [
        (changed_last, 3),
        (STYLE[..2].join("\n"), 2),
        (STYLE.join("\n"), 4),
        (STYLE.join("\n").replace("12 mm", "15 mm"), 1),
        (
            STYLE
                .join("\n")
                .replace("by=\"12 mm\"", "by=\"12 mm\" off=#true"),
            1,
        ),
        ([STYLE[2], STYLE[3]].join("\n"), 0),
    ];
    for (steps, kept) in cases {
        let recipe = recipe(&steps);
        assert_eq!(first.kept(&recipe).len(), kept, "{steps}");
        let again = Replayed::from(&first, &recipe, &body).expect("it can be done");
        let anew = Replayed::new(&recipe, &body).expect("it can be done");
        assert_eq!(again.garment().pattern, anew.garment().pattern, "{steps}");
        assert_eq!(again.replays(), anew.replays(), "{steps}");
    }
    let other = common::body_of_bust(1000.0);
    let again = Replayed::from(&first, first.recipe(), &other).expect("it can be done");
    let anew = Replayed::new(first.recipe(), &other).expect("it can be done");
    assert_eq!(
        again.garment().pattern,
        anew.garment().pattern,
        "another body is drafted anew"
    );
}

#[test]
fn a_step_that_is_off_does_nothing() {
    let off = made(&format!("{} off=#true", STYLE[0])).expect("nothing is done");
    let plain = made("").expect("the block can be drafted");
    assert_eq!(off.pattern, plain.pattern);
    assert!(off.replays.len() == 1 && off.replays[0].done.is_none());
}

/// The finding that stops a style: its code and the text that it underlines first.
fn refused(steps: &str) -> (Finding, String) {
    let finding = made(steps).expect_err(steps);
    let Some(Place::Text { span, .. }) = finding.places.first() else {
        panic!("{finding:?} has no place")
    };
    let text = span.text().to_owned();
    (finding, text)
}

#[test]
fn the_part_that_is_not_on_the_pattern_is_underlined() {
    for (step, code, part, cure) in [
        (
            "transfer dart=\"frnt.bust-dart\" to=\"front.side halfway\"",
            "piece-not-there",
            "frnt",
            "front",
        ),
        (
            "transfer dart=\"front.bust-drat\" to=\"front.side halfway\"",
            "dart-not-there",
            "bust-drat",
            "bust-dart",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.sholder halfway\"",
            "edge-not-there",
            "sholder",
            "shoulder",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.side at 900 mm from armhole\"",
            "place-beyond-edge",
            "900 mm",
            "",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.side at 90 mm from shoulder\"",
            "corner-not-there",
            "shoulder",
            "",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.waist at wasit-dart\"",
            "place-not-there",
            "wasit-dart",
            "waist-dart",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.waist at back.waist-dart\"",
            "place-on-other-piece",
            "back.waist-dart",
            "",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.side\"",
            "place-without-where",
            "side",
            "halfway",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.waist below bust-piont\"",
            "point-not-there",
            "bust-piont",
            "bust-point",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.bsut-point\"",
            "place-not-there",
            "bsut-point",
            "bust-point",
        ),
        (
            "transfer dart=\"front.bust-dart\" to=\"front.armhole+waist\"",
            "corner-not-there",
            "armhole+waist",
            "",
        ),
    ] {
        let (finding, underlined) = refused(step);
        assert_eq!((finding.code, underlined.as_str()), (code, part), "{step}");
        assert!(finding.cure.contains(cure), "{step}: {}", finding.cure);
    }
}

/// What a recipe says of a place comes to the place itself; the lengths are those of the block.
#[test]
fn places_are_found_where_they_are_said_to_be() {
    let plain = made("").expect("the block can be drafted").pattern;
    let whole = plain
        .piece("front")
        .and_then(|front| front.edge("shoulder"))
        .expect("it has one")
        .length();
    for (place, along) in [
        ("front.shoulder at 30 mm from neckline", 30.0),
        ("front.shoulder 30 mm from start", 30.0),
        ("front.shoulder at 30 mm from armhole", whole - 30.0),
        ("front.shoulder at 30 mm from end", whole - 30.0),
        ("front.shoulder at 25 % from armhole", whole * 0.75),
        ("front.shoulder at 1/4 from neckline", whole * 0.25),
        ("front.shoulder halfway", whole * 0.5),
        ("front.shoulder at (bust - 890 mm) from neckline", 30.0),
    ] {
        let recipe = read_for_body(&format!(
            "transfer dart=\"front.bust-dart\" to=\"{place}\" share=0.1 name=\"new\""
        ));
        let made = garment::make(&recipe, &body()).expect(place).pattern;
        let front = made.piece("front").expect("it is still there");
        let edge = front.edge("shoulder").expect("it is still there");
        let new = front.dart("new").expect("a share was moved");
        let found: f64 = edge.runs[..=new.gap]
            .iter()
            .map(geometry::Curve::length)
            .sum();
        assert!(
            (found - along).abs() < 0.01,
            "{place}: {found} is not {along}"
        );
    }
}

fn read_for_body(steps: &str) -> Recipe {
    let text = format!(
        "garment \"Test\" {{\n bodice\n skirt \"straight\" length=\"600 mm\"\n steps {{\n{steps}\n }}\n}}"
    );
    let source = document::Source::new("test.kdl", text);
    let opened = garment::recipe::open(&source, &mut |_, _| unreachable!("it stands on none"));
    let opened = opened.unwrap_or_else(|findings| panic!("{findings:#?}"));
    opened
        .recipe(&body())
        .unwrap_or_else(|findings| panic!("{findings:#?}"))
}

/// A step that asks too much says what still works, and that does work.
#[test]
fn a_refusal_gives_the_most_that_works() {
    let narrow = |by: &str| format!("narrow edge=\"front.side, back.side\" by=\"{by}\"");
    let (finding, underlined) = refused(&narrow("300 mm"));
    assert_eq!(underlined, "\"300 mm\"");
    let Some(document::Allowed::AtMost(most)) = finding.allowed else {
        panic!("{finding:?} does not say how much works")
    };
    made(&narrow(&format!("{:.1} mm", most.value - 0.1))).expect("so much works");
}

/// What a step gives or takes is ease from then on; less than the body's own girth earns a word at the step.
#[test]
fn girths_follow_the_steps() {
    let wide = made("widen edge=\"front.side, back.side\" by=\"10 mm\"").expect("it can be done");
    let findings = pattern::check::of_sewing(&wide.pattern);
    assert!(
        findings.iter().all(|one| one.code != "girth-off"),
        "{findings:#?}"
    );
    let bust = &wide.pattern.girths[0];
    assert!(
        (bust.ease - 90.0).abs() < 1.0,
        "50 mm and four times 10 mm: {}",
        bust.ease
    );
    let tight = made("narrow edge=\"front.side, back.side\" by=\"16 mm\"").expect("it can be done");
    let findings = pattern::check::of_sewing(&tight.pattern);
    let found = findings
        .iter()
        .find(|one| one.code == "tighter-than-body")
        .expect("it is told");
    assert_eq!(found.severity, Severity::Warning);
    let Some(Place::Text { span, .. }) = found.places.first() else {
        panic!("{found:?} has no place")
    };
    assert_eq!(span.text(), "narrow");
}
