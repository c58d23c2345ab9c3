//! What can go wrong with a book, in words for the person whose book it is.
//!
//! Invariant: a fault names the thing first; [`Fault::cure`] says the next step; whatever the fault, the revisions that
//! were in the book before are in it still.

use std::path::{Path, PathBuf};

use rusqlite::ErrorCode;

use crate::{Name, RevisionId};

/// Why something could not be done with a book.
#[derive(Debug, thiserror::Error)]
#[non_exhaustive]
pub enum Fault {
    /// There is no file of that name.
    #[error("There is no book {}.", path.display())]
    Missing {
        /// Where it was looked for.
        path: PathBuf,
    },
    /// The file is something else; it was not touched.
    #[error("What lies at {} is not a book: {found}. It was not touched.", path.display())]
    NotABook {
        /// The file.
        path: PathBuf,
        /// What was found instead.
        found: String,
    },
    /// The file was a book and part of it is lost or altered; it was not touched.
    #[error("The book {} is damaged: {what}. It was not touched.", path.display())]
    Damaged {
        /// The file.
        path: PathBuf,
        /// What is wrong with it.
        what: String,
    },
    /// A newer version of the program wrote the book; it was not touched.
    #[error("The book {} was written by a newer version of this program (its form is number {found}, known here are 1 to {known}). It was not touched.", path.display())]
    Newer {
        /// The file.
        path: PathBuf,
        /// Number of its form.
        found: i64,
        /// Newest form that this program knows.
        known: i64,
    },
    /// The copy that is laid aside before an upgrade, or that was asked for, could not be made.
    #[error("No copy of the book could be laid at {}: {why}.", path.display())]
    NoCopy {
        /// Where the copy should lie.
        path: PathBuf,
        /// What stands against it.
        why: String,
    },
    /// There is no room for what was to be written.
    #[error("The book {} could not be written: the disk is full, or the file may not grow.", path.display())]
    Full {
        /// The file.
        path: PathBuf,
    },
    /// The file or its folder can only be read.
    #[error("The book {} could not be written: the file or its folder can only be read.", path.display())]
    ReadOnly {
        /// The file.
        path: PathBuf,
    },
    /// The file cannot be reached.
    #[error("The book {} could not be opened: {why}.", path.display())]
    NotOpened {
        /// The file.
        path: PathBuf,
        /// What stands against it.
        why: String,
    },
    /// Another program was writing for longer than is waited for.
    #[error("The book {} is being written by another program and did not come free in 5 seconds.", path.display())]
    Locked {
        /// The file.
        path: PathBuf,
    },
    /// The store could not do what was asked, for another reason.
    #[error("The book {} could not be used: {why}.", path.display())]
    Store {
        /// The file.
        path: PathBuf,
        /// What the store says.
        why: String,
    },
    /// Somebody else has written a revision since this one was read.
    #[error(
        "{document} has been changed since it was read: what was changed stood on revision {on} of the book, the newest is {newest}."
    )]
    Stale {
        /// The document.
        document: Name,
        /// On which revision the edit stands.
        on: RevisionId,
        /// The newest revision.
        newest: RevisionId,
    },
    /// There is no document of this name.
    #[error("There is no document {name} in the book.")]
    NoDocument {
        /// The name.
        name: Name,
    },
    /// The document has no such revision.
    #[error("{document} has no revision {number}; it has {newest}.")]
    NoNumber {
        /// The document.
        document: Name,
        /// The number asked for.
        number: u32,
        /// Number of its newest revision.
        newest: u32,
    },
    /// The book has no such revision, or it belongs to another document.
    #[error("There is no revision {revision} of the book here.")]
    NoRevision {
        /// The number asked for.
        revision: RevisionId,
    },
    /// A document of this name is there, or one that could not lie beside it in a folder.
    #[error("There is a document {there} in the book already; {name} cannot be put beside it.")]
    NameTaken {
        /// The new name.
        name: Name,
        /// What is there.
        there: Name,
    },
    /// The name could not be the path of a file inside a folder.
    #[error("“{}” cannot be the name of a document: {why}.", name.escape_debug())]
    UnsafeName {
        /// The name.
        name: String,
        /// What is wrong with it.
        why: &'static str,
    },
    /// There is no kind of this word.
    #[error("“{}” is not a kind of document.", word.escape_debug())]
    UnknownKind {
        /// The word.
        word: String,
    },
    /// The text is longer than any that is kept.
    #[error("The text of {document} is longer than {} kilobytes.", crate::LONGEST_TEXT >> 10)]
    TooLong {
        /// The document.
        document: Name,
    },
    /// A sign that no text has stands in it.
    #[error("The text or the reason given for {document} holds a null byte; it is no text.")]
    NoText {
        /// The document.
        document: Name,
    },
    /// The document is as it was first written.
    #[error("There is nothing to undo in {document}: it is as it was first written.")]
    NothingToUndo {
        /// The document.
        document: Name,
    },
    /// Nothing was undone since the document was last changed.
    #[error(
        "There is nothing to redo in {document}: nothing was undone since it was last changed."
    )]
    NothingToRedo {
        /// The document.
        document: Name,
    },
    /// The history that was exported cannot be read back.
    #[error("The exported history cannot be imported: {what}.")]
    History {
        /// What is wrong, and where.
        what: String,
    },
}

