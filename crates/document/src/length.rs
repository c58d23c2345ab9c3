//! Lengths and angles as people write them: `"38 mm"`, `"3,8 cm"`, `"1 1/2 in"`, `1½″`, `"12°"`.
//!
//! Knows no file: it reads one quantity from one piece of text and says in words what is wrong with it. Invariant: a
//! length without a unit is never guessed at.

use geometry::{Angle, Length};
use thiserror::Error;

/// The units in which a length may be written, for messages.
pub const LENGTH_UNITS: &str = "mm, cm, m, in (or \") and ft";

/// The units in which an angle may be written, for messages.
pub const ANGLE_UNITS: &str = "deg (or °)";

/// The longest text that is looked at as a quantity, in bytes.
const LONGEST: usize = 60;

/// Why a text is not a length or an angle.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub enum QuantityFault {
    /// There is nothing to read.
    #[error("there is nothing here")]
    Empty,
    /// A number with no unit behind it.
    #[error("the number has no unit")]
    NoUnit,
    /// A unit that is not known.
    #[error("“{0}” is not a unit that is known here")]
    UnknownUnit(String),
    /// A unit without a number before it.
    #[error("there is no number before the unit")]
    NoNumber,
    /// Something that is not a number.
    #[error("“{0}” is not a number")]
    NotANumber(String),
    /// A comma that may stand for thousands or for decimals.
    #[error("the comma in “{0}” can be read in two ways")]
    AmbiguousComma(String),
    /// A fraction with nothing below the line.
    #[error("a fraction cannot have 0 below the line")]
    DividedByNothing,
    /// Two quantities that do not belong together, such as inches and then millimetres.
    #[error("only feet and then inches may be written one after the other")]
    Mixed,
    /// Far more text than a quantity needs.
    #[error("the text is too long to be one quantity")]
    TooLong,
}

/// A unit of length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum LengthUnit {
    Millimetre,
    Centimetre,
    Metre,
    Inch,
    Foot,
}

impl LengthUnit {
    const fn mm(self) -> f64 {
        match self {
            Self::Millimetre => 1.0,
            Self::Centimetre => 10.0,
            Self::Metre => 1000.0,
            Self::Inch => Length::MM_PER_INCH,
            Self::Foot => 12.0 * Length::MM_PER_INCH,
        }
    }

    fn from_word(word: &str) -> Option<Self> {
        Some(match word.trim_end_matches('.').to_lowercase().as_str() {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => Self::Millimetre,
            "cm" | "centimetre" | "centimetres" | "centimeter" | "centimeters" => Self::Centimetre,
            "m" | "metre" | "metres" | "meter" | "meters" => Self::Metre,
            "in" | "inch" | "inches" | "\"" | "″" | "”" | "''" | "′′" | "’’" => {
                Self::Inch
            }
            "ft" | "foot" | "feet" | "'" | "′" | "’" => Self::Foot,
            _ => return None,
        })
    }
}

/// Reads a length with its unit; fractions, decimal points and decimal commas are understood, and feet before inches.
pub fn parse_length(text: &str) -> Result<Length, QuantityFault> {
    let (sign, text) = signed(text)?;
    let mut total = 0.0;
    let mut before: Option<LengthUnit> = None;
    let mut rest = text;
    while !rest.is_empty() {
        let (number, word, after) = split_quantity(rest);
        let unit = length_unit(number, word)?;
        if before.is_some_and(|before| (before, unit) != (LengthUnit::Foot, LengthUnit::Inch)) {
            return Err(QuantityFault::Mixed);
        }
        total += parse_number(number)? * unit.mm();
        before = Some(unit);
        rest = after;
    }
    Ok(Length::from_mm(sign * total))
}

/// A plain number in a named unit of length, or `None` where the unit is not known.
pub(crate) fn length_in(number: f64, unit: &str) -> Option<Length> {
    LengthUnit::from_word(unit).map(|unit| Length::from_mm(number * unit.mm()))
}

