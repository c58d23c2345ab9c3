//! Tapes that run round: the girths of torso, head, neck, armhole and limbs, and the front parts of girths.

use body::Measure;
use geometry::solve::bracketed;
use geometry::{Curve, Point, Vec2};

use super::{ACROSS, Figure, Flank, Place, TILT, along, half_ellipse, through};
use crate::Side;
use crate::arm::Across;
use crate::form::place as at;
use crate::section::Section;
use crate::upright::MIRROR;

pub(super) fn place(figure: &Figure, measure: Measure, side: Side) -> Option<Place> {
    match measure {
        Measure::BustFrontArc => arc(figure, measure, side, 0),
        Measure::WaistFrontArc => arc(figure, measure, side, 1),
        Measure::HipFrontArc => arc(figure, measure, side, 2),
        Measure::NeckBase => Some(neck_base(figure, side)),
        Measure::Armscye => Some(armscye(figure, side)),
        Measure::Thigh => Some(thigh(figure, side)),
        Measure::UpperArm => limb(&figure.upright.arm.across_upper(0.42), side),
        Measure::Elbow => limb(&figure.upright.arm.across_elbow(), side),
        Measure::Wrist => limb(&figure.upright.arm.across_wrist(), side),
        _ => {
            let (height, section) = figure.form.level(measure)?;
            Some(girth(section, height, side, flank(measure)))
        }
    }
}

/// Girths in turn to the left and to the right, so that their numbers have room.
fn flank(measure: Measure) -> Flank {
    match measure {
        Measure::Bust | Measure::Waist | Measure::Hip | Measure::Head => Flank::Left,
        _ => Flank::Right,
    }
}

/// A level girth: the half before the body low, the half behind it high.
fn girth(section: &Section, height: f64, side: Side, flank: Flank) -> Place {
    let (near, far) = halves(section, height, side);
    ring(near, far, flank)
}

fn ring(near: Curve, far: Curve, flank: Flank) -> Place {
    let (start, end) = (near.start(), near.end());
    let (left, right) = if start.x < end.x {
        (start, end)
    } else {
        (end, start)
    };
    Place {
        hold: if flank == Flank::Left { left } else { right },
        near: vec![near],
        far: vec![far],
        ticks: false,
        flank,
    }
}

fn halves(section: &Section, height: f64, side: Side) -> (Curve, Curve) {
    let upright = |points: Vec<Point>, sign: f64| {
        along(&projected(points, |p| {
            at(p.x, height - sign * TILT * (p.y - section.side()))
        }))
    };
    let profile = |sign: f64| {
        along(&projected(section.right_half(), |p| {
            at(p.y, height - sign * TILT * p.x)
        }))
    };
    match side {
        Side::Front => (
            upright(section.front_half(), 1.0),
            upright(section.back_half(), 1.0),
        ),
        Side::Back => (
            upright(section.back_half(), -1.0),
            upright(section.front_half(), -1.0),
        ),
        Side::Profile => (profile(1.0), profile(-1.0)),
    }
}

fn projected(points: Vec<Point>, to: impl Fn(Point) -> Point) -> Vec<Point> {
    points.into_iter().map(to).collect()
}

/// The front part of a girth, as far as it was measured.
fn arc(figure: &Figure, measure: Measure, side: Side, index: usize) -> Option<Place> {
    let (height, section) = figure.form.level(measure)?;
    let right = section.right_until(figure.form.front_arcs[index]);
    let curve = match side {
        Side::Back => return None,
        Side::Profile => along(&projected(right, |p| at(p.y, height - TILT * p.x))),
        Side::Front => {
            let mut half = projected(right, |p| at(p.x, height - TILT * (p.y - section.side())));
            half.reverse();
            let left: Vec<Point> = half.iter().rev().skip(1).map(|p| MIRROR * *p).collect();
            half.extend(left);
            along(&half)
        }
    };
    let mut place = Place::line(curve, 0.0, Flank::Right);
    if side == Side::Profile {
        place.hold = place.near[0].start();
    }
    Some(place)
}

