//! What is built from blocks of a drawn population: new pieces are as long as what they are sewn to, all still can be sewn,
//! nothing that was drawn moves, and mirror and fold undo each other.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use document::{Finding, Severity};
use garment::Recipe;
use geometry::curve::angle_between;
use pattern::step::{self, Arguments, Done, Value};
use pattern::{Edge, EdgeKind, Fullness, Laid, Mark, Pattern, Piece, Stretch};

/// Bodies on which a law is tried.
const BODIES: usize = 20;

fn recipe(opening: &str) -> Recipe {
    common::recipe(&format!(
        "garment \"Dress\" {{ opening \"{opening}\"; ease {{ bust \"60 mm\"; waist \"40 mm\" }}; bodice {{ bust-dart \"side\" }}; skirt \"straight\" length=\"620 mm\"; sleeve ease=\"50 mm\" cap-ease=\"30 mm\" }}"
    ))
}

fn dresses(opening: &str) -> Vec<(String, Pattern)> {
    let recipe = recipe(opening);
    let made = body::population::draw(BODIES, 3).filter_map(|tape| {
        // A sleeve that is wider than an armhole allows is another test's matter.
        let garment = garment::make(&recipe, &body::complete(&tape)).ok()?;
        Some((tape.name().to_string(), garment.pattern))
    });
    let made: Vec<_> = made.collect();
    assert!(made.len() * 10 > BODIES * 8, "{} of {BODIES}", made.len());
    made
}

fn run(pattern: &Pattern, name: &str, values: &Arguments) -> Result<Done, Finding> {
    step::find(name)
        .expect("the step is in the list")
        .run(pattern, values)
}

fn done(pattern: &Pattern, name: &str, values: &Arguments, who: &str) -> Pattern {
    let done =
        run(pattern, name, values).unwrap_or_else(|finding| panic!("{who}: {name}: {finding:#?}"));
    assert_sewable(&done.pattern, who);
    assert!(
        !done.words.is_empty() && !done.lines.is_empty(),
        "{who}: {name} tells and shows what it did"
    );
    done.pattern
}

fn assert_sewable(pattern: &Pattern, who: &str) {
    let findings = pattern::check::of_sewing(pattern);
    let error = findings
        .iter()
        .find(|finding| finding.severity == Severity::Error);
    assert!(error.is_none(), "{who}: {error:#?}");
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    pattern
        .piece(name)
        .unwrap_or_else(|| panic!("{name} is there"))
}

fn edge<'a>(pattern: &'a Pattern, owner: &str, name: &str) -> &'a Edge {
    let found = piece(pattern, owner).edge(name);
    found.unwrap_or_else(|| panic!("{owner}.{name} is there"))
}

fn whole_length(pattern: &Pattern, owner: &str, name: &str) -> f64 {
    pattern.side_length(&[Stretch::forwards(owner, name)])
}

fn mirrored(names: &[&str]) -> Arguments {
    names
        .iter()
        .fold(Arguments::new(), |all, name| all.named("piece", name, ""))
}

#[test]
fn a_mirrored_piece_is_both_halves() {
    for (who, half) in dresses("none") {
        let names = ["front", "back", "skirt-front", "skirt-back"];
        let whole = done(&half, "mirror", &mirrored(&names), &who);
        for name in names {
            let (one, both) = (piece(&half, name), piece(&whole, name));
            assert!(
                (both.area() - 2.0 * one.area()).abs() < 1e-3,
                "{who}: area of the {name}"
            );
            assert_eq!(both.cut.laid, Laid::Single, "{who}: {name}");
            assert_eq!(both.darts.len(), 2 * one.darts.len(), "{who}: {name}");
            // What was drawn stays bit for bit, on the side on which it is worn: fronts at the left, backs at the right.
            let word = if name.contains("back") {
                "right"
            } else {
                "left"
            };
            for edge in one.edges.iter().filter(|edge| edge.kind != EdgeKind::Fold) {
                let same = both
                    .edge(&format!("{}/{word}", edge.name))
                    .map(|edge| &edge.runs);
                assert_eq!(same, Some(&edge.runs), "{who}: {name}.{}", edge.name);
                let sum = whole_length(&whole, name, &edge.name);
                assert!(
                    (sum - 2.0 * edge.length()).abs() < 1e-6,
                    "{who}: {name}.{}",
                    edge.name
                );
            }
        }
        for (one, other) in half.girths.iter().zip(&whole.girths) {
            let off = half.girth(one) - whole.girth(other);
            assert!(off.abs() < 1e-6, "{who}: {} {off:+.6} mm", one.level);
        }
    }
}

