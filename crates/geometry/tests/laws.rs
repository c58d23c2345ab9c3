//! Laws of curves, offsets and outlines, on random smooth curves such as a pattern has.

use geometry::{
    Affine, Angle, Curve, Knot, Point, Tolerance, Vec2,
    allowance::{AllowanceError, Corner, CuttingOutline, Side, Which, cutting_outline},
    curve::{enclosed_area, unit},
    outline::{contains, distance_to, roomiest},
    simple::{clashes, is_simple},
};
use proptest::prelude::*;

const TOLERANCE: Tolerance = Tolerance::PATTERN;

/// A smooth curve that turns by at most 50° from knot to knot.
fn smooth_curve() -> impl Strategy<Value = Curve> {
    let steps = prop::collection::vec((30.0..120.0f64, -50.0..50.0f64), 1..5);
    (steps, -180.0..180.0f64).prop_map(|(steps, first)| {
        let mut knots = vec![Knot::free(Point::new(12.0, -7.0))];
        let mut heading = first;
        for (length, turn) in steps {
            heading += turn;
            let from = knots[knots.len() - 1].point;
            knots.push(Knot::free(
                from + unit(Angle::from_degrees(heading)) * length,
            ));
        }
        Curve::smooth(&knots).expect("knots are at least 30 mm apart")
    })
}

/// A closed outline round the origin, clockwise on the table, of slightly curved sides of uneven length.
fn outline(sides: std::ops::Range<usize>) -> impl Strategy<Value = Vec<Curve>> {
    prop::collection::vec((150.0..300.0f64, 0.3..1.0f64, -0.06..0.06f64), sides).prop_map(
        |corners| {
            let round: f64 = corners.iter().map(|corner| corner.1).sum();
            let mut angle = 0.0;
            let points: Vec<(Point, f64)> = corners
                .iter()
                .map(|&(radius, share, bulge)| {
                    angle += 360.0 * share / round;
                    (
                        Point::ORIGIN + unit(Angle::from_degrees(angle)) * radius,
                        bulge,
                    )
                })
                .collect();
            (0..points.len())
                .map(|k| {
                    let ((from, bulge), (to, _)) = (points[k], points[(k + 1) % points.len()]);
                    bulged(from, to, bulge)
                })
                .collect()
        },
    )
}

fn bulged(from: Point, to: Point, bulge: f64) -> Curve {
    let chord = to - from;
    let aside = Vec2::new(chord.y, -chord.x) * bulge;
    Curve::cubic(
        from,
        from + chord / 3.0 + aside,
        to - chord / 3.0 + aside,
        to,
    )
}

fn samples(curve: &Curve, count: u32) -> impl Iterator<Item = Point> + '_ {
    let length = curve.length();
    (0..=count).map(move |k| curve.point_at(length * f64::from(k) / f64::from(count)))
}

fn apart(a: &Curve, b: &Curve) -> f64 {
    let one_way = |a: &Curve, b: &Curve| {
        samples(a, 60)
            .map(|point| b.nearest(point).distance)
            .fold(0.0, f64::max)
    };
    one_way(a, b).max(one_way(b, a))
}

/// Crossings of two runs of straight lines, by trying all pairs.
fn crossings_by_trial(a: &[Point], b: &[Point]) -> usize {
    let side = |p: Point, q: Point, r: Point| (q - p).cross(r - p) > 0.0;
    let cross = |p: &[Point], q: &[Point]| {
        side(p[0], p[1], q[0]) != side(p[0], p[1], q[1])
            && side(q[0], q[1], p[0]) != side(q[0], q[1], p[1])
    };
    a.windows(2)
        .map(|p| b.windows(2).filter(|q| cross(p, q)).count())
        .sum()
}

/// Where a closed run of straight lines crosses itself, by trying all pairs.
fn crosses_itself(outline: &[Curve]) -> Option<[[Point; 2]; 2]> {
    let points: Vec<Point> = outline
        .iter()
        .flat_map(|curve| {
            let mut points = curve.flattened(TOLERANCE);
            points.pop();
            points
        })
        .collect();
    let count = points.len();
    let line = |k: usize| [points[k], points[(k + 1) % count]];
    (0..count)
        .flat_map(|a| (a + 2..count).map(move |b| (a, b)))
        .filter(|(a, b)| (b + 1) % count != *a)
        .map(|(a, b)| [line(a), line(b)])
        .find(|[p, q]| crossings_by_trial(p, q) > 0)
}

