//! Documents as texts, for whoever writes them by hand.

use axum::extract::State;
use axum::response::Response;
use book::Kind;
use document::{Finding, Source};
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::{AtBench, Looked};
use crate::desk::{Desk, not_drafted};
use crate::http::answer::Answer;
use crate::http::asked::{Asked, Sent};
use crate::view::finding::plain_findings;

/// A document as a text.
#[derive(Serialize)]
pub(crate) struct TextView {
    name: String,
    kind: &'static str,
    text: String,
    revision: u32,
    #[serde(skip_serializing_if = "Option::is_none")]
    findings: Option<Value>,
}

/// `GET /api/text`
pub(crate) async fn text(State(bench): AtBench, Asked(looked): Asked<Looked>) -> Response {
    bench.answer(move |desk| look(desk, &looked.name)).await
}

/// The text of a document.
pub(crate) fn look(desk: &mut Desk, name: &str) -> Answer<TextView> {
    let document = desk.document(name)?;
    let source = desk.source(&document)?;
    Ok(TextView {
        name: document.name.to_string(),
        kind: document.kind.word(),
        text: source.text.clone(),
        revision: document.revisions,
        findings: None,
    })
}

#[derive(Debug, Deserialize)]
pub(crate) struct Write {
    name: String,
    on: u32,
    text: String,
    #[serde(default)]
    reason: String,
}

/// `POST /api/text`
pub(crate) async fn write(State(bench): AtBench, Sent(write): Sent<Write>) -> Response {
    bench.answer(move |desk| written(desk, &write)).await
}

fn written(desk: &mut Desk, write: &Write) -> Answer<TextView> {
    let document = desk.document(&write.name)?;
    desk.check_newest(&document, write.on)?;
    let source = Source::new(document.name.as_str(), write.text.as_str());
    let reason = if write.reason.trim().is_empty() {
        "written by hand"
    } else {
        write.reason.trim()
    };
    let (findings, links) = match document.kind {
        Kind::Garment | Kind::Block => {
            let after = desk.draft(&document, &source)?;
            // What cannot be read is not stored; what can be read and not drafted is work under way.
            let unread = after.entry.is_none() || after.stands.body.is_none();
            if let (Err(findings), true) = (&after.draft, unread) {
                return Err(not_drafted(findings));
            }
            (after.findings().to_vec(), after.stands.links())
        }
        Kind::Body => (read(body::read(&source).map(drop))?, Vec::new()),
        Kind::Cloth | Kind::Fitting | Kind::Work => {
            (read(document::parse(&source).map(drop))?, Vec::new())
        }
    };
    desk.add(&document, &write.text, reason, &links)?;
    let mut view = look(desk, &write.name)?;
    view.findings = Some(plain_findings(&findings));
    Ok(view)
}

fn read(result: Result<(), Vec<Finding>>) -> Answer<Vec<Finding>> {
    match result {
        Ok(()) => Ok(Vec::new()),
        Err(findings) => Err(not_drafted(&findings)),
    }
}
