//! Two darts that end at one point, as at the bust, made into the two sides of a seam.
//!
//! Each side runs straight along its legs and is rounded near the point. Rounding makes the side that turns more longer: the
//! point at which the sides meet is moved by a millimetre or so until both are alike. Knows no piece. Invariant: both sides have
//! one length.

use geometry::{Curve, Knot, Point, Vec2, solve};

use super::fill::joined;
use crate::piece::Legs;

/// A side is rounded so far from the point, mm. Common practice, no source.
const ROUNDED: f64 = 40.0;
/// The point is moved no farther than this, mm.
const MOST_MOVED: f64 = 15.0;

/// Both sides from the mouth of one dart over the common point to the mouth of another, the side after the first dart's mouth
/// first, and the length along the second at which the point lies. The point is moved along a direction only: that of the line
/// which crosses the seam there, whose length on both sides then stays.
pub fn sides(from: &Legs, to: &Legs, across: Vec2) -> Option<([Curve; 2], f64)> {
    let ends = [(from.after, to.before), (from.before, to.after)];
    let both = |by: f64| {
        let at = from.point + across * by;
        Some([spans(ends[0], at)?, spans(ends[1], at)?])
    };
    let off = |by: f64| {
        let lengths = both(by).map(|sides| sides.map(|[up, down]| up.length() + down.length()));
        lengths.map_or(f64::NAN, |[first, second]| first - second)
    };
    let by = solve::bracketed(-MOST_MOVED, MOST_MOVED, 1e-12, off).unwrap_or(0.0);
    let [first, second] = both(by)?;
    let knot = second[0].length();
    Some(([first, second].map(|[up, down]| joined(&up, &down)), knot))
}

/// The two halves of a side that meets at a point.
fn spans((from, to): (Point, Point), at: Point) -> Option<[Curve; 2]> {
    let reach = |mouth: Point| near(at, mouth, ROUNDED.min((mouth - at).hypot() / 2.0));
    let (near, far) = (reach(from), reach(to));
    let knots = [
        Knot::toward(near, at - from),
        Knot::free(at),
        Knot::toward(far, to - at),
    ];
    let round = Curve::smooth(&knots)?;
    let (up, down) = round.split_at(span_length(&round))?;
    Some([
        joined(&Curve::line(from, near), &up),
        joined(&down, &Curve::line(far, to)),
    ])
}

/// Where on the way from a mouth to the point of a dart a rounding of a length begins.
pub fn near(point: Point, mouth: Point, reach: f64) -> Point {
    let way = mouth - point;
    let length = way.hypot();
    if length <= reach {
        return mouth;
    }
    point + way * (reach / length)
}

/// Length of the first segment.
fn span_length(curve: &Curve) -> f64 {
    let first = curve.segments().first().copied();
    first
        .and_then(|segment| Curve::from_segments(vec![segment]))
        .map_or(0.0, |first| first.length())
}
