//! Tapes over shoulder, back and front, and down the front and the back.

use body::Measure;
use geometry::curve::unit;
use geometry::{Angle, Curve, Knot, Point, Vec2};

use super::{ACROSS, Figure, Flank, Place, straight, through};
use crate::Side;
use crate::form::place as at;
use crate::upright::MIRROR;

pub(super) fn place(figure: &Figure, measure: Measure, side: Side) -> Option<Place> {
    match side {
        Side::Front => front(figure, measure),
        Side::Back => back(figure, measure),
        Side::Profile => profile(figure, measure),
    }
    .or_else(|| shoulder(figure, measure, side))
}

fn front(figure: &Figure, measure: Measure) -> Option<Place> {
    let form = &figure.form;
    match measure {
        Measure::AcrossFront => Some(level_across(figure, form.across_front)),
        Measure::BustPointWidth => Some(point_to_point(figure)),
        Measure::NeckToBustPoint => Some(Place::line(neck_to_bust(figure), 0.45, Flank::Right)),
        Measure::FrontWaistLength => Some(front_length(figure)),
        _ => None,
    }
}

fn back(figure: &Figure, measure: Measure) -> Option<Place> {
    let (form, heights) = (&figure.form, &figure.form.heights);
    match measure {
        Measure::AcrossBack => Some(level_across(figure, form.across_back)),
        Measure::BackWaistLength => {
            let line = straight(at(0.0, heights.nape), at(0.0, heights.waist));
            Some(Place::line(line, 0.8, Flank::Left))
        }
        Measure::ScyeDepth => {
            let beside = 24.0;
            let line = straight(at(beside, heights.nape), at(beside, heights.armpit));
            let level = straight(
                at(-form.chest.half_width(), heights.armpit),
                at(form.chest.half_width(), heights.armpit),
            );
            Some(Place::line(line, 0.85, Flank::Right).with_far(level))
        }
        _ => None,
    }
}

fn profile(figure: &Figure, measure: Measure) -> Option<Place> {
    let heights = &figure.form.heights;
    let neck = at(figure.form.neck_side(), heights.neck);
    match measure {
        Measure::BackWaistLength => {
            let line = figure.profile.back_between(heights.nape, heights.waist);
            Some(Place::line(line, 0.6, Flank::Left))
        }
        Measure::NeckToBustPoint => Some(Place::line(over_chest(figure, neck), 0.6, Flank::Right)),
        Measure::FrontWaistLength => {
            let below = figure.profile.front_between(heights.bust, heights.waist);
            let chest = over_chest(figure, neck);
            let whole = chest.with_ends(chest.start(), below.start()).then(&below)?;
            Some(Place::line(whole, 0.8, Flank::Right))
        }
        _ => None,
    }
}

/// From the side neck point over the chest to the bust point, from the side.
fn over_chest(figure: &Figure, neck: Point) -> Curve {
    let heights = &figure.form.heights;
    let bust = at(figure.profile.front_at(heights.bust), heights.bust);
    let knots = [Knot::free(neck), Knot::toward(bust, Vec2::new(0.25, 1.0))];
    Curve::smooth(&knots).expect("neck and bust lie apart")
}

fn shoulder(figure: &Figure, measure: Measure, side: Side) -> Option<Place> {
    let line = &figure.upright.shoulder;
    match (measure, side) {
        (_, Side::Profile) => None,
        (Measure::ShoulderLength, _) => Some(Place::line(line.clone(), 0.6, Flank::Right)),
        (Measure::ShoulderSlope, _) => Some(slope(line.start(), line.end())),
        _ => None,
    }
}

/// The angle between level and shoulder, with the level line.
fn slope(neck: Point, tip: Point) -> Place {
    let (neck, tip) = (MIRROR * neck, MIRROR * tip);
    let reach = 0.62 * neck.distance(tip);
    let fall = geometry::curve::angle_between(-ACROSS, tip - neck);
    let on = |share: f64| neck + unit(Angle::from_degrees(180.0 + share * fall.degrees())) * reach;
    let arc = through(&[on(0.0), on(0.5), on(1.0)]);
    let level = straight(neck, neck - ACROSS * (1.5 * reach));
    Place {
        hold: on(0.2),
        near: vec![arc, straight(neck, tip)],
        far: vec![level],
        ticks: false,
        flank: Flank::Left,
    }
}

/// Level from arm to arm, half way down the armhole.
fn level_across(figure: &Figure, half: f64) -> Place {
    let heights = &figure.form.heights;
    let height = f64::midpoint(heights.shoulder, heights.armpit);
    let half = half.min(figure.upright.arm.tip.x + 6.0);
    let line = through(&[at(-half, height), at(0.0, height - 7.0), at(half, height)]);
    Place::line(line, 0.12, Flank::Left)
}

fn bust_point(figure: &Figure) -> Point {
    at(figure.form.bust_point, figure.form.heights.bust)
}

fn point_to_point(figure: &Figure) -> Place {
    let right = bust_point(figure);
    Place::line(straight(MIRROR * right, right), 0.72, Flank::Right)
}

/// From the side neck point over the chest to the bust point.
fn neck_to_bust(figure: &Figure) -> Curve {
    let neck = at(figure.form.neck.base, figure.form.heights.neck);
    let knots = [
        Knot::free(neck),
        Knot::toward(bust_point(figure), Vec2::new(0.12, 1.0)),
    ];
    Curve::smooth(&knots).expect("neck and bust lie apart")
}

fn front_length(figure: &Figure) -> Place {
    let above = neck_to_bust(figure);
    let bust = bust_point(figure);
    let below = straight(bust, at(bust.x, figure.form.heights.waist - 10.0));
    let whole = above
        .then(&below)
        .expect("both parts meet in the bust point");
    Place::line(whole.transformed(MIRROR), 0.3, Flank::Left)
}
