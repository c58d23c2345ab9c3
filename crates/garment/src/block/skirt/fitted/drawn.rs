//! A fitted skirt as pieces: darts that the flare leaves, side, hem and hip line.
//!
//! Knows no body. Invariant: what a flare closes of a dart at the waist it opens at the hem, and the waist keeps its length.

use geometry::curve::turn_about;
use geometry::{Affine, Angle, Curve, Knot, Point, Vec2};
use pattern::{Cut, Dart, Edge, EdgeKind, InnerLine, Laid, Layer, Piece, Pressed};

use super::super::super::waistline::{self, DartPlan};
use super::waist::{below_hip, ends, even_sides, fitted_darts, hip_curve, settled};
use super::{Half, Shape};

pub(super) fn drawn(halves: &[Half; 2], shape: &Shape, flare: f64) -> Option<[Piece; 2]> {
    let shape = Shape { flare, ..*shape };
    let [front, back] = halves;
    let (front_shape, back_shape) = even_sides(front, back, &shape);
    Some([piece(front, &front_shape)?, piece(back, &back_shape)?])
}

fn piece(half: &Half, shape: &Shape) -> Option<Piece> {
    let half = settled(half, shape);
    let ends = ends(&half, shape);
    let darts = fitted_darts(&half, shape, &ends)?;
    let closed = waistline::closed(&ends, &darts);
    let share = closed_share(shape, &darts);
    let left: Vec<DartPlan> = partly_closed(&darts, share);
    let turns = flare_turns(&darts, share);
    let runs = waistline::opened(&closed, &darts)?;
    let runs: Vec<Curve> = runs
        .iter()
        .zip(&turns)
        .map(|(run, turn)| run.transformed(*turn))
        .collect();
    let side_turn = turns[darts.len()];
    let hip = Point::new(half.hip, shape.hip_depth);
    let side = hip_curve(&half, shape)?
        .then(&Curve::line(hip, hip + below_hip(shape)))?
        .transformed(side_turn);
    let hem = hem_line(shape, &darts, &turns, &side)?;
    let hip_line = hip_line(&half, shape, &darts, &turns);
    Some(assembled(
        &half,
        shape,
        (runs, &left, share),
        side,
        &hem,
        hip_line,
    ))
}

/// Share of each dart of a half that the flare closes: both halves turn by the same angle.
fn closed_share(shape: &Shape, darts: &[DartPlan]) -> f64 {
    let sum: f64 = darts.iter().map(|dart| dart.angle.radians()).sum();
    if sum < 1e-9 {
        return 0.0;
    }
    let share = shape.turn.radians() * shape.flare.min(1.0) / sum;
    // A dart that is closed but for a rounding error is closed.
    if share > 0.999 { 1.0 } else { share }
}

/// Darts that are left when a share of each is closed into flare; each moves with what lies before it.
fn partly_closed(darts: &[DartPlan], share: f64) -> Vec<DartPlan> {
    let turns = flare_turns(darts, share);
    let left = darts.iter().zip(&turns);
    left.map(|(dart, turn)| DartPlan {
        point: *turn * dart.point,
        ..dart.clone()
    })
    .collect()
}

/// Turns that close a share of each dart, for the part before the first, between them, and beyond the last.
fn flare_turns(darts: &[DartPlan], share: f64) -> Vec<Affine> {
    let mut turns = vec![Affine::IDENTITY];
    for dart in darts {
        let last = turns[turns.len() - 1];
        turns.push(
            last * turn_about(
                dart.point,
                Angle::from_radians(-dart.angle.radians() * share),
            ),
        );
    }
    turns
}

/// The hem from side to centre, square to both, through the middles of what the darts opened.
fn hem_line(shape: &Shape, darts: &[DartPlan], turns: &[Affine], side: &Curve) -> Option<Curve> {
    let down = side.end_direction();
    let mut knots = vec![Knot::toward(
        Point::new(0.0, shape.length),
        Vec2::new(1.0, 0.0),
    )];
    if shape.flare > 0.0 {
        for (index, dart) in darts.iter().enumerate() {
            let bottom = Point::new(dart.point.x, shape.length);
            knots.push(Knot::free(
                (turns[index] * bottom).midpoint(turns[index + 1] * bottom),
            ));
        }
    }
    knots.push(Knot::toward(side.end(), Vec2::new(down.y, -down.x)));
    Curve::smooth(&knots).map(|curve| curve.reversed())
}

/// The hip line; where the flare opens it below the darts it goes straight on over the gap.
fn hip_line(half: &Half, shape: &Shape, darts: &[DartPlan], turns: &[Affine]) -> InnerLine {
    let level = |x: f64| Point::new(x, shape.hip_depth);
    let mut cuts: Vec<f64> = vec![0.0];
    if shape.flare > 0.0 {
        cuts.extend(darts.iter().map(|dart| dart.point.x));
    }
    cuts.push(half.hip);
    let ends: Vec<Point> = cuts
        .windows(2)
        .zip(turns)
        .flat_map(|(pair, turn)| [*turn * level(pair[0]), *turn * level(pair[1])])
        .collect();
    InnerLine {
        name: "hip".into(),
        runs: Curve::polyline(&ends).into_iter().collect(),
    }
}

fn assembled(
    half: &Half,
    shape: &Shape,
    (runs, darts, share): (Vec<Curve>, &[DartPlan], f64),
    side: Curve,
    hem: &Curve,
    hip_line: InnerLine,
) -> Piece {
    let mut waist = Edge::new("waist", EdgeKind::Seam, runs[0].clone());
    let closed_fully = share >= 1.0;
    waist.runs = if closed_fully { joined(runs) } else { runs };
    let aims = darts.iter().enumerate().map(|(gap, plan)| Dart {
        name: plan.name.clone(),
        edge: "waist".into(),
        gap,
        point: plan.point,
        aim: plan.point,
        pressed: Pressed::Before,
    });
    let darts = if closed_fully {
        Vec::new()
    } else {
        aims.collect()
    };
    let centre = if half.back_seam {
        EdgeKind::Opening
    } else {
        EdgeKind::Fold
    };
    let bottom = Point::new(0.0, shape.length);
    Piece {
        name: half.name.into(),
        edges: vec![
            waist,
            Edge::new("side", EdgeKind::Seam, side),
            Edge::new("hem", EdgeKind::Hem, hem.with_ends(hem.start(), bottom)),
            Edge::new("centre", centre, Curve::line(bottom, Point::ORIGIN)),
        ],
        darts,
        marks: Vec::new(),
        lines: vec![hip_line],
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: if half.back_seam { 2 } else { 1 },
            laid: if half.back_seam {
                Laid::Pair
            } else {
                Laid::OnFold("centre".into())
            },
        },
        peaked: Vec::new(),
        asked: None,
    }
}

/// One run of those that meet when their darts are closed for good.
fn joined(runs: Vec<Curve>) -> Vec<Curve> {
    let mut runs = runs.into_iter();
    let first = runs.next();
    let whole = first.map(|first| {
        runs.fold(first, |whole, run| {
            let run = run.with_ends(whole.end(), run.end());
            whole
                .then(&run)
                .expect("the run starts where the one before ends")
        })
    });
    whole.into_iter().collect()
}
