//! Corrections on the blocks of a drawn population: what each changes and nothing else, that all still can be sewn, that the
//! opposite gives the start back, and a full bust against the same block drafted for the larger bust.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::{Body, Measure, Tape};
use document::Severity;
use garment::{Garment, Recipe};
use pattern::step::{self, Along, Arguments, Done, Place, Value};
use pattern::{Edge, Fullness, Pattern, Piece};

/// Bodies on which a law is tried.
const BODIES: usize = 24;

/// A step, its opposite, the edges that may change, and how far the opposite may miss the start, mm.
struct Case {
    step: &'static str,
    values: Arguments,
    opposite: &'static str,
    back: Arguments,
    changed: &'static [(&'static str, &'static [&'static str])],
    misses: f64,
}

fn by(mm: f64) -> Arguments {
    Arguments::new().length("by", mm)
}

const FRONT: &[(&str, &[&str])] = &[("front", &["armhole", "side", "waist"])];
const DARTS: &[(&str, &[&str])] = &[("front", &["side", "waist"])];
const WAIST: &[(&str, &[&str])] = &[("back", &["waist", "centre"])];
const UPPER: &[(&str, &[&str])] = &[("back", &["neckline", "shoulder", "armhole", "centre"])];
const ARMHOLE: &[(&str, &[&str])] = &[("back", &["armhole"])];
const SHOULDERS: &[(&str, &[&str])] = &[
    ("front", &["neckline", "shoulder", "armhole", "side"]),
    ("back", &["neckline", "shoulder", "armhole", "side"]),
];
const FORWARD: &[(&str, &[&str])] = &[
    ("front", &["shoulder", "armhole"]),
    ("back", &["shoulder", "armhole"]),
    ("sleeve", &["cap-front", "cap-back"]),
];
const LEVELS: &[(&str, &[&str])] = &[
    ("front", &["side", "waist", "centre"]),
    ("back", &["side", "waist", "centre"]),
    ("skirt-front", &["waist", "side", "hem", "centre"]),
    ("skirt-back", &["waist", "side", "hem", "centre"]),
];
const HIPS: &[(&str, &[&str])] = &[
    ("skirt-front", &["waist", "side", "centre", "hem"]),
    ("skirt-back", &["waist", "side", "centre", "hem"]),
];

fn case(
    (step, opposite): (&'static str, &'static str),
    [values, back]: [Arguments; 2],
    changed: &'static [(&'static str, &'static [&'static str])],
    misses: f64,
) -> Case {
    Case {
        step,
        values,
        opposite,
        back,
        changed,
        misses,
    }
}

/// A step and its opposite by the same amount.
fn pair(
    step: &'static str,
    opposite: &'static str,
    values: &Arguments,
    changed: &'static [(&'static str, &'static [&'static str])],
    misses: f64,
) -> Case {
    let both = [values.clone(), values.clone()];
    case((step, opposite), both, changed, misses)
}

/// A step by an amount, and by as much the other way.
fn signed(
    step: &'static str,
    mm: f64,
    changed: &'static [(&'static str, &'static [&'static str])],
    misses: f64,
) -> Case {
    case((step, step), [by(mm), by(-mm)], changed, misses)
}

fn cases() -> Vec<Case> {
    let bust = |into: &str| by(20.0).choice("into", into);
    let point = |up: f64, out: f64| Arguments::new().length("up", up).length("out", out);
    let points = |up: f64, out: f64| [point(up, out), point(-up, -out)];
    let moves = ("move-bust-point", "move-bust-point");
    vec![
        pair("full-bust", "small-bust", &bust("both"), FRONT, 1.0),
        pair("full-bust", "small-bust", &bust("side"), FRONT, 4.0),
        pair("full-bust", "small-bust", &bust("waist"), FRONT, 1.0),
        case(moves, points(12.0, 5.0), DARTS, 0.5),
        case(moves, points(-12.0, 0.0), DARTS, 0.5),
        signed("sway-back", 12.0, WAIST, 0.2),
        pair("round-back", "erect-back", &by(10.0), UPPER, 1.5),
        pair("erect-back", "round-back", &by(2.0), UPPER, 4.0),
        pair(
            "square-shoulder",
            "slope-shoulder",
            &by(10.0),
            SHOULDERS,
            1.0,
        ),
        pair(
            "slope-shoulder",
            "square-shoulder",
            &by(8.0),
            SHOULDERS,
            8.0,
        ),
        signed("forward-shoulder", 8.0, FORWARD, 0.1),
        pair("broad-back", "narrow-back", &by(6.0), ARMHOLE, 0.3),
        pair("narrow-back", "broad-back", &by(6.0), ARMHOLE, 0.3),
        signed("shift-waist", 15.0, LEVELS, 0.3),
        signed("shift-waist", -10.0, LEVELS, 0.3),
        signed("shift-hip", 12.0, HIPS, 0.2),
    ]
}

