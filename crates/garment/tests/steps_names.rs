//! Names survive: what was cut is found by whoever names the whole.

mod common;

use document::Severity;
use geometry::{Curve, Knot, Point};
use pattern::step::kit::divide::{Division, End, divide};
use pattern::step::kit::part_edge::part_edge;
use pattern::step::kit::place;
use pattern::step::kit::refuse::unless_sound;
use pattern::step::{Along, Arguments, Place, find};
use pattern::{Edge, Mark, Pattern, Stretch};

const BODIES: usize = 16;

fn patterns() -> Vec<Pattern> {
    let recipe = common::dress(
        "shoulder",
        "\"straight\" length=\"620 mm\"",
        "sleeve ease=\"60 mm\" cap-ease=\"30 mm\"",
    );
    body::population::draw(BODIES * 2, 5)
        .filter_map(|tape| garment::make(&recipe, &body::complete(&tape)).ok())
        .map(|garment| garment.pattern)
        .take(BODIES)
        .collect()
}

fn index(pattern: &Pattern, name: &str) -> usize {
    let found = pattern.pieces.iter().position(|piece| piece.name == name);
    found.expect("the dress has this piece")
}

/// The front cut from its shoulder dart to its first waist dart, through both.
fn princess(pattern: &Pattern) -> Option<Pattern> {
    let mut cut = pattern.clone();
    let piece = index(pattern, "front");
    let front = &pattern.pieces[piece];
    // Clockwise, the waist runs from the side to the centre: its last dart is the one below the bust point.
    let waist = front.darts_on("waist").last()?.clone();
    let bust = front.dart("bust-dart")?.clone();
    let down = geometry::Vec2::new(0.0, 1.0);
    let line = Curve::smooth(&[
        Knot::toward(bust.point, bust.point - front.legs(&bust).after),
        Knot::toward(waist.point, down),
    ])?;
    let division = Division {
        piece,
        from: End::Dart(bust.name),
        to: End::Dart(waist.name),
        line,
        words: ["side".into(), "centre".into()],
        seam: "princess".into(),
    };
    divide(&mut cut, &division).ok()?;
    for piece in cut.pieces_of("front") {
        unless_sound(piece, None).unwrap_or_else(|finding| panic!("{finding:#?}"));
    }
    Some(cut)
}

#[test]
fn seams_girths_and_lengths_follow_a_piece_that_was_cut_through_its_darts() {
    let mut cut = 0;
    for before in patterns() {
        let Some(after) = princess(&before) else {
            continue;
        };
        cut += 1;
        let names: Vec<&str> = after
            .pieces_of("front")
            .map(|piece| piece.name.as_str())
            .collect();
        assert_eq!(names, ["front/side", "front/centre"]);
        for edge in ["waist", "shoulder", "armhole", "side", "neckline", "centre"] {
            let side = [Stretch::forwards("front", edge)];
            let (old, new) = (before.side_length(&side), after.side_length(&side));
            assert!((old - new).abs() < 1e-6, "{edge}: {old} {new}");
        }
        // Walked forwards, the waist of the front comes from the side seam; its parts are found in that order.
        let stretch = Stretch::forwards("front", "waist");
        let parts: Vec<&str> = after
            .edges_of(&stretch)
            .iter()
            .map(|(piece, _)| piece.name.as_str())
            .collect();
        assert_eq!(parts, ["front/side", "front/centre"]);
        let stretch = Stretch::backwards("front", "shoulder");
        let parts: Vec<&str> = after
            .edges_of(&stretch)
            .iter()
            .map(|(_, edge)| edge.name.as_str())
            .collect();
        assert_eq!(parts, ["shoulder/side", "shoulder/centre"]);
        let findings = pattern::check::of_sewing(&after);
        let about = |code: &str| {
            findings
                .iter()
                .filter(|finding| finding.code == code)
                .count()
        };
        assert_eq!(
            about("seam-without-edge") + about("seam-lengths-differ"),
            0,
            "{findings:#?}"
        );
        for (old, new) in before.girths.iter().zip(&after.girths) {
            assert!(
                (before.girth(old) - after.girth(new)).abs() < 1e-6,
                "{}",
                old.level
            );
        }
        let area = |pattern: &Pattern| {
            pattern
                .pieces_of("front")
                .map(|piece| {
                    geometry::curve::enclosed_area(&pattern::step::kit::refuse::open_outline(piece))
                })
                .sum::<f64>()
        };
        assert!((area(&before) - area(&after)).abs() < 0.1);
    }
    assert!(cut > BODIES / 2, "{cut} fronts were cut");
}

