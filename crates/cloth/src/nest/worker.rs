//! One search: parts the pieces at a length, shortens while that succeeds, disturbs where it is stuck.
//!
//! The scheme is that of Gardeyn, Vanden Berghe, Wauters (An open-source heuristic to reboot 2D nesting research,
//! arXiv:2509.13329, 2025), from its text. Invariant: where `is_found`, `best` is a lay without conflict; else its length is
//! the one at which the first is sought.

use super::chance::Chance;
use super::push;
use super::relax::relaxed;
use super::search::{Effort, search};
use super::state::{Pose, State};

/// A lay without conflict.
#[derive(Clone, Debug)]
pub(super) struct Legal {
    pub(super) length: f64,
    pub(super) poses: Vec<Pose>,
}

/// Where a search is.
pub(super) struct Worker<'a> {
    pub(super) state: State<'a>,
    pub(super) best: Legal,
    pub(super) is_found: bool,
    pub(super) chance: Chance,
    width: f64,
    least: f64,
    /// By which share of the length the next try is shorter.
    shrink: f64,
    /// By which share of the length the next try is longer, as long as nothing was found: twice as much from try to try.
    growth: f64,
    closing: bool,
    /// The least conflict seen at this length, its poses, and the weights that led to it.
    low: f64,
    low_poses: Vec<Pose>,
    low_weights: Vec<f64>,
    /// Passes since it was seen.
    idle: usize,
    strikes: usize,
    strike_low: f64,
    stuck: Vec<(f64, Vec<Pose>)>,
    pub(super) passes: u64,
}

/// When a search gives a length up.
struct Patience {
    /// Passes without less conflict after which it goes back to its least.
    idle: usize,
    /// How often it does so in vain.
    strikes: usize,
}

const EFFORT: Effort = Effort {
    anywhere: 40,
    nearby: 20,
    kept: 3,
};
/// How much longer than the best a worker's lay may be, as a share, before it takes that over.
const BEHIND: f64 = 0.005;
/// Patience while lengths are tried in large steps: a step that is too large costs little.
const HASTY: Patience = Patience {
    idle: 60,
    strikes: 1,
};
/// Patience at small steps. It pays: with 120 passes and two strikes the hardest instances end 0.2 to 0.4 points less dense.
const PATIENT: Patience = Patience {
    idle: 200,
    strikes: 3,
};
const SHRINK: [f64; 2] = [0.02, 0.001];
const CLOSING: [f64; 2] = [0.0005, 0.00001];

impl<'a> Worker<'a> {
    /// A search from a state; `first` is a lay, `is_found` tells whether it is without conflict.
    pub(super) fn new(
        state: State<'a>,
        (first, is_found): (Legal, bool),
        width: f64,
        least: f64,
        chance: Chance,
    ) -> Self {
        let poses = state.poses[..state.pieces()].to_vec();
        let begun = Legal {
            length: state.length,
            poses: poses.clone(),
        };
        let is_legal = state.conflict() == 0.0;
        let best = if is_legal && begun.length < first.length {
            begun
        } else {
            first
        };
        let mut worker = Self {
            state,
            best,
            is_found: is_found || is_legal,
            chance,
            width,
            least,
            shrink: SHRINK[0],
            growth: SHRINK[0],
            closing: false,
            low: f64::INFINITY,
            low_poses: poses,
            low_weights: Vec::new(),
            idle: 0,
            strikes: 0,
            strike_low: f64::INFINITY,
            stuck: Vec::new(),
            passes: 0,
        };
        if is_legal {
            worker.shorten();
        }
        worker
    }

    /// Hears of the best lay that is known and goes on from it where its own is far behind; then whether to take only small
    /// steps.
    pub(super) fn hear(&mut self, news: Option<&Legal>, closing: bool) {
        let behind = if closing { 0.0 } else { BEHIND };
        let adopted = news.filter(|news| self.best.length > news.length * (1.0 + behind));
        if let Some(news) = adopted {
            self.best = news.clone();
            self.is_found = true;
            self.stuck.clear();
        }
        if closing && !self.closing && self.is_found {
            self.closing = true;
            self.shrink = CLOSING[0];
        } else if adopted.is_none() {
            return;
        }
        self.restore_best();
        self.shorten();
    }

    /// Searches until some evaluations are spent.
    pub(super) fn advance(&mut self, evaluations: u64, stop: &dyn Fn() -> bool) {
        let end = self.state.evaluations + evaluations;
        while self.state.evaluations < end && !self.is_done() && !stop() {
            self.pass(stop);
            if self.settled() {
                self.succeed();
            } else if self.idle >= self.patience().idle {
                self.strike();
            }
        }
    }

    /// Whether nothing shorter can be found.
    fn is_done(&self) -> bool {
        self.is_found && self.best.length <= self.least
    }

    fn patience(&self) -> Patience {
        let is_coarse = self.is_found && self.shrink > SHRINK[1] && !self.closing;
        if is_coarse || self.could_be_longer() {
            HASTY
        } else {
            PATIENT
        }
    }

    fn settled(&self) -> bool {
        self.low == 0.0
    }

    /// Moves every piece that is in conflict once.
    fn pass(&mut self, stop: &dyn Fn() -> bool) {
        self.passes += 1;
        let mut moving: Vec<usize> = (0..self.state.pieces())
            .filter(|&piece| self.state.is_in_conflict(piece))
            .collect();
        self.chance.shuffle(&mut moving);
        for piece in moving {
            if stop() {
                return;
            }
            if self.state.is_in_conflict(piece) {
                let offer = search(&mut self.state, piece, EFFORT, &mut self.chance);
                self.state.put(piece, offer.pose);
            }
        }
        let conflict = self.state.conflict();
        if conflict < self.low && conflict > 0.0 && self.relax() {
            return;
        }
        if conflict < self.low {
            if conflict < self.low * 0.98 {
                self.idle = 0;
            }
            self.low = conflict;
            self.low_poses = self.state.poses[..self.state.pieces()].to_vec();
            self.low_weights.clone_from(&self.state.weights);
        } else {
            self.idle += 1;
        }
        if conflict > 0.0 {
            self.state.weigh();
        }
    }