fn dress(dart: &str) -> Recipe {
    common::dress(
        dart,
        "\"straight\" length=\"650 mm\"",
        "sleeve ease=\"50 mm\" cap-ease=\"30 mm\"",
    )
}

fn dresses(dart: &str, count: usize) -> Vec<(String, Tape, Garment)> {
    let recipe = dress(dart);
    let made = body::population::draw(count, 3).filter_map(|tape| {
        // A sleeve that is wider than an armhole allows is another test's matter.
        let garment = garment::make(&recipe, &body::complete(&tape)).ok()?;
        Some((tape.name().to_string(), tape, garment))
    });
    let made: Vec<_> = made.collect();
    assert!(made.len() * 10 > count * 8, "{} of {count}", made.len());
    made
}

fn run(pattern: &Pattern, name: &str, values: &Arguments) -> Result<Done, document::Finding> {
    step::find(name)
        .expect("the step is in the list")
        .run(pattern, values)
}

fn done(pattern: &Pattern, name: &str, values: &Arguments, who: &str) -> Done {
    run(pattern, name, values).unwrap_or_else(|finding| panic!("{who}: {name}: {finding:#?}"))
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    pattern
        .piece(name)
        .unwrap_or_else(|| panic!("{name} is there"))
}

fn edge<'a>(pattern: &'a Pattern, owner: &str, name: &str) -> &'a Edge {
    piece(pattern, owner)
        .edge(name)
        .unwrap_or_else(|| panic!("{owner}.{name} is there"))
}

fn length(pattern: &Pattern, owner: &str, name: &str) -> f64 {
    edge(pattern, owner, name).length()
}

fn angle(piece: &Piece, dart: &str) -> f64 {
    piece
        .dart(dart)
        .map_or(0.0, |dart| piece.legs(dart).angle().degrees())
}

fn assert_sewable(pattern: &Pattern, who: &str) {
    let findings = pattern::check::of_sewing(pattern);
    let error = findings
        .iter()
        .find(|finding| finding.severity == Severity::Error);
    assert!(error.is_none(), "{who}: {error:#?}");
}

fn errors(pattern: &Pattern) -> Vec<&'static str> {
    let findings = pattern::check::of_sewing(pattern).into_iter();
    let errors = findings.filter(|finding| finding.severity == Severity::Error);
    errors.map(|finding| finding.code).collect()
}

fn assert_rest_equal(before: &Pattern, after: &Pattern, changed: &[(&str, &[&str])], who: &str) {
    for old in &before.pieces {
        let new = piece(after, &old.name);
        let may = changed
            .iter()
            .find(|(name, _)| *name == old.name)
            .map_or(&[][..], |(_, edges)| *edges);
        if may.is_empty() {
            assert!(old == new, "{who}: the {} changed", old.name);
            continue;
        }
        for (one, other) in old.edges.iter().zip(&new.edges) {
            let same = one.runs == other.runs || may.contains(&one.name.as_str());
            assert!(
                same && one.name == other.name,
                "{who}: {}.{} changed",
                old.name,
                one.name
            );
        }
    }
}

