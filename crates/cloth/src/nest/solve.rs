//! The whole search: two workers side by side that tell each other what they found, and a proof of the result.
//!
//! Workers hear of each other after a number of evaluations each (`crew`), never by the clock, so that what they find
//! repeats. Invariant: what is returned passed [`verify`], where anything did.

use std::time::Instant;

use geometry::Point;

use super::budget::{Budget, Continue, Progress};
use super::chance::Chance;
use super::crew::{AHEAD, Crew, Order, Whistle};
use super::layout::{Layout, Placement};
use super::problem::Problem;
use super::push::{self, push_back};
use super::start;
use super::state::{Pose, State};
use super::table::{Kind, Table};
use super::worker::{Legal, Worker};
use crate::verify::{tolerance, verify};

/// How many search side by side. Fixed, so that the number of cores changes the time and nothing else.
const WORKERS: u64 = 2;
/// How many evaluations each does between one order and the next.
const ROUND: u64 = 100_000;
/// The share of the budget after which only small steps are taken.
const CLOSING: f64 = 0.8;

/// Searches for the shortest lay.
///
/// `start` is a lay to begin with, such as the one before an edit: where it is legal the result is never longer; where it
/// is not, its conflicts are removed first. `progress` is told of the best lay after every round.
///
/// Without rooms that end along the cloth there is always a lay, and what is returned is proven. With such rooms, what is
/// returned may be in conflict where nothing better was found: ask [`verify`].
pub fn solve(
    problem: &Problem,
    budget: &Budget,
    seed: u64,
    progress: &mut dyn FnMut(Progress<'_>) -> Continue,
    start: Option<&Layout>,
) -> Layout {
    let table = Table::new(problem);
    let items: Vec<usize> = problem
        .items()
        .iter()
        .enumerate()
        .flat_map(|(item, piece)| vec![item; piece.demand])
        .collect();
    let search = Search {
        problem,
        table: &table,
        items: &items,
        budget,
        began: Instant::now(),
        whistle: Whistle::default(),
    };
    search.run(seed, progress, start)
}

struct Search<'a> {
    problem: &'a Problem,
    table: &'a Table,
    items: &'a [usize],
    budget: &'a Budget,
    began: Instant,
    whistle: Whistle,
}

