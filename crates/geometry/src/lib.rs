//! Planar geometry for pieces of cloth: points, curves, lengths along them, offsets, crossings, areas.
//!
//! Knows no garment, file, clock or chance. Coordinates are millimetres, x to the right, y **down**, as on a cutting
//! table seen from above. Whatever is approximate takes a [`Tolerance`].

pub mod allowance;
mod corner;
pub mod crossing;
pub mod curve;
pub mod math;
mod meet;
pub mod offset;
pub mod outline;
mod parallel;
pub mod simple;
pub mod smooth;
pub mod solve;
mod unit;
mod winding;

pub use crossing::Crossing;
pub use curve::Curve;
pub use kurbo::{Affine, BezPath, CubicBez, Line, PathEl, PathSeg, Point, Rect, Vec2};
pub use smooth::Knot;
pub use unit::{Angle, Length, Tolerance};
