//! Level sections of a body as a tape sees them: closed, convex, the same left and right.
//!
//! Knows a girth and where the section stands from front to back; no heights, no views. In a section x runs from the
//! middle to the side and y **forward**. Invariant: its perimeter is the girth it was made from, wherever the bounds of the
//! search hold one.

use geometry::math;
use geometry::solve::bracketed;
use geometry::{Point, Vec2};

/// Sides of the polygon that stands for a section; its perimeter is within 0.1 % of the curve's.
const SIDES: usize = 240;
/// How exactly a depth is solved, mm.
const DEPTH_MM: f64 = 1e-4;
/// No section is wider than this share of its girth, however the girth was measured.
const WIDEST: f64 = 0.42;

/// A closed convex section, its points in order from the right side over the front, the left side and the back.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Section {
    points: Vec<Point>,
}

/// What a section without breasts is made from, all mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Oval {
    pub(crate) girth: f64,
    pub(crate) width: f64,
    /// Exponent of the super-ellipse: 2 is an ellipse, more is squarer.
    pub(crate) exponent: f64,
    /// How far behind the plumb line the back lies; below zero.
    pub(crate) back: f64,
}

/// Two breasts before the ribs, all mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Breasts {
    /// Tape girth over them.
    pub(crate) girth: f64,
    /// From point to point.
    pub(crate) apart: f64,
    /// Radius of each.
    pub(crate) radius: f64,
}

impl Section {
    /// A super-ellipse of a girth and width; the depth is solved.
    pub(crate) fn oval(oval: Oval) -> Self {
        let half = oval.width.min(WIDEST * oval.girth) / 2.0;
        let made = |depth: f64| {
            let centre = Point::new(0.0, oval.back + depth / 2.0);
            Self::super_ellipse(centre, Vec2::new(half, depth / 2.0), oval.exponent)
        };
        let off = |depth: f64| made(depth).girth() - oval.girth;
        let depth = bracketed(1.0, oval.girth / 2.0, DEPTH_MM, off);
        made(depth.unwrap_or_else(|none| none.nearest()))
    }

    /// The convex hull of this section and two breasts; how far they stand forward is solved from the girth over them.
    pub(crate) fn with_breasts(&self, breasts: Breasts) -> Self {
        let room = self.half_width() - breasts.apart / 2.0 - 4.0;
        let radius = breasts.radius.min(room).max(20.0);
        let made = |forward: f64| {
            let middle = Point::new(breasts.apart / 2.0, self.front() + forward - radius);
            let mut points = self.points.clone();
            points.extend(circle(middle, radius));
            points.extend(circle(Point::new(-middle.x, middle.y), radius));
            Self::hull(points)
        };
        let off = |forward: f64| made(forward).girth() - breasts.girth;
        let forward = bracketed(-radius, breasts.girth / 2.0, DEPTH_MM, off);
        made(forward.unwrap_or_else(|none| none.nearest()))
    }

    /// An ellipse or super-ellipse about a centre.
    pub(crate) fn super_ellipse(centre: Point, half: Vec2, exponent: f64) -> Self {
        let power = |v: f64| math::pow(v.abs(), 2.0 / exponent).copysign(v);
        let point = |k: usize| {
            let (sin, cos) = math::sin_cos(std::f64::consts::TAU * k as f64 / SIDES as f64);
            centre + Vec2::new(half.x * power(cos), half.y * power(sin))
        };
        Self {
            points: (0..SIDES).map(point).collect(),
        }
    }

    /// The points in order round.
    pub(crate) fn points(&self) -> &[Point] {
        &self.points
    }

    /// Length once round, mm.
    pub(crate) fn girth(&self) -> f64 {
        let next = self.points.iter().cycle().skip(1);
        self.points
            .iter()
            .zip(next)
            .map(|(a, b)| a.distance(*b))
            .sum()
    }

    /// Half its width, mm.
    pub(crate) fn half_width(&self) -> f64 {
        self.points.iter().map(|p| p.x).fold(0.0, f64::max)
    }

    /// How far forward it reaches, mm.
    pub(crate) fn front(&self) -> f64 {
        self.points
            .iter()
            .map(|p| p.y)
            .fold(f64::NEG_INFINITY, f64::max)
    }

