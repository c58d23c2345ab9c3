//! Outlines on a grid of whole numbers, and what two have in common.

use geometry::Point;
use geometry::math::hypot;
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

/// Steps of the grid over the widest extent.
const FINEST: f64 = (1_u64 << 36) as f64;

/// Steps of the grid a unit.
#[derive(Clone, Copy, Debug)]
pub(super) struct Fineness(f64);

/// An outline on the grid.
#[derive(Clone, Debug)]
pub(super) struct Ring {
    corners: Vec<IntPoint<i64>>,
    low: [i64; 2],
    high: [i64; 2],
    fineness: Fineness,
}

impl Fineness {
    /// As fine as the farthest corner allows.
    pub(super) fn of<'a>(rings: impl Iterator<Item = &'a Vec<Point>>) -> Self {
        let farthest = rings
            .flatten()
            .map(|corner| corner.x.abs().max(corner.y.abs()))
            .fold(f64::MIN_POSITIVE, f64::max);
        Self(FINEST / farthest)
    }
}

impl Ring {
    pub(super) fn new(ring: &[Point], fineness: Fineness) -> Self {
        let step = |value: f64| (value * fineness.0).round() as i64;
        let corners: Vec<IntPoint<i64>> = ring
            .iter()
            .map(|corner| IntPoint::new(step(corner.x), step(corner.y)))
            .collect();
        let least = |pick: fn(&IntPoint<i64>) -> i64| corners.iter().map(pick).min().unwrap_or(0);
        let most = |pick: fn(&IntPoint<i64>) -> i64| corners.iter().map(pick).max().unwrap_or(0);
        let (low, high) = (
            [least(|p| p.x), least(|p| p.y)],
            [most(|p| p.x), most(|p| p.y)],
        );
        Self {
            corners,
            low,
            high,
            fineness,
        }
    }

    /// The greatest thickness of the parts that two outlines have in common, and the area of all, if they have any.
    pub(super) fn common(&self, other: &Self) -> Option<(f64, f64)> {
        let apart = (0..2)
            .any(|axis| self.high[axis] <= other.low[axis] || other.high[axis] <= self.low[axis]);
        if apart {
            return None;
        }
        let mut overlay = Overlay::from_subj_and_clip(&self.corners, &other.corners);
        let parts = overlay.overlay(OverlayRule::Intersect, FillRule::NonZero);
        let measured = parts.iter().map(|part| measured(part));
        let (thickest, area) = measured.fold((0.0_f64, 0.0), |(thickest, sum), (area, girth)| {
            (thickest.max(2.0 * area / girth), sum + area)
        });
        let steps = self.fineness.0;
        (area > 0.0).then_some((thickest / steps, area / (steps * steps)))
    }
}

/// The area and the girth of a part: its outer contour and its holes.
fn measured(part: &[Vec<IntPoint<i64>>]) -> (f64, f64) {
    let mut twice = 0_i128;
    let mut girth = 0.0;
    for contour in part {
        for (a, b) in contour.iter().zip(contour.iter().cycle().skip(1)) {
            twice += i128::from(a.x) * i128::from(b.y) - i128::from(a.y) * i128::from(b.x);
            girth += hypot((b.x - a.x) as f64, (b.y - a.y) as f64);
        }
    }
    (twice as f64 / 2.0, girth)
}
