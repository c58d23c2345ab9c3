//! A body as the measuring page shows it: every measure with how it is taped, what it is now and whether that can be.
//!
//! Invariant: what is drawn and judged is what stands in the text that is given, stored or only tried.

use std::collections::BTreeMap;
use std::sync::Arc;

use body::{Body, Measure, Origin, Tape};
use book::Document;
use document::{Finding, Place, Severity, Source, parse_length};
use figure::{Group, Side, Style};
use geometry::{Point, Rect};
use serde::Serialize;
use serde_json::{Value, json};
use sheet::{Item, Layer, Panel, Shape as Drawing};

use super::drawing::{DrawingView, piece_json};
use super::drawn::{Shape, Text, as_box, hash, letters};
use super::finding::{FindingView, Where, ids, views};
use super::path;
use super::units::Units;
use crate::desk::Desk;
use crate::http::answer::Answer;

/// What a person has typed and what of it cannot be read.
#[derive(Default)]
pub(crate) struct Typed {
    /// Texts by measures, as they were typed.
    pub(crate) written: BTreeMap<String, Vec<String>>,
    /// Those that can stand there, each with its unit.
    pub(crate) kept: BTreeMap<String, Vec<String>>,
    /// What cannot stand there.
    pub(crate) refused: BTreeMap<String, Finding>,
}

/// A body as JSON.
#[derive(Serialize)]
pub(crate) struct BodyView {
    name: String,
    title: String,
    revision: u32,
    can_undo: Option<String>,
    can_redo: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) said: Option<String>,
    groups: Vec<GroupView>,
    figures: Figures,
    findings: Vec<FindingView>,
    summary: Summary,
}

#[derive(Serialize)]
struct GroupView {
    title: &'static str,
    figure: GroupFigure,
    measures: Vec<MeasureView>,
}

/// From which sides a group's measures are seen best.
#[derive(Serialize)]
struct GroupFigure {
    sides: Vec<&'static str>,
    words: String,
}

#[derive(Serialize)]
struct MeasureView {
    key: &'static str,
    label: String,
    also: &'static str,
    what: &'static str,
    how: &'static str,
    helped: &'static str,
    side: &'static str,
    number: usize,
    needed: bool,
    written: Vec<String>,
    value: f64,
    shown: String,
    spread_shown: String,
    origin: &'static str,
    origin_words: String,
    plausible: &'static str,
    finding_ids: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    asks: Option<Value>,
}

#[derive(Serialize)]
struct Figures {
    front: DrawingView,
    side: DrawingView,
    back: DrawingView,
}

#[derive(Serialize)]
struct Summary {
    taped: usize,
    needed: usize,
    needed_taped: usize,
    estimated: usize,
    words: String,
}

/// The view of a text of a body.
pub(crate) fn view(
    desk: &mut Desk,
    document: &Document,
    source: &Arc<Source>,
    typed: &Typed,
    units: Units,
) -> Answer<BodyView> {
    let [can_undo, can_redo] = desk.ways(document)?;
    let (tape, mut findings) = match body::read(source) {
        Ok(tape) => (tape, Vec::new()),
        Err(findings) => (Tape::new(""), findings),
    };
    let body = body::complete(&tape);
    findings.extend(typed.refused.values().cloned());
    findings.extend(body::plausible::findings(&tape, &body));
    let findings = with_measures(findings, &tape);
    let title = if tape.name().is_empty() {
        document.name.to_string()
    } else {
        making::words::printable(tape.name())
    };
    let known = Known {
        tape: &tape,
        body: &body,
        typed,
        findings: &findings,
        ids: ids(&findings),
        units,
    };
    Ok(BodyView {
        name: document.name.to_string(),
        title,
        revision: document.revisions,
        can_undo,
        can_redo,
        said: None,
        groups: Group::ALL.iter().map(|group| known.group(group)).collect(),
        figures: Figures {
            front: figure(&body, Side::Front),
            side: figure(&body, Side::Profile),
            back: figure(&body, Side::Back),
        },
        findings: views(&findings, Where::default()),
        summary: known.summary(),
    })
}

