//! The steps of a recipe: which step, with what values, each with its place; from text, before any pattern is there.
//!
//! A statement is a step by its name in the registry; its properties, or the lines of its block, are the step's declared
//! parameters; a parameter that takes many values has them with commas between, or in one line. `why="…"` says why, `off=#true`
//! leaves a step out, and `if-there="piece.name"` does so where there is no such part. Invariant: the order of the steps is the order of the file, the base's first.

use document::{Entry, Finding, Span, Value, parse_length, unknown};
use pattern::step::{Kind, Parameter, STEPS, StepKind, Value as StepValue, describe, find};

use super::fields::{Fields, length};
use super::formula::{self, Person};
use super::layers::Layers;
use super::place::{self, NameText, PlaceText};
use super::text::Text;

/// Properties of any step, besides its own parameters.
const EVERY: [&str; 3] = ["why", "off", "if-there"];

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
    /// The part without which it is left out.
    pub if_there: Option<NameText>,
    /// Where its name stands.
    pub span: Span,
}

impl PartialEq for Step {
    fn eq(&self, other: &Self) -> bool {
        self.kind.name == other.kind.name
            && self.asked == other.asked
            && (self.off, &self.if_there) == (other.off, &other.if_there)
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
    let mut given = Vec::new();
    for (name, span, value) in entry.properties() {
        if EVERY.contains(&name.as_str()) {
            continue;
        }
        if let Some(parameter) = parameter(kind, name, span, fields) {
            given.extend(values_in(parameter, value, fields));
        }
    }
    for line in entry.children() {
        if EVERY.contains(&line.name()) {
            continue;
        }
        if let Some(parameter) = parameter(kind, line.name(), line.name_span(), fields) {
            given.extend(values_of(parameter, line, fields));
        }
    }
    let why = every(entry, "why", fields).and_then(|value| fields.keep(value.text()));
    let off = every(entry, "off", fields).and_then(|value| fields.keep(value.truth()));
    let if_there = every(entry, "if-there", fields).and_then(|value| {
        let part = text(Kind::Dart, value).and_then(|text| place::part(&text));
        fields.keep(part)
    });
    Some(Step {
        kind,
        asked: given,
        why: why.map(str::to_owned),
        off: off.unwrap_or(false),
        if_there,
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
        .flat_map(|value| values_in(parameter, value, fields))
        .collect()
}

/// The values that stand in one place: those of a parameter that takes many have commas between them.
fn values_in(parameter: &'static Parameter, value: &Value, fields: &mut Fields<'_>) -> Vec<Asked> {
    let kind = parameter.kind;
    let (text, person) = (Text::of(value), fields.person);
    let parts = text.filter(|_| parameter.many).map(|text| text.listed());
    if let Some(parts) = parts.filter(|parts| parts.len() > 1) {
        let read = |part: Text<'_>| (part_of(kind, &part, person), part.span());
        let read: Vec<_> = parts.into_iter().map(read).collect();
        let values = read
            .into_iter()
            .map(|(read, span)| asked(parameter, fields.keep(read)?, span));
        return values.flatten().collect();
    }
    let read = whole(kind, value, person);
    let read = fields.keep(read);
    let value = read.and_then(|read| asked(parameter, read, value.span().clone()));
    value.into_iter().collect()
}

/// A value that was read; nothing where it is not known before the body is.
fn asked(parameter: &'static Parameter, value: Option<AskedValue>, span: Span) -> Option<Asked> {
    Some(Asked {
        name: parameter.name,
        value: value?,
        span,
    })
}

/// A value that stands by itself; `None` where it is not known before the body is.
fn whole(kind: Kind, value: &Value, person: Person<'_>) -> Result<Option<AskedValue>, Finding> {
    Ok(match kind {
        Kind::Length(..) => length(value, person)?
            .map(StepValue::Length)
            .map(AskedValue::Ready),
        Kind::Angle(..) => Some(AskedValue::Ready(StepValue::Angle(value.angle()?))),
        Kind::Number(..) => number(value, person)?
            .map(StepValue::Number)
            .map(AskedValue::Ready),
        Kind::Count(..) => Some(AskedValue::Ready(StepValue::Count(value.count()?))),
        Kind::Choice(words) => {
            let choices: Vec<(&str, &str)> = words.iter().map(|word| (*word, *word)).collect();
            let word = value.choice(&choices)?.to_owned();
            Some(AskedValue::Ready(StepValue::Choice(word)))
        }
        Kind::Flag => Some(AskedValue::Ready(StepValue::Flag(value.truth()?))),
        _ => part_of(kind, &text(kind, value)?, person)?,
    })
}

/// A value that is a text, or a part of one; `None` where it is not known before the body is.
fn part_of(kind: Kind, text: &Text<'_>, person: Person<'_>) -> Result<Option<AskedValue>, Finding> {
    Ok(match kind {
        Kind::Place => place::place(text, person)?.map(AskedValue::Place),
        Kind::Piece | Kind::Seam => Some(AskedValue::Name(place::whole(text)?)),
        Kind::Edge | Kind::Dart | Kind::Line => Some(AskedValue::Name(place::part(text)?)),
        Kind::Length(..) => {
            let mm = match parse_length(text.letters) {
                Ok(length) => Some(length.mm()),
                Err(_) => formula::length(text, person)?,
            };
            mm.map(StepValue::Length).map(AskedValue::Ready)
        }
        Kind::Number(..) => {
            let number = formula::number(text, person)?;
            number.map(StepValue::Number).map(AskedValue::Ready)
        }
        _ => {
            let text = text.letters.to_owned();
            Some(AskedValue::Ready(StepValue::Text(text)))
        }
    })
}

/// A plain number, or one that is worked out: `0.5`, `"1/3"`, `"40 %"`.
pub(super) fn number(value: &Value, person: Person<'_>) -> Result<Option<f64>, Finding> {
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
