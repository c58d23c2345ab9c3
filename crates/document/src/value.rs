//! One value of a statement, and what it can be read as.
//!
//! A value is text, a number, true or false, or nothing; a number may carry its unit before it, as in `(cm)92`. What it
//! should be is known to the one who asks. Invariant: a value that cannot be read as asked gives a finding that
//! underlines it and says what was found, what would be right and what to do.

use geometry::{Angle, Length};

use crate::finding::Finding;
use crate::length::{self, ANGLE_UNITS, LENGTH_UNITS, QuantityFault};
use crate::nearest::nearest;
use crate::source::Span;

/// What a value is as written.
#[derive(Clone, Debug, PartialEq)]
pub enum Content {
    /// Text, quoted or a bare word.
    Text(String),
    /// A number.
    Number(f64),
    /// `#true` or `#false`.
    Truth(bool),
    /// `#null`.
    Nothing,
}

/// A value and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub struct Value {
    pub(crate) content: Content,
    pub(crate) unit: Option<String>,
    pub(crate) span: Span,
}

impl Value {
    /// What was written.
    pub fn content(&self) -> &Content {
        &self.content
    }

    /// The unit in brackets before the value, as in `(cm)92`.
    pub fn unit(&self) -> Option<&str> {
        self.unit.as_deref()
    }

    /// Where it stands, with its unit.
    pub fn span(&self) -> &Span {
        &self.span
    }

    /// The value as it stands in the file.
    pub fn shown(&self) -> &str {
        self.span.text()
    }

    /// The value as a length, from `"38 mm"` or `(mm)38`.
    pub fn length(&self) -> Result<Length, Finding> {
        let read = match (&self.content, self.unit()) {
            (Content::Text(text), None) => length::parse_length(text),
            (Content::Number(number), Some(unit)) => length::length_in(*number, unit)
                .ok_or_else(|| QuantityFault::UnknownUnit(unit.to_owned())),
            (Content::Number(_), None) => Err(QuantityFault::NoUnit),
            _ => return Err(self.not_a("length-not-readable", "a length", "\"38 mm\"")),
        };
        read.map_err(|fault| self.quantity_fault("a length", &fault))
    }

    /// The value as a length above zero.
    pub fn positive_length(&self) -> Result<Length, Finding> {
        let length = self.length()?;
        if length.mm() > 0.0 {
            return Ok(length);
        }
        Err(Finding::error(
            "length-not-positive",
            format!(
                "A length above zero is needed here, and {} is written.",
                self.shown()
            ),
        )
        .at_text(&self.span, "not above zero")
        .allowed("a length above zero")
        .cure("Look for a minus sign or a missing figure."))
    }

    /// The value as an angle, from `"12 deg"` or `(deg)12`.
    pub fn angle(&self) -> Result<Angle, Finding> {
        let read = match (&self.content, self.unit()) {
            (Content::Text(text), None) => length::parse_angle(text),
            (Content::Number(number), Some(unit)) => length::angle_in(*number, unit)
                .ok_or_else(|| QuantityFault::UnknownUnit(unit.to_owned())),
            (Content::Number(_), None) => Err(QuantityFault::NoUnit),
            _ => return Err(self.not_a("angle-not-readable", "an angle", "\"12 deg\"")),
        };
        read.map_err(|fault| self.quantity_fault("an angle", &fault))
    }

    /// The value as a plain number without a unit.
    pub fn number(&self) -> Result<f64, Finding> {
        match (&self.content, self.unit()) {
            (Content::Number(number), None) if number.is_finite() => Ok(*number),
            _ => Err(self.not_a("number-not-readable", "a plain number", "1.5")),
        }
    }

    /// The value as a number of things: 0, 1, 2 …
    pub fn count(&self) -> Result<u32, Finding> {
        match (&self.content, self.unit()) {
            (Content::Number(number), None)
                if number.fract() == 0.0 && (0.0..=f64::from(u32::MAX)).contains(number) =>
            {
                Ok(*number as u32)
            }
            _ => Err(self.not_a("number-not-readable", "a whole number", "2")),
        }
    }

    /// The value as text.
    pub fn text(&self) -> Result<&str, Finding> {
        match (&self.content, self.unit()) {
            (Content::Text(text), None) => Ok(text),
            _ => Err(self.not_a("text-expected", "text", "\"a few words\"")),
        }
    }

    /// The value as true or false.
    pub fn truth(&self) -> Result<bool, Finding> {
        match (&self.content, self.unit()) {
            (Content::Truth(truth), None) => Ok(*truth),
            _ => Err(self.not_a("truth-expected", "#true or #false", "#true")),
        }
    }

    /// The value as one of a few words, each with what it stands for.
    pub fn choice<T: Clone>(&self, choices: &[(&str, T)]) -> Result<T, Finding> {
        let words: Vec<&str> = choices.iter().map(|(word, _)| *word).collect();
        let written = match (&self.content, self.unit()) {
            (Content::Text(text), None) => text.as_str(),
            _ => "",
        };
        if let Some((_, meaning)) = choices.iter().find(|(word, _)| *word == written) {
            return Ok(meaning.clone());
        }
        let finding = Finding::error(
            "unknown-word",
            format!(
                "{} is not one of the words that are known here.",
                self.shown()
            ),
        )
        .allowed(format!("one of: {}", words.join(", ")));
        Err(match nearest(written, &words) {
            Some(word) => finding
                .at_text(&self.span, format!("perhaps “{word}”?"))
                .cure(format!("If “{word}” is meant, write that.")),
            None => finding
                .at_text(&self.span, "not known")
                .cure(format!("Write one of: {}.", words.join(", "))),
        })
    }

    fn not_a(&self, code: &'static str, wanted: &str, example: &str) -> Finding {
        Finding::error(
            code,
            format!("Here {wanted} is needed, and {} is written.", self.shown()),
        )
        .at_text(&self.span, format!("not {wanted}"))
        .allowed(format!("{wanted}, such as {example}"))
        .cure(format!("Write {wanted}, for example {example}."))
    }

    fn quantity_fault(&self, kind: &str, fault: &QuantityFault) -> Finding {
        let (code, units) = if kind == "an angle" {
            ("angle-not-readable", ANGLE_UNITS)
        } else {
            ("length-not-readable", LENGTH_UNITS)
        };
        Finding::error(
            code,
            format!("{} cannot be read as {kind}: {fault}.", self.shown()),
        )
        .at_text(&self.span, fault.to_string())
        .allowed(format!("a number with a unit: {units}"))
        .cure(self.quantity_cure(kind, fault))
    }

    fn quantity_cure(&self, kind: &str, fault: &QuantityFault) -> String {
        let figure = self.shown().trim_matches('"').trim();
        match fault {
            QuantityFault::NoUnit if kind == "an angle" => {
                format!("Write the unit with it, for example \"{figure} deg\".")
            }
            QuantityFault::NoUnit => format!(
                "Write the unit with it, in quotes: \"{figure} cm\", \"{figure} mm\" or \"{figure} in\", whichever was meant."
            ),
            QuantityFault::AmbiguousComma(_) => format!(
                "Write \"{}\" for a decimal, or \"{}\" for thousands.",
                figure.replace(',', "."),
                figure.replace(',', "")
            ),
            _ if kind == "an angle" => "Write it like \"12 deg\".".to_owned(),
            _ => "Write it like \"92 cm\", \"915 mm\", \"36 1/4 in\" or \"5 ft 4 in\".".to_owned(),
        }
    }
}
