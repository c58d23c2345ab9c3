//! Documents as files: the newest, a stated revision, or everything with all history.
//!
//! Invariant: a file that is there and differs is only replaced where that is asked for.

use std::fs;
use std::path::Path;

use book::{Book, Fault, Name};
use document::Finding;
use making::words::{count, listed};

use super::{Done, of_document, one};
use crate::arguments::ExportArguments;
use crate::{Exit, Said, files};

/// Runs the command.
pub(super) fn run(book: &Book, arguments: &ExportArguments) -> Done {
    let files = if arguments.all {
        book.export_all().map_err(one)?
    } else {
        texts(book, arguments)?
    };
    if !arguments.replace {
        free(&arguments.folder, &files).map_err(|finding| vec![finding])?;
    }
    files::write_all(&arguments.folder, &files).map_err(|finding| vec![finding])?;
    let folder = arguments.folder.display();
    let out = if arguments.all {
        let revisions = book
            .last()
            .map_err(one)?
            .map_or(0, |last| last.number() as usize);
        format!(
            "Written to {folder}: {}, and history.json, which tells of each.\n",
            count(revisions, "revision")
        )
    } else {
        format!("Written to {folder}: {}.\n", count(files.len(), "document"))
    };
    Ok(Said::out(out, Exit::Clean))
}

fn texts(book: &Book, arguments: &ExportArguments) -> Result<Vec<(String, Vec<u8>)>, Vec<Finding>> {
    if arguments.revision.is_some() && arguments.documents.len() > 1 {
        return Err(vec![several()]);
    }
    let names: Vec<Name> = if arguments.documents.is_empty() {
        book.documents()
            .map_err(one)?
            .into_iter()
            .map(|one| one.name)
            .collect()
    } else {
        arguments.documents.clone()
    };
    let texts = names.iter().map(|name| {
        let text =
            text(book, name, arguments.revision).map_err(|fault| of_document(book, &fault))?;
        Ok((name.to_string(), text.into_bytes()))
    });
    texts.collect()
}

fn text(book: &Book, name: &Name, number: Option<u32>) -> Result<String, Fault> {
    let id = match number {
        Some(number) => book.numbered(name, number)?.id,
        None => book.document(name)?.newest,
    };
    book.text(id)
}

/// No file may be there that differs.
fn free(folder: &Path, files: &[(String, Vec<u8>)]) -> Result<(), Finding> {
    let differs = |(name, bytes): &&(String, Vec<u8>)| {
        let place = folder.join(name);
        place.exists() && fs::read(place).ok().as_ref() != Some(bytes)
    };
    let names: Vec<String> = files
        .iter()
        .filter(differs)
        .map(|(name, _)| name.clone())
        .collect();
    if names.is_empty() {
        Ok(())
    } else {
        Err(there(folder, &names))
    }
}

fn there(folder: &Path, names: &[String]) -> Finding {
    let (verb, them) = if names.len() == 1 {
        ("is", "differs")
    } else {
        ("are", "differ")
    };
    let shown = if names.len() > 5 {
        count(names.len(), "file")
    } else {
        listed(names)
    };
    let message = format!(
        "In the folder {} there {verb} {shown} already, and {them} from the book.",
        folder.display()
    );
    Finding::error("file-already-there", message)
        .allowed("a folder without these files, or --replace")
        .because("They may be somebody's work; nothing was written.")
        .cure("Name another folder, or import them first.")
}

fn several() -> Finding {
    Finding::error(
        "revision-of-several",
        "With --revision several documents are named.",
    )
    .allowed("one document")
    .because("Each document counts its own revisions.")
    .cure("Export them one by one.")
}