#[test]
fn seams_of_a_mirrored_piece_join_the_right_sides() {
    for (who, half) in dresses("none").into_iter().take(4) {
        let front = done(&half, "mirror", &mirrored(&["front"]), &who);
        let both = done(&front, "mirror", &mirrored(&["back"]), &who);
        let seam = |pattern: &Pattern, name: &str| {
            let found = pattern.seams.iter().find(|seam| seam.name == name).cloned();
            found.unwrap_or_else(|| panic!("{who}: no {name} seam"))
        };
        assert_eq!(
            seam(&front, "side").worked,
            seam(&front, "side/right").worked,
            "{who}"
        );
        for (name, side) in [
            ("side", "left"),
            ("side/right", "right"),
            ("shoulder", "left"),
            ("shoulder/right", "right"),
        ] {
            let seam = seam(&both, name);
            for stretch in seam.held.iter().chain(&seam.worked) {
                assert!(
                    stretch.edge.ends_with(side),
                    "{who}: {name} joins {}",
                    stretch.edge
                );
            }
        }
        // Both sides of a seam are walked from the same end: the side seam from the underarm.
        let side = seam(&both, "side/right");
        for stretch in [&side.held[0], &side.worked[0]] {
            let edge = edge(&both, &stretch.piece, &stretch.edge);
            let (from, to) = if stretch.backwards {
                (edge.end(), edge.start())
            } else {
                (edge.start(), edge.end())
            };
            assert!(from.y < to.y, "{who}: {}.{}", stretch.piece, stretch.edge);
        }
    }
}

/// Edges but for the corners of their allowances, which are shaped as sewn after the last step.
fn without_corners(piece: &pattern::Piece) -> Vec<pattern::Edge> {
    let bare = |edge: &pattern::Edge| pattern::Edge {
        corner: pattern::Corner::Mitre,
        ..edge.clone()
    };
    piece.edges.iter().map(bare).collect()
}

#[test]
fn folding_undoes_mirroring() {
    for (who, half) in dresses("none") {
        for name in ["front", "back", "skirt-front", "skirt-back"] {
            let whole = done(&half, "mirror", &mirrored(&[name]), &who);
            let folded = done(
                &whole,
                "cut-on-fold",
                &Arguments::new().named("piece", name, ""),
                &who,
            );
            let (one, other) = (piece(&half, name), piece(&folded, name));
            assert_eq!(
                without_corners(one),
                without_corners(other),
                "{who}: {name}"
            );
            assert_eq!(one.darts, other.darts, "{who}: {name}");
            assert_eq!(one.marks, other.marks, "{who}: {name}");
            assert_eq!(one.cut, other.cut, "{who}: {name}");
            assert_eq!(half.seams, folded.seams, "{who}: {name}");
            for (line, again) in one.lines.iter().zip(&other.lines) {
                assert!(
                    (line.length() - again.length()).abs() < 0.01,
                    "{who}: {name} {}",
                    line.name
                );
            }
        }
    }
}

#[test]
fn what_is_not_alike_on_both_sides_is_not_folded() {
    for (who, half) in dresses("none").into_iter().take(4) {
        let both = mirrored(&["skirt-front", "skirt-back"]);
        let whole = done(&half, "mirror", &both, &who);
        let high = Arguments::new().length("by", 10.0).choice("side", "left");
        let high = done(&whole, "high-hip", &high, &who);
        let fold = Arguments::new().named("piece", "skirt-front", "");
        let finding = run(&high, "cut-on-fold", &fold).expect_err("one side is higher");
        assert_eq!(finding.code, "piece-cannot-be-halved", "{who}");
        let most = finding.measured.expect("it says by how much");
        assert!((most.value - 10.0).abs() < 1.0, "{who}: {most}");
    }
}

