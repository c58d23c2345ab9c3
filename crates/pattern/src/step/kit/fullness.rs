//! What a seam does with an edge that became longer than the one it is sewn to: eases it, gathers it, or lays it in pleats.
//!
//! Invariant: after it, every seam of the edge asks for just the fullness that its sides have.

use crate::name::answers_to;
use crate::seam::{Fullness, Girth, Pattern, Seam, Stretch};

/// How fullness is taken up in a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Manner {
    /// Eased in without folds.
    Ease,
    /// Gathered.
    Gathers,
    /// Laid in pleats.
    Pleats,
}

/// Differences of length that no hand can ease, mm.
const NOTHING: f64 = 0.01;

/// Lets the seams of an edge take up what its length differs by since an earlier state of the pattern, and the girths know it.
pub fn take_up(
    pattern: &mut Pattern,
    before: &Pattern,
    (piece, edge): (&str, &str),
    manner: Manner,
) {
    let mut seams = std::mem::take(&mut pattern.seams);
    for seam in seams.iter_mut().filter(|seam| joins(seam, piece, edge)) {
        let [held, worked] = [&seam.held, &seam.worked].map(|side| pattern.side_length(side));
        if worked < held - NOTHING {
            std::mem::swap(&mut seam.held, &mut seam.worked);
        }
        seam.fullness = fullness(held.min(worked), held.max(worked), manner, seam.fullness);
    }
    pattern.seams = seams;
    let mut girths = std::mem::take(&mut pattern.girths);
    for girth in girths
        .iter_mut()
        .filter(|girth| measures(girth, piece, edge))
    {
        let (now, then) = (pattern.girth(girth), before.girth(girth));
        if then > NOTHING && now > NOTHING {
            girth.gathered *= now / then;
        }
    }
    pattern.girths = girths;
}

/// Lets a seam take up as ease what its sides differ by; one that gathers or pleats does more or less of it.
pub fn ease_difference(pattern: &mut Pattern, seam: usize) {
    let sides = [&pattern.seams[seam].held, &pattern.seams[seam].worked];
    let [held, worked] = sides.map(|side| pattern.side_length(side));
    let seam = &mut pattern.seams[seam];
    if worked < held - NOTHING {
        std::mem::swap(&mut seam.held, &mut seam.worked);
    }
    seam.fullness = fullness(
        held.min(worked),
        held.max(worked),
        Manner::Ease,
        seam.fullness,
    );
}

fn fullness(held: f64, worked: f64, manner: Manner, known: Fullness) -> Fullness {
    let more = worked - held;
    if more < NOTHING || held < NOTHING {
        return Fullness::None;
    }
    match (manner, known) {
        (Manner::Gathers, _) | (Manner::Ease, Fullness::Gathered(_)) => {
            Fullness::Gathered(worked / held)
        }
        (Manner::Pleats, _) | (Manner::Ease, Fullness::Pleated(_)) => Fullness::Pleated(more),
        (Manner::Ease, _) => Fullness::Eased(more),
    }
}

/// The seams of which an edge is a part.
pub fn joins(seam: &Seam, piece: &str, edge: &str) -> bool {
    let names =
        |stretch: &Stretch| answers_to(piece, &stretch.piece) && answers_to(edge, &stretch.edge);
    seam.held.iter().chain(&seam.worked).any(names)
}

fn measures(girth: &Girth, piece: &str, edge: &str) -> bool {
    let names =
        |(owner, part): &(String, String)| answers_to(piece, owner) && answers_to(edge, part);
    girth.parts.iter().any(names)
}

/// Lets the girths ask for as much more ease as a step gave that was asked to change them.
pub fn ask_ease(pattern: &mut Pattern, before: &Pattern) {
    let mut girths = std::mem::take(&mut pattern.girths);
    for girth in &mut girths {
        girth.ease += pattern.girth(girth) - before.girth(girth);
    }
    pattern.girths = girths;
}
