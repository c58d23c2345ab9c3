//! The steps of a recipe: which step, with what values, each with its place; from text, before any pattern is there.
//!
//! A statement is a step by its name in the registry; its properties, or the lines of its block, are the step's declared
//! parameters; a parameter that takes many values has a line each, or one line with all of them. `why="…"` says why, and
//! `off=#true` leaves a step out. Invariant: the order of the steps is the order of the file, the base's first.

use document::{Entry, Finding, Span, Value, unknown};
use pattern::step::{Kind, Parameter, STEPS, StepKind, Value as StepValue, describe, find};

use super::fields::{Fields, length};
use super::formula::{self, Person};
use super::layers::Layers;
use super::place::{self, NameText, PlaceText};
use super::text::Text;

/// Properties of any step, besides its own parameters.
const EVERY: [&str; 2] = ["why", "off"];

/// A step that is asked for.
#[derive(Clone, Debug)]
pub struct Step {
    /// Which one.
    pub kind: &'static StepKind,
    /// The values that are given, in order.
    pub asked: Vec<Asked>,
    /// Why, in the maker's words.
    pub why: Option<String>,
    /// Whether it is left out.
    pub off: bool,
    /// Where its name stands.
    pub span: Span,
}

impl PartialEq for Step {
    fn eq(&self, other: &Self) -> bool {
        self.kind.name == other.kind.name
            && self.asked == other.asked
            && self.off == other.off
            && self.span == other.span
    }
}

/// A value that is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Asked {
    /// The parameter.
    pub name: &'static str,
    /// The value.
    pub value: AskedValue,
    /// Where it stands.
    pub span: Span,
}

/// A value, before names are looked up on a pattern.
#[derive(Clone, Debug, PartialEq)]
pub enum AskedValue {
    /// A place.
    Place(PlaceText),
    /// A piece, a part of one, or a seam.
    Name(NameText),
    /// Anything that needs no pattern.
    Ready(StepValue),
}

/// Reads the steps of all blocks, base first.
pub(super) fn read(blocks: &Layers<'_>, fields: &mut Fields<'_>) -> Vec<Step> {
    let entries = blocks.all().flat_map(Entry::children);
    entries.filter_map(|entry| step(entry, fields)).collect()
}

fn step(entry: &Entry, fields: &mut Fields<'_>) -> Option<Step> {
    let Some(kind) = find(entry.name()) else {
        let names: Vec<&str> = STEPS.iter().map(|step| step.name).collect();
        let finding = unknown("unknown-step", entry.name(), entry.name_span(), &names);
        fields.findings.push(finding);
        return None;
    };
    if let Some(value) = entry.arguments().first() {
        fields.findings.push(unnamed(kind, value));
    }
    let mut asked = Vec::new();
    for (name, span, value) in entry.properties() {
        if EVERY.contains(&name.as_str()) {
            continue;
        }
        if let Some(parameter) = parameter(kind, name, span, fields) {
            asked.extend(value_of(parameter, value, fields));
        }
    }
    for line in entry.children() {
        if EVERY.contains(&line.name()) {
            continue;
        }
        if let Some(parameter) = parameter(kind, line.name(), line.name_span(), fields) {
            asked.extend(values_of(parameter, line, fields));
        }
    }
    let why = every(entry, "why", fields).and_then(|value| fields.keep(value.text()));
    let off = every(entry, "off", fields).and_then(|value| fields.keep(value.truth()));
    Some(Step {
        kind,
        asked,
        why: why.map(str::to_owned),
        off: off.unwrap_or(false),
        span: entry.name_span().clone(),
    })
}

/// A property that any step may have, behind it or in its block.
fn every<'a>(entry: &'a Entry, name: &str, fields: &mut Fields<'_>) -> Option<&'a Value> {
    let line = entry.child(name);
    let in_block = line.and_then(|line| fields.keep(line.argument("one value")));
    entry.property(name).or(in_block)
}

fn parameter(
    kind: &'static StepKind,
    name: &str,
    span: &Span,
    fields: &mut Fields<'_>,
) -> Option<&'static Parameter> {
    let found = kind.parameter(name);
    if found.is_none() {
        let own = kind.parameters.iter().map(|parameter| parameter.name);
        let names: Vec<&str> = own.chain(EVERY).collect();
        fields
            .findings
            .push(unknown("unknown-property", name, span, &names));
    }
    found
}

