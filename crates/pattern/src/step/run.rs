//! Running a step with every promise kept.
//!
//! Knows no single step. Invariant: a step that is run gives a pattern all of whose pieces are sound, or a finding that names
//! the step, points at what was written, and says the most that works; never both.

use document::{Allowed, Finding, Quantity, Unit, nearest};

use super::arguments::{Arguments, Given, Value};
use super::kind::{Done, Kind, Parameter, StepKind, Usual};
use super::kit::refuse;
use crate::seam::Pattern;

impl StepKind {
    /// Runs the step: values checked and completed by the usual ones, every changed piece sound, or a finding that names
    /// the step and, where it asked too much, the most that works.
    pub fn run(&self, pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
        let arguments = self.completed(arguments)?;
        self.sound(pattern, &arguments).map_err(|finding| {
            let finding = self.with_most(pattern, &arguments, finding);
            self.signed(&arguments, finding)
        })
    }

    /// The text of its module in the house form, without the marks of comments.
    pub fn manual_text(&self) -> String {
        let lines = self
            .manual
            .lines()
            .take_while(|line| line.starts_with("//!"));
        let text: Vec<&str> = lines
            .map(|line| line.trim_start_matches("//!").trim_start())
            .collect();
        text.join("\n")
    }

    /// The parameter of this name.
    pub fn parameter(&self, name: &str) -> Option<&'static Parameter> {
        self.parameters
            .iter()
            .find(|parameter| parameter.name == name)
    }

    fn sound(&self, pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
        let done = (self.apply)(pattern, arguments)?;
        for piece in &done.pattern.pieces {
            let is_old = pattern.piece(&piece.name).is_some_and(|old| old == piece);
            if !is_old {
                refuse::unless_sound(piece, pattern.piece(&piece.name))?;
            }
        }
        Ok(done)
    }

    fn with_most(&self, pattern: &Pattern, arguments: &Arguments, finding: Finding) -> Finding {
        let Some(name) = self.amount else {
            return finding;
        };
        let (Some(asked), None) = (amount(arguments.get(name)), &finding.measured) else {
            return finding;
        };
        let works = |share: f64| self.sound(pattern, &arguments.scaled(name, share)).is_ok();
        match refuse::most(works) {
            Some(share) => {
                let most = Quantity {
                    value: asked.value * share,
                    ..asked
                };
                let allowed = if asked.value < 0.0 {
                    Allowed::AtLeast(most)
                } else {
                    Allowed::AtMost(most)
                };
                finding
                    .measured(asked, allowed)
                    .cure(format!("{name} {most} still works"))
            }
            None => finding,
        }
    }

    fn signed(&self, arguments: &Arguments, mut finding: Finding) -> Finding {
        let name = self.amount.unwrap_or("");
        let message = finding.message;
        finding.message = format!("{} cannot be done: {}", capital(self.name), small(&message));
        arguments.blame(name, finding)
    }

    /// The values with the usual ones where none are given; a finding for the first that is not allowed.
    fn completed(&self, arguments: &Arguments) -> Result<Arguments, Finding> {
        for given in &arguments.given {
            self.check(arguments, given)
                .map_err(|finding| self.signed(arguments, arguments.blame(&given.name, finding)))?;
        }
        let mut completed = arguments.clone();
        for parameter in self.parameters {
            if arguments.has(parameter.name) {
                continue;
            }
            match usual_value(parameter.usual) {
                Some(value) => completed = completed.with(parameter.name, value),
                None if parameter.usual == Usual::Needed => {
                    return Err(self.signed(arguments, arguments.blame("", needed(parameter))));
                }
                None => {}
            }
        }
        Ok(completed)
    }

    fn check(&self, arguments: &Arguments, given: &Given) -> Result<(), Finding> {
        let Some(parameter) = self.parameter(&given.name) else {
            return Err(self.unknown(&given.name));
        };
        if !parameter.many && arguments.all(parameter.name).count() > 1 {
            return Err(Finding::error(
                "step-value-twice",
                format!("{} is given twice", parameter.name),
            )
            .allowed("one value")
            .cure("take all but one away"));
        }
        fits(parameter, &given.value)
    }

    fn unknown(&self, name: &str) -> Finding {
        let names: Vec<&str> = self
            .parameters
            .iter()
            .map(|parameter| parameter.name)
            .collect();
        let finding = Finding::error(
            "step-value-unknown",
            format!("{} takes no {name}", self.name),
        )
        .allowed(names.join(", "));
        match nearest(name, &names) {
            Some(meant) => finding.cure(format!("did you mean {meant}?")),
            None => finding.cure("take it away"),
        }
    }
}

