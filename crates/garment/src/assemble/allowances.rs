//! Gives every edge its allowance and every corner its shape.
//!
//! Corners are made as they are sewn: what is sewn and pressed first ends as the mirror image of what is sewn across it
//! afterwards, so that the folded allowance lies in the later seam over its whole width and sticks out nowhere. Invariant: an
//! allowance that is written for an edge counts for it and all its parts.

use document::Finding;
use geometry::allowance::Which;
use pattern::step::kit::find;
use pattern::{Corner, Edge, EdgeKind, Pattern, Piece, name};

use crate::recipe::{Allowances, Recipe};

/// Gives allowances to all pieces.
pub(super) fn give(pattern: &mut Pattern, recipe: &Recipe) {
    for piece in &mut pattern.pieces {
        let sleeve = piece.name == "sleeve";
        for edge in &mut piece.edges {
            edge.allowance = allowance(edge, &recipe.allowances, sleeve);
        }
    }
    put_written(pattern, recipe);
    as_sewn(pattern);
}

/// Gives allowances to edges that the steps made, or made into another kind; a step's own allowance stays.
pub(super) fn complete(pattern: &mut Pattern, block: &Pattern, recipe: &Recipe) {
    for piece in &mut pattern.pieces {
        let drafted = block.piece(name::root(&piece.name));
        let sleeve = name::root(&piece.name) == "sleeve";
        for edge in &mut piece.edges {
            let old = drafted.and_then(|piece| piece.edge(name::root(&edge.name)));
            let other_kind = old.is_some_and(|old| old.kind != edge.kind);
            let wanted = allowance(edge, &recipe.allowances, sleeve);
            let untouched = old.is_some_and(|old| old.allowance == edge.allowance);
            if edge.allowance == 0.0 && wanted > 0.0 || other_kind && untouched {
                edge.allowance = wanted;
            }
        }
    }
    put_written(pattern, recipe);
    as_sewn(pattern);
}

/// The allowance of an edge by what it is for.
pub(crate) fn allowance(edge: &Edge, allowances: &Allowances, sleeve: bool) -> f64 {
    match edge.kind {
        EdgeKind::Fold => 0.0,
        EdgeKind::Opening => allowances.opening,
        // A facing that the draft has cut on stays.
        EdgeKind::Finished if edge.allowance > 0.0 => edge.allowance,
        EdgeKind::Finished => allowances.finished,
        EdgeKind::Hem if sleeve => allowances.sleeve_hem,
        EdgeKind::Hem => allowances.hem,
        EdgeKind::Seam if edge.answers_to("armhole") || edge.name.starts_with("cap-") => {
            allowances.armhole
        }
        EdgeKind::Seam if edge.answers_to("neckline") => allowances.neckline,
        EdgeKind::Seam => allowances.seam,
    }
}

/// Puts the allowances that are written for single edges on those that are there.
pub(crate) fn put_written(pattern: &mut Pattern, recipe: &Recipe) {
    for written in &recipe.allowances.edges {
        let (piece, edge) = written.names();
        let found = find::edges(pattern, &piece.value, &edge.value).unwrap_or_default();
        for (piece, edge) in found {
            let edge = &mut pattern.pieces[piece].edges[edge];
            if edge.kind != EdgeKind::Fold {
                edge.allowance = written.allowance;
            }
        }
    }
}

/// Whether an allowance is written for an edge.
pub(crate) fn is_written(recipe: &Recipe, piece: &Piece, edge: &Edge) -> bool {
    recipe.allowances.edges.iter().any(|written| {
        let names = written.names();
        piece.answers_to(&names.0.value) && edge.answers_to(&names.1.value)
    })
}

/// An edge for which an allowance is written must be there when all parts are, and not lie on the fold.
pub(crate) fn check_written(pattern: &Pattern, recipe: &Recipe) -> Result<(), Finding> {
    for written in &recipe.allowances.edges {
        let (piece, edge) = written.names();
        let found = find::edges(pattern, &piece.value, &edge.value).map_err(|finding| {
            let span = if finding.code == "piece-not-there" {
                &piece.span
            } else {
                &edge.span
            };
            finding.at_text(span, "")
        })?;
        let on_fold = |&(piece, edge): &(usize, usize)| {
            pattern.pieces[piece].edges[edge].kind == EdgeKind::Fold
        };
        if found.iter().all(on_fold) {
            return Err(on_the_fold(&piece.value, &edge.value).at_text(&edge.span, "on the fold"));
        }
    }
    Ok(())
}

