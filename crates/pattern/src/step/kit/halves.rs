//! The upper corner of half a bodice: shoulder, armhole and side after each other, clockwise.
//!
//! Corrections of the shoulder lean on that order. Invariant: what is found follows each other on the outline.

use document::{Finding, Place as Spot};

use super::frame;
use super::notches;
use crate::piece::Piece;
use crate::seam::Pattern;

/// Numbers of the edges round the shoulder of half a bodice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Shoulder {
    /// The edge before the shoulder: the neckline.
    pub neckline: usize,
    /// The shoulder.
    pub shoulder: usize,
    /// The armhole.
    pub armhole: usize,
    /// The side.
    pub side: usize,
}

impl Shoulder {
    /// Finds them on a piece.
    pub fn of(pattern: &Pattern, piece: usize) -> Result<Self, Finding> {
        let owner = &pattern.pieces[piece];
        let count = owner.edges.len();
        let [shoulder, armhole] =
            ["shoulder", "armhole"].map(|name| frame::edge(pattern, piece, name));
        let (shoulder, armhole) = (shoulder?, armhole?);
        let side = (armhole + 1) % count;
        if (shoulder + 1) % count != armhole || !owner.edges[side].answers_to("side") {
            return Err(not_a_half(owner));
        }
        Ok(Self {
            neckline: (shoulder + count - 1) % count,
            shoulder,
            armhole,
            side,
        })
    }
}

/// Prolongs the start of an edge straight by so much, or cuts it back (negative); `None` where its first run is too short.
/// The corner before it is left apart.
pub fn prolong_start(piece: &mut Piece, edge: usize, by: f64) -> Option<()> {
    let run = piece.edges[edge].runs[0].clone();
    let drawn = if by >= 0.0 {
        let (start, way) = (run.start(), run.start_direction());
        let ahead = geometry::Curve::line(start - way * by, start);
        if by < 1e-9 {
            run
        } else {
            super::fill::joined(&ahead, &run)
        }
    } else {
        run.split_at(-by)?.1
    };
    piece.edges[edge].runs[0] = drawn;
    let name = piece.edges[edge].name.clone();
    notches::change(piece, &name, |along| (along + by).max(0.0));
    Some(())
}

fn not_a_half(piece: &Piece) -> Finding {
    Finding::error(
        "piece-not-half-bodice",
        format!(
            "the {} is not half of a bodice with shoulder, armhole and side after each other",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("correct the shoulder before the piece is cut or mirrored")
}
