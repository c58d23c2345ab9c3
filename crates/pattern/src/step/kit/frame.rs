//! The directions of a piece: down along its grain and out from its centre line.
//!
//! Corrections are said in them: a bust point goes up and out, a shoulder up, a waist down. Invariant: both have unit length
//! and are square to each other.

use document::{Finding, Place as Spot};
use geometry::curve::unit;
use geometry::{Point, Vec2};

use super::find;
use crate::piece::{Edge, EdgeKind, Piece};
use crate::seam::Pattern;

/// The directions of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Frame {
    /// Along the grain, towards the hem.
    pub down: Vec2,
    /// Across the grain, away from the centre line.
    pub out: Vec2,
}

impl Frame {
    /// The directions of a piece that is half of what is worn; without a centre line, out is to the right on the table.
    pub fn of(piece: &Piece) -> Self {
        let grain = unit(piece.grain);
        let points_down = grain.y > 1e-9 || grain.y.abs() <= 1e-9 && grain.x > 0.0;
        let down = if points_down { grain } else { -grain };
        let right = Vec2::new(down.y, -down.x);
        let away = centre(piece).map_or(1.0, |edge| {
            let edge = &piece.edges[edge];
            let middle = edge.start().midpoint(edge.end());
            (middle_of(piece) - middle).dot(right)
        });
        let out = if away < 0.0 { -right } else { right };
        Self { down, out }
    }

    /// How far a point lies below the origin, mm.
    pub fn level(&self, point: Point) -> f64 {
        point.to_vec2().dot(self.down)
    }

    /// How far a point lies out from the origin, mm.
    pub fn across(&self, point: Point) -> f64 {
        point.to_vec2().dot(self.out)
    }
}

/// Number of the edge that is the centre line: on the fold, or called so.
pub fn centre(piece: &Piece) -> Option<usize> {
    let fold = |edge: &Edge| edge.kind == EdgeKind::Fold;
    let named = |edge: &Edge| edge.answers_to("centre");
    let edges = &piece.edges;
    edges
        .iter()
        .position(fold)
        .or_else(|| edges.iter().position(named))
}

/// Mean of the corners, mm.
pub fn middle_of(piece: &Piece) -> Point {
    let count = piece.edges.len().max(1) as f64;
    let sum = piece
        .edges
        .iter()
        .fold(Vec2::ZERO, |sum, edge| sum + edge.start().to_vec2());
    (sum / count).to_point()
}

/// Number of the one edge of a piece that a name stands for; a finding that says so where there is none or it was cut.
pub fn edge(pattern: &Pattern, piece: usize, name: &str) -> Result<usize, Finding> {
    let owner = &pattern.pieces[piece];
    let named = super::super::arguments::Named::of(&owner.name, name);
    find::edge(pattern, &named).map(|(_, edge)| edge)
}

/// Names of pieces that are given, or all that have edges of some names.
pub fn pieces(
    pattern: &Pattern,
    given: &[&super::super::arguments::Named],
    with: &[&str],
) -> Result<Vec<usize>, Finding> {
    if !given.is_empty() {
        let given = given.iter();
        return given
            .map(|named| find::piece_index(pattern, &named.piece))
            .collect();
    }
    let has = |piece: &Piece, name: &&str| piece.edges_of(name).next().is_some();
    let found: Vec<usize> = (0..pattern.pieces.len())
        .filter(|&at| with.iter().all(|name| has(&pattern.pieces[at], name)))
        .collect();
    if found.is_empty() {
        return Err(Finding::error(
            "piece-not-there",
            format!("there is no piece with a {}", with.join(", a ")),
        )
        .cure("name the pieces that are meant"));
    }
    Ok(found)
}

/// A finding about an edge of a piece.
pub fn told(code: &'static str, piece: &Piece, edge: &str, what: String) -> Finding {
    Finding::error(code, what).at(Spot::Edge {
        piece: piece.name.clone(),
        edge: edge.into(),
        at: None,
    })
}
