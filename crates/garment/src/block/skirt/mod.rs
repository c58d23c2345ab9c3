//! The skirt: straight from the hip, flared to a sweep, or gathered from straight widths.
//!
//! x runs out from the centre line, y down from the waist at the centre. Each piece is the half that lies to the right of its
//! centre line on the table.

mod fitted;
mod gathered;

use document::Finding;
use pattern::Piece;

use super::person::Person;

/// How a skirt is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SkirtCut {
    /// Fitted to the hip, straight below.
    Straight,
    /// Fitted at the waist, flared to a hem of so many mm all round.
    Flared {
        /// Length of the hem all round, mm.
        sweep: f64,
    },
    /// Straight widths gathered onto the waist.
    Gathered {
        /// Width over the length of the waist.
        fullness: f64,
    },
}

/// What is asked of a skirt, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct SkirtWish {
    /// How it is cut.
    pub cut: SkirtCut,
    /// Ease at the waist, over the whole girth.
    pub waist_ease: f64,
    /// Ease at the hip, over the whole girth.
    pub hip_ease: f64,
    /// Length at the centre, from the waist to the hem.
    pub length: f64,
    /// Whether there is a seam at CB or a fold.
    pub back_seam: bool,
}

/// Where the first dart of a bodice meets the waist: lengths from the centre line along the closed waist, mm, front and back.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DartsToMeet {
    /// In front.
    pub front: Option<f64>,
    /// Behind.
    pub back: Option<f64>,
}

/// A drafted skirt.
#[derive(Clone, Debug)]
pub struct Skirt {
    /// Half of the front.
    pub front: Piece,
    /// Half of the back.
    pub back: Piece,
}

/// Drafts a skirt, its darts where those of the bodice meet the waist.
pub fn draft(person: &Person<'_>, wish: &SkirtWish, darts: DartsToMeet) -> Result<Skirt, Finding> {
    match wish.cut {
        SkirtCut::Straight => fitted::straight(person, wish, darts),
        SkirtCut::Flared { sweep } => fitted::flared(person, wish, darts, sweep),
        SkirtCut::Gathered { fullness } => gathered::draft(person, wish, fullness),
    }
}
