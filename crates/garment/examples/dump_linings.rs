//! Writes shell pieces with the linings and facings that lie behind them, one JSON line a shell piece, for
//! `tests/outside/lining_shapely.py`.
#![allow(
    clippy::print_stdout,
    reason = "this example writes for another program"
)]

use std::fmt::Write as _;

use body::Body;
use document::Source;
use geometry::{Affine, Point, Tolerance};
use pattern::{EdgeKind, Layer, Pattern, Piece, name};

/// Cuts whose facings cross no dart, so that both layers lie flat on each other as they are drawn.
const CUTS: [(&str, &str); 3] = [
    (
        "bodice { bust-dart \"side\"; neckline \"v\" depth=\"60 mm\" width=\"15 mm\" }; sleeve; skirt \"gathered\" length=\"700 mm\"",
        "neck width=\"55 mm\"",
    ),
    (
        "opening \"none\"; bodice { bust-dart \"waist\"; neckline \"round\" depth=\"20 mm\" width=\"20 mm\" }; skirt \"a-line\" length=\"650 mm\"",
        "neck width=\"50 mm\"; armhole width=\"45 mm\"",
    ),
    (
        "opening \"none\"; bodice { bust-dart \"waist\"; neckline \"round\" depth=\"20 mm\" width=\"20 mm\" }; skirt \"circle\" length=\"600 mm\"",
        "all-in-one width=\"50 mm\"",
    ),
];

fn main() {
    let mut text = String::new();
    for (number, tape) in body::population::draw(12, 23).enumerate() {
        let body = body::complete(&tape);
        for (cut, facing) in CUTS {
            for way in ["open", "bagged"] {
                let statements = format!(
                    "ease {{ bust \"60 mm\"; waist \"40 mm\" }}\n{cut}\nfacings {{ {facing} }}\nlining \"{way}\""
                );
                let Some(pattern) = made(&statements, &body) else {
                    continue;
                };
                rows(
                    &mut text,
                    &pattern,
                    &format!("body {number}, {way}, {}", facing.replace('"', "")),
                    way,
                );
            }
        }
    }
    print!("{text}");
}

/// Bodies that the cut does not suit are left out.
fn made(statements: &str, body: &Body) -> Option<Pattern> {
    let text = format!("garment \"Lined\" {{\n{statements}\n}}");
    let recipe = garment::recipe::read(&Source::new("dump.kdl", text.as_str())).ok()?;
    garment::make(&recipe, body).ok().map(|made| made.pattern)
}

fn rows(text: &mut String, pattern: &Pattern, what: &str, way: &str) {
    let lined = pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == Layer::Shell && name::root(&piece.name) != "sleeve");
    for shell in lined {
        let behind = |layer: Layer| {
            let lies = pattern.makeup.lies.iter();
            let own = lies.filter(|lies| lies.upon == shell.name);
            let pieces = own.filter_map(|lies| Some((pattern.piece(&lies.piece)?, lies.placed)));
            let outlines: Vec<String> = pieces
                .filter(|(piece, _)| piece.cut.layer == layer)
                .map(|(piece, placed)| outline(piece, placed))
                .collect();
            format!("[{}]", outlines.join(","))
        };
        let hems = shell.edges.iter().filter(|edge| edge.kind == EdgeKind::Hem);
        let hems: Vec<String> = hems
            .flat_map(|edge| &edge.runs)
            .map(|run| points(&run.flattened(Tolerance::DRAWING)))
            .collect();
        writeln!(
            text,
            "{{\"what\":\"{what}\",\"way\":\"{way}\",\"piece\":\"{}\",\"shell\":{},\"linings\":{},\"facings\":{},\"hems\":[{}]}}",
            shell.name,
            outline(shell, Affine::IDENTITY),
            behind(Layer::Lining),
            behind(Layer::Facing),
            hems.join(",")
        )
        .expect("text takes writing");
    }
}

fn outline(piece: &Piece, placed: Affine) -> String {
    let runs = piece.edges.iter().flat_map(|edge| &edge.runs);
    let all = runs.flat_map(|run| run.flattened(Tolerance::DRAWING));
    let placed: Vec<Point> = all.map(|point| placed * point).collect();
    points(&placed)
}

fn points(points: &[Point]) -> String {
    let points: Vec<String> = points
        .iter()
        .map(|point| format!("[{:.4},{:.4}]", point.x, point.y))
        .collect();
    format!("[{}]", points.join(","))
}
