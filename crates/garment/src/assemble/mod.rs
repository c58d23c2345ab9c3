//! A garment from a recipe and a body: blocks drafted, joined by seams, given allowances and notches, and styled by steps.
//!
//! Steps are done on the whole pattern, so that they can name seams and notches and carry them along. After the last one,
//! edges that have no allowance yet, or whose kind a step has changed, get that of their kind; all others keep theirs.
//! Invariant: without steps, nothing follows the drafting.

mod aim;
pub(crate) mod allowances;
mod girths;
mod notches;
mod opening;
mod replay;
mod seams;
mod waistband;

use body::{Body, Measure};
use document::mend::Path;
use document::{Finding, Mend, Place, written_mm};
use pattern::{Edge, Layer, Pattern, Piece};

use crate::block::bodice::{self, Bodice, BodiceWish, Witnesses};
use crate::block::figures;
use crate::block::person::Person;
use crate::block::skirt::{self, DartsToMeet, Room, Skirt, SkirtCut, SkirtWish};
use crate::block::sleeve::{self, Armhole, SleeveWish};
use crate::recipe::parts::FacingAt;
use crate::recipe::{Opening, Recipe, SkirtPart};

pub use replay::{Deed, Replay, Replayed, do_step};

/// A garment: its pattern, what led to it, and what the draft learnt about the body.
#[derive(Clone, Debug)]
pub struct Garment {
    /// Pieces, seams, girths and findings of the drafting.
    pub pattern: Pattern,
    /// What the witnesses of the bust dart said, where there is a bodice.
    pub witnesses: Option<Witnesses>,
    /// Every step of the recipe, with the pattern before and after it.
    pub replays: Vec<Replay>,
}

/// Drafts a garment and does the steps of its recipe; the finding that stops it points into the recipe where it can.
pub fn make(recipe: &Recipe, body: &Body) -> Result<Garment, Finding> {
    Replayed::new(recipe, body).map(|replayed| replayed.garment())
}

/// The pieces as they are drafted, joined, with allowances and notches: where the steps begin.
fn drafted(recipe: &Recipe, body: &Body) -> Result<(Pattern, Option<Witnesses>), Finding> {
    let person = Person::new(body);
    let bodice = recipe
        .bodice
        .is_some()
        .then(|| draft_bodice(recipe, &person))
        .transpose()?;
    let skirt = match &recipe.skirt {
        Some(part) => Some(
            draft_skirt(recipe, &part.value, &person, bodice.as_ref())
                .map_err(|f| beside(f, &part.span))?,
        ),
        None => None,
    };
    let sleeve = draft_sleeve(recipe, &person, bodice.as_ref())?;
    let mut pattern = Pattern::default();
    let mut witnesses = None;
    if let Some(bodice) = bodice {
        pattern.pieces.extend([bodice.front, bodice.back]);
        pattern.findings.extend(bodice.findings);
        witnesses = Some(bodice.witnesses);
    }
    pattern.pieces.extend(sleeve);
    if let Some(skirt) = &skirt {
        pattern.pieces.extend(skirt.pieces.clone());
        let asked = recipe.skirt.as_ref().map(|part| &part.span);
        let told = skirt.findings.iter().cloned();
        let told = told.map(|one| asked.map_or(one.clone(), |span| beside(one, span)));
        pattern.findings.extend(told);
    }
    if recipe.opening == Opening::Front {
        opening::in_front(&mut pattern);
    }
    if let (Some(band), Some(skirt)) = (&recipe.waistband, &skirt) {
        let waist = 2.0 * skirt.half_waist(&pattern);
        // A wrapped skirt opens by its lap, which is in its waist already.
        let opens = opening::has_underlap(recipe) && skirt.overlap == 0.0;
        pattern
            .pieces
            .push(waistband::piece(&band.value, waist, opens));
    }
    pattern.seams = seams::of(&pattern, recipe, skirt.as_ref());
    pattern.girths = girths::of(&pattern, recipe, body, skirt.as_ref());
    finished_armholes(&mut pattern, recipe);
    allowances::give(&mut pattern, recipe);
    notches::place(&mut pattern, body, (skirt.as_ref(), recipe.opening));
    opening::place_end(&mut pattern, recipe.opening, body);
    pattern.findings.extend(cap_ease(recipe));
    pattern.findings.extend(raw_waist(recipe));
    Ok((pattern, witnesses))
}

/// What follows the steps: allowances of edges that are new or serve another end, and the ease at every level.
fn finish(block: &Pattern, replays: &[Replay], recipe: &Recipe) -> Pattern {
    let last = replays.iter().rev().find(|replay| replay.done.is_some());
    let mut pattern = last.map_or(block, |replay| replay.after()).clone();
    if last.is_some() {
        allowances::complete(&mut pattern, block, recipe);
        girths::follow(&mut pattern, block, replays);
    }
    pattern
}

/// Adds the place in the recipe to a finding that has none yet.
fn beside(finding: Finding, span: &document::Span) -> Finding {
    let known = finding
        .places
        .iter()
        .any(|place| matches!(place, Place::Text { .. }));
    if known {
        finding
    } else {
        finding.at_text(span, "asked for here")
    }
}

fn draft_bodice(recipe: &Recipe, person: &Person<'_>) -> Result<Bodice, Finding> {
    let part = recipe
        .bodice
        .as_ref()
        .expect("called where there is a bodice");
    let wish = BodiceWish {
        ease: recipe.ease.bodice,
        back_seam: recipe.opens_at_back(),
        sleeves: recipe.sleeve.is_some(),
        bust_dart: part.value.bust_dart.value,
        neckline: part.value.neckline.value,
    };
    bodice::draft(person, &wish).map_err(|finding| {
        let span = match finding.code {
            code if code.starts_with("neckline") => &part.value.neckline.span,
            code if code.starts_with("dart") => &part.value.bust_dart.span,
            _ => &part.span,
        };
        beside(finding, span)
    })
}

