//! The steps of a garment as a list to be read, and the steps that there are.

use std::sync::OnceLock;

use document::Source;
use garment::recipe::Step;
use making::draft::Draft;
use pattern::Pattern;
use pattern::step::{Group, Parameter, STEPS, Usual, describe};
use serde::Serialize;
use serde_json::{Value, json, value::RawValue};

use super::numbers::{NumberView, of_step, plain};
use super::partners::edge_id;
use super::units::Units;

/// A step as JSON.
#[derive(Serialize)]
pub(crate) struct StepView {
    index: usize,
    name: &'static str,
    title: String,
    words: String,
    muted: bool,
    note: String,
    numbers: Vec<NumberView>,
    own: bool,
    #[serde(skip_serializing_if = "String::is_empty")]
    from: String,
    line: usize,
    moved: Vec<String>,
}

/// The steps in their order; those of a base cannot be changed from here.
pub(crate) fn steps(draft: &Draft, own: &Source, units: Units) -> Vec<StepView> {
    let steps = draft.recipe.steps.iter().enumerate();
    steps
        .map(|(index, step)| view(draft, index, step, own, units))
        .collect()
}

/// How many steps stand in the texts on which a garment stands.
pub(crate) fn in_bases(draft: &Draft, own: &Source) -> usize {
    let steps = draft.recipe.steps.iter();
    steps
        .filter(|step| step.span.source.name != own.name)
        .count()
}

fn view(draft: &Draft, index: usize, step: &Step, own: &Source, units: Units) -> StepView {
    let replay = draft.garment.replays.get(index);
    let done = replay.and_then(|replay| replay.done.as_ref());
    let is_own = step.span.source.name == own.name;
    let words = match done {
        Some(done) => making::words::sentence(&done.words),
        None if step.off => "Left out.".to_owned(),
        None => "Left out, since the part that it needs is not there.".to_owned(),
    };
    let moved = match (replay, done) {
        (Some(replay), Some(done)) => moved(&replay.before, &done.after),
        _ => Vec::new(),
    };
    StepView {
        index,
        name: step.kind.name,
        title: making::words::sentence(&making::words::spoken(step.kind.name)),
        words,
        muted: step.off,
        note: step.why.clone().unwrap_or_default(),
        numbers: of_step(index, step, units),
        own: is_own,
        from: if is_own {
            String::new()
        } else {
            step.span.source.name.clone()
        },
        line: step.span.source.line_column(step.span.start).0,
        moved,
    }
}

/// The edges that are new or run elsewhere after a step.
fn moved(before: &Pattern, after: &Pattern) -> Vec<String> {
    let pieces = after
        .pieces
        .iter()
        .filter(|piece| before.piece(&piece.name) != Some(piece));
    pieces
        .flat_map(|piece| {
            let old = before.piece(&piece.name);
            piece
                .edges
                .iter()
                .filter(move |edge| {
                    old.and_then(|old| old.edge(&edge.name))
                        .is_none_or(|old| old.runs != edge.runs)
                })
                .map(|edge| edge_id(&piece.name, &edge.name))
        })
        .collect()
}

/// The steps that there are, written once.
pub(crate) fn that_exist() -> &'static RawValue {
    static WRITTEN: OnceLock<Box<RawValue>> = OnceLock::new();
    WRITTEN.get_or_init(|| {
        let steps: Vec<Value> = STEPS
            .iter()
            .map(|step| {
                json!({
                    "name": step.name,
                    "title": making::words::sentence(&making::words::spoken(step.name)),
                    "group": group(step.group),
                    "summary": step.summary,
                    "example": example(step.manual),
                    "parameters": step.parameters.iter().map(parameter).collect::<Vec<_>>(),
                })
            })
            .collect();
        let json = Value::Array(steps).to_string();
        RawValue::from_string(json).expect("it is JSON")
    })
}

fn parameter(parameter: &Parameter) -> Value {
    json!({
        "name": parameter.name,
        "label": parameter.label,
        "kind": kind(parameter.kind),
        "summary": describe(parameter.kind),
        "needed": parameter.usual == Usual::Needed,
        "many": parameter.many,
        "default": usual(parameter.usual),
        "choices": match parameter.kind {
            pattern::step::Kind::Choice(words) => words,
            _ => &[],
        },
    })
}

/// The example of a step's manual: what stands between strokes behind "Example.".
fn example(manual: &str) -> Option<&str> {
    let behind = manual.split("**Example.**").nth(1)?;
    behind.split('`').nth(1)
}

const fn kind(kind: pattern::step::Kind) -> &'static str {
    use pattern::step::Kind;
    match kind {
        Kind::Place => "place",
        Kind::Piece => "piece",
        Kind::Edge => "edge",
        Kind::Dart => "dart",
        Kind::Line => "line",
        Kind::Seam => "seam",
        Kind::Length(..) => "length",
        Kind::Angle(..) => "angle",
        Kind::Number(..) => "number",
        Kind::Count(..) => "count",
        Kind::Choice(_) => "choice",
        Kind::Flag => "flag",
        Kind::Text => "text",
    }
}

fn usual(usual: Usual) -> Option<String> {
    match usual {
        Usual::Needed | Usual::Nothing => None,
        Usual::Length(mm) => Some(Units::Metric.length(mm)),
        Usual::Angle(degrees) => Some(format!("{} deg", plain(degrees))),
        Usual::Number(number) => Some(plain(number)),
        Usual::Count(count) => Some(count.to_string()),
        Usual::Word(word) => Some(word.to_owned()),
        Usual::Flag(flag) => Some(if flag { "yes" } else { "no" }.to_owned()),
    }
}

const fn group(group: Group) -> &'static str {
    match group {
        Group::Darts => "Darts",
        Group::Size => "Size and fullness",
        Group::Correction => "Corrections for the body",
        Group::Line => "Lines",
        Group::Build => "New pieces",
        Group::Marks => "Marks",
    }
}
