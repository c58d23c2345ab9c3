//! A text in a recipe of which every part can be shown where it stands.
//!
//! Knows letters and places, no meaning. Invariant: a part that cannot be told apart in the file, because it is written
//! there with escapes, is shown as the whole value.

use std::ops::Range;

use document::{Content, Span, Value};

/// A text, or a part of one.
#[derive(Clone, Copy, Debug)]
pub(super) struct Text<'a> {
    /// The letters.
    pub(super) letters: &'a str,
    whole: &'a Span,
    /// Where the letters begin in the file, where they stand there as they are.
    start: Option<usize>,
}

impl<'a> Text<'a> {
    /// The text of a value, if it is one and has no unit before it.
    pub(super) fn of(value: &'a Value) -> Option<Self> {
        let (Content::Text(text), None) = (value.content(), value.unit()) else {
            return None;
        };
        let whole = value.span();
        let at = whole.text().find(text.as_str());
        Some(Self {
            letters: text,
            whole,
            start: at.filter(|_| !text.is_empty()).map(|at| whole.start + at),
        })
    }

    /// A part of it, by bytes.
    pub(super) fn part(&self, range: Range<usize>) -> Self {
        Self {
            letters: self.letters.get(range.clone()).unwrap_or(""),
            whole: self.whole,
            start: self.start.map(|start| start + range.start),
        }
    }

    /// Where it stands.
    pub(super) fn span(&self) -> Span {
        match self.start {
            Some(start) => Span::new(&self.whole.source, start, start + self.letters.len()),
            None => self.whole.clone(),
        }
    }

    /// Its parts between commas that are followed by a space; a comma within a number is none.
    pub(super) fn listed(&self) -> Vec<Self> {
        let mut parts = Vec::new();
        let mut from = 0;
        for (at, comma) in self.letters.match_indices(", ") {
            parts.push(self.part(from..at));
            from = at + comma.len();
        }
        parts.push(self.part(from..self.letters.len()));
        parts
    }

    /// Its words, divided by white space.
    pub(super) fn words(&self) -> Vec<Self> {
        let mut words = Vec::new();
        let mut from = None;
        for (at, letter) in self.letters.char_indices() {
            match (letter.is_whitespace(), from) {
                (false, None) => from = Some(at),
                (true, Some(start)) => {
                    words.push(self.part(start..at));
                    from = None;
                }
                _ => {}
            }
        }
        words.extend(from.map(|start| self.part(start..self.letters.len())));
        words
    }
}