/// How far the runs of two patterns lie apart, mm; edges are drawn whole where one has a dart more.
fn apart(one: &Pattern, other: &Pattern) -> f64 {
    let pieces = one.pieces.iter().zip(&other.pieces);
    let edges = pieces.flat_map(|(a, b)| a.edges.iter().zip(&b.edges));
    let far = |a: &Edge, b: &Edge| {
        let same = a.runs.len() == b.runs.len();
        let ends = (a.start() - b.start())
            .hypot()
            .max((a.end() - b.end()).hypot());
        let runs = a.runs.iter().zip(&b.runs).flat_map(|(a, b)| {
            let places = (0..=20).map(|step| f64::from(step) / 20.0);
            places.map(|share| {
                (a.point_at(share * a.length()) - b.point_at(share * b.length())).hypot()
            })
        });
        if same { runs.fold(0.0, f64::max) } else { ends }
    };
    edges.map(|(a, b)| far(a, b)).fold(0.0, f64::max)
}

#[test]
fn a_correction_changes_what_it_says_and_its_opposite_gives_the_start_back() {
    let dresses = dresses("side", BODIES);
    for case in cases() {
        let mut worked = 0;
        for (who, _, garment) in &dresses {
            let who = format!("{who}, {} {:?}", case.step, case.values.given);
            let before = &garment.pattern;
            // What a body has not to give is refused, in words; the table asks for what nearly all can give.
            let Ok(done) = run(before, case.step, &case.values) else {
                continue;
            };
            worked += 1;
            assert_sewable(&done.pattern, &who);
            assert_rest_equal(before, &done.pattern, case.changed, &who);
            let Ok(again) = run(&done.pattern, case.opposite, &case.back) else {
                continue;
            };
            assert_sewable(&again.pattern, &who);
            let misses = apart(before, &again.pattern);
            assert!(
                misses <= case.misses,
                "{who}: misses the start by {misses:.2} mm"
            );
        }
        assert!(
            worked * 10 >= dresses.len() * 9,
            "{} works on {worked} of {}",
            case.step,
            dresses.len()
        );
    }
}

fn with_bust(tape: &Tape, more: f64) -> Body {
    let bust = body::complete(tape).mm(Measure::Bust) + more;
    body::complete(
        &tape
            .clone()
            .without(Measure::Bust)
            .with(Measure::Bust, bust),
    )
}

/// The block's own answer to a bust that is 50 mm larger is its two witnesses, joined. Girths alone would say 9.6° more.
#[test]
fn a_full_bust_is_the_block_of_the_larger_bust() {
    let recipe = common::dress("side", "\"straight\" length=\"650 mm\"", "");
    for tape in body::population::draw(60, 3) {
        let who = tape.name();
        let [small, large] = [0.0, 50.0].map(|more| {
            garment::make(&recipe, &with_bust(&tape, more))
                .expect("a dress without sleeves is drafted for every body")
                .pattern
        });
        let done = done(&small, "full-bust", &by(25.0), who).pattern;
        let [got, wanted] =
            [&done, &large].map(|pattern| angle(piece(pattern, "front"), "bust-dart"));
        assert!(
            (got - wanted).abs() < 0.5,
            "{who}: {got:.2}° instead of {wanted:.2}°"
        );
        for name in ["armhole", "side", "waist"] {
            let off = length(&done, "front", name) - length(&small, "front", name);
            assert!(off.abs() < 1e-3, "{who}: {name} {off:+.4} mm");
        }
        let side = length(&done, "front", "side") - length(&done, "back", "side");
        assert!(side.abs() < 1e-3, "{who}: side {side:+.4} mm");
        let line = |pattern: &Pattern| {
            piece(pattern, "front")
                .line("bust")
                .map(pattern::InnerLine::length)
        };
        let [got, wanted] =
            [&done, &large].map(|pattern| line(pattern).expect("a front has a bust line"));
        assert!(
            (got - wanted).abs() < 0.01,
            "{who}: {got:.2} mm instead of {wanted:.2} mm at the bust line"
        );
        let end = |pattern: &Pattern| {
            let dart = piece(pattern, "front")
                .dart("bust-dart")
                .expect("the dart is at the side");
            (dart.point - dart.aim).hypot()
        };
        assert!(
            (end(&done) - end(&large)).abs() < 0.1,
            "{who}: the dart ends elsewhere"
        );
    }
}

