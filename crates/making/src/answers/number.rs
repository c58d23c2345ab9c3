//! Numbers of a recipe that can be solved for: their steps, and the text with another value in it.
//!
//! Invariant: a value that is written is a whole number of usable steps.

use std::sync::Arc;

use document::mend::apply;
use document::{Finding, Mend, Source, nearest};
use garment::Recipe;
use garment::recipe::numbers::{Measure, NUMBERS, Number, Reading, Slot};

/// Steps of a length, mm: what a tape and a pencil can keep; common practice, no source.
const LENGTH: f64 = 5.0;
/// Steps of a plain number.
const RATIO: f64 = 0.05;

/// The values that are tried: whole numbers of steps between the bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Grid {
    /// One step, in the number's own unit.
    pub step: f64,
    /// The first value, in steps.
    pub first: i64,
    /// The last value, in steps.
    pub last: i64,
}

impl Grid {
    /// The values of a number; none of a word.
    pub fn of(number: &Number) -> Option<Self> {
        let step = match number.measure {
            Measure::Length(..) => LENGTH,
            Measure::Ratio(..) => RATIO,
            Measure::Count(..) => 1.0,
            Measure::Word(_) => return None,
        };
        let (least, most) = number.bounds()?;
        Some(Self {
            step,
            first: (least / step - 1e-9).ceil() as i64,
            last: (most / step + 1e-9).floor() as i64,
        })
    }

    /// The value of so many steps.
    pub fn value(&self, steps: i64) -> f64 {
        // By division where a step is a part of one: 2.15 comes out as it is written.
        if self.step < 1.0 {
            steps as f64 / (1.0 / self.step).round()
        } else {
            steps as f64 * self.step
        }
    }

    /// The steps of a value, rounded down.
    pub fn steps(&self, value: f64) -> i64 {
        ((value / self.step + 1e-9).floor() as i64).clamp(self.first, self.last)
    }
}

/// The number of this name, with a place in the recipe; a finding that names what there is otherwise.
pub fn find(recipe: &Recipe, id: &str) -> Result<&'static Number, Finding> {
    let known = Number::find(id);
    if let Some(number) = known
        && Grid::of(number).is_some()
        && (number.reading)(recipe).is_some()
    {
        return Ok(number);
    }
    let ids: Vec<&str> = solvable(recipe).map(|number| number.id).collect();
    let (message, reason) = match known {
        Some(number) if Grid::of(number).is_none() => (
            format!("“{id}” is a word and cannot be more or less."),
            "only numbers can be solved for",
        ),
        Some(_) => (
            format!("The garment has no place for “{id}”."),
            "a number can be solved for only where the garment has what it belongs to",
        ),
        None => (
            format!("There is no number “{id}”."),
            "numbers are called by their places in the garment's file",
        ),
    };
    let near = nearest(id, &ids);
    let cure = near.map_or_else(
        || "Take one of these.".to_owned(),
        |near| format!("Perhaps {near} is meant."),
    );
    Err(Finding::error("number-not-known", message)
        .allowed(ids.join(", "))
        .because(reason)
        .cure(cure))
}

/// All numbers of a recipe that can be solved for.
pub fn solvable(recipe: &Recipe) -> impl Iterator<Item = &'static Number> + '_ {
    let numbers = NUMBERS.iter();
    numbers.filter(|number| Grid::of(number).is_some() && (number.reading)(recipe).is_some())
}

/// What a number is now, where it is written or usual.
pub(super) fn now(recipe: &Recipe, number: &Number) -> Option<f64> {
    match (number.reading)(recipe)? {
        Reading::Number(value) => Some(value),
        Reading::Open | Reading::Word(_) => None,
    }
}

/// A value as it stands in a file: `"705 mm"`, `2.15`.
pub(super) fn written(number: &Number, value: f64) -> String {
    match number.measure {
        Measure::Length(..) => document::written_mm(value),
        _ => format!("{value}"),
    }
}

/// A value as a person reads it: "705 mm", "2.15".
pub(super) fn shown(number: &Number, value: f64) -> String {
    written(number, value).trim_matches('"').to_owned()
}

/// The change of the text that gives a number a value.
pub(super) fn mend(number: &Number, value: f64) -> Mend {
    let words = format!("{} becomes {}", number.label, shown(number, value));
    let value = written(number, value);
    match number.slot {
        Slot::Value => Mend::value(number.path, value, words),
        Slot::Property(name) => Mend::property(number.path, name, value, words),
    }
}

/// The garment's text with another value of a number.
pub(super) fn text(
    (source, bases): (&Arc<Source>, &[Arc<Source>]),
    number: &Number,
    value: f64,
) -> Result<Arc<Source>, Finding> {
    let text = apply(source, bases, &mend(number, value).changes)?;
    Ok(Source::new(source.name.clone(), text))
}
