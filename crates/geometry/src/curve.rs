//! A smooth or cornered run of lines and cubic Béziers, in order from its start to its end.
//!
//! Invariant: a curve has at least one segment, every segment starts exactly where the one before ended, and every
//! coordinate is finite. Lengths along a curve are millimetres from its start; those outside are brought to its ends.

use kurbo::{
    Affine, BezPath, CubicBez, Line, ParamCurve, ParamCurveArclen, ParamCurveArea, ParamCurveDeriv,
    ParamCurveExtrema, ParamCurveNearest, PathSeg, Point, Rect, Vec2,
};

use crate::{Angle, Tolerance, math};

/// How exactly the arc length of a segment is computed, mm, so that whole curves are right to 10⁻⁶ mm: a thousand times
/// finer than what a pattern promises.
pub(crate) const ARC_ACCURACY: f64 = 1e-8;
/// How exactly the parameter of a nearest place is computed, from 0 to 1 along a segment.
const PARAMETER_ACCURACY: f64 = 1e-12;
/// Below this length, mm, a stretch has no direction worth speaking of.
const VANISHING: f64 = 1e-9;

/// A connected run of lines and cubic Béziers.
#[derive(Clone, Debug, PartialEq)]
pub struct Curve {
    segments: Vec<PathSeg>,
}

/// The place on a curve that lies nearest to some point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Nearest {
    /// Length from the curve's start to the place, mm.
    pub along: f64,
    /// Distance between the point and the place, mm.
    pub distance: f64,
}

impl Curve {
    /// The straight line from one point to another.
    pub fn line(from: Point, to: Point) -> Self {
        Self {
            segments: vec![PathSeg::Line(Line::new(from, to))],
        }
    }

    /// One cubic Bézier by its four control points.
    pub fn cubic(p0: Point, p1: Point, p2: Point, p3: Point) -> Self {
        Self {
            segments: vec![PathSeg::Cubic(CubicBez::new(p0, p1, p2, p3))],
        }
    }

    /// Straight lines through points; `None` for fewer than two points.
    pub fn polyline(points: &[Point]) -> Option<Self> {
        let segments = points
            .windows(2)
            .map(|pair| PathSeg::Line(Line::new(pair[0], pair[1])))
            .collect();
        Self::from_segments(segments)
    }

    /// A curve of segments that follow each other; `None` where there are none, where one does not start at the end of
    /// the one before (to 10⁻⁶ mm; the gap is closed), or where a coordinate is not finite.
    pub fn from_segments(mut segments: Vec<PathSeg>) -> Option<Self> {
        for index in 1..segments.len() {
            let end = segments[index - 1].end();
            if (segments[index].start() - end).hypot() > 1e-6 {
                return None;
            }
            set_start(&mut segments[index], end);
        }
        let finite = segments.iter().all(|segment| {
            let cubic = segment.to_cubic();
            [cubic.p0, cubic.p1, cubic.p2, cubic.p3]
                .iter()
                .all(|point| point.is_finite())
        });
        (finite && !segments.is_empty()).then_some(Self { segments })
    }

    /// The segments in order.
    pub fn segments(&self) -> &[PathSeg] {
        &self.segments
    }

    /// First point.
    pub fn start(&self) -> Point {
        self.segments[0].start()
    }

    /// Last point.
    pub fn end(&self) -> Point {
        self.segments[self.segments.len() - 1].end()
    }

    /// Unit direction in which the curve leaves its start.
    pub fn start_direction(&self) -> Vec2 {
        direction(&self.segments[0], 0.0)
    }

    /// Unit direction in which the curve arrives at its end.
    pub fn end_direction(&self) -> Vec2 {
        direction(&self.segments[self.segments.len() - 1], 1.0)
    }

    /// Arc length, mm.
    pub fn length(&self) -> f64 {
        self.segments.iter().map(segment_length).sum()
    }

    /// The point at a length from the start.
    pub fn point_at(&self, along: f64) -> Point {
        let (index, t) = self.locate(along);
        self.segments[index].eval(t)
    }

    /// The unit direction at a length from the start.
    pub fn direction_at(&self, along: f64) -> Vec2 {
        let (index, t) = self.locate(along);
        direction(&self.segments[index], t)
    }

    /// The curve before and after a length from the start; `None` at or beyond either end.
    pub fn split_at(&self, along: f64) -> Option<(Self, Self)> {
        if along <= VANISHING || along >= self.length() - VANISHING {
            return None;
        }
        let (index, t) = self.locate(along);
        let mut before = self.segments[..index].to_vec();
        let mut after = Vec::with_capacity(self.segments.len() - index);
        if t > VANISHING {
            before.push(self.segments[index].subsegment(0.0..t));
        }
        if t < 1.0 - VANISHING {
            after.push(self.segments[index].subsegment(t..1.0));
        }
        after.extend_from_slice(&self.segments[index + 1..]);
        Some((Self::from_segments(before)?, Self::from_segments(after)?))
    }