/// Everything known of a body.
struct Known<'a> {
    tape: &'a Tape,
    body: &'a Body,
    typed: &'a Typed,
    findings: &'a [Finding],
    ids: Vec<String>,
    units: Units,
}

impl Known<'_> {
    fn group(&self, group: &Group) -> GroupView {
        let mut sides: Vec<&'static str> = Vec::new();
        for measure in group.measures {
            let side = figure::best_side(*measure).word();
            if !sides.contains(&side) {
                sides.push(side);
            }
        }
        let labels: Vec<String> = group
            .measures
            .iter()
            .map(|measure| measure.label().to_owned())
            .collect();
        GroupView {
            title: group.title,
            figure: GroupFigure {
                sides,
                words: format!("{}: {}", group.title, making::words::listed(&labels)),
            },
            measures: group
                .measures
                .iter()
                .map(|one| self.measure(*one))
                .collect(),
        }
    }

    fn measure(&self, measure: Measure) -> MeasureView {
        let about = measure.about();
        let estimate = self.body.value(measure);
        let (origin, origin_words) = match &estimate.origin {
            Origin::Measured { readings: 1 } => ("taped", "taped".to_owned()),
            Origin::Measured { readings } => ("taped", format!("mean of {readings} readings")),
            Origin::Estimated { from } => ("estimated", format!("estimated from {from}")),
        };
        let found: Vec<(&Finding, &String)> = self
            .findings
            .iter()
            .zip(&self.ids)
            .filter(|(finding, _)| names(finding, measure))
            .collect();
        let worst = found.iter().map(|(finding, _)| finding.severity).max();
        MeasureView {
            key: about.key,
            label: making::words::sentence(about.label),
            also: about.also,
            what: about.definition,
            how: about.alone,
            helped: about.helped,
            side: figure::best_side(measure).word(),
            number: figure::number(measure),
            needed: about.minimum,
            written: self.written(measure),
            value: path::rounded(estimate.value),
            shown: self.shown(measure, estimate.value),
            spread_shown: format!("± {}", self.spread(measure, estimate.sd)),
            origin,
            origin_words,
            plausible: match worst {
                Some(Severity::Error) => "error",
                Some(Severity::Warning) => "odd",
                Some(Severity::Note) | None => "ok",
            },
            finding_ids: found.iter().map(|(_, id)| (*id).clone()).collect(),
            asks: self.asks(measure),
        }
    }

    /// The readings as they were written, or typed just now.
    fn written(&self, measure: Measure) -> Vec<String> {
        if let Some(typed) = self.typed.written.get(measure.key()) {
            return typed.clone();
        }
        let readings = self.tape.readings(measure).iter();
        readings
            .filter_map(|reading| {
                let text = reading.span.as_ref()?.text();
                Some(text.trim_matches('"').to_owned())
            })
            .collect()
    }

    fn shown(&self, measure: Measure, value: f64) -> String {
        if measure.is_angle() {
            format!("{value:.1}°")
        } else {
            self.units.of_body(value)
        }
    }

    fn spread(&self, measure: Measure, value: f64) -> String {
        match (measure.is_angle(), self.units) {
            (true, _) => format!("{value:.1}°"),
            (false, Units::Metric) => format!("{:.1} cm", value / 10.0),
            (false, Units::Inch) => format!("{:.1} in", value / geometry::Length::MM_PER_INCH),
        }
    }

    /// What a person is asked who wrote a number that cannot be, or no unit: in which unit it can be.
    fn asks(&self, measure: Measure) -> Option<Value> {
        let odd = self.findings.iter().any(|finding| {
            names(finding, measure)
                && (finding.code == "unit-slip" || finding.code.ends_with("not-readable"))
        });
        if !odd || measure.is_angle() {
            return None;
        }
        let written = self.written(measure);
        let text = written.iter().rev().find(|text| !text.trim().is_empty())?;
        let figure = figure_of(text)?;
        let others = in_units(measure, &figure);
        let others: Vec<&(&str, f64)> = others
            .iter()
            .filter(|(unit, _)| !text.trim().ends_with(unit))
            .collect();
        let (unit, _) = others.first()?;
        let mends: Vec<Value> = others
            .iter()
            .map(|(unit, mm)| {
                json!({
                    "words": format!("{figure} {unit}, which is {}", other_unit(unit, *mm)),
                    "written": [format!("{figure} {unit}")],
                })
            })
            .collect();
        let named = match *unit {
            "in" => "inches",
            "cm" => "centimetres",
            _ => "millimetres",
        };
        Some(json!({ "words": format!("{text}: is that {named}?"), "mends": mends }))
    }

    fn summary(&self) -> Summary {
        let taped = self.tape.measured().count();
        let needed = Measure::ALL.into_iter().filter(|one| one.about().minimum);
        let (needed, needed_taped) = needed.fold((0, 0), |(all, taped), one| {
            (all + 1, taped + usize::from(self.body.is_measured(one)))
        });
        let (errors, warnings) = [Severity::Error, Severity::Warning]
            .map(|one| making::report::number_of(self.findings, one))
            .into();
        let agreement = match (errors, warnings) {
            (0, 0) => "They agree with each other.".to_owned(),
            (0, warnings) => format!(
                "{} worth a second look.",
                if warnings == 1 {
                    "One is".to_owned()
                } else {
                    format!("{warnings} are")
                }
            ),
            (errors, _) => format!(
                "{} cannot be right.",
                if errors == 1 {
                    "One".to_owned()
                } else {
                    errors.to_string()
                }
            ),
        };
        Summary {
            taped,
            needed,
            needed_taped,
            estimated: Measure::COUNT - taped,
            words: format!(
                "{} of the {needed} measures that a bodice needs are taped, {taped} of all {}; the others are estimated. {agreement}",
                needed_taped,
                Measure::COUNT
            ),
        }
    }
}

