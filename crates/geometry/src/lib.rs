//! Planar geometry for pieces of cloth: points, curves, lengths along them, offsets, crossings, areas.
//!
//! Knows no garment, file, clock or chance. Coordinates are millimetres, x to the right, y **down**, as on a cutting
//! table seen from above. Whatever is approximate takes a [`Tolerance`].

pub mod math;
mod unit;

pub use kurbo::{Affine, BezPath, CubicBez, Line, PathSeg, Point, Rect, Vec2};
pub use unit::{Angle, Length, Tolerance};
