//! The hanging arm as seen from front or back, held so far away from the body that the sides are seen.
//!
//! Knows the form's numbers and the side of the torso; no paper. Across to the right, height downward, mm. Invariant: below
//! the armpit the arm does not meet the body.

use geometry::curve::unit;
use geometry::{Angle, Curve, Knot, Point, Tolerance, Vec2};

use crate::form::{ArmSizes, Form, place};

/// The least and the most that an upper arm is held away from hanging straight, degrees; no source.
const AWAY: (f64, f64) = (11.0, 27.0);
const ACROSS: Vec2 = Vec2::new(1.0, 0.0);
/// Smallest gap between hand and hip, mm.
const GAP_MM: f64 = 16.0;

/// The right arm.
#[derive(Clone, Debug)]
pub(crate) struct Arm {
    sizes: ArmSizes,
    /// Shoulder point.
    pub(crate) tip: Point,
    joint: Point,
    elbow: Point,
    wrist: Point,
    hand: Point,
    upper_way: Vec2,
    fore_way: Vec2,
    /// The outline from the shoulder point round the hand to the armpit.
    pub(crate) outline: Curve,
    /// Where arm and torso part.
    pub(crate) armpit: Point,
    /// How far down the side of the torso that is, mm along it.
    pub(crate) along_side: f64,
}

/// Across an arm: outer and inner end.
pub(crate) struct Across {
    pub(crate) outer: Point,
    pub(crate) inner: Point,
    /// Direction toward the hand.
    pub(crate) way: Vec2,
}

impl Arm {
    /// The arm held away as little as the body allows; `side` runs down from above the armpit to the knee.
    pub(crate) fn beside(form: &Form, side: &Curve, shoulder_way: Vec2) -> Self {
        let deepest = form.heights.armpit - 36.0;
        let mut away = AWAY.0;
        loop {
            let arm = Self::held(form, side, shoulder_way, away);
            if away >= AWAY.1 || (-arm.armpit.y >= deepest && arm.clears(side)) {
                return arm;
            }
            away += 1.0;
        }
    }

    fn held(form: &Form, side: &Curve, shoulder_way: Vec2, away: f64) -> Self {
        let sizes = form.arm;
        let tip = place(form.shoulder, form.heights.shoulder);
        let down = |degrees: f64| unit(Angle::from_degrees(90.0 - degrees));
        let (upper_way, fore_way) = (down(away), down(0.4 * away));
        let joint = tip + Vec2::new(-0.12, 0.78) * sizes.at_upper;
        let elbow = tip + upper_way * sizes.upper;
        let wrist = elbow + fore_way * sizes.fore;
        let mut arm = Self {
            sizes,
            tip,
            joint,
            elbow,
            wrist,
            hand: wrist + down(0.2 * away) * sizes.hand,
            upper_way,
            fore_way,
            outline: Curve::line(tip, wrist),
            armpit: tip,
            along_side: 0.0,
        };
        arm.draw(side, shoulder_way, form.heights.armpit);
        arm
    }

    /// Draws the outline down to the armpit: where the inner side of the arm first meets the side of the torso.
    fn draw(&mut self, side: &Curve, shoulder_way: Vec2, level: f64) {
        let outer =
            Curve::smooth(&self.outer_knots(shoulder_way)).expect("the places of an arm lie apart");
        let level = side.crossings_with_line(place(0.0, level), ACROSS, Tolerance::DRAWING);
        let lowest = level.first().map_or(0.0, |met| met.along);
        let inner = Curve::smooth(&self.inner_knots(side.point_at(lowest)))
            .expect("the places of an arm lie apart");
        // An arm that lies against the body parts from it below the armpit.
        let met = inner.crossings(side, Tolerance::DRAWING);
        let (inner, side_at) = match met.first() {
            Some(first) => (inner.stretch(0.0, first.along), first.other_along),
            None => (inner, lowest),
        };
        self.armpit = side.point_at(side_at);
        self.along_side = side_at;
        let inner = inner.with_ends(inner.start(), self.armpit);
        self.outline = outer
            .then(&inner)
            .expect("the inner side begins where the outer ends");
    }

    fn outer_knots(&self, shoulder_way: Vec2) -> Vec<Knot> {
        let ArmSizes {
            at_upper,
            at_fore,
            at_wrist,
            ..
        } = self.sizes;
        vec![
            Knot::toward(self.tip, shoulder_way),
            Knot::free(self.beside_upper(0.17, 1.07 * at_upper)),
            Knot::free(self.beside_upper(0.48, 0.96 * at_upper)),
            Knot::free(self.beside_elbow(1.0)),
            Knot::free(self.beside_fore(0.24, at_fore)),
            Knot::free(self.beside_fore(0.94, at_wrist)),
            Knot::free(self.beside_hand(0.36, 1.0)),
            Knot::free(self.beside_hand(0.8, 0.7)),
            Knot::toward(self.hand, Vec2::new(-1.0, 0.0)),
        ]
    }

