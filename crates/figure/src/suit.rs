//! Lines within the outline: the close-fitting suit that the figure wears, and the few that show its form.
//!
//! Knows the figure in mm at full size. Invariant: front and back lines are the same left and right.

use body::Measure;
use geometry::{Curve, Knot, Point, Vec2};

use crate::Side;
use crate::form::{Form, place as at};
use crate::place::Figure;
use crate::upright::MIRROR;

/// The lines to draw on one side.
pub(crate) fn lines(figure: &Figure, side: Side) -> Vec<Curve> {
    let mut right = match side {
        Side::Front => vec![
            armhole(figure, figure.form.across_front),
            under_breast(&figure.form),
        ],
        Side::Back => vec![
            armhole(figure, figure.form.across_back),
            blade(&figure.form),
        ],
        Side::Profile => return profile(figure),
    };
    right.push(leg_hem(figure));
    let left: Vec<Curve> = right
        .iter()
        .map(|curve| curve.transformed(MIRROR))
        .collect();
    right.extend(left);
    right.push(neckline(figure, side));
    if side == Side::Front {
        right.push(figure.upright.chin.clone());
    }
    right
}

fn smooth(knots: &[Knot]) -> Curve {
    Curve::smooth(knots).expect("the places of a suit lie apart")
}

/// From the shoulder point along the crease of the arm to the armpit.
fn armhole(figure: &Figure, across: f64) -> Curve {
    let (tip, armpit) = (figure.upright.arm.tip, figure.upright.arm.armpit);
    let middle = at(
        across.min(tip.x + 6.0),
        0.5 * (figure.form.heights.shoulder + figure.form.heights.armpit),
    );
    smooth(&[Knot::free(tip), Knot::free(middle), Knot::free(armpit)])
}

/// The lower edge of one breast; the fuller, the deeper.
fn under_breast(form: &Form) -> Curve {
    let heights = &form.heights;
    let middle = form.bust_point;
    let drop = heights.bust - heights.under_bust;
    let reach = (form.bust.half_width() - middle).min(0.9 * middle);
    let end = |across: f64| at(middle + across * reach, heights.bust - 0.25 * drop);
    smooth(&[
        Knot::free(end(-0.72)),
        Knot::toward(
            at(middle, heights.under_bust + 0.06 * drop),
            Vec2::new(1.0, 0.0),
        ),
        Knot::free(end(0.8)),
    ])
}

/// The edge of a shoulder blade.
fn blade(form: &Form) -> Curve {
    let heights = &form.heights;
    let out = 0.62 * form.across_back;
    smooth(&[
        Knot::free(at(out, heights.armpit + 20.0)),
        Knot::free(at(0.92 * out, heights.armpit - 12.0)),
        Knot::free(at(0.66 * out, heights.armpit - 30.0)),
    ])
}

/// The hem of the suit round a thigh.
fn leg_hem(figure: &Figure) -> Curve {
    let (height, drop) = (figure.form.thigh_height() - 45.0, 9.0);
    let inner = inner_leg_at(figure, height);
    let outer = figure
        .upright
        .side_between(height, figure.form.heights.knee)
        .start();
    let middle = inner.midpoint(outer) + Vec2::new(0.0, drop);
    smooth(&[Knot::free(outer), Knot::free(middle), Knot::free(inner)])
}

fn inner_leg_at(figure: &Figure, height: f64) -> Point {
    let leg = figure
        .upright
        .half
        .last()
        .expect("the outline ends with the leg");
    let met = leg.crossings_with_line(
        at(0.0, height),
        Vec2::new(1.0, 0.0),
        geometry::Tolerance::DRAWING,
    );
    met.last()
        .map_or(at(figure.upright.thigh.0, height), |met| met.point)
}

/// The suit's neckline, a little below the base of the neck.
fn neckline(figure: &Figure, side: Side) -> Curve {
    let heights = &figure.form.heights;
    let low = match side {
        Side::Front => heights.hollow - 34.0,
        Side::Back | Side::Profile => heights.nape - 30.0,
    };
    let strap = figure
        .upright
        .shoulder
        .point_at(0.24 * figure.upright.shoulder.length());
    let end = |sign: f64| Point::new(sign * strap.x, strap.y);
    smooth(&[
        Knot::free(end(1.0)),
        Knot::toward(at(0.0, low), Vec2::new(-1.0, 0.0)),
        Knot::free(end(-1.0)),
    ])
}

/// From the side: strap, armhole and hem.
fn profile(figure: &Figure) -> Vec<Curve> {
    let (form, profile) = (&figure.form, &figure.profile);
    let hem = form.thigh_height() - 45.0;
    let (back, front) = (profile.back_at(hem), profile.front_at(hem));
    let mut lines = figure
        .place(Measure::Armscye, Side::Profile)
        .map_or_else(Vec::new, |armhole| armhole.near);
    lines.push(smooth(&[
        Knot::free(at(back, hem)),
        Knot::free(at(f64::midpoint(back, front), hem - 9.0)),
        Knot::free(at(front, hem)),
    ]));
    lines.extend(strap(figure));
    lines
}

/// From the side: the suit's edges from the strap to front and back.
fn strap(figure: &Figure) -> [Curve; 2] {
    let (form, heights) = (&figure.form, &figure.form.heights);
    let strap = figure
        .upright
        .shoulder
        .point_at(0.24 * figure.upright.shoulder.length());
    let top = Point::new(
        0.76 * form.neck_side() + 0.24 * form.armhole_middle(),
        strap.y,
    );
    let [low_front, low_back] = [heights.hollow - 34.0, heights.nape - 30.0];
    let front = at(figure.profile.front_at(low_front), low_front);
    let back = at(figure.profile.back_at(low_back), low_back);
    [
        smooth(&[
            Knot::toward(top, Vec2::new(1.0, 0.7)),
            Knot::toward(front, Vec2::new(1.0, 0.1)),
        ]),
        smooth(&[
            Knot::toward(top, Vec2::new(-1.0, 0.35)),
            Knot::toward(back, Vec2::new(-1.0, 0.0)),
        ]),
    ]
}