#[test]
fn the_volume_goes_where_it_is_said() {
    for (who, _, garment) in dresses("side", BODIES) {
        let before = piece(&garment.pattern, "front");
        let angles = |into: &str| {
            let done = done(
                &garment.pattern,
                "full-bust",
                &by(15.0).choice("into", into),
                &who,
            );
            let front = piece(&done.pattern, "front");
            let waist =
                ["waist-dart", "waist-dart-1"].map(|dart| angle(front, dart) - angle(before, dart));
            let side = angle(front, "bust-dart") - angle(before, "bust-dart");
            (side, waist[0] + waist[1])
        };
        let (side, waist) = angles("both");
        assert!(
            (side - 15.0 * 0.163).abs() < 1e-6 && waist > 1.0,
            "{who}: {side} {waist}"
        );
        let (side, waist) = angles("side");
        assert!(side > 4.0 && waist.abs() < 1e-6, "{who}: {side} {waist}");
        let (side, waist) = angles("waist");
        assert!(side.abs() < 1e-6 && waist > 3.0, "{who}: {side} {waist}");
    }
}

#[test]
fn a_bust_dart_elsewhere_grows_where_it_is() {
    for dart in ["shoulder", "neck", "armhole"] {
        for (who, _, garment) in dresses(dart, 8) {
            let done = done(&garment.pattern, "full-bust", &by(15.0), &who);
            assert_sewable(&done.pattern, &who);
            let [before, after] =
                [&garment.pattern, &done.pattern].map(|pattern| piece(pattern, "front").clone());
            let grown = angle(&after, "bust-dart") - angle(&before, "bust-dart");
            assert!((grown - 15.0 * 0.163).abs() < 1e-6, "{who}: {grown}");
            let at = |piece: &Piece| piece.dart("bust-dart").map(|dart| dart.edge.clone());
            assert_eq!(at(&before), at(&after), "{who}");
        }
    }
}

#[test]
fn an_angle_that_is_given_is_kept() {
    for (who, _, garment) in dresses("side", 8) {
        let girths_alone = Value::Angle(geometry::Angle::from_degrees(9.6));
        let done = done(
            &garment.pattern,
            "full-bust",
            &by(25.0).with("angle", girths_alone),
            &who,
        );
        assert_sewable(&done.pattern, &who);
        let grown = angle(piece(&done.pattern, "front"), "bust-dart")
            - angle(piece(&garment.pattern, "front"), "bust-dart");
        assert!((grown - 9.6).abs() < 1e-6, "{who}: {grown}");
    }
}

fn princess(pattern: &Pattern, who: &str) -> Pattern {
    let shoulder = Place::on_edge("front", "shoulder", Along::Share(0.5));
    let at_shoulder = Arguments::new()
        .named("dart", "front", "bust-dart")
        .at("to", shoulder);
    let moved = done(pattern, "transfer", &at_shoulder, who).pattern;
    let waist = piece(&moved, "front")
        .darts_on("waist")
        .last()
        .map(|dart| dart.name.clone());
    let waist = waist.expect("these fronts have a waist dart");
    // A seam through both darts runs evenly where they reach the bust point.
    let moved = ["bust-dart", waist.as_str()]
        .into_iter()
        .fold(moved, |pattern, dart| {
            let to_point = Arguments::new()
                .named("dart", "front", dart)
                .length("before", 0.0);
            done(&pattern, "shorten-dart", &to_point, who).pattern
        });
    let cut = Arguments::new()
        .at("from", Place::point("front", "bust-dart"))
        .at("through", Place::point("front", "bust-point"))
        .at("to", Place::point("front", &waist))
        .with("seam", Value::Text("princess".into()));
    done(&moved, "cut", &cut, who).pattern
}

