//! The measures of a body: what each is called, how it is taped, and what is possible.
//!
//! Knows no file and no other body. Invariant: every measure stands once in [`Measure::ALL`], in the order of the table
//! and of the survey's figures.

mod table;

use document::{Quantity, Unit};

/// A measure of a body.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Measure {
    /// Bust.
    Bust,
    /// Under-bust.
    UnderBust,
    /// Upper chest.
    UpperChest,
    /// Waist.
    Waist,
    /// High hip.
    HighHip,
    /// Hip.
    Hip,
    /// Neck base.
    NeckBase,
    /// Shoulder length.
    ShoulderLength,
    /// Shoulder slope.
    ShoulderSlope,
    /// Across back.
    AcrossBack,
    /// Across front.
    AcrossFront,
    /// Bust point width.
    BustPointWidth,
    /// Side neck to bust point.
    NeckToBustPoint,
    /// Back waist length.
    BackWaistLength,
    /// Front waist length.
    FrontWaistLength,
    /// Side length.
    SideLength,
    /// Armhole depth.
    ScyeDepth,
    /// Armhole girth.
    Armscye,
    /// Front bust arc.
    BustFrontArc,
    /// Front waist arc.
    WaistFrontArc,
    /// Front hip arc.
    HipFrontArc,
    /// Waist to high hip.
    WaistToHighHip,
    /// Waist to hip.
    WaistToHip,
    /// Waist to knee.
    WaistToKnee,
    /// Waist to floor.
    WaistToFloor,
    /// Crotch depth.
    CrotchDepth,
    /// Thigh.
    Thigh,
    /// Upper arm.
    UpperArm,
    /// Elbow.
    Elbow,
    /// Wrist.
    Wrist,
    /// Arm length.
    ArmLength,
    /// Shoulder to elbow.
    ShoulderToElbow,
    /// Head.
    Head,
    /// Height.
    Stature,
}

/// What is measured.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// All round.
    Girth,
    /// Part of a girth, from side seam to side seam.
    Arc,
    /// Over the surface from one place to another.
    Length,
    /// From the floor.
    Height,
    /// An angle, in degrees.
    Angle,
}

/// Name and clause of a measure in ISO 8559-1:2017.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Iso {
    /// Name in the standard.
    pub name: &'static str,
    /// Number of the clause.
    pub clause: &'static str,
}

/// What is known of a measure without looking at any body.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct About {
    /// The measure.
    pub measure: Measure,
    /// Its name in a file.
    pub key: &'static str,
    /// Its name in messages and papers.
    pub label: &'static str,
    /// Other names the trade uses for it; may be empty.
    pub also: &'static str,
    /// What it is, in one sentence.
    pub definition: &'static str,
    /// How one tapes it alone.
    pub alone: &'static str,
    /// How one tapes it with somebody's help.
    pub helped: &'static str,
    /// Name and clause in ISO 8559-1:2017, where known.
    pub iso: Option<Iso>,
    /// What is measured.
    pub kind: Kind,
    /// No grown body has less (mm or degrees).
    pub least: f64,
    /// No grown body has more (mm or degrees).
    pub most: f64,
    /// Standard deviation of one reading about the true value (mm or degrees).
    pub observer_error: f64,
    /// Whether it is one of the twelve that a bodice needs at least.
    pub minimum: bool,
}

impl Measure {
    /// Number of measures.
    pub const COUNT: usize = Self::ALL.len();

    /// All measures, in the order in which they are listed everywhere.
    pub const ALL: [Self; 34] = [
        Self::Bust,
        Self::UnderBust,
        Self::UpperChest,
        Self::Waist,
        Self::HighHip,
        Self::Hip,
        Self::NeckBase,
        Self::ShoulderLength,
        Self::ShoulderSlope,
        Self::AcrossBack,
        Self::AcrossFront,
        Self::BustPointWidth,
        Self::NeckToBustPoint,
        Self::BackWaistLength,
        Self::FrontWaistLength,
        Self::SideLength,
        Self::ScyeDepth,
        Self::Armscye,
        Self::BustFrontArc,
        Self::WaistFrontArc,
        Self::HipFrontArc,
        Self::WaistToHighHip,
        Self::WaistToHip,
        Self::WaistToKnee,
        Self::WaistToFloor,
        Self::CrotchDepth,
        Self::Thigh,
        Self::UpperArm,
        Self::Elbow,
        Self::Wrist,
        Self::ArmLength,
        Self::ShoulderToElbow,
        Self::Head,
        Self::Stature,
    ];

    /// The measure with this key.
    pub fn from_key(key: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|measure| measure.key() == key)
    }

    /// What is known of the measure.
    pub fn about(self) -> &'static About {
        &table::TABLE[self.index()]
    }

    /// Its name in a file, such as `under-bust`.
    pub fn key(self) -> &'static str {
        self.about().key
    }

    /// Its name in messages, such as `side neck to bust point`.
    pub fn label(self) -> &'static str {
        self.about().label
    }

    /// Whether it is an angle, in degrees, and not a length.
    pub fn is_angle(self) -> bool {
        self.about().kind == Kind::Angle
    }

    /// A value of this measure (mm or degrees) with its unit.
    pub fn quantity(self, value: f64) -> Quantity {
        let unit = if self.is_angle() {
            Unit::Degrees
        } else {
            Unit::Millimetres
        };
        Quantity { value, unit }
    }

    /// Its place in [`Measure::ALL`].
    pub(crate) const fn index(self) -> usize {
        self as usize
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_table_is_in_the_order_of_the_measures() {
        for (i, measure) in Measure::ALL.into_iter().enumerate() {
            assert_eq!(measure.index(), i);
            let about = measure.about();
            assert_eq!(about.measure, measure);
            assert_eq!(Measure::from_key(about.key), Some(measure));
            assert!(about.least < about.most && about.observer_error > 0.0);
            for words in [about.definition, about.alone, about.helped] {
                assert!(words.ends_with('.'), "{}", about.key);
            }
        }
    }

    #[test]
    fn a_bodice_needs_twelve() {
        let minimum = Measure::ALL.iter().filter(|m| m.about().minimum).count();
        assert_eq!(minimum, 12);
    }

    #[test]
    fn observer_errors_are_those_quoted() {
        // ISO 20685 limits as given in Zakaria & Gupta (eds.) 2020, section 2.3.4 (second-hand).
        for (measure, error) in [
            (Measure::Stature, 4.0),
            (Measure::Wrist, 4.0),
            (Measure::ShoulderLength, 5.0),
            (Measure::Bust, 9.0),
            (Measure::Waist, 9.0),
            (Measure::Hip, 9.0),
            (Measure::Head, 2.0),
        ] {
            assert_eq!(measure.about().observer_error, error);
        }
    }
}
