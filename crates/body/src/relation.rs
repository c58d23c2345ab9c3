//! Sizes that must stand in a certain order, whatever the body: a part is less than its whole.
//!
//! Knows measures, no file. Estimates are kept in order, measured values are reported where they are not. The margins are
//! common practice, no source.

use crate::measure::Measure;

/// One measure is at most a share of another, less a gap.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Relation {
    pub(crate) lesser: Measure,
    pub(crate) share: f64,
    pub(crate) greater: Measure,
    /// Readings contradict each other where less than this lies between (mm).
    pub(crate) never: f64,
    /// Estimates are kept this far apart (mm).
    pub(crate) kept: f64,
}

impl Relation {
    /// How much lies between, in mm of the lesser measure.
    pub(crate) fn gap(&self, lesser: f64, greater: f64) -> f64 {
        self.share * greater - lesser
    }

    /// The most that the lesser may be.
    pub(crate) fn most(&self, greater: f64) -> f64 {
        self.share * greater - self.kept
    }

    /// The least that the greater may be.
    pub(crate) fn least(&self, lesser: f64) -> f64 {
        (lesser + self.kept) / self.share
    }
}

const fn below(lesser: Measure, greater: Measure, never: f64, kept: f64) -> Relation {
    within(lesser, 1.0, greater, never, kept)
}

const fn within(lesser: Measure, share: f64, greater: Measure, never: f64, kept: f64) -> Relation {
    Relation {
        lesser,
        share,
        greater,
        never,
        kept,
    }
}

/// All relations, in the order in which estimates are moved: a later one has the last word, so that no estimate of the
/// upper chest is widened beyond the bust by a broad back.
pub(crate) const RELATIONS: &[Relation] = &[
    within(Measure::AcrossBack, 0.5, Measure::UpperChest, 0.0, 40.0),
    within(Measure::AcrossFront, 0.5, Measure::UpperChest, 0.0, 50.0),
    // A very flat bust measures hardly more than the chest above it; muscle at the armpits can make it a little less.
    below(Measure::UpperChest, Measure::Bust, -30.0, 3.0),
    below(Measure::UnderBust, Measure::Bust, 0.0, 40.0),
    below(Measure::UnderBust, Measure::UpperChest, -60.0, 10.0),
    within(Measure::BustPointWidth, 0.33, Measure::Bust, 0.0, 0.0),
    within(Measure::BustFrontArc, 0.72, Measure::Bust, 0.0, 0.0),
    within(Measure::Bust, 2.4, Measure::BustFrontArc, 0.0, 0.0),
    within(Measure::WaistFrontArc, 0.7, Measure::Waist, 0.0, 0.0),
    within(Measure::Waist, 2.5, Measure::WaistFrontArc, 0.0, 0.0),
    within(Measure::HipFrontArc, 0.65, Measure::Hip, 0.0, 0.0),
    within(Measure::Hip, 2.7, Measure::HipFrontArc, 0.0, 0.0),
    below(
        Measure::NeckToBustPoint,
        Measure::FrontWaistLength,
        20.0,
        90.0,
    ),
    below(Measure::ScyeDepth, Measure::BackWaistLength, 60.0, 120.0),
    below(Measure::SideLength, Measure::BackWaistLength, 60.0, 120.0),
    below(Measure::WaistToHighHip, Measure::WaistToHip, 10.0, 40.0),
    below(Measure::WaistToHip, Measure::WaistToKnee, 100.0, 220.0),
    below(Measure::WaistToKnee, Measure::WaistToFloor, 200.0, 330.0),
    below(Measure::CrotchDepth, Measure::WaistToFloor, 300.0, 450.0),
    within(Measure::WaistToFloor, 0.75, Measure::Stature, 0.0, 40.0),
    within(Measure::BackWaistLength, 0.4, Measure::Stature, 0.0, 60.0),
    below(Measure::ShoulderToElbow, Measure::ArmLength, 80.0, 150.0),
    below(Measure::UpperArm, Measure::Armscye, -20.0, 50.0),
    within(Measure::Elbow, 1.3, Measure::UpperArm, 0.0, 0.0),
    below(Measure::Wrist, Measure::Elbow, 10.0, 40.0),
    within(Measure::Thigh, 0.85, Measure::Hip, 0.0, 40.0),
];