#[test]
fn a_princess_seam_takes_the_volume() {
    let with_dart = |garment: &Garment| {
        piece(&garment.pattern, "front")
            .darts_on("waist")
            .next()
            .is_some()
    };
    let fronts: Vec<_> = dresses("side", BODIES)
        .into_iter()
        .filter(|(_, _, garment)| with_dart(garment))
        .take(10)
        .collect();
    assert!(fronts.len() == 10);
    for (who, _, garment) in fronts {
        let before = princess(&garment.pattern, &who);
        let seam = step::Named::of("", "princess");
        let values = by(15.0)
            .choice("into", "seam")
            .with("seam", Value::Named(seam));
        let done = done(&before, "full-bust", &values, &who);
        assert_eq!(errors(&before), errors(&done.pattern), "{who}");
        let bust = |pattern: &Pattern| {
            pattern
                .pieces_of("front")
                .filter_map(|piece| piece.line("bust"))
                .map(pattern::InnerLine::length)
                .sum::<f64>()
        };
        let wider = bust(&done.pattern) - bust(&before);
        assert!((wider - 15.0).abs() < 2.0, "{who}: {wider:.1} mm wider");
        for name in ["side", "armhole", "waist"] {
            let side = [pattern::Stretch::forwards("front", name)];
            let off = done.pattern.side_length(&side) - before.side_length(&side);
            assert!(off.abs() < 0.01, "{who}: {name} {off:+.3} mm");
        }
    }
}

#[test]
fn the_bust_point_goes_where_it_is_said() {
    for (who, _, garment) in dresses("side", BODIES) {
        let values = Arguments::new().length("up", 10.0).length("out", -4.0);
        let done = done(&garment.pattern, "move-bust-point", &values, &who);
        let [before, after] =
            [&garment.pattern, &done.pattern].map(|pattern| piece(pattern, "front"));
        let [old, new] = [before, after]
            .map(|piece| piece.point("bust-point").expect("a front has a bust point"));
        assert!(
            (new.x - old.x + 4.0).abs() < 1e-9 && (new.y - old.y + 10.0).abs() < 1e-9,
            "{who}"
        );
        for (one, other) in before.darts.iter().zip(&after.darts) {
            let moved = (one.aim - old).hypot() < 1.0;
            let by = other.point - one.point;
            let wanted = if moved { [-4.0, -10.0] } else { [0.0, 0.0] };
            assert!(
                (by.x - wanted[0]).abs() < 1e-9 && (by.y - wanted[1]).abs() < 1e-9,
                "{who}: {}",
                one.name
            );
        }
        for name in ["side", "waist"] {
            let off =
                length(&done.pattern, "front", name) - length(&garment.pattern, "front", name);
            assert!(off.abs() < 0.1, "{who}: {name} {off:+.3} mm");
        }
    }
}

#[test]
fn a_sway_back_is_shorter_at_the_centre_alone() {
    for (who, _, garment) in dresses("side", BODIES) {
        let values = by(10.0)
            .named("edge", "back", "waist")
            .named("edge", "skirt-back", "waist");
        let done = done(&garment.pattern, "sway-back", &values, &who).pattern;
        assert_sewable(&done, &who);
        for owner in ["back", "skirt-back"] {
            let less = length(&garment.pattern, owner, "centre") - length(&done, owner, "centre");
            assert!((less - 10.0).abs() < 0.05, "{who}: {owner} {less:.3} mm");
            let waist = length(&done, owner, "waist") - length(&garment.pattern, owner, "waist");
            assert!(waist.abs() < 1e-3, "{who}: {owner} waist {waist:+.4} mm");
        }
    }
}

