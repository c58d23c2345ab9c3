//! Truing: an edge is made smooth again where runs were joined or bridged, its darts closed.
//!
//! From the middle of the run before a joint to the middle of the run after it one curve is drawn that keeps both
//! directions; strongly bent runs keep more of themselves. Invariants: the ends of the edge and its directions there stay;
//! darts keep their angles and get legs of one length.

use geometry::{CubicBez, Curve, Knot, PathSeg, curve::angle_between, solve};

use super::closed::Closed;
use super::fill::Joint;
use super::notches;
use crate::piece::Piece;

/// Whether an edge must keep its length when it is trued.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Keep {
    /// It may change a little.
    Shape,
    /// It is sewn to another edge and keeps so many mm.
    Length(f64),
}

/// Kinks below this are left as they are, degrees: no pencil shows them.
const UNSEEN: f64 = 0.2;
/// A half run that turns more than this, degrees, keeps its shape but for its last stretch.
const BENT: f64 = 15.0;
/// The stretch of a bent run that is drawn anew, mm.
const LAST_STRETCH: f64 = 40.0;

/// Trues an edge at its joints; false where it could not be done and the edge was left as it was.
pub fn true_up(piece: &mut Piece, edge: usize, joints: &[Joint], keep: Keep) -> bool {
    let Some(owner) = piece.edges.get(edge) else {
        return false;
    };
    let closed = Closed::of(piece, owner);
    let whole = closed.curve();
    let length = whole.length();
    let mut places: Vec<(f64, f64)> = joints
        .iter()
        .filter(|joint| joint.edge == edge && joint.from > 1e-3 && joint.from < length - 1e-3)
        .filter(|joint| is_kinked(&whole, joint))
        .map(|joint| (joint.from, joint.to))
        .collect();
    places.sort_by(|a, b| a.0.total_cmp(&b.0));
    if places.is_empty() {
        return true;
    }
    let Some(smooth) = smoothed(&whole, &places, keep) else {
        return false;
    };
    put(piece, edge, &closed, &whole, &smooth, keep)
}

/// Puts a new closed curve in an edge's place; its darts open where they are nearest to their old mouths.
pub fn put(
    piece: &mut Piece,
    edge: usize,
    closed: &Closed,
    old: &Curve,
    new: &Curve,
    keep: Keep,
) -> bool {
    let place = |along: f64| match keep {
        Keep::Length(_) => along,
        Keep::Shape => new.nearest(old.point_at(along)).along,
    };
    let mouths: Vec<f64> = closed.mouths().into_iter().map(place).collect();
    let Some(runs) = closed.reopened(new, &mouths) else {
        return false;
    };
    let owner = &mut piece.edges[edge];
    let (start, end) = (owner.start(), owner.end());
    owner.runs = runs;
    // Turning back and forth leaves rounding in the last place; corners are exact.
    let last = owner.runs.len() - 1;
    owner.runs[0] = owner.runs[0].with_ends(start, owner.runs[0].end());
    owner.runs[last] = owner.runs[last].with_ends(owner.runs[last].start(), end);
    let name = owner.name.clone();
    notches::change(piece, &name, place);
    true
}

fn is_kinked(whole: &Curve, joint: &Joint) -> bool {
    if joint.to - joint.from > 1e-6 {
        let bridge = whole.stretch(joint.from, joint.to);
        let kinks = [
            (
                whole.direction_at(joint.from - 1e-4),
                bridge.start_direction(),
            ),
            (bridge.end_direction(), whole.direction_at(joint.to + 1e-4)),
        ];
        return kinks
            .iter()
            .any(|(into, out)| angle_between(*into, *out).degrees().abs() > UNSEEN);
    }
    let into = whole.direction_at(joint.from - 1e-4);
    let out = whole.direction_at(joint.to + 1e-4);
    angle_between(into, out).degrees().abs() > UNSEEN
}

fn smoothed(whole: &Curve, places: &[(f64, f64)], keep: Keep) -> Option<Curve> {
    match keep {
        Keep::Shape => blended(whole, places, 1.0),
        Keep::Length(wanted) => {
            let off = |fullness: f64| {
                blended(whole, places, fullness).map_or(f64::NAN, |curve| curve.length() - wanted)
            };
            let fullness = solve::bracketed(0.2, 2.5, 1e-9, off).ok()?;
            blended(whole, places, fullness)
        }
    }
}

/// The curve with a blend over every place; handles of the blends longer or shorter by a factor.
fn blended(whole: &Curve, places: &[(f64, f64)], fullness: f64) -> Option<Curve> {
    let length = whole.length();
    let mut kept_from = 0.0;
    let mut parts: Vec<Curve> = Vec::new();
    for (index, &(from, to)) in places.iter().enumerate() {
        let previous = if index == 0 { 0.0 } else { places[index - 1].1 };
        let next = places.get(index + 1).map_or(length, |next| next.0);
        let begin = from - reach(whole, previous, from);
        let end = to + reach(whole, next, to);
        if begin - kept_from > 1e-6 {
            parts.push(whole.stretch(kept_from, begin));
        }
        parts.push(blend(whole, begin, end, fullness)?);
        kept_from = end;
    }
    if length - kept_from > 1e-6 {
        parts.push(whole.stretch(kept_from, length));
    }
    let mut parts = parts.into_iter();
    let first = parts.next()?;
    let all = parts.fold(first, |sum, part| super::fill::joined(&sum, &part));
    Some(all.with_ends(whole.start(), whole.end()))
}

/// How far from a joint towards the next one the edge is drawn anew, mm.
fn reach(whole: &Curve, far: f64, near: f64) -> f64 {
    let half = (near - far).abs() / 2.0;
    let middle = f64::midpoint(far, near);
    let close = near + (far - near).signum() * 1e-4;
    let turn = angle_between(whole.direction_at(middle), whole.direction_at(close));
    if turn.degrees().abs() > BENT {
        half.min(LAST_STRETCH)
    } else {
        half
    }
}

fn blend(whole: &Curve, begin: f64, end: f64, fullness: f64) -> Option<Curve> {
    let knots =
        [begin, end].map(|along| Knot::toward(whole.point_at(along), whole.direction_at(along)));
    let curve = Curve::smooth(&knots)?;
    let segments = curve.segments().iter().map(|segment| {
        let cubic = segment.to_cubic();
        PathSeg::Cubic(CubicBez::new(
            cubic.p0,
            cubic.p0 + (cubic.p1 - cubic.p0) * fullness,
            cubic.p3 + (cubic.p2 - cubic.p3) * fullness,
            cubic.p3,
        ))
    });
    Curve::from_segments(segments.collect())
}

/// Trues every edge that has joints; edges whose length must stay get it from a function of their name.
pub fn true_all(piece: &mut Piece, joints: &[Joint], keep: impl Fn(&str, f64) -> Keep) {
    let mut edges: Vec<usize> = joints.iter().map(|joint| joint.edge).collect();
    edges.sort_unstable();
    edges.dedup();
    for edge in edges {
        let Some(owner) = piece.edges.get(edge) else {
            continue;
        };
        let kept = keep(&owner.name, owner.length());
        // An edge that cannot be trued at that length keeps its straight joints, and a check says so.
        true_up(piece, edge, joints, kept);
    }
}
