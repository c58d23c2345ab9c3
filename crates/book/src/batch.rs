//! Changes to documents within one transaction.
//!
//! Invariants: a document's revisions are numbered without a gap; an undo or redo moves along the tree of what was
//! written, every other revision adds a branch or lengthens one.

use std::path::Path;

use jiff::Timestamp;
use rusqlite::{Transaction, params};

use crate::read::{self, Act, Revision, RevisionId};
use crate::{Fault, Kind, LONGEST_TEXT, Name};

/// A change of several documents, made in one piece by [`crate::Book::change`].
#[derive(Debug)]
pub struct Batch<'a> {
    path: &'a Path,
    change: &'a Transaction<'a>,
}

/// A revision that is to be written.
pub(crate) struct Entry<'a> {
    pub(crate) parent: Option<RevisionId>,
    pub(crate) act: Act,
    pub(crate) again: Option<RevisionId>,
    pub(crate) time: Timestamp,
    pub(crate) reason: &'a str,
    pub(crate) text: &'a str,
    pub(crate) links: &'a [RevisionId],
}

impl<'a> Batch<'a> {
    pub(crate) fn new(path: &'a Path, change: &'a Transaction<'a>) -> Self {
        Self { path, change }
    }

    /// Begins a document; see [`crate::Book::create`].
    pub fn create(
        &mut self,
        name: &Name,
        kind: Kind,
        text: &str,
        reason: &str,
        links: &[RevisionId],
    ) -> Result<RevisionId, Fault> {
        self.begin(name, kind)?;
        let entry = Entry::edit(None, text, reason, links);
        self.write(name, &entry)
    }

    /// Adds a revision on the newest; see [`crate::Book::add`].
    pub fn add(
        &mut self,
        name: &Name,
        on: RevisionId,
        text: &str,
        reason: &str,
        links: &[RevisionId],
    ) -> Result<RevisionId, Fault> {
        let newest = self.newest(name)?;
        if newest.id != on {
            return Err(Fault::Stale {
                document: name.clone(),
                on,
                newest: newest.id,
            });
        }
        let entry = Entry::edit(Some(newest.node()), text, reason, links);
        self.write(name, &entry)
    }

    /// Takes the last change back; see [`crate::Book::undo`].
    pub fn undo(&mut self, name: &Name) -> Result<RevisionId, Fault> {
        let left = self.standing(name)?;
        let Some(parent) = left.parent else {
            return Err(Fault::NothingToUndo {
                document: name.clone(),
            });
        };
        let reason = said_of("undoes", &left);
        let taken_up = self.revision(name, parent)?;
        self.take_up(Act::Undo, &taken_up, taken_up.parent, &reason)
    }

    /// Takes the last undo back; see [`crate::Book::redo`].
    pub fn redo(&mut self, name: &Name) -> Result<RevisionId, Fault> {
        let Some(next) = self.undone(name)? else {
            return Err(Fault::NothingToRedo {
                document: name.clone(),
            });
        };
        let reason = said_of("does again", &next);
        self.take_up(Act::Redo, &next, next.parent, &reason)
    }

    /// Takes up the text of any earlier revision; see [`crate::Book::go_back`].
    pub fn go_back(
        &mut self,
        name: &Name,
        to: RevisionId,
        reason: &str,
    ) -> Result<RevisionId, Fault> {
        let stood_on = self.newest(name)?.node();
        let to = self.revision(name, to)?;
        self.take_up(Act::GoBack, &to, Some(stood_on), reason)
    }

    /// The newest revision of a document; [`Fault::NoDocument`] where there is none of this name.
    pub fn newest(&self, name: &Name) -> Result<Revision, Fault> {
        let found = self.asked(read::newest(self.change, name))?;
        found.ok_or_else(|| Fault::NoDocument { name: name.clone() })
    }

    /// The newest revision of the whole book, with what this change has written so far.
    pub fn last(&self) -> Result<Option<RevisionId>, Fault> {
        self.asked(read::last(self.change))
    }

    /// The text of a revision.
    pub fn text(&self, id: RevisionId) -> Result<String, Fault> {
        let found = self.asked(read::text(self.change, id))?;
        found.ok_or(Fault::NoRevision { revision: id })
    }

    /// The revision in the tree on which the document stands.
    fn standing(&self, name: &Name) -> Result<Revision, Fault> {
        let newest = self.newest(name)?;
        self.revision(name, newest.node())
    }

    /// The revision that the last undo left, if no change has followed it.
    ///
    /// Since the last change, only its ancestors were stood on: the next one to stand on is the ancestor whose parent is
    /// stood on now.
    fn undone(&self, name: &Name) -> Result<Option<Revision>, Fault> {
        let standing = self.newest(name)?.node();
        let mut one = self.last_change(name)?;
        if one.id == standing {
            return Ok(None);
        }
        while let Some(parent) = one.parent {
            if parent == standing {
                return Ok(Some(one));
            }
            one = self.revision(name, parent)?;
        }
        Ok(None)
    }

    /// The newest revision that is no step in time.
    fn last_change(&self, name: &Name) -> Result<Revision, Fault> {
        let asked = self.change.prepare_cached(
            "SELECT max(r.id) FROM revision r JOIN document d ON d.id = r.document
            WHERE d.name = ?1 AND r.act IN ('edit', 'go-back')",
        );
        let id: Option<i64> = self.asked(
            asked.and_then(|mut asked| asked.query_row([name.as_str()], |row| row.get(0))),
        )?;
        let id = id.ok_or_else(|| Fault::NoDocument { name: name.clone() })?;
        self.revision(name, RevisionId::new(id))
    }