/// The dart that opens has the angle by which the upper armhole turns: the amount over its reach, as a sine.
#[test]
fn a_round_back_is_longer_by_a_shoulder_dart() {
    for (who, _, garment) in dresses("side", BODIES) {
        let before = &garment.pattern;
        let done = done(before, "round-back", &by(10.0), &who);
        let after = &done.pattern;
        let longer = length(after, "back", "centre") - length(before, "back", "centre");
        assert!((longer - 10.0).abs() < 0.05, "{who}: {longer:.3} mm");
        for name in ["neckline", "shoulder", "armhole"] {
            let off = length(after, "back", name) - length(before, "back", name);
            assert!(off.abs() < 0.01, "{who}: {name} {off:+.3} mm");
        }
        let back = piece(after, "back");
        let opened = angle(back, "shoulder-dart");
        let armhole = edge(before, "back", "armhole");
        let high = armhole.place_at(armhole.length() / 2.0).0;
        let reach = 0.45 * high.x;
        let turn = geometry::math::asin(10.0 / reach).to_degrees();
        assert!(
            (opened - turn).abs() < 1.5,
            "{who}: {opened:.2}° for {turn:.2}°"
        );
    }
}

#[test]
fn an_erect_back_gives_what_it_has_and_no_more() {
    for (who, _, garment) in dresses("side", 8) {
        let finding = run(&garment.pattern, "erect-back", &by(12.0))
            .expect_err("a shoulder without dart has 6 mm of ease");
        assert_eq!(finding.code, "shoulder-without-ease", "{who}");
        let most = finding
            .allowed
            .clone()
            .expect("the most that works is said");
        let document::Allowed::AtMost(most) = most else {
            panic!("{who}: {finding:#?}");
        };
        assert!(most.value > 1.0 && most.value < 6.0, "{who}: {most}");
        assert!(
            run(&garment.pattern, "erect-back", &by(most.value)).is_ok(),
            "{who}: {most}"
        );
        let done = done(&garment.pattern, "erect-back", &by(2.0), &who).pattern;
        let ease = |pattern: &Pattern| match pattern
            .seams
            .iter()
            .find(|seam| seam.name == "shoulder")
            .map(|seam| seam.fullness)
        {
            Some(Fullness::Eased(ease)) => ease,
            _ => 0.0,
        };
        let shorter =
            length(&garment.pattern, "back", "shoulder") - length(&done, "back", "shoulder");
        assert!(
            (ease(&garment.pattern) - ease(&done) - shorter).abs() < 0.01,
            "{who}: {shorter}"
        );
    }
}

#[test]
fn shoulders_turn_and_sleeves_still_fit() {
    for (who, _, garment) in dresses("side", BODIES) {
        let before = &garment.pattern;
        let tip = |pattern: &Pattern, owner: &str| edge(pattern, owner, "shoulder").end();
        let square = done(before, "square-shoulder", &by(10.0), &who).pattern;
        for owner in ["front", "back"] {
            assert!(
                (tip(before, owner).y - tip(&square, owner).y - 10.0).abs() < 1e-6,
                "{who}: {owner}"
            );
            let off = length(&square, owner, "armhole") - length(before, owner, "armhole");
            assert!(off.abs() < 1e-3, "{who}: {owner} armhole {off:+.4} mm");
        }
        let stays = by(8.0).choice("underarm", "stays");
        let slope = done(before, "slope-shoulder", &stays, &who).pattern;
        assert_sewable(&slope, &who);
        let underarm = |pattern: &Pattern| edge(pattern, "front", "side").start();
        assert_eq!(underarm(before), underarm(&slope), "{who}");
        assert!(
            length(&slope, "front", "armhole") < length(before, "front", "armhole"),
            "{who}"
        );
    }
}

#[test]
fn a_forward_shoulder_moves_cloth_from_front_to_back() {
    for (who, _, garment) in dresses("side", BODIES) {
        let before = &garment.pattern;
        let after = done(before, "forward-shoulder", &by(8.0), &who).pattern;
        let more =
            |owner: &str, name: &str| length(&after, owner, name) - length(before, owner, name);
        for (owner, name, wanted) in [
            ("front", "armhole", -8.0),
            ("back", "armhole", 8.0),
            ("sleeve", "cap-front", -8.0),
            ("sleeve", "cap-back", 8.0),
        ] {
            let got = more(owner, name);
            assert!(
                (got - wanted).abs() < 1e-3,
                "{who}: {owner}.{name} {got:+.4} mm"
            );
        }
        let area =
            |pattern: &Pattern| piece(pattern, "front").area() + piece(pattern, "back").area();
        let off = area(&after) - area(before);
        // The strip lies along shoulders of which one is 6 mm longer.
        assert!(off.abs() < 60.0, "{who}: {off:.1} mm² more");
    }
}

