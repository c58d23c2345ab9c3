//! What stands in a book: documents, histories, texts, differences.

use std::collections::BTreeMap;

use book::{Act, Book, Document, Revision, RevisionId};
use jiff::Timestamp;
use making::words::{count, printable, table};
use similar::TextDiff;

use super::{Done, of_document, one};
use crate::arguments::{DifferenceArguments, HistoryArguments, ShowArguments};
use crate::{Exit, Look, Said};

/// Lines shown round a difference.
const AROUND: usize = 3;

/// All documents.
pub(super) fn list(book: &Book) -> Done {
    let documents = book.documents().map_err(one)?;
    let revisions: u32 = documents.iter().map(|one| one.revisions).sum();
    let heading = format!(
        "{}: {}, {}.\n",
        printable(&book.path().display().to_string()),
        count(documents.len(), "document"),
        count(revisions as usize, "revision")
    );
    if documents.is_empty() {
        return Ok(said(heading));
    }
    let mut rows = vec![row(["kind", "document", "revision", "written"])];
    rows.extend(documents.iter().map(document_row));
    Ok(said(format!(
        "{heading}\n{}",
        table(&rows, &[false, false, true])
    )))
}

fn document_row(document: &Document) -> Vec<String> {
    row([
        document.kind.word(),
        document.name.as_str(),
        &document.revisions.to_string(),
        &when(document.time),
    ])
}

/// All revisions of a document or of the book.
pub(super) fn history(book: &Book, arguments: &HistoryArguments) -> Done {
    let whole = book.whole_history().map_err(one)?;
    let by_id: BTreeMap<RevisionId, &Revision> = whole.iter().map(|one| (one.id, one)).collect();
    let Some(name) = &arguments.document else {
        let mut rows = vec![row([
            "document",
            "revision",
            "written",
            "how",
            "drafted on",
            "why",
        ])];
        rows.extend(whole.iter().map(|one| {
            let mut cells = vec![one.document.to_string()];
            cells.extend(revision_row(one, &by_id));
            cells
        }));
        return Ok(said(table(&rows, &[false, true])));
    };
    book.document(name)
        .map_err(|fault| of_document(book, &fault))?;
    let mut rows = vec![row(["revision", "written", "how", "drafted on", "why"])];
    let own = whole.iter().filter(|one| one.document == *name);
    rows.extend(own.map(|one| revision_row(one, &by_id)));
    Ok(said(format!("{name}\n\n{}", table(&rows, &[true]))))
}

fn revision_row(revision: &Revision, by_id: &BTreeMap<RevisionId, &Revision>) -> Vec<String> {
    let number = |id: &RevisionId| by_id.get(id).map_or(0, |one| one.number);
    let links = revision.links.iter().filter_map(|id| by_id.get(id));
    let links: Vec<String> = links
        .map(|one| format!("{} {}", one.document, one.number))
        .collect();
    row([
        &revision.number.to_string(),
        &when(revision.time),
        &how(revision, &number),
        &links.join(", "),
        &in_one_line(&revision.reason),
    ])
}

/// How a revision came about, in the numbers of its document.
fn how(revision: &Revision, number: &impl Fn(&RevisionId) -> u32) -> String {
    let again = revision.again.as_ref().map_or(0, number);
    match (revision.act, &revision.parent) {
        (Act::Edit, None) => "begun".to_owned(),
        (Act::Edit, Some(parent)) => format!("written on {}", number(parent)),
        (Act::Undo, _) => format!("undo, as {again}"),
        (Act::Redo, _) => format!("redo, as {again}"),
        (Act::GoBack, _) => format!("back to {again}"),
    }
}

/// The text of a revision, as it is; on a terminal without signs that would steer it.
pub(super) fn text(book: &Book, arguments: &ShowArguments, look: Look) -> Done {
    let name = &arguments.document;
    let document = book
        .document(name)
        .map_err(|fault| of_document(book, &fault))?;
    let number = arguments.revision.unwrap_or(document.revisions);
    let revision = book.numbered(name, number).map_err(one)?;
    let text = book.text(revision.id).map_err(one)?;
    Ok(said(if look.colour_out {
        printable(&text)
    } else {
        text
    }))
}

/// Which lines differ.
pub(super) fn difference(book: &Book, arguments: &DifferenceArguments) -> Done {
    let name = &arguments.document;
    let document = book
        .document(name)
        .map_err(|fault| of_document(book, &fault))?;
    let to = arguments.to.unwrap_or(document.revisions);
    let from = arguments
        .from
        .unwrap_or_else(|| to.saturating_sub(1).max(1));
    let text = |number| {
        let revision = book.numbered(name, number)?;
        book.text(revision.id)
    };
    let (earlier, later) = (text(from).map_err(one)?, text(to).map_err(one)?);
    if earlier == later {
        return Ok(said(format!(
            "Revisions {from} and {to} of {name} have the same text.\n"
        )));
    }
    let difference = TextDiff::from_lines(&earlier, &later);
    let mut lines = difference.unified_diff();
    let lines = lines.context_radius(AROUND).header(
        &format!("{name}, revision {from}"),
        &format!("{name}, revision {to}"),
    );
    Ok(said(printable(&lines.to_string())))
}

/// "2026-11-25 10:48 UTC".
fn when(time: Timestamp) -> String {
    time.strftime("%Y-%m-%d %H:%M UTC").to_string()
}

fn in_one_line(text: &str) -> String {
    let lines: Vec<&str> = text.split_whitespace().collect();
    printable(&lines.join(" "))
}

fn row<const N: usize>(cells: [&str; N]) -> Vec<String> {
    cells.map(str::to_owned).to_vec()
}

fn said(out: String) -> Said {
    Said::out(out, Exit::Clean)
}
