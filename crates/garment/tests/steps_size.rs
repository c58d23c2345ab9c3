//! Laws of the steps that change sizes, on the blocks of bodies drawn at random.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use document::{Allowed, Finding};
use geometry::simple::is_simple;
use pattern::step::{Along, Arguments, Done, Place, find};
use pattern::{Edge, Pattern, Piece};

const BODIES: usize = 24;

fn patterns() -> Vec<Pattern> {
    let recipe = common::dress(
        "side",
        "\"straight\" length=\"620 mm\"",
        "sleeve ease=\"60 mm\" cap-ease=\"30 mm\"",
    );
    body::population::draw(BODIES * 2, 23)
        .filter_map(|tape| garment::make(&recipe, &body::complete(&tape)).ok())
        .map(|garment| garment.pattern)
        .take(BODIES)
        .collect()
}

fn run(step: &str, pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let done = find(step)
        .expect("the step is in the list")
        .run(pattern, arguments);
    for piece in done.iter().flat_map(|done| &done.pattern.pieces) {
        assert!(
            is_simple(&piece.seam_outline()),
            "{step} left {} crossing itself",
            piece.name
        );
    }
    done
}

fn on(piece: &str, edge: &str, at: Along) -> Place {
    Place::on_edge(piece, edge, at)
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    pattern.piece(name).expect("the dress has this piece")
}

fn length(pattern: &Pattern, owner: &str, edge: &str) -> f64 {
    piece(pattern, owner).edge(edge).map_or(0.0, Edge::length)
}

/// Largest distance between outlines, sampled by length as sewn along each edge.
fn apart(one: &Piece, other: &Piece) -> f64 {
    let pairs = one.edges.iter().zip(&other.edges);
    let samples = pairs.flat_map(|(a, b)| {
        (0..20).map(move |k| {
            let share = (f64::from(k) + 0.5) / 20.0;
            (a.place_at(a.length() * share).0 - b.place_at(b.length() * share).0).hypot()
        })
    });
    samples.fold(0.0, f64::max)
}

fn seams_that_differ(pattern: &Pattern) -> Vec<Finding> {
    let mut findings = pattern::check::of_sewing(pattern);
    findings.retain(|finding| finding.code == "seam-lengths-differ");
    findings
}

#[test]
fn pieces_lengthened_together_still_walk() {
    for before in patterns() {
        let arguments = Arguments::new()
            .at(
                "at",
                on("front", "side", Along::FromEdge("waist".into(), 40.0)),
            )
            .at(
                "at",
                on("back", "side", Along::FromEdge("waist".into(), 40.0)),
            )
            .length("by", 35.0);
        let done = run("lengthen", &before, &arguments).expect("the level is free");
        for (name, edge) in [
            ("front", "side"),
            ("back", "side"),
            ("front", "centre"),
            ("back", "centre"),
        ] {
            let more = length(&done.pattern, name, edge) - length(&before, name, edge);
            assert!((more - 35.0).abs() < 0.3, "{name} {edge}: {more}");
        }
        assert_eq!(
            seams_that_differ(&done.pattern).len(),
            0,
            "{:#?}",
            seams_that_differ(&done.pattern)
        );
        for name in ["front", "back"] {
            for edge in ["armhole", "shoulder", "neckline", "waist"] {
                let change = length(&done.pattern, name, edge) - length(&before, name, edge);
                assert!(change.abs() < 1e-9, "{name} {edge}");
            }
            let piece = piece(&done.pattern, name);
            for dart in &piece.darts {
                let [one, other] = piece.legs(dart).lengths();
                assert!((one - other).abs() < 1e-6, "{name} {}", dart.name);
            }
        }
        assert_eq!(piece(&before, "sleeve"), piece(&done.pattern, "sleeve"));
    }
}

#[test]
fn shortening_undoes_lengthening() {
    for before in patterns() {
        for (name, from) in [("front", 40.0), ("back", 40.0), ("skirt-front", 300.0)] {
            let at = |by: f64, from: f64| {
                Arguments::new()
                    .at("at", on(name, "side", Along::FromStart(from)))
                    .length("by", by)
                    .flag("trued", false)
            };
            let from = length(&before, name, "side") - from;
            let Ok(longer) = run("lengthen", &before, &at(30.0, from)) else {
                continue;
            };
            let shorter = run("shorten", &longer.pattern, &at(30.0, from))
                .expect("what was put in can be taken out");
            let (old, new) = (piece(&before, name), piece(&shorter.pattern, name));
            // The side of a bodice slants: the inserted strip runs along the grain and is taken out again where it lies.
            assert!(apart(old, new) < 1e-6, "{name}: {}", apart(old, new));
            assert_eq!(old.marks.len(), new.marks.len());
            for (one, other) in old.lines.iter().zip(&new.lines) {
                assert!((one.length() - other.length()).abs() < 1e-6);
            }
        }
    }
}

