//! From the texts of a garment and a body to a pattern with everything that was found about it.
//!
//! Knows no papers and no files. Invariant: what stops the draft is told whole: all slips of both texts at once.

use std::path::Path;
use std::sync::Arc;

use body::{Body, Tape};
use cloth::goods::Cloth;
use document::{Finding, Place, Severity, Source};
use garment::recipe::Opened;
use garment::{Garment, Recipe};
use pattern::Layer;

use crate::report::with_tape;

/// Where texts come from: the files of a disk, or the documents of a book.
pub trait Shelf {
    /// The text of this name; `what` says what is expected there: "a garment", "a body".
    fn text(&mut self, name: &str, what: &str) -> Result<Arc<Source>, Finding>;

    /// The name of a text that is named in another: it is looked for beside that one.
    fn beside(&self, from: &str, name: &str) -> String {
        let folder = Path::new(from).parent().unwrap_or(Path::new(""));
        folder.join(name).to_string_lossy().into_owned()
    }
}

/// What is to be drafted.
#[derive(Clone, Copy, Debug)]
pub struct Wanted<'a> {
    /// Name of the garment's text.
    pub garment: &'a str,
    /// Name of the body's text, where it is not the one that the garment names.
    pub body: Option<&'a str>,
    /// Whether to draft even where the measures contradict each other.
    pub even_so: bool,
}

/// A garment drafted for a body.
pub struct Draft {
    /// What was asked for.
    pub recipe: Recipe,
    /// The texts of the cloths that the garment names, by layer; all of them can be read.
    pub cloths: Vec<(Layer, Arc<Source>)>,
    /// What was taped.
    pub tape: Tape,
    /// The completed body.
    pub body: Body,
    /// What was drafted.
    pub garment: Garment,
    /// What was found about the body and the pattern, errors first.
    pub findings: Vec<Finding>,
}

/// Reads, drafts and checks.
pub fn draft(shelf: &mut dyn Shelf, wanted: &Wanted<'_>) -> Result<Draft, Vec<Finding>> {
    let opened = open(shelf, wanted.garment);
    draft_from(shelf, wanted, opened)
}

/// The same as if this text were that of the garment.
pub fn draft_text(
    shelf: &mut dyn Shelf,
    wanted: &Wanted<'_>,
    source: &Arc<Source>,
) -> Result<Draft, Vec<Finding>> {
    let opened = open_source(shelf, source);
    draft_from(shelf, wanted, opened)
}

fn draft_from(
    shelf: &mut dyn Shelf,
    wanted: &Wanted<'_>,
    opened: Result<Opened, Vec<Finding>>,
) -> Result<Draft, Vec<Finding>> {
    let (opened, tape) = with_body(shelf, wanted, opened)?;
    draft_for(&opened, &Wearer::of(tape), wanted.even_so)
}

/// Whoever a garment is drafted for: read, completed and looked at once for many drafts.
#[derive(Clone, Debug)]
pub struct Wearer {
    /// What was taped.
    pub tape: Tape,
    /// The completed body.
    pub body: Body,
    /// What is odd about the measures.
    pub odd: Vec<Finding>,
}

impl Wearer {
    /// The body of a tape.
    pub fn of(tape: Tape) -> Self {
        let body = body::complete(&tape);
        let odd = body::plausible::findings(&tape, &body);
        Self { tape, body, odd }
    }
}

/// Drafts and checks a garment whose texts are open, for a body that is known; `even_so` as in [`Wanted`].
pub fn draft_for(opened: &Opened, wearer: &Wearer, even_so: bool) -> Result<Draft, Vec<Finding>> {
    let (tape, body) = (&wearer.tape, &wearer.body);
    let recipe = opened.recipe(body)?;
    let about_body = plausible(&wearer.odd, &recipe);
    if !even_so && about_body.iter().any(|one| one.severity == Severity::Error) {
        return Err(contradictions(about_body));
    }
    let garment = garment::make(&recipe, body).map_err(|finding| with_tape(&[finding], tape))?;
    let mut findings = about_body;
    findings.extend(pattern::check::all(&garment.pattern));
    findings.sort_by_key(|one| std::cmp::Reverse(one.severity));
    Ok(Draft {
        recipe,
        cloths: opened.cloth_texts().to_vec(),
        findings: with_tape(&findings, tape),
        tape: tape.clone(),
        body: body.clone(),
        garment,
    })
}