    /// The stretch between two lengths from the start; the whole curve where they reach its ends.
    pub fn stretch(&self, from: f64, to: f64) -> Self {
        let tail = self
            .split_at(from)
            .map_or_else(|| self.clone(), |(_, after)| after);
        tail.split_at(to - from.max(0.0))
            .map_or_else(|| tail.clone(), |(before, _)| before)
    }

    /// The same curve from its end to its start.
    pub fn reversed(&self) -> Self {
        Self {
            segments: self.segments.iter().rev().map(PathSeg::reverse).collect(),
        }
    }

    /// The curve moved, turned, scaled or mirrored.
    pub fn transformed(&self, by: Affine) -> Self {
        Self {
            segments: self.segments.iter().map(|segment| by * *segment).collect(),
        }
    }

    /// The curve turned about a point; positive angles turn from x towards y, clockwise on the table.
    pub fn turned(&self, about: Point, angle: Angle) -> Self {
        self.transformed(turn_about(about, angle))
    }

    /// The curve mirrored in the line through two points.
    pub fn mirrored(&self, a: Point, b: Point) -> Self {
        self.transformed(mirror_in(a, b))
    }

    /// This curve and then another that starts where this one ends (to 10⁻⁶ mm); `None` where it does not.
    pub fn then(&self, next: &Self) -> Option<Self> {
        let mut segments = self.segments.clone();
        segments.extend_from_slice(&next.segments);
        Self::from_segments(segments)
    }

    /// The same curve with both ends put exactly on two points, for edges that share a corner.
    pub fn with_ends(&self, start: Point, end: Point) -> Self {
        let mut curve = self.clone();
        set_start(&mut curve.segments[0], start);
        let last = curve.segments.len() - 1;
        set_end(&mut curve.segments[last], end);
        curve
    }

    /// The place on the curve nearest to a point.
    pub fn nearest(&self, point: Point) -> Nearest {
        let mut best = Nearest {
            along: 0.0,
            distance: f64::INFINITY,
        };
        let mut before = 0.0;
        for segment in &self.segments {
            let found = segment.nearest(point, PARAMETER_ACCURACY);
            let distance = found.distance_sq.sqrt();
            if distance < best.distance {
                best = Nearest {
                    along: before + segment_length(&segment.subsegment(0.0..found.t)),
                    distance,
                };
            }
            before += segment_length(segment);
        }
        best
    }

    /// Smallest upright box that holds the curve.
    pub fn bounds(&self) -> Rect {
        self.segments
            .iter()
            .map(ParamCurveExtrema::bounding_box)
            .reduce(|a, b| a.union(b))
            .unwrap_or(Rect::ZERO)
    }

    /// The part of the enclosed area that this curve contributes, mm²: the integral of (x dy − y dx)/2. Summed over a
    /// closed outline it is the area, positive where the outline runs clockwise on the table.
    pub fn area_share(&self) -> f64 {
        self.segments.iter().map(ParamCurveArea::signed_area).sum()
    }

    /// Points on the curve, both ends included, between which straight lines stay within the tolerance of it; no point
    /// comes twice in a row.
    pub fn flattened(&self, tolerance: Tolerance) -> Vec<Point> {
        let mut points = vec![self.start()];
        kurbo::flatten(self.path_elements(), tolerance.mm(), |element| {
            if let kurbo::PathEl::LineTo(point) = element {
                points.push(point);
            }
        });
        points.dedup_by(|next, kept| (*next - *kept).hypot() < VANISHING);
        let last = points.len() - 1;
        points[last] = self.end();
        points
    }

    /// The curve as an open path, for drawing.
    pub fn to_path(&self) -> BezPath {
        self.path_elements().collect()
    }

    /// Signed curvature at a length from the start, 1/mm; positive where the curve turns from x towards y.
    pub fn curvature_at(&self, along: f64) -> f64 {
        let (index, t) = self.locate(along);
        match self.segments[index] {
            PathSeg::Line(_) => 0.0,
            other => {
                let first = other.to_cubic().deriv();
                let (d1, d2) = (first.eval(t).to_vec2(), first.deriv().eval(t).to_vec2());
                let speed = d1.hypot();
                if speed < VANISHING {
                    0.0
                } else {
                    d1.cross(d2) / (speed * speed * speed)
                }
            }
        }
    }

