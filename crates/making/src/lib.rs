//! From texts to a draft, its papers and its words: what the program and the workbench do alike.
//!
//! Knows no file, no clock, no terminal and no page: texts come from a [`Shelf`], what takes long is told to a [`Listener`].
//! Invariant: the same texts give the same draft, the same papers byte for byte, and the same words.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

pub mod answers;
pub mod cut_list;
pub mod difference;
pub mod draft;
pub mod kind;
pub mod lays;
pub mod materials;
pub mod papers;
pub mod report;
pub mod words;

pub use draft::{Draft, Shelf, Texts, Wanted, Wearer};

/// Who is told what is being done.
pub trait Listener {
    /// Says what is done from now on.
    fn step(&self, step: &'static str);
}

/// Nobody listens.
impl Listener for () {
    fn step(&self, _step: &'static str) {}
}
