//! Every revision of a document: listed, laid over each other, taken up again.

use axum::extract::State;
use axum::response::Response;
use book::{Document, Kind, Revision};
use geometry::Rect;
use making::difference::{Look, difference as differ};
use pattern::{Pattern, Piece};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::edit::document_view;
use super::{AtBench, InUnits, Looked, Named};
use crate::desk::{Desk, Table, line_difference, not_drafted};
use crate::http::answer::{Answer, Problem};
use crate::http::asked::{Asked, Sent};
use crate::view::drawing::{DrawingView, Hashes, piece_json, shell_pieces};
use crate::view::drawn::{Drawn, Seams, Shape, as_box, hash};
use crate::view::path;
use crate::view::units::Units;

#[derive(Serialize)]
struct HistoryView {
    name: String,
    revision: u32,
    can_undo: Option<String>,
    can_redo: Option<String>,
    revisions: Vec<RevisionView>,
}

#[derive(Serialize)]
struct RevisionView {
    number: u32,
    time: String,
    shown_time: String,
    reason: String,
    parent: Option<u32>,
    current: bool,
    how: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    undo_of: Option<u32>,
    on: Vec<OnView>,
}

#[derive(Serialize)]
struct OnView {
    name: String,
    revision: u32,
}

/// `GET /api/history`
pub(crate) async fn history(State(bench): AtBench, Asked(looked): Asked<Looked>) -> Response {
    bench.answer(move |desk| listed(desk, &looked.name)).await
}

fn listed(desk: &mut Desk, name: &str) -> Answer<HistoryView> {
    let document = desk.document(name)?;
    let [can_undo, can_redo] = desk.ways(&document)?;
    let history = desk.history(&document)?.to_vec();
    let number = |id| {
        history
            .iter()
            .find(|one| one.id == id)
            .map(|one| one.number)
    };
    let mut revisions = history
        .iter()
        .map(|one| {
            Ok(RevisionView {
                number: one.number,
                time: one.time.to_string(),
                shown_time: shown_time(&one.time.to_string()),
                reason: one.reason.clone(),
                parent: one.parent.and_then(number),
                current: one.number == document.revisions,
                how: one.act.word(),
                undo_of: one.again.and_then(number),
                on: on(desk, one)?,
            })
        })
        .collect::<Answer<Vec<_>>>()?;
    revisions.reverse();
    Ok(HistoryView {
        name: document.name.to_string(),
        revision: document.revisions,
        can_undo,
        can_redo,
        revisions,
    })
}

fn on(desk: &Desk, revision: &Revision) -> Answer<Vec<OnView>> {
    let links = revision.links.iter();
    links
        .map(|link| {
            let link = desk.book.revision(*link)?;
            Ok(OnView {
                name: link.document.to_string(),
                revision: link.number,
            })
        })
        .collect()
}

/// `2026-12-01T11:02:33.120Z` as a person reads it: `2026-12-01, 11:02 UTC`.
pub(crate) fn shown_time(time: &str) -> String {
    match time.split_once('T') {
        Some((day, clock)) => {
            let clock: String = clock.chars().take(5).collect();
            format!("{day}, {clock} UTC")
        }
        None => time.to_owned(),
    }
}

#[derive(Debug, Deserialize)]
pub(crate) struct Two {
    name: String,
    a: u32,
    b: u32,
    #[serde(default)]
    units: Units,
}

#[derive(Serialize)]
struct OverlayView {
    name: String,
    a: u32,
    b: u32,
    drawing: Option<DrawingView>,
    said: Vec<String>,
    rows: Vec<Vec<String>>,
    difference: Value,
}

/// `GET /api/history/overlay`
pub(crate) async fn overlay(State(bench): AtBench, Asked(two): Asked<Two>) -> Response {
    bench.answer(move |desk| laid_over(desk, &two)).await
}

fn laid_over(desk: &mut Desk, two: &Two) -> Answer<OverlayView> {
    let document = desk.document(&two.name)?;
    let [a, b] = [two.a, two.b].map(|number| desk.numbered(&document.name, number));
    let (a, b) = (a?, b?);
    let texts = [desk.book.text(a.id)?, desk.book.text(b.id)?];
    let mut view = OverlayView {
        name: document.name.to_string(),
        a: two.a,
        b: two.b,
        drawing: None,
        said: Vec::new(),
        rows: Vec::new(),
        difference: line_difference(&texts[0], &texts[1]),
    };
    if matches!(document.kind, Kind::Garment | Kind::Block) {
        let drafts = [desk.past(&a)?, desk.past(&b)?];
        let [a, b] = drafts.map(|draft| draft.map_err(|findings| not_drafted(&findings)));
        let (a, b) = (a?, b?);
        let (one, other) = (&a.garment.pattern, &b.garment.pattern);
        let differs = differ(one, other, Look::Overlaid);
        view.said = differs
            .said
            .iter()
            .map(|said| making::words::sentence(said))
            .collect();
        if differs.is_nothing() {
            view.said.push("No line of the pattern moved.".to_owned());
        }
        view.rows = differs.rows;
        view.drawing = Some(drawn(one, other, two.units));
    }
    Ok(view)
}