#[test]
fn notches_stay_where_they_were_on_the_cloth() {
    for before in patterns() {
        let Some(after) = princess(&before) else {
            continue;
        };
        let notches = |pattern: &Pattern| -> Vec<(String, Point)> {
            let of = |piece: &pattern::Piece, mark: &Mark| match mark {
                Mark::Notch {
                    name, edge, along, ..
                } => Some((name.clone(), piece.edge(edge)?.place_at(*along).0)),
                Mark::Point { .. } => None,
            };
            let mut all: Vec<_> = pattern
                .pieces_of("front")
                .flat_map(|piece| piece.marks.iter().filter_map(move |mark| of(piece, mark)))
                .collect();
            all.sort_by(|a, b| a.0.cmp(&b.0));
            all
        };
        let (old, new) = (notches(&before), notches(&after));
        assert_eq!(old.len(), new.len());
        for ((name, old), (_, new)) in old.iter().zip(&new) {
            assert!((*old - *new).hypot() < 1e-6, "{name}");
        }
    }
}

#[test]
fn later_steps_name_the_whole_and_find_its_part() {
    for before in patterns() {
        let Some(after) = princess(&before) else {
            continue;
        };
        let side = Place::on_edge("front", "side", Along::FromEnd(30.0));
        let (old, new) = (place::find(&before, &side), place::find(&after, &side));
        let (old, new) = (old.expect("it is there"), new.expect("and still is"));
        assert!((old.at - new.at).hypot() < 1e-9);
        assert_eq!(after.pieces[new.piece].name, "front/side");
        let corner = Place::corner("front", "neckline", "shoulder");
        let found = place::find(&after, &corner).expect("the corner keeps its name");
        assert_eq!(after.pieces[found.piece].name, "front/centre");
        let widen = Arguments::new()
            .named("edge", "front", "side")
            .named("edge", "back", "side")
            .length("by", 4.0);
        let done = find("widen")
            .expect("it is in the list")
            .run(&after, &widen)
            .expect("there is room");
        assert_ne!(after.piece("front/side"), done.pattern.piece("front/side"));
        assert_eq!(
            after.piece("front/centre"),
            done.pattern.piece("front/centre")
        );
        let shoulder = Arguments::new()
            .named("edge", "front", "shoulder")
            .length("by", 4.0);
        let finding = find("widen")
            .expect("as above")
            .run(&after, &shoulder)
            .expect_err("it is in two parts");
        assert_eq!(finding.code, "edge-was-cut");
        assert!(
            finding
                .allowed
                .expect("it says which")
                .to_string()
                .contains("front/side.shoulder/side")
        );
    }
}

#[test]
fn an_edge_parted_and_parted_again_is_walked_in_order() {
    for before in patterns() {
        let mut after = before.clone();
        let piece = index(&after, "skirt-back");
        let side = after.pieces[piece]
            .edge_index("side")
            .expect("a skirt has sides");
        let length = after.pieces[piece].edges[side].length();
        let owner = &mut after.pieces[piece];
        part_edge(owner, side, length * 0.5, ["upper", "lower"]).expect("the middle is free");
        part_edge(owner, side, length * 0.2, ["top", "low"]).expect("so is this place");
        let stretch = Stretch::forwards("skirt-back", "side");
        let names: Vec<&str> = after
            .edges_of(&stretch)
            .iter()
            .map(|(_, edge)| edge.name.as_str())
            .collect();
        assert_eq!(names, ["side/upper/top", "side/upper/low", "side/lower"]);
        let upper = Stretch::backwards("skirt-back", "side/upper");
        let names: Vec<&str> = after
            .edges_of(&upper)
            .iter()
            .map(|(_, edge)| edge.name.as_str())
            .collect();
        assert_eq!(names, ["side/upper/low", "side/upper/top"]);
        let whole = [stretch];
        assert!((before.side_length(&whole) - after.side_length(&whole)).abs() < 1e-9);
        let slips = |pattern: &Pattern| {
            let errors = pattern::check::of_sewing(pattern).into_iter();
            errors
                .filter(|finding| finding.severity == Severity::Error)
                .count()
        };
        assert_eq!(slips(&before), slips(&after));
        let waist = Place::on_edge(
            "skirt-back",
            "side",
            Along::FromEdge("waist".into(), length * 0.35),
        );
        let found = place::seat(&after, &waist).expect("the side still meets the waist");
        assert_eq!(after.pieces[piece].edges[found.edge].name, "side/upper/low");
        let lengths = after.pieces[piece]
            .edges_of("side")
            .map(Edge::length)
            .sum::<f64>();
        assert!((lengths - length).abs() < 1e-9);
    }
}
