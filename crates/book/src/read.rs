//! What stands in a book, read from its tables.
//!
//! Nothing here writes. A word or time that no version of the program could have written is told as damage by the store's
//! own type of fault, with the column in which it stands.

use std::fmt;

use jiff::Timestamp;
use rusqlite::types::{FromSqlError, Type};
use rusqlite::{Connection, OptionalExtension as _, Params, Row, params};

use crate::{Kind, Name};

/// Number of a revision in the whole book, in the order of writing.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct RevisionId(i64);

impl RevisionId {
    /// The revision of this number.
    pub const fn new(number: i64) -> Self {
        Self(number)
    }

    /// The number.
    pub const fn number(self) -> i64 {
        self.0
    }
}

impl fmt::Display for RevisionId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(f)
    }
}

/// How a revision came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Act {
    /// Its text was written.
    Edit,
    /// The last change was taken back.
    Undo,
    /// An undo was taken back.
    Redo,
    /// The text of an earlier revision was taken up.
    GoBack,
}

impl Act {
    const ALL: [Self; 4] = [Self::Edit, Self::Undo, Self::Redo, Self::GoBack];

    /// The word: `edit`, `undo`, `redo`, `go-back`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Edit => "edit",
            Self::Undo => "undo",
            Self::Redo => "redo",
            Self::GoBack => "go-back",
        }
    }

    pub(crate) fn by_word(word: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|act| act.word() == word)
    }

    /// Whether it moves along what was written before, and is itself nothing that could be undone.
    pub(crate) const fn is_step_in_time(self) -> bool {
        matches!(self, Self::Undo | Self::Redo)
    }
}

/// A document and its newest revision.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Document {
    /// Its name.
    pub name: Name,
    /// What it is about.
    pub kind: Kind,
    /// How many revisions it has; the newest has this number.
    pub revisions: u32,
    /// Its newest revision.
    pub newest: RevisionId,
    /// When that was written.
    pub time: Timestamp,
}

/// A revision of a document, without its text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Revision {
    /// Its number in the whole book.
    pub id: RevisionId,
    /// The document.
    pub document: Name,
    /// What the document is about.
    pub kind: Kind,
    /// Its number in the document, from 1.
    pub number: u32,
    /// The revision that its text was made from; none for the first.
    ///
    /// These make a tree: what was written after an undo stands beside what was undone. The revision of an undo or a redo
    /// stands where the one stands that it takes up again.
    pub parent: Option<RevisionId>,
    /// How it came about.
    pub act: Act,
    /// The revision whose text is taken up again; none for an edit.
    pub again: Option<RevisionId>,
    /// When it was written.
    pub time: Timestamp,
    /// Why, in the words of its maker; may be empty.
    pub reason: String,
    /// The revisions of other documents on which it was drafted, oldest first.
    pub links: Vec<RevisionId>,
}

impl Revision {
    /// The revision that stands in the tree for this one's text: itself, or the one that an undo or redo takes up.
    pub(crate) fn node(&self) -> RevisionId {
        match self.again {
            Some(again) if self.act.is_step_in_time() => again,
            _ => self.id,
        }
    }
}

const DOCUMENTS: &str = "SELECT d.name, d.kind, r.number, r.id, r.time FROM document d
    JOIN revision r ON r.document = d.id
    AND r.number = (SELECT max(number) FROM revision WHERE document = d.id)";

const REVISIONS: &str =
    "SELECT r.id, d.name, d.kind, r.number, r.parent, r.act, r.again, r.time, r.reason
    FROM revision r JOIN document d ON d.id = r.document";

pub(crate) fn documents(connection: &Connection) -> rusqlite::Result<Vec<Document>> {
    let mut asked = connection.prepare_cached(&format!("{DOCUMENTS} ORDER BY d.name"))?;
    asked.query_map([], document_in)?.collect()
}

pub(crate) fn document(connection: &Connection, name: &Name) -> rusqlite::Result<Option<Document>> {
    let mut asked = connection.prepare_cached(&format!("{DOCUMENTS} WHERE d.name = ?1"))?;
    asked.query_row([name.as_str()], document_in).optional()
}

