//! How much cloth the pieces are, before any lay.

use geometry::curve::enclosed_area;

use super::{Strip, copies};
use crate::piece::{Layer, Piece};
use crate::seam::Pattern;

/// A cloth and what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct ClothNeed {
    /// What its owner calls it; the word of the layer where nothing is known of it.
    pub name: String,
    /// The layers that are cut from it.
    pub layers: Vec<Layer>,
    /// Usable width between the selvedges, mm.
    pub width: Option<f64>,
    /// How many pieces are cut.
    pub pieces: u32,
    /// Area of these pieces with their allowances, mm².
    pub area: f64,
    /// Area of the bias strips, mm².
    pub strips: f64,
    /// What pieces and strips weigh, g.
    pub weight: Option<f64>,
}

impl ClothNeed {
    /// Length of cloth of the same area as pieces and strips, mm; every lay needs more.
    pub fn least_length(&self) -> Option<f64> {
        self.width.map(|width| (self.area + self.strips) / width)
    }
}

/// The cloths in the order of the layers; layers of one name and width share one.
pub(super) fn cloths(pattern: &Pattern, strips: &[Strip]) -> Vec<ClothNeed> {
    let mut needs: Vec<ClothNeed> = Vec::new();
    for layer in Layer::ALL {
        let pieces = pattern
            .pieces
            .iter()
            .filter(|piece| piece.cut.layer == layer);
        let pieces: Vec<&Piece> = pieces.collect();
        // Strips are cut from the cloth that they are seen beside.
        let of_strips: f64 = match layer {
            Layer::Shell => strips.iter().map(Strip::area).sum(),
            _ => 0.0,
        };
        if pieces.is_empty() && of_strips == 0.0 {
            continue;
        }
        let one = need(pattern, layer, &pieces, of_strips);
        match needs
            .iter_mut()
            .find(|known| known.name == one.name && known.width == one.width)
        {
            Some(known) => known.add(one),
            None => needs.push(one),
        }
    }
    needs
}

fn need(pattern: &Pattern, layer: Layer, pieces: &[&Piece], strips: f64) -> ClothNeed {
    let cloth = pattern.makeup.cloth(layer);
    let area = pieces.iter().map(|piece| area(piece)).sum();
    ClothNeed {
        name: cloth.map_or_else(|| layer.word().to_owned(), |cloth| cloth.name.clone()),
        layers: vec![layer],
        width: cloth.map(|cloth| cloth.width),
        pieces: pieces.iter().map(|piece| piece.cut.count).sum(),
        area,
        strips,
        // A square metre is a million square millimetres.
        weight: cloth.map(|cloth| cloth.weight * (area + strips) / 1e6),
    }
}

impl ClothNeed {
    fn add(&mut self, other: Self) {
        self.layers.extend(other.layers);
        self.pieces += other.pieces;
        self.area += other.area;
        self.strips += other.strips;
        self.weight = self
            .weight
            .zip(other.weight)
            .map(|(one, other)| one + other);
    }
}

/// Area of all that is cut after a piece, mm². Where the allowances leave no cutting line, which is an error of its own, the
/// area inside the seam line.
fn area(piece: &Piece) -> f64 {
    let drawn = piece
        .cutting_outline()
        .map_or_else(|_| piece.area(), |outline| enclosed_area(outline.curves()));
    drawn * copies(piece)
}