fn values_of(parameter: &'static Parameter, line: &Entry, fields: &mut Fields<'_>) -> Vec<Asked> {
    if line.arguments().is_empty() {
        fields
            .findings
            .extend(line.argument(&describe(parameter.kind)).err());
    }
    let values = line.arguments().iter();
    values
        .flat_map(|value| value_of(parameter, value, fields))
        .collect()
}

/// The values that stand in one place: names and places of a parameter that takes many have commas between them.
fn value_of(parameter: &'static Parameter, value: &Value, fields: &mut Fields<'_>) -> Vec<Asked> {
    let asked = |value, span| Asked {
        name: parameter.name,
        value,
        span,
    };
    if !is_named(parameter.kind) {
        let read = ready(parameter.kind, value, fields.person);
        let ready = fields.keep(read).flatten();
        let whole = ready.map(|ready| asked(AskedValue::Ready(ready), value.span().clone()));
        return whole.into_iter().collect();
    }
    let Some(text) = fields.keep(text(parameter.kind, value)) else {
        return Vec::new();
    };
    let (parts, one) = if parameter.many {
        (text.listed(), false)
    } else {
        (vec![text], true)
    };
    let mut values = Vec::new();
    for part in parts {
        let read = named(parameter.kind, &part, fields.person);
        let span = if one {
            value.span().clone()
        } else {
            part.span()
        };
        values.extend(fields.keep(read).flatten().map(|value| asked(value, span)));
    }
    values
}

/// Whether a kind of value is looked up on the pattern.
const fn is_named(kind: Kind) -> bool {
    matches!(
        kind,
        Kind::Place | Kind::Piece | Kind::Edge | Kind::Dart | Kind::Line | Kind::Seam
    )
}

/// A name or a place; `None` where a length in it is not known before the body is.
fn named(kind: Kind, text: &Text<'_>, person: Person<'_>) -> Result<Option<AskedValue>, Finding> {
    Ok(match kind {
        Kind::Place => place::place(text, person)?.map(AskedValue::Place),
        Kind::Piece | Kind::Seam => Some(AskedValue::Name(place::whole(text)?)),
        _ => Some(AskedValue::Name(place::part(text)?)),
    })
}

/// A value that needs no pattern; `None` where it is not known before the body is.
fn ready(kind: Kind, value: &Value, person: Person<'_>) -> Result<Option<StepValue>, Finding> {
    Ok(match kind {
        Kind::Length(..) => length(value, person)?.map(StepValue::Length),
        Kind::Angle(..) => Some(StepValue::Angle(value.angle()?)),
        Kind::Number(..) => number(value, person)?.map(StepValue::Number),
        Kind::Count(..) => Some(StepValue::Count(value.count()?)),
        Kind::Choice(words) => {
            let choices: Vec<(&str, &str)> = words.iter().map(|word| (*word, *word)).collect();
            Some(StepValue::Choice(value.choice(&choices)?.to_owned()))
        }
        Kind::Flag => Some(StepValue::Flag(value.truth()?)),
        _ => Some(StepValue::Text(value.text()?.to_owned())),
    })
}

/// A plain number, or one that is worked out: `0.5`, `"1/3"`, `"40 %"`.
fn number(value: &Value, person: Person<'_>) -> Result<Option<f64>, Finding> {
    match Text::of(value) {
        Some(text) => formula::number(&text, person),
        None => value.number().map(Some),
    }
}

fn text(kind: Kind, value: &Value) -> Result<Text<'_>, Finding> {
    Text::of(value).ok_or_else(|| {
        let what = describe(kind);
        Finding::error(
            "text-expected",
            format!("Here {what} is needed, and {} is written.", value.shown()),
        )
        .at_text(value.span(), "no name")
        .allowed(what)
        .cure("Write a name in quotes.")
    })
}

fn unnamed(kind: &StepKind, value: &Value) -> Finding {
    let names: Vec<&str> = kind.parameters.iter().map(|one| one.name).collect();
    Finding::error(
        "step-value-unnamed",
        format!(
            "{} stands behind “{}” without a name.",
            value.shown(),
            kind.name
        ),
    )
    .at_text(value.span(), "what is this?")
    .allowed(format!("values by name: {}", names.join(", ")))
    .cure(format!(
        "Write the name before it: {}={}.",
        names.first().unwrap_or(&"name"),
        value.shown()
    ))
}
