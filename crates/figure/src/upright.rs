//! The outline of a body seen from front or back: its right half, mirrored for the left.
//!
//! Knows the form; no paper and no measure's place. Across to the right, height downward, mm. Invariant: the right half
//! touches the middle line only at the crown and at the crotch, so that both halves make one simple closed outline.

use geometry::{Affine, Curve, Knot, Point, Tolerance, Vec2};

use crate::arm::Arm;
use crate::form::{Form, place};

const DOWN: Vec2 = Vec2::new(0.0, 1.0);
const LEFT: Vec2 = Vec2::new(-1.0, 0.0);
/// From left to right.
pub(crate) const MIRROR: Affine = Affine::new([-1.0, 0.0, 0.0, 1.0, 0.0, 0.0]);

/// A body seen from front or back.
#[derive(Clone, Debug)]
pub(crate) struct Upright {
    /// From the crown down the right side to the crotch.
    pub(crate) half: Vec<Curve>,
    /// The lower edge of the face, from the right side of the neck to the left.
    pub(crate) chin: Curve,
    /// From the side neck point to the shoulder point.
    pub(crate) shoulder: Curve,
    /// From above the armpit down to the ankle.
    pub(crate) side: Curve,
    pub(crate) arm: Arm,
    pub(crate) thigh: (f64, f64),
}

impl Upright {
    pub(crate) fn of(form: &Form) -> Self {
        let (head, chin) = head(form);
        let (neck, shoulder) = neck(form, head.end());
        let thigh = thigh(form);
        let side = side(form, thigh.1);
        let arm = Arm::beside(form, &side, shoulder.end_direction());
        let below = side.stretch(arm.along_side, side.length());
        let below = below.with_ends(arm.armpit, side.end());
        let leg = foot_and_inner_leg(form, side.end(), side.end_direction(), thigh.0);
        Self {
            half: vec![
                head,
                neck,
                shoulder.clone(),
                arm.outline.clone(),
                below,
                leg,
            ],
            chin,
            shoulder,
            side,
            arm,
            thigh,
        }
    }

    /// Both halves, one closed outline clockwise on paper from the crown.
    pub(crate) fn outline(&self) -> Vec<Curve> {
        let left = self
            .half
            .iter()
            .rev()
            .map(|curve| curve.transformed(MIRROR).reversed());
        self.half.iter().cloned().chain(left).collect()
    }

    /// The side of the body between two heights.
    pub(crate) fn side_between(&self, high: f64, low: f64) -> Curve {
        let at = |height: f64| {
            let met = self.side.crossings_with_line(
                place(0.0, height),
                Vec2::new(1.0, 0.0),
                Tolerance::DRAWING,
            );
            met.first().map(|met| met.along)
        };
        let from = at(high).unwrap_or(0.0);
        let to = at(low).unwrap_or(self.side.length());
        self.side.stretch(from, to)
    }
}

fn smooth(knots: &[Knot]) -> Curve {
    Curve::smooth(knots).expect("the places of a figure lie apart")
}

/// The head down to the neck, and the lower edge of the face between.
fn head(form: &Form) -> (Curve, Curve) {
    let heights = &form.heights;
    let (half, height) = (form.head.half_width(), heights.top - heights.chin);
    let at = |across: f64, down: f64| place(across * half, heights.top - down * height);
    let egg = smooth(&[
        Knot::toward(at(0.0, 0.0), -LEFT),
        Knot::toward(at(1.0, 0.4), DOWN),
        Knot::free(at(0.8, 0.76)),
        Knot::toward(at(0.0, 1.0), LEFT),
    ]);
    let low = egg.length() / 2.0;
    let met = egg.crossings_with_line(place(form.neck.half, 0.0), DOWN, Tolerance::DRAWING);
    let along = met.iter().map(|met| met.along).rfind(|along| *along > low);
    let along = along.unwrap_or(0.75 * egg.length());
    let chin = egg.stretch(along, egg.length());
    let left = chin.transformed(MIRROR).reversed();
    let chin = chin
        .then(&left)
        .expect("both halves of a chin meet in the middle");
    (egg.stretch(0.0, along), chin)
}