#[test]
fn what_opens_or_is_sewn_at_the_centre_is_not_mirrored() {
    let (who, half) = &dresses("back")[0];
    for name in ["back", "skirt-back"] {
        let finding = run(half, "mirror", &mirrored(&[name])).expect_err("it opens at the centre");
        assert_eq!(finding.code, "piece-cannot-be-mirrored", "{who}");
    }
    let finding = run(half, "mirror", &mirrored(&["sleeve"])).expect_err("a sleeve is whole");
    assert!(
        finding.message.contains("no fold or centre line"),
        "{who}: {}",
        finding.message
    );
}

#[test]
fn an_extension_lies_beyond_and_seams_walk_as_before() {
    for (who, before) in dresses("back") {
        let values = Arguments::new()
            .named("edge", "front", "centre")
            .named("edge", "skirt-front", "centre")
            .length("by", 20.0);
        let after = done(&before, "extend", &values, &who);
        for name in ["front", "skirt-front"] {
            let (old, new) = (piece(&before, name), piece(&after, name));
            let length = edge(&before, name, "centre").length();
            let wider = new.area() - old.area();
            assert!(
                (wider - 20.0 * length).abs() < 1e-3,
                "{who}: {name} {wider}"
            );
            assert_eq!(new.cut.laid, Laid::Pair, "{who}: {name}");
            assert_eq!(
                new.line("centre-line").map(|line| &line.runs),
                Some(&edge(&before, name, "centre").runs)
            );
            for edge in old.edges.iter().filter(|edge| edge.name != "centre") {
                assert_eq!(
                    new.edge(&edge.name).map(|edge| &edge.runs),
                    Some(&edge.runs),
                    "{who}: {}",
                    edge.name
                );
            }
        }
        let seams: Vec<&str> = after.seams.iter().map(|seam| seam.name.as_str()).collect();
        assert!(seams.contains(&"waist-front/stand"), "{who}: {seams:?}");
        // A shaped centre back keeps its angles to its neighbours.
        let back = done(
            &before,
            "extend",
            &Arguments::new()
                .named("edge", "back", "centre")
                .length("by", 30.0),
            &who,
        );
        let old = edge(&before, "back", "centre");
        let new = edge(&back, "back", "centre");
        let turn = |one, other| angle_between(one, other).degrees().abs();
        assert!(
            turn(old.start_direction(), new.start_direction()) < 1e-6,
            "{who}"
        );
        assert!(
            turn(old.end_direction(), new.end_direction()) < 1e-6,
            "{who}"
        );
    }
}

#[test]
fn a_sewn_edge_takes_no_extension() {
    let (_, dress) = &dresses("back")[0];
    let values = Arguments::new()
        .named("edge", "front", "side")
        .length("by", 20.0);
    let finding = run(dress, "extend", &values).expect_err("the side is sewn");
    assert_eq!(finding.code, "edge-cannot-be-extended");
}

fn necklines(values: Arguments) -> Arguments {
    values
        .named("edge", "back", "neckline")
        .named("edge", "front", "neckline")
}

