//! How a figure is drawn: scale, sizes, colours.
//!
//! Invariant: lengths here are millimetres on paper, whatever the scale of the figure.

use body::Measure;
use sheet::{Colour, Line};

/// Chalk blue, the one accent, for what is under the hand: 6.7:1 against white.
pub const CHALK: Colour = Colour(43, 95, 138);

/// How a figure is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Style {
    /// Millimetres on paper for a millimetre of the body; above zero.
    pub scale: f64,
    /// Whether measures bear their numbers.
    pub numbered: bool,
    /// Height of the numbers' font, mm on paper.
    pub number_mm: f64,
    /// Measures in the accent's colour: those that are being taped or talked of.
    pub under_hand: Vec<Measure>,
}

impl Default for Style {
    fn default() -> Self {
        Self {
            scale: 0.125,
            numbered: true,
            number_mm: 4.0,
            under_hand: Vec::new(),
        }
    }
}

impl Style {
    /// Radius of the ring round a number, mm.
    pub(crate) fn ring_mm(&self) -> f64 {
        0.8 * self.number_mm
    }

    pub(crate) fn is_under_hand(&self, measure: Measure) -> bool {
        self.under_hand.contains(&measure)
    }

    pub(crate) fn colour(&self, measure: Measure) -> Colour {
        if self.is_under_hand(measure) {
            CHALK
        } else {
            Colour::INK
        }
    }

    /// The line of a tape before the body.
    pub(crate) fn near(&self, measure: Measure) -> Line {
        let width = if self.is_under_hand(measure) {
            0.7
        } else {
            0.45
        };
        Line::solid(width).coloured(self.colour(measure))
    }

    /// The line of a tape behind the body.
    pub(crate) fn far(&self, measure: Measure) -> Line {
        Line::dashed(0.3, &[1.2, 1.0]).coloured(self.colour(measure))
    }
}

/// The body's outline.
pub(crate) fn body_line() -> Line {
    Line::solid(0.4).coloured(Colour::QUIET)
}

/// Lines within the body: the close-fitting suit, the chin.
pub(crate) fn inner_line() -> Line {
    Line::solid(0.22).coloured(Colour::HELP)
}

/// From a number to its tape.
pub(crate) fn leader() -> Line {
    Line::solid(0.18).coloured(Colour::QUIET)
}
