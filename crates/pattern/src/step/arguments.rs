//! What a step is asked to do: named values, already measured, each with the place in the recipe where it stands.
//!
//! Knows no text. Invariant: a finding about a value points at the place where the value was written, first of all places.

use document::{Finding, Place as Spot, Span};
use geometry::Angle;

use super::kit::find;
use super::kit::place::{self, Place, Seat};
use crate::piece::Dart;
use crate::seam::Pattern;

/// A thing with a name: a piece, or an edge, dart, line or point of a piece, or a seam (without a piece).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Named {
    /// Name of the piece; empty for a seam.
    pub piece: String,
    /// Name within the piece; empty for the piece itself.
    pub name: String,
}

impl Named {
    /// A piece.
    pub fn piece(piece: impl Into<String>) -> Self {
        Self::of(piece, "")
    }

    /// Something of a piece.
    pub fn of(piece: impl Into<String>, name: impl Into<String>) -> Self {
        Self {
            piece: piece.into(),
            name: name.into(),
        }
    }
}

/// A value of a step.
#[derive(Clone, Debug, PartialEq)]
pub enum Value {
    /// A place on a piece.
    Place(Place),
    /// A piece, edge, dart, line, point or seam by its name.
    Named(Named),
    /// A length, mm.
    Length(f64),
    /// An angle.
    Angle(Angle),
    /// A plain number.
    Number(f64),
    /// A number of things.
    Count(u32),
    /// One of the words that the parameter allows.
    Choice(String),
    /// Yes or no.
    Flag(bool),
    /// Any text, such as the name of something new.
    Text(String),
}

/// A value and where it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Given {
    /// Name of the parameter.
    pub name: String,
    /// What is given.
    pub value: Value,
    /// Where it stands, if it was written by a person.
    pub span: Option<Span>,
}

/// All values of one step; a parameter that takes many values comes once for each, in order.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Arguments {
    /// What was given, in order.
    pub given: Vec<Given>,
    /// Where the step itself stands.
    pub span: Option<Span>,
}

impl Arguments {
    /// No values.
    pub fn new() -> Self {
        Self::default()
    }

    /// Adds a value that nobody wrote down.
    pub fn with(self, name: &str, value: Value) -> Self {
        self.written(name, value, None)
    }

    /// Adds a value and where it was written.
    pub fn written(mut self, name: &str, value: Value, span: Option<Span>) -> Self {
        self.given.push(Given {
            name: name.into(),
            value,
            span,
        });
        self
    }

    /// Adds a place.
    pub fn at(self, name: &str, place: Place) -> Self {
        self.with(name, Value::Place(place))
    }

    /// Adds something by its piece and name.
    pub fn named(self, name: &str, piece: &str, part: &str) -> Self {
        self.with(name, Value::Named(Named::of(piece, part)))
    }

    /// Adds a length, mm.
    pub fn length(self, name: &str, mm: f64) -> Self {
        self.with(name, Value::Length(mm))
    }

    /// Adds a plain number.
    pub fn number(self, name: &str, number: f64) -> Self {
        self.with(name, Value::Number(number))
    }

    /// Adds a word.
    pub fn choice(self, name: &str, word: &str) -> Self {
        self.with(name, Value::Choice(word.into()))
    }

    /// Adds yes or no.
    pub fn flag(self, name: &str, flag: bool) -> Self {
        self.with(name, Value::Flag(flag))
    }

    /// All values of a parameter, in order.
    pub fn all<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Value> {
        self.given
            .iter()
            .filter(move |given| given.name == name)
            .map(|given| &given.value)
    }

