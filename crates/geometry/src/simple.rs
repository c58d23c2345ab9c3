//! Whether a closed outline meets itself anywhere but in the corners that its curves share.
//!
//! Knows no pieces or seams. Invariant: an outline without clashes encloses one region and its corners are its only joins.

use kurbo::{PathSeg, Point, Rect};

use crate::{
    Curve,
    crossing::{hull, part},
    meet::{Meeting, Shared, loops, meetings},
};

/// How near two stretches come before they count as touching, mm: far below what a pen can draw.
const TOUCHING: f64 = 1e-6;

/// A length along one of several curves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Place {
    /// Which of the curves, from 0.
    pub curve: usize,
    /// Length from its start, mm.
    pub along: f64,
}

/// A place where an outline crosses or touches itself.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clash {
    /// Where it does.
    pub point: Point,
    /// One of the two places that meet, the earlier in the outline.
    pub first: Place,
    /// The other.
    pub second: Place,
}

/// A meeting of two segments of a chain.
pub(crate) struct ChainMeeting {
    pub(crate) first: usize,
    pub(crate) second: usize,
    pub(crate) meeting: Meeting,
}

/// Every place where a closed outline, given as curves that follow each other, crosses or touches itself away from their
/// shared corners, in order along it; none for a simple outline.
pub fn clashes<'a>(outline: impl IntoIterator<Item = &'a Curve>) -> Vec<Clash> {
    let curves: Vec<&Curve> = outline.into_iter().collect();
    let owners: Vec<(usize, usize)> = curves
        .iter()
        .enumerate()
        .flat_map(|(index, curve)| (0..curve.segments().len()).map(move |segment| (index, segment)))
        .collect();
    let chain: Vec<PathSeg> = curves
        .iter()
        .flat_map(|curve| curve.segments().to_vec())
        .collect();
    let place = |at: usize, t: f64| {
        let (curve, segment) = owners[at];
        let before: f64 = curves[curve].segments()[..segment]
            .iter()
            .map(|s| part(s, 1.0))
            .sum();
        Place {
            curve,
            along: before + part(&chain[at], t),
        }
    };
    chain_meetings(&chain, true)
        .into_iter()
        .map(|found| Clash {
            point: found.meeting.point,
            first: place(found.first, found.meeting.first),
            second: place(found.second, found.meeting.second),
        })
        .collect()
}

/// Whether a closed outline of curves that follow each other meets itself only in their shared corners.
pub fn is_simple<'a>(outline: impl IntoIterator<Item = &'a Curve>) -> bool {
    let chain: Vec<PathSeg> = outline
        .into_iter()
        .flat_map(|curve| curve.segments().to_vec())
        .collect();
    chain_meetings(&chain, true).is_empty()
}

/// All meetings of a chain of segments with itself but for its joints, in order along it.
pub(crate) fn chain_meetings(chain: &[PathSeg], closed: bool) -> Vec<ChainMeeting> {
    let boxes: Vec<Rect> = chain
        .iter()
        .map(|s| hull(s).inflate(TOUCHING, TOUCHING))
        .collect();
    let mut order: Vec<usize> = (0..chain.len())
        .filter(|&index| !is_point(&boxes[index]))
        .collect();
    let joints = Joints::of(&order, closed);
    order.sort_by(|&a, &b| boxes[a].x0.total_cmp(&boxes[b].x0).then(a.cmp(&b)));
    let mut found = Vec::new();
    for (at, &one) in order.iter().enumerate() {
        let own = loops(&chain[one], TOUCHING);
        found.extend(own.into_iter().map(|meeting| ChainMeeting {
            first: one,
            second: one,
            meeting,
        }));
        let rivals = order[at + 1..]
            .iter()
            .take_while(|&&other| boxes[other].x0 <= boxes[one].x1);
        for &other in rivals.filter(|&&other| boxes[one].overlaps(boxes[other])) {
            let (first, second) = (one.min(other), one.max(other));
            let between = meetings(
                &chain[first],
                &chain[second],
                joints.between(first, second),
                TOUCHING,
            );
            found.extend(between.into_iter().map(|meeting| ChainMeeting {
                first,
                second,
                meeting,
            }));
        }
    }
    found.sort_by(|a, b| {
        let position = |m: &ChainMeeting| {
            (
                m.first as f64 + m.meeting.first,
                m.second as f64 + m.meeting.second,
            )
        };
        let (a, b) = (position(a), position(b));
        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
    });
    found
}

