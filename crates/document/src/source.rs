//! A text that a person wrote, with a name to call it by.

use std::sync::Arc;

/// A text and the name under which it is shown to its writer (mostly the path of the file).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Source {
    /// Name shown in messages.
    pub name: String,
    /// The whole text.
    pub text: String,
}

impl Source {
    /// A text under a name, ready to be shared between the values read from it.
    pub fn new(name: impl Into<String>, text: impl Into<String>) -> Arc<Self> {
        Arc::new(Self {
            name: name.into(),
            text: text.into(),
        })
    }

    /// Line and column (both from 1, column in characters) of a byte offset; the end of the text for one past it.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let mut offset = offset.min(self.text.len());
        while !self.text.is_char_boundary(offset) {
            offset -= 1;
        }
        let before = &self.text[..offset];
        let line_start = before.rfind('\n').map_or(0, |i| i + 1);
        (
            before.matches('\n').count() + 1,
            before[line_start..].chars().count() + 1,
        )
    }
}

/// A stretch of a [`Source`], in bytes.
#[derive(Clone, Debug)]
pub struct Span {
    /// The text in which the stretch lies.
    pub source: Arc<Source>,
    /// First byte.
    pub start: usize,
    /// One past the last byte.
    pub end: usize,
}

impl PartialEq for Span {
    fn eq(&self, other: &Self) -> bool {
        self.start == other.start && self.end == other.end && self.source.name == other.source.name
    }
}