#[test]
fn a_band_is_as_long_as_what_it_meets() {
    for (opening, ring) in [("back", false), ("none", true)] {
        for (who, before) in dresses(opening) {
            let name = Value::Text("neckband".into());
            let values = necklines(Arguments::new().length("height", 30.0).with("name", name));
            let after = done(&before, "band", &values, &who);
            let round = 2.0
                * (edge(&before, "back", "neckline").length()
                    + edge(&before, "front", "neckline").length());
            let band = piece(&after, "neckband");
            let off = band.edge("neckline").map(Edge::length).unwrap_or_default() - round;
            assert!(off.abs() < 1e-6, "{who}: {off:+.6} mm");
            let area = round * 60.0;
            assert!(
                (band.area() - area).abs() < 1e-3,
                "{who}: folded, it is cut twice as high"
            );
            let closed = after.seams.iter().any(|seam| seam.name == "neckband-ends");
            assert_eq!(closed, ring, "{who}");
            assert_eq!(
                edge(&after, "front", "neckline").kind,
                EdgeKind::Seam,
                "{who}"
            );
            // One notch at each shoulder and one at CF, as far along as the seam walks.
            let back = edge(&before, "back", "neckline").length();
            let mut notches: Vec<f64> = band
                .marks
                .iter()
                .filter_map(|mark| match mark {
                    Mark::Notch { along, .. } => Some(*along),
                    Mark::Point { .. } => None,
                })
                .collect();
            notches.sort_by(f64::total_cmp);
            let wanted = [back, round / 2.0, round - back];
            let near = notches
                .iter()
                .zip(wanted)
                .all(|(got, wanted)| (got - wanted).abs() < 1e-6);
            assert!(notches.len() == 3 && near, "{who}: {notches:?} {wanted:?}");
        }
    }
}

#[test]
fn a_cuff_gathers_the_sleeve_onto_it() {
    for (who, before) in dresses("back") {
        let hem = edge(&before, "sleeve", "hem").length();
        let values = |length: f64| {
            Arguments::new()
                .named("edge", "sleeve", "hem")
                .length("height", 50.0)
                .length("length", length)
        };
        let after = done(&before, "cuff", &values(hem * 0.8), &who);
        let cuff = piece(&after, "cuff");
        assert_eq!(
            (cuff.cut.laid.clone(), cuff.cut.count),
            (Laid::Pair, 2),
            "{who}"
        );
        let seam = after
            .seams
            .iter()
            .find(|seam| seam.name == "cuff")
            .expect("the cuff is sewn on");
        let Fullness::Gathered(times) = seam.fullness else {
            panic!("{who}: {:?}", seam.fullness);
        };
        assert!((times - 1.25).abs() < 1e-9, "{who}: {times}");
        let overlap = edge(&after, "cuff", "overlap").length();
        assert!((overlap - 20.0).abs() < 1e-9, "{who}: {overlap}");
        let finding =
            run(&before, "cuff", &values(hem + 30.0)).expect_err("it is longer than the hem");
        assert_eq!(finding.code, "band-longer-than-edges", "{who}");
        let twice = run(&after, "cuff", &values(hem * 0.8)).expect_err("the hem is sewn");
        assert_eq!(twice.code, "edge-is-sewn", "{who}");
    }
}

/// Elementary geometry of the circle: an arc of length L that starts level and whose chord rises at the angle φ ends at 2φ, and
/// its chord is L·sin φ / φ.
#[test]
fn a_stand_is_as_long_as_the_neck_and_rises_in_front() {
    for (who, before) in dresses("back") {
        let values = necklines(Arguments::new().length("height", 35.0).length("rise", 15.0));
        let after = done(&before, "collar", &values, &who);
        let half = edge(&before, "back", "neckline").length()
            + edge(&before, "front", "neckline").length();
        let neck = edge(&after, "collar", "neckline");
        assert!((neck.length() - half).abs() < 1e-6, "{who}");
        let end = neck.end() - neck.start();
        assert!((end.y.abs() - 15.0).abs() < 1e-6, "{who}: {end:?}");
        let chord = geometry::math::atan2(end.y.abs(), end.x);
        let leaves = angle_between(neck.start_direction(), neck.end_direction())
            .radians()
            .abs();
        assert!((leaves - 2.0 * chord).abs() < 1e-6, "{who}");
        let bound = half * geometry::math::sin(chord) / chord;
        assert!(
            (end.hypot() - bound).abs() < 0.05,
            "{who}: chord {} for {bound}",
            end.hypot()
        );
        let front = edge(&after, "collar", "front").length();
        assert!((front - 35.0).abs() < 0.01, "{who}: {front}");
        let straight = necklines(Arguments::new().length("height", 35.0).length("rise", 0.0));
        let after = done(&before, "collar", &straight, &who);
        assert!(
            (piece(&after, "collar").area() - half * 35.0).abs() < 0.1,
            "{who}"
        );
    }
}

