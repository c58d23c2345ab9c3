//! Helpers for whoever knows which statements and properties are allowed.

use crate::entry::Entry;
use crate::finding::Finding;
use crate::nearest::nearest;
use crate::source::Span;

/// A finding for every statement whose name is not allowed, with the nearest that is.
pub fn check_statements(entries: &[Entry], allowed: &[&str]) -> Vec<Finding> {
    entries
        .iter()
        .filter(|entry| !allowed.contains(&entry.name()))
        .map(|entry| {
            unknown(
                "unknown-statement",
                entry.name(),
                entry.name_span(),
                allowed,
            )
        })
        .collect()
}

/// A finding for every property of a statement whose name is not allowed, with the nearest that is.
pub fn check_properties(entry: &Entry, allowed: &[&str]) -> Vec<Finding> {
    entry
        .properties()
        .iter()
        .filter(|(name, _, _)| !allowed.contains(&name.as_str()))
        .map(|(name, span, _)| unknown("unknown-property", name, span, allowed))
        .collect()
}

/// A finding for every statement whose name was already used among the same statements.
pub fn check_repeats(entries: &[Entry]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (i, entry) in entries.iter().enumerate() {
        if let Some(first) = entries[..i]
            .iter()
            .find(|other| other.name() == entry.name())
        {
            findings.push(
                given_twice("statement-given-twice", entry.name(), entry.name_span())
                    .at_text(first.name_span(), "first given here"),
            );
        }
    }
    findings
}

/// Says that a name is not known, and offers the nearest that is.
pub fn unknown(code: &'static str, name: &str, span: &Span, allowed: &[&str]) -> Finding {
    let finding = if allowed.is_empty() {
        Finding::error(
            code,
            format!("“{name}” is not known here; nothing is expected."),
        )
    } else {
        Finding::error(code, format!("“{name}” is not known here."))
            .allowed(format!("one of: {}", allowed.join(", ")))
    };
    match nearest(name, allowed) {
        Some(word) => finding
            .at_text(span, format!("perhaps “{word}”?"))
            .cure(format!("If “{word}” is meant, write that.")),
        None => finding
            .at_text(span, "not known")
            .cure("Take it away, or write one of the known names."),
    }
}

/// Says that a name was given more than once.
pub fn given_twice(code: &'static str, name: &str, span: &Span) -> Finding {
    Finding::error(code, format!("“{name}” is given twice."))
        .at_text(span, "given again here")
        .allowed("one of it")
        .cure("Keep the one that is meant.")
}

/// Says that a statement or property is missing; `example` shows how it would be written.
pub fn missing(code: &'static str, name: &str, span: &Span, example: &str) -> Finding {
    Finding::error(code, format!("“{name}” is missing."))
        .at_text(span, format!("has no “{name}”"))
        .allowed(format!("“{name}” given once"))
        .cure(format!("Add it, for example: {example}"))
}
