//! Smooth curves through given points, with given directions where they are known.
//!
//! Source: J. D. Hobby, "Smooth, easy to compute interpolating splines", Discrete & Computational Geometry 1 (1986):
//! directions that are not given follow from equal mock curvature on both sides of a point, handle lengths from the
//! velocity function of the two angles between direction and chord.

use kurbo::{CubicBez, PathSeg, Point, Vec2};

use crate::{Curve, math};

/// A point that a smooth curve passes through.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Knot {
    /// The point.
    pub point: Point,
    /// The direction in which the curve passes it, of any length above zero; free where `None`.
    pub direction: Option<Vec2>,
}

impl Knot {
    /// A point passed in whichever direction is smoothest.
    pub fn free(point: Point) -> Self {
        Self {
            point,
            direction: None,
        }
    }

    /// A point passed in a given direction.
    pub fn toward(point: Point, direction: Vec2) -> Self {
        Self {
            point,
            direction: Some(direction),
        }
    }
}

impl Curve {
    /// A smooth curve through knots; `None` for fewer than two, or where two that follow each other coincide.
    pub fn smooth(knots: &[Knot]) -> Option<Self> {
        let apart = knots
            .windows(2)
            .all(|pair| (pair[1].point - pair[0].point).hypot() > 1e-9);
        if knots.len() < 2 || !apart {
            return None;
        }
        let directions = all_directions(knots);
        let segments = knots
            .windows(2)
            .zip(directions.windows(2))
            .map(|(pair, ways)| {
                PathSeg::Cubic(segment(pair[0].point, ways[0], pair[1].point, ways[1]))
            })
            .collect();
        Self::from_segments(segments)
    }
}

/// One cubic between two points with given directions, its handles from Hobby's velocity function.
fn segment(from: Point, leaves: Vec2, to: Point, arrives: Vec2) -> CubicBez {
    let chord = to - from;
    let theta = signed_angle(chord, leaves);
    let phi = signed_angle(arrives, chord);
    let length = chord.hypot();
    let [most_first, most_second] = most_handles(theta, phi);
    let first = unit(leaves) * (length * (velocity(theta, phi) / 3.0).min(most_first));
    let second = unit(arrives) * (length * (velocity(phi, theta) / 3.0).min(most_second));
    CubicBez::new(from, from + first, to - second, to)
}

/// How long the handles may be, over the chord, so that a curve that turns one way does not leave the triangle of its chord
/// and its end tangents: longer ones would make it dip beyond its own ends.
///
/// A curve that leaves nearly along its chord has next to no triangle and needs its handles to hold its directions: where one
/// angle is less than a quarter of the other, the bound gives way, in proportion, so that the curve never jumps.
fn most_handles(theta: f64, phi: f64) -> [f64; 2] {
    const HELD: f64 = 0.25;
    let (st, sp, both) = (math::sin(theta), math::sin(phi), math::sin(theta + phi));
    if theta * phi <= 0.0 || st * both <= 0.0 {
        return [f64::INFINITY; 2];
    }
    let ratio = (theta / phi).min(phi / theta);
    let given = (HELD - ratio).max(0.0) / HELD;
    [sp / both + given, st / both + given]
}

/// Hobby's velocity function, as published: (2 + a) / (1 + (1 − c)·cos θ + c·cos φ), with
/// a = √2·(sin θ − sin φ/16)·(sin φ − sin θ/16)·(cos θ − cos φ) and c = (3 − √5)/2; kept under 3 for handles that stay sane.
fn velocity(theta: f64, phi: f64) -> f64 {
    let ((st, ct), (sp, cp)) = (math::sin_cos(theta), math::sin_cos(phi));
    let a = std::f64::consts::SQRT_2 * (st - sp / 16.0) * (sp - st / 16.0) * (ct - cp);
    let c = (3.0 - 5f64.sqrt()) / 2.0;
    let below = 1.0 + (1.0 - c) * ct + c * cp;
    if below <= 0.0 {
        3.0
    } else {
        ((2.0 + a) / below).clamp(0.1, 3.0)
    }
}

/// A direction for every knot: the given ones, and between them those of equal mock curvature.
fn all_directions(knots: &[Knot]) -> Vec<Vec2> {
    let mut directions: Vec<Vec2> = knots
        .iter()
        .map(|knot| knot.direction.unwrap_or(Vec2::ZERO))
        .collect();
    let last = knots.len() - 1;
    let mut start = 0;
    while start < last {
        let end = (start + 1..last)
            .find(|&index| knots[index].direction.is_some())
            .unwrap_or(last);
        for (offset, way) in stretch_directions(&knots[start..=end])
            .into_iter()
            .enumerate()
        {
            directions[start + offset] = way;
        }
        start = end;
    }
    directions
}

