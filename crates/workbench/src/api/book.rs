//! The book as a whole: what is in it, how it is begun.

use axum::extract::State;
use axum::response::Response;
use book::{Document, Kind};
use serde::{Deserialize, Serialize};
use sheet::PaperSize;

use super::AtBench;
use crate::begin::Wish;
use crate::desk::Desk;
use crate::http::answer::{Answer, Problem};
use crate::http::asked::Sent;

#[derive(Serialize)]
struct BookView {
    path: String,
    last: i64,
    empty: bool,
    documents: Vec<DocumentView>,
    papers: Vec<PaperView>,
}

#[derive(Serialize)]
struct DocumentView {
    name: String,
    kind: &'static str,
    title: String,
    revision: u32,
    time: String,
    #[serde(skip_serializing_if = "Option::is_none")]
    body: Option<String>,
    stands_on: Vec<String>,
}

#[derive(Serialize)]
pub(crate) struct PaperView {
    name: &'static str,
    title: String,
}

/// `GET /api/book`
pub(crate) async fn book(State(bench): AtBench) -> Response {
    bench.answer(view).await
}

#[derive(Serialize)]
struct Last {
    last: i64,
}

/// `GET /api/last`
pub(crate) async fn last(State(bench): AtBench) -> Response {
    bench
        .answer(|desk| {
            Ok(Last {
                last: newest(desk)?,
            })
        })
        .await
}

#[derive(Debug, Deserialize)]
pub(crate) struct Begin {
    how: String,
    #[serde(default)]
    name: String,
}

/// `POST /api/book/begin`
pub(crate) async fn begin(State(bench): AtBench, Sent(wish): Sent<Begin>) -> Response {
    bench
        .answer(move |desk| {
            match wish.how.as_str() {
                "demo" => desk.begin_demo()?,
                "own" => {
                    desk.begin_own(&wish.name)?;
                }
                _ => {
                    return Err(Problem::refused(
                        "beginning-unknown",
                        "A book is begun with the demo or with your own measures.",
                    )
                    .next("Send how: demo, or how: own."));
                }
            }
            view(desk)
        })
        .await
}

/// What was begun, beside the book.
#[derive(Serialize)]
struct Begun {
    begun: String,
    #[serde(flatten)]
    book: BookView,
}

/// `POST /api/book/garment`
pub(crate) async fn garment(State(bench): AtBench, Sent(wish): Sent<Wish>) -> Response {
    bench
        .answer(move |desk| {
            let begun = desk.begin_garment(&wish)?.name.to_string();
            let book = view(desk)?;
            Ok(Begun { begun, book })
        })
        .await
}

fn newest(desk: &Desk) -> Answer<i64> {
    Ok(desk.book.last()?.map_or(0, book::RevisionId::number))
}

fn view(desk: &mut Desk) -> Answer<BookView> {
    let documents = desk.book.documents()?;
    let views = documents
        .iter()
        .map(|one| document(desk, one))
        .collect::<Answer<Vec<_>>>()?;
    Ok(BookView {
        path: desk.book.path().display().to_string(),
        last: newest(desk)?,
        empty: documents.is_empty(),
        documents: views,
        papers: papers(),
    })
}

fn document(desk: &mut Desk, document: &Document) -> Answer<DocumentView> {
    let source = desk.source(document)?;
    let entry = crate::desk::first_entry(&source);
    let titled = entry
        .as_ref()
        .and_then(|entry| entry.arguments().first()?.text().ok());
    let title = titled.map_or_else(|| document.name.to_string(), making::words::printable);
    let links = desk.book.revision(document.newest)?.links;
    let mut stands_on = Vec::new();
    let mut body = None;
    for link in links {
        let link = desk.book.revision(link)?;
        if link.kind == Kind::Body {
            body = Some(link.document.to_string());
        }
        stands_on.push(link.document.to_string());
    }
    Ok(DocumentView {
        name: document.name.to_string(),
        kind: document.kind.word(),
        title,
        revision: document.revisions,
        time: document.time.to_string(),
        body,
        stands_on,
    })
}

/// The papers on which a pattern is printed.
pub(crate) fn papers() -> Vec<PaperView> {
    let papers = PaperSize::ALL.into_iter();
    papers
        .map(|size| PaperView {
            name: size.name(),
            title: size.title().to_owned(),
        })
        .collect()
}
