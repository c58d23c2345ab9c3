//! The numbers of a garment: what it is styled by, beside the drawing and to be typed.

use document::{Entry, metric};
use garment::Recipe;
use garment::recipe::numbers::{Measure, Number, Reading};
use garment::recipe::{Asked, AskedValue, Step};
use geometry::Length;
use pattern::step::{Kind, Value as StepValue};
use serde::Serialize;

use super::path::rounded;
use super::units::Units;

/// A number as JSON.
#[derive(Clone, Serialize)]
pub(crate) struct NumberView {
    pub(crate) id: String,
    pub(crate) label: String,
    pub(crate) group: String,
    pub(crate) value: Option<f64>,
    pub(crate) shown: String,
    pub(crate) unit: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) least: Option<f64>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) most: Option<f64>,
    /// The bounds in words: "0 mm to 500 mm".
    #[serde(skip_serializing_if = "String::is_empty")]
    pub(crate) bounds: String,
    #[serde(skip_serializing_if = "<[&str]>::is_empty")]
    pub(crate) choices: &'static [&'static str],
    pub(crate) written: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) line: Option<usize>,
}

/// All numbers of a recipe; `own` are the statements of the garment itself.
pub(crate) fn numbers(recipe: &Recipe, own: Option<&Entry>, units: Units) -> Vec<NumberView> {
    Number::of(recipe)
        .map(|(number, reading)| view(number, reading, own, units))
        .collect()
}

fn view(number: &Number, reading: Reading, own: Option<&Entry>, units: Units) -> NumberView {
    let written = own.and_then(|own| number.written(own));
    let line = written.map(|value| {
        let span = value.span();
        span.source.line_column(span.start).0
    });
    let bounds = number.bounds();
    NumberView {
        id: number.id.to_owned(),
        label: number.label.to_owned(),
        group: number.group.to_owned(),
        value: match reading {
            Reading::Number(value) => Some(rounded(value)),
            Reading::Word(_) | Reading::Open => None,
        },
        shown: shown(number.measure, reading, units),
        unit: unit(number.measure),
        least: bounds.map(|(least, _)| least),
        most: bounds.map(|(_, most)| most),
        bounds: bounds.map_or_else(String::new, |(least, most)| {
            let shown = |value| shown(number.measure, Reading::Number(value), units);
            format!("{} to {}", shown(least), shown(most))
        }),
        choices: match number.measure {
            Measure::Word(words) => words,
            _ => &[],
        },
        written: written.is_some(),
        line,
    }
}

const fn unit(measure: Measure) -> &'static str {
    match measure {
        Measure::Length(..) => "mm",
        Measure::Ratio(..) => "times",
        Measure::Count(..) => "count",
        Measure::Word(_) => "word",
    }
}

/// A number as a person reads it.
pub(crate) fn shown(measure: Measure, reading: Reading, units: Units) -> String {
    match (reading, measure) {
        (Reading::Open, _) => String::new(),
        (Reading::Word(word), _) => word.to_owned(),
        (Reading::Number(value), Measure::Length(..)) => units.length(value),
        (Reading::Number(value), Measure::Ratio(..)) => plain(value),
        (Reading::Number(value), _) => format!("{value:.0}"),
    }
}

/// A plain number with as many places as it needs, at most two.
pub(crate) fn plain(value: f64) -> String {
    format!("{}", rounded(value))
}

/// The values of a step that are numbers or words.
pub(crate) fn of_step(index: usize, step: &Step, units: Units) -> Vec<NumberView> {
    let mut numbers: Vec<NumberView> = step
        .asked
        .iter()
        .filter_map(|asked| asked_number(index, step, asked, units))
        .collect();
    // A parameter of many values is edited as one text.
    numbers.dedup_by(|one, other| one.id == other.id);
    numbers
}

fn asked_number(index: usize, step: &Step, asked: &Asked, units: Units) -> Option<NumberView> {
    let parameter = step.kind.parameter(asked.name)?;
    let written = asked.span.text().trim_matches('"').to_owned();
    let (value, shown, unit) = match &asked.value {
        AskedValue::Ready(StepValue::Length(mm)) => (Some(*mm), units.length(*mm), "mm"),
        AskedValue::Ready(StepValue::Angle(angle)) => {
            let degrees = angle.degrees();
            (Some(degrees), document::degrees(*angle), "degrees")
        }
        AskedValue::Ready(StepValue::Number(number)) => (Some(*number), plain(*number), "times"),
        AskedValue::Ready(StepValue::Count(count)) => {
            (Some(f64::from(*count)), count.to_string(), "count")
        }
        AskedValue::Ready(StepValue::Flag(flag)) => {
            (None, if *flag { "yes" } else { "no" }.to_owned(), "word")
        }
        _ => (None, written, "text"),
    };
    let (least, most) = step_bounds(parameter.kind).unzip();
    Some(NumberView {
        id: step_id(index, asked.name),
        label: parameter.label.to_owned(),
        group: step.kind.name.to_owned(),
        value: value.map(rounded),
        shown,
        unit,
        least,
        most,
        bounds: String::new(),
        choices: match parameter.kind {
            Kind::Choice(words) => words,
            Kind::Flag => &["yes", "no"],
            _ => &[],
        },
        written: true,
        line: Some(asked.span.source.line_column(asked.span.start).0),
    })
}

/// Bounds of a step's parameter in mm, degrees or its own unit.
pub(crate) fn step_bounds(kind: Kind) -> Option<(f64, f64)> {
    match kind {
        Kind::Length(least, most) | Kind::Angle(least, most) | Kind::Number(least, most) => {
            Some((least, most))
        }
        Kind::Count(least, most) => Some((f64::from(least), f64::from(most))),
        _ => None,
    }
}

/// How a value of a step is called on the page.
pub(crate) fn step_id(index: usize, parameter: &str) -> String {
    format!("step.{index}.{parameter}")
}

/// The step and the parameter that are called so.
pub(crate) fn step_of_id(id: &str) -> Option<(usize, &str)> {
    let (index, parameter) = id.strip_prefix("step.")?.split_once('.')?;
    Some((index.parse().ok()?, parameter))
}

/// A length as it is written into a text, in the units of the page: `"95 mm"`, `"3 3/4 in"`, with quotes.
pub(crate) fn written_length(mm: f64, units: Units) -> String {
    match units {
        Units::Metric => format!("\"{}\"", metric(Length::from_mm(mm))),
        Units::Inch => format!("\"{}\"", units.length(mm)),
    }
}
