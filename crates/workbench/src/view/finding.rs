//! Findings for the margin, each with its places on the drawing and the lines that its cures would change.

use std::collections::BTreeMap;
use std::sync::Arc;

use document::mend::apply;
use document::{Finding, Place, Source};
use geometry::Point;
use pattern::Pattern;
use serde::Serialize;
use serde_json::{Value, json};

use super::path;
use crate::desk::{Table, line_difference};

/// What is needed to find the places of findings.
#[derive(Clone, Copy, Default)]
pub(crate) struct Where<'a> {
    /// The pattern and where its pieces lie.
    pub(crate) pattern: Option<(&'a Pattern, &'a Table)>,
    /// The text and those on which it stands: where cures are written. None while something is dragged.
    pub(crate) texts: Option<(&'a Arc<Source>, &'a [Arc<Source>])>,
}

/// A finding as JSON.
#[derive(Serialize)]
pub(crate) struct FindingView {
    id: String,
    code: &'static str,
    severity: &'static str,
    message: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    found: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    allowed: Option<String>,
    #[serde(skip_serializing_if = "String::is_empty")]
    why: String,
    #[serde(skip_serializing_if = "String::is_empty")]
    next: String,
    places: Vec<Value>,
    mends: Vec<MendView>,
}

#[derive(Serialize)]
struct MendView {
    number: usize,
    words: String,
    lines: Value,
}

/// The findings in their order, each with an id of its own.
pub(crate) fn views(findings: &[Finding], wherever: Where<'_>) -> Vec<FindingView> {
    let ids = ids(findings);
    findings
        .iter()
        .zip(ids)
        .map(|(finding, id)| view(finding, id, wherever))
        .collect()
}

/// Findings where no drawing is.
pub(crate) fn plain_findings(findings: &[Finding]) -> Value {
    serde_json::to_value(views(findings, Where::default())).unwrap_or_default()
}

/// The ids of findings: their code, numbered where there are several of one.
pub(crate) fn ids(findings: &[Finding]) -> Vec<String> {
    let mut seen: BTreeMap<&str, usize> = BTreeMap::new();
    let mut id = |finding: &Finding| {
        let number = seen.entry(finding.code).or_default();
        *number += 1;
        if *number == 1 {
            finding.code.to_owned()
        } else {
            format!("{}#{number}", finding.code)
        }
    };
    findings.iter().map(&mut id).collect()
}

fn view(finding: &Finding, id: String, wherever: Where<'_>) -> FindingView {
    FindingView {
        id,
        code: finding.code,
        severity: finding.severity.word(),
        message: finding.message.clone(),
        found: finding.measured.map(|found| found.to_string()),
        allowed: finding.allowed.as_ref().map(ToString::to_string),
        why: finding.reason.clone(),
        next: finding.cure.clone(),
        places: finding
            .places
            .iter()
            .map(|one| place(one, wherever.pattern))
            .collect(),
        mends: mends(finding, wherever),
    }
}

fn mends(finding: &Finding, wherever: Where<'_>) -> Vec<MendView> {
    let mends = finding.mends.iter().zip(1..);
    mends
        .map(|(mend, number)| {
            let lines =
                wherever.texts.map(
                    |(source, bases)| match apply(source, bases, &mend.changes) {
                        Ok(text) => line_difference(&source.text, &text),
                        Err(finding) => json!([{ "sign": " ", "line": finding.message }]),
                    },
                );
            MendView {
                number,
                words: mend.words.clone(),
                lines: lines.unwrap_or_else(|| json!([])),
            }
        })
        .collect()
}

fn place(place: &Place, pattern: Option<(&Pattern, &Table)>) -> Value {
    match place {
        Place::Text { span, label } => {
            let (line, column) = span.source.line_column(span.start);
            json!({
                "kind": "text",
                "document": span.source.name,
                "line": line,
                "column": column,
                "words": label,
            })
        }
        Place::Piece(piece) => json!({
            "kind": "piece",
            "piece": piece,
            "at": pattern.and_then(|(pattern, table)| piece_at(pattern, table, piece)),
            "words": making::words::spoken(piece),
        }),
        Place::Edge { piece, edge, at } => json!({
            "kind": "edge",
            "piece": piece,
            "edge": super::partners::edge_id(piece, edge),
            "at": pattern.and_then(|(pattern, table)| edge_at(pattern, table, (piece, edge), *at)),
            "words": format!("{} of the {}", drawing::spoken(edge), making::words::spoken(piece)),
        }),
        Place::Seam(seam) => json!({
            "kind": "seam",
            "seam": seam,
            "at": pattern.and_then(|(pattern, table)| seam_at(pattern, table, seam)),
            "words": format!("{} seam", drawing::spoken(seam)),
        }),
        Place::Measure(key) => {
            let label = body::Measure::from_key(key)
                .map_or_else(|| key.clone(), |one| one.label().to_owned());
            json!({ "kind": "measure", "measure": key, "words": label })
        }
    }
}

fn piece_at(pattern: &Pattern, table: &Table, piece: &str) -> Option<[f64; 2]> {
    let piece = pattern.pieces_of(piece).next()?;
    let middle = piece.outline_path().control_box().center();
    Some(path::point(middle + table.at(&piece.name)))
}

fn edge_at(
    pattern: &Pattern,
    table: &Table,
    (piece, edge): (&str, &str),
    at: Option<(f64, f64)>,
) -> Option<[f64; 2]> {
    let piece = pattern.pieces_of(piece).next()?;
    let middle = || {
        let edge = piece.edges_of(edge).next()?;
        Some(edge.place_at(edge.length() / 2.0).0)
    };
    let at = at.map(Point::from).or_else(middle)?;
    Some(path::point(at + table.at(&piece.name)))
}

fn seam_at(pattern: &Pattern, table: &Table, seam: &str) -> Option<[f64; 2]> {
    let seams = pattern.seams.iter().chain(&pattern.makeup.mates);
    let seam = seams.into_iter().find(|one| one.name == seam)?;
    let first = seam.held.first().or_else(|| seam.worked.first())?;
    let (piece, edge) = pattern.edges_of(first).into_iter().next()?;
    edge_at(pattern, table, (&piece.name, &edge.name), None)
}
