//! Garments: blocks drafted from a body, and the recipe that styles them.
//!
//! Does no I/O and cannot fail on a person's input: it returns a pattern or findings. Same recipe and same body give the
//! same pattern on every machine.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

pub mod assemble;
pub mod block;
mod part;
pub mod recipe;

pub use assemble::{Deed, Garment, Replay, Replayed, do_step, make};
pub use recipe::Recipe;
