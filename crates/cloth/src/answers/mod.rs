//! What would save cloth, and whether a lay fits a length: answers that are lays, each proven as any other.
//!
//! A [`Change`] is one thing that could be done otherwise: the cloth folded in another way, a piece off the fold, the grain a
//! little off, a seam in the middle of a piece, a facing in two parts. [`savings`] lays the garment with and without each and
//! tells what can be measured; [`within`] looks for any lay that is short enough. Knows patterns and cloths, no recipe.
//! Invariant: what is told was proven by lays with the same effort, and is more than chance makes of it.

mod change;
mod savings;
mod within;

pub use change::{Change, Changed, OFF_GRAIN, candidates};
pub use savings::{LEAST, Measured, Saving, Savings, Subject, Trials, savings};
pub use within::{Within, within};
