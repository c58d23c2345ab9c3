//! What is said about tapes that contradict themselves, and that nothing is said about those that do not.

use std::path::Path;

use body::{Measure, Tape, complete, plausible, population, read};
use document::{Finding, Severity, Source};

const EXAMPLES: [&str; 3] = ["cellist", "linen", "skirt"];

fn example(name: &str) -> Tape {
    let path =
        Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("../../examples/bodies/{name}.kdl"));
    let bytes = std::fs::read(&path).expect("the examples lie in the repository");
    let source = Source::from_bytes(format!("{name}.kdl"), bytes).expect("they are UTF-8");
    read(&source).unwrap_or_else(|findings| panic!("{findings:#?}"))
}

fn judged(tape: &Tape) -> Vec<Finding> {
    plausible::findings(tape, &complete(tape))
}

fn of_text(text: &str) -> Vec<Finding> {
    judged(&read(&Source::new("x.kdl", text)).unwrap_or_else(|findings| panic!("{findings:#?}")))
}

#[test]
fn the_examples_are_plausible() {
    for name in EXAMPLES {
        for finding in judged(&example(name)) {
            assert_eq!(finding.severity, Severity::Note, "{name}: {finding:#?}");
        }
    }
}

#[test]
fn a_slip_of_the_tape_is_found_and_the_right_measure_named() {
    for (measure, by) in [
        (Measure::Bust, 100.0),
        (Measure::Waist, 180.0),
        (Measure::BackWaistLength, 80.0),
        (Measure::AcrossBack, 90.0),
        (Measure::NeckToBustPoint, -75.0),
        (Measure::ArmLength, -90.0),
    ] {
        let tape = example("cellist");
        let value = tape.mean(measure).unwrap() + by;
        let findings = judged(&tape.without(measure).with(measure, value));
        let worst = findings
            .iter()
            .max_by_key(|finding| finding.severity)
            .unwrap();
        assert!(
            worst.severity >= Severity::Warning,
            "{}: {findings:#?}",
            measure.key()
        );
        assert!(
            worst.message.contains(measure.label()),
            "{}: {findings:#?}",
            measure.key()
        );
        assert!(worst.cure.contains("again"));
    }
}

#[test]
fn units_that_were_mixed_up_are_told() {
    // 31 taken from the inch side of the tape and written as centimetres is possible for a neck base; so are the rest.
    let findings = of_text(
        "body \"x\" { bust \"92 cm\"; waist \"74 cm\"; hip \"100 cm\"; stature \"165 cm\"; upper-arm \"28 cm\"; wrist \"15.5 cm\"; thigh \"23.6 in\"; across-back \"36 cm\"; waist-to-knee \"22.4 in\"; bust-point-width \"19 cm\"; crotch-depth \"40 cm\"; neck-base \"37 cm\"; elbow \"60 cm\"; head \"55 cm\"; arm-length \"57 cm\" }",
    );
    assert!(findings.iter().any(|finding| finding.severity == Severity::Error
        && finding.message.contains("elbow")), "{findings:#?}");
    let findings = of_text(
        "body \"x\" { bust \"92 cm\"; waist \"74 cm\"; hip \"100 cm\"; stature \"165 cm\"; bust-point-width \"10 cm\" }",
    );
    let slip = findings
        .iter()
        .find(|finding| finding.code == "unit-slip")
        .unwrap();
    assert!(slip.cure.contains("half of it was written"), "{slip:#?}");
}

#[test]
fn measures_that_cannot_both_be_right_are_told() {
    let findings = of_text(
        "body \"x\" { bust \"90 cm\"; under-bust \"94 cm\"; waist-to-hip \"21 cm\"; waist-to-high-hip \"20 cm\" }",
    );
    assert_eq!(findings[0].code, "measures-contradict");
    let findings = of_text(
        "body \"x\" { bust \"92 cm\"; back-waist-length \"40 cm\"; side-length \"26 cm\"; scye-depth \"21 cm\" }",
    );
    assert!(
        findings
            .iter()
            .any(|finding| finding.code == "measures-do-not-add-up"),
        "{findings:#?}"
    );
}

#[test]
fn repeat_readings_far_apart_are_told() {
    let findings = of_text(
        "body \"x\" { bust \"92 cm\" on=\"2026-01-03\"; bust \"97 cm\" on=\"2026-06-03\"; waist \"74 cm\"; waist \"74.4 cm\" }",
    );
    let apart = findings
        .iter()
        .find(|finding| finding.code == "readings-differ")
        .unwrap();
    assert!(
        apart.message.contains("bust") && apart.cure.contains("151 days"),
        "{apart:#?}"
    );
    assert!(
        findings
            .iter()
            .any(|finding| finding.code == "readings-agree-to")
    );
}

#[test]
fn few_ordinary_women_are_doubted() {
    // Among women drawn from the published figures and taped without error, the share of measures that are called
    // unlikely (more than 3 standard deviations) must stay near that of the normal distribution, 0.27 %.
    let (mut doubted, mut measures) = (0, 0);
    for woman in population::draw(300, 17) {
        let findings = judged(&woman);
        doubted += findings
            .iter()
            .filter(|finding| finding.severity > Severity::Note)
            .count();
        measures += Measure::COUNT;
    }
    let share = f64::from(doubted as u32) / measures as f64;
    assert!(share < 0.003, "{share}");
}
