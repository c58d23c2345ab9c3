//! Steps beside worked drafts of books that are out of copyright, and identities that anyone can recompute. Inches where the
//! source has inches.

use geometry::{Angle, Curve, Point};
use pattern::step::{self, Along, Arguments, On, Place, Value};
use pattern::{Cut, Edge, EdgeKind, Laid, Layer, Part, Pattern, Piece};

const INCH: f64 = 25.4;

/// A piece of straight edges, named from the first corner on, its last edge the centre line.
fn piece(name: &str, corners: &[(f64, f64)], edges: &[&str]) -> Pattern {
    let corner = |index: usize| {
        Point::new(
            corners[index % corners.len()].0 * INCH,
            corners[index % corners.len()].1 * INCH,
        )
    };
    let edge = |(index, name): (usize, &&str)| {
        let kind = if *name == "centre" {
            EdgeKind::Fold
        } else {
            EdgeKind::Seam
        };
        Edge::new(*name, kind, Curve::line(corner(index), corner(index + 1)))
    };
    let piece = Piece {
        name: name.into(),
        edges: edges.iter().enumerate().map(edge).collect(),
        darts: Vec::new(),
        marks: Vec::new(),
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
    assert!(piece.edges.iter().all(|edge| edge.part == Part::WHOLE));
    Pattern {
        pieces: vec![piece],
        ..Pattern::default()
    }
}

fn at(edge: &str, share: f64) -> Value {
    Value::Place(Place {
        piece: "skirt".into(),
        on: On::Edge {
            edge: edge.into(),
            at: Along::Share(share),
        },
    })
}

/// One pleat, laid in by spreading along a line from the waist to the hem; lengths in inches.
fn pleated(pattern: &Pattern, share: f64, at_waist: f64, at_hem: f64) -> Pattern {
    let arguments = Arguments::new()
        .with("from", at("waist", share))
        .with("to", at("hem", 1.0 - share))
        .length("by", at_waist * INCH)
        .length("by-end", at_hem * INCH)
        .flag("trued", false)
        .choice("as", "pleats");
    let spread = step::find("spread").expect("spread is a step");
    spread
        .run(pattern, &arguments)
        .unwrap_or_else(|finding| panic!("{finding:#?}"))
        .pattern
}

fn length(pattern: &Pattern, edge: &str) -> f64 {
    pattern.pieces[0].edge(edge).map_or(f64::NAN, Edge::length) / INCH
}

/// Conover, *A Complete Course in Dressmaking* vol. 5, 1921, pleated skirt: half width 44, waist 28, hip 40, half hem 27 1/2;
/// the pleats take up 30 at the waist and 16 1/2 at the hem; one of them takes 2 1/8 at the waist, the other seven 3.98 each.
#[test]
fn pleated_skirt_of_conover() {
    let mut skirt = piece(
        "skirt",
        &[(0.0, 0.0), (14.0, 0.0), (27.5, 38.0), (0.0, 38.0)],
        &["waist", "side", "hem", "centre"],
    );
    let other = (30.0 - 2.125) / 7.0;
    assert!(
        (other - 3.98_f64).abs() < 0.005,
        "the other seven take {other:.3}"
    );
    let hem_each = 16.5 / 8.0;
    for pleat in 0..8 {
        let takes = if pleat == 0 { 2.125 } else { other };
        // The next pleat lies on the part that was not spread yet: an eighth of the finished waist from the last.
        let flat = 14.0 * (f64::from(pleat) + 0.5) / 8.0;
        let laid_in = if pleat == 0 {
            0.0
        } else {
            2.125 + other * f64::from(pleat - 1)
        };
        let share = (flat + laid_in) / length(&skirt, "waist");
        skirt = pleated(&skirt, share, takes, hem_each);
    }
    let (waist, hem) = (length(&skirt, "waist"), length(&skirt, "hem"));
    assert!((waist - 44.0).abs() < 0.05, "waist {waist:.3} in");
    assert!((hem - 44.0).abs() < 0.05, "hem {hem:.3} in");
}

/// Bias from a square of side s cut in strips of width w: s²/w; 20 in and 2 in give 200 in, 250 in of 2 in need 22.4 in
/// (derived: the strips cover the square).
#[test]
fn bias_from_a_square() {
    let square = |side: f64| {
        let corners = [(0.0, 0.0), (side, 0.0), (side, side), (0.0, side)];
        piece("skirt", &corners, &["waist", "side", "hem", "centre"])
    };
    let arguments = Arguments::new()
        .with("piece", Value::Named(pattern::step::Named::piece("skirt")))
        .with("angle", Value::Angle(Angle::from_degrees(45.0)));
    let grain = step::find("grain").expect("grain is a step");
    let bias = |side: f64| {
        grain
            .run(&square(side), &arguments)
            .unwrap_or_else(|finding| panic!("{finding:#?}"))
            .pattern
    };
    let strips = |side: f64| bias(side).pieces[0].area() / INCH / INCH / 2.0;
    assert!((strips(20.0) - 200.0).abs() < 0.1);
    assert!((strips(22.4) - 250.0).abs() < 1.0);
    let turned = (bias(20.0).pieces[0].grain.degrees() - 90.0).abs();
    assert!(
        (turned - 45.0).abs() < 1e-9,
        "the grain is turned by {turned:.3}°"
    );
}
