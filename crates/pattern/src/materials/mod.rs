//! What a pattern takes: cloth by its kind, bias strips, tapes, what closes it, thread.
//!
//! Knows pieces, seams and what they are made up with; no lay, no price, no words for a person. Invariant: everything is
//! counted for the whole garment: left and right, and as many as are cut.

mod cloth;
mod fastening;
pub mod figures;
mod sewn;
mod strip;
mod tape;
mod thread;

use crate::piece::{Laid, Piece};
use crate::seam::Pattern;

pub use cloth::ClothNeed;
pub use fastening::Fastening;
pub use strip::Strip;
pub use tape::{TapeNeed, TapePiece};
pub use thread::{Stitching, Thread, ThreadRow};

/// What a garment takes.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Materials {
    /// Cloths, each once, in the order of the layers that are cut from them.
    pub cloths: Vec<ClothNeed>,
    /// Bias strips for edges that are finished on their own.
    pub strips: Vec<Strip>,
    /// Tapes that are caught in seams, by width.
    pub tapes: Vec<TapeNeed>,
    /// Zips, buttons, hooks.
    pub fastenings: Vec<Fastening>,
    /// Thread.
    pub thread: Thread,
}

impl Materials {
    /// What a pattern takes.
    pub fn of(pattern: &Pattern) -> Self {
        let strips = strip::strips(pattern);
        Self {
            cloths: cloth::cloths(pattern, &strips),
            tapes: tape::tapes(pattern),
            fastenings: fastening::fastenings(pattern),
            thread: thread::thread(pattern),
            strips,
        }
    }
}

/// How often the drawing of a piece is there in cloth, left and right counted apart.
pub(crate) fn copies(piece: &Piece) -> f64 {
    let count = f64::from(piece.cut.count);
    match piece.cut.laid {
        Laid::OnFold(_) => 2.0 * count,
        Laid::Pair | Laid::Single => count,
    }
}

#[cfg(test)]
mod tests;