#[test]
fn a_broad_back_says_what_the_sleeve_eases() {
    for (who, _, garment) in dresses("side", BODIES) {
        let done = done(&garment.pattern, "broad-back", &by(6.0), &who);
        let off =
            length(&done.pattern, "back", "armhole") - length(&garment.pattern, "back", "armhole");
        assert!(
            done.words.contains(&format!("armhole is {off:+.1} mm")),
            "{who}: {}",
            done.words
        );
        assert!(
            done.words.contains("armhole-back seam now eases in"),
            "{who}: {}",
            done.words
        );
        let middle = |pattern: &Pattern| {
            let armhole = edge(pattern, "back", "armhole");
            armhole.place_at(armhole.length() * 0.45).0.x
        };
        let out = middle(&done.pattern) - middle(&garment.pattern);
        assert!((out - 6.0).abs() < 1.0, "{who}: {out:.2} mm");
    }
}

#[test]
fn levels_shift_and_the_whole_stays() {
    for (who, _, garment) in dresses("side", BODIES) {
        let before = &garment.pattern;
        let waist = done(before, "shift-waist", &by(15.0), &who).pattern;
        for (bodice, skirt) in [("front", "skirt-front"), ("back", "skirt-back")] {
            let more = length(&waist, bodice, "centre") - length(before, bodice, "centre");
            let less = length(before, skirt, "centre") - length(&waist, skirt, "centre");
            assert!(
                (more - 15.0).abs() < 0.1 && (less - 15.0).abs() < 0.1,
                "{who}: {more} {less}"
            );
        }
        let hip = done(before, "shift-hip", &by(12.0), &who).pattern;
        for skirt in ["skirt-front", "skirt-back"] {
            let level = |pattern: &Pattern| {
                piece(pattern, skirt)
                    .line("hip")
                    .map(|line| line.runs[0].start().y)
            };
            let down = level(&hip).zip(level(before)).map(|(new, old)| new - old);
            assert!(
                down.is_some_and(|down| (down - 12.0).abs() < 1e-6),
                "{who}: {down:?}"
            );
            let off = length(&hip, skirt, "hem") - length(before, skirt, "hem");
            assert!(off.abs() < 1e-6, "{who}: hem {off:+.4} mm");
        }
    }
}

#[test]
fn a_high_hip_needs_both_sides() {
    let recipe = common::recipe(
        "garment \"Skirt\" { opening \"none\"; skirt \"straight\" length=\"600 mm\" }",
    );
    for tape in body::population::draw(BODIES, 3) {
        let who = tape.name();
        let half = garment::make(&recipe, &body::complete(&tape))
            .expect("a skirt is drafted for every body")
            .pattern;
        let values = by(10.0).choice("side", "left");
        let finding = run(&half, "high-hip", &values).expect_err("a half stands for both sides");
        assert_eq!(finding.code, "piece-is-half", "{who}");
        assert!(
            finding.cure.contains("Mirror front and back first"),
            "{who}: {}",
            finding.cure
        );
        let both =
            Arguments::new()
                .named("piece", "skirt-front", "")
                .named("piece", "skirt-back", "");
        let whole = done(&half, "mirror", &both, who).pattern;
        let high = done(&whole, "high-hip", &values, who).pattern;
        assert_sewable(&high, who);
        for skirt in ["skirt-front", "skirt-back"] {
            let more = |name: &str| length(&high, skirt, name) - length(&whole, skirt, name);
            assert!(
                (more("side/left") - 10.0).abs() < 1e-3 && more("waist/left").abs() < 1e-3,
                "{who}"
            );
            for name in ["side/right", "waist/right", "hem/left", "hem/right"] {
                assert_eq!(
                    edge(&whole, skirt, name).runs,
                    edge(&high, skirt, name).runs,
                    "{who}: {skirt}.{name}"
                );
            }
        }
    }
}