    fn inner_knots(&self, armpit: Point) -> Vec<Knot> {
        let ArmSizes {
            at_upper,
            at_fore,
            at_wrist,
            ..
        } = self.sizes;
        let drop = (armpit.y + 50.0 - self.joint.y) / (self.elbow.y - self.joint.y);
        let below = drop.clamp(0.55, 0.8);
        vec![
            Knot::toward(self.hand, Vec2::new(-1.0, 0.0)),
            Knot::free(self.beside_hand(0.8, -0.72)),
            Knot::free(self.beside_hand(0.36, -1.05)),
            Knot::free(self.beside_fore(0.94, -at_wrist)),
            Knot::free(self.beside_fore(0.24, -at_fore)),
            Knot::free(self.beside_elbow(-1.0)),
            Knot::free(self.beside_upper(below, -at_upper)),
            Knot::toward(armpit, -self.upper_way),
        ]
    }

    fn clears(&self, side: &Curve) -> bool {
        [
            self.beside_fore(0.94, -self.sizes.at_wrist),
            self.beside_hand(0.36, -1.05),
            self.hand,
        ]
        .into_iter()
        .all(|point| side.nearest(point).distance >= GAP_MM)
    }

    /// The place across the upper arm at a share of its length from joint to elbow.
    pub(crate) fn across_upper(&self, share: f64) -> Across {
        let across = |side: f64| self.beside_upper(share, side * self.sizes.at_upper);
        self.across(across(1.0), across(-1.0), self.upper_way)
    }

    /// The place across the elbow.
    pub(crate) fn across_elbow(&self) -> Across {
        let way = (self.upper_way + self.fore_way) / 2.0;
        self.across(self.beside_elbow(1.0), self.beside_elbow(-1.0), way)
    }

    /// The place across the wrist.
    pub(crate) fn across_wrist(&self) -> Across {
        let across = |side: f64| self.beside_fore(0.95, side * self.sizes.at_wrist);
        self.across(across(1.0), across(-1.0), self.fore_way)
    }

    /// From outline to outline through two places of the arm; where it lies against the body, to the place itself.
    fn across(&self, outer: Point, inner: Point, way: Vec2) -> Across {
        let middle = outer.midpoint(inner);
        let edge = |place: Point| {
            let way = place - middle;
            let met = self
                .outline
                .crossings_with_ray(middle, way, Tolerance::DRAWING);
            let near = met.iter().filter(|met| met.other_along < 1.6 * way.hypot());
            near.map(|met| met.point).next().unwrap_or(place)
        };
        Across {
            outer: edge(outer),
            inner: edge(inner),
            way,
        }
    }

    /// Over the outside of the arm from the shoulder point to the elbow, and on to the wrist bone.
    pub(crate) fn outside(&self) -> [Curve; 2] {
        let at = 0.45;
        let elbow = self.beside_elbow(at);
        let upper = [
            Knot::free(self.tip),
            Knot::free(self.beside_upper(0.35, at * self.sizes.at_upper)),
            Knot::toward(elbow, self.upper_way + self.fore_way),
        ];
        let fore = [
            Knot::toward(elbow, self.upper_way + self.fore_way),
            Knot::free(self.beside_fore(0.95, at * self.sizes.at_wrist)),
        ];
        [&upper[..], &fore[..]]
            .map(|knots| Curve::smooth(knots).expect("the places of an arm lie apart"))
    }

    fn beside_upper(&self, share: f64, thick: f64) -> Point {
        self.joint.lerp(self.elbow, share) + outward(self.elbow - self.joint) * thick
    }

    fn beside_elbow(&self, share: f64) -> Point {
        self.elbow + outward(self.upper_way + self.fore_way) * (share * self.sizes.at_elbow)
    }

    fn beside_fore(&self, share: f64, thick: f64) -> Point {
        self.elbow.lerp(self.wrist, share) + outward(self.fore_way) * thick
    }

    /// Beside the hand; its half width, from the wrist's side, is a fifth of its length at most.
    fn beside_hand(&self, share: f64, wide: f64) -> Point {
        let half = 0.19 * self.sizes.hand;
        self.wrist.lerp(self.hand, share) + outward(self.hand - self.wrist) * (wide * half)
    }
}

/// Square to a way down the arm, away from the body.
fn outward(way: Vec2) -> Vec2 {
    Vec2::new(way.y, -way.x) / way.hypot()
}
