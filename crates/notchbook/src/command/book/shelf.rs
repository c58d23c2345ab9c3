//! Texts of a book as the makers of drafts ask for them.

use std::collections::BTreeMap;
use std::sync::Arc;

use book::{Book, Name, Revision, RevisionId};
use document::{Finding, Source};
use making::Shelf;

use super::finding;

/// What stands between a document and its revision in the names of texts: no name of a document ends in it, since a
/// number follows.
const OF: &str = ", revision ";

/// The texts of a book as they were when a revision was written: first those on which it was drafted, then the newest of
/// then.
pub(super) struct AsOfThen<'a> {
    book: &'a Book,
    then: RevisionId,
    linked: BTreeMap<Name, RevisionId>,
}

impl<'a> AsOfThen<'a> {
    /// The texts as they were for this revision; `history` is that of the whole book.
    pub(super) fn new(book: &'a Book, revision: &Revision, history: &[Revision]) -> Self {
        let of_document = |id: &RevisionId| {
            let found = history.binary_search_by_key(id, |one| one.id).ok()?;
            Some((history[found].document.clone(), *id))
        };
        Self {
            book,
            then: revision.id,
            linked: revision.links.iter().filter_map(of_document).collect(),
        }
    }

    /// The revision of a document that counted then.
    fn counting(&self, name: &Name) -> Result<Revision, Finding> {
        if let Some(linked) = self.linked.get(name) {
            return self.book.revision(*linked).map_err(|fault| finding(&fault));
        }
        let history = self.book.history(name).map_err(|fault| finding(&fault))?;
        let then = history.into_iter().rev().find(|one| one.id < self.then);
        then.ok_or_else(|| not_there_then(name))
    }
}

impl Shelf for AsOfThen<'_> {
    fn text(&mut self, name: &str, _what: &str) -> Result<Arc<Source>, Finding> {
        let name = Name::new(name).map_err(|fault| finding(&fault))?;
        source(self.book, &self.counting(&name)?)
    }

    fn beside(&self, from: &str, name: &str) -> String {
        let document = from.rsplit_once(OF).map_or(from, |(document, _)| document);
        beside(document, name)
    }
}

/// The text of a revision, called by document and number.
pub(super) fn source(book: &Book, revision: &Revision) -> Result<Arc<Source>, Finding> {
    let text = book.text(revision.id).map_err(|fault| finding(&fault))?;
    Source::from_bytes(
        format!("{}{OF}{}", revision.document, revision.number),
        text.into_bytes(),
    )
}

/// The name that a document means by a path; the path itself where it leaves the book.
pub(super) fn beside(document: &str, path: &str) -> String {
    let meant = Name::new(document).ok().and_then(|name| name.beside(path));
    meant.map_or_else(|| path.to_owned(), |name| name.to_string())
}

fn not_there_then(name: &Name) -> Finding {
    Finding::error(
        "document-missing",
        format!("{name} was not in the book yet."),
    )
    .cure("Import both together next time.")
}
