//! Where two curves cross or touch, and where a curve crosses a line or a ray.
//!
//! Knows no outlines. Invariant: crossings come in order along the first curve, each place once.

use kurbo::{ParamCurve, ParamCurveArclen, Point, Rect, Vec2};

use crate::{
    Curve, Tolerance,
    curve::ARC_ACCURACY,
    meet::{Shared, meetings},
};

/// A place where two curves cross or touch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Crossing {
    /// Where they meet.
    pub point: Point,
    /// Length from the first curve's start, mm.
    pub along: f64,
    /// Length from the second curve's start, mm; on a line or ray from the point that it was given by, and below zero
    /// behind it.
    pub other_along: f64,
}

impl Curve {
    /// All places where this curve meets another, in order along this one; curves that come nearer than the tolerance
    /// without crossing touch. Where they lie on each other for a stretch, a place or a few within it.
    pub fn crossings(&self, other: &Self, tolerance: Tolerance) -> Vec<Crossing> {
        let boxes: Vec<Rect> = other.segments().iter().map(hull).collect();
        let mut found = Vec::new();
        let mut before = 0.0;
        for segment in self.segments() {
            let around = hull(segment).inflate(tolerance.mm(), tolerance.mm());
            let mut other_before = 0.0;
            for (partner, around_partner) in other.segments().iter().zip(&boxes) {
                if around.overlaps(*around_partner) {
                    for meeting in meetings(segment, partner, Shared::default(), tolerance.mm()) {
                        found.push(Crossing {
                            point: meeting.point,
                            along: before + part(segment, meeting.first),
                            other_along: other_before + part(partner, meeting.second),
                        });
                    }
                }
                other_before += part(partner, 1.0);
            }
            before += part(segment, 1.0);
        }
        each_once(found, tolerance)
    }

    /// All places where the curve meets the endless line through a point in a direction of any length above zero.
    pub fn crossings_with_line(
        &self,
        through: Point,
        way: Vec2,
        tolerance: Tolerance,
    ) -> Vec<Crossing> {
        let (from, to) = reach(self, through, way);
        self.crossings_with_stretch(through, way, from, to, tolerance)
    }

    /// All places where the curve meets the ray from a point in a direction of any length above zero.
    pub fn crossings_with_ray(
        &self,
        from: Point,
        way: Vec2,
        tolerance: Tolerance,
    ) -> Vec<Crossing> {
        let (_, to) = reach(self, from, way);
        if to < 0.0 {
            return Vec::new();
        }
        self.crossings_with_stretch(from, way, 0.0, to, tolerance)
    }

    fn crossings_with_stretch(
        &self,
        origin: Point,
        way: Vec2,
        from: f64,
        to: f64,
        tolerance: Tolerance,
    ) -> Vec<Crossing> {
        let way = way / way.hypot();
        let line = Self::line(origin + way * from, origin + way * to);
        let mut found = self.crossings(&line, tolerance);
        for crossing in &mut found {
            crossing.other_along += from;
        }
        found
    }
}

/// From where to where, along a line, the curve can lie; 1 mm more on both sides.
fn reach(curve: &Curve, origin: Point, way: Vec2) -> (f64, f64) {
    let way = way / way.hypot();
    let around = curve.bounds();
    let corners = [
        Point::new(around.x0, around.y0),
        Point::new(around.x1, around.y0),
        Point::new(around.x0, around.y1),
        Point::new(around.x1, around.y1),
    ];
    let along = corners.map(|corner| (corner - origin).dot(way));
    let least = along.iter().copied().fold(f64::INFINITY, f64::min);
    let most = along.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    (least - 1.0, most + 1.0)
}

/// Upright box of a segment's control points.
pub(crate) fn hull(segment: &kurbo::PathSeg) -> Rect {
    match segment {
        kurbo::PathSeg::Line(line) => Rect::from_points(line.p0, line.p1),
        other => {
            let cubic = other.to_cubic();
            Rect::from_points(cubic.p0, cubic.p3)
                .union_pt(cubic.p1)
                .union_pt(cubic.p2)
        }
    }
}

/// Arc length of a segment up to a parameter, mm.
pub(crate) fn part(segment: &kurbo::PathSeg, to: f64) -> f64 {
    if to >= 1.0 {
        segment.arclen(ARC_ACCURACY)
    } else {
        segment.subsegment(0.0..to).arclen(ARC_ACCURACY)
    }
}

/// Joints between segments are met from both sides; one place is kept.
fn each_once(mut found: Vec<Crossing>, tolerance: Tolerance) -> Vec<Crossing> {
    let near = 4.0 * tolerance.mm();
    found.sort_by(|a, b| {
        a.along
            .total_cmp(&b.along)
            .then(a.other_along.total_cmp(&b.other_along))
    });
    let mut kept: Vec<Crossing> = Vec::with_capacity(found.len());
    for next in found {
        let known = kept.iter().any(|old| {
            (old.along - next.along).abs() <= near
                && (old.other_along - next.other_along).abs() <= near
        });
        if !known {
            kept.push(next);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wave() -> Curve {
        let knots: Vec<crate::Knot> = [(0.0, 0.0), (50.0, 30.0), (100.0, -30.0), (150.0, 0.0)]
            .iter()
            .map(|&p| crate::Knot::free(p.into()))
            .collect();
        Curve::smooth(&knots).unwrap()
    }

    #[test]
    fn lengths_along_both_lead_to_the_place() {
        let (a, b) = (
            wave(),
            wave().turned(Point::new(75.0, 0.0), crate::Angle::from_degrees(80.0)),
        );
        let found = a.crossings(&b, Tolerance::PATTERN);
        assert!(!found.is_empty());
        for crossing in &found {
            assert!((a.point_at(crossing.along) - crossing.point).hypot() < 1e-5);
            assert!((b.point_at(crossing.other_along) - crossing.point).hypot() < 1e-5);
        }
    }

    #[test]
    fn a_line_through_a_joint_meets_it_once() {
        let bent =
            Curve::polyline(&[(0.0, 0.0).into(), (10.0, 0.0).into(), (20.0, 5.0).into()]).unwrap();
        let found = bent.crossings_with_line(
            Point::new(10.0, -40.0),
            Vec2::new(0.0, 3.0),
            Tolerance::PATTERN,
        );
        assert_eq!(found.len(), 1);
        assert!((found[0].along - 10.0).abs() < 1e-9 && (found[0].other_along - 40.0).abs() < 1e-9);
    }

    #[test]
    fn a_ray_looks_one_way_only() {
        let (curve, from) = (wave(), Point::new(75.0, -100.0));
        assert_eq!(
            curve
                .crossings_with_ray(from, Vec2::new(0.0, 1.0), Tolerance::PATTERN)
                .len(),
            1
        );
        assert!(
            curve
                .crossings_with_ray(from, Vec2::new(0.0, -1.0), Tolerance::PATTERN)
                .is_empty()
        );
        let behind = curve.crossings_with_line(from, Vec2::new(0.0, -1.0), Tolerance::PATTERN);
        assert!(behind.len() == 1 && behind[0].other_along < 0.0);
    }
}
