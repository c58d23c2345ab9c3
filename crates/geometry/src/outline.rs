//! Questions about the region that a closed outline encloses: inside or out, how far away, its middle, its roomiest place.
//!
//! Knows no pieces. Outlines are curves that follow each other and close; which way round does not matter. Invariant: the
//! answers depend on the outline alone, so that labels stand in the same place on every machine.

use std::{cmp::Ordering, collections::BinaryHeap};

use kurbo::{CubicBez, ParamCurve, ParamCurveDeriv, PathSeg, Point, Rect, Vec2};

use crate::{
    Curve, Tolerance,
    curve::{closed_path, enclosed_area},
};

/// The largest circle that lies inside an outline, to a tolerance: where a label has most room.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Its centre.
    pub point: Point,
    /// Its radius, mm.
    pub radius: f64,
}

/// Whether a point lies inside a closed outline.
pub fn contains<'a>(outline: impl IntoIterator<Item = &'a Curve>, point: Point) -> bool {
    crate::curve::contains(&closed_path(outline), point)
}

/// Distance from a point to the nearest place on an outline, mm; infinite where it has no curves.
pub fn distance_to<'a>(outline: impl IntoIterator<Item = &'a Curve>, point: Point) -> f64 {
    outline
        .into_iter()
        .map(|curve| curve.nearest(point).distance)
        .fold(f64::INFINITY, f64::min)
}

/// Centre of gravity of the region inside, exact for cubics; `None` where it has no area.
pub fn centroid<'a>(outline: impl IntoIterator<Item = &'a Curve>) -> Option<Point> {
    let curves: Vec<&Curve> = outline.into_iter().collect();
    let area = enclosed_area(curves.iter().copied());
    if area.abs() < 1e-9 {
        return None;
    }
    let origin = curves.first()?.start();
    let moments = curves
        .iter()
        .flat_map(|curve| curve.segments())
        .fold(Vec2::ZERO, |sum, segment| sum + moments(segment, origin));
    Some(origin + moments / area)
}

/// The roomiest place inside an outline, its radius to the tolerance; `None` where there is no inside.
///
/// Squares are divided as long as a better place may lie in them (the search for a "pole of inaccessibility"; Garcia-
/// Castellanos & Lombardo, Scottish Geographical Journal 123, 2007, do the same on a globe).
pub fn roomiest<'a>(
    outline: impl IntoIterator<Item = &'a Curve>,
    tolerance: Tolerance,
) -> Option<Room> {
    let curves: Vec<&Curve> = outline.into_iter().collect();
    let borders = Borders::of(&curves, tolerance);
    let around = curves
        .iter()
        .map(|curve| curve.bounds())
        .reduce(|a, b| a.union(b))?;
    let mut best = borders.square(centroid(curves.iter().copied())?, 0.0);
    let mut waiting: BinaryHeap<Square> = borders.first_squares(around).into();
    while let Some(square) = waiting.pop() {
        if square.distance > best.distance {
            best = square;
        }
        if square.hope() <= best.distance + tolerance.mm() {
            break;
        }
        let quarter = square.half / 2.0;
        for way in [(-1.0, -1.0), (1.0, -1.0), (-1.0, 1.0), (1.0, 1.0)] {
            waiting.push(borders.square(square.centre + Vec2::from(way) * quarter, quarter));
        }
    }
    (best.distance > 0.0).then_some(Room {
        point: best.centre,
        radius: best.distance,
    })
}

