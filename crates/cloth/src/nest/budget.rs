//! How long a search may go on, what it says meanwhile, and whether to go on.

use std::time::Instant;

use super::layout::Layout;

/// When a search ends: at whichever limit comes first. At least one should be given; without either, the search goes on
/// until it is told to stop.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Budget {
    /// How many places are tried. The same seed and number give the same lay on every machine.
    pub evaluations: Option<u64>,
    /// A moment by which to end. What is found then depends on the machine.
    pub deadline: Option<Instant>,
}

impl Budget {
    /// A number of evaluations.
    pub fn evaluations(evaluations: u64) -> Self {
        Self {
            evaluations: Some(evaluations),
            deadline: None,
        }
    }

    /// A moment.
    pub fn until(deadline: Instant) -> Self {
        Self {
            evaluations: None,
            deadline: Some(deadline),
        }
    }
}

/// How far a search is.
#[derive(Clone, Copy, Debug)]
pub struct Progress<'a> {
    /// How many places were tried so far.
    pub evaluations: u64,
    /// The share of the cloth that pieces cover in the best lay, 0 to 1.
    pub density: f64,
    /// The best lay so far.
    pub layout: &'a Layout,
}

/// Whether to go on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Continue {
    /// Go on.
    Yes,
    /// Return the best lay so far.
    No,
}
