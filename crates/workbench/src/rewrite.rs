//! Edits of a garment's text that no cure makes: steps moved, left out, annotated; a number taken back to its usual value.
//!
//! Comments and spacing stay as their writer left them; a comment behind a statement on its line goes with it. Invariant:
//! what comes of an edit is read and drafted before it is stored, so an edit that cannot be made is told and never kept.

use std::sync::Arc;

use document::mend::{Path, apply};
use document::{Change, Entry, Finding, Source};
use garment::recipe::Step;
use garment::recipe::numbers::{Number, Slot};
use pattern::step::{Kind, Parameter, StepKind};

use crate::desk::Drafted;
use crate::http::answer::{Answer, Problem};

/// The way to a step's statement: of the steps of one name in the garment's own text, which one.
pub(crate) fn step_path(steps: &[Step], index: usize) -> Path {
    let Some(step) = steps.get(index) else {
        return Path::from(vec!["steps".to_owned(), String::new()]);
    };
    let own = |one: &&Step| one.span.source.name == step.span.source.name;
    let same = steps[..=index].iter().filter(own);
    let number = same.filter(|one| one.kind.name == step.kind.name).count();
    let name = if number > 1 {
        format!("{}#{number}", step.kind.name)
    } else {
        step.kind.name.to_owned()
    };
    Path::from(vec!["steps".to_owned(), name])
}

/// A text as it stands in a recipe, with its quotes.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::from('"');
    for letter in text.chars() {
        match letter {
            '"' => quoted.push_str("\\\""),
            '\\' => quoted.push_str("\\\\"),
            '\n' | '\r' | '\t' => quoted.push(' '),
            letter if letter.is_control() => {}
            letter => quoted.push(letter),
        }
    }
    quoted.push('"');
    quoted
}

/// The text with one change.
pub(crate) fn changed(drafted: &Drafted, change: Change) -> Result<String, Finding> {
    apply(&drafted.source, &drafted.bases, &[change])
}

/// The text with a number at another value, as it stands in a recipe.
pub(crate) fn with_number(
    drafted: &Drafted,
    number: &Number,
    value: String,
) -> Result<String, Finding> {
    let statement = number.path.into();
    let change = match number.slot {
        Slot::Value => Change::Value { statement, value },
        Slot::Property(name) => Change::Property {
            statement,
            name: name.to_owned(),
            value,
        },
    };
    changed(drafted, change)
}

/// The text without a number, which takes its usual value then.
pub(crate) fn without_number(drafted: &Drafted, number: &Number) -> Answer<String> {
    let is_written = drafted
        .entry
        .as_ref()
        .is_some_and(|own| number.written(own).is_some());
    if !is_written {
        return Err(Problem::refused(
            "number-not-written",
            format!("{} is not written in this garment.", number.label),
        )
        .next("There is nothing to take back; write a value to change it."));
    }
    let entry = drafted
        .entry
        .as_ref()
        .and_then(|own| statement(own, number.path));
    let Some(entry) = entry else {
        return Err(Problem::mistake());
    };
    match number.slot {
        Slot::Property(name) => Ok(without_property(&drafted.source, entry, name)),
        Slot::Value if !entry.properties().is_empty() || !entry.children().is_empty() => {
            let span = entry.arguments()[0].span();
            Ok(cut_out(&drafted.source.text, span.start, span.end))
        }
        Slot::Value => {
            let statement = number.path.into();
            Ok(changed(drafted, Change::Remove { statement })?)
        }
    }
}

fn statement<'a>(own: &'a Entry, path: &[&str]) -> Option<&'a Entry> {
    path.iter().try_fold(own, |entry, name| entry.child(name))
}

/// The text without a property of a statement and the space before it.
fn without_property(source: &Source, entry: &Entry, name: &str) -> String {
    let property = entry
        .properties()
        .iter()
        .find(|(given, _, _)| given == name);
    let Some((_, span, value)) = property else {
        return source.text.clone();
    };
    cut_out(&source.text, span.start, value.span().end)
}

fn cut_out(text: &str, start: usize, end: usize) -> String {
    let before = text[..start].trim_end_matches([' ', '\t']);
    format!("{before}{}", &text[end..])
}