    /// The value of a parameter, if one is given.
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.given
            .iter()
            .find(|given| given.name == name)
            .map(|given| &given.value)
    }

    /// Whether a parameter is given.
    pub fn has(&self, name: &str) -> bool {
        self.get(name).is_some()
    }

    /// The length of a parameter, mm; a finding where none is given.
    pub fn mm(&self, name: &str) -> Result<f64, Finding> {
        match self.get(name) {
            Some(Value::Length(mm)) => Ok(*mm),
            _ => Err(self.lacking(name, "a length, such as 20 mm")),
        }
    }

    /// The angle of a parameter.
    pub fn angle(&self, name: &str) -> Result<Angle, Finding> {
        match self.get(name) {
            Some(Value::Angle(angle)) => Ok(*angle),
            _ => Err(self.lacking(name, "an angle, such as 5°")),
        }
    }

    /// The plain number of a parameter.
    pub fn plain(&self, name: &str) -> Result<f64, Finding> {
        match self.get(name) {
            Some(Value::Number(number)) => Ok(*number),
            _ => Err(self.lacking(name, "a number, such as 0.5")),
        }
    }

    /// The count of a parameter.
    pub fn count(&self, name: &str) -> Result<u32, Finding> {
        match self.get(name) {
            Some(Value::Count(count)) => Ok(*count),
            _ => Err(self.lacking(name, "a whole number, such as 3")),
        }
    }

    /// The word or text of a parameter.
    pub fn word(&self, name: &str) -> Result<&str, Finding> {
        match self.get(name) {
            Some(Value::Choice(word) | Value::Text(word)) => Ok(word),
            _ => Err(self.lacking(name, "a word")),
        }
    }

    /// Yes or no; no where it is not given.
    pub fn is_set(&self, name: &str) -> bool {
        matches!(self.get(name), Some(Value::Flag(true)))
    }

    /// The place of a parameter.
    pub fn spot(&self, name: &str) -> Result<&Place, Finding> {
        match self.get(name) {
            Some(Value::Place(place)) => Ok(place),
            _ => Err(self.lacking(name, "a place on an edge")),
        }
    }

    /// All places of a parameter that takes many.
    pub fn spots<'a>(&'a self, name: &'a str) -> Vec<&'a Place> {
        self.all(name)
            .filter_map(|value| match value {
                Value::Place(place) => Some(place),
                _ => None,
            })
            .collect()
    }

    /// What a parameter names.
    pub fn name_of(&self, name: &str) -> Result<&Named, Finding> {
        match self.get(name) {
            Some(Value::Named(named)) => Ok(named),
            _ => Err(self.lacking(name, "a name, such as front.side")),
        }
    }

    /// All that a parameter names.
    pub fn names_of<'a>(&'a self, name: &'a str) -> Vec<&'a Named> {
        self.all(name)
            .filter_map(|value| match value {
                Value::Named(named) => Some(named),
                _ => None,
            })
            .collect()
    }

    /// The dart that a parameter names, and the number of its piece; a finding points at the parameter.
    pub fn dart<'a>(&self, pattern: &'a Pattern, name: &str) -> Result<(usize, &'a Dart), Finding> {
        find::dart(pattern, self.name_of(name)?).map_err(|finding| self.blame(name, finding))
    }

    /// Numbers of the piece and edge that a parameter names; a finding points at the parameter.
    pub fn edge(&self, pattern: &Pattern, name: &str) -> Result<(usize, usize), Finding> {
        find::edge(pattern, self.name_of(name)?).map_err(|finding| self.blame(name, finding))
    }

    /// Number of the piece that a parameter names; a finding points at the parameter.
    pub fn piece(&self, pattern: &Pattern, name: &str) -> Result<usize, Finding> {
        let piece = &self.name_of(name)?.piece;
        find::piece_index(pattern, piece).map_err(|finding| self.blame(name, finding))
    }

    /// Where on the outline the place of a parameter is; a finding points at the parameter.
    pub fn seat(&self, pattern: &Pattern, name: &str) -> Result<Seat, Finding> {
        place::seat(pattern, self.spot(name)?).map_err(|finding| self.blame(name, finding))
    }

    /// Where on the outline all places of a parameter are; a finding points at the parameter.
    pub fn seats(&self, pattern: &Pattern, name: &str) -> Result<Vec<Seat>, Finding> {
        let places = self.spots(name).into_iter();
        places
            .map(|one| place::seat(pattern, one).map_err(|finding| self.blame(name, finding)))
            .collect()
    }

    /// A finding that points first at the place where the value of a parameter stands, or else at the step.
    pub fn blame(&self, name: &str, mut finding: Finding) -> Finding {
        let told = |place: &Spot| matches!(place, Spot::Text { .. });
        if finding.places.iter().any(told) {
            return finding;
        }
        let given = self.given.iter().find(|given| given.name == name);
        let span = given
            .and_then(|given| given.span.as_ref())
            .or(self.span.as_ref());
        if let Some(span) = span {
            let place = Spot::Text {
                span: span.clone(),
                label: String::new(),
            };
            finding.places.insert(0, place);
        }
        finding
    }

    /// The same values with another length or number for one parameter.
    pub(super) fn scaled(&self, name: &str, share: f64) -> Self {
        let mut scaled = self.clone();
        for given in scaled.given.iter_mut().filter(|given| given.name == name) {
            match &mut given.value {
                Value::Length(value) | Value::Number(value) => *value *= share,
                Value::Angle(angle) => *angle = Angle::from_radians(angle.radians() * share),
                _ => {}
            }
        }
        scaled
    }

    fn lacking(&self, name: &str, what: &str) -> Finding {
        let finding = Finding::error("step-value-missing", format!("{name} is not given"))
            .allowed(what)
            .cure(format!("give {name}: {what}"));
        self.blame(name, finding)
    }
}
