//! A drawing of pieces on the page; pieces that the page knows already come as their names only.

use std::collections::BTreeMap;
use std::sync::Arc;

use document::Finding;
use geometry::Rect;
use pattern::{Pattern, Piece};
use serde::Serialize;
use serde_json::value::RawValue;

use super::drawn::{Drawn, Seams, as_box};
use super::partners::seam_of_edges;
use super::path;
use super::units::Units;
use crate::desk::{Surface, Table};

/// The hashes of the pieces that the page has.
pub(crate) type Hashes = BTreeMap<String, String>;

/// A drawing as JSON.
#[derive(Serialize)]
pub(crate) struct DrawingView {
    pub(crate) r#box: [f64; 4],
    pub(crate) pieces: Vec<Box<RawValue>>,
}

/// How a drawing is asked for.
#[derive(Clone, Copy)]
pub(crate) struct Asked<'a> {
    pub(crate) units: Units,
    pub(crate) known: &'a Hashes,
    /// Whether pieces may be laid anew; not while one of them is in somebody's hand.
    pub(crate) anew: bool,
}

/// Draws the pieces of the outside.
pub(crate) fn shell(
    pattern: &Pattern,
    surface: &mut Surface,
    asked: Asked<'_>,
) -> (DrawingView, Vec<Finding>) {
    let pieces: Vec<&Piece> = shell_pieces(pattern).collect();
    draw(pattern, &pieces, surface, asked)
}

/// The pieces that are not derived from others.
pub(crate) fn shell_pieces(pattern: &Pattern) -> impl Iterator<Item = &Piece> {
    let pieces = pattern.pieces.iter();
    pieces.filter(|piece| {
        piece.cut.layer == pattern::Layer::Shell && !pattern.makeup.is_derived(&piece.name)
    })
}

/// Draws pieces of a pattern.
pub(crate) fn draw(
    pattern: &Pattern,
    pieces: &[&Piece],
    surface: &mut Surface,
    asked: Asked<'_>,
) -> (DrawingView, Vec<Finding>) {
    let seams = seam_of_edges(pattern);
    let (drawn, findings) = drawn(pieces, &seams, surface, asked.units);
    let boxes: Vec<(&str, Rect)> = pieces
        .iter()
        .zip(&drawn)
        .map(|(piece, drawn)| (piece.name.as_str(), drawn.bounds))
        .collect();
    if asked.anew {
        surface.table = Table::laid(&boxes);
    } else {
        surface.table.make_room(&boxes);
    }
    let view = DrawingView {
        r#box: as_box(surface.table.whole()),
        pieces: pieces
            .iter()
            .zip(&drawn)
            .map(|(piece, drawn)| placed(&piece.name, drawn, &surface.table, asked.known))
            .collect(),
    };
    (view, findings)
}

/// Pieces as letters; what did not change since it was drawn last is taken from there.
fn drawn(
    pieces: &[&Piece],
    seams: &Seams,
    surface: &mut Surface,
    units: Units,
) -> (Vec<Arc<Drawn>>, Vec<Finding>) {
    let mut findings = Vec::new();
    let mut one = |piece: &Piece| {
        let known = surface.drawn.get(&piece.name);
        if let Some(known) = known
            && known.still(piece, seams, units)
        {
            return Arc::clone(known);
        }
        let (drawn, finding) = Drawn::of(piece, seams, units);
        findings.extend(finding);
        Arc::new(drawn)
    };
    let drawn: Vec<Arc<Drawn>> = pieces.iter().map(|piece| one(piece)).collect();
    surface.drawn = pieces
        .iter()
        .zip(&drawn)
        .map(|(piece, drawn)| (piece.name.clone(), Arc::clone(drawn)))
        .collect();
    (drawn, findings)
}

fn placed(name: &str, drawn: &Drawn, table: &Table, known: &Hashes) -> Box<RawValue> {
    let at = table.at(name);
    let same = known.get(name).is_some_and(|hash| *hash == drawn.hash);
    let rest = if same {
        "\"same\":true"
    } else {
        drawn.letters.as_str()
    };
    piece_json(name, at.to_point(), &drawn.hash, rest)
}

/// A piece from its parts.
pub(crate) fn piece_json(name: &str, at: geometry::Point, hash: &str, rest: &str) -> Box<RawValue> {
    let name = serde_json::to_string(name).expect("a text can be written as JSON");
    let [x, y] = path::point(at);
    let json = format!("{{\"name\":{name},\"hash\":\"{hash}\",\"at\":[{x},{y}],{rest}}}");
    RawValue::from_string(json).expect("it is put together from JSON")
}
