//! The best place for one piece among those tried: places all over its room and places near it, the best of them
//! improved step by step.
//!
//! Invariant: every place that is tried lies in the piece's room.

use super::chance::Chance;
use super::state::{Pose, State};

/// How many places are tried.
#[derive(Clone, Copy, Debug)]
pub(super) struct Effort {
    /// All over the room.
    pub(super) anywhere: usize,
    /// Near the piece.
    pub(super) nearby: usize,
    /// How many of the best are improved.
    pub(super) kept: usize,
}

/// A pose and its price.
#[derive(Clone, Copy, Debug)]
pub(super) struct Offer {
    pub(super) pose: Pose,
    pub(super) price: f64,
}

/// Steps of the first improvement, as a share of a piece's size: where it begins and ends.
const COARSE: [f64; 2] = [0.25, 0.02];
/// Steps of the last improvement.
const FINE: [f64; 2] = [0.01, 1e-5];

/// The best offer found for a piece; its present pose where nothing is better.
pub(super) fn search(
    state: &mut State<'_>,
    piece: usize,
    effort: Effort,
    chance: &mut Chance,
) -> Offer {
    let now = Offer {
        pose: state.poses[piece],
        price: state.price_now(piece),
    };
    let mut best = Best::new(effort.kept);
    best.add(now, 0.0);
    let shapes = state.table.of_item[state.items[piece]].clone();
    let size = state.table.shapes[now.pose.shape].size;
    for _ in 0..effort.anywhere {
        let shape = shapes.start + chance.below(shapes.len());
        let room = state.table.shapes[shape].room();
        let [low, high] = room.range(state.length);
        let wish = [
            chance.between(low[0], high[0]),
            chance.between(low[1], high[1]),
        ];
        let pose = Pose {
            shape,
            place: room.place(wish, state.length),
        };
        let price = state.price(piece, pose, best.worst());
        best.add(Offer { pose, price }, size * 0.1);
    }
    for _ in 0..effort.nearby {
        let pose = nearby(state, now.pose, shapes.clone(), size, chance);
        let price = state.price(piece, pose, best.worst());
        best.add(Offer { pose, price }, size * 0.1);
    }
    let mut found = now;
    for mut offer in best.offers {
        improve(state, piece, &mut offer, COARSE, chance);
        if offer.price < found.price {
            found = offer;
        }
    }
    improve(state, piece, &mut found, FINE, chance);
    found
}

fn nearby(
    state: &State<'_>,
    now: Pose,
    shapes: std::ops::Range<usize>,
    size: f64,
    chance: &mut Chance,
) -> Pose {
    let shape = if chance.below(2) == 0 {
        now.shape
    } else {
        shapes.start + chance.below(shapes.len())
    };
    let (old, new) = (&state.table.shapes[now.shape], &state.table.shapes[shape]);
    let middle = |axis: usize| {
        now.place[axis] + (old.low[axis] + old.high[axis] - new.low[axis] - new.high[axis]) / 2.0
    };
    let mut off = |axis: usize| middle(axis) + chance.between(-0.5, 0.5) * size;
    let wish = [off(0), off(1)];
    Pose {
        shape,
        place: new.room().place(wish, state.length),
    }
}

/// Walks an offer downhill: both ways along a line by chance, longer steps where that helps, shorter ones where not.
pub(super) fn improve(
    state: &mut State<'_>,
    piece: usize,
    offer: &mut Offer,
    steps: [f64; 2],
    chance: &mut Chance,
) {
    let shape = &state.table.shapes[offer.pose.shape];
    let room = shape.room();
    let least = room.steps();
    let (size, length) = (shape.size, state.length);
    let mut step = [steps[0] * size; 2];
    let end = steps[1] * size;
    while offer.price > 0.0 && (step[0] > end || step[1] > end) {
        let line = match chance.below(4) {
            0 => [1.0, 0.0],
            1 => [0.0, 1.0],
            2 => [1.0, 1.0],
            _ => [1.0, -1.0],
        };
        let stride = [
            line[0] * step[0].max(least[0].min(size)),
            line[1] * step[1].max(least[1].min(size)),
        ];
        let before = offer.price;
        for sign in [1.0, -1.0] {
            let from = offer.pose.place;
            let wish = [from[0] + sign * stride[0], from[1] + sign * stride[1]];
            let pose = Pose {
                shape: offer.pose.shape,
                place: room.place(wish, length),
            };
            let price = state.price(piece, pose, offer.price);
            if price < offer.price {
                *offer = Offer { pose, price };
                break;
            }
        }
        let change = if offer.price < before { 1.1 } else { 0.5 };
        for axis in 0..2 {
            if line[axis] != 0.0 {
                step[axis] *= change;
            }
        }
    }
}

/// The best few offers, none close to another.
struct Best {
    offers: Vec<Offer>,
    kept: usize,
}

impl Best {
    fn new(kept: usize) -> Self {
        Self {
            offers: Vec::with_capacity(kept + 1),
            kept,
        }
    }

    /// What an offer must stay below to be kept.
    fn worst(&self) -> f64 {
        if self.offers.len() < self.kept {
            f64::INFINITY
        } else {
            self.offers[self.kept - 1].price
        }
    }

    fn add(&mut self, offer: Offer, apart: f64) {
        if offer.price >= self.worst() {
            return;
        }
        let is_close = |known: &Offer| {
            known.pose.shape == offer.pose.shape
                && (0..2)
                    .all(|axis| (known.pose.place[axis] - offer.pose.place[axis]).abs() < apart)
        };
        if let Some(close) = self.offers.iter().position(is_close) {
            if self.offers[close].price <= offer.price {
                return;
            }
            self.offers.remove(close);
        }
        let at = self
            .offers
            .partition_point(|known| known.price <= offer.price);
        self.offers.insert(at, offer);
        self.offers.truncate(self.kept);
    }
}
