//! The waist of a fitted skirt: where it begins and ends, its darts, and the side seam down to the hip.
//!
//! Knows no hem. Invariants: darts fitted to a waist close to its length; both halves have side seams of one length.

use geometry::{Angle, Curve, Knot, Point, Vec2, math, solve};

use super::super::super::figures;
use super::super::super::waistline::{self, DartPlan, Ends};
use super::{Half, LEAST_INTAKE, Shape};

pub(super) fn ends(half: &Half, shape: &Shape) -> Ends {
    let down = hip_curve(half, shape).map_or(Vec2::new(0.0, 1.0), |curve| curve.start_direction());
    Ends {
        centre: Point::ORIGIN,
        centre_direction: Vec2::new(1.0, 0.0),
        side: Point::new(half.hip - half.side_take, -shape.rise),
        side_direction: Vec2::new(down.y, -down.x),
    }
}

/// Darts at even distances, or the first where the bodice's dart meets the waist.
pub(super) fn plans(half: &Half, shape: &Shape) -> Vec<DartPlan> {
    let intake = half.hip - half.waist - half.side_take;
    if intake < LEAST_INTAKE {
        return Vec::new();
    }
    let count = (intake / figures::MOST_SKIRT_DART).ceil().max(1.0) as usize;
    let each = intake / count as f64;
    let length = half
        .dart_length
        .min(shape.hip_depth * figures::MOST_OF_HIP_DEPTH);
    let width = half.hip - half.side_take;
    let first = half
        .first_dart
        .map_or(width / (count as f64 + 1.0), |along| along + each / 2.0);
    let step = (width - first) / count as f64;
    (0..count)
        .map(|index| {
            let x = first + step * index as f64;
            // Darts farther out lie over a shallower part of the body.
            let depth = length * (1.0 - 0.12 * index as f64);
            DartPlan {
                name: if count == 1 {
                    "waist-dart".into()
                } else {
                    format!("waist-dart-{}", index + 1)
                },
                point: Point::new(x, depth - shape.rise * x / width),
                axis: Vec2::new(0.0, -1.0),
                angle: Angle::from_radians(2.0 * math::asin((each / (2.0 * depth)).min(0.9))),
            }
        })
        .collect()
}

/// Darts fitted to the waist and, where a bodice stands above, moved until the first meets the bodice's.
pub(super) fn fitted_darts(half: &Half, shape: &Shape, ends: &Ends) -> Option<Vec<DartPlan>> {
    let mut plans = plans(half, shape);
    if plans.is_empty() {
        return Some(plans);
    }
    for _ in 0..6 {
        let fitted = waistline::fitted(ends, &plans, half.waist)?;
        let closed = waistline::closed(ends, &fitted);
        let off = match half.first_dart {
            Some(wanted) => wanted - waistline::mouths(&closed, &fitted)?[0],
            None => 0.0,
        };
        if off.abs() < 0.01 {
            return Some(fitted);
        }
        for plan in &mut plans {
            plan.point.x += off;
        }
    }
    None
}

/// The half's side take where no dart brings the waist to its length: solved.
pub(super) fn settled(half: &Half, shape: &Shape) -> Half {
    const REACH: f64 = 25.0;
    if half.has_darts() {
        return half.clone();
    }
    let with = |side_take: f64| Half {
        side_take,
        ..half.clone()
    };
    let off = |take: f64| waistline::closed(&ends(&with(take), shape), &[]).length() - half.waist;
    let take = solve::bracketed(half.side_take - REACH, half.side_take + REACH, 1e-6, off);
    let take = take.unwrap_or(half.side_take);
    Half {
        side_take: take,
        waist: half.hip - take,
        ..half.clone()
    }
}

/// The shape whose rise gives a half a side seam of a length from waist to hip, mm.
fn with_side(half: &Half, shape: &Shape, length: f64) -> Shape {
    const REACH: f64 = 30.0;
    let at = |rise: f64| Shape { rise, ..*shape };
    let off = |rise: f64| {
        hip_curve(&settled(half, &at(rise)), &at(rise))
            .map_or(f64::NAN, |curve| curve.length() - length)
    };
    let rise = solve::bracketed(shape.rise - REACH, shape.rise + REACH, 1e-5, off);
    at(rise.unwrap_or(shape.rise))
}

/// Shapes of both halves with side seams of one length: a half with darts keeps its own, the other's rises or sinks.
pub(super) fn even_sides(front: &Half, back: &Half, shape: &Shape) -> (Shape, Shape) {
    let length = |half: &Half| {
        hip_curve(&settled(half, shape), shape).map_or(f64::NAN, |curve| curve.length())
    };
    if front.has_darts() {
        (*shape, with_side(back, shape, length(front)))
    } else {
        (with_side(front, shape, length(back)), *shape)
    }
}

/// Side seam from the waist to the hip: leaves the hip along the flare, arrives at the waist straight from the hip curve.
pub(super) fn hip_curve(half: &Half, shape: &Shape) -> Option<Curve> {
    let waist = Point::new(half.hip - half.side_take, -shape.rise);
    let hip = Point::new(half.hip, shape.hip_depth);
    Curve::smooth(&[Knot::free(waist), Knot::toward(hip, below_hip(shape))])
}

/// Direction of the side seam below the hip.
pub(super) fn below_hip(shape: &Shape) -> Vec2 {
    Vec2::new(
        figures::SIDE_FLARE * shape.flare,
        shape.length - shape.hip_depth,
    )
}