    /// How far back it reaches, mm.
    pub(crate) fn back(&self) -> f64 {
        self.points
            .iter()
            .map(|p| p.y)
            .fold(f64::INFINITY, f64::min)
    }

    /// Where its side lies from front to back, mm: the middle of what is widest.
    pub(crate) fn side(&self) -> f64 {
        let widest = self.half_width() - 0.01;
        let (low, high) = self
            .points
            .iter()
            .filter(|p| p.x >= widest)
            .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
                (low.min(p.y), high.max(p.y))
            });
        f64::midpoint(low, high)
    }

    /// All points from the right side over the front to the left side, both sides included.
    pub(crate) fn front_half(&self) -> Vec<Point> {
        let side = self.side();
        self.half(
            Point::new(self.half_width(), side),
            |p| p.y > side,
            |p| -p.x,
        )
    }

    /// All points from the right side over the back to the left side, both sides included.
    pub(crate) fn back_half(&self) -> Vec<Point> {
        let side = self.side();
        self.half(
            Point::new(self.half_width(), side),
            |p| p.y < side,
            |p| -p.x,
        )
    }

    /// All points from the middle of the front over the right side to the middle of the back, both included.
    pub(crate) fn right_half(&self) -> Vec<Point> {
        let mut half: Vec<Point> = vec![Point::new(0.0, self.front())];
        let mut right: Vec<Point> = self.points.iter().copied().filter(|p| p.x > 1e-6).collect();
        right.sort_by(|a, b| angle(self.middle(), *a).total_cmp(&angle(self.middle(), *b)));
        half.extend(right.into_iter().rev());
        half.push(Point::new(0.0, self.back()));
        half
    }

    /// The points from the middle of the front over the right side, as far as a length reaches, mm.
    pub(crate) fn right_until(&self, length: f64) -> Vec<Point> {
        let half = self.right_half();
        let mut reached = vec![half[0]];
        let mut left = length;
        for pair in half.windows(2) {
            let step = pair[0].distance(pair[1]);
            if step >= left {
                reached.push(pair[0].lerp(pair[1], left / step));
                break;
            }
            reached.push(pair[1]);
            left -= step;
        }
        reached
    }

    /// The middle of its depth on the middle line.
    fn middle(&self) -> Point {
        Point::new(0.0, f64::midpoint(self.front(), self.back()))
    }

    fn half(
        &self,
        side: Point,
        is_here: impl Fn(&Point) -> bool,
        along: impl Fn(&Point) -> f64,
    ) -> Vec<Point> {
        let mut between: Vec<Point> = self
            .points
            .iter()
            .copied()
            .filter(|p| is_here(p) && p.x.abs() < side.x - 1e-6)
            .collect();
        between.sort_by(|a, b| along(a).total_cmp(&along(b)));
        let mut half = vec![side];
        half.extend(between);
        half.push(Point::new(-side.x, side.y));
        half
    }

    /// The convex hull of points (A. M. Andrew, Information Processing Letters 9, 1979).
    fn hull(mut points: Vec<Point>) -> Self {
        points.sort_by(|a, b| a.x.total_cmp(&b.x).then(a.y.total_cmp(&b.y)));
        let mut hull = chain(points.iter().copied());
        hull.pop();
        let mut back = chain(points.iter().rev().copied());
        back.pop();
        hull.extend(back);
        Self { points: hull }
    }
}

/// One side of the hull of sorted points, turning one way only.
fn chain(points: impl Iterator<Item = Point>) -> Vec<Point> {
    let mut chain: Vec<Point> = Vec::new();
    for point in points {
        while let [.., a, b] = chain.as_slice()
            && (*b - *a).cross(point - *b) <= 0.0
        {
            chain.pop();
        }
        chain.push(point);
    }
    chain
}

fn circle(centre: Point, radius: f64) -> Vec<Point> {
    Section::super_ellipse(centre, Vec2::new(radius, radius), 2.0).points
}

/// The direction to a point on the right, from straight back to straight ahead.
fn angle(from: Point, to: Point) -> f64 {
    math::atan2(to.y - from.y, to.x - from.x)
}
