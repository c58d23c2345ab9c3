//! Darts against arithmetic that anyone can do again: a dart is a wedge of a circle about its point.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

use document::Finding;
use geometry::{Angle, Curve, Point, curve::turn_about, math};
use pattern::step::{Along, Arguments, Done, Place, Value, find};
use pattern::{Cut, Dart, Edge, EdgeKind, Laid, Layer, Mark, Pattern, Piece, Pressed};

/// A square of 400 mm with a dart of so many degrees at the middle of its top, its point at a depth, mm.
fn square(degrees: f64, depth: f64) -> Pattern {
    let point = Point::new(200.0, depth);
    let half = |sign: f64| {
        let by = Angle::from_degrees(degrees / 2.0 * sign);
        turn_about(point, by) * Point::new(200.0, 0.0)
    };
    let (before, after) = (half(-1.0), half(1.0));
    let [nw, ne, se, sw] =
        [(0.0, 0.0), (400.0, 0.0), (400.0, 400.0), (0.0, 400.0)].map(Point::from);
    let edge = |name: &str, kind, from, to| Edge::new(name, kind, Curve::line(from, to));
    let mut top = edge("top", EdgeKind::Seam, nw, before);
    top.runs.push(Curve::line(after, ne));
    let piece = Piece {
        name: "square".into(),
        edges: vec![
            top,
            edge("side", EdgeKind::Seam, ne, se),
            edge("hem", EdgeKind::Hem, se, sw),
            edge("centre", EdgeKind::Fold, sw, nw),
        ],
        darts: vec![Dart {
            name: "dart".into(),
            edge: "top".into(),
            gap: 0,
            point,
            aim: point,
            pressed: Pressed::Before,
        }],
        marks: vec![Mark::Notch {
            name: "middle".into(),
            edge: "side".into(),
            along: 300.0,
            strokes: 1,
        }],
        lines: Vec::new(),
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: 1,
            laid: Laid::OnFold("centre".into()),
        },
        peaked: Vec::new(),
        asked: None,
    };
    Pattern {
        pieces: vec![piece],
        ..Pattern::default()
    }
}

fn run(step: &str, pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    find(step)
        .expect("the step is in the list")
        .run(pattern, arguments)
}

fn on(edge: &str, along: f64) -> Place {
    Place::on_edge("square", edge, Along::FromStart(along))
}

#[test]
fn a_dart_has_the_angle_that_its_intake_and_legs_make() {
    // Intake = 2·r·sin(angle/2): 20 mm on legs of 130 mm are 8.82°, and the same angle is 30.8 mm wide at 200 mm. Arithmetic.
    let angle = Angle::from_radians(2.0 * math::asin(10.0 / 130.0));
    assert!((angle.degrees() - 8.82).abs() < 0.005);
    let pattern = square(angle.degrees(), 130.0);
    let piece = &pattern.pieces[0];
    let legs = piece.legs(&piece.darts[0]);
    assert!(
        (legs.intake() - 20.0).abs() < 1e-9
            && (legs.angle().degrees() - angle.degrees()).abs() < 1e-9
    );
    // From (200, 130) the side, 200 mm away, is reached straight across.
    let to = Arguments::new()
        .named("dart", "square", "dart")
        .at("to", on("side", 130.0));
    let done = run("transfer", &pattern, &to).expect("there is room at the side");
    let piece = &done.pattern.pieces[0];
    let legs = piece.legs(&piece.darts[0]);
    assert!((legs.intake() - 30.8).abs() < 0.05, "{}", legs.intake());
    assert!((legs.intake() - 400.0 * math::sin(angle.radians() / 2.0)).abs() < 1e-9);
    assert!((legs.angle().radians() - angle.radians()).abs() < 1e-12);
}

#[test]
fn the_centre_stays_and_edges_keep_their_length_as_sewn() {
    let before = square(12.0, 150.0);
    let to = Arguments::new()
        .named("dart", "square", "dart")
        .at("to", on("side", 90.0));
    let done = run("transfer", &before, &to).expect("there is room at the side");
    let (old, new) = (&before.pieces[0], &done.pattern.pieces[0]);
    assert_eq!(old.edge("centre"), new.edge("centre"));
    assert_eq!(old.edge("hem"), new.edge("hem"));
    for (old, new) in old.edges.iter().zip(&new.edges) {
        assert!((old.length() - new.length()).abs() < 1e-9, "{}", old.name);
    }
    assert_eq!(old.marks, new.marks);
}

