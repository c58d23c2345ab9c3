//! Outlines of pieces as polygons that hold all of the cloth that is cut.
//!
//! Knows curves and a grid, no piece. Invariant: a polygon holds the curve from which it was made and strays from it by no more
//! than a tenth of a millimetre.

use geometry::{Curve, Point, Tolerance, Vec2};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

/// How far chords may stray from the curve, mm.
const CHORDS: f64 = 0.03;
/// How far corners may be left out, mm.
const CORNERS: f64 = 0.01;
/// How far the polygon is moved outward, mm: as far as the two together, and a little against rounding.
const OUTWARD: f64 = 0.045;
/// How far a mitre may reach, times the distance outward: a tenth of a millimetre in all.
const MITRE: f64 = 2.0;
/// Steps of the grid a millimetre.
const GRID: f64 = 65_536.0;

/// The polygon round a closed outline of curves that follow each other.
pub(super) fn polygon<'a>(outline: impl IntoIterator<Item = &'a Curve>) -> Vec<Point> {
    let chords = Tolerance::from_mm(CHORDS).unwrap_or(Tolerance::DRAWING);
    let mut ring: Vec<Point> = Vec::new();
    for curve in outline {
        ring.extend(curve.flattened(chords));
    }
    largest(&[moved_out(&thinned(&counter_clockwise(ring)))])
}

/// The polygon of two that overlap or touch, as one.
pub(super) fn union(one: &[Point], other: &[Point]) -> Vec<Point> {
    largest(&[one.to_vec(), other.to_vec()])
}

/// What of a rectangle an outline does not cover: the parts to keep off on a left-over.
pub(super) fn rest_of(rectangle: &[Point], outline: &[Point]) -> Vec<Vec<Point>> {
    let (all, part) = (on_grid(rectangle), on_grid(outline));
    let mut overlay = Overlay::from_subj_and_clip(&all, &part);
    let shapes = overlay.overlay(OverlayRule::Difference, FillRule::NonZero);
    let outer = shapes
        .into_iter()
        .filter_map(|shape| shape.into_iter().next());
    outer.map(|ring| off_grid(&ring)).collect()
}

/// The ring so that its area is positive, without points that come twice.
pub(super) fn counter_clockwise(mut ring: Vec<Point>) -> Vec<Point> {
    ring.dedup_by(|next, kept| next.distance(*kept) < 1e-6);
    while ring.len() > 1 && ring[0].distance(ring[ring.len() - 1]) < 1e-6 {
        ring.pop();
    }
    if area(&ring) < 0.0 {
        ring.reverse();
    }
    ring
}

/// The area, positive where the ring runs from x towards y.
pub(super) fn area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    let twice: f64 = ring
        .iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - a.y * b.x)
        .sum();
    twice / 2.0
}

/// The ring without corners that hardly are any.
fn thinned(ring: &[Point]) -> Vec<Point> {
    let mut kept: Vec<Point> = Vec::with_capacity(ring.len());
    // What was left out since the last corner that was kept: none may come to lie too far off.
    let mut left_out: Vec<Point> = Vec::new();
    for (index, &point) in ring.iter().enumerate() {
        let Some(&last) = kept.last() else {
            kept.push(point);
            continue;
        };
        let next = ring[(index + 1) % ring.len()];
        left_out.push(point);
        if left_out
            .iter()
            .any(|one| off_line(*one, last, next) > CORNERS)
        {
            kept.push(point);
            left_out.clear();
        }
    }
    kept
}

/// How far a point lies from the stretch between two others.
fn off_line(point: Point, from: Point, to: Point) -> f64 {
    let way = to - from;
    let length = way.hypot2();
    if length == 0.0 {
        return point.distance(from);
    }
    let share = ((point - from).dot(way) / length).clamp(0.0, 1.0);
    point.distance(from + way * share)
}