pub(crate) fn history(connection: &Connection, name: &Name) -> rusqlite::Result<Vec<Revision>> {
    revisions(
        connection,
        "WHERE d.name = ?1 ORDER BY r.number",
        [name.as_str()],
    )
}

pub(crate) fn whole_history(connection: &Connection) -> rusqlite::Result<Vec<Revision>> {
    revisions(connection, "ORDER BY r.id", [])
}

pub(crate) fn revision(
    connection: &Connection,
    id: RevisionId,
) -> rusqlite::Result<Option<Revision>> {
    Ok(revisions(connection, "WHERE r.id = ?1", [id.0])?.pop())
}

pub(crate) fn numbered(
    connection: &Connection,
    name: &Name,
    number: u32,
) -> rusqlite::Result<Option<Revision>> {
    let which = "WHERE d.name = ?1 AND r.number = ?2";
    Ok(revisions(connection, which, params![name.as_str(), number])?.pop())
}

pub(crate) fn newest(connection: &Connection, name: &Name) -> rusqlite::Result<Option<Revision>> {
    let which = "WHERE d.name = ?1 ORDER BY r.number DESC LIMIT 1";
    Ok(revisions(connection, which, [name.as_str()])?.pop())
}

pub(crate) fn text(connection: &Connection, id: RevisionId) -> rusqlite::Result<Option<String>> {
    let mut asked = connection.prepare_cached("SELECT text FROM revision WHERE id = ?1")?;
    asked.query_row([id.0], |row| row.get(0)).optional()
}

pub(crate) fn last(connection: &Connection) -> rusqlite::Result<Option<RevisionId>> {
    let mut asked = connection.prepare_cached("SELECT max(id) FROM revision")?;
    let last: Option<i64> = asked.query_row([], |row| row.get(0))?;
    Ok(last.map(RevisionId))
}

fn revisions(
    connection: &Connection,
    which: &str,
    values: impl Params,
) -> rusqlite::Result<Vec<Revision>> {
    let mut asked = connection.prepare_cached(&format!("{REVISIONS} {which}"))?;
    let found = asked.query_map(values, revision_in)?;
    let mut found: Vec<Revision> = found.collect::<rusqlite::Result<_>>()?;
    for revision in &mut found {
        revision.links = links(connection, revision.id)?;
    }
    Ok(found)
}

fn links(connection: &Connection, of: RevisionId) -> rusqlite::Result<Vec<RevisionId>> {
    let mut asked = connection
        .prepare_cached("SELECT drafted FROM link WHERE revision = ?1 ORDER BY drafted")?;
    let rows = asked.query_map([of.0], |row| row.get(0).map(RevisionId))?;
    rows.collect()
}

fn document_in(row: &Row<'_>) -> rusqlite::Result<Document> {
    Ok(Document {
        name: read_as(row, 0, |name| Name::new(name).ok())?,
        kind: read_as(row, 1, |word| word.parse().ok())?,
        revisions: row.get(2)?,
        newest: RevisionId(row.get(3)?),
        time: read_as(row, 4, |time| time.parse().ok())?,
    })
}

fn revision_in(row: &Row<'_>) -> rusqlite::Result<Revision> {
    Ok(Revision {
        id: RevisionId(row.get(0)?),
        document: read_as(row, 1, |name| Name::new(name).ok())?,
        kind: read_as(row, 2, |word| word.parse().ok())?,
        number: row.get(3)?,
        parent: row.get::<_, Option<i64>>(4)?.map(RevisionId),
        act: read_as(row, 5, Act::by_word)?,
        again: row.get::<_, Option<i64>>(6)?.map(RevisionId),
        time: read_as(row, 7, |time| time.parse().ok())?,
        reason: row.get(8)?,
        links: Vec::new(),
    })
}

/// A text column as a typed value.
fn read_as<T>(
    row: &Row<'_>,
    column: usize,
    read: impl FnOnce(&str) -> Option<T>,
) -> rusqlite::Result<T> {
    let text: String = row.get(column)?;
    read(&text).ok_or_else(|| {
        let words = format!("“{}” in its tables is not readable", text.escape_debug());
        rusqlite::Error::FromSqlConversionFailure(
            column,
            Type::Text,
            Box::new(FromSqlError::Other(words.into())),
        )
    })
}