/// Directions along a stretch of knots of which only the ends may have one.
fn stretch_directions(knots: &[Knot]) -> Vec<Vec2> {
    let chords: Vec<Vec2> = knots
        .windows(2)
        .map(|pair| pair[1].point - pair[0].point)
        .collect();
    let last = knots.len() - 1;
    let turns: Vec<f64> = (0..=last)
        .map(|k| {
            if k == 0 || k == last {
                0.0
            } else {
                signed_angle(chords[k - 1], chords[k])
            }
        })
        .collect();
    let mut rows = Rows::new(last + 1);
    match knots[0].direction {
        Some(way) => rows.set(0, [0.0, 1.0, 0.0], signed_angle(chords[0], way)),
        // Free end: mock curvature of the end equals that of its neighbour ("curl 1").
        None => rows.set(0, [0.0, 1.0, 1.0], -turns[1]),
    }
    for k in 1..last {
        let (before, after) = (chords[k - 1].hypot(), chords[k].hypot());
        let diagonal = 2.0 / before + 2.0 / after;
        let right = -(2.0 * turns[k] / before + turns[k + 1] / after);
        rows.set(k, [1.0 / before, diagonal, 1.0 / after], right);
    }
    match knots[last].direction {
        Some(way) => rows.set(last, [0.0, 1.0, 0.0], signed_angle(chords[last - 1], way)),
        None => rows.set(last, [1.0, 1.0, 0.0], 0.0),
    }
    let theta = rows.solved();
    // An angle is measured from the chord that follows; the last one from the chord before it.
    (0..=last)
        .map(|k| turned(unit(chords[k.min(last - 1)]), theta[k]))
        .collect()
}

/// A tridiagonal system, one row a knot.
struct Rows {
    rows: Vec<([f64; 3], f64)>,
}

impl Rows {
    fn new(count: usize) -> Self {
        Self {
            rows: vec![([0.0; 3], 0.0); count],
        }
    }

    fn set(&mut self, row: usize, coefficients: [f64; 3], right: f64) {
        self.rows[row] = (coefficients, right);
    }

    /// Thomas's elimination; the systems here are diagonally dominant but for free ends, which stay regular.
    fn solved(self) -> Vec<f64> {
        let mut upper = Vec::with_capacity(self.rows.len());
        let mut right = Vec::with_capacity(self.rows.len());
        for (index, ([a, b, c], d)) in self.rows.iter().enumerate() {
            let (u, r) = if index == 0 {
                (0.0, 0.0)
            } else {
                (upper[index - 1], right[index - 1])
            };
            let pivot = b - a * u;
            let pivot = if pivot.abs() < 1e-12 { 1e-12 } else { pivot };
            upper.push(c / pivot);
            right.push((d - a * r) / pivot);
        }
        for index in (0..right.len().saturating_sub(1)).rev() {
            right[index] -= upper[index] * right[index + 1];
        }
        right
    }
}

fn signed_angle(from: Vec2, to: Vec2) -> f64 {
    math::atan2(from.cross(to), from.dot(to))
}

fn unit(vector: Vec2) -> Vec2 {
    vector / vector.hypot()
}

fn turned(vector: Vec2, angle: f64) -> Vec2 {
    let (sin, cos) = math::sin_cos(angle);
    Vec2::new(
        vector.x * cos - vector.y * sin,
        vector.x * sin + vector.y * cos,
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quarter_circle_by_its_directions() {
        let knots = [
            Knot::toward(Point::new(100.0, 0.0), Vec2::new(0.0, 1.0)),
            Knot::toward(Point::new(0.0, 100.0), Vec2::new(-1.0, 0.0)),
        ];
        let curve = Curve::smooth(&knots).unwrap();
        for step in 0..=20 {
            let point = curve.point_at(curve.length() * f64::from(step) / 20.0);
            assert!((point.to_vec2().hypot() - 100.0).abs() < 0.05);
        }
    }

    #[test]
    fn free_points_on_a_circle_give_the_circle() {
        let knots: Vec<Knot> = (0..=6)
            .map(|k| {
                let (sin, cos) = math::sin_cos(f64::from(k) * std::f64::consts::PI / 6.0);
                Knot::free(Point::new(100.0 * cos, 100.0 * sin))
            })
            .collect();
        let curve = Curve::smooth(&knots).unwrap();
        for step in 0..=40 {
            let point = curve.point_at(curve.length() * f64::from(step) / 40.0);
            assert!((point.to_vec2().hypot() - 100.0).abs() < 0.02);
        }
    }

    #[test]
    fn directions_are_kept() {
        let way = Vec2::new(1.0, 2.0);
        let knots = [
            Knot::free(Point::ORIGIN),
            Knot::toward(Point::new(50.0, 20.0), way),
            Knot::free(Point::new(60.0, 90.0)),
        ];
        let curve = Curve::smooth(&knots).unwrap();
        let middle = curve.segments()[0].to_cubic();
        assert!((middle.p3 - middle.p2).cross(way).abs() < 1e-9);
        assert!(Curve::smooth(&knots[..1]).is_none());
    }
}
