//! Tapes down the side and down the arm, and the height.

use body::Measure;
use geometry::Curve;

use super::{Figure, Flank, Place, straight, through};
use crate::Side;
use crate::form::place as at;
use crate::upright::MIRROR;

pub(super) fn place(figure: &Figure, measure: Measure, side: Side) -> Option<Place> {
    let heights = &figure.form.heights;
    match (measure, side) {
        (Measure::SideLength, Side::Profile) => Some(down(
            figure,
            heights.armpit,
            heights.waist,
            0.0,
            Flank::Right,
        )),
        (Measure::SideLength, _) => Some(on_outline(
            figure,
            heights.armpit,
            heights.waist,
            Flank::Right,
        )),
        (Measure::WaistToHighHip, Side::Profile) => Some(down(
            figure,
            heights.waist,
            heights.high_hip,
            34.0,
            Flank::Right,
        )),
        (Measure::WaistToHip, Side::Profile) => {
            Some(down(figure, heights.waist, heights.hip, 0.0, Flank::Right))
        }
        (Measure::CrotchDepth, Side::Profile) => Some(crotch_depth(figure)),
        (Measure::WaistToKnee, Side::Profile) => Some(down(
            figure,
            heights.waist,
            heights.knee,
            16.0,
            Flank::Right,
        )),
        (Measure::WaistToFloor, Side::Profile) => {
            Some(down(figure, heights.waist, 0.0, -16.0, Flank::Left))
        }
        (Measure::WaistToHighHip, _) => Some(on_outline(
            figure,
            heights.waist,
            heights.high_hip,
            Flank::Right,
        )),
        (Measure::WaistToHip, _) => {
            Some(on_outline(figure, heights.waist, heights.hip, Flank::Left))
        }
        (Measure::WaistToKnee, _) => {
            Some(on_outline(figure, heights.waist, heights.knee, Flank::Left))
        }
        (Measure::WaistToFloor, _) => Some(to_floor(figure)),
        (Measure::ArmLength, Side::Front | Side::Back) => {
            let [upper, fore] = figure.upright.arm.outside();
            Some(Place::line(upper.then(&fore)?, 0.8, Flank::Right))
        }
        (Measure::ShoulderToElbow, Side::Front | Side::Back) => {
            let [upper, _] = figure.upright.arm.outside();
            Some(Place::line(upper.transformed(MIRROR), 0.6, Flank::Left))
        }
        (Measure::Stature, _) => Some(stature(figure, side)),
        _ => None,
    }
}

/// Down the side as seen from the side, so far before or behind the side seam.
fn down(figure: &Figure, high: f64, low: f64, forward: f64, flank: Flank) -> Place {
    let steps = 6;
    let points: Vec<_> = (0..=steps)
        .map(|k| {
            let height = high + (low - high) * f64::from(k) / f64::from(steps);
            at(figure.form.side_at(height) + forward, height)
        })
        .collect();
    Place::line(through(&points), 0.72, flank)
}

/// Along the outline as seen from front or back.
fn on_outline(figure: &Figure, high: f64, low: f64, flank: Flank) -> Place {
    let side = figure.upright.side_between(high, low);
    Place::line(on_flank(&side, flank), 0.8, flank)
}

fn on_flank(curve: &Curve, flank: Flank) -> Curve {
    match flank {
        Flank::Left => curve.transformed(MIRROR),
        Flank::Right => curve.clone(),
    }
}

/// From the waist over the hip and straight on to the floor.
fn to_floor(figure: &Figure) -> Place {
    let heights = &figure.form.heights;
    let over_hip = figure.upright.side_between(heights.waist, heights.hip);
    let end = over_hip.end();
    let rest = straight(end, at(end.x, 0.0));
    let whole = over_hip
        .then(&rest)
        .expect("the tape hangs on from the hip");
    Place::line(whole, 0.75, Flank::Right)
}

/// From the waist down the side to the chair, on which the body is thought to sit.
fn crotch_depth(figure: &Figure) -> Place {
    let heights = &figure.form.heights;
    let side = figure.form.side_at(heights.crotch);
    let chair = straight(
        at(side - 120.0, heights.crotch),
        at(side + 90.0, heights.crotch),
    );
    down(figure, heights.waist, heights.crotch, -36.0, Flank::Left).with_far(chair)
}

/// From the floor to the crown, beside the body.
fn stature(figure: &Figure, side: Side) -> Place {
    let form = &figure.form;
    let away = match side {
        Side::Profile => form.hip.back().min(form.chest.back()) - 60.0,
        Side::Front | Side::Back => -figure.upright.arm.outline.bounds().x1 - 40.0,
    };
    let line = straight(at(away, 0.0), at(away, form.heights.top));
    let crown = straight(at(away, form.heights.top), at(0.0, form.heights.top));
    Place::line(line, 0.3, Flank::Left).with_far(crown)
}