fn sides(outline: &[Curve], distances: &[f64], corners: &[Corner]) -> Vec<Side> {
    outline
        .iter()
        .enumerate()
        .map(|(k, curve)| Side {
            curve: curve.clone(),
            distance: distances[k % distances.len()],
            corner: corners[k % corners.len()],
        })
        .collect()
}

fn any_corner() -> impl Strategy<Value = Corner> {
    let which = || prop_oneof![Just(Which::Before), Just(Which::After)];
    prop_oneof![
        Just(Corner::Mitre),
        which().prop_map(Corner::Squared),
        which().prop_map(Corner::Mirrored),
    ]
}

fn closes(outline: &CuttingOutline) -> bool {
    let curves: Vec<&Curve> = outline.curves().collect();
    (0..curves.len())
        .all(|k| (curves[k].end() - curves[(k + 1) % curves.len()].start()).hypot() < 1e-9)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(256))]

    #[test]
    fn split_parts_add_up(curve in smooth_curve(), share in 0.01..0.99f64) {
        let along = share * curve.length();
        let (before, after) = curve.split_at(along).unwrap();
        prop_assert!((before.length() - along).abs() < 1e-6);
        prop_assert!((before.length() + after.length() - curve.length()).abs() < 1e-6);
        prop_assert!((before.end() - curve.point_at(along)).hypot() < 1e-9);
        let whole = before.then(&after).unwrap();
        prop_assert!((whole.length() - curve.length()).abs() < 1e-6);
        prop_assert!((whole.point_at(along / 2.0) - curve.point_at(along / 2.0)).hypot() < 1e-6);
    }

    #[test]
    fn the_nearest_place_to_a_point_of_the_curve_is_itself(curve in smooth_curve(), share in 0.0..1.0f64) {
        let along = share * curve.length();
        let found = curve.nearest(curve.point_at(along));
        prop_assert!(found.distance < 1e-6);
        // Where a curve crosses itself the other pass is as near.
        prop_assert!((curve.point_at(found.along) - curve.point_at(along)).hypot() < 1e-6);
    }

    #[test]
    fn moving_turning_and_mirroring_keep_size(curve in smooth_curve(), degrees in -180.0..180.0f64, x in -99.0..99.0f64) {
        let (a, b) = (Point::new(x, 3.0), Point::new(-20.0, x + 50.0));
        let turned = curve.turned(a, Angle::from_degrees(degrees));
        prop_assert!((turned.length() - curve.length()).abs() < 1e-6);
        prop_assert!(apart(&turned.turned(a, Angle::from_degrees(-degrees)), &curve) < 1e-6);
        let mirrored = curve.mirrored(a, b);
        prop_assert!((mirrored.length() - curve.length()).abs() < 1e-6);
        prop_assert!(apart(&mirrored.mirrored(a, b), &curve) < 1e-6);
        let moved = curve.transformed(Affine::translate((x, 7.0)));
        prop_assert!((moved.start() - curve.start() - Vec2::new(x, 7.0)).hypot() < 1e-9);
    }

    #[test]
    fn an_offset_keeps_its_distance(curve in smooth_curve(), distance in prop_oneof![3.0..60.0f64, -60.0..-3.0f64]) {
        let Some(offset) = curve.offset(distance, TOLERANCE) else {
            // Everything beside the curve lies nearer to some of it.
            let lost = samples(&curve, 20).zip(0..).all(|(point, k)| {
                let way = curve.direction_at(curve.length() * f64::from(k) / 20.0);
                let beside = point + Vec2::new(way.y, -way.x) * distance;
                curve.nearest(beside).distance < distance.abs() - TOLERANCE.mm()
            });
            prop_assert!(lost);
            return Ok(());
        };
        for point in samples(&offset, 100) {
            let off = curve.nearest(point).distance - distance.abs();
            prop_assert!(off.abs() < 2.1 * TOLERANCE.mm(), "off by {off} at {point}");
        }
    }

    #[test]
    fn an_offset_leaves_nothing_out(curve in smooth_curve(), distance in prop_oneof![3.0..40.0f64, -40.0..-3.0f64]) {
        let Some(offset) = curve.offset(distance, TOLERANCE) else { return Ok(()); };
        let ends = [curve.start(), curve.end()];
        for k in 0..=50 {
            let along = curve.length() * f64::from(k) / 50.0;
            let way = curve.direction_at(along);
            let beside = curve.point_at(along) + Vec2::new(way.y, -way.x) * distance;
            let far_from_ends = ends.iter().all(|end| (beside - *end).hypot() > distance.abs() * 1.02);
            if far_from_ends && curve.nearest(beside).distance > distance.abs() - 1e-6 {
                let off = offset.nearest(beside).distance;
                prop_assert!(off < 2.0 * TOLERANCE.mm(), "{beside} is {off} away");
            }
        }
    }

    #[test]
    fn the_offset_of_the_reverse_is_opposite(curve in smooth_curve(), distance in 3.0..50.0f64) {
        let there = curve.offset(distance, TOLERANCE);
        let back = curve.reversed().offset(-distance, TOLERANCE);
        match (there, back) {
            (Some(there), Some(back)) => prop_assert!(apart(&there, &back) < 4.0 * TOLERANCE.mm()),
            (there, back) => prop_assert_eq!(there.is_none(), back.is_none()),
        }
    }

    #[test]
    fn crossings_are_mutual(a in smooth_curve(), b in smooth_curve(), turn in 0.0..360.0f64) {
        let b = b.turned(Point::new(30.0, 10.0), Angle::from_degrees(turn));
        let (ab, ba) = (a.crossings(&b, TOLERANCE), b.crossings(&a, TOLERANCE));
        prop_assert_eq!(ab.len(), ba.len());
        for crossing in &ab {
            prop_assert!((a.point_at(crossing.along) - crossing.point).hypot() < TOLERANCE.mm());
            prop_assert!((b.point_at(crossing.other_along) - crossing.point).hypot() < TOLERANCE.mm());
            prop_assert!(ba.iter().any(|other| (other.point - crossing.point).hypot() < TOLERANCE.mm()));
        }
        prop_assert!(ab.windows(2).all(|pair| pair[0].along <= pair[1].along));
    }

    #[test]
    fn crossings_are_as_many_as_by_trial(a in smooth_curve(), b in smooth_curve(), turn in 0.0..360.0f64) {
        // Started elsewhere, so that they do not share their first points.
        let b = b.turned(Point::new(30.0, 10.0), Angle::from_degrees(turn)).transformed(Affine::translate((9.0, -31.0)));
        let fine = Tolerance::from_mm(1e-4).unwrap();
        let near_miss = a.crossings(&b, Tolerance::from_mm(0.05).unwrap()).len();
        let found = a.crossings(&b, Tolerance::from_mm(1e-6).unwrap()).len();
        let tried = crossings_by_trial(&a.flattened(fine), &b.flattened(fine));
        prop_assert!(found == tried || near_miss != found, "{found} found, {tried} by trial");
    }

    #[test]
    fn simple_outlines_are_told_from_others(
        outline in outline(3..12),
        swap in any::<bool>(),
        pick in any::<prop::sample::Index>(),
    ) {
        let mut corners: Vec<Point> = outline.iter().map(Curve::start).collect();
        if swap {
            let first = pick.index(corners.len());
            let next = (first + 1) % corners.len();
            corners.swap(first, next);
        }
        let closed: Vec<Curve> = (0..corners.len())
            .map(|k| bulged(corners[k], corners[(k + 1) % corners.len()], 0.3 - 0.04 * k as f64))
            .collect();
        let found = clashes(&closed);
        let tried = crosses_itself(&closed);
        // Straight lines miss what lies within 0.001 mm or beside a corner, but find nothing that is not there.
        prop_assert!(tried.is_none() || !found.is_empty(), "{tried:?}");
        prop_assert_eq!(found.is_empty(), is_simple(&closed));
        for clash in found {
            for place in [clash.first, clash.second] {
                prop_assert!((closed[place.curve].point_at(place.along) - clash.point).hypot() < 1e-5);
            }
        }
    }

    #[test]
    fn a_mitred_polygon_grows_by_its_girth_and_corners(outline in outline(3..9), distance in 1.0..20.0f64) {
        let corners: Vec<Point> = outline.iter().map(Curve::start).collect();
        let count = corners.len();
        let straight: Vec<Curve> = (0..count).map(|k| Curve::line(corners[k], corners[(k + 1) % count])).collect();
        let turn = |k: usize| {
            let (before, after) = (&straight[k], &straight[(k + 1) % count]);
            geometry::curve::angle_between(before.end_direction(), after.start_direction())
        };
        let girth: f64 = straight.iter().map(Curve::length).sum();
        // Beyond this the mitre runs further than 2.5 times the allowance: 1 / cos(turn / 2) = 2.5.
        let within = (0..count).all(|k| turn(k).degrees().abs() < 132.0);
        let shortest = straight.iter().map(Curve::length).fold(f64::INFINITY, f64::min);
        prop_assume!(within);
        let distance = distance.min(shortest / 8.0);
        let made = cutting_outline(&sides(&straight, &[distance], &[Corner::Mitre]), TOLERANCE).unwrap();
        // Steiner's formula with mitred in place of rounded corners: A + L d + d² Σ tan(turn / 2).
        let tips: f64 = (0..count).map(|k| Angle::from_radians(turn(k).radians() / 2.0).tan()).sum();
        let expected = enclosed_area(&straight) + girth * distance + distance * distance * tips;
        prop_assert!((made.area() - expected).abs() < 1e-4, "{} for {expected}", made.area());
    }

    #[test]
    fn a_smooth_oval_grows_by_steiners_formula(wide in 60.0..200.0f64, high in 60.0..200.0f64, distance in 1.0..40.0f64) {
        let quarter = |from: Point, by: Point, to: Point| Curve::cubic(from, from.lerp(by, 0.55), to.lerp(by, 0.55), to);
        let (n, e, s, w) = (Point::new(0.0, -high), Point::new(wide, 0.0), Point::new(0.0, high), Point::new(-wide, 0.0));
        let corner = |x: f64, y: f64| Point::new(x * wide, y * high);
        let oval = [
            quarter(n, corner(1.0, -1.0), e),
            quarter(e, corner(1.0, 1.0), s),
            quarter(s, corner(-1.0, 1.0), w),
            quarter(w, corner(-1.0, -1.0), n),
        ];
        let made = cutting_outline(&sides(&oval, &[distance], &[Corner::Mitre]), TOLERANCE).unwrap();
        let girth: f64 = oval.iter().map(Curve::length).sum();
        // Jakob Steiner, 1840: A + L d + π d² for a convex region.
        let expected = enclosed_area(&oval) + girth * distance + std::f64::consts::PI * distance * distance;
        prop_assert!((made.area() - expected).abs() < girth * TOLERANCE.mm());
    }

    #[test]
    fn a_cutting_outline_is_simple_and_holds_its_allowances(
        outline in outline(3..9),
        distances in prop::collection::vec(5.0..30.0f64, 3),
        corners in prop::collection::vec(any_corner(), 3),
    ) {
        prop_assume!(is_simple(&outline));
        match cutting_outline(&sides(&outline, &distances, &corners), TOLERANCE) {
            Ok(made) => {
                prop_assert!(closes(&made));
                prop_assert!(is_simple(made.curves()));
                let least = distances.iter().copied().fold(f64::INFINITY, f64::min);
                for point in outline.iter().flat_map(|side| samples(side, 10)) {
                    let room = distance_to(made.curves(), point);
                    prop_assert!(contains(made.curves(), point));
                    // A cutting line that runs on straight beside a bulging neighbour comes a little nearer to it.
                    prop_assert!(room > 0.95 * least, "{room} for {least} at {point}");
                }
            }
            Err(error) => prop_assert!(matches!(error, AllowanceError::TurnsOver { .. }), "{error}"),
        }
    }

    #[test]
    fn an_allowance_folded_back_lies_on_its_neighbour(outline in outline(4..8), distance in 5.0..15.0f64) {
        prop_assume!(is_simple(&outline));
        let made = cutting_outline(&sides(&outline, &[distance], &[Corner::Mirrored(Which::Before)]), TOLERANCE);
        let Ok(made) = made else { return Ok(()); };
        for (k, side) in outline.iter().enumerate() {
            let next = (k + 1) % outline.len();
            let turn = geometry::curve::angle_between(side.end_direction(), outline[next].start_direction());
            let (Some(join), Some(line)) = (&made.cuts[k].join, &made.cuts[next].line) else { continue; };
            if !(25.0..120.0).contains(&turn.degrees()) || line.length() < 2.0 * join.length() {
                continue;
            }
            let corner = side.end();
            let folded = join.mirrored(corner, corner + side.end_direction());
            for point in samples(&folded, 20) {
                let off = line.nearest(point).distance;
                prop_assert!(off < TOLERANCE.mm(), "{off} from the neighbour at {point}");
            }
        }
    }

    #[test]
    fn the_roomiest_place_has_the_room_it_says(outline in outline(3..12)) {
        prop_assume!(is_simple(&outline));
        let room = roomiest(&outline, Tolerance::DRAWING).unwrap();
        prop_assert!(contains(&outline, room.point));
        prop_assert!((distance_to(&outline, room.point) - room.radius).abs() < 2.0 * Tolerance::DRAWING.mm());
        for x in -10..=10 {
            for y in -10..=10 {
                let point = Point::new(f64::from(x) * 30.0, f64::from(y) * 30.0);
                if contains(&outline, point) {
                    prop_assert!(distance_to(&outline, point) <= room.radius + 2.0 * Tolerance::DRAWING.mm());
                }
            }
        }
    }
}
