//! Notes on a body, a block or a garment, each with its day and the revision of which it speaks.
//!
//! Kept as documents of their own, `fittings/…`, one for each document that is spoken of: `fitting { note date="2026-12-01"
//! about="concert-dress.kdl" revision=3 "gapes 12 mm at the armhole" }`. Later rooms read them.

use axum::extract::State;
use axum::response::Response;
use body::Date;
use book::{Kind, Name};
use document::mend::{Path, apply};
use document::{Change, Content, Entry, Source};
use serde::{Deserialize, Serialize};

use super::{AtBench, Looked};
use crate::desk::{Desk, first_entry};
use crate::http::answer::{Answer, Problem};
use crate::http::asked::{Asked, Sent};
use crate::rewrite::quoted;

/// The longest note, letters.
const LONGEST: usize = 4000;

#[derive(Serialize)]
struct NotesView {
    name: String,
    revision: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    said: Option<&'static str>,
    notes: Vec<NoteView>,
}

#[derive(Serialize)]
struct NoteView {
    id: String,
    about: AboutView,
    date: String,
    words: String,
    /// Whether what it speaks of was changed since.
    stale: bool,
}

#[derive(Serialize)]
struct AboutView {
    name: String,
    revision: Option<u32>,
}

/// `GET /api/notes`
pub(crate) async fn notes(State(bench): AtBench, Asked(looked): Asked<Looked>) -> Response {
    bench.answer(move |desk| look(desk, &looked.name)).await
}

#[derive(Debug, Deserialize)]
pub(crate) struct Note {
    about: About,
    date: String,
    words: String,
}

/// A name alone, or with the revision of which the note speaks.
#[derive(Debug, Deserialize)]
#[serde(untagged)]
enum About {
    Name(String),
    Revision { name: String, revision: Option<u32> },
}

impl About {
    fn parts(&self) -> (&str, Option<u32>) {
        match self {
            Self::Name(name) => (name, None),
            Self::Revision { name, revision } => (name, *revision),
        }
    }
}

/// `POST /api/notes`
pub(crate) async fn note(State(bench): AtBench, Sent(note): Sent<Note>) -> Response {
    bench.answer(move |desk| added(desk, &note)).await
}

fn added(desk: &mut Desk, note: &Note) -> Answer<NotesView> {
    let (name, revision) = note.about.parts();
    let about = desk.document(name)?;
    let revision = revision.unwrap_or(about.revisions);
    let spoken_of = desk.numbered(&about.name, revision)?;
    let words = note.words.trim();
    if words.is_empty() || words.chars().count() > LONGEST {
        return Err(Problem::refused(
            "note-empty-or-long",
            format!("A note has from one to {LONGEST} letters."),
        )
        .next("Write what you saw, or part it into several notes."));
    }
    if Date::parse(note.date.trim()).is_none() {
        return Err(
            Problem::refused("date-not-readable", "This is not a day of the calendar.")
                .next("Write a date such as 2026-10-03: year, month, day."),
        );
    }
    let line = format!(
        "note date={} about={} revision={revision} {}",
        quoted(note.date.trim()),
        quoted(about.name.as_str()),
        lines_quoted(words)
    );
    let kept = kept_in(&about.name)?;
    let reason = format!("note on {}", about.name);
    match desk.book.document(&kept) {
        Ok(there) => {
            let source = desk.source(&there)?;
            let block = Path::default();
            let text = apply(&source, &[], &[Change::Line { block, line }])?;
            desk.add(&there, &text, &reason, &[spoken_of.id])?;
        }
        Err(book::Fault::NoDocument { .. }) => {
            let text = format!("fitting {{\n    {line}\n}}\n");
            desk.book
                .create(&kept, Kind::Fitting, &text, &reason, &[spoken_of.id])?;
        }
        Err(fault) => return Err(fault.into()),
    }
    let mut view = look(desk, name)?;
    view.said = Some("The note is kept.");
    Ok(view)
}

/// A text of several lines as it stands in quotes.
fn lines_quoted(words: &str) -> String {
    let lines: Vec<String> = words
        .lines()
        .map(|line| {
            let quoted = quoted(line);
            quoted[1..quoted.len() - 1].to_owned()
        })
        .collect();
    format!("\"{}\"", lines.join("\\n"))
}

/// Where the notes on a document are kept.
fn kept_in(about: &Name) -> Answer<Name> {
    Ok(Name::new(format!("fittings/{about}"))?)
}

fn look(desk: &mut Desk, name: &str) -> Answer<NotesView> {
    let about = desk.document(name)?;
    let kept = kept_in(&about.name)?;
    let notes = match desk.book.document(&kept) {
        Ok(there) => {
            let source = desk.source(&there)?;
            notes_in(&source, about.revisions)
        }
        Err(book::Fault::NoDocument { .. }) => Vec::new(),
        Err(fault) => return Err(fault.into()),
    };
    Ok(NotesView {
        name: about.name.to_string(),
        revision: about.revisions,
        said: None,
        notes,
    })
}

/// The notes of a text, the newest first.
fn notes_in(source: &std::sync::Arc<Source>, newest: u32) -> Vec<NoteView> {
    let entry = first_entry(source);
    let notes = entry.iter().flat_map(|entry| entry.children_named("note"));
    let mut views: Vec<NoteView> = notes
        .enumerate()
        .filter_map(|(index, note)| view(index, note, newest))
        .collect();
    views.reverse();
    views.sort_by(|one, other| other.date.cmp(&one.date));
    views
}

fn view(index: usize, note: &Entry, newest: u32) -> Option<NoteView> {
    let text = |name: &str| note.property(name).and_then(|value| value.text().ok());
    let revision = note
        .property("revision")
        .and_then(|value| match value.content() {
            Content::Number(number) => Some(*number as u32),
            _ => None,
        });
    Some(NoteView {
        id: format!("note-{}", index + 1),
        about: AboutView {
            name: text("about").unwrap_or_default().to_owned(),
            revision,
        },
        date: text("date").unwrap_or_default().to_owned(),
        words: note.arguments().first()?.text().ok()?.to_owned(),
        stale: revision.is_some_and(|revision| revision < newest),
    })
}
