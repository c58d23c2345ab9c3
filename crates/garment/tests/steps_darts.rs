//! Laws of the steps that move darts, on the blocks of bodies drawn at random.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use document::{Finding, Severity};
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
    body::population::draw(BODIES * 2, 11)
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

fn place(edge: &str, share: f64) -> Place {
    Place::on_edge("front", edge, Along::Share(share))
}

fn bust_dart(to: Place) -> Arguments {
    Arguments::new()
        .named("dart", "front", "bust-dart")
        .at("to", to)
}

fn front(pattern: &Pattern) -> &Piece {
    pattern.piece("front").expect("a dress has a front")
}

fn degrees(piece: &Piece, dart: &str) -> f64 {
    piece
        .legs(piece.dart(dart).expect("the dart is there"))
        .angle()
        .degrees()
}

/// Points along the runs of all edges, by length as sewn; darts do not shift them.
fn samples(piece: &Piece) -> Vec<geometry::Point> {
    let along = |edge: &Edge, k: u32| edge.length() * (f64::from(k) + 0.37) / 12.0;
    piece
        .edges
        .iter()
        .flat_map(|edge| (0..11).map(move |k| edge.place_at(along(edge, k)).0))
        .collect()
}

fn apart(one: &Piece, other: &Piece) -> f64 {
    let pairs = samples(one).into_iter().zip(samples(other));
    pairs.map(|(a, b)| (a - b).hypot()).fold(0.0, f64::max)
}

const TARGETS: [(&str, f64); 6] = [
    ("shoulder", 0.5),
    ("armhole", 0.5),
    ("neckline", 0.4),
    ("shoulder", 0.15),
    ("armhole", 0.8),
    ("side", 0.9),
];

#[test]
fn a_transferred_dart_keeps_angle_and_edges_and_the_rest_stays() {
    let mut moved = 0;
    for before in patterns() {
        for (edge, share) in TARGETS {
            let Ok(done) = run("transfer", &before, &bust_dart(place(edge, share))) else {
                continue;
            };
            moved += 1;
            let (old, new) = (front(&before), front(&done.pattern));
            assert!((degrees(old, "bust-dart") - degrees(new, "bust-dart")).abs() < 1e-9);
            for (old, new) in old.edges.iter().zip(&new.edges) {
                assert!((old.length() - new.length()).abs() < 1e-6, "{}", old.name);
            }
            assert_eq!(old.edge("centre"), new.edge("centre"));
            let others = |pattern: &Pattern| -> Vec<Piece> {
                pattern
                    .pieces
                    .iter()
                    .filter(|p| p.name != "front")
                    .cloned()
                    .collect()
            };
            assert_eq!(others(&before), others(&done.pattern));
            assert_eq!(before.seams, done.pattern.seams);
            let legs = new.legs(new.dart("bust-dart").expect("it was transferred"));
            assert!((legs.lengths()[0] - legs.lengths()[1]).abs() < 1e-9);
        }
    }
    assert!(moved > BODIES * 4, "{moved} transfers were done");
}

/// The closed piece does not know where its dart was: every way round gives the same, and back again the start.
#[test]
fn a_closed_dart_leaves_the_same_outline_whichever_way_it_went() {
    let mut compared = 0;
    for before in patterns() {
        let side = front(&before)
            .dart("bust-dart")
            .expect("a front has one")
            .clone();
        let start = front(&before)
            .edge("side")
            .map_or(0.0, |edge| edge.runs[side.gap].length());
        let Ok(shoulder) = run("transfer", &before, &bust_dart(place("shoulder", 0.5))) else {
            continue;
        };
        if let (Ok(direct), Ok(round)) = (
            run("transfer", &before, &bust_dart(place("armhole", 0.55))),
            run(
                "transfer",
                &shoulder.pattern,
                &bust_dart(place("armhole", 0.55)),
            ),
        ) {
            assert!(apart(front(&direct.pattern), front(&round.pattern)) < 0.01);
            compared += 1;
        }
        let home = Place::on_edge("front", "side", Along::FromStart(start));
        let back =
            run("transfer", &shoulder.pattern, &bust_dart(home)).expect("it came from there");
        assert!(apart(front(&before), front(&back.pattern)) < 0.01);
        let point = |pattern: &Pattern| front(pattern).dart("bust-dart").map(|dart| dart.point);
        assert_eq!(point(&before), point(&back.pattern));
        let area = front(&before).area() - front(&back.pattern).area();
        assert!(area.abs() < 1.0, "{area} mm²");
    }
    assert!(compared > BODIES / 2, "{compared} ways were compared");
}