#[test]
fn a_spread_changes_just_the_edges_it_crosses() {
    let mut done = 0;
    for before in patterns() {
        let line = |by: f64, end: f64| {
            Arguments::new()
                .at("from", on("skirt-front", "hem", Along::Share(0.5)))
                .at("to", on("skirt-front", "waist", Along::Share(0.2)))
                .length("by", by)
                .length("by-end", end)
                .flag("trued", false)
        };
        for end in [0.0, 25.0, 60.0] {
            let Ok(spread) = run("spread", &before, &line(60.0, end)) else {
                continue;
            };
            done += 1;
            let change = |edge: &str| {
                length(&spread.pattern, "skirt-front", edge) - length(&before, "skirt-front", edge)
            };
            assert!((change("hem") - 60.0).abs() < 1e-6, "{}", change("hem"));
            assert!((change("waist") - end).abs() < 1e-6, "{}", change("waist"));
            assert!(change("side").abs() < 1e-9 && change("centre").abs() < 1e-9);
            let (old, new) = (
                piece(&before, "skirt-front"),
                piece(&spread.pattern, "skirt-front"),
            );
            assert_eq!(old.edge("centre"), new.edge("centre"));
            for (old, new) in old.darts.iter().zip(&new.darts) {
                let angle = |piece: &Piece, dart| piece.legs(dart).angle().degrees();
                assert!(
                    (angle(piece(&before, "skirt-front"), old)
                        - angle(piece(&spread.pattern, "skirt-front"), new))
                    .abs()
                        < 1e-9
                );
            }
        }
        // A parallel spread adds a strip: as wide as was asked, as long as its line. Arithmetic.
        if let Ok(spread) = run("spread", &before, &line(60.0, 60.0)) {
            let line = spread.lines[0].curve.length();
            let more =
                piece(&spread.pattern, "skirt-front").area() - piece(&before, "skirt-front").area();
            assert!((more - 60.0 * line).abs() < 60.0, "{more} {}", 60.0 * line);
        }
    }
    assert!(done > BODIES, "{done} spreads were done");
}

#[test]
fn folding_away_undoes_spreading() {
    let mut compared = 0;
    for before in patterns() {
        let line = |by: f64, end: f64| {
            Arguments::new()
                .at("from", on("sleeve", "hem", Along::FromStart(90.0)))
                .at("to", on("sleeve", "cap-front", Along::FromStart(60.0)))
                .length("by", by)
                .length("by-end", end)
                .flag("trued", false)
        };
        for end in [0.0, 30.0] {
            let Ok(spread) = run("spread", &before, &line(30.0, end)) else {
                continue;
            };
            let change =
                length(&spread.pattern, "sleeve", "hem") - length(&before, "sleeve", "hem");
            assert!((change - 30.0).abs() < 1e-6);
            // The strip lies beyond one of the places: which one follows from the part that moved.
            let start = |pattern: &Pattern, edge: &str| {
                piece(pattern, "sleeve").edge(edge).map(Edge::start)
            };
            let hem = if start(&before, "hem") == start(&spread.pattern, "hem") {
                90.0
            } else {
                120.0
            };
            let cap = if start(&before, "cap-front") == start(&spread.pattern, "cap-front") {
                60.0
            } else {
                60.0 + end
            };
            let fold = Arguments::new()
                .at("from", on("sleeve", "hem", Along::FromStart(hem)))
                .at("to", on("sleeve", "cap-front", Along::FromStart(cap)))
                .length("by", -30.0)
                .length("by-end", -end)
                .flag("trued", false);
            let back = run("spread", &spread.pattern, &fold)
                .unwrap_or_else(|finding| panic!("{end} {hem} {cap}: {}", finding.message));
            let off = apart(piece(&before, "sleeve"), piece(&back.pattern, "sleeve"));
            assert!(off < 0.01, "{off}");
            compared += 1;
        }
    }
    assert!(compared > BODIES, "{compared}");
}

