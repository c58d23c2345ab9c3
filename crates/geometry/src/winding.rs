//! How often a segment winds round a point.
//!
//! Knows single segments; summed over a closed path it tells inside from outside. Invariant: segments that share an end are
//! counted once there, so that a point level with a corner is told right.

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, PathSeg, Point};

use crate::{crossing::hull, solve::bracketed};

/// How often a segment passes the ray from a point to the right: 1 downwards, −1 upwards. Ends count on one side only, so
/// that segments which share an end are counted once there.
pub(crate) fn winding(segment: &PathSeg, point: Point) -> i32 {
    let cubic = match segment {
        PathSeg::Line(line) => {
            let share = (point.y - line.p0.y) / (line.p1.y - line.p0.y);
            let is_right = || line.p0.x + (line.p1.x - line.p0.x) * share > point.x;
            return passes(line.p0.y, line.p1.y, point.y, is_right);
        }
        other => other.to_cubic(),
    };
    let hull = hull(segment);
    if point.y < hull.y0 || point.y > hull.y1 || point.x > hull.x1 {
        return 0;
    }
    let turns = level_places(&cubic);
    turns
        .windows(2)
        .map(|ends| {
            let height = |t: f64| match t {
                0.0 => cubic.p0.y,
                1.0 => cubic.p3.y,
                _ => cubic.eval(t).y,
            };
            let is_right = || {
                let offset = |t: f64| height(t) - point.y;
                let t = bracketed(ends[0], ends[1], 1e-13, offset);
                point.x < hull.x0 || t.is_ok_and(|t| cubic.eval(t).x > point.x)
            };
            passes(height(ends[0]), height(ends[1]), point.y, is_right)
        })
        .sum()
}

fn passes(from: f64, to: f64, level: f64, is_right: impl Fn() -> bool) -> i32 {
    match (from > level, to > level) {
        (false, true) if is_right() => 1,
        (true, false) if is_right() => -1,
        _ => 0,
    }
}

/// The parameters between which a cubic only rises or only falls, ends included.
fn level_places(cubic: &CubicBez) -> Vec<f64> {
    let pace = cubic.deriv();
    let (a, b, c) = (pace.p0.y, pace.p1.y, pace.p2.y);
    let roots = kurbo::common::solve_quadratic(a, 2.0 * (b - a), a - 2.0 * b + c);
    let mut places = vec![0.0, 1.0];
    places.extend(roots.into_iter().filter(|t| *t > 0.0 && *t < 1.0));
    places.sort_by(f64::total_cmp);
    places
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Curve;

    #[test]
    fn points_level_with_a_corner_are_told_right() {
        let corners: [Point; 4] =
            [(0.0, 0.0), (50.0, -20.0), (100.0, 0.0), (50.0, 40.0)].map(Point::from);
        let outline: Vec<Curve> = (0..4)
            .map(|k| {
                let (from, to) = (corners[k], corners[(k + 1) % 4]);
                Curve::cubic(from, from.lerp(to, 0.2), from.lerp(to, 0.9), to)
            })
            .collect();
        let path = crate::curve::closed_path(&outline);
        let inside = |x: f64, y: f64| crate::curve::contains(&path, Point::new(x, y));
        assert!(inside(50.0, 0.0) && inside(1.0, 0.0) && inside(99.0, 0.0));
        assert!(!inside(-5.0, 0.0) && !inside(105.0, 0.0));
        assert!(!inside(0.0, -20.0) && !inside(90.0, -20.0) && !inside(0.0, 40.0));
    }
}
