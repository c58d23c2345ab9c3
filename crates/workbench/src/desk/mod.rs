//! The desk: the open book, and what has been drafted from it, so that nothing is drafted twice.
//!
//! Knows documents and drafts; no HTTP. Everything remembered is for the newest revision of a document, one of each, so that
//! memory does not grow with edits. Invariant: what is remembered is used only while every text from which it was made is
//! the newest of its document.

mod draft;
mod edit;
mod past;
mod shelf;
mod table;

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

use book::{Act, Book, Document, Name, Revision, RevisionId};
use document::Source;
use making::Draft;

use crate::handles::Handles;
use crate::http::answer::{Answer, Problem};
use crate::view::drawn::Drawn;

pub(crate) use draft::{Drafted, first_entry};
pub(crate) use edit::{line_difference, not_drafted};
pub(crate) use table::Table;

/// Garments that are remembered at once; the one that was looked at longest ago gives way.
const REMEMBERED: usize = 12;

/// Garments whose handles are remembered.
const HANDLES: usize = 200;

/// The open book and what has been made of it.
pub(crate) struct Desk {
    pub(crate) book: Book,
    sources: BTreeMap<Name, (RevisionId, Arc<Source>)>,
    wearers: BTreeMap<Name, (RevisionId, Arc<draft::Worn>)>,
    garments: Vec<Remembered>,
    histories: BTreeMap<Name, Vec<Revision>>,
    /// The handles of garments: small, and dear to find.
    handles: BTreeMap<Name, Arc<Handles>>,
    pub(crate) papers: Option<crate::api::print::Printed>,
}

/// What is remembered of one garment.
pub(crate) struct Remembered {
    name: Name,
    pub(crate) drafted: Option<Arc<Drafted>>,
    /// The outside as it lies on the page.
    pub(crate) shell: Surface,
    /// All pieces of all layers.
    pub(crate) layers: Surface,
    /// Lays that were found.
    pub(crate) lays: Vec<crate::api::lay::Kept>,
}

/// Pieces as they lie on the page and were drawn last.
#[derive(Default)]
pub(crate) struct Surface {
    /// Where they lie.
    pub(crate) table: Table,
    /// As they were drawn last.
    pub(crate) drawn: BTreeMap<String, Arc<Drawn>>,
}

impl Desk {
    pub(crate) fn open(path: &Path) -> Result<Self, book::Fault> {
        Ok(Self {
            book: Book::open_or_begin(path)?,
            sources: BTreeMap::new(),
            wearers: BTreeMap::new(),
            garments: Vec::new(),
            histories: BTreeMap::new(),
            handles: BTreeMap::new(),
            papers: None,
        })
    }

    /// Drops everything that is remembered.
    pub(crate) fn forget(&mut self) {
        self.sources.clear();
        self.wearers.clear();
        self.garments.clear();
        self.histories.clear();
        self.handles.clear();
        self.papers = None;
    }

    /// A document by its name as it came from the page: one of the book, or nothing is found.
    pub(crate) fn document(&self, name: &str) -> Answer<Document> {
        Ok(self.book.document(&Name::new(name)?)?)
    }

    /// The newest text of a document.
    pub(crate) fn source(&mut self, document: &Document) -> Answer<Arc<Source>> {
        let known = self.sources.get(&document.name);
        if let Some((revision, source)) = known
            && *revision == document.newest
        {
            return Ok(Arc::clone(source));
        }
        let text = self.book.text(document.newest)?;
        let source = Source::new(document.name.as_str(), text);
        let kept = (document.newest, Arc::clone(&source));
        self.sources.insert(document.name.clone(), kept);
        Ok(source)
    }

    /// What is remembered of a garment, made where nothing is yet.
    pub(crate) fn remembered(&mut self, name: &Name) -> &mut Remembered {
        // The garment that was asked for last stands last.
        if let Some(at) = self.garments.iter().position(|one| one.name == *name) {
            let one = self.garments.remove(at);
            self.garments.push(one);
        } else {
            if self.garments.len() >= REMEMBERED {
                self.garments.remove(0);
            }
            self.garments.push(Remembered {
                name: name.clone(),
                drafted: None,
                shell: Surface::default(),
                layers: Surface::default(),
                lays: Vec::new(),
            });
        }
        let last = self.garments.len() - 1;
        &mut self.garments[last]
    }

