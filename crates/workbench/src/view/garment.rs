//! A garment as the chapters of block and style show it.

use std::sync::Arc;

use book::Kind;
use pattern::Pattern;
use serde::Serialize;
use serde_json::value::RawValue;

use super::drawing::{Asked, DrawingView, shell};
use super::finding::{FindingView, Where, views};
use super::numbers::{NumberView, numbers};
use super::partners::{Partner, partners};
use super::steps::{StepView, steps, that_exist};
use super::units::Units;
use crate::desk::{Desk, Drafted};
use crate::handles::{HandleView, new_numbers};
use crate::http::answer::Answer;

/// A garment as JSON.
#[derive(Serialize)]
pub(crate) struct GarmentView {
    name: String,
    title: String,
    kind: &'static str,
    revision: u32,
    on: OnView,
    #[serde(skip_serializing_if = "Option::is_none")]
    newer: Option<Newer>,
    can_undo: Option<String>,
    can_redo: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) said: Option<String>,
    drawing: Option<DrawingView>,
    handles: Vec<HandleView>,
    numbers: Vec<NumberView>,
    steps: Vec<StepView>,
    findings: Vec<FindingView>,
    girths: Vec<GirthView>,
    partners: Vec<Partner>,
    steps_that_exist: &'static RawValue,
    text: String,
}

#[derive(Serialize)]
struct OnView {
    body: Option<Stand>,
    base: Option<Stand>,
}

#[derive(Serialize)]
struct Stand {
    name: String,
    revision: u32,
}

#[derive(Serialize)]
struct Newer {
    words: String,
}

/// How far a level goes round.
#[derive(Serialize)]
pub(crate) struct GirthView {
    level: String,
    body: String,
    ease: String,
    closed: String,
    has: String,
}

/// The whole view of a garment, drawn anew.
pub(crate) fn view(
    desk: &mut Desk,
    drafted: &Arc<Drafted>,
    asked: Asked<'_>,
) -> Answer<GarmentView> {
    let [can_undo, can_redo] = desk.ways(&drafted.document)?;
    let newer = newer(desk, drafted)?;
    let draft = drafted.draft.as_ref().ok();
    let found = draft.map(|draft| desk.handles(drafted, draft));
    let remembered = desk.remembered(&drafted.document.name);
    let drawn = draft.map(|draft| shell(&draft.garment.pattern, &mut remembered.shell, asked));
    let (drawing, mut findings) = match drawn {
        Some((drawing, findings)) => (Some(drawing), findings),
        None => (None, Vec::new()),
    };
    let handles = match (found, draft) {
        (Some(found), Some(draft)) => found.views(draft, &remembered.shell.table, asked.units),
        _ => Vec::new(),
    };
    findings.extend(drafted.findings().iter().cloned());
    let pattern = draft.map(|draft| (&draft.garment.pattern, &remembered.shell.table));
    let wherever = Where {
        pattern,
        texts: Some((&drafted.source, &drafted.bases)),
    };
    Ok(GarmentView {
        name: drafted.document.name.to_string(),
        title: title(drafted),
        kind: kind(drafted),
        revision: drafted.document.revisions,
        on: on(drafted),
        newer,
        can_undo,
        can_redo,
        said: None,
        drawing,
        handles,
        numbers: draft.map_or_else(Vec::new, |draft| {
            let mut all = numbers(&draft.recipe, drafted.entry.as_ref(), asked.units);
            all.extend(new_numbers(drafted, draft, asked.units));
            all
        }),
        steps: draft.map_or_else(Vec::new, |draft| steps(draft, &drafted.source, asked.units)),
        findings: views(&findings, wherever),
        girths: draft.map_or_else(Vec::new, |draft| {
            girths(&draft.garment.pattern, asked.units)
        }),
        partners: draft.map_or_else(Vec::new, |draft| partners(&draft.garment.pattern)),
        steps_that_exist: that_exist(),
        text: drafted.source.text.clone(),
    })
}

/// The name that its maker gave it, or that of its document.
pub(crate) fn title(drafted: &Drafted) -> String {
    let own = drafted.entry.as_ref();
    let named = own.and_then(|own| own.arguments().first()?.text().ok());
    named.map_or_else(
        || drafted.document.name.to_string(),
        making::words::printable,
    )
}

fn kind(drafted: &Drafted) -> &'static str {
    if drafted.document.kind == Kind::Block {
        return "block";
    }
    match &drafted.draft {
        Ok(draft) if draft.recipe.bodice.is_none() => "skirt",
        _ => "dress",
    }
}

fn on(drafted: &Drafted) -> OnView {
    let stand = |revision: &book::Revision| Stand {
        name: revision.document.to_string(),
        revision: revision.number,
    };
    OnView {
        body: drafted.stands.body.as_ref().map(stand),
        base: drafted.stands.bases.first().map(stand),
    }
}

/// What has changed since this garment was last changed, of what it stands on.
fn newer(desk: &mut Desk, drafted: &Drafted) -> Answer<Option<Newer>> {
    let revision = desk.book.revision(drafted.document.newest)?;
    let mut changed = Vec::new();
    for used in drafted.stands.all() {
        if !revision.links.contains(&used.id) {
            changed.push(format!("{} (now revision {})", used.document, used.number));
        }
    }
    Ok((!changed.is_empty()).then(|| Newer {
        words: format!(
            "Since this was last changed, {} changed under it; it is drawn on the newest.",
            making::words::listed(&changed)
        ),
    }))
}

/// What the garment measures round the body.
pub(crate) fn girths(pattern: &Pattern, units: Units) -> Vec<GirthView> {
    let girths = pattern.girths.iter();
    girths
        .map(|girth| {
            let closed = pattern.girth(girth);
            let least = if girth.at_least { "at least " } else { "" };
            GirthView {
                level: making::words::sentence(&making::words::spoken(&girth.level)),
                body: units.of_body(girth.body),
                ease: format!("{least}{}", units.rough(girth.ease)),
                closed: units.of_body(closed),
                has: units.rough(closed - girth.body),
            }
        })
        .collect()
}
