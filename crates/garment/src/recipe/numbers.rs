//! The numbers of a recipe: what each is called, where it stands in the text, what it is and within what bounds.
//!
//! A list for whoever shows a recipe as numbers to be turned instead of a text to be written. Steps declare their own
//! parameters and are not listed here. Invariants: bounds are those of the reader, which a test holds them to; the value is
//! the one that the draft goes by, written or usual.

mod list;
#[cfg(test)]
mod tests;

use document::Entry;

use super::Recipe;

pub use list::NUMBERS;

/// Where a number stands in its statement.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Slot {
    /// Behind the statement's name: `seam "15 mm"`.
    Value,
    /// As a property of it: `neckline depth="95 mm"`.
    Property(&'static str),
}

/// What a number is, with its bounds.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Measure {
    /// A length, mm.
    Length(f64, f64),
    /// A plain number.
    Ratio(f64, f64),
    /// A whole number.
    Count(u32, u32),
    /// One of these words.
    Word(&'static [&'static str]),
}

/// What a number is now.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Reading {
    /// A length, mm, a ratio or a whole number.
    Number(f64),
    /// A word.
    Word(&'static str),
    /// Nothing is asked for: it follows from the body or from another number.
    Open,
}

/// A number of a recipe.
#[derive(Clone, Copy, Debug)]
pub struct Number {
    /// Its own name: `neckline.depth`.
    pub id: &'static str,
    /// The statement: names of blocks, outermost first.
    pub path: &'static [&'static str],
    /// Where in the statement.
    pub slot: Slot,
    /// What a person reads.
    pub label: &'static str,
    /// Under which heading.
    pub group: &'static str,
    /// What it is.
    pub measure: Measure,
    /// What it is now; `None` where the recipe has no place for it.
    pub reading: fn(&Recipe) -> Option<Reading>,
}

impl Number {
    /// The number of this name.
    pub fn find(id: &str) -> Option<&'static Self> {
        NUMBERS.iter().find(|number| number.id == id)
    }

    /// The numbers for which a recipe has a place, each with what it is now.
    pub fn of(recipe: &Recipe) -> impl Iterator<Item = (&'static Self, Reading)> + '_ {
        NUMBERS
            .iter()
            .filter_map(|number| Some((number, (number.reading)(recipe)?)))
    }

    /// Where it is written in the text of a garment, if it is.
    pub fn written<'a>(&self, garment: &'a Entry) -> Option<&'a document::Value> {
        let mut entry = garment;
        for name in self.path {
            entry = entry.child(name)?;
        }
        match self.slot {
            Slot::Value => entry.arguments().first(),
            Slot::Property(name) => entry.property(name),
        }
    }

    /// The bounds of a number in its own unit; none of a word.
    pub fn bounds(&self) -> Option<(f64, f64)> {
        match self.measure {
            Measure::Length(least, most) | Measure::Ratio(least, most) => Some((least, most)),
            Measure::Count(least, most) => Some((f64::from(least), f64::from(most))),
            Measure::Word(_) => None,
        }
    }
}
