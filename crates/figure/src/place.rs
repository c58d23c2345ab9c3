//! Where a tape runs for each measure, on each side of the figure from which it is seen.
//!
//! Knows the figure, in mm at full size; no scale, no number and no colour. Invariant: what lies before the body is drawn in
//! `near`, what it hides in `far`; a girth's near and far parts together go once round.

mod across;
mod beside;
mod round;

use body::Measure;
use geometry::{Curve, Knot, Point, Vec2};

use crate::Side;
use crate::form::Form;
use crate::profile::Profile;
use crate::upright::Upright;

/// Half of a tape's ring as drawn is so much lower than the other, over its depth: as if seen from a little above.
const TILT: f64 = 0.17;

/// Where the tape for a measure runs, mm.
#[derive(Clone, Debug)]
pub(crate) struct Place {
    /// Before the body.
    pub(crate) near: Vec<Curve>,
    /// Hidden by the body, or a line that only helps.
    pub(crate) far: Vec<Curve>,
    /// Whether the near lines end in ticks.
    pub(crate) ticks: bool,
    /// Where its number is tied to it.
    pub(crate) hold: Point,
    pub(crate) flank: Flank,
}

/// On which side of the drawing a number stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Flank {
    Left,
    Right,
}

/// The figure of a body as seen from all sides.
#[derive(Clone, Debug)]
pub(crate) struct Figure {
    pub(crate) form: Form,
    pub(crate) upright: Upright,
    pub(crate) profile: Profile,
}

impl Figure {
    pub(crate) fn of(form: Form) -> Self {
        Self {
            upright: Upright::of(&form),
            profile: Profile::of(&form),
            form,
        }
    }

    /// Where the tape runs for a measure, where it is seen from this side.
    pub(crate) fn place(&self, measure: Measure, side: Side) -> Option<Place> {
        round::place(self, measure, side)
            .or_else(|| across::place(self, measure, side))
            .or_else(|| beside::place(self, measure, side))
    }
}

impl Place {
    /// A line with a tick at both ends, its number tied to it at a share of its length.
    fn line(curve: Curve, share: f64, flank: Flank) -> Self {
        Self {
            hold: curve.point_at(share * curve.length()),
            near: vec![curve],
            far: Vec::new(),
            ticks: true,
            flank,
        }
    }

    fn with_far(mut self, far: Curve) -> Self {
        self.far.push(far);
        self
    }
}

/// A smooth curve through places.
fn through(points: &[Point]) -> Curve {
    let knots: Vec<Knot> = points.iter().map(|point| Knot::free(*point)).collect();
    Curve::smooth(&knots).expect("the places of a tape lie apart")
}

/// A smooth curve near many points: through some of them, evenly spread.
fn along(points: &[Point]) -> Curve {
    const PARTS: usize = 20;
    let line = Curve::polyline(points).expect("a section has many points");
    let step = line.length() / PARTS as f64;
    let spread: Vec<Point> = (0..=PARTS)
        .map(|k| line.point_at(step * k as f64))
        .collect();
    through(&spread)
}

/// Half an ellipse about a middle, from one end of its long axis over the short one to the other end; true to 0.03 %.
fn half_ellipse(middle: Point, long: Vec2, short: Vec2) -> Curve {
    // 4/3 · (√2 − 1): the handle with which a cubic's middle lies on the quarter circle.
    let handle = 0.552_284_749_830_793_4;
    let quarter = |from: Vec2, to: Vec2| {
        let [start, end] = [middle + from, middle + to];
        Curve::cubic(start, start + to * handle, end + from * handle, end)
    };
    let first = quarter(long, short);
    first
        .then(&quarter(short, -long))
        .expect("the second quarter begins where the first ends")
}

/// A straight line between two places.
fn straight(from: Point, to: Point) -> Curve {
    Curve::line(from, to)
}

const ACROSS: Vec2 = Vec2::new(1.0, 0.0);
