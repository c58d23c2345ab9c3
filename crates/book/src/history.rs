//! The whole book as a folder of plain files, and back again without loss.
//!
//! Writes no file: it gives names and bytes, and takes them. `history.json` tells what every revision is; the texts lie
//! beside it byte for byte, the newest of each document also under its own name. Invariant: what was exported and
//! imported into a new book gives the same export again.

use std::collections::BTreeMap;

use jiff::Timestamp;
use serde::{Deserialize, Serialize};

use crate::batch::{Batch, Entry};
use crate::read::{self, Act, Revision, RevisionId};
use crate::{Book, Fault, Kind, Name};

/// Name of the file that tells what every revision is.
pub const HISTORY: &str = "history.json";

/// Name of the form of that file, with its version.
const FORM: &str = "notchbook-history-1";

/// The whole history as it stands in the file.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    form: String,
    revisions: Vec<WrittenRevision>,
}

/// The form alone, so that another one is told as such and not by its first strange word.
#[derive(Debug, Deserialize)]
struct Form {
    form: String,
}

/// A revision as it stands in the file.
#[derive(Debug, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct WrittenRevision {
    id: i64,
    document: String,
    kind: String,
    number: u32,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    parent: Option<i64>,
    act: String,
    #[serde(skip_serializing_if = "Option::is_none", default)]
    again: Option<i64>,
    time: String,
    reason: String,
    #[serde(skip_serializing_if = "Vec::is_empty", default)]
    drafted_on: Vec<i64>,
    /// The file with its text, from the folder of the history.
    text: String,
    /// How long that file is: a program that alters ends of lines on its way is noticed.
    bytes: usize,
}

/// What an import of a history brought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Taken {
    /// How many documents.
    pub documents: usize,
    /// How many revisions.
    pub revisions: usize,
}

impl Book {
    /// The whole book as files: relative paths with slashes, and their bytes.
    pub fn export_all(&self) -> Result<Vec<(String, Vec<u8>)>, Fault> {
        let (revisions, texts) = self.ask_at_once(|connection| {
            let revisions = read::whole_history(connection)?;
            let mut texts = Vec::new();
            for revision in &revisions {
                texts.push(read::text(connection, revision.id)?.unwrap_or_default());
            }
            Ok((revisions, texts))
        })?;
        let newest: BTreeMap<&Name, &String> = revisions
            .iter()
            .zip(&texts)
            .map(|(one, text)| (&one.document, text))
            .collect();
        let mut files = vec![(HISTORY.to_owned(), history(&revisions, &texts))];
        for (name, text) in newest {
            files.push((format!("documents/{name}"), text.as_bytes().to_vec()));
        }
        for (revision, text) in revisions.iter().zip(texts) {
            files.push((path_of(revision), text.into_bytes()));
        }
        Ok(files)
    }

    /// Takes the history in that [`Book::export_all`] gave, all of it or nothing; `text_of` gives the bytes of a file.
    ///
    /// Revisions are numbered on where the book has some already; none of the documents may be there.
    pub fn import_all<E: From<Fault>>(
        &mut self,
        history: &[u8],
        mut text_of: impl FnMut(&str) -> Result<Vec<u8>, E>,
    ) -> Result<Taken, E> {
        let written = parsed(history)?;
        self.change(|batch| {
            let mut taking = Taking {
                batch,
                ids: BTreeMap::new(),
                documents: BTreeMap::new(),
            };
            for revision in &written.revisions {
                let bytes = text_of(&revision.text)?;
                taking.take(revision, bytes)?;
            }
            Ok(Taken {
                documents: taking.documents.len(),
                revisions: taking.ids.len(),
            })
        })
    }
}

fn history(revisions: &[Revision], texts: &[String]) -> Vec<u8> {
    let written = |(one, text): (&Revision, &String)| WrittenRevision {
        id: one.id.number(),
        document: one.document.to_string(),
        kind: one.kind.word().to_owned(),
        number: one.number,
        parent: one.parent.map(RevisionId::number),
        act: one.act.word().to_owned(),
        again: one.again.map(RevisionId::number),
        time: one.time.to_string(),
        reason: one.reason.clone(),
        drafted_on: one.links.iter().map(|link| link.number()).collect(),
        text: path_of(one),
        bytes: text.len(),
    };
    let written = Written {
        form: FORM.to_owned(),
        revisions: revisions.iter().zip(texts).map(written).collect(),
    };
    let mut bytes =
        serde_json::to_vec_pretty(&written).expect("texts and numbers can be written as JSON");
    bytes.push(b'\n');
    bytes
}