#[test]
fn a_share_leaves_the_rest_and_both_add_up() {
    let before = square(16.0, 150.0);
    let arguments = Arguments::new()
        .named("dart", "square", "dart")
        .at("at", on("side", 200.0))
        .number("share", 0.25);
    let done = run("split", &before, &arguments).expect("there is room at the side");
    let piece = &done.pattern.pieces[0];
    let degrees = |name: &str| {
        piece
            .legs(piece.dart(name).expect("both are there"))
            .angle()
            .degrees()
    };
    assert!((degrees("dart") - 12.0).abs() < 1e-9 && (degrees("dart-2") - 4.0).abs() < 1e-9);
    let back = Arguments::new()
        .named("dart", "square", "dart-2")
        .named("into", "square", "dart");
    let done = run("combine", &done.pattern, &back).expect("both end at one point");
    let piece = &done.pattern.pieces[0];
    assert!((piece.legs(&piece.darts[0]).angle().degrees() - 16.0).abs() < 1e-9);
    assert_eq!(piece.darts.len(), 1);
}

#[test]
fn what_cannot_be_done_says_what_was_looked_for_and_what_there_is() {
    let pattern = square(10.0, 150.0);
    let refused =
        |arguments: &Arguments| run("transfer", &pattern, arguments).expect_err("it is wrong");
    let dart = || Arguments::new().named("dart", "square", "dart");
    let cases = [
        (
            Arguments::new()
                .named("dart", "square", "drat")
                .at("to", on("side", 90.0)),
            "dart-not-there",
            "dart",
        ),
        (
            Arguments::new()
                .named("dart", "sqaure", "dart")
                .at("to", on("side", 90.0)),
            "piece-not-there",
            "square",
        ),
        (dart().at("to", on("sied", 90.0)), "edge-not-there", "side"),
        (
            dart().at("to", on("side", 900.0)),
            "place-beyond-edge",
            "400",
        ),
        (
            dart().at("to", on("side", 0.0)),
            "place-at-corner",
            "corner",
        ),
        (dart().at("to", on("top", 193.0)), "place-in-dart", "dart"),
        (dart(), "step-value-missing", "to"),
        (
            dart().at("too", on("side", 90.0)),
            "step-value-unknown",
            "to",
        ),
        (
            dart().at("to", on("side", 90.0)).number("share", 3.0),
            "step-value-not-allowed",
            "0 to 1",
        ),
    ];
    for (index, (arguments, code, says)) in cases.iter().enumerate() {
        let mouth = pattern.pieces[0].edges[0].runs[0].length();
        let arguments = if *code == "place-in-dart" {
            dart().at("to", on("top", mouth))
        } else {
            arguments.clone()
        };
        let finding = refused(&arguments);
        let allowed = finding
            .allowed
            .as_ref()
            .map(ToString::to_string)
            .unwrap_or_default();
        assert_eq!(finding.code, *code, "{index}: {}", finding.message);
        assert!(
            finding.message.starts_with("Transfer cannot be done"),
            "{}",
            finding.message
        );
        assert!(
            format!("{} {} {allowed}", finding.message, finding.cure).contains(says),
            "{index}: {finding:?}"
        );
        assert!(!finding.cure.is_empty());
    }
}

#[test]
fn too_much_is_refused_with_the_most_that_works() {
    let pattern = square(10.0, 150.0);
    let narrow = |by: f64| {
        let arguments = Arguments::new()
            .named("edge", "square", "side")
            .length("by", by);
        run("narrow", &pattern, &arguments)
    };
    let finding = narrow(260.0).expect_err("the dart would lie across the side");
    let Some(document::Allowed::AtMost(most)) = finding.allowed else {
        panic!("{finding:?}");
    };
    // The dart's near leg ends 213 mm from the left on the top: so far and no farther can the side come.
    assert!(most.value > 150.0 && most.value < 200.0, "{most}");
    narrow(most.value).expect("the most that works works");
    assert!(narrow(most.value + 2.0).is_err());
}

#[test]
fn gathers_are_as_much_as_the_dart_was_wide() {
    let before = square(10.0, 150.0);
    let intake = before.pieces[0].legs(&before.pieces[0].darts[0]).intake();
    let arguments = Arguments::new()
        .named("dart", "square", "dart")
        .with("as", Value::Choice("gathers".into()));
    let done = run("release", &before, &arguments).expect("a dart can be released");
    let piece = &done.pattern.pieces[0];
    assert!(piece.darts.is_empty() && piece.edges[0].runs.len() == 1);
    let more = piece.edges[0].length() - before.pieces[0].edges[0].length();
    assert!((more - intake).abs() < 0.05, "{more} {intake}");
}