/// Reads an angle with its unit.
pub fn parse_angle(text: &str) -> Result<Angle, QuantityFault> {
    let (sign, text) = signed(text)?;
    let (number, word, after) = split_quantity(text);
    if !after.is_empty() {
        return Err(QuantityFault::Mixed);
    }
    if word.is_empty() {
        parse_number(number)?;
        return Err(QuantityFault::NoUnit);
    }
    let unit = angle_in(1.0, word).ok_or_else(|| QuantityFault::UnknownUnit(word.to_owned()))?;
    Ok(Angle::from_degrees(
        sign * parse_number(number)? * unit.degrees(),
    ))
}

/// A plain number in a named unit of angle, or `None` where the unit is not known.
pub(crate) fn angle_in(number: f64, unit: &str) -> Option<Angle> {
    matches!(
        unit.trim_end_matches('.').to_lowercase().as_str(),
        "deg" | "degree" | "degrees" | "°"
    )
    .then_some(Angle::from_degrees(number))
}

/// A length in millimetres, to a tenth: `38 mm`, `38.5 mm`.
pub fn metric(length: Length) -> String {
    format!("{} mm", tenths(length.mm()))
}

/// An angle in degrees, to a tenth: `12°`, `12.5°`.
pub fn degrees(angle: Angle) -> String {
    format!("{}°", tenths(angle.degrees()))
}

/// A length in inches, to the nearest eighth: `1 1/2 in`, `5/8 in`, `12 in`.
pub fn inches_eighths(length: Length) -> String {
    let eighths = (length.inches() * 8.0).round();
    let sign = if eighths < 0.0 { "-" } else { "" };
    let eighths = eighths.abs() as u64;
    let (whole, part) = (eighths / 8, eighths % 8);
    let (above, below) = match part {
        4 => (1, 2),
        2 | 6 => (part / 2, 4),
        odd => (odd, 8),
    };
    match (whole, part) {
        (whole, 0) => format!("{sign}{whole} in"),
        (0, _) => format!("{sign}{above}/{below} in"),
        _ => format!("{sign}{whole} {above}/{below} in"),
    }
}

fn tenths(value: f64) -> String {
    let rounded = (value * 10.0).round() / 10.0;
    // Adding 0 turns -0 into 0.
    format!("{}", rounded + 0.0)
}

/// The sign of a quantity and the trimmed text behind it.
fn signed(text: &str) -> Result<(f64, &str), QuantityFault> {
    let text = text.trim();
    if text.len() > LONGEST {
        return Err(QuantityFault::TooLong);
    }
    let (sign, text) = match text.strip_prefix(['-', '−', '–']) {
        Some(rest) => (-1.0, rest.trim_start()),
        None => (1.0, text.strip_prefix('+').unwrap_or(text).trim_start()),
    };
    if text.is_empty() {
        return Err(QuantityFault::Empty);
    }
    Ok((sign, text))
}

/// Cuts `"2 ft 3 in"` into the number `"2"`, the unit `"ft"` and the rest `"3 in"`.
fn split_quantity(text: &str) -> (&str, &str, &str) {
    let number_end = text.find(|c| !in_number(c)).unwrap_or(text.len());
    let (number, rest) = text.split_at(number_end);
    let unit_end = rest
        .find(|c: char| c.is_whitespace() || c.is_ascii_digit() || vulgar_fraction(c).is_some())
        .unwrap_or(rest.len());
    let (word, rest) = rest.split_at(unit_end);
    (number.trim(), word, rest.trim_start())
}

fn in_number(c: char) -> bool {
    c.is_ascii_digit() || c.is_whitespace() || ".,/⁄-".contains(c) || vulgar_fraction(c).is_some()
}

