//! Layers laid over each other: each piece of the outside with everything that lies behind it, where it is sewn.

use geometry::{Affine, BezPath, Rect};
use pattern::{Pattern, Piece};
use serde_json::value::RawValue;

use super::drawing::{DrawingView, piece_json};
use super::drawn::{Shape, as_box, hash, letters};
use super::path;
use crate::desk::Table;

/// How deep layers may lie on layers: interfacing on a facing on a lining on the shell.
const DEEPEST: usize = 4;

/// The layers of a piece on the page.
pub(crate) const LAYERS: [(&str, &str); 5] = [
    ("shell", "Shell"),
    ("lining", "Lining"),
    ("facing", "Facings"),
    ("interfacing", "Interfacing"),
    ("pocket", "Pockets"),
];

/// On which layer of the page a piece lies.
pub(crate) fn layer(piece: &Piece) -> &'static str {
    match drawing::layer_of(piece) {
        sheet::Layer::Interfacing => "interfacing",
        sheet::Layer::Lining => "lining",
        sheet::Layer::HemFacing | sheet::Layer::Facing => "facing",
        sheet::Layer::Pocket => "pocket",
        _ => "shell",
    }
}

/// Draws the pieces of the outside behind which something lies.
pub(crate) fn over(pattern: &Pattern) -> DrawingView {
    let groups: Vec<(&Piece, Vec<(&Piece, Affine)>)> = pattern
        .pieces
        .iter()
        .filter(|piece| !pattern.makeup.is_derived(&piece.name))
        .map(|piece| (piece, behind(pattern, piece)))
        .filter(|(_, behind)| !behind.is_empty())
        .collect();
    let drawn: Vec<(&Piece, Rect, String)> = groups
        .iter()
        .map(|(piece, behind)| {
            let (bounds, letters) = drawn(piece, behind);
            (*piece, bounds, letters)
        })
        .collect();
    let boxes: Vec<(&str, Rect)> = drawn
        .iter()
        .map(|(piece, bounds, _)| (piece.name.as_str(), *bounds))
        .collect();
    let table = Table::laid(&boxes);
    let pieces: Vec<Box<RawValue>> = drawn
        .iter()
        .map(|(piece, _, letters)| {
            let at = table.at(&piece.name).to_point();
            piece_json(&piece.name, at, &hash(letters), letters)
        })
        .collect();
    DrawingView {
        r#box: as_box(table.whole()),
        pieces,
    }
}

/// Everything that lies on a piece, or on what lies on it, with the way to where it lies.
fn behind<'a>(pattern: &'a Pattern, piece: &Piece) -> Vec<(&'a Piece, Affine)> {
    let mut found = Vec::new();
    add(pattern, &piece.name, Affine::IDENTITY, DEEPEST, &mut found);
    found.sort_by_key(|(piece, _)| drawing::layer_of(piece));
    found
}

fn add<'a>(
    pattern: &'a Pattern,
    upon: &str,
    placed: Affine,
    depth: usize,
    found: &mut Vec<(&'a Piece, Affine)>,
) {
    for lies in pattern.makeup.lies.iter().filter(|lies| lies.upon == upon) {
        let Some(piece) = pattern.piece(&lies.piece) else {
            continue;
        };
        if depth == 0 || found.iter().any(|(known, _)| known.name == piece.name) {
            continue;
        }
        let placed = placed * lies.placed;
        found.push((piece, placed));
        add(pattern, &piece.name, placed, depth - 1, found);
    }
}

fn drawn(piece: &Piece, behind: &[(&Piece, Affine)]) -> (Rect, String) {
    let own = (piece, Affine::IDENTITY);
    let mut shapes = Vec::new();
    let mut bounds: Option<Rect> = None;
    for (one, placed) in std::iter::once(&own).chain(behind) {
        let mut outline: BezPath = one.outline_path();
        outline.apply_affine(*placed);
        let here = outline.control_box();
        bounds = Some(bounds.map_or(here, |all| all.union(here)));
        let layer = layer(one);
        let kind = if layer == "shell" { "outline" } else { layer };
        let mut shape = Shape::path(one.name.clone(), kind, path::letters(&outline));
        shape.layer = Some(layer);
        shapes.push(shape);
    }
    let names: Vec<String> = behind
        .iter()
        .map(|(piece, _)| making::words::spoken(&piece.name))
        .collect();
    let words = format!(
        "{}, behind it {}",
        piece.title(),
        making::words::listed(&names)
    );
    let bounds = bounds.unwrap_or(Rect::ZERO);
    (bounds, letters(&piece.title(), bounds, &words, &shapes))
}
