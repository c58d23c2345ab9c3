//! `book`: documents with all their revisions, in and out of one file.
//!
//! Invariant: what cannot be done is told with the next step, and the book is as it was.

mod export;
mod import;
mod shelf;
mod show;
mod verify;

use std::path::PathBuf;

use book::{Book, Fault, Name, RevisionId, default_place};
use document::{Finding, nearest};

use crate::arguments::{BookArguments, BookCommand};
use crate::{Exit, Look, Said};

/// Runs the command.
pub(crate) fn run(arguments: &BookArguments, look: Look) -> Said {
    match act(arguments, look) {
        Ok(said) => said,
        Err(findings) => Said::stopped(&findings, look),
    }
}

/// What a command says, or what stopped it.
type Done = Result<Said, Vec<Finding>>;

fn act(arguments: &BookArguments, look: Look) -> Done {
    let path = place(arguments)?;
    if let BookCommand::Import(import) = &arguments.act {
        return import::run(&path, import);
    }
    let mut book = Book::open(&path).map_err(one)?;
    match &arguments.act {
        BookCommand::Import(_) => unreachable!("it has been run above"),
        BookCommand::List => show::list(&book),
        BookCommand::History(given) => show::history(&book, given),
        BookCommand::Show(given) => show::text(&book, given, look),
        BookCommand::Difference(given) => show::difference(&book, given),
        BookCommand::Export(given) => export::run(&book, given),
        BookCommand::Verify => verify::run(&book, look),
        BookCommand::Undo(given) => {
            let done = book.undo(&given.document);
            moved(&book, &given.document, done)
        }
        BookCommand::Redo(given) => {
            let done = book.redo(&given.document);
            moved(&book, &given.document, done)
        }
        BookCommand::GoBack(given) => {
            let done = book
                .numbered(&given.document, given.number)
                .and_then(|to| book.go_back(&given.document, to.id, &given.reason));
            moved(&book, &given.document, done)
        }
        BookCommand::Copy(given) => {
            book.copy_to(&given.file).map_err(one)?;
            let out = format!("A copy of the book lies in {}.\n", given.file.display());
            Ok(Said::out(out, Exit::Clean))
        }
    }
}

fn place(arguments: &BookArguments) -> Result<PathBuf, Vec<Finding>> {
    let usual = || default_place().ok_or_else(|| vec![no_place()]);
    arguments.book.clone().map_or_else(usual, Ok)
}

/// Says on which text a document stands after a step in time.
fn moved(book: &Book, name: &Name, done: Result<RevisionId, Fault>) -> Done {
    let id = done.map_err(|fault| of_document(book, &fault))?;
    let revision = book.revision(id).map_err(one)?;
    let again = revision.again.map(|id| book.revision(id)).transpose();
    let as_it_was = again.map_err(one)?.map_or_else(String::new, |again| {
        format!(", which is as {} was", again.number)
    });
    let out = format!(
        "{name} stands on revision {}{as_it_was}.\n",
        revision.number
    );
    Ok(Said::out(out, Exit::Clean))
}

/// A fault of the book as the one thing that stops a command.
#[allow(
    clippy::needless_pass_by_value,
    reason = "it stands behind every call of the book"
)]
fn one(fault: Fault) -> Vec<Finding> {
    vec![finding(&fault)]
}

/// The same, with the name that was probably meant.
fn of_document(book: &Book, fault: &Fault) -> Vec<Finding> {
    let mut finding = finding(fault);
    if let (Fault::NoDocument { name }, Ok(documents)) = (fault, book.documents()) {
        let names: Vec<&str> = documents.iter().map(|one| one.name.as_str()).collect();
        if let Some(meant) = nearest(name.as_str(), &names) {
            finding = finding.cure(format!("Did you mean {meant}?"));
        }
    }
    vec![finding]
}

fn finding(fault: &Fault) -> Finding {
    let finding = Finding::error(fault.code(), fault.to_string()).cure(fault.cure());
    let allowed = fault.allowed();
    if allowed.is_empty() {
        finding
    } else {
        finding.allowed(allowed)
    }
}

fn no_place() -> Finding {
    Finding::error(
        "book-place-unknown",
        "Where your book lies is not known: the system tells of no home folder.",
    )
    .allowed("--book FILE, or a home folder")
    .cure("Add --book FILE.")
}
