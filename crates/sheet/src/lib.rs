//! The laid-out drawing, in millimetres, and its exporters: PDF, SVG, PNG.
//!
//! Knows nothing of garments: a [`Drawing`] is a list of [`Panel`]s, each with paths and words on named [`Layer`]s.
//! [`lay_out`] puts the panels on paper; the exporters write what it laid out.
//!
//! Invariants: everything is true size; x to the right, y **down**, millimetres; the scale of a file format is applied
//! in one line of its exporter. Same drawing, same bytes. A drawing that cannot be printed is a [`Fault`], never a panic.

mod drawing;
mod fault;
mod font;
mod layer;
mod marks;
mod paper;

pub use drawing::{Anchor, Colour, Drawing, Item, Line, Panel, Shape, Turns, Words};
pub use fault::Fault;
pub use font::{Weight, text_width, wrap};
pub use layer::Layer;
pub use marks::{arrow, circle, fold_mark, text_block};
pub use paper::{Paper, PaperSize};
