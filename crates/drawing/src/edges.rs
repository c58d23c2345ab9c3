//! Names of the edges, written small into their allowances: "side · 15 mm".
//!
//! They come last and only where there is room. Invariant: a name lies between its cutting line and its seam line.

use pattern::{Edge, Piece};
use sheet::{Colour, Item};

use crate::ground::{Ground, inward, reading};
use crate::lettering::{LEAST_MM, Note, height};
use crate::outline::on_fold;
use crate::words::{length, spoken};

/// Largest names, mm.
const LARGEST_MM: f64 = 4.0;
/// Where along an edge a name is tried.
const SHARES: [f64; 9] = [0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82];

/// Writes the names of all edges that have room.
pub(crate) fn items(piece: &Piece, ground: &mut Ground) -> Vec<Item> {
    let edges = piece.edges.iter().filter(|edge| !on_fold(edge));
    edges.filter_map(|edge| name(edge, ground)).collect()
}

fn name(edge: &Edge, ground: &mut Ground) -> Option<Item> {
    let size_mm = (edge.allowance * 0.3).clamp(LEAST_MM, LARGEST_MM);
    if height(size_mm) + 2.0 > edge.allowance {
        return None;
    }
    let text = format!("{} · {}", spoken(&edge.name), length(edge.allowance));
    let note = Note {
        text: &text,
        size_mm,
    };
    let whole = edge.length();
    let places = SHARES.map(|share| {
        let (place, way) = edge.place_at(whole * share);
        (place - inward(way) * (edge.allowance / 2.0), reading(way))
    });
    let words = note.at_first(ground, places)?;
    Some(Item::text(words.coloured(Colour::QUIET)))
}
