//! Tapes that keep edges from stretching, piece by piece and in all.

use crate::makeup::{Stay, Stayed};
use crate::piece::{EdgeKind, Laid, Piece};
use crate::seam::Pattern;

/// All tape of one width.
#[derive(Clone, Debug, PartialEq)]
pub struct TapeNeed {
    /// Width, mm.
    pub width: f64,
    /// The pieces that it is cut into.
    pub pieces: Vec<TapePiece>,
}

impl TapeNeed {
    /// Length of all of it, mm.
    pub fn length(&self) -> f64 {
        let lengths = self.pieces.iter();
        lengths.map(|one| one.length * f64::from(one.count)).sum()
    }
}

/// A piece of tape for an edge.
#[derive(Clone, Debug, PartialEq)]
pub struct TapePiece {
    /// The piece of the pattern.
    pub piece: String,
    /// Its edge or inner line.
    pub along: String,
    /// How many are cut.
    pub count: u32,
    /// Length of one, mm.
    pub length: f64,
    /// Why the edge needs it.
    pub why: String,
}

/// Tapes by width, the narrowest first.
pub(super) fn tapes(pattern: &Pattern) -> Vec<TapeNeed> {
    let mut tapes: Vec<TapeNeed> = Vec::new();
    for stayed in &pattern.makeup.stayed {
        let Stay::Tape(width) = stayed.stay else {
            continue;
        };
        let piece = cut(pattern.piece(&stayed.piece), stayed);
        match tapes.iter_mut().find(|known| known.width == width) {
            Some(known) => known.pieces.push(piece),
            None => tapes.push(TapeNeed {
                width,
                pieces: vec![piece],
            }),
        }
    }
    tapes.sort_by(|a, b| a.width.total_cmp(&b.width));
    tapes
}

/// One for each side of the body; one over both where the edge lies across the fold.
fn cut(piece: Option<&Piece>, stayed: &Stayed) -> TapePiece {
    let (count, times) = match piece.map(|piece| (piece, &piece.cut.laid)) {
        Some((piece, Laid::OnFold(_))) if meets_fold(piece, &stayed.along) => (1, 2.0),
        Some((_, Laid::OnFold(_) | Laid::Pair)) => (2, 1.0),
        Some((_, Laid::Single)) | None => (1, 1.0),
    };
    TapePiece {
        piece: stayed.piece.clone(),
        along: stayed.along.clone(),
        count,
        length: stayed.length * times,
        why: stayed.why.clone(),
    }
}

fn meets_fold(piece: &Piece, along: &str) -> bool {
    let Some(index) = piece.edge_index(along) else {
        return false;
    };
    let count = piece.edges.len();
    let beside = [(index + 1) % count, (index + count - 1) % count];
    beside
        .iter()
        .any(|&one| piece.edges[one].kind == EdgeKind::Fold)
}