fn length_unit(number: &str, word: &str) -> Result<LengthUnit, QuantityFault> {
    if number.is_empty() {
        return Err(if word.chars().any(char::is_numeric) || word.len() > 12 {
            QuantityFault::NotANumber(word.to_owned())
        } else if LengthUnit::from_word(word).is_some() {
            QuantityFault::NoNumber
        } else {
            QuantityFault::NotANumber(word.to_owned())
        });
    }
    if word.is_empty() {
        parse_number(number)?;
        return Err(QuantityFault::NoUnit);
    }
    LengthUnit::from_word(word).ok_or_else(|| QuantityFault::UnknownUnit(word.to_owned()))
}

/// Reads `12`, `12.5`, `12,5`, `5/8`, `12 5/8`, `12-5/8` or `12⅝`, without a sign.
fn parse_number(text: &str) -> Result<f64, QuantityFault> {
    if text.is_empty() {
        return Err(QuantityFault::NoNumber);
    }
    if let Some((at, glyph)) = text.char_indices().last()
        && let Some((above, below)) = vulgar_fraction(glyph)
    {
        let whole = text[..at].trim_end();
        let whole = if whole.is_empty() {
            0.0
        } else {
            whole_number(whole)?
        };
        return Ok(whole + above / below);
    }
    let Some((above, below)) = text.split_once(['/', '⁄']) else {
        return decimal(text);
    };
    let above = above.trim_end();
    let (whole, above) = match above.rsplit_once(|c: char| c.is_whitespace() || c == '-') {
        Some((whole, above)) => (whole_number(whole.trim_end())?, above),
        None => (0.0, above),
    };
    let (above, below) = (whole_number(above)?, whole_number(below.trim_start())?);
    if below == 0.0 {
        return Err(QuantityFault::DividedByNothing);
    }
    Ok(whole + above / below)
}

fn whole_number(text: &str) -> Result<f64, QuantityFault> {
    if text.is_empty() || !text.bytes().all(|b| b.is_ascii_digit()) {
        return Err(QuantityFault::NotANumber(text.to_owned()));
    }
    decimal(text)
}

fn decimal(text: &str) -> Result<f64, QuantityFault> {
    let not_a_number = || QuantityFault::NotANumber(text.to_owned());
    if !text
        .bytes()
        .all(|b| b.is_ascii_digit() || b == b'.' || b == b',')
    {
        return Err(not_a_number());
    }
    if let Some((before, after)) = text.split_once(',') {
        if after.contains([',', '.']) || before.contains('.') || after.len() == 3 {
            return Err(QuantityFault::AmbiguousComma(text.to_owned()));
        }
        return format!("{before}.{after}")
            .parse()
            .map_err(|_| not_a_number());
    }
    text.parse().map_err(|_| not_a_number())
}

