//! Edits of a garment: a number, a step, a cure, and the way back.

use axum::extract::State;
use axum::response::Response;
use document::QuantityFault;
use document::mend::apply;
use garment::recipe::numbers::{Measure, Number};
use serde::Deserialize;
use serde_json::Value;

use super::garment::{garment_document, look};
use super::{AtBench, InUnits, Named, body};
use crate::desk::{Desk, Drafted, not_drafted};
use crate::handles::Turned;
use crate::http::answer::{Answer, Problem};
use crate::http::asked::{Asked, Sent};
use crate::rewrite;
use crate::view::drawing::Hashes;
use crate::view::finding::ids;
use crate::view::garment::GarmentView;
use crate::view::numbers::step_of_id;
use crate::view::units::Units;

/// `POST /api/undo`
pub(crate) async fn undo(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(named): Sent<Named>,
) -> Response {
    bench
        .answer(move |desk| step_in_time(desk, &named, units, Desk::undo))
        .await
}

/// `POST /api/redo`
pub(crate) async fn redo(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(named): Sent<Named>,
) -> Response {
    bench
        .answer(move |desk| step_in_time(desk, &named, units, Desk::redo))
        .await
}

fn step_in_time(
    desk: &mut Desk,
    named: &Named,
    units: Units,
    step: fn(&mut Desk, &book::Name) -> Answer<String>,
) -> Answer<Box<serde_json::value::RawValue>> {
    let document = desk.document(&named.name)?;
    let said = step(desk, &document.name)?;
    document_view(desk, named, units, Some(said))
}

impl Desk {
    fn undo(&mut self, name: &book::Name) -> Answer<String> {
        let id = self.book.undo(name)?;
        self.said_of(id)
    }

    fn redo(&mut self, name: &book::Name) -> Answer<String> {
        let id = self.book.redo(name)?;
        self.said_of(id)
    }

    /// "Undoes revision 3: deeper neckline. Kept as revision 4."
    fn said_of(&self, id: book::RevisionId) -> Answer<String> {
        let revision = self.book.revision(id)?;
        Ok(format!(
            "{}. Kept as revision {}.",
            making::words::sentence(&revision.reason),
            revision.number
        ))
    }
}

/// The view of any document, as the `GET` of its kind gives it.
pub(crate) fn document_view(
    desk: &mut Desk,
    named: &Named,
    units: Units,
    said: Option<String>,
) -> Answer<Box<serde_json::value::RawValue>> {
    use book::Kind;
    let document = desk.document(&named.name)?;
    let view = match document.kind {
        Kind::Body => {
            let mut view = body::look(desk, &named.name, units)?;
            view.said = said;
            serde_json::value::to_raw_value(&view)
        }
        Kind::Garment | Kind::Block => {
            let mut view = look(desk, &named.name, &named.known, units)?;
            view.said = said;
            serde_json::value::to_raw_value(&view)
        }
        Kind::Cloth | Kind::Fitting | Kind::Work => {
            let view = super::text::look(desk, &named.name)?;
            serde_json::value::to_raw_value(&view)
        }
    };
    view.map_err(|_| Problem::mistake())
}

#[derive(Debug, Deserialize)]
pub(crate) struct SetNumber {
    name: String,
    on: u32,
    id: String,
    written: String,
    #[serde(default)]
    known: Hashes,
}

/// `POST /api/garment/number`
pub(crate) async fn number(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(set): Sent<SetNumber>,
) -> Response {
    bench
        .answer(move |desk| set_number(desk, &set, units))
        .await
}

fn set_number(desk: &mut Desk, set: &SetNumber, units: Units) -> Answer<GarmentView> {
    let drafted = at_newest(desk, &set.name, set.on)?;
    let written = set.written.trim();
    let (text, reason) = if let Some((index, parameter)) = step_of_id(&set.id) {
        let fields = [(parameter.to_owned(), written.to_owned())];
        let text = rewrite::with_step_fields(&drafted, steps(&drafted)?, index, &fields)?;
        (text, format!("{parameter} {written}"))
    } else if set.id.starts_with("new.") {
        new_step(&drafted, &set.id, written, units)?
    } else {
        let number = Number::find(&set.id).ok_or_else(|| {
            Problem::missing("number-unknown", "There is no number of this name.")
        })?;
        let label = number.label;
        if written.is_empty() {
            let text = rewrite::without_number(&drafted, number)?;
            (text, format!("{label} as usual"))
        } else {
            let value = value_of(number, written, units);
            let shown = value.trim_matches('"').to_owned();
            let text = rewrite::with_number(&drafted, number, value)?;
            (text, format!("{label} {shown}"))
        }
    };
    keep(desk, &drafted, (&text, &reason), &set.known, units)
}

