//! The arguments of `book`.

use std::path::PathBuf;

use book::{Kind, Name};
use clap::builder::{PossibleValuesParser, TypedValueParser as _};
use clap::{Args, Subcommand};

/// Arguments of `book`.
#[derive(Clone, Debug, Args)]
#[command(after_help = BOOK_EXAMPLES)]
pub struct BookArguments {
    /// The book's file, instead of the usual one
    #[arg(long, value_name = "FILE", global = true)]
    pub book: Option<PathBuf>,
    /// What to do with it.
    #[command(subcommand)]
    pub act: BookCommand,
}

const BOOK_EXAMPLES: &str = "\
A document is a text with a name, such as bodies/cellist.kdl. Nothing in a book is ever altered
or deleted: a change, an undo and a going back each add a revision.

Examples:
  notchbook book import examples              begin a book, or add to it
  notchbook book list
  notchbook book history dress.kdl
  notchbook book difference dress.kdl
  notchbook book export saved --all           everything, with all history
  notchbook book verify --book other.notchbook";

/// What to do with the book.
#[derive(Clone, Debug, Subcommand)]
pub enum BookCommand {
    /// List the documents
    List,
    /// Show all revisions of a document, or of the whole book
    History(HistoryArguments),
    /// Write out the text of a document
    Show(ShowArguments),
    /// Show which lines differ between two revisions of a document
    Difference(DifferenceArguments),
    /// Take files in: all of them or none
    Import(ImportArguments),
    /// Write documents out as files
    Export(ExportArguments),
    /// Take the last change of a document back
    Undo(OneDocument),
    /// Take the last undo of a document back
    Redo(OneDocument),
    /// Take up the text of any earlier revision
    GoBack(GoBackArguments),
    /// Write a copy of the whole book into a new file
    Copy(CopyArguments),
    /// See whether the file is whole, and whether every revision can be read
    Verify,
}

/// A document.
#[derive(Clone, Debug, Args)]
pub struct OneDocument {
    /// The document's name
    #[arg(value_name = "DOCUMENT", value_parser = name)]
    pub document: Name,
}

/// Arguments of `book history`.
#[derive(Clone, Debug, Args)]
pub struct HistoryArguments {
    /// The document's name; the whole book without it
    #[arg(value_name = "DOCUMENT", value_parser = name)]
    pub document: Option<Name>,
}

/// Arguments of `book show`.
#[derive(Clone, Debug, Args)]
pub struct ShowArguments {
    /// The document's name
    #[arg(value_name = "DOCUMENT", value_parser = name)]
    pub document: Name,
    /// Which revision, instead of the newest
    #[arg(long, value_name = "NUMBER")]
    pub revision: Option<u32>,
}

/// Arguments of `book difference`.
#[derive(Clone, Debug, Args)]
pub struct DifferenceArguments {
    /// The document's name
    #[arg(value_name = "DOCUMENT", value_parser = name)]
    pub document: Name,
    /// The earlier revision, instead of the one before the later
    #[arg(long, value_name = "NUMBER")]
    pub from: Option<u32>,
    /// The later revision, instead of the newest
    #[arg(long, value_name = "NUMBER")]
    pub to: Option<u32>,
}

/// Arguments of `book import`.
#[derive(Clone, Debug, Args)]
#[command(after_help = IMPORT_EXAMPLES)]
pub struct ImportArguments {
    /// Files, or folders of which every file with the ending .kdl is taken
    #[arg(value_name = "PATH", required = true)]
    pub paths: Vec<PathBuf>,
    /// What they are about, where their first word does not say it
    #[arg(long, value_name = "KIND", value_parser = kind_parser())]
    pub kind: Option<Kind>,
    /// The folder of the book in which they are put
    #[arg(long, value_name = "FOLDER")]
    pub into: Option<String>,
    /// Why, as it will stand in the history
    #[arg(long, value_name = "TEXT")]
    pub reason: Option<String>,
}

const IMPORT_EXAMPLES: &str = "\
A file is called as it is; what lies in a folder keeps its path from there. A document that is
in the book already gets a new revision where its text differs. A folder that “export --all”
wrote is taken in with all history.

Examples:
  notchbook book import dress.kdl
  notchbook book import cellist.kdl --into bodies
  notchbook book import examples --reason \"the demo\"
  notchbook book import saved --book new.notchbook";

/// Arguments of `book export`.
#[derive(Clone, Debug, Args)]
#[command(after_help = EXPORT_EXAMPLES)]
pub struct ExportArguments {
    /// The folder; made where it is not there
    #[arg(value_name = "DIR")]
    pub folder: PathBuf,
    /// The documents' names; all of them without any
    #[arg(value_name = "DOCUMENT", value_parser = name)]
    pub documents: Vec<Name>,
    /// Everything with all history, to be imported again without loss
    #[arg(long, conflicts_with_all = ["documents", "revision"])]
    pub all: bool,
    /// Which revision of the one document that is named, instead of the newest
    #[arg(long, value_name = "NUMBER", requires = "documents")]
    pub revision: Option<u32>,
    /// Replace files that are there and differ
    #[arg(long)]
    pub replace: bool,
}

const EXPORT_EXAMPLES: &str = "\
Examples:
  notchbook book export texts
  notchbook book export . dress.kdl --revision 3
  notchbook book export saved --all";

/// Arguments of `book go-back`.
#[derive(Clone, Debug, Args)]
pub struct GoBackArguments {
    /// The document's name
    #[arg(value_name = "DOCUMENT", value_parser = name)]
    pub document: Name,
    /// The revision whose text is taken up
    #[arg(value_name = "NUMBER")]
    pub number: u32,
    /// Why, as it will stand in the history
    #[arg(long, value_name = "TEXT", default_value = "")]
    pub reason: String,
}

/// Arguments of `book copy`.
#[derive(Clone, Debug, Args)]
pub struct CopyArguments {
    /// The new file
    #[arg(value_name = "FILE")]
    pub file: PathBuf,
}

fn name(text: &str) -> Result<Name, String> {
    Name::new(text).map_err(|fault| format!("{fault} Allowed: {}.", fault.allowed()))
}

fn kind_parser() -> impl clap::builder::TypedValueParser<Value = Kind> {
    PossibleValuesParser::new(Kind::ALL.map(Kind::word))
        .map(|word| word.parse().expect("only words of kinds are let through"))
}
