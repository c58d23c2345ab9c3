//! A straight waistband, folded along its upper edge, with an underlap where it opens.

use geometry::{Angle, Curve, Point};
use pattern::{Cut, Edge, EdgeKind, InnerLine, Laid, Layer, Piece};

use crate::recipe::WaistbandPart;

/// The band for a waist of a length, mm: as long as the waist and its underlap, twice as high as it will be.
pub(super) fn piece(part: &WaistbandPart, waist: f64, opens: bool) -> Piece {
    let underlap = if opens { part.underlap } else { 0.0 };
    let (length, height) = (waist + underlap, 2.0 * part.height);
    let corner = |x: f64, y: f64| Point::new(x, y);
    let line = |from: Point, to: Point| Curve::line(from, to);
    let seam = |name: &str, run| Edge::new(name, EdgeKind::Seam, run);
    let mut edges = vec![
        seam("inside", line(corner(0.0, 0.0), corner(length, 0.0))),
        seam("end", line(corner(length, 0.0), corner(length, height))),
    ];
    if underlap > 0.0 {
        edges.push(seam(
            "underlap",
            line(corner(length, height), corner(waist, height)),
        ));
    }
    edges.push(seam(
        "waist",
        line(corner(waist, height), corner(0.0, height)),
    ));
    edges.push(seam("start", line(corner(0.0, height), corner(0.0, 0.0))));
    let fold = Curve::line(corner(0.0, part.height), corner(length, part.height));
    Piece {
        name: "waistband".into(),
        edges,
        darts: Vec::new(),
        marks: Vec::new(),
        lines: vec![InnerLine {
            name: "fold".into(),
            runs: vec![fold],
        }],
        grain: Angle::from_degrees(0.0),
        cut: Cut {
            layer: Layer::Shell,
            count: 1,
            laid: Laid::Single,
        },
        peaked: Vec::new(),
        asked: None,
    }
}