fn draft_skirt(
    recipe: &Recipe,
    part: &SkirtPart,
    person: &Person<'_>,
    bodice: Option<&Bodice>,
) -> Result<Skirt, Finding> {
    let wish = SkirtWish {
        cut: part.cut,
        full: part.full,
        waist_ease: recipe.ease.bodice.waist,
        hip_ease: recipe.ease.hip,
        length: part.length,
        back_seam: recipe.opens_at_back(),
        room: Some(room(recipe, part, Layer::Shell)),
    };
    if let (SkirtCut::Wrapped(_), Some(_)) = (part.cut, bodice) {
        return Err(skirt::needs_own_waist());
    }
    let darts = bodice.map_or_else(DartsToMeet::default, |bodice| DartsToMeet {
        front: first_dart_from_centre(&bodice.front),
        back: first_dart_from_centre(&bodice.back),
    });
    skirt::draft(person, &wish, darts)
}

/// The cloth of a layer, and what a skirt cut from it has beyond its seam lines.
pub(crate) fn room(recipe: &Recipe, part: &SkirtPart, layer: Layer) -> Room {
    let cloth = recipe
        .parts
        .cloths
        .iter()
        .find(|cloth| cloth.layer == layer);
    let (hem, hem_gives) = crate::part::hem::skirt_allowance(recipe);
    Room {
        width: cloth.map_or(0.0, |cloth| cloth.width),
        laid: part.laid,
        seam: recipe.allowances.seam,
        opening: recipe.allowances.opening,
        hem,
        hem_gives,
    }
}

/// Length along the closed waist from the centre line to the nearest dart; the waist of a bodice runs from side to centre.
fn first_dart_from_centre(piece: &Piece) -> Option<f64> {
    let waist = piece.edge("waist")?;
    (waist.runs.len() > 1).then(|| waist.runs[waist.runs.len() - 1].length())
}

fn draft_sleeve(
    recipe: &Recipe,
    person: &Person<'_>,
    bodice: Option<&Bodice>,
) -> Result<Option<Piece>, Finding> {
    let (Some(part), Some(bodice)) = (&recipe.sleeve, bodice) else {
        return Ok(None);
    };
    let length = |piece: &Piece| piece.edge("armhole").map_or(0.0, Edge::length);
    let wish = SleeveWish {
        ease: part.value.ease,
        cap_ease: part.value.cap_ease.value,
        length: part
            .value
            .length
            .unwrap_or_else(|| person.of(Measure::ArmLength)),
        hem: part.value.hem,
    };
    let armhole = Armhole {
        front: length(&bodice.front),
        back: length(&bodice.back),
    };
    sleeve::draft(person, &wish, armhole)
        .map(Some)
        .map_err(|finding| beside(finding, &part.span))
}

/// Without sleeves an armhole is not sewn to anything but finished on its own; without a skirt the waist is a hem.
fn finished_armholes(pattern: &mut Pattern, recipe: &Recipe) {
    for name in ["front", "back"] {
        let Some(piece) = pattern.piece_mut(name) else {
            continue;
        };
        for edge in &mut piece.edges {
            if edge.answers_to("armhole") && recipe.sleeve.is_none() {
                edge.kind = pattern::EdgeKind::Finished;
            }
            if edge.answers_to("waist") && recipe.skirt.is_none() {
                edge.kind = pattern::EdgeKind::Hem;
            }
        }
    }
}

/// A skirt on its own is finished at its waist by a band, a facing or the lining.
fn raw_waist(recipe: &Recipe) -> Option<Finding> {
    let skirt = recipe.skirt.as_ref()?;
    let facings = &recipe.parts.facings.wishes;
    let is_faced = facings.iter().any(|wish| wish.at == FacingAt::Waist);
    let is_finished = recipe.bodice.is_some()
        || recipe.waistband.is_some()
        || recipe.parts.lining.is_some()
        || is_faced;
    (!is_finished).then(|| {
        Finding::note(
            "waist-left-raw",
            "the waist of the skirt has neither a band nor a facing",
        )
        .at_text(&skirt.span, "ends raw at the waist")
        .because("a raw edge stretches and frays, and carries the whole skirt")
        .cure("write “waistband”, or facings { waist }")
        .mend(Mend::line(
            Path::default(),
            "waistband",
            "gives the skirt a waistband",
        ))
    })
}

/// More cap ease than hands and steam shrink in is worth a word.
fn cap_ease(recipe: &Recipe) -> Option<Finding> {
    let ease = &recipe.sleeve.as_ref()?.value.cap_ease;
    (ease.value > figures::MOST_CAP_EASE).then(|| {
        Finding::warning(
            "cap-ease-large",
            format!(
                "the sleeve cap is {:.0} mm longer than the armhole",
                ease.value
            ),
        )
        .at_text(&ease.span, "much to ease in")
        .measured(
            document::Quantity::mm(ease.value),
            document::Allowed::AtMost(document::Quantity::mm(figures::MOST_CAP_EASE)),
        )
        .because("woven cloth that does not shrink under steam will pucker or gather")
        .cure("take less cap ease, or plan to gather the cap")
        .mend(Mend::property(
            "sleeve",
            "cap-ease",
            written_mm(figures::MOST_CAP_EASE),
            format!("eases {:.0} mm into the cap", figures::MOST_CAP_EASE),
        ))
    })
}