fn vulgar_fraction(glyph: char) -> Option<(f64, f64)> {
    Some(match glyph {
        '½' => (1.0, 2.0),
        '¼' => (1.0, 4.0),
        '¾' => (3.0, 4.0),
        '⅛' => (1.0, 8.0),
        '⅜' => (3.0, 8.0),
        '⅝' => (5.0, 8.0),
        '⅞' => (7.0, 8.0),
        '⅓' => (1.0, 3.0),
        '⅔' => (2.0, 3.0),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn check(text: &str, mm: f64) {
        let length = parse_length(text).unwrap_or_else(|fault| panic!("{text}: {fault}"));
        assert!((length.mm() - mm).abs() < 1e-9, "{text} read as {length:?}");
    }

    #[test]
    fn every_written_form_of_a_length_is_read() {
        // The inch is 25.4 mm exactly (international yard and pound agreement of 1959).
        for (text, mm) in [
            ("38 mm", 38.0),
            ("38mm", 38.0),
            ("3.8 cm", 38.0),
            ("3,8 cm", 38.0),
            ("0.9 m", 900.0),
            (".5 in", 12.7),
            ("1.5\"", 38.1),
            ("1 1/2 in", 38.1),
            ("1-1/2 in", 38.1),
            ("1½ in", 38.1),
            ("1 ½″", 38.1),
            ("½\"", 12.7),
            ("12 3/8″", 314.325),
            ("5/8 in", 15.875),
            ("5⁄8 inch", 15.875),
            ("2 ft 3 in", 685.8),
            ("5' 4\"", 1625.6),
            ("5'4½\"", 1638.3),
            ("  92  cm ", 920.0),
            ("36 Inches", 914.4),
            ("-10 mm", -10.0),
            ("−1/4 in", -6.35),
            ("0 mm", 0.0),
            ("1 in.", 25.4),
        ] {
            check(text, mm);
        }
    }

    #[test]
    fn what_is_not_a_length_says_why() {
        for (text, fault) in [
            ("", QuantityFault::Empty),
            ("92", QuantityFault::NoUnit),
            ("1 1/2", QuantityFault::NoUnit),
            ("cm", QuantityFault::NoNumber),
            ("92 ell", QuantityFault::UnknownUnit("ell".to_owned())),
            (
                "1,234 mm",
                QuantityFault::AmbiguousComma("1,234".to_owned()),
            ),
            ("1/0 in", QuantityFault::DividedByNothing),
            ("3 in 2 ft", QuantityFault::Mixed),
            ("3 cm 2 mm", QuantityFault::Mixed),
            ("about", QuantityFault::NotANumber("about".to_owned())),
            ("1.2.3 cm", QuantityFault::NotANumber("1.2.3".to_owned())),
            ("1 2 cm", QuantityFault::NotANumber("1 2".to_owned())),
        ] {
            assert_eq!(parse_length(text), Err(fault), "{text}");
        }
        assert_eq!(parse_length(&"9".repeat(100)), Err(QuantityFault::TooLong));
    }

    #[test]
    fn angles_are_read_with_their_unit_only() {
        assert_eq!(parse_angle("12 deg"), Ok(Angle::from_degrees(12.0)));
        assert_eq!(parse_angle("12,5°"), Ok(Angle::from_degrees(12.5)));
        assert_eq!(parse_angle("-3 degrees"), Ok(Angle::from_degrees(-3.0)));
        assert_eq!(parse_angle("12"), Err(QuantityFault::NoUnit));
        assert_eq!(
            parse_angle("12 mm"),
            Err(QuantityFault::UnknownUnit("mm".to_owned()))
        );
    }

    #[test]
    fn lengths_are_printed_as_people_write_them() {
        assert_eq!(metric(Length::from_mm(38.0)), "38 mm");
        assert_eq!(metric(Length::from_mm(38.26)), "38.3 mm");
        assert_eq!(metric(Length::from_mm(-0.01)), "0 mm");
        assert_eq!(degrees(Angle::from_degrees(12.5)), "12.5°");
        for (mm, text) in [
            (38.1, "1 1/2 in"),
            (15.875, "5/8 in"),
            (19.05, "3/4 in"),
            (254.0, "10 in"),
            (0.0, "0 in"),
            (-6.35, "-1/4 in"),
        ] {
            assert_eq!(inches_eighths(Length::from_mm(mm)), text);
        }
    }

    proptest! {
        #[test]
        fn reading_never_panics(text in ".{0,80}") {
            let _ = parse_length(&text);
            let _ = parse_angle(&text);
        }

        #[test]
        fn reading_quantity_like_text_never_panics(text in "[-0-9 ½¾,./⁄a-z\"'°]{0,20}") {
            let _ = parse_length(&text);
            let _ = parse_angle(&text);
        }

        #[test]
        fn printed_lengths_are_read_back(mm in -5000.0..5000.0_f64) {
            let length = Length::from_mm(mm);
            let back = parse_length(&metric(length)).unwrap();
            prop_assert!((back.mm() - mm).abs() <= 0.05 + 1e-9);
            let back = parse_length(&inches_eighths(length)).unwrap();
            prop_assert!((back.mm() - mm).abs() <= Length::MM_PER_INCH / 16.0 + 1e-9);
        }
    }
}