    fn path_elements(&self) -> impl Iterator<Item = kurbo::PathEl> + '_ {
        let rest = self.segments.iter().map(|segment| match *segment {
            PathSeg::Line(line) => kurbo::PathEl::LineTo(line.p1),
            other => {
                let cubic = other.to_cubic();
                kurbo::PathEl::CurveTo(cubic.p1, cubic.p2, cubic.p3)
            }
        });
        std::iter::once(kurbo::PathEl::MoveTo(self.start())).chain(rest)
    }

    /// Segment and parameter at a length from the start.
    fn locate(&self, along: f64) -> (usize, f64) {
        let mut rest = along.max(0.0);
        for (index, segment) in self.segments.iter().enumerate() {
            let length = segment_length(segment);
            if rest <= length {
                let t = if length < VANISHING {
                    0.0
                } else {
                    inverse_length(segment, rest, length)
                };
                return (index, t);
            }
            rest -= length;
        }
        (self.segments.len() - 1, 1.0)
    }
}

/// Turn about a point; positive angles turn from x towards y, clockwise on the table.
pub fn turn_about(about: Point, angle: Angle) -> Affine {
    let (sin, cos) = math::sin_cos(angle.radians());
    let turn = Affine::new([cos, sin, -sin, cos, 0.0, 0.0]);
    Affine::translate(about.to_vec2()) * turn * Affine::translate(-about.to_vec2())
}

/// Mirror in the line through two points.
pub fn mirror_in(a: Point, b: Point) -> Affine {
    let axis = (b - a) / (b - a).hypot();
    let (c, s) = (axis.x * axis.x - axis.y * axis.y, 2.0 * axis.x * axis.y);
    Affine::translate(a.to_vec2())
        * Affine::new([c, s, s, -c, 0.0, 0.0])
        * Affine::translate(-a.to_vec2())
}

/// Angle from one direction to another, in (−180°, 180°]; positive from x towards y.
pub fn angle_between(from: Vec2, to: Vec2) -> Angle {
    Angle::from_radians(math::atan2(from.cross(to), from.dot(to)))
}

/// Unit vector at an angle from the x direction towards y.
pub fn unit(angle: Angle) -> Vec2 {
    Vec2::new(angle.cos(), angle.sin())
}

/// Arc length of one segment, mm.
fn segment_length(segment: &PathSeg) -> f64 {
    segment.arclen(ARC_ACCURACY)
}

fn inverse_length(segment: &PathSeg, along: f64, length: f64) -> f64 {
    match segment {
        PathSeg::Line(_) => along / length,
        _ if along >= length => 1.0,
        _ => parameter_at(&segment.to_cubic(), along, length),
    }
}

/// Newton steps on the arc length, whose slope is the speed, kept between bounds that close in.
fn parameter_at(cubic: &CubicBez, along: f64, length: f64) -> f64 {
    let pace = cubic.deriv();
    let (mut low, mut high) = (0.0, 1.0);
    let mut t = along / length;
    for _ in 0..60 {
        let missing = along - cubic.subsegment(0.0..t).arclen(ARC_ACCURACY);
        if missing.abs() < ARC_ACCURACY {
            break;
        }
        if missing > 0.0 {
            low = t;
        } else {
            high = t;
        }
        let next = t + missing / pace.eval(t).to_vec2().hypot();
        let inside = next > low && next < high;
        t = if inside {
            next
        } else {
            f64::midpoint(low, high)
        };
    }
    t
}

/// Unit direction at a parameter, also where a handle has no length.
pub(crate) fn direction(segment: &PathSeg, t: f64) -> Vec2 {
    let tangent = match segment {
        PathSeg::Line(line) => line.p1 - line.p0,
        other => cubic_direction(&other.to_cubic(), t),
    };
    let length = tangent.hypot();
    if length > 0.0 {
        tangent / length
    } else {
        Vec2::ZERO
    }
}

/// Direction of a cubic; where it stands still, at an end without a handle, the direction towards the next control point.
fn cubic_direction(cubic: &CubicBez, t: f64) -> Vec2 {
    let tangent = cubic.deriv().eval(t).to_vec2();
    if tangent.hypot() > VANISHING {
        return tangent;
    }
    let onwards = [cubic.p1, cubic.p2, cubic.p3].map(|point| point - cubic.p0);
    let backwards = [cubic.p2, cubic.p1, cubic.p0].map(|point| cubic.p3 - point);
    let ways = if t < 0.5 { onwards } else { backwards };
    ways.into_iter()
        .find(|way| way.hypot() > VANISHING)
        .unwrap_or(Vec2::ZERO)
}

