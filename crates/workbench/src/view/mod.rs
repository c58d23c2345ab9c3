//! What the page is shown: JSON of finished words and paths in millimetres; nothing is left for it to work out.
//!
//! Knows drafts and drawings; stores nothing.

pub(crate) mod body;
pub(crate) mod drawing;
pub(crate) mod drawn;
pub(crate) mod finding;
pub(crate) mod garment;
pub(crate) mod label;
pub(crate) mod lay;
pub(crate) mod numbers;
pub(crate) mod over;
pub(crate) mod partners;
pub(crate) mod path;
pub(crate) mod steps;
pub(crate) mod units;
pub(crate) mod walk;
