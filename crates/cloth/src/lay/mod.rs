//! Lays of a garment: how the pieces of one cloth lie on it, with how much length that takes.
//!
//! x runs along the cloth, y across it. A lay has one section or two: folded, open, or folded in part. Knows patterns and cloths,
//! no file, no paper. Invariant: every lay that is returned was proven by [`crate::verify::garment`], which shares no code with
//! the search; a lay repeats from its seed and its number of evaluations.

mod answer;
mod kind;
mod matching;
mod outward;
mod plan;
mod run;
mod slot;

use document::Finding;
use geometry::{Affine, Point};
use pattern::{Layer, Pattern};

pub use answer::{Answer, Bounds, STRAIGHTENING, answer, bounds_of};
pub use kind::{STRIPS, strip_square};
pub use matching::{Matching, Meeting, meetings};
pub use run::{Effort, Found, Told, lays};

/// How the cloth is folded for a lay.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Way {
    /// In a single layer.
    Open,
    /// Along its middle, so that selvedge lies on selvedge; what is cut once lies on a second, open section.
    Lengthwise,
    /// Across, so that its ends lie on each other; what is cut once lies on a second, open section.
    Crosswise,
    /// Along a line near one edge, as far as pieces on the fold need; the rest lies in a single layer.
    Partly,
}

impl Way {
    /// All ways.
    pub const ALL: [Self; 4] = [Self::Open, Self::Lengthwise, Self::Crosswise, Self::Partly];

    /// The word for it in files and arguments: `open`, `length`, `cross`, `partly`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Open => "open",
            Self::Lengthwise => "length",
            Self::Crosswise => "cross",
            Self::Partly => "partly",
        }
    }

    /// What a person reads: "folded lengthwise".
    pub const fn title(self) -> &'static str {
        match self {
            Self::Open => "open, in a single layer",
            Self::Lengthwise => "folded lengthwise",
            Self::Crosswise => "folded crosswise",
            Self::Partly => "folded in part",
        }
    }
}

/// What a copy on the cloth is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// One with its edge on the fold, opened out after it is cut.
    OnFold,
    /// Left and right at once, through two layers.
    Both,
    /// One of a pair as it is drawn.
    AsDrawn,
    /// One of a pair, the mirror image of what is drawn.
    Mirrored,
    /// One that is drawn by half, laid whole.
    Whole,
    /// The only one, as it is drawn.
    Single,
}

impl Part {
    /// How many pieces of cloth come of it.
    pub const fn pieces(self) -> usize {
        match self {
            Self::Both => 2,
            _ => 1,
        }
    }

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::OnFold => "fold",
            Self::Both => "both",
            Self::AsDrawn => "as-drawn",
            Self::Mirrored => "mirrored",
            Self::Whole => "whole",
            Self::Single => "single",
        }
    }
}

/// A stretch of cloth that is laid in one way.
#[derive(Clone, Debug, PartialEq)]
pub struct Section {
    /// How it is folded; [`Way::Open`] for a single layer.
    pub way: Way,
    /// Where its x = 0 lies on the cloth, mm from the beginning.
    pub from: f64,
    /// Where its y = 0 lies across the cloth, mm from the edge.
    pub edge: f64,
    /// How long it is as it lies, mm.
    pub length: f64,
    /// How wide it is as it lies between fold and selvedge, or between selvedges, mm.
    pub width: f64,
    /// How much of the width lies double, mm.
    pub double: f64,
}

impl Section {
    /// How much of the cloth's own length it takes, mm.
    pub fn takes(&self) -> f64 {
        match self.way {
            Way::Crosswise => 2.0 * self.length,
            _ => self.length,
        }
    }
}

/// A copy of a piece on the cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Placed {
    /// The piece's name in the pattern, or [`STRIPS`].
    pub piece: String,
    /// Its name for people.
    pub title: String,
    /// Which copy of this piece, from 0.
    pub copy: usize,
    /// What it is.
    pub part: Part,
    /// In which section it lies.
    pub section: usize,
    /// How far it is turned, degrees counter-clockwise in x and y, after it was turned face down where it was.
    pub degrees: f64,
    /// Whether the paper piece lies face down.
    pub face_down: bool,
    /// Where the point lies that the search holds.
    pub place: Point,
    /// From the drawing of the piece to the section.
    pub into: Affine,
    /// The polygon that is kept free for it, in the section.
    pub ring: Vec<Point>,
}

impl Placed {
    /// Whether the lengthwise grain, as it is drawn, runs towards the beginning of the cloth.
    pub fn is_upside_down(&self) -> bool {
        let turned = (self.degrees.rem_euclid(360.0) - 180.0).abs() < 90.0;
        turned != self.face_down
    }

    /// The least and the greatest x and y of its polygon.
    pub fn bounds(&self) -> [Point; 2] {
        bounds(&self.ring)
    }
}

/// The least and the greatest x and y of a ring.
pub(crate) fn bounds(ring: &[Point]) -> [Point; 2] {
    let far = f64::INFINITY;
    let first = [Point::new(far, far), Point::new(-far, -far)];
    ring.iter().fold(first, |[low, high], point| {
        [
            Point::new(low.x.min(point.x), low.y.min(point.y)),
            Point::new(high.x.max(point.x), high.y.max(point.y)),
        ]
    })
}

/// A lay.
#[derive(Clone, Debug, PartialEq)]
pub struct Lay {
    /// How the cloth is folded.
    pub way: Way,
    /// Its sections, in the order in which they lie on the cloth.
    pub sections: Vec<Section>,
    /// Every copy.
    pub copies: Vec<Placed>,
    /// How much of the cloth's length it takes as it is laid, mm.
    pub length: f64,
}

/// What is asked of a lay.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wishes {
    /// The ways to lay that are tried; all that differ where it is empty.
    pub ways: Vec<Way>,
    /// How far the grain of a piece may run off that of the cloth, degrees; not where anything repeats, nor on a fold.
    pub grain_tolerance: f64,
    /// How stripes and plaids are matched.
    pub matching: Matching,
    /// Copies that stay where they are put.
    pub held: Vec<Held>,
    /// Names of pieces that are laid whole although they could lie on the fold.
    pub whole: Vec<String>,
}

/// A copy that stays where it was put while the others make room.
#[derive(Clone, Debug, PartialEq)]
pub struct Held {
    /// The piece's name.
    pub piece: String,
    /// Which copy of it, from 0, as [`Placed::copy`] counts.
    pub copy: usize,
    /// Where, as [`Placed::place`].
    pub place: Point,
    /// As [`Placed::degrees`].
    pub degrees: f64,
    /// As [`Placed::face_down`].
    pub face_down: bool,
}

/// The pieces of a pattern that are cut from a cloth: area of all, mm², or why they cannot be laid.
pub fn area(pattern: &Pattern, layers: &[Layer]) -> Result<f64, Vec<Finding>> {
    let kinds = kind::kinds(pattern, layers)?;
    Ok(kinds.iter().map(kind::Kind::area).sum())
}
