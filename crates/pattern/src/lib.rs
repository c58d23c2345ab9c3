//! Pieces of cloth and the seams that join them, and the checks that they can be sewn.
//!
//! Knows no body, no recipe and no paper; does no I/O and cannot fail on a person's input: it returns a model and
//! findings. Everything is found by name.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

pub mod check;
pub mod cutting;
mod joined;
pub mod json;
pub mod makeup;
pub mod materials;
pub mod meeting;
pub mod name;
pub mod piece;
pub mod seam;
pub mod step;

pub use geometry::allowance::Corner;
pub use makeup::{
    Closing, Closure, Cloth, Fraying, HandSewn, Hem, HemFinish, Lies, Lined, LiningWay, Makeup,
    Stay, Stayed, Strip, Vent, Wearer,
};
pub use materials::Materials;
pub use name::Part;
pub use piece::{Cut, Dart, Edge, EdgeKind, InnerLine, Laid, Layer, Legs, Mark, Piece, Pressed};
pub use seam::{Fullness, Girth, Pattern, Seam, Stretch};