    /// A revision of this document and no other.
    fn revision(&self, name: &Name, id: RevisionId) -> Result<Revision, Fault> {
        let found = self.asked(read::revision(self.change, id))?;
        let found = found.filter(|revision| revision.document == *name);
        found.ok_or(Fault::NoRevision { revision: id })
    }

    fn take_up(
        &mut self,
        act: Act,
        what: &Revision,
        parent: Option<RevisionId>,
        reason: &str,
    ) -> Result<RevisionId, Fault> {
        let text = self.text(what.id)?;
        let entry = Entry {
            parent,
            act,
            again: Some(what.id),
            time: now(),
            reason,
            text: &text,
            links: &what.links,
        };
        self.write(&what.document, &entry)
    }

    /// Writes down that there is a document; a name must be free in any letters, and no folder and file at once.
    pub(crate) fn begin(&mut self, name: &Name, kind: Kind) -> Result<(), Fault> {
        if let Some(there) = self.in_the_way(name)? {
            return Err(Fault::NameTaken {
                name: name.clone(),
                there,
            });
        }
        let written = self.change.execute(
            "INSERT INTO document (id, name, folded, kind)
            VALUES ((SELECT coalesce(max(id), 0) + 1 FROM document), ?1, ?2, ?3)",
            params![name.as_str(), name.folded(), kind.word()],
        );
        self.asked(written).map(drop)
    }

    /// The document that could not lie in a folder beside one of this name.
    fn in_the_way(&self, name: &Name) -> Result<Option<Name>, Fault> {
        let mut asked = self.asked(self.change.prepare_cached(
            "SELECT name FROM document WHERE folded = ?1
            OR substr(folded, 1, length(?1) + 1) = ?1 || '/'
            OR substr(?1, 1, length(folded) + 1) = folded || '/'",
        ))?;
        let mut rows = self.asked(asked.query([name.folded()]))?;
        let Some(row) = self.asked(rows.next())? else {
            return Ok(None);
        };
        let there: String = self.asked(row.get(0))?;
        Name::new(there).map(Some)
    }

    /// Writes a revision and its links.
    pub(crate) fn write(&mut self, name: &Name, entry: &Entry<'_>) -> Result<RevisionId, Fault> {
        fits(name, entry)?;
        let id = self.last()?;
        let id = RevisionId::new(id.map_or(1, |last| last.number() + 1));
        let mut links = entry.links.to_vec();
        links.sort_unstable();
        links.dedup();
        for link in &links {
            if self.asked(read::revision(self.change, *link))?.is_none() {
                return Err(Fault::NoRevision { revision: *link });
            }
        }
        self.asked(self.insert(name, id, entry, &links))?;
        Ok(id)
    }

    fn insert(
        &self,
        name: &Name,
        id: RevisionId,
        entry: &Entry<'_>,
        links: &[RevisionId],
    ) -> rusqlite::Result<()> {
        let mut written = self.change.prepare_cached(
            "INSERT INTO revision (id, document, number, parent, act, again, time, reason, text)
            SELECT ?1, d.id, 1 + (SELECT coalesce(max(number), 0) FROM revision WHERE document = d.id),
                ?3, ?4, ?5, ?6, ?7, ?8
            FROM document d WHERE d.name = ?2",
        )?;
        written.execute(params![
            id.number(),
            name.as_str(),
            entry.parent.map(RevisionId::number),
            entry.act.word(),
            entry.again.map(RevisionId::number),
            entry.time.to_string(),
            entry.reason,
            entry.text,
        ])?;
        let mut linked = self
            .change
            .prepare_cached("INSERT INTO link (revision, drafted) VALUES (?1, ?2)")?;
        for link in links {
            linked.execute([id.number(), link.number()])?;
        }
        Ok(())
    }

    fn asked<T>(&self, answer: rusqlite::Result<T>) -> Result<T, Fault> {
        answer.map_err(|fault| Fault::of_store(self.path, &fault))
    }
}

impl<'a> Entry<'a> {
    fn edit(
        parent: Option<RevisionId>,
        text: &'a str,
        reason: &'a str,
        links: &'a [RevisionId],
    ) -> Self {
        Self {
            parent,
            act: Act::Edit,
            again: None,
            time: now(),
            reason,
            text,
            links,
        }
    }
}

/// Now, in whole milliseconds: finer than anybody works.
fn now() -> Timestamp {
    let now = Timestamp::now();
    Timestamp::from_millisecond(now.as_millisecond()).unwrap_or(now)
}

fn fits(name: &Name, entry: &Entry<'_>) -> Result<(), Fault> {
    let document = name.clone();
    if entry.text.len() > LONGEST_TEXT || entry.reason.len() > LONGEST_TEXT {
        Err(Fault::TooLong { document })
    } else if entry.text.contains('\0') || entry.reason.contains('\0') {
        Err(Fault::NoText { document })
    } else {
        Ok(())
    }
}

/// "undoes revision 3: deeper neckline".
fn said_of(verb: &str, what: &Revision) -> String {
    let Revision { number, reason, .. } = what;
    if reason.is_empty() {
        format!("{verb} revision {number}")
    } else {
        format!("{verb} revision {number}: {reason}")
    }
}
