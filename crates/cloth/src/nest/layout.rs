//! A lay: which copy lies where, and how much cloth it takes.

use geometry::Point;

/// One copy of a piece on the cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Placement {
    /// Which item of the problem.
    pub item: usize,
    /// Which of the item's turns.
    pub turn: usize,
    /// Where the outline's origin lies, after the turn about it.
    pub place: Point,
}

/// All copies, items in their order, on a length of cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// The length of cloth.
    pub length: f64,
    /// One for each copy.
    pub placements: Vec<Placement>,
}