#[test]
fn a_flat_collar_lies_on_back_and_front() {
    for (who, before) in dresses("back") {
        let values = necklines(
            Arguments::new()
                .length("height", 60.0)
                .choice("kind", "flat"),
        );
        let after = done(&before, "collar", &values, &who);
        let neck = edge(&after, "collar", "neckline");
        let half = edge(&before, "back", "neckline").length()
            + edge(&before, "front", "neckline").length();
        assert!((neck.length() - half).abs() < 1e-6, "{who}");
        // Round the neck it turns by what both necklines turn, less than a stand's few degrees and more than a quarter.
        let outside = edge(&after, "collar", "outside").length();
        assert!(outside > half + 60.0, "{who}: {outside} round {half}");
        let overlapped = necklines(
            Arguments::new()
                .length("height", 60.0)
                .choice("kind", "flat")
                .length("overlap", 30.0),
        );
        let tighter = done(&before, "collar", &overlapped, &who);
        let less = outside - edge(&tighter, "collar", "outside").length();
        assert!(
            less > 3.0,
            "{who}: the outer edge of a collar that overlaps more is shorter, so that it rolls: {less}"
        );
        let high = necklines(
            Arguments::new()
                .length("height", 200.0)
                .choice("kind", "flat"),
        );
        if let Err(finding) = run(&before, "collar", &high) {
            assert!(finding.allowed.is_some(), "{who}: {finding:#?}");
        }
    }
}

#[test]
fn a_yoke_closes_its_darts() {
    for (who, before) in dresses("back") {
        for depth in [70.0, 100.0] {
            let yoke = |skirt: &str| {
                Arguments::new()
                    .named("edge", skirt, "waist")
                    .length("depth", depth)
            };
            let front = run(&before, "yoke", &yoke("skirt-front"));
            let Ok(front) = front else {
                let finding = front.expect_err("it is refused");
                assert!(finding.allowed.is_some(), "{who}: {finding:#?}");
                continue;
            };
            let after = done(&front.pattern, "yoke", &yoke("skirt-back"), &who);
            for skirt in ["skirt-front", "skirt-back"] {
                let old = piece(&before, skirt);
                let (upper, lower) = (
                    piece(&after, &format!("{skirt}/yoke")),
                    piece(&after, &format!("{skirt}/lower")),
                );
                assert!(upper.darts.is_empty(), "{who}");
                for name in ["waist", "side", "hem", "centre"] {
                    let off = whole_length(&after, skirt, name)
                        - old.edge(name).map_or(0.0, Edge::length);
                    assert!(off.abs() < 0.05, "{who}: {skirt}.{name} {off:+.4} mm");
                }
                let seam = [upper, lower].map(|part| part.edge("yoke").map_or(0.0, Edge::length));
                assert!((seam[0] - seam[1]).abs() < 0.05, "{who}: {seam:?}");
                for dart in &lower.darts {
                    let angle = lower.legs(dart).angle().degrees();
                    let whole = old
                        .dart(&dart.name)
                        .map_or(0.0, |dart| old.legs(dart).angle().degrees());
                    assert!(
                        (angle - whole).abs() < 0.2,
                        "{who}: {} {angle:.2}° of {whole:.2}°",
                        dart.name
                    );
                }
                let gone: Vec<_> = old
                    .darts
                    .iter()
                    .filter(|dart| lower.dart(&dart.name).is_none())
                    .collect();
                let deep = |dart: &&&pattern::Dart| old.legs(dart).lengths()[0] > depth + 6.0;
                assert!(
                    !gone.iter().any(|dart| deep(&dart)),
                    "{who}: a dart that ends below the line is left there"
                );
            }
        }
    }
}
