//! Writes, as lines of JSON for an independent reader, facings of several styles on several bodies: their outlines, the edges that
//! are sewn, the free edge, and the shell's edges where they lie without darts.
#![allow(
    clippy::print_stdout,
    reason = "this example writes for another program"
)]

use body::{Measure, Tape};
use document::Source;
use geometry::{Curve, Point, Tolerance};
use pattern::name::root;
use pattern::{Edge, EdgeKind, Laid, Layer, Pattern, Piece};

/// A style, and how wide its facings are, mm.
const STYLES: [(&str, f64); 5] = [
    (
        "bodice { bust-dart \"side\"; neckline \"round\" depth=\"25 mm\" width=\"20 mm\" back-depth=\"10 mm\" }; facings { neck width=\"55 mm\"; armhole width=\"55 mm\" }",
        55.0,
    ),
    (
        "bodice { bust-dart \"waist\"; neckline \"v\" depth=\"95 mm\" width=\"20 mm\" back-depth=\"15 mm\" }; facings { neck width=\"50 mm\"; armhole width=\"50 mm\" without-seam=\"side\" }",
        50.0,
    ),
    (
        "bodice { bust-dart \"neck\"; neckline \"v\" depth=\"95 mm\" width=\"20 mm\" back-depth=\"15 mm\" }; facings { neck width=\"50 mm\" without-seam=\"shoulder\" }",
        50.0,
    ),
    (
        "opening \"none\"; bodice { bust-dart \"side\"; neckline \"round\" depth=\"25 mm\" width=\"20 mm\" back-depth=\"10 mm\" }; facings { all-in-one width=\"60 mm\" }",
        60.0,
    ),
    (
        "skirt \"straight\" length=\"600 mm\"; facings { waist width=\"50 mm\" without-seam=\"side\" }",
        50.0,
    ),
];

fn main() {
    for bust in [820.0, 920.0, 1080.0] {
        let body = body::complete(&Tape::new("body").with(Measure::Bust, bust));
        for (style, width) in STYLES {
            let text = format!("garment \"Facings\" {{ {style} }}");
            let recipe =
                garment::recipe::read(&Source::new("facings.kdl", text)).expect("the style reads");
            let garment = garment::make(&recipe, &body).expect("the body is common");
            let pattern = &garment.pattern;
            let narrowed = |piece: &Piece| {
                pattern.findings.iter().any(|one| {
                    one.code == "facing-narrowed"
                        && one
                            .places
                            .contains(&document::Place::Piece(piece.name.clone()))
                })
            };
            for facing in &pattern.pieces {
                if facing.cut.layer == Layer::Facing && !narrowed(facing) {
                    report(pattern, facing, (bust, width));
                }
            }
        }
    }
}

fn report(pattern: &Pattern, facing: &Piece, (bust, width): (f64, f64)) {
    let faced = |edge: &&Edge| {
        edge.kind == EdgeKind::Seam && ["neckline", "armhole", "waist"].contains(&root(&edge.name))
    };
    let inner = facing.edges.iter().filter(faced);
    let outer = facing.edges.iter().filter(|edge| edge.answers_to("outer"));
    let centre = match &facing.cut.laid {
        Laid::OnFold(fold) => facing.edge(fold),
        Laid::Pair | Laid::Single => None,
    };
    let outline: Vec<Point> = facing.seam_outline().iter().flat_map(flat).collect();
    println!(
        "{{\"name\":\"{} of bust {bust}\",\"width\":{width},\"in_one\":{},\"joined\":{},\"outline\":{},\"inner\":{},\"outer\":{},\"fold\":{},\"shell\":{}}}",
        facing.name,
        facing.name.contains("all-in-one"),
        pattern.makeup.lies_of(&facing.name).count() > 1,
        points(&outline),
        lines(inner.flat_map(|edge| &edge.runs)),
        lines(outer.flat_map(|edge| &edge.runs)),
        lines(centre.iter().flat_map(|edge| &edge.runs)),
        lines(&shell(pattern, facing)),
    );
}

/// The shell's faced edges where they lie behind the facing; none where one of them has a dart.
fn shell(pattern: &Pattern, facing: &Piece) -> Vec<Curve> {
    let names: Vec<&str> = facing.edges.iter().map(|edge| root(&edge.name)).collect();
    let mut runs = Vec::new();
    for lies in pattern.makeup.lies_of(&facing.name) {
        let upon = pattern.piece(&lies.upon).expect("a facing lies on a piece");
        let back = lies.placed.inverse();
        let edges = upon.edges.iter().filter(|edge| {
            let name = root(&edge.name);
            ["neckline", "armhole", "waist"].contains(&name) && names.contains(&name)
        });
        for edge in edges {
            if edge.runs.len() > 1 {
                return Vec::new();
            }
            runs.push(edge.runs[0].transformed(back));
        }
    }
    runs
}

fn flat(curve: &Curve) -> Vec<Point> {
    curve.flattened(Tolerance::from_mm(1e-4).expect("above zero"))
}

fn lines<'a>(curves: impl IntoIterator<Item = &'a Curve>) -> String {
    let each: Vec<String> = curves
        .into_iter()
        .map(|curve| points(&flat(curve)))
        .collect();
    format!("[{}]", each.join(","))
}

fn points(points: &[Point]) -> String {
    let each: Vec<String> = points
        .iter()
        .map(|point| format!("[{:.6},{:.6}]", point.x, point.y))
        .collect();
    format!("[{}]", each.join(","))
}