/// The statements of the garment's own steps.
fn own_steps(drafted: &Drafted) -> &[Entry] {
    let steps = drafted.entry.as_ref().and_then(|own| own.child("steps"));
    steps.map_or(&[], Entry::children)
}

/// The statement of a step of the recipe, if it is one of the garment's own.
fn own_step(drafted: &Drafted, steps: &[Step], index: usize) -> Answer<usize> {
    let bases = steps
        .iter()
        .filter(|step| step.span.source.name != drafted.source.name)
        .count();
    match index.checked_sub(bases) {
        Some(own) if own < own_steps(drafted).len() => Ok(own),
        Some(_) => Err(Problem::missing(
            "step-missing",
            "There is no such step any more.",
        )),
        None => Err(Problem::refused(
            "step-of-base",
            "This step belongs to the garment on which this one stands.",
        )
        .next("Open that garment and change it there; every garment that stands on it follows.")),
    }
}

/// The text with a step at another place among the garment's own.
pub(crate) fn with_step_moved(
    drafted: &Drafted,
    steps: &[Step],
    (index, to): (usize, usize),
) -> Answer<String> {
    let (from, to) = (
        own_step(drafted, steps, index)?,
        own_step(drafted, steps, to)?,
    );
    let slots: Vec<(usize, usize)> = own_steps(drafted)
        .iter()
        .map(|entry| with_comment(&drafted.source, entry))
        .collect();
    let mut order: Vec<usize> = (0..slots.len()).collect();
    let moved = order.remove(from);
    order.insert(to, moved);
    let text = &drafted.source.text;
    let mut new = String::with_capacity(text.len());
    let mut done = 0;
    for (slot, which) in slots.iter().zip(&order) {
        new.push_str(&text[done..slot.0]);
        new.push_str(&text[slots[*which].0..slots[*which].1]);
        done = slot.1;
    }
    new.push_str(&text[done..]);
    Ok(new)
}

/// From where to where a statement stands, with a comment behind it on its last line.
fn with_comment(source: &Source, entry: &Entry) -> (usize, usize) {
    let (start, end) = (entry.span().start, entry.span().end);
    let rest = &source.text[end..];
    let line = rest.lines().next().unwrap_or_default();
    let comment = line.trim_start().starts_with("//");
    (
        start,
        if comment {
            end + line.trim_end().len()
        } else {
            end
        },
    )
}

/// The text with a step left out, or taken in again.
pub(crate) fn with_step_muted(
    drafted: &Drafted,
    steps: &[Step],
    (index, muted): (usize, bool),
) -> Answer<String> {
    let own = own_step(drafted, steps, index)?;
    if muted {
        let change = Change::Property {
            statement: step_path(steps, index),
            name: "off".to_owned(),
            value: "#true".to_owned(),
        };
        return Ok(changed(drafted, change)?);
    }
    Ok(without_word(drafted, steps, (index, own), "off")?)
}

/// The text with why a step is done; without it where there are no words.
pub(crate) fn with_step_note(
    drafted: &Drafted,
    steps: &[Step],
    (index, note): (usize, &str),
) -> Answer<String> {
    let own = own_step(drafted, steps, index)?;
    if note.trim().is_empty() {
        return Ok(without_word(drafted, steps, (index, own), "why")?);
    }
    let change = Change::Property {
        statement: step_path(steps, index),
        name: "why".to_owned(),
        value: quoted(note.trim()),
    };
    Ok(changed(drafted, change)?)
}

/// The text without a value of a step, whether it stands behind it or in its block.
fn without_word(
    drafted: &Drafted,
    steps: &[Step],
    (index, own): (usize, usize),
    name: &str,
) -> Result<String, Finding> {
    let entry = &own_steps(drafted)[own];
    if entry.property(name).is_some() {
        return Ok(without_property(&drafted.source, entry, name));
    }
    if entry.child(name).is_some() {
        let mut path = step_path(steps, index).names().to_vec();
        path.push(name.to_owned());
        let statement = Path::from(path);
        return changed(drafted, Change::Remove { statement });
    }
    Ok(drafted.source.text.clone())
}

/// The text without a step.
pub(crate) fn without_step(drafted: &Drafted, steps: &[Step], index: usize) -> Answer<String> {
    own_step(drafted, steps, index)?;
    let statement = step_path(steps, index);
    Ok(changed(drafted, Change::Remove { statement })?)
}