/// The text with a step that is begun by typing its number, and why.
fn new_step(drafted: &Drafted, id: &str, written: &str, units: Units) -> Answer<(String, String)> {
    let draft = drafted
        .draft
        .as_ref()
        .map_err(|findings| not_drafted(findings))?;
    let turned = Turned::all(drafted, draft)
        .into_iter()
        .find(|one| one.id() == id);
    let turned = turned
        .ok_or_else(|| Problem::missing("number-unknown", "There is no number of this name."))?;
    let with_unit = format!("{written} {}", units.usual());
    let length = document::parse_length(written).or_else(|fault| match fault {
        QuantityFault::NoUnit => document::parse_length(&with_unit),
        other => Err(other),
    });
    let length = length.map_err(|fault| {
        Problem::refused(
            "length-not-readable",
            format!("“{written}” is no length: {fault}."),
        )
        .next("Write it like “25 mm” or “1 in”.")
    })?;
    let (least, most) = turned.bounds(draft).unwrap_or((f64::MIN, f64::MAX));
    if !(least..=most).contains(&length.mm()) {
        let bounds = format!(
            "From {} to {} is allowed.",
            units.length(least),
            units.length(most)
        );
        return Err(
            Problem::refused("out-of-bounds", "That is too little or too much.").next(bounds),
        );
    }
    let text = rewrite::changed(drafted, turned.change(draft, length.mm(), units))?;
    Ok((
        text,
        format!("{} {}", turned.label(draft), units.length(length.mm())),
    ))
}

/// A value as it stands in a recipe. A plain number is in the unit that the field shows; what is no length is left to the
/// reader, which says what is wrong with it or works it out.
fn value_of(number: &Number, written: &str, units: Units) -> String {
    match number.measure {
        Measure::Length(..) => match document::parse_length(written) {
            Err(QuantityFault::NoUnit) => rewrite::quoted(&format!("{written} {}", units.usual())),
            _ => rewrite::quoted(written),
        },
        Measure::Ratio(..) | Measure::Count(..) => {
            let written = written.replace(',', ".");
            match written.parse::<f64>() {
                Ok(value) if value.is_finite() && value.abs() < 1e6 => format!("{value}"),
                _ => rewrite::quoted(&written),
            }
        }
        Measure::Word(_) => rewrite::quoted(written),
    }
}

#[derive(Debug, Deserialize)]
pub(crate) struct SetStep {
    name: String,
    on: u32,
    r#do: String,
    index: Option<usize>,
    to: Option<usize>,
    step: Option<String>,
    #[serde(default)]
    fields: serde_json::Map<String, Value>,
    #[serde(default)]
    note: Option<String>,
    #[serde(default)]
    known: Hashes,
}

impl SetStep {
    fn index(&self) -> Answer<usize> {
        self.index.ok_or_else(|| {
            Problem::refused("step-not-named", "It is not said which step is meant.")
        })
    }

    fn fields(&self) -> Vec<(String, String)> {
        let text = |value: &Value| match value {
            Value::String(text) => text.clone(),
            Value::Null => String::new(),
            other => other.to_string(),
        };
        let fields = self.fields.iter();
        fields
            .map(|(name, value)| (name.clone(), text(value)))
            .collect()
    }

    fn note(&self) -> &str {
        self.note.as_deref().unwrap_or_default()
    }
}

/// `POST /api/garment/step`
pub(crate) async fn step(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(set): Sent<SetStep>,
) -> Response {
    bench.answer(move |desk| set_step(desk, &set, units)).await
}

