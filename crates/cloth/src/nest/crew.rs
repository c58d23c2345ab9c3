//! Workers side by side, each on a thread of its own, that hear from each other between stretches of work.
//!
//! A worker always has the order for its next stretch at hand, made from what was reported of the stretch before, so that
//! it seldom waits for the others. Invariant: what a worker hears, and when, depends on numbers of evaluations and never on
//! the clock, so that what they find repeats.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::Scope;

use super::worker::{Legal, Worker};

/// How many stretches are ordered before the first is reported.
pub(super) const AHEAD: usize = 2;

/// What a worker is to do next.
#[derive(Clone, Debug)]
pub(super) struct Order {
    /// How many evaluations.
    pub(super) evaluations: u64,
    /// The best lay that is known.
    pub(super) news: Option<Legal>,
    /// Whether only small steps are to be taken.
    pub(super) closing: bool,
}

/// What a worker has done.
#[derive(Clone, Debug)]
pub(super) struct Report {
    /// Evaluations since it began.
    pub(super) spent: u64,
    /// Its best lay, if it found one.
    pub(super) best: Option<Legal>,
}

/// The workers at work.
pub(super) struct Crew {
    lines: Vec<(Sender<Order>, Receiver<Report>)>,
}

impl Crew {
    /// Lets workers wait for orders until the crew is dropped; `stop` cuts short what they do.
    pub(super) fn start<'scope, 'env>(
        scope: &'scope Scope<'scope, 'env>,
        workers: Vec<Worker<'env>>,
        stop: &'env (dyn Fn() -> bool + Sync),
    ) -> Self {
        let lines = workers.into_iter().map(|mut worker| {
            let (order, orders) = channel::<Order>();
            let (report, reports) = channel();
            scope.spawn(move || {
                for order in orders {
                    worker.hear(order.news.as_ref(), order.closing);
                    worker.advance(order.evaluations, stop);
                    let done = Report {
                        spent: worker.state.evaluations,
                        best: worker.is_found.then(|| worker.best.clone()),
                    };
                    if report.send(done).is_err() {
                        return;
                    }
                }
            });
            (order, reports)
        });
        Self {
            lines: lines.collect(),
        }
    }

    /// Gives an order to all. To the worker that found the best lay the news is none.
    pub(super) fn order(&self, order: &Order) {
        for (line, _) in &self.lines {
            // A worker that is gone has panicked, and the scope will say so.
            let _ = line.send(order.clone());
        }
    }

    /// The reports of the oldest order that was not reported yet; nothing where a worker has panicked.
    pub(super) fn reports(&self) -> Option<Vec<Report>> {
        self.lines
            .iter()
            .map(|(_, reports)| reports.recv().ok())
            .collect()
    }
}

/// A word to all that the search is over.
#[derive(Debug, Default)]
pub(super) struct Whistle(AtomicBool);

impl Whistle {
    /// Ends the search.
    pub(super) fn blow(&self) {
        self.0.store(true, Ordering::Relaxed);
    }

    /// Whether it is over.
    pub(super) fn is_blown(&self) -> bool {
        self.0.load(Ordering::Relaxed)
    }
}
