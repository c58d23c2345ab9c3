//! Writes corners of cutting outlines, one JSON object a line, for an independent reader that folds them: those of garments on drawn
//! bodies (`fold`), and single corners of four-sided pieces with an allowance of its own on every side (`shape`):
//! `dump_corners SEED`.
#![allow(
    clippy::print_stdout,
    reason = "this example writes for another program"
)]

use document::Source;
use geometry::allowance::{Corner, CuttingOutline, Side, Which, cutting_outline};
use geometry::{Curve, Point, Tolerance};
use pattern::{Edge, Piece};

const GARMENTS: [&str; 5] = [
    "bodice { bust-dart \"shoulder\"; neckline \"v\" depth=\"70 mm\" width=\"20 mm\" }
 sleeve ease=\"60 mm\" cap-ease=\"30 mm\" hem=\"260 mm\"
 skirt \"a-line\" length=\"620 mm\"",
    "bodice { bust-dart \"side\"; neckline \"round\" depth=\"30 mm\" width=\"30 mm\" }
 skirt \"straight\" length=\"620 mm\"
 steps { cut from=\"front.bust-dart\" through=\"front.bust-point\" to=\"front.waist-dart\" seam=\"princess\" }",
    "skirt \"circle\" part=\"1/2\" length=\"600 mm\"; waistband",
    "skirt \"gored\" gores=6 length=\"650 mm\" sweep=\"2200 mm\"; waistband; hems { skirt \"faced\" }",
    "skirt \"straight\" length=\"620 mm\"; waistband; hems { skirt \"narrow\" }
 vents { vent seam=\"centre-back\" height=\"180 mm\" width=\"40 mm\" }",
];

fn main() {
    let seed = std::env::args().nth(1).and_then(|word| word.parse().ok());
    for tape in body::population::draw(8, seed.unwrap_or(1)) {
        let body = body::complete(&tape);
        for statements in GARMENTS {
            let text = format!("garment \"Corners\" {{\n {statements}\n}}");
            let recipe = garment::recipe::read(&Source::new("corners.kdl", text));
            let recipe = recipe.unwrap_or_else(|findings| panic!("{findings:#?}"));
            // A body that a sleeve does not fit has no corners to look at.
            if let Ok(made) = garment::make(&recipe, &body) {
                made.pattern.pieces.iter().for_each(folds);
            }
        }
    }
    shapes();
}

/// Every corner of a piece where the allowance of one edge is folded back.
fn folds(piece: &Piece) {
    let cut = piece.cutting_outline().expect("a drawn piece can be cut");
    let count = piece.edges.len();
    for (index, edge) in piece.edges.iter().enumerate() {
        let next = &piece.edges[(index + 1) % count];
        let Corner::Mirrored(which) = edge.corner else {
            continue;
        };
        let (lead, other) = match which {
            Which::Before => (edge.runs[edge.runs.len() - 1].clone(), next),
            Which::After => (next.runs[0].reversed(), edge),
        };
        let own: &Edge = if which == Which::Before { edge } else { next };
        println!(
            "{{\"kind\":\"fold\",\"name\":\"{} {}+{}\",\"lead\":{},\"lead_distance\":{},\"other_length\":{},\"other_distance\":{},\"clockwise\":{},\"cut\":{}}}",
            piece.name,
            edge.name,
            next.name,
            cubics(&lead),
            own.allowance,
            other.length(),
            other.allowance,
            which == Which::Before,
            dense(&cut),
        );
    }
}

/// A quarter of an inch by which a side's allowance differs from the one before, and corners from sharp to blunt.
fn shapes() {
    for tip in [45.0, 62.0, 80.0, 90.0, 103.0, 121.0, 140.0_f64] {
        let (sin, cos) = geometry::math::sin_cos(tip.to_radians());
        let points = [
            (0.0, 0.0),
            (200.0, 0.0),
            (200.0 - 180.0 * cos, 180.0 * sin),
            (-120.0, 260.0),
        ]
        .map(Point::from);
        for distances in [[10.0, 10.0], [12.0, 15.0], [40.0, 15.0], [15.0, 40.0]] {
            for (word, corner) in [
                ("mitre", Corner::Mitre),
                ("squared", Corner::Squared(Which::Before)),
                ("mirrored", Corner::Mirrored(Which::Before)),
            ] {
                let sides: Vec<Side> = (0..4)
                    .map(|k| Side {
                        curve: Curve::line(points[k], points[(k + 1) % 4]),
                        distance: distances[k % 2],
                        corner: if k == 0 { corner } else { Corner::Mitre },
                    })
                    .collect();
                let cut = cutting_outline(&sides, Tolerance::PATTERN)
                    .unwrap_or_else(|error| panic!("{tip}° {distances:?} {word}: {error}"));
                let corners: Vec<String> = points
                    .iter()
                    .map(|point| format!("[{},{}]", point.x, point.y))
                    .collect();
                println!(
                    "{{\"kind\":\"shape\",\"corner\":\"{word}\",\"tip\":{tip},\"points\":[{}],\"distances\":[{},{}],\"cut\":{}}}",
                    corners.join(","),
                    distances[0],
                    distances[1],
                    dense(&cut),
                );
            }
        }
    }
}

fn cubics(curve: &Curve) -> String {
    let segments: Vec<String> = curve
        .segments()
        .iter()
        .map(|segment| {
            let c = segment.to_cubic();
            let numbers = [c.p0, c.p1, c.p2, c.p3].map(|p| format!("[{},{}]", p.x, p.y));
            format!("[{}]", numbers.join(","))
        })
        .collect();
    format!("[{}]", segments.join(","))
}

/// Points on the outline, straight lines between which stay within 0.002 mm.
fn dense(cut: &CuttingOutline) -> String {
    let fine = Tolerance::from_mm(0.002).expect("above zero");
    let points: Vec<String> = cut
        .curves()
        .flat_map(|curve| curve.flattened(fine))
        .map(|point| format!("[{},{}]", point.x, point.y))
        .collect();
    format!("[{}]", points.join(","))
}
