//! The reader: from text to statements, by the KDL 2 grammar of the `kdl` crate, which no other room sees.
//!
//! Knows no statement by name. Invariant: any text gives either statements or findings, never a panic, and neither the
//! stack nor the clock can be exhausted by what the text holds (see [`Budget`]).

use std::sync::Arc;
use std::thread;

use kdl::{KdlDocument, KdlEntry, KdlError, KdlNode, KdlValue};

use crate::entry::Entry;
use crate::finding::Finding;
use crate::source::{Source, Span};
use crate::syntax;
use crate::value::{Content, Value};

/// Blocks may stand in blocks as deep as this; a garment needs four or five.
const DEEPEST: usize = 16;

/// Reads the statements of a text, or says everything that keeps it from being read (code `text-not-readable`).
pub fn parse(source: &Arc<Source>) -> Result<Vec<Entry>, Vec<Finding>> {
    let stack = stack_needed(source)?;
    let shared = Arc::clone(source);
    thread::Builder::new()
        .stack_size(stack)
        .spawn(move || read(&shared))
        .map_err(|_| vec![out_of_room(source)])?
        .join()
        .map_err(|_| vec![out_of_room(source)])?
}

/// What reading a text may cost at most.
///
/// The grammar's reader calls itself for every block, every struck-out statement (`/-`), every nested comment and every
/// sign it cannot place, and tries a struck-out block twice. How these nest is known only after reading, so all of them
/// are counted before: so many calls may lie on the stack, and so many doublings of the work may happen.
struct Budget;

impl Budget {
    /// Longest text, in bytes; a large garment has some ten thousand.
    const LONGEST: usize = 128 << 10;
    /// Most braces, struck-out parts and long comments.
    const MARKS: usize = 2000;
    /// Most struck-out parts in the middle of a statement, each of which may double the work.
    const DOUBLINGS: usize = 8;
    /// Stack for one block in another, in bytes; 6 kB were measured.
    const STACK_PER_MARK: usize = 16 << 10;
    /// Stack for one sign that cannot be placed, in bytes; 300 to 600 were measured.
    const STACK_PER_BYTE: usize = 2 << 10;
    /// Stack for everything else, in bytes.
    const STACK: usize = 1 << 20;
}

/// The stack that reading a text may need, in bytes; address space that is only claimed where it is used.
fn stack_needed(source: &Arc<Source>) -> Result<usize, Vec<Finding>> {
    let text = source.text.as_str();
    let marks =
        text.matches(['{', '}']).count() + text.matches("/-").count() + text.matches("/*").count();
    if text.len() > Budget::LONGEST || marks > Budget::MARKS {
        return Err(vec![too_large(source)]);
    }
    if let Some(at) = struck_out_within(text).nth(Budget::DOUBLINGS) {
        return Err(vec![too_many_struck_out(source, at)]);
    }
    Ok(Budget::STACK + marks * Budget::STACK_PER_MARK + text.len() * Budget::STACK_PER_BYTE)
}

/// Places of `/-` that do not open a line of their own.
fn struck_out_within(text: &str) -> impl Iterator<Item = usize> {
    text.match_indices("/-").map(|(at, _)| at).filter(|&at| {
        let line_start = text[..at].rfind('\n').map_or(0, |i| i + 1);
        let continued = text[..line_start].trim_end().ends_with('\\');
        continued || !text[line_start..at].trim().is_empty()
    })
}

fn read(source: &Arc<Source>) -> Result<Vec<Entry>, Vec<Finding>> {
    let document = KdlDocument::parse_v2(&source.text).map_err(|fault| refused(source, &fault))?;
    let mut reading = Reading {
        source,
        findings: Vec::new(),
    };
    let entries = reading.entries(&document, 1);
    if reading.findings.is_empty() {
        Ok(entries)
    } else {
        Err(reading.findings)
    }
}

fn refused(source: &Arc<Source>, fault: &KdlError) -> Vec<Finding> {
    syntax::findings(
        source,
        fault.diagnostics.iter().map(|diagnostic| syntax::Fault {
            start: diagnostic.span.offset(),
            end: diagnostic.span.offset() + diagnostic.span.len(),
            message: diagnostic.message.as_deref().unwrap_or_default(),
            help: diagnostic.help.as_deref().unwrap_or_default(),
        }),
    )
}

/// Turns the grammar's tree into ours.
struct Reading<'a> {
    source: &'a Arc<Source>,
    findings: Vec<Finding>,
}