fn set_step(desk: &mut Desk, set: &SetStep, units: Units) -> Answer<GarmentView> {
    let drafted = at_newest(desk, &set.name, set.on)?;
    let steps = steps(&drafted)?;
    let called = |index: usize| {
        let name = steps.get(index).map_or("step", |step| step.kind.name);
        format!("step {}, {}", index + 1, making::words::spoken(name))
    };
    let (text, reason) = match set.r#do.as_str() {
        "add" => {
            let name = set.step.as_deref().unwrap_or_default();
            let kind = pattern::step::find(name).ok_or_else(|| {
                Problem::refused("step-unknown", "There is no step of this name.")
                    .next("Choose one of the steps in the list.")
            })?;
            let text = rewrite::with_step(&drafted, kind, &set.fields(), set.note())?;
            (text, format!("{} added", making::words::spoken(kind.name)))
        }
        "move" => {
            let (index, to) = (set.index()?, set.to.unwrap_or_default());
            let text = rewrite::with_step_moved(&drafted, steps, (index, to))?;
            (text, format!("{} moved to place {}", called(index), to + 1))
        }
        "mute" | "unmute" => {
            let (index, muted) = (set.index()?, set.r#do == "mute");
            let text = rewrite::with_step_muted(&drafted, steps, (index, muted))?;
            let done = if muted { "left out" } else { "taken in again" };
            (text, format!("{} {done}", called(index)))
        }
        "note" => {
            let index = set.index()?;
            let text = rewrite::with_step_note(&drafted, steps, (index, set.note()))?;
            (text, format!("note on {}", called(index)))
        }
        "set" => {
            let index = set.index()?;
            let text = rewrite::with_step_fields(&drafted, steps, index, &set.fields())?;
            (text, format!("{} changed", called(index)))
        }
        "remove" => {
            let index = set.index()?;
            let text = rewrite::without_step(&drafted, steps, index)?;
            (text, format!("{} taken away", called(index)))
        }
        _ => {
            return Err(Problem::refused(
                "deed-unknown",
                "A step can be added, moved, muted, unmuted, noted, set and removed.",
            ));
        }
    };
    keep(desk, &drafted, (&text, &reason), &set.known, units)
}

#[derive(Debug, Deserialize)]
pub(crate) struct Mended {
    name: String,
    on: u32,
    finding: String,
    number: usize,
    code: Option<String>,
    #[serde(default)]
    known: Hashes,
}

/// `POST /api/garment/mend`
pub(crate) async fn mend(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(mended): Sent<Mended>,
) -> Response {
    bench
        .answer(move |desk| put_mend(desk, &mended, units))
        .await
}

fn put_mend(desk: &mut Desk, mended: &Mended, units: Units) -> Answer<GarmentView> {
    let drafted = at_newest(desk, &mended.name, mended.on)?;
    let findings = drafted.findings();
    let at = ids(findings).iter().position(|id| *id == mended.finding);
    let finding = at.map(|at| &findings[at]);
    let finding = finding.filter(|one| mended.code.as_deref().is_none_or(|code| code == one.code));
    let cure = finding.and_then(|one| one.mends.get(mended.number.checked_sub(1)?));
    let cure = cure.ok_or_else(|| {
        Problem::missing("mend-missing", "There is no such cure any more.")
            .next("Look at the findings in the margin as they are now.")
    })?;
    let text = apply(&drafted.source, &drafted.bases, &cure.changes)?;
    let reason = cure.words.trim_end_matches('.').to_owned();
    let (source, before) = (&text, errors(findings));
    let tried = drafted.again(&document::Source::new(
        drafted.source.name.clone(),
        source.as_str(),
    ));
    let after = match &tried {
        Ok(draft) => errors(&draft.findings),
        Err(findings) => return Err(not_drafted(findings)),
    };
    if drafted.draft.is_ok() && after > before {
        return Err(Problem::refused(
            "mend-makes-worse",
            format!("With this cure the garment would have {after} errors instead of {before}; nothing was stored."),
        )
        .next("Choose another cure, or change it by hand."));
    }
    keep(desk, &drafted, (&text, &reason), &mended.known, units)
}

fn errors(findings: &[document::Finding]) -> usize {
    making::report::number_of(findings, document::Severity::Error)
}

/// The garment as a window saw it, if it is the newest still.
pub(crate) fn at_newest(desk: &mut Desk, name: &str, on: u32) -> Answer<std::sync::Arc<Drafted>> {
    let document = garment_document(desk, name)?;
    desk.check_newest(&document, on)?;
    desk.drafted(&document)
}

fn steps(drafted: &Drafted) -> Answer<&[garment::recipe::Step]> {
    match &drafted.draft {
        Ok(draft) => Ok(&draft.recipe.steps),
        Err(findings) => Err(not_drafted(findings)),
    }
}

/// Stores a text and shows what came of it.
pub(crate) fn keep(
    desk: &mut Desk,
    drafted: &Drafted,
    (text, reason): (&str, &str),
    known: &Hashes,
    units: Units,
) -> Answer<GarmentView> {
    let name = drafted.document.name.as_str();
    if text == drafted.source.text {
        let mut view = look(desk, name, known, units)?;
        view.said = Some("Nothing changed.".to_owned());
        return Ok(view);
    }
    let stored = desk.store_garment(drafted, text, reason)?;
    let mut view = look(desk, name, known, units)?;
    view.said = Some(format!(
        "{}. Kept as revision {}.",
        making::words::sentence(reason),
        stored.document.revisions
    ));
    Ok(view)
}