/// The findings with measures where they speak of readings.
fn with_measures(mut findings: Vec<Finding>, tape: &Tape) -> Vec<Finding> {
    let measure_at = |place: &Place| {
        let Place::Text { span, .. } = place else {
            return None;
        };
        Measure::ALL.into_iter().find(|measure| {
            let readings = tape.readings(*measure).iter();
            readings
                .into_iter()
                .any(|reading| reading.span.as_ref() == Some(span))
        })
    };
    for place in findings.iter_mut().flat_map(|finding| &mut finding.places) {
        if let Some(measure) = measure_at(place) {
            *place = Place::Measure(measure.key().to_owned());
        }
    }
    findings
}

/// Whether a finding speaks of a measure.
fn names(finding: &Finding, measure: Measure) -> bool {
    let is = |place: &Place| matches!(place, Place::Measure(key) if key == measure.key());
    finding.places.iter().any(is)
}

/// The bare figure of a text: `29` of "29", "29 cm" and "29 \"".
fn figure_of(text: &str) -> Option<String> {
    let end = text
        .find(|letter: char| !(letter.is_ascii_digit() || " .,/⁄-½¼¾⅛⅜⅝⅞".contains(letter)))
        .unwrap_or(text.len());
    let figure = text[..end].trim();
    (!figure.is_empty()).then(|| figure.to_owned())
}

/// The units in which a figure can be this measure, each with what it comes to, mm.
fn in_units(measure: Measure, figure: &str) -> Vec<(&'static str, f64)> {
    let about = measure.about();
    let units = ["in", "cm", "mm"].into_iter();
    units
        .filter_map(|unit| {
            let mm = parse_length(&format!("{figure} {unit}")).ok()?.mm();
            (about.least..=about.most)
                .contains(&mm)
                .then_some((unit, mm))
        })
        .collect()
}

