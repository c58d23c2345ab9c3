//! Edits: a new text becomes a new revision, unless another window was faster.

use std::sync::Arc;

use axum::http::StatusCode;
use book::{Document, Kind, Name, RevisionId};
use document::{Finding, Source};
use serde_json::{Value, json};

use super::{Desk, Drafted};
use crate::http::answer::{Answer, Problem};
use crate::view::finding::plain_findings;

/// What was stored.
pub(crate) struct Stored {
    /// The document as it is now.
    pub(crate) document: Document,
}

impl Desk {
    /// Whether a document still is as a window saw it; otherwise what was changed since.
    pub(crate) fn check_newest(&mut self, document: &Document, on: u32) -> Answer<()> {
        if document.revisions == on {
            return Ok(());
        }
        let before = self.numbered(&document.name, on)?;
        let before = self.book.text(before.id)?;
        let now = self.source(document)?;
        let message = format!(
            "{} was changed in another window since this one read it: here it is revision {on}, the newest is {}.",
            document.name, document.revisions
        );
        Err(Problem::new(StatusCode::CONFLICT, "stale", message)
            .next("Look at what was changed, take it over, and make your change again.")
            .with("newest", json!(document.revisions))
            .with("difference", line_difference(&before, &now.text)))
    }

    /// Stores another text of a garment that was drafted with it.
    pub(crate) fn store_garment(
        &mut self,
        before: &Drafted,
        text: &str,
        reason: &str,
    ) -> Answer<Stored> {
        let document = &before.document;
        let source = Source::new(document.name.as_str(), text);
        let mut after = self.draft(document, &source)?;
        if let Err(findings) = &after.draft {
            return Err(not_drafted(findings));
        }
        let stored = self.add(document, text, reason, &after.stands.links())?;
        // It is looked at next, and need not be drafted again.
        after.document = stored.document.clone();
        self.remembered(&document.name).drafted = Some(Arc::new(after));
        Ok(stored)
    }

    /// Adds a revision that stands on the newest.
    pub(crate) fn add(
        &mut self,
        document: &Document,
        text: &str,
        reason: &str,
        links: &[RevisionId],
    ) -> Answer<Stored> {
        let name = &document.name;
        self.book.add(name, document.newest, text, reason, links)?;
        Ok(Stored {
            document: self.book.document(name)?,
        })
    }

    /// Begins a document under the first free name like the one asked for.
    pub(crate) fn begin(
        &mut self,
        (folder, title): (&str, &str),
        kind: Kind,
        text: impl Fn(&Name) -> String,
        reason: &str,
    ) -> Answer<Document> {
        let name = self.free_name(folder, title)?;
        let text = text(&name);
        let source = Source::new(name.as_str(), text.as_str());
        let links = self.links_of(kind, &name, &source)?;
        self.book.create(&name, kind, &text, reason, &links)?;
        Ok(self.book.document(&name)?)
    }

    /// The revisions on which a text stands that is no document yet.
    fn links_of(
        &mut self,
        kind: Kind,
        name: &Name,
        source: &Arc<Source>,
    ) -> Answer<Vec<RevisionId>> {
        if !matches!(kind, Kind::Garment | Kind::Block) {
            return Ok(Vec::new());
        }
        let mut shelf = super::shelf::Pages::newest(&self.book);
        let opened = making::draft::open_source(&mut shelf, source)
            .map_err(|findings| not_drafted(&findings))?;
        if let Ok((body, _)) = making::draft::body_of(&shelf, &opened, name.as_str()) {
            making::draft::read_body(&mut shelf, &body)
                .map_err(|findings| not_drafted(&findings))?;
        }
        Ok(shelf.used.iter().map(|used| used.id).collect())
    }

    /// `concert-dress.kdl`, or `concert-dress-2.kdl` where that is taken.
    fn free_name(&self, folder: &str, title: &str) -> Answer<Name> {
        let stem = as_file_name(title);
        for number in 1..1000 {
            let tail = if number == 1 {
                String::new()
            } else {
                format!("-{number}")
            };
            let name = Name::new(format!("{folder}{stem}{tail}.kdl"))?;
            match self.book.document(&name) {
                Err(book::Fault::NoDocument { .. }) => return Ok(name),
                Err(fault) => return Err(fault.into()),
                Ok(_) => {}
            }
        }
        Err(Problem::refused(
            "name-taken",
            "There are a thousand documents of this name already.",
        ))
    }
}

/// A title as the name of a file: small letters, figures and strokes.
fn as_file_name(title: &str) -> String {
    let mut name = String::new();
    for letter in title.to_lowercase().chars() {
        if letter.is_alphanumeric() {
            name.push(letter);
        } else if !name.ends_with('-') && !name.is_empty() {
            name.push('-');
        }
        if name.len() > 60 {
            break;
        }
    }
    let name = name.trim_end_matches('-');
    if name.is_empty() {
        "untitled".to_owned()
    } else {
        name.to_owned()
    }
}

/// Why a text is not stored: the first finding as the problem, all of them beside it.
pub(crate) fn not_drafted(findings: &[Finding]) -> Problem {
    let shown = plain_findings(findings);
    let problem = match findings.first() {
        Some(finding) => Problem::from(finding.clone()),
        None => Problem::refused("not-drafted", "The garment cannot be drafted like that."),
    };
    problem.with("findings", shown)
}

/// The lines that differ between two texts, with a line of what stays before and after each.
pub(crate) fn line_difference(before: &str, after: &str) -> Value {
    let difference = similar::TextDiff::from_lines(before, after);
    let mut lines = Vec::new();
    for group in difference.grouped_ops(1) {
        for change in group.iter().flat_map(|op| difference.iter_changes(op)) {
            let (sign, number) = match change.tag() {
                similar::ChangeTag::Equal => (" ", change.new_index()),
                similar::ChangeTag::Delete => ("-", change.old_index()),
                similar::ChangeTag::Insert => ("+", change.new_index()),
            };
            let line = making::words::printable(change.value().trim_end_matches(['\r', '\n']));
            lines.push(json!({
                "sign": sign,
                "number": number.map(|number| number + 1),
                "line": line,
            }));
        }
    }
    Value::Array(lines)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn titles_become_names_of_files() {
        assert_eq!(as_file_name("Linen summer dress"), "linen-summer-dress");
        assert_eq!(as_file_name("../../etc"), "etc");
        assert_eq!(as_file_name("…"), "untitled");
        assert!(Name::new(format!("{}.kdl", as_file_name(&"é".repeat(400)))).is_ok());
    }

    #[test]
    fn differing_lines_are_shown_with_what_stands_beside_them() {
        let shown = line_difference("a\nb\nc\nd\n", "a\nx\nc\nd\n");
        let signs: Vec<&str> = shown
            .as_array()
            .expect("a list")
            .iter()
            .filter_map(|line| line["sign"].as_str())
            .collect();
        assert_eq!(signs, [" ", "-", "+", " "]);
    }
}