/// Over nape bone, side neck points and front hollow.
fn neck_base(figure: &Figure, side: Side) -> Place {
    let (form, heights) = (&figure.form, &figure.form.heights);
    let over = |drop: f64| {
        half_ellipse(
            at(0.0, heights.neck),
            ACROSS * form.neck.base,
            Vec2::new(0.0, drop),
        )
    };
    let front = over(heights.neck - heights.hollow);
    let back = over(heights.neck - heights.nape + 5.0);
    match side {
        Side::Front => ring(front, back, Flank::Left),
        Side::Back => ring(back, front, Flank::Left),
        Side::Profile => {
            let [nape, hollow] = [
                figure.profile.back_at(heights.nape),
                figure.profile.front_at(heights.hollow),
            ];
            let middle = form.neck_side();
            let over = |drop: f64| {
                through(&[
                    at(nape, heights.nape),
                    at(middle, heights.neck - drop),
                    at(hollow, heights.hollow),
                ])
            };
            ring(over(14.0), over(0.0), Flank::Left)
        }
    }
}

/// Where the arm joins the body.
fn armscye(figure: &Figure, side: Side) -> Place {
    let form = &figure.form;
    let tip = figure.upright.arm.tip;
    let (top, bottom) = (form.heights.shoulder, form.heights.armpit);
    let crease = |across: f64| {
        through(&[
            tip,
            at(across.min(tip.x + 6.0), f64::midpoint(top, bottom)),
            figure.upright.arm.armpit,
        ])
    };
    let [front, back] = [crease(form.across_front), crease(form.across_back)];
    let (near, far) = match side {
        Side::Front => (front, back),
        Side::Back => (back, front),
        Side::Profile => return armhole(form.armscye, top, bottom, form.armhole_middle()),
    };
    Place {
        hold: near.point_at(0.55 * near.length()),
        near: vec![near],
        far: vec![far],
        ticks: false,
        flank: Flank::Right,
    }
}

/// The armhole from the side: an ellipse of its girth, as high as from armpit to shoulder.
fn armhole(girth: f64, top: f64, bottom: f64, side: f64) -> Place {
    let half = (top - bottom) / 2.0;
    let off = |wide: f64| {
        Section::super_ellipse(Point::ORIGIN, Vec2::new(wide, half), 2.0).girth() - girth
    };
    // A height that the girth does not allow is drawn as a narrow ring, or as a round one.
    let wide = bracketed(0.35 * half, girth, 0.01, off).unwrap_or(0.35 * half);
    let wide = ACROSS * wide.min(1.1 * half);
    let middle = at(side, bottom + half);
    let near =
        [1.0, -1.0].map(|sign| half_ellipse(middle, wide * sign, Vec2::new(0.0, sign * half)));
    Place {
        hold: middle - wide,
        near: near.to_vec(),
        far: Vec::new(),
        ticks: false,
        flank: Flank::Left,
    }
}

/// Round one thigh, just below the seat.
fn thigh(figure: &Figure, side: Side) -> Place {
    let height = figure.form.thigh_height();
    if side == Side::Profile {
        let (back, front) = (
            figure.profile.back_at(height),
            figure.profile.front_at(height),
        );
        let middle = at(f64::midpoint(back, front), height);
        let half = |drop: f64| {
            half_ellipse(
                middle,
                ACROSS * ((front - back) / 2.0),
                Vec2::new(0.0, drop),
            )
        };
        return ring(half(13.0), half(-13.0), Flank::Right);
    }
    let (inner, outer) = figure.upright.thigh;
    let across = Across {
        outer: at(outer, height),
        inner: at(inner, height),
        way: Vec2::new(0.0, 1.0),
    };
    ellipse(&across)
}

/// Round an arm; from the side the arm is not drawn.
fn limb(across: &Across, side: Side) -> Option<Place> {
    (side != Side::Profile).then(|| ellipse(across))
}

/// Round a limb: half an ellipse toward the hand or foot, the other half hidden.
fn ellipse(across: &Across) -> Place {
    let span = across.outer - across.inner;
    let drop = across.way / across.way.hypot() * (0.9 * TILT * span.hypot());
    let middle = across.inner.midpoint(across.outer);
    let half = |drop: Vec2| half_ellipse(middle, span / 2.0, drop);
    ring(half(drop), half(-drop), Flank::Right)
}