/// Every side moved outward, joined by mitres; by a bevel where a mitre would reach too far.
fn moved_out(ring: &[Point]) -> Vec<Point> {
    let count = ring.len();
    let mut moved = Vec::with_capacity(count);
    for index in 0..count {
        let (before, at, after) = (
            ring[(index + count - 1) % count],
            ring[index],
            ring[(index + 1) % count],
        );
        let (first, second) = (outside(at - before), outside(after - at));
        let sum = first + second;
        // The mitre's tip lies on the middle of both directions, 1 / cos(half the turn) as far out as the sides.
        let reach = 2.0 / sum.hypot().max(1e-9);
        if reach <= MITRE {
            let middle = sum / sum.hypot();
            moved.push(at + middle * (OUTWARD * reach));
        } else {
            moved.push(at + first * OUTWARD);
            moved.push(at + second * OUTWARD);
        }
    }
    moved
}

/// The unit direction out of a ring that runs counter-clockwise, beside a side of it.
fn outside(side: Vec2) -> Vec2 {
    let length = side.hypot().max(1e-12);
    Vec2::new(side.y, -side.x) / length
}

/// The largest outer ring of what rings cover together, free of crossings.
fn largest(rings: &[Vec<Point>]) -> Vec<Point> {
    let rings: Vec<Vec<IntPoint<i64>>> = rings.iter().map(|ring| on_grid(ring)).collect();
    let mut overlay = Overlay::from_subj_and_clip(&rings, &Vec::<Vec<IntPoint<i64>>>::new());
    let shapes = overlay.overlay(OverlayRule::Subject, FillRule::NonZero);
    let outer = shapes
        .into_iter()
        .filter_map(|shape| shape.into_iter().next());
    outer
        .map(|ring| off_grid(&ring))
        .max_by(|a, b| area(a).abs().total_cmp(&area(b).abs()))
        .unwrap_or_default()
}

fn on_grid(ring: &[Point]) -> Vec<IntPoint<i64>> {
    let step = |value: f64| (value * GRID).round() as i64;
    counter_clockwise(ring.to_vec())
        .iter()
        .map(|point| IntPoint::new(step(point.x), step(point.y)))
        .collect()
}

fn off_grid(ring: &[IntPoint<i64>]) -> Vec<Point> {
    let ring = ring
        .iter()
        .map(|point| Point::new(point.x as f64 / GRID, point.y as f64 / GRID));
    counter_clockwise(ring.collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::outline::{contains, distance_to};

    fn leaf() -> Vec<Curve> {
        let p = Point::new;
        vec![
            Curve::cubic(p(0.0, 0.0), p(60.0, -80.0), p(200.0, -40.0), p(260.0, 0.0)),
            // A hollow as deep as an armhole, then a sharp tip.
            Curve::cubic(
                p(260.0, 0.0),
                p(200.0, 20.0),
                p(190.0, 60.0),
                p(300.0, 140.0),
            ),
            Curve::line(p(300.0, 140.0), p(0.0, 0.0)),
        ]
    }

    #[test]
    fn a_polygon_holds_its_curves_and_strays_no_tenth_of_a_millimetre() {
        let leaf = leaf();
        let ring = polygon(&leaf);
        let sides: Vec<Curve> = ring
            .iter()
            .zip(ring.iter().cycle().skip(1))
            .map(|(a, b)| Curve::line(*a, *b))
            .collect();
        for curve in &leaf {
            for step in 0..=500 {
                let point = curve.point_at(curve.length() * f64::from(step) / 500.0);
                assert!(contains(&sides, point), "{point:?} is outside");
                assert!(distance_to(&sides, point) < 0.1, "{point:?}");
            }
        }
        for point in &ring {
            assert!(distance_to(&leaf, *point) <= 0.1, "{point:?}");
        }
        assert!(ring.len() < 120, "{} corners", ring.len());
    }

    #[test]
    fn what_an_outline_leaves_of_a_rectangle_is_told() {
        let p = Point::new;
        let all = [p(0.0, 0.0), p(10.0, 0.0), p(10.0, 10.0), p(0.0, 10.0)];
        let corner_off = [
            p(0.0, 0.0),
            p(10.0, 0.0),
            p(10.0, 6.0),
            p(6.0, 10.0),
            p(0.0, 10.0),
        ];
        let rest = rest_of(&all, &corner_off);
        assert_eq!(rest.len(), 1);
        assert!((area(&rest[0]) - 8.0).abs() < 1e-6);
    }
}