/// Which segments of a chain follow each other, where those that are mere points are left out.
struct Joints {
    next: Vec<(usize, usize)>,
    closing: Option<(usize, usize)>,
}

impl Joints {
    fn of(order: &[usize], closed: bool) -> Self {
        let next = order.windows(2).map(|pair| (pair[0], pair[1])).collect();
        let closing = match (order.first(), order.last()) {
            (Some(&first), Some(&last)) if closed && first != last => Some((first, last)),
            _ => None,
        };
        Self { next, closing }
    }

    fn between(&self, first: usize, second: usize) -> Shared {
        Shared {
            end_to_start: self.next.binary_search(&(first, second)).is_ok(),
            start_to_end: self.closing == Some((first, second)),
        }
    }
}

fn is_point(around: &Rect) -> bool {
    around.width().max(around.height()) <= 2.0 * TOUCHING + 1e-9
}

#[cfg(test)]
mod tests {
    use super::*;

    fn outline(points: &[(f64, f64)]) -> Vec<Curve> {
        let count = points.len();
        (0..count)
            .map(|k| Curve::line(points[k].into(), points[(k + 1) % count].into()))
            .collect()
    }

    #[test]
    fn a_square_is_simple_and_a_bow_is_not() {
        assert!(is_simple(&outline(&[
            (0.0, 0.0),
            (9.0, 0.0),
            (9.0, 9.0),
            (0.0, 9.0)
        ])));
        let bow = outline(&[(0.0, 0.0), (9.0, 9.0), (9.0, 0.0), (0.0, 9.0)]);
        let found = clashes(&bow);
        assert_eq!(found.len(), 1);
        assert!((found[0].point - Point::new(4.5, 4.5)).hypot() < 1e-9);
        assert_eq!((found[0].first.curve, found[0].second.curve), (0, 2));
        assert!((found[0].first.along - 4.5 * 2f64.sqrt()).abs() < 1e-6);
    }

    #[test]
    fn touching_from_inside_is_told() {
        let found = clashes(&outline(&[
            (0.0, 0.0),
            (10.0, 0.0),
            (10.0, 10.0),
            (5.0, 0.0),
            (0.0, 10.0),
        ]));
        // The tip at (5, 0) is met by both of its sides.
        assert!(
            !found.is_empty()
                && found
                    .iter()
                    .all(|c| (c.point - Point::new(5.0, 0.0)).hypot() < 1e-6)
        );
    }

    #[test]
    fn a_tight_dart_is_still_simple() {
        let open = outline(&[
            (0.0, 0.0),
            (40.0, 0.0),
            (49.9, 90.0),
            (59.0, 0.0),
            (100.0, 0.0),
            (100.0, 200.0),
            (0.0, 200.0),
        ]);
        assert!(is_simple(&open));
    }

    #[test]
    fn a_lens_of_two_curves_is_simple() {
        let there = Curve::cubic(
            (0.0, 0.0).into(),
            (30.0, -40.0).into(),
            (70.0, -40.0).into(),
            (100.0, 0.0).into(),
        );
        let back = Curve::cubic(
            (100.0, 0.0).into(),
            (70.0, 40.0).into(),
            (30.0, 40.0).into(),
            (0.0, 0.0).into(),
        );
        assert!(is_simple([&there, &back]));
        let crossed = Curve::cubic(
            (100.0, 0.0).into(),
            (70.0, -60.0).into(),
            (30.0, 40.0).into(),
            (0.0, 0.0).into(),
        );
        assert!(!is_simple([&there, &crossed]));
    }
}
