//! A body: looked at, tried on while it is typed, kept.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::extract::State;
use axum::response::Response;
use body::Measure;
use book::Kind;
use document::mend::apply;
use document::{Change, Source};
use serde::Deserialize;

use super::{AtBench, InUnits, Looked};
use crate::desk::{Desk, first_entry, not_drafted};
use crate::http::answer::{Answer, Problem};
use crate::http::asked::{Asked, Sent};
use crate::view::body::{BodyView, Typed, view};
use crate::view::units::Units;

/// What was typed: texts by the keys of measures.
type Written = BTreeMap<String, Vec<String>>;

/// `GET /api/body`
pub(crate) async fn body(State(bench): AtBench, Asked(looked): Asked<Looked>) -> Response {
    bench
        .answer(move |desk| look(desk, &looked.name, looked.units))
        .await
}

/// The whole view of a body.
pub(crate) fn look(desk: &mut Desk, name: &str, units: Units) -> Answer<BodyView> {
    let document = body_document(desk, name)?;
    let source = desk.source(&document)?;
    view(desk, &document, &source, &Typed::default(), units)
}

fn body_document(desk: &Desk, name: &str) -> Answer<book::Document> {
    let document = desk.document(name)?;
    if document.kind == Kind::Body {
        return Ok(document);
    }
    Err(Problem::refused(
        "not-a-body",
        format!("{} is no body but a {}.", document.name, document.kind),
    )
    .next("Open it in its own chapter."))
}

#[derive(Debug, Deserialize)]
pub(crate) struct Try {
    name: String,
    measures: Written,
}

/// `POST /api/body/try`
pub(crate) async fn try_on(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(tried): Sent<Try>,
) -> Response {
    bench
        .answer(move |desk| {
            let document = body_document(desk, &tried.name)?;
            let source = desk.source(&document)?;
            let (source, typed) = typed(&source, &tried.measures, units)?;
            view(desk, &document, &source, &typed, units)
        })
        .await
}

#[derive(Debug, Deserialize)]
pub(crate) struct Keep {
    name: String,
    on: u32,
    measures: Written,
    reason: Option<String>,
}

/// `POST /api/body/keep`
pub(crate) async fn keep(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(keep): Sent<Keep>,
) -> Response {
    bench.answer(move |desk| kept(desk, &keep, units)).await
}

fn kept(desk: &mut Desk, keep: &Keep, units: Units) -> Answer<BodyView> {
    let document = body_document(desk, &keep.name)?;
    desk.check_newest(&document, keep.on)?;
    let before = desk.source(&document)?;
    let (source, typed) = typed(&before, &keep.measures, units)?;
    if let Some((key, finding)) = typed.refused.into_iter().next() {
        let label =
            Measure::from_key(&key).map_or_else(|| key.clone(), |one| one.label().to_owned());
        return Err(Problem::from(finding).with("measure", label.into()));
    }
    if source.text == before.text {
        let mut view = look(desk, &keep.name, units)?;
        view.said = Some("Nothing changed.".to_owned());
        return Ok(view);
    }
    body::read(&source).map_err(|findings| not_drafted(&findings))?;
    let reason = keep
        .reason
        .clone()
        .filter(|reason| !reason.trim().is_empty());
    let reason = reason.unwrap_or_else(|| reason_of(&typed.kept));
    desk.add(&document, &source.text, &reason, &[])?;
    let mut view = look(desk, &keep.name, units)?;
    view.said = Some(format!(
        "{}. Kept as revision {}.",
        making::words::sentence(&reason),
        document.revisions + 1
    ));
    Ok(view)
}

fn reason_of(measures: &Written) -> String {
    let said: Vec<String> = measures
        .iter()
        .map(|(key, texts)| {
            let label =
                Measure::from_key(key).map_or_else(|| key.clone(), |one| one.label().to_owned());
            if texts.is_empty() {
                format!("{label} taken away")
            } else {
                format!("{label} {}", texts.join(" and "))
            }
        })
        .collect();
    making::words::listed(&said)
}

/// The text of a body with what was typed in it, and what of that cannot stand there.
fn typed(source: &Arc<Source>, measures: &Written, units: Units) -> Answer<(Arc<Source>, Typed)> {
    let mut typed = Typed::default();
    let mut now = Arc::clone(source);
    for (key, texts) in measures {
        let measure = Measure::from_key(key).ok_or_else(|| {
            Problem::refused("measure-unknown", "There is no measure of this name.")
        })?;
        if texts.len() > 20 {
            return Err(Problem::refused(
                "readings-too-many",
                "At most 20 readings of one measure are kept.",
            ));
        }
        let mut good = Vec::new();
        for text in texts
            .iter()
            .map(|text| text.trim())
            .filter(|text| !text.is_empty())
        {
            match crate::view::body::reading(measure, text, units) {
                Ok(text) => good.push(text),
                Err(finding) => {
                    typed.refused.insert(key.clone(), *finding);
                }
            }
        }
        typed.written.insert(key.clone(), texts.clone());
        now = with_readings(&now, key, &good)?;
        typed.kept.insert(key.clone(), good);
    }
    Ok((now, typed))
}

/// The text with these readings of a measure, and no others; dates and notes of readings that stay are kept.
fn with_readings(source: &Arc<Source>, key: &str, texts: &[String]) -> Answer<Arc<Source>> {
    let entry = first_entry(source);
    let there = entry.map_or(0, |entry| entry.children_named(key).count());
    let mut changes = Vec::new();
    for (index, text) in texts.iter().enumerate() {
        let value = crate::rewrite::quoted(text);
        if index < there {
            let statement = numbered(key, index);
            changes.push(Change::Value { statement, value });
        } else {
            let (block, line) = (document::mend::Path::default(), format!("{key} {value}"));
            changes.push(Change::Line { block, line });
        }
    }
    for index in (texts.len()..there).rev() {
        let statement = numbered(key, index);
        changes.push(Change::Remove { statement });
    }
    let text = apply(source, &[], &changes)?;
    Ok(Source::new(source.name.clone(), text))
}

fn numbered(key: &str, index: usize) -> document::mend::Path {
    document::mend::Path::from(vec![format!("{key}#{}", index + 1)])
}