impl Fault {
    /// Stable words for the kind of fault, such as `book-damaged`.
    pub const fn code(&self) -> &'static str {
        match self {
            Self::Missing { .. } => "book-missing",
            Self::NotABook { .. } => "not-a-book",
            Self::Damaged { .. } => "book-damaged",
            Self::Newer { .. } => "book-newer",
            Self::NoCopy { .. } => "book-not-copied",
            Self::Full { .. } => "disk-full",
            Self::ReadOnly { .. } => "book-read-only",
            Self::NotOpened { .. } => "book-not-opened",
            Self::Locked { .. } => "book-locked",
            Self::Store { .. } => "book-not-usable",
            Self::Stale { .. } => "document-changed",
            Self::NoDocument { .. } => "document-missing",
            Self::NoNumber { .. } | Self::NoRevision { .. } => "revision-missing",
            Self::NameTaken { .. } => "name-taken",
            Self::UnsafeName { .. } => "name-not-safe",
            Self::UnknownKind { .. } => "kind-unknown",
            Self::TooLong { .. } => "text-too-long",
            Self::NoText { .. } => "file-not-text",
            Self::NothingToUndo { .. } => "nothing-to-undo",
            Self::NothingToRedo { .. } => "nothing-to-redo",
            Self::History { .. } => "history-not-readable",
        }
    }

    /// What is allowed; empty where the message says it.
    pub fn allowed(&self) -> String {
        match self {
            Self::UnsafeName { .. } => {
                "a relative path with slashes, such as bodies/cellist.kdl".to_owned()
            }
            Self::UnknownKind { .. } => crate::Kind::ALL.map(crate::Kind::word).join(", "),
            Self::NoNumber { newest, .. } => format!("a number from 1 to {newest}"),
            _ => String::new(),
        }
    }

    /// The next step.
    pub fn cure(&self) -> &'static str {
        match self {
            Self::Missing { .. } => {
                "See whether its name and folder are spelled as given here; importing a file begins a new book."
            }
            Self::NotABook { .. } => {
                "Name another file; importing into a name that is free begins a new book."
            }
            Self::Damaged { .. } => {
                "Lay a copy of the file aside, then begin a new book and import the newest export or copy of this one."
            }
            Self::Newer { .. } => {
                "Open it with the newer version, or export from there and import here into a new book."
            }
            Self::NoCopy { .. } => {
                "Name a place that is free, in a folder with room in which you may write."
            }
            Self::Full { .. } => {
                "Make room on the disk and try again; everything that was in the book is still there."
            }
            Self::ReadOnly { .. } => {
                "Give yourself leave to write there, or copy the book to a folder of your own."
            }
            Self::NotOpened { .. } => {
                "See whether the disk is there and whether you may read and write in the folder."
            }
            Self::Locked { .. } => {
                "Close the other program, or wait until it is done, and try again."
            }
            Self::Store { .. } => {
                "Try again; if it stays so, lay a copy of the file aside and report what is said here."
            }
            Self::Stale { .. } => {
                "Look at the difference to the newest revision, and make the change on that one."
            }
            Self::NoDocument { .. } => "See its spelling in the list of documents.",
            Self::NoNumber { .. } | Self::NoRevision { .. } => {
                "See the numbers of all revisions in its history."
            }
            Self::NameTaken { .. } => {
                "Take another name; capitals and small letters count as the same."
            }
            Self::UnsafeName { .. } | Self::UnknownKind { .. } => "Take another one.",
            Self::TooLong { .. } | Self::NoText { .. } => "See whether the right file was named.",
            Self::NothingToUndo { .. } | Self::NothingToRedo { .. } => {
                "Every revision in its history can still be taken up again by going back to it."
            }
            Self::History { .. } => {
                "Export it again, or take an older export; nothing was imported."
            }
        }
    }

    /// A fault of the store as ours.
    pub(crate) fn of_store(path: &Path, fault: &rusqlite::Error) -> Self {
        let path = path.to_owned();
        let why = words_of(fault);
        match fault.sqlite_error_code() {
            Some(ErrorCode::DatabaseBusy | ErrorCode::DatabaseLocked) => Self::Locked { path },
            Some(ErrorCode::DiskFull) => Self::Full { path },
            Some(ErrorCode::SystemIoFailure) if is_write(fault) => Self::Full { path },
            Some(ErrorCode::ReadOnly) => Self::ReadOnly { path },
            Some(
                ErrorCode::CannotOpen | ErrorCode::PermissionDenied | ErrorCode::SystemIoFailure,
            ) => Self::NotOpened { path, why },
            Some(ErrorCode::NotADatabase) => Self::NotABook { path, found: why },
            Some(ErrorCode::DatabaseCorrupt) => Self::Damaged { path, what: why },
            _ => Self::Store { path, why },
        }
    }
}

/// Whether the system refused to write or to lengthen a file: a limit of size is told apart from a full disk by the
/// system only, and both ask for the same.
fn is_write(fault: &rusqlite::Error) -> bool {
    use rusqlite::ffi;
    let code = fault.sqlite_error().map(|one| one.extended_code);
    matches!(
        code,
        Some(ffi::SQLITE_IOERR_WRITE | ffi::SQLITE_IOERR_TRUNCATE)
    )
}

fn words_of(fault: &rusqlite::Error) -> String {
    match fault {
        rusqlite::Error::SqliteFailure(_, Some(words)) => words.clone(),
        other => other.to_string(),
    }
}
