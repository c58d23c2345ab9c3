//! Writes revisions into a book and prints the number of each once it is committed, one a line.
//!
//! For the tests that end it at any moment or leave it no room. Usage: `write_revisions BOOK COUNT`. What revision number
//! n of the book holds can be told from n alone: see `text_of`.

#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    reason = "its lines are what the tests read"
)]

use std::io::{Write as _, stdout};
use std::path::Path;
use std::process::ExitCode;

use book::{Book, Fault, Kind, Name, RevisionId};

fn main() -> ExitCode {
    let mut arguments = std::env::args().skip(1);
    let (Some(path), Some(count)) = (
        arguments.next(),
        arguments.next().and_then(|one| one.parse().ok()),
    ) else {
        eprintln!("usage: write_revisions BOOK COUNT");
        return ExitCode::from(2);
    };
    match write(Path::new(&path), count) {
        Ok(()) => ExitCode::SUCCESS,
        Err(fault) => {
            eprintln!("{}: {fault}", fault.code());
            ExitCode::FAILURE
        }
    }
}

/// Every third change writes into two documents in one piece.
fn write(path: &Path, count: usize) -> Result<(), Fault> {
    let mut book = Book::open_or_begin(path)?;
    let body = Name::new("bodies/written.kdl")?;
    let skirt = Name::new("written-skirt.kdl")?;
    for turn in 0..count {
        let written = book.change(|batch| {
            let first = write_next(batch, &body, Kind::Body)?;
            let second = (turn % 3 == 0).then(|| write_next(batch, &skirt, Kind::Garment));
            Ok::<_, Fault>([Some(first), second.transpose()?])
        })?;
        for id in written.into_iter().flatten() {
            println!("{id}");
        }
        // Whoever reads has gone: nothing more is to be proven.
        if stdout().flush().is_err() {
            break;
        }
    }
    Ok(())
}

fn write_next(batch: &mut book::Batch<'_>, name: &Name, kind: Kind) -> Result<RevisionId, Fault> {
    let next = batch.last()?.map_or(1, |last| last.number() + 1);
    let text = text_of(next);
    match batch.newest(name) {
        Ok(newest) => batch.add(name, newest.id, &text, "written", &[]),
        Err(Fault::NoDocument { .. }) => batch.create(name, kind, &text, "begun", &[]),
        Err(fault) => Err(fault),
    }
}

/// The text of the revision that has this number in the book: mostly short, at times many pages of the file long.
fn text_of(number: i64) -> String {
    let lines = if number % 10 == 0 { 600 } else { 3 };
    format!("// revision {number}\n").repeat(lines)
}