fn on_the_fold(piece: &str, edge: &str) -> Finding {
    Finding::error(
        "allowance-on-fold",
        format!("the {edge} of the {piece} lies on the fold and has no allowance"),
    )
    .because("on the fold the cloth is not cut")
    .cure("take the line away, or open the fold with a seam first")
}

/// Shapes all corners as they are sewn.
pub(crate) fn as_sewn(pattern: &mut Pattern) {
    (0..pattern.pieces.len()).for_each(|index| as_sewn_piece(pattern, index));
}

/// Shapes the corners of one piece as they are sewn.
pub(crate) fn as_sewn_piece(pattern: &mut Pattern, index: usize) {
    let piece = &pattern.pieces[index];
    let edges = piece.edges.iter();
    let turns: Vec<Turn> = edges
        .map(|edge| Turn::of(edge, is_sewn(pattern, piece, edge)))
        .collect();
    for (number, edge) in pattern.pieces[index].edges.iter_mut().enumerate() {
        edge.corner = corner(turns[number], turns[(number + 1) % turns.len()]);
    }
}

fn is_sewn(pattern: &Pattern, piece: &Piece, edge: &Edge) -> bool {
    let sides = pattern
        .seams
        .iter()
        .flat_map(|seam| seam.held.iter().chain(&seam.worked));
    sides
        .into_iter()
        .any(|side| piece.answers_to(&side.piece) && edge.answers_to(&side.edge))
}

/// When an edge is sewn beside its neighbours: lines that a style adds within a panel first, then the seams that close the
/// panels, then what is sewn across them; a hem is folded up last of all.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Turn {
    /// Lies on the fold and is not sewn.
    Fold,
    /// Sewn within a panel and pressed.
    Within,
    /// Closes panels, and is pressed: side, shoulder, centre, underarm.
    Closing,
    /// Sewn across the others, or enclosed.
    Across,
    /// Folded back along its line.
    Hem,
}

/// Seams that close the panels of a block.
const CLOSING: [&str; 5] = [
    "side",
    "shoulder",
    "centre",
    "underarm-front",
    "underarm-back",
];
/// Edges that are sewn across those.
const ACROSS: [&str; 5] = ["neckline", "armhole", "cap-front", "cap-back", "waist"];

impl Turn {
    fn of(edge: &Edge, sewn: bool) -> Self {
        let answers = |names: &[&str]| names.iter().any(|name| edge.answers_to(name));
        match edge.kind {
            EdgeKind::Fold => Self::Fold,
            // Turned back after its top is sewn.
            EdgeKind::Hem if answers(&["vent", "slit"]) => Self::Across,
            EdgeKind::Hem => Self::Hem,
            EdgeKind::Finished => Self::Across,
            EdgeKind::Seam if answers(&["vent-top"]) => Self::Across,
            _ if answers(&ACROSS) => Self::Across,
            _ if answers(&CLOSING) => Self::Closing,
            // A neighbour that is sewn to nothing is turned in with what lies across.
            EdgeKind::Seam if sewn => Self::Within,
            _ => Self::Across,
        }
    }
}

/// How two edges that follow each other meet. On the fold the cutting line of the neighbour runs up to the fold and no farther.
/// A hem is folded back over what stands beside it, and of two seams the one that is pressed first.
fn corner(this: Turn, next: Turn) -> Corner {
    match (this, next) {
        (Turn::Fold, _) => Corner::Squared(Which::Before),
        (_, Turn::Fold) => Corner::Squared(Which::After),
        (Turn::Hem, _) => Corner::Mirrored(Which::Before),
        (_, Turn::Hem) => Corner::Mirrored(Which::After),
        _ if this < next => Corner::Mirrored(Which::Before),
        _ if this > next => Corner::Mirrored(Which::After),
        _ => Corner::Mitre,
    }
}