/// The second pattern with the first under it as a ghost.
fn drawn(one: &Pattern, other: &Pattern, units: Units) -> DrawingView {
    let seams = Seams::new();
    let alone = shell_pieces(one).filter(|piece| other.piece(&piece.name).is_none());
    let both: Vec<(Option<&Piece>, &Piece)> = shell_pieces(other)
        .map(|piece| (one.piece(&piece.name), piece))
        .chain(alone.map(|piece| (Some(piece), piece)))
        .collect();
    let drawn: Vec<(&str, Drawn, Option<Piece>)> = both
        .into_iter()
        .map(|(old, new)| {
            let ghost = old.map(|old| drawing::moved(old, drawing::overlay(old, new)));
            (new.name.as_str(), Drawn::of(new, &seams, units).0, ghost)
        })
        .collect();
    let boxes: Vec<(&str, Rect)> = drawn
        .iter()
        .map(|(name, drawn, ghost)| {
            let ghost = ghost
                .as_ref()
                .map(|ghost| ghost.outline_path().control_box());
            (
                *name,
                ghost.map_or(drawn.bounds, |ghost| drawn.bounds.union(ghost)),
            )
        })
        .collect();
    let table = Table::laid(&boxes);
    let pieces = drawn.iter().map(|(name, drawn, ghost)| {
        let letters = with_ghost(&drawn.letters, name, ghost.as_ref());
        piece_json(name, table.at(name).to_point(), &hash(&letters), &letters)
    });
    DrawingView {
        r#box: as_box(table.whole()),
        pieces: pieces.collect(),
    }
}

/// The letters of a piece with one shape more, before all others.
fn with_ghost(letters: &str, name: &str, ghost: Option<&Piece>) -> String {
    let Some(ghost) = ghost else {
        return letters.to_owned();
    };
    let shape = Shape::path(
        format!("{name}.ghost"),
        "ghost",
        path::letters(&ghost.outline_path()),
    );
    let shape = serde_json::to_string(&shape).expect("a shape can be written as JSON");
    letters.replacen("\"shapes\":[", &format!("\"shapes\":[{shape},"), 1)
}

#[derive(Debug, Deserialize)]
pub(crate) struct GoBack {
    name: String,
    to: u32,
    #[serde(default)]
    reason: Option<String>,
    #[serde(default)]
    known: Hashes,
}

/// `POST /api/history/go-back`
pub(crate) async fn go_back(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(wish): Sent<GoBack>,
) -> Response {
    bench
        .answer(move |desk| {
            let document = desk.document(&wish.name)?;
            let said = gone_back(desk, &document, &wish)?;
            let named = Named {
                name: wish.name,
                known: wish.known,
            };
            document_view(desk, &named, units, Some(said))
        })
        .await
}

fn gone_back(desk: &mut Desk, document: &Document, wish: &GoBack) -> Answer<String> {
    let to = desk.numbered(&document.name, wish.to)?;
    if to.number == document.revisions {
        return Err(Problem::refused(
            "revision-is-newest",
            "This revision is the newest; there is nothing to go back to.",
        )
        .next("Choose an earlier one."));
    }
    let given = wish.reason.as_deref().unwrap_or_default().trim();
    let reason = if given.is_empty() {
        format!("back to revision {}", to.number)
    } else {
        format!("back to revision {}: {given}", to.number)
    };
    desk.book.go_back(&document.name, to.id, &reason)?;
    Ok(format!(
        "{}. Kept as revision {}; what came after stays in the history.",
        making::words::sentence(&reason),
        document.revisions + 1
    ))
}

#[derive(Debug, Deserialize)]
pub(crate) struct Since {
    name: String,
    from: u32,
}

#[derive(Serialize)]
struct SinceView {
    newest: u32,
    reason: String,
    difference: Value,
}

/// `GET /api/difference`
pub(crate) async fn difference(State(bench): AtBench, Asked(since): Asked<Since>) -> Response {
    bench
        .answer(move |desk| {
            let document = desk.document(&since.name)?;
            let from = desk.numbered(&document.name, since.from)?;
            let before = desk.book.text(from.id)?;
            let now = desk.source(&document)?;
            Ok(SinceView {
                newest: document.revisions,
                reason: desk.book.revision(document.newest)?.reason,
                difference: line_difference(&before, &now.text),
            })
        })
        .await
}
