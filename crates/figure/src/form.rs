//! A body's form as far as a line figure needs it: heights, level sections, neck, head, legs.
//!
//! Knows no view and no paper. Heights are above the floor; across is from the middle line; forward is from the plumb line
//! through the hip joint. Sources: super-ellipses and widths at waist and hip from a survey of 1,986 women (ANSUR II, 2012,
//! public data): exponents 2.83 and 3.64, widths 29 + 0.315·W and 16 + 0.331·H, spreads 10 and 9. Widths of the chest are
//! set so that the depth at the bust comes out as the survey has it, 0.312·B − 48, spread 9. Where no source is named the
//! figure was chosen by eye. Invariant: every girth that was measured is the perimeter of its section.

use body::{Body, Measure};
use geometry::Point;

use crate::heights::Heights;
use crate::section::{Breasts, Oval, Section};

/// What a line figure is drawn from, mm.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Form {
    pub(crate) heights: Heights,
    pub(crate) chest: Section,
    pub(crate) bust: Section,
    pub(crate) under_bust: Section,
    pub(crate) waist: Section,
    pub(crate) high_hip: Section,
    pub(crate) hip: Section,
    pub(crate) thigh: Section,
    pub(crate) head: Section,
    /// Half from bust point to bust point.
    pub(crate) bust_point: f64,
    pub(crate) neck: Neck,
    pub(crate) shoulder: f64,
    pub(crate) across_back: f64,
    pub(crate) across_front: f64,
    pub(crate) arm: ArmSizes,
    pub(crate) leg: LegSizes,
    pub(crate) armscye: f64,
    /// Half the front parts of the girths at bust, waist and hip.
    pub(crate) front_arcs: [f64; 3],
}

/// Neck and head from front to back and across, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Neck {
    /// Half its width half way up.
    pub(crate) half: f64,
    /// Side neck point, across.
    pub(crate) base: f64,
    /// How far forward nape bone and front hollow lie.
    pub(crate) nape: f64,
    pub(crate) hollow: f64,
    /// Depth half way up.
    pub(crate) depth: f64,
}

/// Lengths and half thicknesses of an arm, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct ArmSizes {
    pub(crate) upper: f64,
    pub(crate) fore: f64,
    pub(crate) hand: f64,
    pub(crate) at_upper: f64,
    pub(crate) at_elbow: f64,
    pub(crate) at_fore: f64,
    pub(crate) at_wrist: f64,
}

/// Mean thicknesses of a leg below the thigh, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct LegSizes {
    pub(crate) knee: f64,
    pub(crate) calf: f64,
    pub(crate) ankle: f64,
}

impl Form {
    pub(crate) fn of(body: &Body) -> Self {
        let heights = Heights::of(body);
        let hip = oval(body.mm(Measure::Hip), (16.0, 0.331), 3.64, 0.0);
        let depth = hip.front() - hip.back();
        // The seat and the shoulder blades touch the same wall; the waist is hollow.
        let wall = -(70.0 + 0.22 * depth);
        let waist = oval(body.mm(Measure::Waist), (29.0, 0.315), 2.83, 0.0);
        let hollow = (28.0 + 0.25 * (depth - (waist.front() - waist.back()))).clamp(14.0, 46.0);
        let level =
            |measure, width, exponent, back| oval(body.mm(measure), width, exponent, wall + back);
        let chest = level(Measure::UpperChest, (27.0, 0.305), 2.9, 2.0);
        let spine = Neck::of(body, &heights, &chest);
        Self {
            heights,
            bust: bust(body, wall + 8.0),
            chest,
            under_bust: level(
                Measure::UnderBust,
                (42.0, 0.3),
                2.6,
                8.0 + 0.45 * (hollow - 8.0),
            ),
            waist: level(Measure::Waist, (29.0, 0.315), 2.83, hollow),
            high_hip: level(Measure::HighHip, (22.0, 0.323), 3.2, 0.45 * hollow),
            hip: level(Measure::Hip, (16.0, 0.331), 3.64, 0.0),
            thigh: thigh(body, hip.half_width(), wall + 0.14 * depth),
            head: oval(
                body.mm(Measure::Head),
                (0.0, 0.262),
                2.1,
                spine.nape + 78.0 - 0.168 * body.mm(Measure::Head),
            ),
            bust_point: body.mm(Measure::BustPointWidth) / 2.0,
            neck: spine,
            shoulder: spine.base + body.mm(Measure::ShoulderLength) * body.shoulder_slope().cos(),
            // The tape follows the curve of back and chest: 5 % longer than straight.
            across_back: 0.475 * body.mm(Measure::AcrossBack),
            across_front: 0.475 * body.mm(Measure::AcrossFront),
            arm: ArmSizes::of(body),
            leg: LegSizes::of(body),
            armscye: body.mm(Measure::Armscye),
            front_arcs: [
                Measure::BustFrontArc,
                Measure::WaistFrontArc,
                Measure::HipFrontArc,
            ]
            .map(|measure| body.mm(measure) / 2.0),
        }
    }

    /// The section that a girth of the torso is taped round, with its height.
    pub(crate) fn level(&self, measure: Measure) -> Option<(f64, &Section)> {
        let heights = &self.heights;
        match measure {
            Measure::UpperChest => Some((heights.armpit, &self.chest)),
            Measure::Bust | Measure::BustFrontArc => Some((heights.bust, &self.bust)),
            Measure::UnderBust => Some((heights.under_bust, &self.under_bust)),
            Measure::Waist | Measure::WaistFrontArc => Some((heights.waist, &self.waist)),
            Measure::HighHip => Some((heights.high_hip, &self.high_hip)),
            Measure::Hip | Measure::HipFrontArc => Some((heights.hip, &self.hip)),
            Measure::Head => Some((
                heights.top - 0.36 * (heights.top - heights.chin),
                &self.head,
            )),
            _ => None,
        }
    }

