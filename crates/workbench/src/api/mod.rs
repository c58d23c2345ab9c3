//! What the page can ask, one group a file.
//!
//! Everything that reads the book or drafts runs on a thread of its own, one at a time at the desk. Invariant: a mistake of
//! the program while it answers is told as one, and the desk goes on with what is in the book.

pub(crate) mod answers;
pub(crate) mod body;
pub(crate) mod book;
pub(crate) mod drag;
pub(crate) mod edit;
pub(crate) mod garment;
pub(crate) mod history;
pub(crate) mod lay;
pub(crate) mod notes;
pub(crate) mod parts;
pub(crate) mod print;
pub(crate) mod text;

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::{Arc, Mutex, PoisonError};

use axum::Router;
use axum::extract::State;
use axum::response::{IntoResponse as _, Response};
use axum::routing::{get, post};
use serde::{Deserialize, Serialize};

use crate::desk::Desk;
use crate::http::answer::{Answer, Problem};
use crate::jobs::Jobs;
use crate::view::drawing::Hashes;
use crate::view::units::Units;

/// What all requests share.
pub(crate) struct Bench {
    desk: Mutex<Desk>,
    /// What takes long goes on beside the desk.
    pub(crate) jobs: Jobs,
}

impl Bench {
    pub(crate) fn new(desk: Desk) -> Self {
        Self {
            desk: Mutex::new(desk),
            jobs: Jobs::default(),
        }
    }

    /// Nothing is to be answered any more: what goes on is stopped.
    pub(crate) fn stop(&self) {
        self.jobs.stop_all();
        let mut desk = self.desk.lock().unwrap_or_else(PoisonError::into_inner);
        desk.forget();
    }

    /// Does something at the desk, on a thread that may wait for it.
    pub(crate) fn with_desk<T>(&self, work: impl FnOnce(&mut Desk) -> T) -> T {
        let mut desk = self.desk.lock().unwrap_or_else(PoisonError::into_inner);
        work(&mut desk)
    }

    /// Does something at the desk, away from the threads that talk to the browser.
    pub(crate) async fn at_desk<T: Send + 'static>(
        self: Arc<Self>,
        work: impl FnOnce(&mut Desk) -> Answer<T> + Send + 'static,
    ) -> Answer<T> {
        let done = tokio::task::spawn_blocking(move || {
            // What a mistake left half done is dropped with what was remembered; the book itself is never half written.
            let mut desk = self.desk.lock().unwrap_or_else(PoisonError::into_inner);
            let done = catch_unwind(AssertUnwindSafe(|| work(&mut desk)));
            done.unwrap_or_else(|_| {
                desk.forget();
                Err(Problem::mistake())
            })
        });
        done.await.unwrap_or_else(|_| Err(Problem::mistake()))
    }

    /// The same, answered as JSON, which is written there too.
    pub(crate) async fn answer<T: Serialize + Send + 'static>(
        self: Arc<Self>,
        work: impl FnOnce(&mut Desk) -> Answer<T> + Send + 'static,
    ) -> Response {
        let done = self.at_desk(move |desk| {
            let view = work(desk)?;
            serde_json::to_vec(&view).map_err(|_| Problem::mistake())
        });
        match done.await {
            Ok(bytes) => crate::http::answer::bytes_of("application/json", bytes),
            Err(problem) => problem.into_response(),
        }
    }
}

/// The bench, as handlers get it.
pub(crate) type AtBench = State<Arc<Bench>>;

/// What every look at a document is asked with.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Looked {
    pub(crate) name: String,
    #[serde(default)]
    pub(crate) units: Units,
    /// The pieces that the page has: `known={"front":"0123…"}`.
    #[serde(default)]
    pub(crate) known: Option<String>,
}

impl Looked {
    /// The pieces that the page has; none where what it says of them cannot be read.
    pub(crate) fn hashes(&self) -> Hashes {
        let known = self.known.as_deref().unwrap_or_default();
        serde_json::from_str(known).unwrap_or_default()
    }
}

/// The units of the page, which stand in the address of what is sent too.
#[derive(Clone, Copy, Debug, Default, Deserialize)]
pub(crate) struct InUnits {
    #[serde(default)]
    pub(crate) units: Units,
}

/// A document that was found, and how it is to be shown.
#[derive(Debug, Deserialize)]
pub(crate) struct Named {
    pub(crate) name: String,
    #[serde(default)]
    pub(crate) known: Hashes,
}

/// Everything that can be asked.
pub(crate) fn routes() -> Router<Arc<Bench>> {
    Router::new()
        .route("/api/book", get(book::book))
        .route("/api/book/begin", post(book::begin))
        .route("/api/book/garment", post(book::garment))
        .route("/api/last", get(book::last))
        .route("/api/undo", post(edit::undo))
        .route("/api/redo", post(edit::redo))
        .route("/api/text", get(text::text).post(text::write))
        .route("/api/body", get(body::body))
        .route("/api/body/try", post(body::try_on))
        .route("/api/body/keep", post(body::keep))
        .route("/api/garment", get(garment::garment))
        .route("/api/garment/drag", post(drag::drag))
        .route("/api/garment/drag-end", post(drag::drag_end))
        .route("/api/garment/number", post(edit::number))
        .route("/api/garment/step", post(edit::step))
        .route("/api/garment/mend", post(edit::mend))
        .route("/api/parts", get(parts::parts))
        .route("/api/print", get(print::print))
        .route("/api/print/page", get(print::page))
        .route("/api/print/file", get(print::file))
        .route("/api/lay", get(lay::lay))
        .route("/api/lay/start", post(lay::start))
        .route("/api/lay/now", get(lay::now))
        .route("/api/lay/stop", post(lay::stop))
        .route("/api/lay/answers", post(answers::answers))
        .route("/api/notes", get(notes::notes).post(notes::note))
        .route("/api/history", get(history::history))
        .route("/api/history/overlay", get(history::overlay))
        .route("/api/history/go-back", post(history::go_back))
        .route("/api/difference", get(history::difference))
        .route("/api/{*rest}", axum::routing::any(nothing_there))
}

async fn nothing_there() -> Response {
    Problem::missing("address-unknown", "Nothing answers at this address.").into_response()
}
