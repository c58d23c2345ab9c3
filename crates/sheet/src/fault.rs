//! What can keep a drawing from paper.

use thiserror::Error;

/// Why a drawing cannot be laid out or written. The message says what was found, what is allowed and what to do.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Fault {
    /// No panels.
    #[error("there is nothing to print: the drawing has no pieces; give it at least one")]
    NoPanels,
    /// A panel on which nothing is drawn.
    #[error(
        "piece \"{panel}\" has nothing drawn on it; draw its cutting line or leave the piece out"
    )]
    EmptyPanel {
        /// The panel's stable name.
        panel: String,
    },
    /// Two panels of the same name.
    #[error("two pieces are called \"{panel}\"; give each a name of its own")]
    SameName {
        /// The name.
        panel: String,
    },
    /// A number that is no length.
    #[error("piece \"{panel}\", {what}: found {found}, allowed {allowed}; correct the drawing")]
    BadNumber {
        /// The panel's stable name.
        panel: String,
        /// Where the number stands: "a point of a path", "width of a line" …
        what: &'static str,
        /// What was found.
        found: String,
        /// What is allowed.
        allowed: &'static str,
    },
    /// A paper that leaves no room.
    #[error(
        "paper {paper} with margins of {margin_mm} mm and an overlap of {overlap_mm} mm leaves no room to draw; \
         allowed are margins from 0 to 40 mm and an overlap from 2 to 40 mm"
    )]
    NoRoom {
        /// Name of the paper.
        paper: &'static str,
        /// Margin found, mm.
        margin_mm: f64,
        /// Overlap found, mm.
        overlap_mm: f64,
    },
    /// More sheets than anyone would print.
    #[error(
        "the drawing needs {sheets} sheets of {paper}, at most {allowed} are made; choose a larger paper"
    )]
    TooManySheets {
        /// Sheets needed.
        sheets: usize,
        /// Name of the paper.
        paper: &'static str,
        /// Sheets allowed.
        allowed: usize,
    },
    /// A name that no paper bears.
    #[error("there is no paper \"{found}\"; choose one of {names}")]
    UnknownPaper {
        /// The name found.
        found: String,
        /// The names there are.
        names: String,
    },
    /// A picture too small or too large.
    #[error("a picture {found} pixels wide cannot be made; allowed are 16 to 8192")]
    PictureSize {
        /// Pixels asked for.
        found: u32,
    },
    /// A page that is not there.
    #[error("there is no page {found}; the layout has {pages}, counted from 0")]
    NoSuchPage {
        /// Page asked for.
        found: usize,
        /// Pages there are.
        pages: usize,
    },
}
