//! The figure's sizes: widths and depths give back the girths, both halves are the same, outlines are simple.

use body::population::draw;
use body::{Body, Measure, complete};
use figure::{Side, outline, section};
use geometry::simple::is_simple;
use geometry::{Curve, Point, Tolerance, Vec2, math};

fn women() -> impl Iterator<Item = Body> {
    draw(200, 1986).map(|tape| complete(&tape))
}

/// Least and greatest across of an outline at a height, mm; the arms, which hang beside the body, are left out by taking
/// what lies nearest to the middle.
fn span(outline: &[Curve], height: f64) -> (f64, f64) {
    let met: Vec<f64> = outline
        .iter()
        .flat_map(|curve| {
            curve.crossings_with_line(
                Point::new(0.0, -height),
                Vec2::new(1.0, 0.0),
                Tolerance::DRAWING,
            )
        })
        .map(|met| met.point.x)
        .collect();
    let left = met
        .iter()
        .copied()
        .filter(|x| *x < 0.0)
        .fold(f64::NEG_INFINITY, f64::max);
    let right = met
        .iter()
        .copied()
        .filter(|x| *x > 0.0)
        .fold(f64::INFINITY, f64::min);
    (left, right)
}

/// Girth of a super-ellipse by its width, depth and exponent, by another way than the program's: y as a function of x up to
/// where both grow equally fast, then x as a function of y, in steps of equal width.
fn super_ellipse_girth(width: f64, depth: f64, exponent: f64) -> f64 {
    let (a, b) = (width / 2.0, depth / 2.0);
    let quarter = |a: f64, b: f64| {
        // To where x/a = y/b.
        let end = a * math::pow(0.5, 1.0 / exponent);
        let y = |x: f64| b * math::pow(1.0 - math::pow(x / a, exponent), 1.0 / exponent);
        let steps = 4000;
        let x = |k: i32| end * f64::from(k) / f64::from(steps);
        (0..steps)
            .map(|k| math::hypot(x(k + 1) - x(k), y(x(k + 1)) - y(x(k))))
            .sum::<f64>()
    };
    4.0 * (quarter(a, b) + quarter(b, a))
}

#[test]
fn the_quadrature_gives_the_circle() {
    let circle = super_ellipse_girth(200.0, 200.0, 2.0);
    assert!(
        (circle / (200.0 * std::f64::consts::PI) - 1.0).abs() < 1e-6,
        "{circle}"
    );
}

#[test]
fn widths_and_depths_drawn_at_waist_and_hip_give_back_the_girths() {
    // Exponents 2.83 and 3.64: a survey's women (ANSUR II, 2012, public data).
    for body in women() {
        let front = outline(&body, Side::Front);
        let profile = outline(&body, Side::Profile);
        for (measure, exponent) in [(Measure::Waist, 2.83), (Measure::Hip, 3.64)] {
            let (height, _) = section(&body, measure).expect("a girth of the torso");
            let (left, right) = span(&front, height);
            let (back, forward) = span(&profile, height);
            let girth = super_ellipse_girth(right - left, forward - back, exponent);
            let off = girth / body.mm(measure) - 1.0;
            assert!(
                off.abs() < 0.01,
                "{} {}: {girth}",
                body.name,
                measure.label()
            );
        }
    }
}

#[test]
fn every_level_section_is_convex_and_as_long_round_as_its_girth() {
    let girths = [
        Measure::Bust,
        Measure::UnderBust,
        Measure::UpperChest,
        Measure::Waist,
        Measure::HighHip,
        Measure::Hip,
        Measure::Head,
    ];
    for body in women() {
        for measure in girths {
            let (_, points) = section(&body, measure).expect("a level girth");
            let next = |k: usize| points[(k + 1) % points.len()];
            let round: f64 = (0..points.len()).map(|k| points[k].distance(next(k))).sum();
            let off = round / body.mm(measure) - 1.0;
            assert!(
                off.abs() < 0.002,
                "{} {}: {round}",
                body.name,
                measure.label()
            );
            let turns = (0..points.len())
                .map(|k| (next(k) - points[k]).cross(next((k + 1) % points.len()) - next(k)));
            assert!(
                turns.into_iter().all(|turn| turn > -1e-6),
                "{} {}",
                body.name,
                measure.label()
            );
        }
    }
}

#[test]
fn the_bust_is_as_wide_and_deep_as_its_section() {
    for body in women() {
        let (height, points) = section(&body, Measure::Bust).expect("a level girth");
        let forward = points.iter().map(|p| p.y).fold(f64::NEG_INFINITY, f64::max);
        let (_, drawn) = span(&outline(&body, Side::Profile), height);
        assert!(
            (drawn - forward).abs() < 0.5,
            "{}: {drawn} {forward}",
            body.name
        );
    }
}

#[test]
fn depths_are_those_of_the_survey() {
    // ANSUR II, women: chest depth 0.312·B − 48 (spread 9), buttock depth 0.280·H − 53 (spread 12); regressions of its
    // columns on its girths, made from the public data. The mean over many bodies may be off by less than one spread.
    for (measure, share, constant, spread) in [
        (Measure::Bust, 0.312, -48.0, 9.0),
        (Measure::Hip, 0.280, -53.0, 12.0),
    ] {
        let off: Vec<f64> = women()
            .map(|body| {
                let (_, points) = section(&body, measure).expect("a level girth");
                let (low, high) = points
                    .iter()
                    .fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), p| {
                        (low.min(p.y), high.max(p.y))
                    });
                high - low - (share * body.mm(measure) + constant)
            })
            .collect();
        let mean = off.iter().sum::<f64>() / off.len() as f64;
        assert!(mean.abs() < spread, "{}: {mean}", measure.label());
    }
}

#[test]
fn front_and_back_are_the_same_left_and_right() {
    for body in women().take(20) {
        let curves = outline(&body, Side::Front);
        assert_eq!(curves, outline(&body, Side::Back));
        let half = curves.len() / 2;
        for (right, left) in curves[..half].iter().zip(curves[half..].iter().rev()) {
            for share in [0.0, 0.3, 0.7, 1.0] {
                let here = right.point_at(share * right.length());
                let there = left.point_at((1.0 - share) * left.length());
                assert!(here.distance(Point::new(-there.x, there.y)) < 1e-6);
            }
        }
    }
}

#[test]
fn outlines_are_simple() {
    for body in women() {
        for side in [Side::Front, Side::Profile] {
            assert!(
                is_simple(&outline(&body, side)),
                "{} {}",
                body.name,
                side.word()
            );
        }
    }
}