fn amount(value: Option<&Value>) -> Option<Quantity> {
    match value? {
        Value::Length(mm) => Some(Quantity::mm(*mm)),
        Value::Angle(angle) => Some(Quantity::degrees(angle.degrees())),
        Value::Number(value) => Some(Quantity {
            value: *value,
            unit: Unit::Ratio,
        }),
        _ => None,
    }
}

fn usual_value(usual: Usual) -> Option<Value> {
    match usual {
        Usual::Needed | Usual::Nothing => None,
        Usual::Length(mm) => Some(Value::Length(mm)),
        Usual::Angle(degrees) => Some(Value::Angle(geometry::Angle::from_degrees(degrees))),
        Usual::Number(number) => Some(Value::Number(number)),
        Usual::Count(count) => Some(Value::Count(count)),
        Usual::Word(word) => Some(Value::Choice(word.into())),
        Usual::Flag(flag) => Some(Value::Flag(flag)),
    }
}

fn needed(parameter: &Parameter) -> Finding {
    Finding::error(
        "step-value-missing",
        format!("{} ({}) is not given", parameter.name, parameter.label),
    )
    .allowed(describe(parameter.kind))
    .cure(format!(
        "give {}: {}",
        parameter.name,
        describe(parameter.kind)
    ))
}

fn fits(parameter: &Parameter, value: &Value) -> Result<(), Finding> {
    let within = |value: f64, least: f64, most: f64| value >= least && value <= most;
    let fits = match (parameter.kind, value) {
        (Kind::Place, Value::Place(_))
        | (Kind::Piece | Kind::Edge | Kind::Dart | Kind::Line | Kind::Seam, Value::Named(_))
        | (Kind::Flag, Value::Flag(_))
        | (Kind::Text, Value::Text(_)) => true,
        (Kind::Length(least, most), Value::Length(value))
        | (Kind::Number(least, most), Value::Number(value)) => within(*value, least, most),
        (Kind::Angle(least, most), Value::Angle(angle)) => within(angle.degrees(), least, most),
        (Kind::Count(least, most), Value::Count(count)) => (least..=most).contains(count),
        (Kind::Choice(words), Value::Choice(word)) => words.contains(&word.as_str()),
        _ => false,
    };
    if fits {
        return Ok(());
    }
    Err(Finding::error(
        "step-value-not-allowed",
        format!(
            "{} ({}) has a value that it cannot take",
            parameter.name, parameter.label
        ),
    )
    .allowed(describe(parameter.kind))
    .cure(format!("give {}", describe(parameter.kind))))
}

/// What a kind of value is, in words.
pub fn describe(kind: Kind) -> String {
    match kind {
        Kind::Place => {
            "a place: a piece and edge and where on it, a corner, or a marked point".into()
        }
        Kind::Piece => "the name of a piece, such as front".into(),
        Kind::Edge => "a piece and one of its edges, such as front.side".into(),
        Kind::Dart => "a piece and one of its darts, such as front.waist-dart".into(),
        Kind::Line => "a piece and a line inside it, such as front.bust".into(),
        Kind::Seam => "the name of a seam".into(),
        Kind::Length(least, most) => format!("a length from {least:.0} to {most:.0} mm"),
        Kind::Angle(least, most) => format!("an angle from {least:.0} to {most:.0}°"),
        Kind::Number(least, most) => format!("a number from {least} to {most}"),
        Kind::Count(least, most) => format!("a whole number from {least} to {most}"),
        Kind::Choice(words) => format!("one of: {}", words.join(", ")),
        Kind::Flag => "yes or no".into(),
        Kind::Text => "a name".into(),
    }
}

/// A word at the head of a sentence.
fn capital(word: &str) -> String {
    let mut letters = word.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}

/// A sentence after a colon.
fn small(sentence: &str) -> String {
    let mut letters = sentence.chars();
    let first = letters.next().map(|first| first.to_lowercase().to_string());
    first.unwrap_or_default() + letters.as_str()
}