/// First moments of area that one segment contributes, about an origin, by Green's theorem: (∫ x² dy, −∫ y² dx) / 2.
/// The integrands are of degree 8, for which five places of Gauss and Legendre are exact.
fn moments(segment: &PathSeg, origin: Point) -> Vec2 {
    const PLACES: [(f64, f64); 5] = [
        (0.0, 0.568_888_888_888_888_9),
        (0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (-0.538_469_310_105_683_1, 0.478_628_670_499_366_5),
        (0.906_179_845_938_664, 0.236_926_885_056_189_1),
        (-0.906_179_845_938_664, 0.236_926_885_056_189_1),
    ];
    let cubic: CubicBez = segment.to_cubic();
    let pace = cubic.deriv();
    PLACES.iter().fold(Vec2::ZERO, |sum, (place, weight)| {
        let t = f64::midpoint(1.0, *place);
        let (at, way) = (cubic.eval(t) - origin, pace.eval(t));
        sum + Vec2::new(at.x * at.x * way.y, -at.y * at.y * way.x) * (weight / 4.0)
    })
}

/// An outline as straight lines, for many questions about distance.
struct Borders {
    lines: Vec<(Point, Point)>,
}

/// An upright square with the signed distance of its centre from the outline, above zero inside.
#[derive(Clone, Copy)]
struct Square {
    centre: Point,
    half: f64,
    distance: f64,
}

impl Borders {
    fn of(curves: &[&Curve], tolerance: Tolerance) -> Self {
        let fine = Tolerance::from_mm(tolerance.mm() / 4.0).unwrap_or(tolerance);
        let lines = curves
            .iter()
            .flat_map(|curve| {
                let points = curve.flattened(fine);
                let pairs: Vec<_> = points.windows(2).map(|pair| (pair[0], pair[1])).collect();
                pairs
            })
            .collect();
        Self { lines }
    }

    fn first_squares(&self, around: Rect) -> Vec<Square> {
        let side = around
            .width()
            .min(around.height())
            .max(around.width().max(around.height()) / 32.0);
        let count = |length: f64| (length / side).ceil().max(1.0) as u32;
        let half = side / 2.0;
        (0..count(around.height()))
            .flat_map(|row| (0..count(around.width())).map(move |column| (column, row)))
            .map(|(column, row)| {
                let steps = Vec2::new(f64::from(column), f64::from(row));
                self.square(around.origin() + Vec2::new(half, half) + steps * side, half)
            })
            .collect()
    }

    fn square(&self, centre: Point, half: f64) -> Square {
        let mut inside = false;
        let mut nearest = f64::INFINITY;
        for &(a, b) in &self.lines {
            let (along, off) = (b - a, centre - a);
            if (a.y > centre.y) != (b.y > centre.y) {
                let crosses = a.x + (centre.y - a.y) / along.y * along.x > centre.x;
                inside ^= crosses;
            }
            let share = (off.dot(along) / along.hypot2().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            nearest = nearest.min((off - along * share).hypot2());
        }
        let distance = nearest.sqrt() * if inside { 1.0 } else { -1.0 };
        Square {
            centre,
            half,
            distance,
        }
    }
}

impl Square {
    /// The largest distance that any place in the square can have.
    fn hope(&self) -> f64 {
        self.distance + self.half * std::f64::consts::SQRT_2
    }

    /// The most hopeful first; of equals the upper, then the left one.
    fn rank(&self, other: &Self) -> Ordering {
        self.hope()
            .total_cmp(&other.hope())
            .then(other.centre.y.total_cmp(&self.centre.y))
            .then(other.centre.x.total_cmp(&self.centre.x))
    }
}

impl PartialEq for Square {
    fn eq(&self, other: &Self) -> bool {
        self.rank(other) == Ordering::Equal
    }
}

impl Eq for Square {}

impl PartialOrd for Square {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Square {
    fn cmp(&self, other: &Self) -> Ordering {
        self.rank(other)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn polygon(points: &[(f64, f64)]) -> Vec<Curve> {
        let count = points.len();
        (0..count)
            .map(|k| Curve::line(points[k].into(), points[(k + 1) % count].into()))
            .collect()
    }

    /// A half disc of radius 100 above y = 0, clockwise on the table.
    fn half_disc() -> Vec<Curve> {
        let k = 4.0 / 3.0 * (2f64.sqrt() - 1.0) * 100.0;
        let rise = Curve::cubic(
            (-100.0, 0.0).into(),
            (-100.0, -k).into(),
            (-k, -100.0).into(),
            (0.0, -100.0).into(),
        );
        let fall = Curve::cubic(
            (0.0, -100.0).into(),
            (k, -100.0).into(),
            (100.0, -k).into(),
            (100.0, 0.0).into(),
        );
        let base = Curve::line((100.0, 0.0).into(), (-100.0, 0.0).into());
        vec![rise, fall, base]
    }

    #[test]
    fn half_disc_has_its_centre_of_gravity() {
        // Archimedes: 4 r / (3 π) from the base.
        let centre = centroid(&half_disc()).unwrap();
        assert!(centre.x.abs() < 1e-9);
        assert!((centre.y + 400.0 / (3.0 * std::f64::consts::PI)).abs() < 0.02);
        assert_eq!(centroid(&polygon(&[(0.0, 0.0), (9.0, 0.0)])), None);
    }

    #[test]
    fn inside_outside_and_distance() {
        let disc = half_disc();
        assert!(contains(&disc, Point::new(0.0, -99.0)));
        assert!(
            !contains(&disc, Point::new(0.0, 1.0)) && !contains(&disc, Point::new(90.0, -90.0))
        );
        assert!((distance_to(&disc, Point::new(0.0, -150.0)) - 50.0).abs() < 1e-9);
        assert!((distance_to(&disc, Point::new(3.0, -7.0)) - 7.0).abs() < 1e-9);
    }

    #[test]
    fn roomiest_place_of_known_shapes() {
        let room = roomiest(&half_disc(), Tolerance::DRAWING).unwrap();
        assert!(
            (room.radius - 50.0).abs() < 0.05
                && (room.point - Point::new(0.0, -50.0)).hypot() < 2.0
        );
        // The circle in a triangle: radius = 2 area / girth.
        let triangle = polygon(&[(0.0, 0.0), (30.0, 0.0), (0.0, 40.0)]);
        let room = roomiest(&triangle, Tolerance::DRAWING).unwrap();
        assert!((room.radius - 10.0).abs() < 0.02);
        // An L whose centre of gravity lies outside.
        let bent = polygon(&[
            (0.0, 0.0),
            (100.0, 0.0),
            (100.0, 10.0),
            (10.0, 10.0),
            (10.0, 100.0),
            (0.0, 100.0),
        ]);
        assert!(!contains(&bent, centroid(&bent).unwrap()));
        let room = roomiest(&bent, Tolerance::DRAWING).unwrap();
        // Touches both outer sides and the inner corner: r = (r − 10)·(−√2), so r = 10 √2 / (1 + √2).
        assert!(
            (room.radius - 10.0 * 2f64.sqrt() / (1.0 + 2f64.sqrt())).abs() < 0.02,
            "{room:?}"
        );
        assert!(roomiest(&polygon(&[(0.0, 0.0), (9.0, 0.0)]), Tolerance::DRAWING).is_none());
    }
}
