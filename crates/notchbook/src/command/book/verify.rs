//! Whether the file is whole, and whether every revision can be read by what reads its kind.
//!
//! Invariant: every revision is looked at; a text that is taken up again is looked at once.

use book::{Book, Kind, Revision};
use document::{Finding, Severity, parse};
use making::report;
use making::words::count;

use super::shelf::{AsOfThen, source};
use super::{Done, one};
use crate::{Exit, Look, Said};

/// Runs the command.
pub(super) fn run(book: &Book, look: Look) -> Done {
    let wrong = book.verify().map_err(one)?;
    let mut findings: Vec<Finding> = wrong.iter().map(|what| broken(what)).collect();
    let history = book.whole_history().map_err(one)?;
    let documents = book.documents().map_err(one)?;
    for revision in history.iter().filter(|one| one.again.is_none()) {
        let is_newest = documents.iter().any(|one| one.newest == revision.id);
        findings.extend(unread(book, revision, &history, is_newest));
    }
    let heading = format!(
        "{}: {}, {}.\n",
        book.path().display(),
        count(documents.len(), "document"),
        count(history.len(), "revision")
    );
    let exit = Exit::of(&findings);
    if findings.is_empty() {
        let words = "The file is whole, all links are there, every revision can be read.";
        return Ok(Said::out(format!("{heading}{words}\n"), exit));
    }
    let found = report::found(&findings, look.colour_out);
    Ok(Said::out(format!("{heading}{found}"), exit))
}

/// What keeps a revision from being read; an older one may be as it likes, and is told as a warning.
fn unread(book: &Book, revision: &Revision, history: &[Revision], is_newest: bool) -> Vec<Finding> {
    let mut findings = read(book, revision, history).err().unwrap_or_default();
    for finding in &mut findings {
        if !is_newest {
            finding.severity = Severity::Warning;
        }
        if finding.places.is_empty() {
            finding.reason = format!(
                "This is named in {}, revision {}.",
                revision.document, revision.number
            );
        }
    }
    findings
}

/// Reads a revision as its kind is read; of kinds without a reader of their own, whether the text follows the grammar.
fn read(book: &Book, revision: &Revision, history: &[Revision]) -> Result<(), Vec<Finding>> {
    let text = source(book, revision).map_err(|fault| vec![fault])?;
    match revision.kind {
        Kind::Body => body::read(&text).map(drop),
        Kind::Garment | Kind::Block => {
            let mut shelf = AsOfThen::new(book, revision, history);
            making::draft::open_source(&mut shelf, &text).map(drop)
        }
        Kind::Cloth => cloth::goods::read(&text).map(drop),
        Kind::Fitting | Kind::Work => parse(&text).map(drop),
    }
}

fn broken(what: &str) -> Finding {
    Finding::error("book-damaged", format!("The book does not hold together: {what}."))
        .cure("Lay a copy of the file aside, then begin a new book and import the newest export or copy of this one.")
}
