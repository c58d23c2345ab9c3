//! The places of one piece at one turn: its pose space as numbers.
//!
//! Invariant: [`Room::place`] returns only places of the pose space that lie on the cloth.

use super::outline;
use super::problem::{Area, Item, Repeat, Turn};

/// How much of a width may be missing by rounding.
const ROUNDING: f64 = 1e-9;

/// Where the origin of an outline at a turn may lie.
#[derive(Clone, Debug)]
pub(super) struct Room {
    along: Track,
    across: Track,
    /// Greatest x of the turned outline.
    ahead: f64,
}

/// Where one coordinate may lie: from `low` to `high`, and of those on whole repeats only.
#[derive(Clone, Copy, Debug)]
struct Track {
    low: f64,
    high: f64,
    repeat: Option<Repeat>,
}

impl Room {
    /// The places of a piece at a turn, or nothing where there are none on a cloth of any length.
    pub(super) fn new(width: f64, item: &Item, turn: Turn) -> Option<Self> {
        let [low, high] = outline::bounds(&outline::turned(&item.outline, turn));
        let area = item.space.area.unwrap_or(Area {
            low: [0.0; 2],
            high: [f64::INFINITY; 2],
        });
        let rounding = ROUNDING * width;
        let along = Track {
            low: area.low[0].max(0.0) - low[0],
            high: area.high[0] - high[0],
            repeat: item.space.along,
        };
        let mut across = Track {
            low: area.low[1].max(0.0) - low[1],
            high: area.high[1].min(width) - high[1],
            repeat: item.space.across,
        };
        if item.space.pinned {
            if across.low > -low[1] + rounding {
                return None;
            }
            across = Track {
                low: -low[1],
                high: across.high.min(-low[1]),
                repeat: item.space.across,
            };
        }
        let across = across.closed(rounding)?.trimmed(rounding)?;
        let along = along.closed(rounding)?.trimmed(rounding)?;
        Some(Self {
            along,
            across,
            ahead: high[0],
        })
    }

    /// The least length of cloth that has a place.
    pub(super) fn least_length(&self) -> f64 {
        self.along.low + self.ahead
    }

    /// The corners of the places, least and greatest, on a cloth of a length that is at least the least.
    pub(super) fn range(&self, length: f64) -> [[f64; 2]; 2] {
        let far = self.along.high.min(length - self.ahead).max(self.along.low);
        [[self.along.low, self.across.low], [far, self.across.high]]
    }

    /// The place of the pose space nearest to a wish.
    #[inline]
    pub(super) fn place(&self, wish: [f64; 2], length: f64) -> [f64; 2] {
        let far = self.along.high.min(length - self.ahead);
        [
            self.along.near(wish[0], far),
            self.across.near(wish[1], self.across.high),
        ]
    }

    /// The least steps along and across that lead to another place; nought where any does, infinite where none does.
    pub(super) fn steps(&self) -> [f64; 2] {
        [self.along.step(), self.across.step()]
    }

    /// Greatest x of the turned outline, from its origin.
    pub(super) fn ahead(&self) -> f64 {
        self.ahead
    }
}

impl Track {
    /// Closes a gap of rounding between the ends.
    fn closed(self, rounding: f64) -> Option<Self> {
        if self.low <= self.high {
            Some(self)
        } else if self.low <= self.high + rounding {
            Some(Self {
                high: self.low,
                ..self
            })
        } else {
            None
        }
    }

    /// Moves the ends to whole repeats.
    fn trimmed(self, rounding: f64) -> Option<Self> {
        let Some(Repeat { every, phase }) = self.repeat else {
            return Some(self);
        };
        let low = phase + ((self.low - phase - rounding) / every).ceil() * every;
        let high = phase + ((self.high - phase + rounding) / every).floor() * every;
        (low <= high).then_some(Self { low, high, ..self })
    }

    #[inline]
    fn near(&self, wish: f64, high: f64) -> f64 {
        let Some(Repeat { every, .. }) = self.repeat else {
            return wish.min(high).max(self.low);
        };
        let most = ((high - self.low) / every + ROUNDING).floor();
        self.low + ((wish - self.low) / every).round().min(most).max(0.0) * every
    }

    fn step(&self) -> f64 {
        if self.low == self.high {
            f64::INFINITY
        } else {
            self.repeat.map_or(0.0, |repeat| repeat.every)
        }
    }
}
