//! Findings in the file.

use document::{Allowed, Change, Finding, Mend, Place, Quantity, Span};
use serde_json::{Value, json};

use super::number::{number, point};

/// Findings as a list of values, for any file that carries some.
pub fn findings(findings: &[Finding]) -> Value {
    findings.iter().map(finding).collect()
}

fn finding(finding: &Finding) -> Value {
    json!({
        "code": finding.code,
        "severity": finding.severity.word(),
        "message": finding.message,
        "measured": finding.measured.map(quantity),
        "allowed": finding.allowed.as_ref().map(allowed),
        "reason": finding.reason,
        "cure": finding.cure,
        "mends": finding.mends.iter().map(mend).collect::<Vec<_>>(),
        "places": finding.places.iter().map(place).collect::<Vec<_>>(),
    })
}

fn mend(mend: &Mend) -> Value {
    json!({
        "words": mend.words,
        "changes": mend.changes.iter().map(change).collect::<Vec<_>>(),
    })
}

fn change(change: &Change) -> Value {
    match change {
        Change::Line { block, line } => {
            json!({"kind": "line", "block": block.names(), "line": line})
        }
        Change::Property {
            statement,
            name,
            value,
        } => {
            json!({"kind": "property", "statement": statement.names(), "name": name, "value": value})
        }
        Change::Value { statement, value } => {
            json!({"kind": "value", "statement": statement.names(), "value": value})
        }
        Change::Remove { statement } => {
            json!({"kind": "remove", "statement": statement.names()})
        }
    }
}

fn quantity(quantity: Quantity) -> Value {
    json!({"value": number(quantity.value), "unit": quantity.unit.word()})
}

fn allowed(allowed: &Allowed) -> Value {
    match allowed {
        Allowed::AtMost(most) => json!({"at_most": quantity(*most)}),
        Allowed::AtLeast(least) => json!({"at_least": quantity(*least)}),
        Allowed::Between(least, most) => {
            json!({"at_least": quantity(*least), "at_most": quantity(*most)})
        }
        Allowed::Words(words) => json!({"words": words}),
    }
}

fn place(place: &Place) -> Value {
    match place {
        Place::Text { span, label } => text(span, label),
        Place::Piece(piece) => json!({"kind": "piece", "piece": piece}),
        Place::Edge { piece, edge, at } => {
            let at = at.map(|(x, y)| point(x, y));
            json!({"kind": "edge", "piece": piece, "edge": edge, "at_mm": at})
        }
        Place::Seam(seam) => json!({"kind": "seam", "seam": seam}),
        Place::Measure(measure) => json!({"kind": "measure", "measure": measure}),
    }
}

/// A stretch of a file; lines and columns count from 1, columns in characters.
fn text(span: &Span, label: &str) -> Value {
    let (line, column) = span.source.line_column(span.start);
    json!({
        "kind": "text",
        "file": span.source.name,
        "line": line,
        "column": column,
        "text": span.text(),
        "label": label,
    })
}
