//! The book: one file in which every document of a person is kept with every revision it ever had.
//!
//! Knows a document only as text with a kind and a name; what stands in it is read elsewhere. Invariants: a revision that
//! was written is never altered or deleted, which the file itself refuses; "undo" is a new revision; what was committed
//! survives the end of the program at any instruction; a file that is no sound book is refused untouched.
//!
//! ```
//! use book::{Book, Kind, Name};
//!
//! let folder = tempfile::tempdir().expect("a folder");
//! let mut book = Book::open_or_begin(&folder.path().join("book.notchbook"))?;
//! let skirt = Name::new("skirt.kdl")?;
//! let first = book.create(&skirt, Kind::Garment, "garment \"Skirt\" {}", "begun", &[])?;
//! book.add(&skirt, first, "garment \"Linen skirt\" {}", "renamed", &[])?;
//! let undone = book.undo(&skirt)?;
//! assert_eq!(book.text(undone)?, "garment \"Skirt\" {}");
//! assert_eq!(book.history(&skirt)?.len(), 3);
//! # Ok::<(), book::Fault>(())
//! ```

mod batch;
mod fault;
mod form;
mod history;
mod kind;
mod name;
mod open;
mod place;
mod read;
mod store;
mod verify;

pub use batch::Batch;
pub use fault::Fault;
pub use history::{HISTORY, Taken};
pub use kind::Kind;
pub use name::Name;
pub use place::default_place;
pub use read::{Act, Document, Revision, RevisionId};
pub use store::Book;

/// The longest text that is kept, bytes; what a person writes is a hundredth of it.
pub const LONGEST_TEXT: usize = 1 << 20;
