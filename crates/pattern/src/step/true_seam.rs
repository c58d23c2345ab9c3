//! Trues a seam: makes an edge as long as what it is sewn to.
//!
//! **What it does.** Walks both sides of the seam and gives one edge what its side lacks, or takes away what it has too much:
//! bowed between its ends, or prolonged or cut back at one of them, where the edge beside it is drawn to its new end. Its
//! notches move to where those of the other side lie.
//! **When it is used.** After one side of a seam was drawn anew. Bow a curved edge by a few millimetres; move an end where the edge
//! beside it is free, as a hem is.
//! **Example.** `true-seam seam="skirt-side" edge="skirt-back.side" at="skirt-back.hem"`.
//! **What can go wrong.** A straight edge cannot be bowed shorter; an end cannot be cut back beyond a dart.
//!
//! Invariants: the seam walks with the ease that it asks for; the edges beside it keep their angles or, where they run on over the
//! seam, make one line; what is sewn to them follows.

use document::{Finding, Place};
use geometry::Angle;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::corner::{self, Tip};
use super::kit::find::{self, at_edge};
use super::kit::{bend, partner, reshape, walk};
use crate::meeting;
use crate::piece::{EdgeKind, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const STEP: StepKind = StepKind {
    name: "true-seam",
    group: Group::Line,
    summary: "makes an edge as long as what it is sewn to",
    manual: include_str!("true_seam.rs"),
    parameters: &[
        Parameter::needed("seam", Kind::Seam, "seam that is to walk"),
        Parameter::needed("edge", Kind::Edge, "edge of that seam that changes"),
        Parameter::usually(
            "at",
            Kind::Edge,
            Usual::Nothing,
            "edge beside it, at whose corner it is prolonged or cut back; bowed between its ends where none is named",
        ),
    ],
    amount: None,
    apply: true_seam,
};

/// Differences that nothing can be done about, mm.
const NOTHING: f64 = 1e-6;

fn true_seam(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (piece, edge) = arguments.edge(pattern, "edge")?;
    let name = &arguments.name_of("seam")?.name;
    let seam = find::seam(pattern, name).map_err(|finding| arguments.blame("seam", finding))?;
    let owner = &pattern.pieces[piece];
    let lacks = lacking(pattern, seam, (piece, edge))
        .ok_or_else(|| arguments.blame("edge", not_in_seam(pattern, seam, (piece, edge))))?;
    let at = if arguments.has("at") {
        Some(end_at(pattern, arguments, (piece, edge))?)
    } else {
        None
    };
    let mut changed = pattern.clone();
    let mut followed = Vec::new();
    if lacks.abs() > NOTHING {
        if let Some(at) = at {
            followed = move_end(&mut changed, pattern, at, lacks)
                .map_err(|finding| arguments.blame("at", finding))?;
        } else if !bend::bow_to_length(
            &mut changed.pieces[piece],
            edge,
            owner.edges[edge].length() + lacks,
        ) {
            return Err(arguments.blame("edge", cannot_bow(pattern, (piece, edge), lacks)));
        }
    }
    reshape::clip(&mut changed.pieces[piece]);
    meeting::meet_on(&mut changed, name, &owner.name);
    let words = format!(
        "the {} of the {} is {:.1} mm {}, so that the {name} seam walks",
        owner.edges[edge].name,
        owner.name,
        lacks.abs(),
        if lacks < 0.0 { "shorter" } else { "longer" },
    );
    let words = std::iter::once(words).chain(followed).collect::<Vec<_>>();
    let runs = changed.pieces[piece].edges[edge].runs.iter();
    Ok(Done {
        lines: runs
            .map(|run| TraceLine::new(&owner.name, Trace::Redrawn, run.clone()))
            .collect(),
        words: words.join("; "),
        pattern: changed,
    })
}

/// What the side of a seam on which an edge is lacks of the length that the other side asks for; `None` where it is on neither.
fn lacking(pattern: &Pattern, seam: &Seam, (piece, edge): (usize, usize)) -> Option<f64> {
    let owner = &pattern.pieces[piece];
    let name = &owner.edges[edge].name;
    let is_on = |side: &[Stretch]| {
        let mut all = walk::written_out(pattern, side).into_iter();
        all.any(|one| one.piece == owner.name && one.edge == *name)
    };
    let [held, worked] = [&seam.held, &seam.worked].map(|side| pattern.side_length(side));
    let [held_on, worked_on] = [is_on(&seam.held), is_on(&seam.worked)];
    match (held_on, worked_on, seam.fullness) {
        (false, true, Fullness::None) => Some(held - worked),
        (false, true, Fullness::Eased(more) | Fullness::Pleated(more)) => {
            Some(held + more - worked)
        }
        (false, true, Fullness::Gathered(times)) => Some(held * times - worked),
        (true, false, Fullness::None) => Some(worked - held),
        (true, false, Fullness::Eased(more) | Fullness::Pleated(more)) => {
            Some(worked - more - held)
        }
        (true, false, Fullness::Gathered(times)) => Some(worked / times - held),
        (false, false, _) | (true, true, _) => None,
    }
}

/// The end of an edge at which the edge that is named stands beside it.
fn end_at(
    pattern: &Pattern,
    arguments: &Arguments,
    (piece, edge): (usize, usize),
) -> Result<Tip, Finding> {
    let named = arguments.edge(pattern, "at")?;
    let ends = [true, false].map(|at_end| Tip {
        piece,
        edge,
        at_end,
    });
    let mut found = ends
        .into_iter()
        .filter(|tip| (tip.piece, tip.beside(&pattern.pieces[piece])) == named);
    let tip = found
        .next()
        .ok_or_else(|| arguments.blame("at", not_beside(pattern, ends)))?;
    let owner = &pattern.pieces[piece];
    if owner.edges[named.1].kind == EdgeKind::Fold {
        return Err(arguments.blame("at", on_fold(owner, named.1)));
    }
    Ok(tip)
}

fn on_fold(piece: &Piece, edge: usize) -> Finding {
    Finding::error(
        "fold-stays-straight",
        format!(
            "the {} of the {} lies on the fold",
            piece.edges[edge].name, piece.name
        ),
    )
    .at(at_edge(piece, edge))
    .because("cloth folds along a straight line only")
    .cure("move the other end, or bow the edge: name nothing with “at”")
}

/// Prolongs or cuts back an edge at an end, and draws the edge beside it there; says what followed.
fn move_end(
    changed: &mut Pattern,
    before: &Pattern,
    tip: Tip,
    by: f64,
) -> Result<Vec<String>, Finding> {
    let angle = match corner::running_on(before, tip) {
        Some(other) => Angle::from_degrees(180.0 - other.tip.angle(before).degrees()),
        None => tip.angle(before),
    };
    corner::move_end(&mut changed.pieces[tip.piece], tip.edge, tip.at_end, by)?;
    let beside = tip.neighbour(changed);
    corner::draw_to(changed, beside, Some(angle))?;
    let owner = &before.pieces[tip.piece];
    let edge = owner.edges[beside.edge].name.clone();
    Ok(partner::follow(changed, before, &owner.name, &edge))
}

fn not_in_seam(pattern: &Pattern, seam: &Seam, (piece, edge): (usize, usize)) -> Finding {
    let owner = &pattern.pieces[piece];
    let names: Vec<String> = seam
        .held
        .iter()
        .chain(&seam.worked)
        .map(|one| format!("{}.{}", one.piece, one.edge))
        .collect();
    Finding::error(
        "edge-not-in-seam",
        format!(
            "the {} of the {} is not on one side of the {} seam alone",
            owner.edges[edge].name, owner.name, seam.name
        ),
    )
    .at(at_edge(owner, edge))
    .allowed(format!("one of: {}", names.join(", ")))
    .cure("name an edge of that seam")
}

fn not_beside(pattern: &Pattern, ends: [Tip; 2]) -> Finding {
    let owner = &pattern.pieces[ends[0].piece];
    let names = ends.map(|tip| format!("{}.{}", owner.name, owner.edges[tip.beside(owner)].name));
    Finding::error(
        "edge-not-beside",
        format!(
            "the {} of the {} has no end there",
            owner.edges[ends[0].edge].name, owner.name
        ),
    )
    .at(at_edge(owner, ends[0].edge))
    .allowed(names.join(" or "))
    .cure("name an edge beside it, or none to bow it")
}

fn cannot_bow(pattern: &Pattern, (piece, edge): (usize, usize), lacks: f64) -> Finding {
    let owner = &pattern.pieces[piece];
    let (name, way) = (
        &owner.edges[edge].name,
        if lacks < 0.0 { "shorter" } else { "longer" },
    );
    Finding::error(
        "edge-cannot-be-bowed",
        format!(
            "the {name} of the {} cannot be bowed until it is {:.1} mm {way}",
            owner.name,
            lacks.abs()
        ),
    )
    .at(Place::Edge {
        piece: owner.name.clone(),
        edge: name.clone(),
        at: None,
    })
    .because("a nearly straight edge has no shorter way, and one that is bowed far is another line")
    .cure("move one of its ends instead: name the edge beside it with “at”")
}
