//! What a step is: its name, its declared parameters, what it gives.
//!
//! Knows no single step and does nothing: steps are run by [`StepKind::run`].

use document::Finding;
use geometry::Curve;

use super::arguments::Arguments;
use crate::seam::Pattern;

/// The group to which a step belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Group {
    /// Moves, shares and removes darts.
    Darts,
    /// Makes pieces longer, wider or fuller.
    Size,
    /// Fits the pattern to a body that differs from the block.
    Correction,
    /// Draws edges anew, cuts and joins.
    Line,
    /// Makes new pieces and extensions.
    Build,
    /// Notches and grain.
    Marks,
}

/// What kind of value a parameter takes.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Kind {
    /// A place: a piece, an edge and where on it, a corner, or a marked point.
    Place,
    /// The name of a piece.
    Piece,
    /// The name of an edge of a piece.
    Edge,
    /// The name of a dart of a piece.
    Dart,
    /// The name of a line inside a piece.
    Line,
    /// The name of a seam.
    Seam,
    /// A length between two bounds, mm.
    Length(f64, f64),
    /// An angle between two bounds, degrees.
    Angle(f64, f64),
    /// A number between two bounds.
    Number(f64, f64),
    /// A whole number between two bounds.
    Count(u32, u32),
    /// One of these words.
    Choice(&'static [&'static str]),
    /// Yes or no.
    Flag,
    /// Any text.
    Text,
}

/// What stands in for a parameter that is not given.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Usual {
    /// Nothing: it must be given.
    Needed,
    /// Nothing: the step does without it.
    Nothing,
    /// A length, mm.
    Length(f64),
    /// An angle, degrees.
    Angle(f64),
    /// A number.
    Number(f64),
    /// A whole number.
    Count(u32),
    /// A word.
    Word(&'static str),
    /// Yes or no.
    Flag(bool),
}

/// A declared parameter of a step.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Parameter {
    /// Name in recipes.
    pub name: &'static str,
    /// What a person reads beside it.
    pub label: &'static str,
    /// What it takes.
    pub kind: Kind,
    /// What stands in for it.
    pub usual: Usual,
    /// Whether it takes several values.
    pub many: bool,
}

impl Parameter {
    /// A parameter that must be given.
    pub const fn needed(name: &'static str, kind: Kind, label: &'static str) -> Self {
        Self {
            name,
            label,
            kind,
            usual: Usual::Needed,
            many: false,
        }
    }

    /// A parameter with something that stands in for it.
    pub const fn usually(
        name: &'static str,
        kind: Kind,
        usual: Usual,
        label: &'static str,
    ) -> Self {
        Self {
            name,
            label,
            kind,
            usual,
            many: false,
        }
    }

    /// The same parameter, taking several values.
    pub const fn many(self) -> Self {
        Self { many: true, ..self }
    }
}

/// What a line of a drawing of a step shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Trace {
    /// The point about which a part turned (a curve from it to the place that opened).
    Pivot,
    /// Where the piece was slashed.
    Slash,
    /// An edge at its new place.
    Moved,
    /// An edge that was drawn anew.
    Redrawn,
}

impl Trace {
    /// The word for it: `pivot`, `slash`, `moved`, `redrawn`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Pivot => "pivot",
            Self::Slash => "slash",
            Self::Moved => "moved",
            Self::Redrawn => "redrawn",
        }
    }
}

/// A line that shows what a step did, in the coordinates of the piece.
#[derive(Clone, Debug, PartialEq)]
pub struct TraceLine {
    /// Name of the piece, as it is after the step.
    pub piece: String,
    /// What it shows.
    pub kind: Trace,
    /// The line.
    pub curve: Curve,
}

impl TraceLine {
    /// A line on a piece.
    pub fn new(piece: impl Into<String>, kind: Trace, curve: Curve) -> Self {
        Self {
            piece: piece.into(),
            kind,
            curve,
        }
    }
}

/// What a step gives.
#[derive(Clone, Debug, PartialEq)]
pub struct Done {
    /// The pattern after it.
    pub pattern: Pattern,
    /// What a drawing of it shows.
    pub lines: Vec<TraceLine>,
    /// What it did, in plain words: one sentence.
    pub words: String,
}

/// A step of the vocabulary.
#[derive(Debug)]
pub struct StepKind {
    /// Name in recipes: a plain verb.
    pub name: &'static str,
    /// Where it belongs.
    pub group: Group,
    /// What it does, in one line.
    pub summary: &'static str,
    /// The source of its module, which opens with the house form.
    pub manual: &'static str,
    /// What it takes.
    pub parameters: &'static [Parameter],
    /// The parameter by which it can be too much, if there is one: the most that works is looked for along it.
    pub amount: Option<&'static str>,
    /// Does it; call [`StepKind::run`] instead, which keeps the promises.
    pub apply: fn(&Pattern, &Arguments) -> Result<Done, Finding>,
}
