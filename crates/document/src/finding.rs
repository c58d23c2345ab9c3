//! Findings: what is said about a person's measures, recipe or garment, as data.
//!
//! The same type carries a slip of the pen in a file and a seam whose sides differ; how it is shown is the business of
//! the program, the papers and the page.

use std::fmt;

use crate::mend::Mend;
use crate::source::Span;

/// How much a finding matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// Worth knowing; nothing need be done.
    Note,
    /// The garment can be made; look before cutting.
    Warning,
    /// The garment cannot be made as it stands.
    Error,
}

impl Severity {
    /// The word under which it is shown: `note`, `warning`, `error`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Note => "note",
            Self::Warning => "warning",
            Self::Error => "error",
        }
    }
}

/// What a number counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Millimetres,
    /// Degrees.
    Degrees,
    /// Standard deviations.
    Deviations,
    /// A plain ratio.
    Ratio,
    /// A number of things.
    Count,
}

impl Unit {
    /// The unit as it stands in JSON: `mm`, `degrees`, `standard-deviations`, `ratio`, `count`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Millimetres => "mm",
            Self::Degrees => "degrees",
            Self::Deviations => "standard-deviations",
            Self::Ratio => "ratio",
            Self::Count => "count",
        }
    }
}

/// A number and what it counts.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// The number.
    pub value: f64,
    /// What it counts.
    pub unit: Unit,
}

impl Quantity {
    /// So many millimetres.
    pub const fn mm(value: f64) -> Self {
        Self {
            value,
            unit: Unit::Millimetres,
        }
    }

    /// So many degrees.
    pub const fn degrees(value: f64) -> Self {
        Self {
            value,
            unit: Unit::Degrees,
        }
    }
}

impl fmt::Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let value = self.value;
        match self.unit {
            Unit::Millimetres => write!(f, "{value:.1} mm"),
            Unit::Degrees => write!(f, "{value:.1}°"),
            Unit::Deviations => write!(f, "{value:.1} standard deviations"),
            Unit::Ratio => write!(f, "{value:.2}"),
            Unit::Count => write!(f, "{value:.0}"),
        }
    }
}

/// What would have been right.
#[derive(Clone, Debug, PartialEq)]
pub enum Allowed {
    /// Not more than this.
    AtMost(Quantity),
    /// Not less than this.
    AtLeast(Quantity),
    /// Neither less than the first nor more than the second.
    Between(Quantity, Quantity),
    /// Anything that these words describe.
    Words(String),
}

impl fmt::Display for Allowed {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::AtMost(most) => write!(f, "at most {most}"),
            Self::AtLeast(least) => write!(f, "at least {least}"),
            Self::Between(least, most) => write!(f, "from {least} to {most}"),
            Self::Words(words) => f.write_str(words),
        }
    }
}

/// Where a finding is to be looked for.
#[derive(Clone, Debug, PartialEq)]
pub enum Place {
    /// A stretch of a file, with a short word of what stands there.
    Text {
        /// Where it stands.
        span: Span,
        /// What to write beside the underlined text; may be empty.
        label: String,
    },
    /// A whole piece.
    Piece(String),
    /// A named edge of a piece, and the point on it in millimetres where there is one.
    Edge {
        /// Name of the piece.
        piece: String,
        /// Name of the edge.
        edge: String,
        /// x and y on the piece, mm.
        at: Option<(f64, f64)>,
    },
    /// A named seam.
    Seam(String),
    /// A measure of the body, by its key.
    Measure(String),
}

/// A text as a sentence: its first letter large unless it is that of a file's name, a full stop at its end.
pub(crate) fn sentence(text: String) -> String {
    let mut letters = text.chars();
    let Some(first) = letters.next() else {
        return text;
    };
    let word = text.split_whitespace().next().unwrap_or_default();
    let is_name = word
        .trim_end_matches(['.', ',', ':'])
        .contains(['.', '/', '\\', '_']);
    let mut sentence: String = if is_name {
        text.clone()
    } else {
        first.to_uppercase().chain(letters).collect()
    };
    if !sentence.ends_with(['.', '!', '?', ':', '}', '"']) {
        sentence.push('.');
    }
    sentence
}

/// Something found: what, where, how much, how much would be right, why it matters, what to do.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// Stable words for the kind of finding, such as `seam-lengths-differ`.
    pub code: &'static str,
    /// How much it matters.
    pub severity: Severity,
    /// One sentence that names the thing and says what was found.
    pub message: String,
    /// Where to look; the first place is the main one.
    pub places: Vec<Place>,
    /// The number found.
    pub measured: Option<Quantity>,
    /// What would have been right.
    pub allowed: Option<Allowed>,
    /// Why it matters, in one sentence; may be empty.
    pub reason: String,
    /// The next step; may be empty.
    pub cure: String,
    /// Cures that a program can apply, in the order of the effort that they cost.
    pub mends: Vec<Mend>,
}

impl Finding {
    /// A finding with its words; places and numbers are added by the methods below.
    pub fn new(code: &'static str, severity: Severity, message: impl Into<String>) -> Self {
        Self {
            code,
            severity,
            message: sentence(message.into()),
            places: Vec::new(),
            measured: None,
            allowed: None,
            reason: String::new(),
            cure: String::new(),
            mends: Vec::new(),
        }
    }

    /// An error with its words.
    pub fn error(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Error, message)
    }

    /// A warning with its words.
    pub fn warning(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Warning, message)
    }

    /// A note with its words.
    pub fn note(code: &'static str, message: impl Into<String>) -> Self {
        Self::new(code, Severity::Note, message)
    }

    /// Adds a place.
    pub fn at(mut self, place: Place) -> Self {
        self.places.push(place);
        self
    }

    /// Adds a stretch of text, with a word of what stands there.
    pub fn at_text(self, span: &Span, label: impl Into<String>) -> Self {
        self.at(Place::Text {
            span: span.clone(),
            label: label.into(),
        })
    }

    /// Says what was measured and what would be right.
    pub fn measured(mut self, measured: Quantity, allowed: Allowed) -> Self {
        self.measured = Some(measured);
        self.allowed = Some(allowed);
        self
    }

    /// Says in words what would be right.
    pub fn allowed(mut self, words: impl Into<String>) -> Self {
        self.allowed = Some(Allowed::Words(words.into()));
        self
    }

    /// Says why it matters.
    pub fn because(mut self, reason: impl Into<String>) -> Self {
        self.reason = sentence(reason.into());
        self
    }

    /// Says what to do next.
    pub fn cure(mut self, cure: impl Into<String>) -> Self {
        self.cure = sentence(cure.into());
        self
    }
    /// Adds a cure that a program can apply, behind those of less effort.
    pub fn mend(mut self, mend: Mend) -> Self {
        self.mends.push(mend);
        self
    }

    /// Adds a cure that a program can apply, where there is one.
    pub fn mend_with(mut self, mend: Option<Mend>) -> Self {
        self.mends.extend(mend);
        self
    }
}
