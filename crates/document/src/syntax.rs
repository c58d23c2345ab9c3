//! What is said about a text that does not follow the grammar.
//!
//! The reader of the grammar reports several faults a slip, in its own words; here they become findings in ours, one a
//! place. Knows no statement by name.

use std::sync::Arc;

use crate::finding::Finding;
use crate::length::parse_length;
use crate::source::{Source, Span};

/// The code of every finding about a text that does not follow the grammar.
pub(crate) const CODE: &str = "text-not-readable";

/// So many are shown; those behind them are mostly echoes.
const MOST: usize = 20;

/// One fault as the reader of the grammar reports it.
pub(crate) struct Fault<'a> {
    pub(crate) start: usize,
    pub(crate) end: usize,
    pub(crate) message: &'a str,
    pub(crate) help: &'a str,
}

/// A finding for every place at which something is wrong, in the order of the text; never none.
pub(crate) fn findings<'a>(
    source: &Arc<Source>,
    faults: impl Iterator<Item = Fault<'a>>,
) -> Vec<Finding> {
    let mut faults: Vec<Fault<'_>> = faults.collect();
    faults.sort_by_key(|fault| (fault.start, fault.end));
    let mut findings: Vec<Finding> = Vec::new();
    let mut last_line = 0;
    for fault in &faults {
        let line = source.line_column(fault.start).0;
        if line != last_line && findings.len() < MOST {
            findings.push(finding(source, fault));
            last_line = line;
        }
    }
    if findings.is_empty() {
        findings.push(
            Finding::error(CODE, format!("{} cannot be read.", source.name))
                .at_text(&Span::new(source, 0, 0), "somewhere in here")
                .cure("Compare it with one of the examples."),
        );
    }
    findings
}

fn finding(source: &Arc<Source>, fault: &Fault<'_>) -> Finding {
    let span = Span::new(source, fault.start, fault.end)
        .trimmed()
        .first_line();
    let (message, label, cure) = words(&span, fault);
    Finding::error(CODE, message)
        .at_text(&span, label)
        .cure(cure)
}

/// Message, label and next step for one fault.
fn words(span: &Span, fault: &Fault<'_>) -> (String, String, String) {
    let said = |message: &str, label: &str, cure: &str| {
        (message.to_owned(), label.to_owned(), cure.to_owned())
    };
    let stretch = unquoted_stretch(span);
    if fault.message.contains("No closing '}'") || fault.message.contains("Closing '}'") {
        said(
            "This block is opened and never closed.",
            "opened here",
            "Put a closing brace } where the block ends.",
        )
    } else if span.text().starts_with('}') || fault.message.contains("end of document") {
        said(
            "A closing brace stands here, and no block is open.",
            "nothing to close",
            "Take it away, or look for a missing opening brace { above.",
        )
    } else if let Some(length) = stretch.filter(|text| parse_length(text).is_ok()) {
        (
            format!("{length} stands here without quotes."),
            "a length stands in quotes".to_owned(),
            format!("Write it in quotes: \"{length}\"."),
        )
    } else if fault.message.contains("newline in single-line")
        || fault.message.contains("closing quote")
    {
        said(
            "A quotation mark is opened in this line and not closed.",
            "where does it end?",
            "Put a closing quotation mark \" behind the text. A quotation mark within the text is written \\\"; for inches, write “in”.",
        )
    } else if fault.message.contains("child block instead of node name") {
        said(
            "A block stands here without a name before it.",
            "what is this block?",
            "Put the name of the block before the opening brace, in the same line.",
        )
    } else if fault.message.contains("node name") {
        said(
            "A statement begins with a word, and none can be read here.",
            "not a word",
            "Begin the line with the name of what is meant; text with spaces or signs in it stands in quotes.",
        )
    } else {
        (
            "This cannot be read.".to_owned(),
            "not readable".to_owned(),
            fallback_cure(fault.help),
        )
    }
}

fn fallback_cure(help: &str) -> String {
    if help.contains("Did you want a space") {
        "Put a space between the words, or all of it in one pair of quotes.".to_owned()
    } else {
        "Put text, lengths and angles in quotes, and give every statement its own line.".to_owned()
    }
}

/// The text from the start of a place to the end of its line or the next brace or property: `1 1/2 in`.
fn unquoted_stretch(span: &Span) -> Option<&str> {
    let text = span.source.text.get(span.start..)?;
    // The grammar sometimes stops in the middle of a figure: go back to the space before it.
    let before = span.source.text.get(..span.start)?;
    let figure = before
        .rfind(|c: char| !(c.is_ascii_digit() || "., /½¼¾".contains(c)))
        .map_or(0, |i| {
            i + before[i..].chars().next().map_or(1, char::len_utf8)
        });
    let line_end = text
        .find(['\n', '\r', '{', '}', ';', '=', '('])
        .unwrap_or(text.len());
    let whole = span.source.text.get(figure..span.start + line_end)?;
    let whole = whole.split("//").next().unwrap_or(whole).trim();
    (!whole.is_empty()).then_some(whole)
}