    /// The handles of a draft; those found before hold as long as the same numbers can be turned.
    pub(crate) fn handles(&mut self, drafted: &Drafted, draft: &Draft) -> Arc<Handles> {
        let name = &drafted.document.name;
        let handles = Handles::of(drafted, draft, self.handles.get(name));
        if self.handles.len() >= HANDLES && !self.handles.contains_key(name) {
            self.handles.pop_first();
        }
        self.handles.insert(name.clone(), Arc::clone(&handles));
        handles
    }

    /// The revisions of a document, oldest first; read once and then lengthened.
    pub(crate) fn history(&mut self, document: &Document) -> Answer<&[Revision]> {
        let known = self.histories.entry(document.name.clone()).or_default();
        while known.len() < document.revisions as usize {
            if known.is_empty() {
                *known = self.book.history(&document.name)?;
                break;
            }
            let next = known.len() as u32 + 1;
            known.push(self.book.numbered(&document.name, next)?);
        }
        Ok(known)
    }

    /// What undo and redo would do, in words; none where they can do nothing.
    pub(crate) fn ways(&mut self, document: &Document) -> Answer<[Option<String>; 2]> {
        let history = self.history(document)?;
        Ok([undo_words(history), redo_words(history)])
    }

    /// The revision of a document with a number, as the page calls it.
    pub(crate) fn numbered(&self, name: &Name, number: u32) -> Answer<Revision> {
        Ok(self.book.numbered(name, number)?)
    }
}

/// The revision in the tree on which a document stands.
fn standing(history: &[Revision]) -> Option<&Revision> {
    let newest = history.last()?;
    match (newest.act, newest.again) {
        (Act::Undo | Act::Redo, Some(again)) => by_id(history, again),
        _ => Some(newest),
    }
}

fn by_id(history: &[Revision], id: RevisionId) -> Option<&Revision> {
    let at = history.binary_search_by_key(&id, |one| one.id).ok()?;
    history.get(at)
}

fn undo_words(history: &[Revision]) -> Option<String> {
    let left = standing(history)?;
    left.parent?;
    Some(format!("Undo: {}", reason_of(left)))
}

/// The revision that the last undo left, where nothing was changed since: the way back up the tree.
fn redo_words(history: &[Revision]) -> Option<String> {
    let standing = standing(history)?.id;
    let changed = |one: &&Revision| matches!(one.act, Act::Edit | Act::GoBack);
    let mut one = history.iter().rev().find(changed)?;
    if one.id == standing {
        return None;
    }
    while let Some(parent) = one.parent {
        if parent == standing {
            return Some(format!("Redo: {}", reason_of(one)));
        }
        one = by_id(history, parent)?;
    }
    None
}

fn reason_of(revision: &Revision) -> String {
    if revision.reason.is_empty() {
        format!("revision {}", revision.number)
    } else {
        revision.reason.clone()
    }
}

impl From<book::Fault> for Problem {
    fn from(fault: book::Fault) -> Self {
        use axum::http::StatusCode;
        use book::Fault;
        let (status, code) = match &fault {
            Fault::NoDocument { .. } => (StatusCode::NOT_FOUND, "document-missing"),
            Fault::NoNumber { .. } | Fault::NoRevision { .. } => {
                (StatusCode::NOT_FOUND, "revision-missing")
            }
            Fault::UnsafeName { .. } | Fault::UnknownKind { .. } => {
                (StatusCode::BAD_REQUEST, "name-not-allowed")
            }
            Fault::Stale { .. } => (StatusCode::CONFLICT, "stale"),
            Fault::NameTaken { .. } => (StatusCode::CONFLICT, "name-taken"),
            Fault::NothingToUndo { .. } => (StatusCode::CONFLICT, "nothing-to-undo"),
            Fault::NothingToRedo { .. } => (StatusCode::CONFLICT, "nothing-to-redo"),
            Fault::TooLong { .. } | Fault::NoText { .. } => {
                (StatusCode::UNPROCESSABLE_ENTITY, "text-not-kept")
            }
            _ => (StatusCode::INTERNAL_SERVER_ERROR, "book-not-usable"),
        };
        Self::new(status, code, fault.to_string()).next(fault.cure())
    }
}
