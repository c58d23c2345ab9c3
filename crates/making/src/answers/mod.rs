//! Answers about cloth that are found by laying: what would save it, how much of a number it allows, whether it suffices.
//!
//! Each answer comes with a lay that proves it. Knows drafts, recipes' numbers and cloths, no file, no page; whoever asks gives
//! a way to draft another text ([`Drafter`]). Invariants: a garment with more errors than before is no answer; the same texts,
//! cloth, seeds and evaluations give the same answer.

mod fits;
mod json;
mod most;
mod number;
mod saved;
mod words;

use std::sync::Arc;

use cloth::answers::{Change, Trials};
use cloth::goods::Cloth;
use cloth::lay::{Lay, STRAIGHTENING, Wishes, answer};
use cloth::nest::Continue;
use document::{Finding, Severity, Source};
use pattern::Pattern;

use crate::Draft;
use crate::lays::{Goods, Laid, Shown};

pub use fits::{Doing, Fits, Remedy, fits};
pub use json::{fits_json, most_json, savings_json};
pub use most::{Found, Missed, Most, Outcome, Probe, Why, most};
pub use number::{Grid, find as number, solvable};
pub use saved::{Saved, saved};
pub use words::{change_words, fits_text, most_text, saved_text, saving_words};

/// Drafts a garment as if this text were its own.
pub type Drafter<'a> = dyn FnMut(&Arc<Source>) -> Result<Draft, Vec<Finding>> + 'a;

/// Hears what is being tried, and says whether to go on.
pub type Hearing<'a> = dyn FnMut(&str) -> Continue + 'a;

/// What is asked about.
#[derive(Clone, Copy)]
pub struct Ask<'a> {
    /// The garment's own text.
    pub source: &'a Arc<Source>,
    /// The texts on which it stands, the nearest first.
    pub bases: &'a [Arc<Source>],
    /// The garment as it is.
    pub draft: &'a Draft,
    /// The cloth, and what is cut from it.
    pub goods: &'a Goods,
    /// What is asked of every lay.
    pub wishes: &'a Wishes,
    /// How lays are searched for.
    pub trials: &'a Trials,
}

/// How long a lay may be, as the cloth is laid, mm: the length on hand, washed, less what straightening its ends takes. A
/// left-over of odd outline bounds the lay itself. A finding where the length is not known.
pub fn room(cloth: &Cloth) -> Result<f64, Finding> {
    let washed = cloth.as_laid();
    match (washed.outline, washed.length) {
        (Some(_), _) => Ok(f64::INFINITY),
        (None, Some(length)) => Ok(length - STRAIGHTENING),
        (None, None) => Err(Finding::error(
            "length-not-known",
            format!("How much of the {} there is, is not known.", cloth.name),
        )
        .allowed("a length, in the cloth's file or with the question")
        .cure("Write length \"3 m\" into the cloth's file, or ask with --length \"3 m\".")),
    }
}

/// The garment with changes in it, and the wishes with them.
fn changed(
    pattern: &Pattern,
    wishes: &Wishes,
    changes: &[Change],
) -> Result<(Pattern, Wishes), Finding> {
    let mut now = (pattern.clone(), wishes.clone());
    for change in changes {
        let one = change.applied(&now.0, &now.1)?;
        now = (one.pattern, one.wishes);
    }
    Ok(now)
}

/// A lay with what follows from it.
fn laid(pattern: &Pattern, goods: &Goods, lay: Lay) -> Option<Laid> {
    let answer = answer(pattern, &goods.layers, &goods.cloth, &lay)?;
    Some(Laid {
        goods: goods.clone(),
        lays: vec![Shown { lay, answer }],
        findings: Vec::new(),
        evaluations: 0,
    })
}

/// The errors of a draft that it did not have before, by their kind.
fn new_errors(before: &Draft, after: &Draft) -> Vec<Finding> {
    let errors = |draft: &Draft| {
        let errors = draft.findings.iter();
        let errors = errors.filter(|one| one.severity == Severity::Error);
        errors.cloned().collect::<Vec<Finding>>()
    };
    let mut known: Vec<&'static str> = errors(before).iter().map(|one| one.code).collect();
    let mut new = errors(after);
    new.retain(
        |one| match known.iter().position(|code| *code == one.code) {
            Some(at) => {
                known.swap_remove(at);
                false
            }
            None => true,
        },
    );
    new
}
