//! The laid-out drawing, in millimetres, and its exporters: PDF, SVG, PNG.
//!
//! Knows nothing of garments: a [`Drawing`] is a list of [`Panel`]s, each with paths and words on named [`Layer`]s.
//! [`lay_out`] puts the panels on paper; the exporters write what it laid out.
//!
//! Invariants: everything is true size; x to the right, y **down**, millimetres; the scale of a file format is applied
//! in one line of its exporter. Same drawing, same bytes. A drawing that cannot be printed is a [`Fault`], never a panic.

mod check;
mod cover;
mod drawing;
mod fault;
mod flow;
mod font;
mod ink;
mod join;
mod layer;
mod layout;
mod map;
mod marks;
mod pack;
mod paper;
mod pdf;
mod plate;
mod png;
mod search;
mod squares;
mod svg;
mod tiles;
mod whole;

pub use drawing::{Anchor, Colour, Drawing, Item, Line, List, Panel, Shape, Turns, Words};
pub use fault::Fault;
pub use font::{Weight, text_width, wrap};
pub use layer::Layer;
pub use layout::{Group, Layout, Page, lay_out};
pub use marks::{arrow, circle, fold_mark, text_block};
pub use paper::{Paper, PaperSize};
pub use pdf::pdf;
pub use png::{page_png, png};
pub use svg::{page_svg, svg};