    /// Where the thigh is taped, mm above the floor.
    pub(crate) fn thigh_height(&self) -> f64 {
        self.heights.crotch - 0.014 * self.heights.top
    }

    /// Where the top of the shoulder and the neck's side lie from front to back, mm.
    pub(crate) fn neck_side(&self) -> f64 {
        self.neck.nape + 0.45 * (self.neck.hollow - self.neck.nape)
    }

    /// The middle of the armhole from front to back, mm.
    pub(crate) fn armhole_middle(&self) -> f64 {
        f64::midpoint(self.side_at(self.heights.armpit), self.neck_side())
    }

    /// Where the side seam lies from front to back, mm, at a height of the torso or leg.
    pub(crate) fn side_at(&self, height: f64) -> f64 {
        let heights = &self.heights;
        let known = [
            (heights.armpit, self.chest.side()),
            (heights.bust, self.under_bust.side()),
            (heights.waist, self.waist.side()),
            (heights.hip, self.hip.side()),
            (heights.knee, 2.0),
            (0.0, -16.0),
        ];
        let below = known.windows(2).find(|pair| height >= pair[1].0);
        below.map_or(known[0].1, |pair| {
            let [(high, at_high), (low, at_low)] = [pair[0], pair[1]];
            let share = ((height - low) / (high - low)).min(1.0);
            at_low + share * (at_high - at_low)
        })
    }
}

impl Neck {
    fn of(body: &Body, heights: &Heights, chest: &Section) -> Self {
        let base = body.mm(Measure::NeckBase);
        // Survey: girth half way up 0.858 × base + 11, spread 9; necks are nearly round.
        let mean = (0.858 * base + 11.0) / std::f64::consts::PI;
        // A deep chest carries the neck further from the wall.
        let deep = (chest.front() - chest.back() - 200.0).max(0.0);
        let nape = chest.back() + 0.026 * heights.top + 0.25 * deep;
        Self {
            half: (0.48 * mean).min(0.12 * body.mm(Measure::Head)),
            base: 0.165 * base,
            nape,
            hollow: nape + 0.31 * base,
            depth: 1.06 * mean,
        }
    }
}

impl ArmSizes {
    fn of(body: &Body) -> Self {
        let radius = |girth: f64| girth / std::f64::consts::TAU;
        let (arm, wrist) = (body.mm(Measure::UpperArm), body.mm(Measure::Wrist));
        // The bent arm is 25 longer than the hanging one, 15 of it above the elbow.
        let upper = (body.mm(Measure::ShoulderToElbow) - 15.0).max(150.0);
        let fore = (body.mm(Measure::ArmLength) - 25.0 - upper).max(120.0);
        Self {
            upper,
            fore,
            hand: 0.105 * body.mm(Measure::Stature),
            at_upper: radius(arm),
            // Stretched, an elbow is thinner than bent.
            at_elbow: 0.86 * radius(body.mm(Measure::Elbow)),
            // Survey: clenched forearm 0.385 × bent upper arm + 0.84 × wrist + 17, spread 8; hanging it is thinner.
            at_fore: 0.93 * radius(0.385 * (arm + 12.0) + 0.84 * wrist + 17.0),
            at_wrist: 1.04 * radius(wrist),
        }
    }
}

impl LegSizes {
    /// Survey: calf 0.324 thigh + 0.053 hip + 120, spread 18; ankle 0.143 thigh + 128, spread 13.
    fn of(body: &Body) -> Self {
        let (thigh, hip) = (body.mm(Measure::Thigh), body.mm(Measure::Hip));
        let calf = 0.324 * thigh + 0.053 * hip + 120.0;
        let mean = |girth: f64| girth / std::f64::consts::PI;
        Self {
            knee: mean(1.0 * calf),
            calf: mean(calf),
            ankle: mean(0.143 * thigh + 128.0),
        }
    }
}

fn oval(girth: f64, (constant, share): (f64, f64), exponent: f64, back: f64) -> Section {
    Section::oval(Oval {
        girth,
        width: constant + share * girth,
        exponent,
        back,
    })
}

/// Ribs at the level of the bust, and two breasts before them; what the ribs measure there is no source.
fn bust(body: &Body, back: f64) -> Section {
    let girth = body.mm(Measure::Bust);
    let ribs = 0.65 * body.mm(Measure::UnderBust) + 0.35 * body.mm(Measure::UpperChest);
    let ribs = Section::oval(Oval {
        girth: ribs.min(girth - 12.0),
        width: 17.0 + 0.3 * girth,
        exponent: 2.5,
        back,
    });
    let fullness = (girth - body.mm(Measure::UnderBust)).max(0.0);
    ribs.with_breasts(Breasts {
        girth,
        apart: body.mm(Measure::BustPointWidth),
        radius: 36.0 + 0.16 * fullness,
    })
}

/// The right thigh, its inner side next to the middle line.
fn thigh(body: &Body, half_hip: f64, back: f64) -> Section {
    let girth = body.mm(Measure::Thigh);
    let width = (0.29 * girth).min(half_hip - 4.0);
    Section::oval(Oval {
        girth,
        width,
        exponent: 2.2,
        back,
    })
}

/// A place on paper of a body seen from front or back: across, and height upward, mm.
pub(crate) fn place(across: f64, height: f64) -> Point {
    Point::new(across, -height)
}