    /// Tries to part what is left of conflict by moving all pieces at once; keeps nothing where that fails.
    fn relax(&mut self) -> bool {
        let Some(poses) = relaxed(&mut self.state) else {
            return false;
        };
        let before = self.state.poses[..self.state.pieces()].to_vec();
        self.restore(self.state.length, &poses);
        if self.state.conflict() > 0.0 {
            self.restore(self.state.length, &before);
            return false;
        }
        self.low = 0.0;
        self.low_poses = poses;
        true
    }

    fn succeed(&mut self) {
        let length = push::length(self.state.table, &self.low_poses).max(self.least);
        self.best = Legal {
            length,
            poses: self.low_poses.clone(),
        };
        self.is_found = true;
        self.stuck.clear();
        self.shorten();
    }

    fn strike(&mut self) {
        self.idle = 0;
        if self.low < self.strike_low * 0.98 {
            self.strikes = 0;
        } else {
            self.strikes += 1;
        }
        self.strike_low = self.low;
        if self.strikes >= self.patience().strikes {
            self.fail();
        } else {
            let poses = self.low_poses.clone();
            self.restore(self.state.length, &poses);
            self.state.weights.clone_from(&self.low_weights);
        }
    }

    fn fail(&mut self) {
        let least = if self.closing { CLOSING[1] } else { SHRINK[1] };
        if self.is_found && (self.closing || self.shrink > least) {
            self.shrink = (self.shrink / 2.0).max(least);
            self.restore_best();
            self.shorten();
        } else {
            self.go_on_from_stuck();
        }
    }

    /// Whether nothing was found yet and a longer cloth would give any piece more room.
    fn could_be_longer(&self) -> bool {
        !self.is_found
            && self
                .state
                .has_more_room(self.best.length * (1.0 + SHRINK[0]))
    }

    /// Tries again, from one of the lays in least conflict with two pieces exchanged: at the same length, or at a longer one
    /// where none was found yet.
    fn go_on_from_stuck(&mut self) {
        if self.could_be_longer() {
            self.best.length *= 1.0 + self.growth;
            self.growth *= 2.0;
        }
        let length = if self.is_found {
            self.state.length
        } else {
            self.best.length
        };
        let at = self.stuck.partition_point(|known| known.0 <= self.low);
        self.stuck.insert(at, (self.low, self.low_poses.clone()));
        let share = self.chance.share() * self.chance.share();
        let which = (share * self.stuck.len() as f64) as usize;
        let poses = self.stuck[which].1.clone();
        self.restore(length, &poses);
        self.disturb();
        self.begin();
    }

    /// Exchanges two large pieces.
    fn disturb(&mut self) {
        let count = self.state.pieces();
        let mut by_size: Vec<usize> = (0..count).collect();
        let size = |piece: usize| self.state.table.shapes[self.state.poses[piece].shape].size;
        by_size.sort_by(|&a, &b| size(b).total_cmp(&size(a)));
        let large = count.min((count / 2).max(2));
        let one = by_size[self.chance.below(large)];
        let others: Vec<usize> = by_size[..large]
            .iter()
            .copied()
            .filter(|&other| self.state.items[other] != self.state.items[one])
            .collect();
        if others.is_empty() {
            return;
        }
        let other = others[self.chance.below(others.len())];
        let (a, b) = (self.state.poses[one], self.state.poses[other]);
        for (piece, from, to) in [(one, a, b), (other, b, a)] {
            let shapes = &self.state.table.shapes;
            let middle = |axis: usize| {
                to.place[axis]
                    + (shapes[to.shape].low[axis] + shapes[to.shape].high[axis]
                        - shapes[from.shape].low[axis]
                        - shapes[from.shape].high[axis])
                        / 2.0
            };
            let place = shapes[from.shape]
                .room()
                .place([middle(0), middle(1)], self.state.length);
            self.state.put(
                piece,
                Pose {
                    shape: from.shape,
                    place,
                },
            );
        }
    }

    fn shorten(&mut self) {
        let length = (self.best.length * (1.0 - self.shrink)).max(self.least);
        let table = self.state.table;
        if self.closing {
            let cut = self.chance.between(0.0, self.best.length);
            let back = self.state.length - length;
            self.state.set_length(length, self.width, |_, pose| {
                let shape = &table.shapes[pose.shape];
                let mut place = pose.place;
                if place[0] + (shape.low[0] + shape.high[0]) / 2.0 > cut {
                    place[0] -= back;
                }
                Pose {
                    place: shape.room().place(place, length),
                    ..pose
                }
            });
        } else {
            self.state.set_length(length, self.width, |_, pose| Pose {
                place: table.shapes[pose.shape].room().place(pose.place, length),
                ..pose
            });
        }
        self.state.level();
        self.begin();
    }

    fn begin(&mut self) {
        self.idle = 0;
        self.strikes = 0;
        self.low = f64::INFINITY;
        self.strike_low = f64::INFINITY;
    }

    fn restore_best(&mut self) {
        let (length, poses) = (self.best.length, self.best.poses.clone());
        self.restore(length, &poses);
    }

    fn restore(&mut self, length: f64, poses: &[Pose]) {
        self.state
            .set_length(length, self.width, |piece, _| poses[piece]);
    }
}