/// `revisions/bodies/cellist.kdl/000003.kdl`.
fn path_of(revision: &Revision) -> String {
    let name = revision.document.as_str();
    let file = name.rsplit('/').next().unwrap_or(name);
    let ending = file.rsplit_once('.').map_or("txt", |(_, ending)| ending);
    format!("revisions/{name}/{:06}.{ending}", revision.number)
}

fn parsed(history: &[u8]) -> Result<Written, Fault> {
    let unread = |fault: serde_json::Error| refused(format!("{HISTORY} is not readable ({fault})"));
    let Form { form } = serde_json::from_slice(history).map_err(unread)?;
    if form != FORM {
        let form = form.escape_debug();
        return Err(refused(format!(
            "{HISTORY} is in the form “{form}”; “{FORM}” is known here"
        )));
    }
    serde_json::from_slice(history).map_err(unread)
}

fn refused(what: String) -> Fault {
    Fault::History { what }
}

/// An import under way.
struct Taking<'b, 'a> {
    batch: &'b mut Batch<'a>,
    /// Where the revisions of the file stand in this book.
    ids: BTreeMap<i64, RevisionId>,
    /// How many revisions each document has so far, and its kind.
    documents: BTreeMap<Name, (Kind, u32)>,
}

impl Taking<'_, '_> {
    fn take(&mut self, written: &WrittenRevision, bytes: Vec<u8>) -> Result<(), Fault> {
        let here = |what: &str| refused(format!("revision {} in {HISTORY} {what}", written.id));
        if bytes.len() != written.bytes {
            return Err(here(&format!(
                "should have a text of {} bytes, and {} has {}",
                written.bytes,
                written.text.escape_debug(),
                bytes.len()
            )));
        }
        let text = String::from_utf8(bytes).map_err(|_| here("has a text that is not UTF-8"))?;
        let name = Name::new(written.document.as_str())?;
        let kind: Kind = written.kind.parse()?;
        self.count(&name, kind, written)?;
        let entry = Entry {
            parent: self.place(written.parent, written)?,
            act: Act::by_word(&written.act).ok_or_else(|| here("came about in an unknown way"))?,
            again: self.place(written.again, written)?,
            time: written
                .time
                .parse::<Timestamp>()
                .map_err(|_| here("has a time that is none"))?,
            reason: &written.reason,
            text: &text,
            links: &self.places(&written.drafted_on, written)?,
        };
        if (entry.act == Act::Edit) != entry.again.is_none() {
            return Err(here(
                "takes a text up again, or does not, against the way it came about",
            ));
        }
        let id = self.batch.write(&name, &entry)?;
        if self.ids.insert(written.id, id).is_some() {
            return Err(here("is told twice"));
        }
        Ok(())
    }

    /// Begins a document at its first revision, and sees that the others follow in order.
    fn count(&mut self, name: &Name, kind: Kind, written: &WrittenRevision) -> Result<(), Fault> {
        if !self.documents.contains_key(name) {
            self.batch.begin(name, kind)?;
        }
        let (of_kind, counted) = self.documents.entry(name.clone()).or_insert((kind, 0));
        *counted += 1;
        if *of_kind == kind && *counted == written.number {
            Ok(())
        } else {
            Err(refused(format!(
                "revision {} in {HISTORY} should be number {counted} of {name}, a {of_kind}",
                written.id
            )))
        }
    }

    fn place(&self, id: Option<i64>, in_: &WrittenRevision) -> Result<Option<RevisionId>, Fault> {
        id.map(|id| self.there(id, in_)).transpose()
    }

    fn places(&self, ids: &[i64], in_: &WrittenRevision) -> Result<Vec<RevisionId>, Fault> {
        ids.iter().map(|id| self.there(*id, in_)).collect()
    }

    fn there(&self, id: i64, in_: &WrittenRevision) -> Result<RevisionId, Fault> {
        let found = self.ids.get(&id).copied();
        found.ok_or_else(|| {
            refused(format!(
                "revision {} in {HISTORY} names revision {id}, which is not before it",
                in_.id
            ))
        })
    }
}
