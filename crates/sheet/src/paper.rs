//! Papers: what a printer takes, and how much of it can be printed on.

use std::fmt;
use std::str::FromStr;

use crate::fault::Fault;

/// A kind of paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PaperSize {
    /// 210 × 297 mm (ISO 216).
    A4,
    /// 8½ × 11 in (ANSI/ASME Y14.1, A).
    Letter,
    /// 297 × 420 mm (ISO 216).
    A3,
    /// 8½ × 14 in.
    Legal,
    /// 841 × 1189 mm (ISO 216).
    A0,
    /// A roll 841 mm wide, cut to length.
    Roll841,
    /// A roll 914 mm (36 in) wide, cut to length.
    Roll914,
}

/// How the drawing is spread over a paper.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Spread {
    /// Cut into sheets that are joined again.
    Tiles,
    /// Whole pieces on each sheet.
    Sheets,
    /// Whole pieces on a length of roll.
    Roll,
}

impl PaperSize {
    /// All kinds, those of a home printer first.
    pub const ALL: [Self; 7] = [
        Self::A4,
        Self::Letter,
        Self::A3,
        Self::Legal,
        Self::A0,
        Self::Roll841,
        Self::Roll914,
    ];

    /// The name under which it is asked for: `a4`, `roll-914`.
    pub const fn name(self) -> &'static str {
        match self {
            Self::A4 => "a4",
            Self::Letter => "letter",
            Self::A3 => "a3",
            Self::Legal => "legal",
            Self::A0 => "a0",
            Self::Roll841 => "roll-841",
            Self::Roll914 => "roll-914",
        }
    }

    /// The name in a sentence: "A4", "914 mm roll".
    pub const fn title(self) -> &'static str {
        match self {
            Self::A4 => "A4",
            Self::Letter => "Letter",
            Self::A3 => "A3",
            Self::Legal => "Legal",
            Self::A0 => "A0",
            Self::Roll841 => "841 mm roll",
            Self::Roll914 => "914 mm roll",
        }
    }

    /// The paper of that name, whatever its case.
    pub fn by_name(name: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|size| size.name().eq_ignore_ascii_case(name))
    }

    /// Width and height upright, mm. A roll's height is the longest page that is made of it: 5 m, within the 14,400
    /// units (5.08 m) beyond which readers of PDF need not follow (ISO 32000-1, annex C).
    pub const fn size_mm(self) -> (f64, f64) {
        match self {
            Self::A4 => (210.0, 297.0),
            Self::Letter => (215.9, 279.4),
            Self::A3 => (297.0, 420.0),
            Self::Legal => (215.9, 355.6),
            Self::A0 => (841.0, 1189.0),
            Self::Roll841 => (841.0, 5000.0),
            Self::Roll914 => (914.4, 5000.0),
        }
    }

    pub(crate) const fn spread(self) -> Spread {
        match self {
            Self::A4 | Self::Letter | Self::A3 | Self::Legal => Spread::Tiles,
            Self::A0 => Spread::Sheets,
            Self::Roll841 | Self::Roll914 => Spread::Roll,
        }
    }
}

impl fmt::Display for PaperSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

impl FromStr for PaperSize {
    type Err = Fault;

    fn from_str(name: &str) -> Result<Self, Fault> {
        Self::by_name(name).ok_or_else(|| Fault::UnknownPaper {
            found: name.to_owned(),
            names: Self::ALL.map(Self::name).join(", "),
        })
    }
}

/// A paper with what a printer leaves of it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Paper {
    /// The kind of paper.
    pub size: PaperSize,
    /// Width along each edge that stays unprinted, mm.
    pub margin_mm: f64,
    /// How far joined sheets lie over each other, mm.
    pub overlap_mm: f64,
}

impl Paper {
    /// A paper with the usual margin and overlap: 8 mm, beyond what home printers leave white on three sides and most
    /// on the fourth (common practice, no source), and 10 mm, the width of a strip of glue.
    pub const fn new(size: PaperSize) -> Self {
        Self {
            size,
            margin_mm: 8.0,
            overlap_mm: 10.0,
        }
    }

    pub(crate) fn check(&self) -> Result<(), Fault> {
        let fits =
            (0.0..=40.0).contains(&self.margin_mm) && (2.0..=40.0).contains(&self.overlap_mm);
        fits.then_some(()).ok_or(Fault::NoRoom {
            paper: self.size.title(),
            margin_mm: self.margin_mm,
            overlap_mm: self.overlap_mm,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_finds_its_paper() {
        for size in PaperSize::ALL {
            assert_eq!(size.name().to_uppercase().parse::<PaperSize>(), Ok(size));
        }
    }

    #[test]
    fn an_unknown_name_lists_what_there_is() {
        let fault = "b5"
            .parse::<PaperSize>()
            .expect_err("no paper is called b5");
        assert_eq!(
            fault.to_string(),
            "there is no paper \"b5\"; choose one of a4, letter, a3, legal, a0, roll-841, roll-914"
        );
    }
}
