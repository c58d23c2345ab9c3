//! A text that a person wrote, with a name to call it by.

use std::sync::Arc;

use crate::finding::Finding;

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

    /// A text from the bytes of a file, without its byte-order mark; what is not UTF-8 is an error that shows the place.
    pub fn from_bytes(name: impl Into<String>, bytes: Vec<u8>) -> Result<Arc<Self>, Finding> {
        let name = name.into();
        if bytes.starts_with(&[0xFF, 0xFE]) || bytes.starts_with(&[0xFE, 0xFF]) {
            let source = Self::new(name, String::new());
            return Err(not_utf8(&source, 0, "two bytes a letter (UTF-16)"));
        }
        match String::from_utf8(bytes) {
            Ok(text) => Ok(Self::new(name, text.trim_start_matches('\u{FEFF}'))),
            Err(fault) => {
                let at = fault.utf8_error().valid_up_to();
                let shown = Self::new(name, String::from_utf8_lossy(fault.as_bytes()));
                Err(not_utf8(&shown, at, "another encoding than UTF-8"))
            }
        }
    }

    /// Line and column (both from 1, column in characters) of a byte offset; the end of the text for one past it.
    pub fn line_column(&self, offset: usize) -> (usize, usize) {
        let before = &self.text[..boundary(&self.text, offset)];
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

impl Span {
    /// A stretch of a text, drawn in to the text's own bounds.
    pub fn new(source: &Arc<Source>, start: usize, end: usize) -> Self {
        let start = boundary(&source.text, start);
        Self {
            source: Arc::clone(source),
            start,
            end: boundary(&source.text, end.max(start)),
        }
    }

    /// The text of the stretch.
    pub fn text(&self) -> &str {
        self.source.text.get(self.start..self.end).unwrap_or("")
    }

    /// The stretch without white space at its ends.
    pub fn trimmed(&self) -> Self {
        let text = self.text();
        let start = self.start + (text.len() - text.trim_start().len());
        Self::new(&self.source, start, start + text.trim().len())
    }

    /// The part of the stretch that lies in its first line.
    pub fn first_line(&self) -> Self {
        let length = self.text().lines().next().map_or(0, str::len);
        Self::new(&self.source, self.start, self.start + length)
    }
}

impl PartialEq for Span {
    fn eq(&self, other: &Self) -> bool {
        self.start == other.start && self.end == other.end && self.source.name == other.source.name
    }
}

/// The nearest place at or before an offset at which a character begins.
fn boundary(text: &str, offset: usize) -> usize {
    let mut offset = offset.min(text.len());
    while !text.is_char_boundary(offset) {
        offset -= 1;
    }
    offset
}

fn not_utf8(source: &Arc<Source>, at: usize, what: &str) -> Finding {
    let width = source.text[boundary(&source.text, at)..]
        .chars()
        .next()
        .map_or(0, char::len_utf8);
    Finding::error(
        "text-not-utf8",
        format!(
            "{} is not plain text in UTF-8: it is written in {what}.",
            source.name
        ),
    )
    .at_text(&Span::new(source, at, at + width), "not readable from here")
    .allowed("plain text, saved as UTF-8")
    .cure("Open it in a text editor and save it again with the encoding UTF-8.")
}