impl<'a> Search<'a> {
    fn run(
        &self,
        seed: u64,
        progress: &mut dyn FnMut(Progress<'_>) -> Continue,
        start: Option<&Layout>,
    ) -> Layout {
        let first = start::bottom_left(self.table, self.items);
        let is_free = self.is_free(&first);
        let mut found = vec![self.layout(&first)];
        let guide = start.and_then(|layout| self.poses(layout));
        if let Some(given) = start
            && verify(self.problem, given, tolerance(self.problem)).is_ok()
            && (given.length < first.length || !is_free)
        {
            found.push(given.clone());
        }
        let is_any_free = is_free || found.len() > 1;
        let workers = (0..WORKERS)
            .map(|branch| self.worker((&first, is_free), guide.as_ref(), Chance::new(seed, branch)))
            .collect();
        let stop = || self.whistle.is_blown() || self.is_late();
        std::thread::scope(|scope| {
            let crew = Crew::start(scope, workers, &stop);
            self.lead(&crew, (&mut found, is_any_free), progress);
            self.whistle.blow();
        });
        self.finish(found)
    }

    /// Gives orders and collects the best lays until the budget is spent or the search is called off; `is_free` tells whether
    /// what is found so far is without conflict.
    fn lead(
        &self,
        crew: &Crew,
        (found, mut is_free): (&mut Vec<Layout>, bool),
        progress: &mut dyn FnMut(Progress<'_>) -> Continue,
    ) {
        let (mut spent, mut ordered, mut open) = (0, 0, 0);
        let mut best: Option<Legal> = None;
        while self.tell(spent, (found, is_free), progress) == Continue::Yes {
            while open < AHEAD && self.budget.evaluations.is_none_or(|all| ordered < all) {
                let left = self
                    .budget
                    .evaluations
                    .map(|all| (all - ordered).div_ceil(WORKERS));
                let evaluations = left.map_or(ROUND, |left| ROUND.min(left));
                ordered += evaluations * WORKERS;
                crew.order(&Order {
                    evaluations,
                    news: best.clone(),
                    closing: self.done(ordered) >= CLOSING,
                });
                open += 1;
            }
            if open == 0 {
                return;
            }
            let Some(reports) = crew.reports() else {
                return;
            };
            open -= 1;
            spent = reports.iter().map(|report| report.spent).sum();
            for legal in reports.into_iter().filter_map(|report| report.best) {
                if !is_free || found.last().is_none_or(|known| legal.length < known.length) {
                    found.push(self.layout(&legal));
                    best = Some(legal);
                    is_free = true;
                }
            }
        }
    }

    fn is_free(&self, legal: &Legal) -> bool {
        let width = self.problem.width();
        State::new(self.table, self.items, width, legal.length, &legal.poses).conflict() == 0.0
    }

    /// A worker that begins with the first lay, or with parting the pieces of the guide.
    fn worker(
        &self,
        (first, is_free): (&Legal, bool),
        guide: Option<&Legal>,
        chance: Chance,
    ) -> Worker<'a> {
        let width = self.problem.width();
        let begin = guide
            .filter(|guide| guide.length < first.length || !is_free)
            .unwrap_or(first);
        let state = State::new(self.table, self.items, width, begin.length, &begin.poses);
        let first = if is_free { first } else { begin };
        let first = (first.clone(), is_free);
        Worker::new(state, first, width, self.least_length(), chance)
    }

    /// Says how far the search is, and hears whether to go on.
    fn tell(
        &self,
        spent: u64,
        (found, is_free): (&[Layout], bool),
        progress: &mut dyn FnMut(Progress<'_>) -> Continue,
    ) -> Continue {
        let layout = found.last().expect("there is a first lay");
        let density = self.problem.density(layout.length);
        let answer = progress(Progress {
            evaluations: spent,
            density,
            layout,
        });
        if self.is_late() || (is_free && layout.length <= self.least_length()) {
            Continue::No
        } else {
            answer
        }
    }

    /// The share of the budget that is spent.
    fn done(&self, spent: u64) -> f64 {
        if let Some(all) = self.budget.evaluations {
            if self.is_late() {
                1.0
            } else {
                spent as f64 / all.max(1) as f64
            }
        } else if let Some(deadline) = self.budget.deadline {
            let whole = deadline.saturating_duration_since(self.began).as_secs_f64();
            if self.is_late() {
                1.0
            } else {
                self.began.elapsed().as_secs_f64() / whole
            }
        } else {
            0.0
        }
    }

    fn is_late(&self) -> bool {
        self.budget
            .deadline
            .is_some_and(|deadline| Instant::now() >= deadline)
    }

    /// Pushes the best lay together, and returns the shortest that is proven.
    fn finish(&self, mut found: Vec<Layout>) -> Layout {
        let best = found.last().expect("there is a first lay");
        if let Some(Legal { mut poses, .. }) = self.poses(best) {
            let length = push_back(self.table, &mut poses);
            if length < best.length {
                found.push(self.layout(&Legal { length, poses }));
            }
        }
        let shortest = found[0].clone();
        let is_proven =
            |layout: &Layout| verify(self.problem, layout, tolerance(self.problem)).is_ok();
        found.into_iter().rev().find(is_proven).unwrap_or(shortest)
    }

    fn least_length(&self) -> f64 {
        let of_item = |shapes: &std::ops::Range<usize>| {
            let lengths = shapes
                .clone()
                .map(|shape| self.table.shapes[shape].room().least_length());
            lengths.fold(f64::INFINITY, f64::min)
        };
        let needed = self
            .items
            .iter()
            .map(|&item| of_item(&self.table.of_item[item]));
        needed.fold(self.problem.least_length(), f64::max)
    }

    fn layout(&self, legal: &Legal) -> Layout {
        let placement = |pose: &Pose| {
            let Kind::Piece { item, turn, .. } = self.table.shapes[pose.shape].kind else {
                unreachable!("flaws are not among the poses of a lay");
            };
            Placement {
                item,
                turn,
                place: Point::new(pose.place[0], pose.place[1]),
            }
        };
        Layout {
            length: legal.length,
            placements: legal.poses.iter().map(placement).collect(),
        }
    }

    /// The poses of a lay, if it has one for every copy in a turn that has room, brought into their rooms.
    fn poses(&self, layout: &Layout) -> Option<Legal> {
        if !layout.length.is_finite() || layout.placements.len() != self.items.len() {
            return None;
        }
        let mut placements = layout.placements.clone();
        placements.sort_by_key(|placement| placement.item);
        let length = layout.length.max(self.least_length());
        let pose = |(placement, &item): (&Placement, &usize)| {
            let fits = |&shape: &usize| match self.table.shapes[shape].kind {
                Kind::Piece { item, turn, .. } => (item, turn) == (placement.item, placement.turn),
                Kind::Flaw => false,
            };
            let shape = self.table.of_item[item].clone().find(fits)?;
            let wish = [placement.place.x, placement.place.y];
            let place = self.table.shapes[shape].room().place(wish, length);
            (wish[0].is_finite() && wish[1].is_finite()).then_some(Pose { shape, place })
        };
        let poses: Option<Vec<Pose>> = placements.iter().zip(self.items).map(pose).collect();
        poses.map(|poses| Legal {
            length: length.max(push::length(self.table, &poses)),
            poses,
        })
    }
}
