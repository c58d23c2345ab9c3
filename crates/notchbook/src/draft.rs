//! From the files of a garment and a body to a pattern with everything that was found about it.
//!
//! Knows no papers. Invariant: what stops the draft is told whole: all slips of both files at once.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use body::{Body, Tape};
use document::{Finding, Place, Severity, Source, Span};
use garment::recipe::Opened;
use garment::{Garment, Recipe};

use crate::arguments::Given;
use crate::files;
use crate::report::with_tape;

/// A garment drafted for a body.
pub(crate) struct Draft {
    /// What was asked for.
    pub(crate) recipe: Recipe,
    /// The completed body.
    pub(crate) body: Body,
    /// What was drafted.
    pub(crate) garment: Garment,
    /// What was found about the body and the pattern, errors first.
    pub(crate) findings: Vec<Finding>,
}

/// Reads, drafts and checks.
pub(crate) fn draft(given: &Given) -> Result<Draft, Vec<Finding>> {
    draft_from(given, open(&given.garment))
}

/// The same as if this text stood in the garment's file.
pub(crate) fn draft_text(given: &Given, source: &Arc<Source>) -> Result<Draft, Vec<Finding>> {
    draft_from(given, open_source(source))
}

fn draft_from(given: &Given, opened: Result<Opened, Vec<Finding>>) -> Result<Draft, Vec<Finding>> {
    let (opened, tape) = with_body(given, opened)?;
    let body = body::complete(&tape);
    let recipe = opened.recipe(&body)?;
    let about_body = plausible(&tape, &body, &recipe);
    if !given.even_so && about_body.iter().any(|one| one.severity == Severity::Error) {
        return Err(contradictions(about_body));
    }
    let garment = garment::make(&recipe, &body).map_err(|finding| with_tape(&[finding], &tape))?;
    let mut findings = about_body;
    findings.extend(pattern::check::all(&garment.pattern));
    findings.sort_by_key(|one| std::cmp::Reverse(one.severity));
    Ok(Draft {
        recipe,
        findings: with_tape(&findings, &tape),
        body,
        garment,
    })
}

/// The open files of the garment, without a slip that can be seen so far, and the tape.
fn with_body(
    given: &Given,
    opened: Result<Opened, Vec<Finding>>,
) -> Result<(Opened, Tape), Vec<Finding>> {
    let tape = match (&given.body, &opened) {
        (Some(path), _) => read_body(path),
        (None, Ok(opened)) => body_of(opened, &given.garment).and_then(|(path, place)| {
            read_body(&path).map_err(|faults| named_there(faults, &place))
        }),
        // Which body was meant is not known; what is wrong with the garment comes first.
        (None, Err(_)) => Err(Vec::new()),
    };
    match (opened, tape) {
        (Ok(opened), Ok(tape)) => Ok((opened, tape)),
        (opened, tape) => {
            let mut findings = opened.err().unwrap_or_default();
            findings.extend(tape.err().unwrap_or_default());
            Err(findings)
        }
    }
}

/// Opens a garment and those on which it stands; they are found from the folder of the file that names them.
pub(crate) fn open(path: &Path) -> Result<Opened, Vec<Finding>> {
    let source = files::read(path, "a garment").map_err(|fault| vec![fault])?;
    open_source(&source)
}

/// A garment's own text and those on which it stands, the nearest first.
pub(crate) type Texts = (Arc<Source>, Vec<Arc<Source>>);

/// Opens the texts of a garment.
pub(crate) fn texts(path: &Path) -> Result<Texts, Vec<Finding>> {
    let source = files::read(path, "a garment").map_err(|fault| vec![fault])?;
    let mut bases = Vec::new();
    garment::recipe::open(&source, &mut |name, span| {
        let base = files::read(&beside(span, name), "a garment")?;
        bases.push(Arc::clone(&base));
        Ok(base)
    })?;
    Ok((source, bases))
}

fn open_source(source: &Arc<Source>) -> Result<Opened, Vec<Finding>> {
    let opened = garment::recipe::open(source, &mut |name, span| {
        files::read(&beside(span, name), "a garment")
    })?;
    let slips = opened.slips();
    if slips.is_empty() {
        Ok(opened)
    } else {
        Err(slips)
    }
}

/// The path of a file that is named in another, from that one's folder.
fn beside(span: &Span, name: &str) -> PathBuf {
    let folder = Path::new(&span.source.name).parent();
    folder.unwrap_or(Path::new("")).join(name)
}

pub(crate) fn read_body(path: &Path) -> Result<Tape, Vec<Finding>> {
    let source = files::read(path, "a body").map_err(|fault| vec![fault])?;
    body::read(&source)
}

/// The file of the body that a recipe names, from the folder of the file that names it, and where it does.
fn body_of(opened: &Opened, garment: &Path) -> Result<(PathBuf, Place), Vec<Finding>> {
    let Some(written) = opened.body() else {
        return Err(vec![no_body(opened.name(), garment)]);
    };
    let path = beside(&written.span, &written.value);
    let place = Place::Text {
        span: written.span,
        label: "named here".to_owned(),
    };
    Ok((path, place))
}

/// Adds to findings without any place where the file was named.
fn named_there(mut findings: Vec<Finding>, place: &Place) -> Vec<Finding> {
    for finding in findings.iter_mut().filter(|one| one.places.is_empty()) {
        finding.places.push(place.clone());
    }
    findings
}

fn no_body(garment: &str, path: &Path) -> Finding {
    Finding::error("body-not-named", format!("{} does not say for which body “{garment}” is.", path.display()))
        .allowed("a line body \"FILE\" in the garment, or --body FILE behind the command")
        .because("A pattern is drafted from the measures of one body.")
        .cure("Add --body FILE, or write body \"body.kdl\" into the garment; “notchbook new DIR” writes a body file to fill in.")
}

/// What is odd about the measures; for a skirt on its own it is not worth a word that a bodice would need more of them.
fn plausible(tape: &Tape, body: &Body, recipe: &Recipe) -> Vec<Finding> {
    let mut findings = body::plausible::findings(tape, body);
    findings.retain(|one| recipe.bodice.is_some() || one.code != "measures-estimated");
    findings
}

/// The errors among the findings, the last of which says how to go on all the same.
fn contradictions(mut findings: Vec<Finding>) -> Vec<Finding> {
    findings.retain(|one| one.severity == Severity::Error);
    if let Some(last) = findings.last_mut() {
        last.cure
            .push_str(" To draft from these measures all the same, add --even-so.");
    }
    findings
}