/// The text with other values of a step; an empty one takes the value away.
pub(crate) fn with_step_fields(
    drafted: &Drafted,
    steps: &[Step],
    index: usize,
    fields: &[(String, String)],
) -> Answer<String> {
    let own = own_step(drafted, steps, index)?;
    let kind = steps[index].kind;
    let mut source = Arc::clone(&drafted.source);
    for (name, value) in fields {
        let parameter = parameter(kind, name)?;
        let text = if value.trim().is_empty() {
            let entry = &own_steps(drafted)[own];
            if entry.property(name).is_none() && entry.child(name).is_none() {
                continue;
            }
            if fields.len() > 1 {
                return Err(Problem::refused(
                    "fields-together",
                    "A value is taken away on its own, not together with others.",
                ));
            }
            without_word(drafted, steps, (index, own), name)?
        } else {
            let change = Change::Property {
                statement: step_path(steps, index),
                name: name.clone(),
                value: written(parameter, value),
            };
            apply(&source, &drafted.bases, &[change])?
        };
        source = Source::new(source.name.clone(), text);
    }
    Ok(source.text.clone())
}

/// The text with one more step behind all others.
pub(crate) fn with_step(
    drafted: &Drafted,
    kind: &'static StepKind,
    fields: &[(String, String)],
    note: &str,
) -> Answer<String> {
    let mut line = kind.name.to_owned();
    for (name, value) in fields {
        let parameter = parameter(kind, name)?;
        if !value.trim().is_empty() {
            line = format!("{line} {}={}", parameter.name, written(parameter, value));
        }
    }
    if !note.trim().is_empty() {
        line = format!("{line} why={}", quoted(note.trim()));
    }
    let block = Path::from("steps");
    Ok(changed(drafted, Change::Line { block, line })?)
}

fn parameter(kind: &'static StepKind, name: &str) -> Answer<&'static Parameter> {
    kind.parameter(name).ok_or_else(|| {
        let names: Vec<&str> = kind.parameters.iter().map(|one| one.name).collect();
        Problem::refused(
            "field-unknown",
            format!("“{}” has no value of this name.", kind.name),
        )
        .next(format!("Its values are: {}.", names.join(", ")))
    })
}

/// A value as it stands in a recipe: numbers and truths bare, everything else in quotes.
fn written(parameter: &Parameter, value: &str) -> String {
    let value = value.trim();
    match parameter.kind {
        Kind::Flag => match value {
            "yes" | "true" | "#true" => "#true".to_owned(),
            "no" | "false" | "#false" => "#false".to_owned(),
            other => quoted(other),
        },
        Kind::Number(..) | Kind::Count(..) if is_plain_number(value) => value.to_owned(),
        _ => quoted(value),
    }
}

/// Whether a text is a number as KDL writes it.
fn is_plain_number(text: &str) -> bool {
    let digits = text.strip_prefix('-').unwrap_or(text);
    let mut parts = digits.split('.');
    let all = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit());
    match (parts.next(), parts.next(), parts.next()) {
        (Some(whole), None, None) => all(whole) && whole.len() < 10,
        (Some(whole), Some(part), None) => all(whole) && all(part) && digits.len() < 20,
        _ => false,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_stand_bare_and_nothing_else() {
        for yes in ["1", "-2", "0.5", "10.25"] {
            assert!(is_plain_number(yes), "{yes}");
        }
        for no in [
            "",
            "-",
            ".5",
            "5.",
            "1.2.3",
            "1e5",
            "#true",
            "40 %",
            "0x1",
            "99999999999",
        ] {
            assert!(!is_plain_number(no), "{no}");
        }
        assert_eq!(quoted("a \"b\" \\ \n"), "\"a \\\"b\\\" \\\\  \"");
    }

    #[test]
    fn a_property_goes_with_the_space_before_it() {
        let source = Source::new(
            "x",
            "garment \"a\" { sleeve ease=\"60 mm\"  hem=\"240 mm\" // wide\n}",
        );
        let own = document::parse(&source).expect("it is read").remove(0);
        let sleeve = own.child("sleeve").expect("it is there");
        assert_eq!(
            without_property(&source, sleeve, "hem"),
            "garment \"a\" { sleeve ease=\"60 mm\" // wide\n}"
        );
    }
}