/// From the face to the side neck point, and on to the shoulder point.
fn neck(form: &Form, from: Point) -> (Curve, Curve) {
    let heights = &form.heights;
    let base = place(form.neck.base, heights.neck);
    let tip = place(form.shoulder, heights.shoulder);
    let slope = (tip - base) / tip.distance(base);
    let lean = slope * 0.8 + DOWN * 0.45;
    let knots = [
        Knot::toward(from, DOWN + LEFT * 0.12),
        Knot::toward(base, lean),
    ];
    let shoulder = [
        Knot::toward(base, lean),
        Knot::toward(tip, slope + DOWN * 0.22),
    ];
    (smooth(&knots), smooth(&shoulder))
}

/// Inner and outer side of the right thigh where it is taped, across.
fn thigh(form: &Form) -> (f64, f64) {
    let width = 2.0 * form.thigh.half_width();
    let outer = (0.97 * form.hip.half_width()).max(width + 3.0);
    (outer - width, outer)
}

/// The middle of knee, calf and ankle, across.
fn leg_middle(form: &Form) -> [f64; 3] {
    let knee = 0.42 * form.hip.half_width();
    [knee, knee - 4.0, knee - 12.0]
}

/// Heights of calf and ankle.
fn leg_heights(form: &Form) -> [f64; 2] {
    [0.74 * form.heights.knee, 0.062 * form.heights.top]
}

/// The side from above the armpit to the ankle.
fn side(form: &Form, thigh: f64) -> Curve {
    let heights = &form.heights;
    let [knee, calf, ankle] = leg_middle(form);
    let [calf_height, ankle_height] = leg_heights(form);
    let chest = form.chest.half_width();
    let leg = form.leg;
    smooth(&[
        Knot::free(place(0.96 * chest, heights.armpit + 70.0)),
        Knot::free(place(chest, heights.armpit)),
        Knot::free(place(form.bust.half_width(), heights.bust)),
        Knot::free(place(form.under_bust.half_width(), heights.under_bust)),
        Knot::free(place(form.waist.half_width(), heights.waist)),
        Knot::free(place(form.high_hip.half_width(), heights.high_hip)),
        Knot::free(place(form.hip.half_width(), heights.hip)),
        Knot::free(place(thigh, form.thigh_height())),
        Knot::free(place(knee + 0.47 * leg.knee, heights.knee)),
        Knot::free(place(calf + 0.5 * leg.calf, calf_height)),
        Knot::free(place(ankle + 0.45 * leg.ankle, ankle_height)),
    ])
}

/// Round the foot and up the inner side of the leg to the crotch.
fn foot_and_inner_leg(form: &Form, from: Point, way: Vec2, thigh: f64) -> Curve {
    let heights = &form.heights;
    let [knee, calf, ankle] = leg_middle(form);
    let [calf_height, ankle_height] = leg_heights(form);
    let leg = form.leg;
    let rise = heights.crotch - form.thigh_height();
    let sole = |across: f64| place(ankle + across * leg.ankle, 0.0);
    smooth(&[
        Knot::toward(from, way),
        Knot::free(place(ankle + 0.72 * leg.ankle, 0.014 * heights.top)),
        Knot::toward(sole(0.5), LEFT),
        Knot::toward(sole(-0.22), LEFT),
        Knot::free(place(ankle - 0.46 * leg.ankle, 0.014 * heights.top)),
        Knot::toward(place(ankle - 0.43 * leg.ankle, ankle_height), -DOWN),
        Knot::free(place(calf - 0.46 * leg.calf, calf_height)),
        Knot::free(place(knee - 0.45 * leg.knee, heights.knee)),
        Knot::toward(place(thigh, form.thigh_height()), -DOWN),
        Knot::toward(
            place(0.0, heights.crotch),
            LEFT * (1.6 * thigh) - DOWN * rise,
        ),
    ])
}