pub(crate) fn set_start(segment: &mut PathSeg, point: Point) {
    match segment {
        PathSeg::Line(line) => line.p0 = point,
        PathSeg::Quad(quad) => quad.p0 = point,
        PathSeg::Cubic(cubic) => {
            cubic.p1 += point - cubic.p0;
            cubic.p0 = point;
        }
    }
}

pub(crate) fn set_end(segment: &mut PathSeg, point: Point) {
    match segment {
        PathSeg::Line(line) => line.p1 = point,
        PathSeg::Quad(quad) => quad.p2 = point,
        PathSeg::Cubic(cubic) => {
            cubic.p2 += point - cubic.p3;
            cubic.p3 = point;
        }
    }
}

/// Area enclosed by curves that follow each other round a closed outline, mm²; positive where it runs clockwise on the table.
pub fn enclosed_area<'a>(outline: impl IntoIterator<Item = &'a Curve>) -> f64 {
    outline.into_iter().map(Curve::area_share).sum()
}

/// One closed path of curves that follow each other, for drawing and filling.
pub fn closed_path<'a>(outline: impl IntoIterator<Item = &'a Curve>) -> BezPath {
    let mut path = BezPath::new();
    for curve in outline {
        for element in curve.path_elements().skip(usize::from(!path.is_empty())) {
            path.push(element);
        }
    }
    if !path.is_empty() {
        path.close_path();
    }
    path
}

/// Whether a point lies inside a closed path, whichever way round it runs.
pub fn contains(path: &BezPath, point: Point) -> bool {
    path.segments()
        .map(|segment| crate::winding::winding(&segment, point))
        .sum::<i32>()
        != 0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn quarter_circle(radius: f64) -> Curve {
        let k = 4.0 / 3.0 * (2f64.sqrt() - 1.0) * radius;
        Curve::cubic(
            Point::new(radius, 0.0),
            Point::new(radius, k),
            Point::new(k, radius),
            Point::new(0.0, radius),
        )
    }

    #[test]
    fn quarter_circle_has_its_length_and_area() {
        let curve = quarter_circle(100.0);
        // The classic four-arc approximation is 0.027 % off in radius at most.
        assert!((curve.length() - std::f64::consts::FRAC_PI_2 * 100.0).abs() < 0.03);
        assert!((curve.area_share() - std::f64::consts::FRAC_PI_4 * 10_000.0).abs() < 3.0);
        assert!((curve.curvature_at(60.0) - 0.01).abs() < 1e-4);
    }

    #[test]
    fn split_keeps_length_and_place() {
        let curve = quarter_circle(80.0)
            .then(&Curve::line(Point::new(0.0, 80.0), Point::new(-50.0, 80.0)))
            .unwrap();
        for along in [1.0, 60.0, curve.length() - 20.0] {
            let (before, after) = curve.split_at(along).unwrap();
            assert!((before.length() - along).abs() < 1e-5);
            assert!((before.length() + after.length() - curve.length()).abs() < 1e-5);
            assert!((before.end() - curve.point_at(along)).hypot() < 1e-5);
        }
        assert!(curve.split_at(0.0).is_none() && curve.split_at(1e9).is_none());
    }

    #[test]
    fn mirror_twice_and_turn_back_give_the_start() {
        let curve = quarter_circle(80.0);
        let (a, b) = (Point::new(3.0, 4.0), Point::new(10.0, -2.0));
        let twice = curve.mirrored(a, b).mirrored(a, b);
        assert!((twice.point_at(30.0) - curve.point_at(30.0)).hypot() < 1e-9);
        let back = curve
            .turned(a, Angle::from_degrees(33.0))
            .turned(a, Angle::from_degrees(-33.0));
        assert!((back.end() - curve.end()).hypot() < 1e-9);
    }

    #[test]
    fn nearest_gives_length_along() {
        let curve = quarter_circle(100.0);
        let found = curve.nearest(Point::new(200.0, 200.0));
        assert!((found.along - curve.length() / 2.0).abs() < 1e-3);
        assert!((found.distance - (200.0 * 2f64.sqrt() - 100.0)).abs() < 0.03);
    }

    #[test]
    fn gaps_are_refused() {
        let (a, b) = (
            Line::new((0.0, 0.0), (1.0, 0.0)),
            Line::new((2.0, 0.0), (3.0, 0.0)),
        );
        assert!(Curve::from_segments(vec![PathSeg::Line(a), PathSeg::Line(b)]).is_none());
        assert!(Curve::from_segments(vec![]).is_none());
        assert!(Curve::polyline(&[Point::new(f64::NAN, 0.0), Point::ORIGIN]).is_none());
    }
}
