//! A look at the whole book: does the file hold together, and does its history?
//!
//! Knows nothing of what stands in the texts. Invariant: every disagreement is told, and nothing is mended.

use std::collections::BTreeMap;

use rusqlite::Connection;

use crate::read::{self, Act, Revision, RevisionId};
use crate::{Book, Fault, form, open};

impl Book {
    /// Everything that does not hold together; empty for a sound book.
    ///
    /// The file is checked by the store itself (every page, every index, every reference), its tables against the form
    /// that it says it has, and the history by the rules that made it.
    pub fn verify(&self) -> Result<Vec<String>, Fault> {
        self.ask_at_once(|connection| {
            let mut wrong = open::faults_of(connection, "integrity_check")?;
            wrong.extend(lost_references(connection)?);
            if !form::is_whole(connection, form::STEPS)? {
                wrong.push("its tables are not those of a book".to_owned());
            }
            wrong.extend(broken_history(&read::whole_history(connection)?));
            wrong.extend(altered_texts(connection)?);
            Ok(wrong)
        })
    }
}

fn lost_references(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut asked = connection.prepare("PRAGMA foreign_key_check")?;
    let rows = asked.query_map([], |row| {
        let (table, to): (String, String) = (row.get(0)?, row.get(2)?);
        Ok(format!("a {table} names a {to} that is not there"))
    })?;
    rows.collect()
}

/// Revisions that take a text up again have that very text.
fn altered_texts(connection: &Connection) -> rusqlite::Result<Vec<String>> {
    let mut asked = connection.prepare(
        "SELECT r.id FROM revision r JOIN revision a ON a.id = r.again WHERE r.text <> a.text ORDER BY r.id",
    )?;
    let rows = asked.query_map([], |row| {
        let id: i64 = row.get(0)?;
        Ok(format!(
            "revision {id} of the book has another text than the one it takes up again"
        ))
    })?;
    rows.collect()
}

fn broken_history(revisions: &[Revision]) -> Vec<String> {
    let by_id: BTreeMap<RevisionId, &Revision> =
        revisions.iter().map(|one| (one.id, one)).collect();
    let mut counted: BTreeMap<&str, u32> = BTreeMap::new();
    let mut wrong = Vec::new();
    for revision in revisions {
        let number = counted.entry(revision.document.as_str()).or_default();
        *number += 1;
        if revision.number != *number {
            wrong.push(format!("{} has no revision {number}", revision.document));
        }
        *number = revision.number;
        wrong.extend(misplaced(revision, &by_id));
    }
    wrong
}

/// What is wrong with the place of a revision in the tree.
fn misplaced(revision: &Revision, by_id: &BTreeMap<RevisionId, &Revision>) -> Option<String> {
    let Revision {
        document, number, ..
    } = revision;
    let named = [revision.parent, revision.again];
    let is_own = |id: RevisionId| {
        let found = by_id.get(&id);
        id < revision.id && found.is_some_and(|one| one.document == *document)
    };
    if !named.into_iter().flatten().all(is_own) {
        return Some(format!(
            "revision {number} of {document} stands on one that is not before it"
        ));
    }
    let again = revision.again.and_then(|id| by_id.get(&id));
    let stands_well = match revision.act {
        Act::Edit | Act::GoBack => revision.parent.is_some() != (*number == 1),
        Act::Undo | Act::Redo => again.is_some_and(|one| one.parent == revision.parent),
    };
    (!stands_well).then(|| {
        format!("revision {number} of {document} does not stand where it should in its history")
    })
}