fn other_unit(unit: &str, mm: f64) -> String {
    if unit == "in" {
        Units::Metric.of_body(mm)
    } else {
        Units::Inch.of_body(mm)
    }
}

/// A reading as it is kept: with its unit. A plain figure is in the unit that the page shows where it can be this measure in
/// that unit; otherwise nothing is guessed, and the page asks.
pub(crate) fn reading(measure: Measure, text: &str, units: Units) -> Result<String, Box<Finding>> {
    let usual = match (measure.is_angle(), units) {
        (true, _) => "deg",
        (false, Units::Metric) => "cm",
        (false, Units::Inch) => "in",
    };
    let with_unit = format!("{text} {usual}");
    let bare = figure_of(text).is_some_and(|figure| figure == text.trim());
    let text = if bare && can_be(measure, &with_unit).is_ok() {
        with_unit
    } else {
        text.to_owned()
    };
    can_be(measure, &text).map(|()| text)
}

/// Whether the reader of bodies takes a reading; what it says where it does not.
fn can_be(measure: Measure, text: &str) -> Result<(), Box<Finding>> {
    let (key, quoted) = (measure.key(), crate::rewrite::quoted(text));
    let source = Source::new("", format!("body \"\" {{ {key} {quoted}; }}"));
    match body::read(&source) {
        Ok(_) => Ok(()),
        Err(findings) => {
            let finding = findings.into_iter().next();
            let mut finding = finding
                .unwrap_or_else(|| Finding::error("measure-not-readable", "This cannot be read."));
            finding.places = vec![Place::Measure(key.to_owned())];
            Err(Box::new(finding))
        }
    }
}

/// A view of the figure with the measures that are seen best from there.
fn figure(body: &Body, side: Side) -> DrawingView {
    let style = Style::default();
    let shown = Measure::ALL.into_iter();
    let shown: Vec<Measure> = shown
        .filter(|one| figure::best_side(*one) == side)
        .collect();
    let panel = figure::view(body, side, &shown, &style);
    let bounds = panel.bounds().unwrap_or(Rect::ZERO).inflate(4.0, 4.0);
    let shapes: Vec<Shape> = panel
        .items
        .iter()
        .enumerate()
        .map(|(number, item)| shape(number, item))
        .collect();
    let words = words(&panel);
    let letters = letters(&panel.title, bounds, &words, &shapes);
    let piece = piece_json(&panel.id, Point::ORIGIN, &hash(&letters), &letters);
    DrawingView {
        r#box: as_box(bounds),
        pieces: vec![piece],
    }
}

fn words(panel: &Panel) -> String {
    let mut keys: Vec<&str> = panel
        .items
        .iter()
        .filter_map(|item| item.id.as_deref())
        .collect();
    keys.dedup();
    let labels: Vec<String> = keys
        .into_iter()
        .filter_map(Measure::from_key)
        .map(|measure| format!("{} {}", figure::number(measure), measure.label()))
        .collect();
    format!(
        "The body seen from the {}, drawn from its measures, with the tape of {}",
        panel.title.to_lowercase(),
        making::words::listed(&labels)
    )
}

fn shape(number: usize, item: &Item) -> Shape {
    let id = item.id.clone().unwrap_or_else(|| format!("line-{number}"));
    match &item.shape {
        Drawing::Path { path, fill, line } => {
            let kind = match (item.layer, fill, line) {
                (_, _, _) if id == "body" => "outline",
                (Layer::Marks, _, _) => "measure",
                _ => "mark",
            };
            Shape::path(id, kind, path::letters(path))
        }
        Drawing::Text(words) => Shape::words(
            id,
            "label",
            Text {
                x: path::rounded(words.at.x),
                y: path::rounded(words.at.y),
                size: words.size_mm,
                anchor: match words.anchor {
                    sheet::Anchor::Start => "start",
                    sheet::Anchor::Middle => "middle",
                    sheet::Anchor::End => "end",
                },
                turn: words.turn_degrees,
                words: words.text.clone(),
            },
        ),
    }
}