impl Reading<'_> {
    fn entries(&mut self, document: &KdlDocument, depth: usize) -> Vec<Entry> {
        document
            .nodes()
            .iter()
            .map(|node| self.entry(node, depth))
            .collect()
    }

    fn entry(&mut self, node: &KdlNode, depth: usize) -> Entry {
        let name = node.name();
        let name_span = self.span(name.span().offset(), name.span().len());
        if let Some(unit) = node.ty() {
            let span = self.span(unit.span().offset(), unit.span().len());
            self.findings.push(unit_before_name(&span, name.value()));
        }
        let mut entry = Entry {
            name: name.value().to_owned(),
            span: self.trimmed(node.span().offset(), node.span().len()),
            name_span,
            arguments: Vec::new(),
            properties: Vec::new(),
            children: Vec::new(),
        };
        for written in node.entries() {
            self.add(&mut entry, written);
        }
        match node.children() {
            Some(_) if depth >= DEEPEST => self.findings.push(too_deep(&entry.name_span)),
            Some(children) => entry.children = self.entries(children, depth + 1),
            None => {}
        }
        entry
    }

    fn add(&mut self, entry: &mut Entry, written: &KdlEntry) {
        let value = self.value(written);
        let Some(name) = written.name() else {
            entry.arguments.push(value);
            return;
        };
        let span = self.span(name.span().offset(), name.span().len());
        if entry.property(name.value()).is_some() {
            self.findings.push(crate::names::given_twice(
                "property-given-twice",
                name.value(),
                &span,
            ));
        }
        entry
            .properties
            .push((name.value().to_owned(), span, value));
    }

    fn value(&self, written: &KdlEntry) -> Value {
        let content = match written.value() {
            KdlValue::String(text) => Content::Text(text.clone()),
            KdlValue::Integer(number) => Content::Number(*number as f64),
            KdlValue::Float(number) => Content::Number(*number),
            KdlValue::Bool(truth) => Content::Truth(*truth),
            KdlValue::Null => Content::Nothing,
        };
        Value {
            content,
            unit: written.ty().map(|unit| unit.value().to_owned()),
            span: self.value_span(written),
        }
    }

    /// Where the value of a property stands, without the property's name and equals sign.
    fn value_span(&self, written: &KdlEntry) -> Span {
        let mut start = written.span().offset();
        let end = start + written.span().len();
        if let (Some(name), Some(format)) = (written.name(), written.format()) {
            start = name.span().offset()
                + name.span().len()
                + format.after_key.len()
                + "=".len()
                + format.after_eq.len();
        }
        self.trimmed(start, end.saturating_sub(start))
    }

    fn span(&self, start: usize, length: usize) -> Span {
        Span::new(self.source, start, start + length)
    }

    fn trimmed(&self, start: usize, length: usize) -> Span {
        self.span(start, length).trimmed()
    }
}

fn unit_before_name(span: &Span, name: &str) -> Finding {
    Finding::error(
        syntax::CODE,
        format!("A word in brackets stands before “{name}”; it says nothing there."),
    )
    .at_text(span, "only values take a unit in brackets")
    .cure("Take the brackets away, or move them to the value: (cm)92.")
}

fn too_deep(span: &Span) -> Finding {
    Finding::error(
        syntax::CODE,
        format!("Blocks stand in blocks more than {DEEPEST} deep."),
    )
    .at_text(span, "this block is too deep")
    .allowed(format!("at most {DEEPEST} blocks in one another"))
    .cure("Look for a missing closing brace } further up.")
}

fn too_large(source: &Arc<Source>) -> Finding {
    Finding::error(
        syntax::CODE,
        format!(
            "{} is far larger than any file that is read here.",
            source.name
        ),
    )
    .at_text(&Span::new(source, 0, 0), "the file begins here")
    .allowed(format!(
        "at most {} kilobytes and {} braces and struck-out parts",
        Budget::LONGEST >> 10,
        Budget::MARKS
    ))
    .cure("See whether the right file was named.")
}

fn too_many_struck_out(source: &Arc<Source>, at: usize) -> Finding {
    Finding::error(
        syntax::CODE,
        "Too many parts are struck out with /- in the middle of statements.",
    )
    .at_text(&Span::new(source, at, at + 2), "one too many")
    .allowed(format!("at most {} in one file", Budget::DOUBLINGS))
    .cure("Strike out whole lines instead: put // at the start of the line.")
}

fn out_of_room(source: &Arc<Source>) -> Finding {
    Finding::error(
        syntax::CODE,
        format!("The machine has no room left to read {}.", source.name),
    )
    .at_text(&Span::new(source, 0, 0), "the file begins here")
    .cure("Close other programs and try again.")
}

#[cfg(test)]
mod tests;
