//! The documents of the book as texts to draft from, and which of them were used.

use std::collections::BTreeMap;
use std::sync::Arc;

use book::{Book, Name, Revision, RevisionId};
use document::{Finding, Source};
use making::Shelf;

/// The newest texts of a book, or those of stated revisions.
pub(crate) struct Pages<'a> {
    book: &'a Book,
    /// Texts that count instead of the newest.
    stated: BTreeMap<Name, RevisionId>,
    /// What was asked for, in order.
    pub(crate) used: Vec<Revision>,
}

impl<'a> Pages<'a> {
    /// The newest texts.
    pub(crate) fn newest(book: &'a Book) -> Self {
        Self {
            book,
            stated: BTreeMap::new(),
            used: Vec::new(),
        }
    }

    /// The texts on which a revision was drafted; the newest of whatever it did not know.
    pub(crate) fn as_of(book: &'a Book, revision: &Revision) -> Self {
        let of = |id: &RevisionId| book.revision(*id).ok();
        let links = revision.links.iter().filter_map(of);
        Self {
            stated: links.map(|link| (link.document, link.id)).collect(),
            ..Self::newest(book)
        }
    }

    fn revision(&self, name: &Name) -> Result<Revision, book::Fault> {
        if let Some(id) = self.stated.get(name) {
            return self.book.revision(*id);
        }
        let document = self.book.document(name)?;
        self.book.revision(document.newest)
    }
}

impl Shelf for Pages<'_> {
    fn text(&mut self, name: &str, what: &str) -> Result<Arc<Source>, Finding> {
        let unread = |fault: book::Fault| {
            Finding::error("document-missing", fault.to_string())
                .allowed(format!(
                    "the name of a document of this book that describes {what}"
                ))
                .cure(fault.cure())
        };
        let name = Name::new(name).map_err(unread)?;
        let revision = self.revision(&name).map_err(unread)?;
        let text = self.book.text(revision.id).map_err(unread)?;
        let source = Source::new(name.as_str(), text);
        self.used.push(revision);
        Ok(source)
    }

    fn beside(&self, from: &str, name: &str) -> String {
        let beside = Name::new(from).ok().and_then(|from| from.beside(name));
        // What leads out of the book stays as it was written, and is not found.
        beside.map_or_else(|| name.to_owned(), |name| name.as_str().to_owned())
    }
}
