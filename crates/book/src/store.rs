//! The open book: changes in one piece, and what is read of it.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};

use crate::read::{self, Document, Revision, RevisionId};
use crate::{Batch, Fault, Kind, Name, open};

/// An open book.
#[derive(Debug)]
pub struct Book {
    path: PathBuf,
    connection: Connection,
}

impl Book {
    pub(crate) fn new(path: PathBuf, connection: Connection) -> Self {
        Self { path, connection }
    }

    /// The file of the book.
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Changes several documents in one piece: all of it is in the book afterwards, or none.
    pub fn change<T, E: From<Fault>>(
        &mut self,
        work: impl FnOnce(&mut Batch<'_>) -> Result<T, E>,
    ) -> Result<T, E> {
        let path = &self.path;
        let of_store = |fault| E::from(Fault::of_store(path, &fault));
        let change = self
            .connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(of_store)?;
        let mut batch = Batch::new(path, &change);
        // Dropped without a commit, everything is taken back.
        let done = work(&mut batch)?;
        change.commit().map_err(of_store)?;
        Ok(done)
    }

    /// Begins a document with its first revision.
    ///
    /// `links` are the revisions of other documents on which this one was drafted.
    pub fn create(
        &mut self,
        name: &Name,
        kind: Kind,
        text: &str,
        reason: &str,
        links: &[RevisionId],
    ) -> Result<RevisionId, Fault> {
        self.change(|batch| batch.create(name, kind, text, reason, links))
    }

    /// Adds a revision on the newest, which the caller has read; [`Fault::Stale`] where `on` is not the newest.
    pub fn add(
        &mut self,
        name: &Name,
        on: RevisionId,
        text: &str,
        reason: &str,
        links: &[RevisionId],
    ) -> Result<RevisionId, Fault> {
        self.change(|batch| batch.add(name, on, text, reason, links))
    }

    /// Takes the last change back, by a new revision; as often as there is one.
    pub fn undo(&mut self, name: &Name) -> Result<RevisionId, Fault> {
        self.change(|batch| batch.undo(name))
    }

    /// Takes the last undo back, by a new revision; as often as there is one that no change has followed.
    pub fn redo(&mut self, name: &Name) -> Result<RevisionId, Fault> {
        self.change(|batch| batch.redo(name))
    }

    /// Takes up the text of any earlier revision, by a new one, which can be undone as any change can.
    pub fn go_back(
        &mut self,
        name: &Name,
        to: RevisionId,
        reason: &str,
    ) -> Result<RevisionId, Fault> {
        self.change(|batch| batch.go_back(name, to, reason))
    }

    /// All documents, in the order of their names.
    pub fn documents(&self) -> Result<Vec<Document>, Fault> {
        self.ask(read::documents)
    }

    /// One document; [`Fault::NoDocument`] where there is none of this name.
    pub fn document(&self, name: &Name) -> Result<Document, Fault> {
        let found = self.ask(|connection| read::document(connection, name))?;
        found.ok_or_else(|| Fault::NoDocument { name: name.clone() })
    }

    /// All revisions of a document, oldest first.
    pub fn history(&self, name: &Name) -> Result<Vec<Revision>, Fault> {
        self.document(name)?;
        self.ask_at_once(|connection| read::history(connection, name))
    }

    /// All revisions of all documents, in the order in which they were written.
    pub fn whole_history(&self) -> Result<Vec<Revision>, Fault> {
        self.ask_at_once(read::whole_history)
    }

    /// A revision.
    pub fn revision(&self, id: RevisionId) -> Result<Revision, Fault> {
        let found = self.ask(|connection| read::revision(connection, id))?;
        found.ok_or(Fault::NoRevision { revision: id })
    }

    /// The revision of a document that has this number in it, from 1.
    pub fn numbered(&self, name: &Name, number: u32) -> Result<Revision, Fault> {
        let newest = self.document(name)?.revisions;
        let found = self.ask(|connection| read::numbered(connection, name, number))?;
        found.ok_or_else(|| Fault::NoNumber {
            document: name.clone(),
            number,
            newest,
        })
    }

    /// The text of a revision.
    pub fn text(&self, id: RevisionId) -> Result<String, Fault> {
        let found = self.ask(|connection| read::text(connection, id))?;
        found.ok_or(Fault::NoRevision { revision: id })
    }

    /// The newest revision of the whole book; `None` where it is empty. Cheap enough to be asked at every turn.
    pub fn last(&self) -> Result<Option<RevisionId>, Fault> {
        self.ask(read::last)
    }

    /// Writes a whole copy of the book into a file that is not there yet.
    pub fn copy_to(&self, path: &Path) -> Result<(), Fault> {
        open::copy(&self.connection, path)
    }

    /// Asks something of the store.
    pub(crate) fn ask<T>(
        &self,
        ask: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, Fault> {
        ask(&self.connection).map_err(|fault| Fault::of_store(&self.path, &fault))
    }

    /// Asks several things of the store of which none may change in between.
    pub(crate) fn ask_at_once<T>(
        &self,
        ask: impl FnOnce(&Connection) -> rusqlite::Result<T>,
    ) -> Result<T, Fault> {
        self.ask(|connection| {
            let still = connection.unchecked_transaction()?;
            let answer = ask(&still)?;
            still.finish()?;
            Ok(answer)
        })
    }
}
