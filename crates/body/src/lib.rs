//! The body: measures, the reading of tapes, completion of what was not taped, and plausibility.
//!
//! Knows no garment and no pattern. Lengths are millimetres, the shoulder's slope is in degrees. Invariants: a measured
//! value is never changed; an estimate always carries its spread; what the figures rest on stands in
//! `docs/sources-body.md`.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip of the pen, never in a loop that matters"
)]

mod complete;
mod date;
pub mod figures;
pub mod measure;
mod normal;
pub mod plausible;
pub mod population;
mod read;
mod relation;
mod slip;
mod tape;

pub use complete::{Body, Estimate, Origin, complete};
pub use date::Date;
pub use measure::{About, Iso, Kind, Measure};
pub use read::read;
pub use tape::{Reading, Tape};
