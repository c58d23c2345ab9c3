//! How seams walk over edges: their sides edge by edge, and with other names after a piece was mirrored, folded or cut.
//!
//! Knows no shapes. Invariant: a side that is written out walks the same edges in the same order and direction.

use crate::name::answers_to;
use crate::piece::Piece;
use crate::seam::{Pattern, Seam, Stretch};

/// A side with every edge by its own name and that of its piece.
pub fn written_out(pattern: &Pattern, side: &[Stretch]) -> Vec<Stretch> {
    let each = side.iter().flat_map(|stretch| {
        let edges = pattern.edges_of(stretch).into_iter();
        edges.map(|(piece, edge)| Stretch {
            piece: piece.name.clone(),
            edge: edge.name.clone(),
            backwards: stretch.backwards,
        })
    });
    each.collect()
}

/// Whether a seam walks over an edge of a piece.
pub fn walks_on(seam: &Seam, piece: &Piece) -> bool {
    let mut all = seam.held.iter().chain(&seam.worked);
    all.any(|stretch| answers_to(&piece.name, &stretch.piece))
}

/// Whether a piece and one of its edges are in some seam.
pub fn is_sewn(pattern: &Pattern, piece: &str, edge: &str) -> bool {
    pattern.seams.iter().any(|seam| {
        let sides = [&seam.held, &seam.worked];
        let mut all = sides
            .into_iter()
            .flat_map(|side| written_out(pattern, side));
        all.any(|stretch| stretch.piece == piece && stretch.edge == edge)
    })
}

/// A stretch walked the other way.
pub fn turned(stretch: Stretch) -> Stretch {
    Stretch {
        backwards: !stretch.backwards,
        ..stretch
    }
}

/// The same side walked from its other end.
pub fn back(side: &[Stretch]) -> Vec<Stretch> {
    side.iter().rev().cloned().map(turned).collect()
}

/// Seams that walk the same sides are one: the first of them stays.
pub fn once(seams: Vec<Seam>) -> Vec<Seam> {
    let mut kept: Vec<Seam> = Vec::new();
    for seam in seams {
        let same = |other: &Seam| other.held == seam.held && other.worked == seam.worked;
        if !kept.iter().any(same) {
            kept.push(seam);
        }
    }
    kept
}