#[test]
fn a_moved_edge_keeps_itself_and_comes_back() {
    for before in patterns() {
        for (name, edge) in [("front", "side"), ("back", "side"), ("skirt-front", "side")] {
            let by = |mm: f64| Arguments::new().named("edge", name, edge).length("by", mm);
            let out = run("widen", &before, &by(18.0)).expect("there is room outside");
            let (old, new) = (piece(&before, name), piece(&out.pattern, name));
            assert!((length(&before, name, edge) - length(&out.pattern, name, edge)).abs() < 1e-6);
            for (a, b) in old.darts.iter().zip(&new.darts) {
                assert!(
                    (old.legs(a).angle().degrees() - new.legs(b).angle().degrees()).abs() < 1e-9
                );
                let [one, other] = new.legs(b).lengths();
                assert!((one - other).abs() < 1e-6);
            }
            for far in ["shoulder", "neckline", "centre"] {
                assert_eq!(old.edge(far), new.edge(far));
            }
            let back = run("narrow", &out.pattern, &by(18.0)).expect("it was narrower before");
            let corners = |piece: &Piece| piece.corners().map(|(_, at)| at).collect::<Vec<_>>();
            for (a, b) in corners(old).iter().zip(corners(piece(&back.pattern, name))) {
                assert!((*a - b).hypot() < 1e-6);
            }
        }
    }
}

#[test]
fn a_flared_hem_has_the_sweep_that_was_asked() {
    let mut flared = 0;
    for before in patterns() {
        for (name, by) in [("skirt-front", 120.0), ("skirt-back", 90.0)] {
            let arguments = Arguments::new()
                .named("hem", name, "hem")
                .named("from", name, "waist")
                .length("sweep", length(&before, name, "hem") + by);
            let Ok(done) = run("flare", &before, &arguments) else {
                continue;
            };
            flared += 1;
            let change =
                |edge: &str| length(&done.pattern, name, edge) - length(&before, name, edge);
            assert!((change("hem") - by).abs() < 0.01, "{}", change("hem"));
            assert!(change("waist").abs() < 0.01, "{}", change("waist"));
            assert!(change("side").abs() < 1e-9);
            let girth_off = pattern::check::of_sewing(&done.pattern)
                .into_iter()
                .find(|finding| finding.code == "girth-off");
            assert_eq!(girth_off, None);
        }
    }
    assert!(flared > BODIES, "{flared}");
}

#[test]
fn darts_turned_into_the_hem_close_by_what_it_opens() {
    let mut flared = 0;
    for before in patterns() {
        let old = piece(&before, "skirt-back");
        let arguments = Arguments::new()
            .named("hem", "skirt-back", "hem")
            .named("from", "skirt-back", "waist")
            .length("by", 40.0)
            .choice("hinge", "darts");
        let Ok(done) = run("flare", &before, &arguments) else {
            continue;
        };
        flared += 1;
        let new = piece(&done.pattern, "skirt-back");
        assert!(
            (length(&done.pattern, "skirt-back", "hem")
                - length(&before, "skirt-back", "hem")
                - 40.0)
                .abs()
                < 0.01
        );
        assert!(
            (length(&done.pattern, "skirt-back", "waist") - length(&before, "skirt-back", "waist"))
                .abs()
                < 1e-6
        );
        let sum = |piece: &Piece| {
            piece
                .darts
                .iter()
                .map(|dart| piece.legs(dart).angle().degrees())
                .sum::<f64>()
        };
        assert!(sum(new) < sum(old));
    }
    assert!(flared > BODIES / 2, "{flared}");
}

/// Asked for ever more, a step either gives a sound pattern or refuses; what it says still works does work.
#[test]
fn too_much_is_refused_and_the_most_works() {
    let mut refused = 0;
    for before in patterns().into_iter().take(8) {
        for by in [20.0, 120.0, 260.0, 400.0] {
            let narrow = |by: f64| {
                Arguments::new()
                    .named("edge", "front", "side")
                    .length("by", by)
            };
            let Err(finding) = run("narrow", &before, &narrow(by)) else {
                continue;
            };
            refused += 1;
            match finding.allowed {
                Some(Allowed::AtMost(most)) => {
                    assert!(most.value < by);
                    run("narrow", &before, &narrow(most.value)).expect("the most that works works");
                }
                other => panic!("{other:?} {}", finding.message),
            }
        }
    }
    assert!(refused > 8, "{refused}");
}
