//! Whether there is a lay that is short enough: the search ends with the first one.
//!
//! Invariant: what is returned is proven and no longer than was asked; "none" says only that none was found with this effort,
//! or that a bound forbids it.

use document::Finding;
use pattern::{Layer, Pattern};

use crate::goods::Cloth;
use crate::lay::{Effort, Found, Lay, Told, Way, Wishes, bounds_of, lays};
use crate::nest::Continue;

/// What came of looking for a lay that is short enough.
#[derive(Clone, Debug, PartialEq)]
pub enum Within {
    /// This one is.
    Lay(Box<Lay>),
    /// None was found; the shortest that was, if any.
    NotFound(Option<Box<Lay>>),
    /// No lay of any way that may be tried can be so short: the least bound, mm.
    Impossible(f64),
    /// It was stopped before anything short enough was found.
    Stopped,
}

impl Within {
    /// The lay, where one is short enough.
    pub fn lay(self) -> Option<Lay> {
        match self {
            Self::Lay(lay) => Some(*lay),
            _ => None,
        }
    }
}

/// Looks for a lay of at most this length, mm, as it is laid.
pub fn within(
    pattern: &Pattern,
    layers: &[Layer],
    cloth: &Cloth,
    wishes: &Wishes,
    (length, effort): (f64, &Effort),
    start: &[Lay],
    progress: &mut dyn FnMut(Told<'_>) -> Continue,
) -> Result<Within, Vec<Finding>> {
    let ways: &[Way] = if wishes.ways.is_empty() {
        &Way::ALL
    } else {
        &wishes.ways
    };
    let mut least = f64::INFINITY;
    let mut possible = Vec::new();
    for &way in ways {
        let bound = bounds_of(pattern, layers, cloth, wishes, way)?.least();
        least = least.min(bound);
        if bound <= length {
            possible.push(way);
        }
    }
    if possible.is_empty() {
        return Ok(Within::Impossible(least));
    }
    let wishes = Wishes {
        ways: possible,
        ..wishes.clone()
    };
    let (mut stopped, mut reached) = (false, false);
    let mut hear = |told: Told<'_>| {
        if told.found.is_some_and(|lay| lay.length <= length) {
            reached = true;
            return Continue::No;
        }
        let answer = progress(told);
        stopped = answer == Continue::No;
        answer
    };
    let Found { lays, .. } = lays(pattern, layers, cloth, &wishes, effort, start, &mut hear)?;
    Ok(match lays.into_iter().next() {
        Some(lay) if lay.length <= length => Within::Lay(Box::new(lay)),
        _ if stopped && !reached => Within::Stopped,
        shortest => Within::NotFound(shortest.map(Box::new)),
    })
}