#[test]
fn shares_add_up_and_combine_again() {
    let mut split = 0;
    for before in patterns() {
        let whole = degrees(front(&before), "bust-dart");
        for share in [0.2, 0.5, 0.8] {
            let arguments = Arguments::new()
                .named("dart", "front", "bust-dart")
                .at("at", place("shoulder", 0.4))
                .number("share", share);
            let Ok(done) = run("split", &before, &arguments) else {
                continue;
            };
            let piece = front(&done.pattern);
            assert!((degrees(piece, "bust-dart") - whole * (1.0 - share)).abs() < 1e-9);
            assert!((degrees(piece, "bust-dart-2") - whole * share).abs() < 1e-9);
            let again = Arguments::new()
                .named("dart", "front", "bust-dart-2")
                .named("into", "front", "bust-dart");
            let done = run("combine", &done.pattern, &again).expect("it was one before");
            assert!((degrees(front(&done.pattern), "bust-dart") - whole).abs() < 1e-9);
            assert!(apart(front(&before), front(&done.pattern)) < 0.01);
            split += 1;
        }
    }
    assert!(split > BODIES);
}

#[test]
fn a_dart_drawn_to_another_end_keeps_its_edge() {
    for before in patterns() {
        let piece = front(&before);
        let dart = piece.dart("bust-dart").expect("a front has one");
        let end = (dart.point - dart.aim).hypot();
        let arguments = Arguments::new()
            .named("dart", "front", "bust-dart")
            .length("before", end + 15.0);
        let Ok(done) = run("shorten-dart", &before, &arguments) else {
            continue;
        };
        let new = front(&done.pattern);
        let legs = new.legs(new.dart("bust-dart").expect("it was drawn anew"));
        assert!((legs.lengths()[0] - legs.lengths()[1]).abs() < 1e-6);
        let length = |piece: &Piece| piece.edge("side").map_or(0.0, Edge::length);
        assert!(
            (length(piece) - length(new)).abs() < 1e-6,
            "{} {}",
            length(piece),
            length(new)
        );
        assert_eq!(piece.edge("waist"), new.edge("waist"));
        assert_eq!(
            piece.edge("armhole").map(Edge::start),
            new.edge("armhole").map(Edge::start)
        );
    }
}

fn slips(pattern: &Pattern) -> Vec<Finding> {
    let mut findings = pattern::check::of_sewing(pattern);
    findings.retain(|finding| finding.severity == Severity::Error);
    findings
}

#[test]
fn a_released_dart_is_taken_up_by_its_seam() {
    for before in patterns() {
        for word in ["gathers", "pleats", "ease"] {
            let name = front(&before)
                .darts_on("waist")
                .next()
                .map(|dart| dart.name.clone());
            let Some(name) = name else { continue };
            let piece = front(&before);
            let intake = piece
                .legs(piece.dart(&name).expect("it was just found"))
                .intake();
            let arguments = Arguments::new()
                .named("dart", "front", &name)
                .choice("as", word);
            let done = run("release", &before, &arguments).expect("a waist dart can be released");
            let new = front(&done.pattern);
            assert!(new.dart(&name).is_none());
            let length = |piece: &Piece| piece.edge("waist").map_or(0.0, Edge::length);
            assert!(
                (length(new) - length(piece) - intake).abs() < 1.5,
                "{intake}"
            );
            assert!(
                slips(&done.pattern).is_empty(),
                "{word}: {:#?}",
                slips(&done.pattern)
            );
        }
    }
}

#[test]
fn an_absorbed_dart_leaves_edge_and_seam_as_long_as_they_were() {
    let mut absorbed = 0;
    for before in patterns() {
        let Some(back) = before.piece("skirt-back") else {
            continue;
        };
        let Some(dart) = back.darts_on("waist").last() else {
            continue;
        };
        let arguments = Arguments::new()
            .named("dart", "skirt-back", &dart.name)
            .named("into", "skirt-back", "side");
        let Ok(done) = run("absorb", &before, &arguments) else {
            continue;
        };
        absorbed += 1;
        let new = done.pattern.piece("skirt-back").expect("it keeps its name");
        assert_eq!(new.darts.len() + 1, back.darts.len());
        for name in ["waist", "side"] {
            let length = |piece: &Piece| piece.edge(name).map_or(0.0, Edge::length);
            assert!(
                (length(back) - length(new)).abs() < 0.1,
                "{name}: {} {}",
                length(back),
                length(new)
            );
        }
        assert_eq!(back.edge("hem"), new.edge("hem"));
    }
    assert!(absorbed > BODIES / 2, "{absorbed} darts were absorbed");
}
