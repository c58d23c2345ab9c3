//! Lengths in the units that the page asks for.

use document::{inches_eighths, metric};
use geometry::Length;
use serde::Deserialize;

/// The units in which lengths are shown and, where a person gives none, written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Units {
    /// Millimetres on a pattern, centimetres on a body.
    #[default]
    Metric,
    /// Inches with eighths.
    Inch,
}

impl Units {
    /// A length of a pattern: `38.5 mm`, `1 1/2 in`.
    pub(crate) fn length(self, mm: f64) -> String {
        match self {
            Self::Metric => metric(Length::from_mm(mm)),
            Self::Inch => inches_eighths(Length::from_mm(mm)),
        }
    }

    /// A length of a pattern in whole millimetres: `412 mm`.
    pub(crate) fn rough(self, mm: f64) -> String {
        match self {
            Self::Metric => format!("{:.0} mm", mm.round() + 0.0),
            Self::Inch => self.length(mm),
        }
    }

    /// A length of a body: `92.4 cm`, `36 3/8 in`.
    pub(crate) fn of_body(self, mm: f64) -> String {
        match self {
            Self::Metric => format!("{:.1} cm", mm / 10.0 + 0.0),
            Self::Inch => self.length(mm),
        }
    }

    /// The nearest length that a person would write: whole millimetres, eighths of an inch.
    pub(crate) fn written_step(self) -> f64 {
        match self {
            Self::Metric => 1.0,
            Self::Inch => Length::MM_PER_INCH / 8.0,
        }
    }

    /// What stands for a unit where a person writes a plain number into a field of a pattern.
    pub(crate) const fn usual(self) -> &'static str {
        match self {
            Self::Metric => "mm",
            Self::Inch => "in",
        }
    }
}
