//! A waistline that is smooth when its darts are sewn: drawn with all darts closed, cut at each dart, and opened again.
//!
//! Frame: the centre line lies at the left, the side at the right, darts open downwards in a bodice and upwards in a skirt.
//! Closed, everything beyond a dart is turned about the dart's point until its legs meet.

use geometry::{Affine, Angle, Curve, Knot, Point, Vec2, curve, solve};

/// A dart as it is planned: where it ends, which way its middle runs to the mouth, and its angle.
#[derive(Clone, Debug)]
pub(super) struct DartPlan {
    pub(super) name: String,
    pub(super) point: Point,
    pub(super) axis: Vec2,
    pub(super) angle: Angle,
}

/// Ends of a waistline in the open state.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ends {
    pub(super) centre: Point,
    pub(super) centre_direction: Vec2,
    pub(super) side: Point,
    pub(super) side_direction: Vec2,
}

/// Turns that close the darts, one for the part beyond each dart; the first is the part at the centre line.
fn closing_turns(darts: &[DartPlan]) -> Vec<Affine> {
    let mut turns = vec![Affine::IDENTITY];
    for dart in darts {
        let last = turns[turns.len() - 1];
        turns.push(last * curve::turn_about(dart.point, closing_angle(dart)));
    }
    turns
}

/// A dart that opens downwards closes by turning what lies to its right from x towards y, one that opens upwards the other way.
fn closing_angle(dart: &DartPlan) -> Angle {
    if dart.axis.y > 0.0 {
        dart.angle
    } else {
        Angle::from_radians(-dart.angle.radians())
    }
}

fn turned(by: Affine, direction: Vec2) -> Vec2 {
    (by * direction.to_point()) - (by * Point::ORIGIN)
}

/// The waistline with all darts closed, from the centre line to the side.
pub(super) fn closed(ends: &Ends, darts: &[DartPlan]) -> Curve {
    let turn = closing_turns(darts)[darts.len()];
    let knots = [
        Knot::toward(ends.centre, ends.centre_direction),
        Knot::toward(turn * ends.side, turned(turn, ends.side_direction)),
    ];
    Curve::smooth(&knots).unwrap_or_else(|| Curve::line(ends.centre, turn * ends.side))
}

/// Darts with all angles multiplied by one number so that the closed waistline has a given length, mm.
pub(super) fn fitted(ends: &Ends, darts: &[DartPlan], length: f64) -> Option<Vec<DartPlan>> {
    const MOST: f64 = 3.0;
    // Closed by far too much the line would grow long again: look from the plan's own angles outwards.
    let off = |factor: f64| closed(ends, &scaled(darts, factor)).length() - length;
    let step = if off(1.0) > 0.0 { 0.25 } else { -0.25 };
    let factor = solve::stepping(
        1.0,
        step,
        if step > 0.0 { MOST - 1.0 } else { 1.0 },
        1e-7,
        off,
    );
    factor.ok().map(|factor| scaled(darts, factor))
}

fn scaled(darts: &[DartPlan], factor: f64) -> Vec<DartPlan> {
    darts
        .iter()
        .map(|dart| DartPlan {
            angle: Angle::from_radians(dart.angle.radians() * factor),
            ..dart.clone()
        })
        .collect()
}

/// Lengths along the closed waistline, from the centre line, at which the darts open; `None` where one misses the line.
pub(super) fn mouths(closed: &Curve, darts: &[DartPlan]) -> Option<Vec<f64>> {
    let turns = closing_turns(darts);
    let mut from = 0.0;
    let mut places = Vec::with_capacity(darts.len());
    for (dart, turn) in darts.iter().zip(&turns) {
        let half = Angle::from_radians(closing_angle(dart).radians() / 2.0);
        let leg = turned(*turn * curve::turn_about(Point::ORIGIN, half), dart.axis);
        let point = *turn * dart.point;
        let place = solve::bracketed(from, closed.length(), 1e-7, |along| {
            leg.cross(closed.point_at(along) - point)
        });
        from = place.ok()?;
        places.push(from);
    }
    Some(places)
}

/// Runs of the waistline in the open state, from the centre line to the side.
pub(super) fn opened(closed: &Curve, darts: &[DartPlan]) -> Option<Vec<Curve>> {
    let turns = closing_turns(darts);
    let mut cuts = vec![0.0];
    cuts.extend(mouths(closed, darts)?);
    cuts.push(closed.length());
    let pairs = cuts.windows(2).zip(&turns);
    Some(
        pairs
            .map(|(pair, turn)| closed.stretch(pair[0], pair[1]).transformed(turn.inverse()))
            .collect(),
    )
}

/// Runs from the side to the centre line, as an outline needs them where the waist lies below the piece.
pub(super) fn backwards(runs: &[Curve]) -> Vec<Curve> {
    runs.iter().rev().map(Curve::reversed).collect()
}