/// The open texts of the garment, without a slip that can be seen so far, and the tape.
fn with_body(
    shelf: &mut dyn Shelf,
    wanted: &Wanted<'_>,
    opened: Result<Opened, Vec<Finding>>,
) -> Result<(Opened, Tape), Vec<Finding>> {
    let tape = match (wanted.body, &opened) {
        (Some(name), _) => read_body(shelf, name),
        (None, Ok(opened)) => body_of(shelf, opened, wanted.garment).and_then(|(name, place)| {
            read_body(shelf, &name).map_err(|faults| named_there(faults, &place))
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

/// Opens a garment and those on which it stands; they are found beside the text that names them.
pub fn open(shelf: &mut dyn Shelf, name: &str) -> Result<Opened, Vec<Finding>> {
    let source = shelf.text(name, "a garment").map_err(|fault| vec![fault])?;
    open_source(shelf, &source)
}

/// A garment's own text and those on which it stands, the nearest first.
pub type Texts = (Arc<Source>, Vec<Arc<Source>>);

/// The texts of a garment.
pub fn texts(shelf: &mut dyn Shelf, name: &str) -> Result<Texts, Vec<Finding>> {
    let source = shelf.text(name, "a garment").map_err(|fault| vec![fault])?;
    let mut bases = Vec::new();
    garment::recipe::open(&source, &mut |name, span| {
        let name = shelf.beside(&span.source.name, name);
        let base = shelf.text(&name, "a garment")?;
        bases.push(Arc::clone(&base));
        Ok(base)
    })?;
    Ok((source, bases))
}

/// Opens a garment from its text, and those on which it stands.
pub fn open_source(shelf: &mut dyn Shelf, source: &Arc<Source>) -> Result<Opened, Vec<Finding>> {
    let opened = open_as_is(shelf, source)?;
    let slips = opened.slips();
    if slips.is_empty() {
        with_cloths(shelf, opened)
    } else {
        Err(slips)
    }
}

/// The same for a text that differs from one without slips by a number: whether it can stand there is seen when it is read
/// for a body.
pub fn open_again(shelf: &mut dyn Shelf, source: &Arc<Source>) -> Result<Opened, Vec<Finding>> {
    let opened = open_as_is(shelf, source)?;
    with_cloths(shelf, opened)
}

fn open_as_is(shelf: &mut dyn Shelf, source: &Arc<Source>) -> Result<Opened, Vec<Finding>> {
    garment::recipe::open(source, &mut |name, span| {
        let name = shelf.beside(&span.source.name, name);
        shelf.text(&name, "a garment")
    })
}

/// The same garment with what the texts of its cloths say, which lie beside the text that names each.
fn with_cloths(shelf: &mut dyn Shelf, opened: Opened) -> Result<Opened, Vec<Finding>> {
    let (mut cloths, mut findings) = (Vec::new(), Vec::new());
    for (layer, file) in opened.cloth_files() {
        let name = shelf.beside(&file.span.source.name, &file.value);
        let place = Place::Text {
            span: file.span,
            label: "named here".to_owned(),
        };
        let source = shelf.text(&name, "a cloth").map_err(|fault| vec![fault]);
        let read = source.and_then(|source| {
            let cloth = cloth::goods::read(&source)?;
            Ok((cloth.makeup(layer), source))
        });
        match read {
            Ok(cloth) => cloths.push(cloth),
            Err(faults) => findings.extend(named_there(faults, &place)),
        }
    }
    if findings.is_empty() {
        Ok(opened.with_cloths(cloths))
    } else {
        Err(findings)
    }
}

/// Reads a cloth.
pub fn read_cloth(shelf: &mut dyn Shelf, name: &str) -> Result<Cloth, Vec<Finding>> {
    let source = shelf.text(name, "a cloth").map_err(|fault| vec![fault])?;
    cloth::goods::read(&source)
}

/// Reads a body.
pub fn read_body(shelf: &mut dyn Shelf, name: &str) -> Result<Tape, Vec<Finding>> {
    let source = shelf.text(name, "a body").map_err(|fault| vec![fault])?;
    body::read(&source)
}

/// The name of the body that a recipe names, beside the text that names it, and where it does.
pub fn body_of(
    shelf: &dyn Shelf,
    opened: &Opened,
    garment: &str,
) -> Result<(String, Place), Vec<Finding>> {
    let Some(written) = opened.body() else {
        return Err(vec![no_body(opened.name(), garment)]);
    };
    let name = shelf.beside(&written.span.source.name, &written.value);
    let place = Place::Text {
        span: written.span,
        label: "named here".to_owned(),
    };
    Ok((name, place))
}

/// Adds to findings without any place where the text was named.
fn named_there(mut findings: Vec<Finding>, place: &Place) -> Vec<Finding> {
    for finding in findings.iter_mut().filter(|one| one.places.is_empty()) {
        finding.places.push(place.clone());
    }
    findings
}

fn no_body(garment: &str, name: &str) -> Finding {
    Finding::error("body-not-named", format!("{name} does not say for which body “{garment}” is."))
        .allowed("a line body \"FILE\" in the garment, or --body FILE behind the command")
        .because("A pattern is drafted from the measures of one body.")
        .cure("Add --body FILE, or write body \"body.kdl\" into the garment; “notchbook new DIR” writes a body file to fill in.")
}

/// What is odd about the measures; for a skirt on its own it is not worth a word that a bodice would need more of them.
fn plausible(odd: &[Finding], recipe: &Recipe) -> Vec<Finding> {
    let mut findings = odd.to_vec();
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
