//! Gives every edge its allowance and every corner its shape.

use pattern::{Corner, Edge, EdgeKind, Pattern, Piece, name};

use crate::recipe::{Allowances, Recipe};

/// Gives allowances to all pieces.
pub(super) fn give(pattern: &mut Pattern, recipe: &Recipe) {
    for piece in &mut pattern.pieces {
        let sleeve = piece.name == "sleeve";
        for edge in &mut piece.edges {
            edge.allowance = allowance(edge, &recipe.allowances, sleeve);
        }
        corners(piece);
    }
}

/// Gives allowances to edges that the steps made, or made into another kind; a step's own allowance stays.
pub(super) fn complete(pattern: &mut Pattern, block: &Pattern, recipe: &Recipe) {
    for piece in &mut pattern.pieces {
        let drafted = block.piece(name::root(&piece.name));
        let sleeve = name::root(&piece.name) == "sleeve";
        let mut given = false;
        for edge in &mut piece.edges {
            let old = drafted.and_then(|piece| piece.edge(name::root(&edge.name)));
            let other_kind = old.is_some_and(|old| old.kind != edge.kind);
            let wanted = allowance(edge, &recipe.allowances, sleeve);
            let untouched = old.is_some_and(|old| old.allowance == edge.allowance);
            if edge.allowance == 0.0 && wanted > 0.0 || other_kind && untouched {
                given |= edge.allowance != wanted;
                edge.allowance = wanted;
            }
        }
        if given {
            corners(piece);
        }
    }
}

fn allowance(edge: &Edge, allowances: &Allowances, sleeve: bool) -> f64 {
    match edge.kind {
        EdgeKind::Fold => 0.0,
        EdgeKind::Opening => allowances.opening,
        EdgeKind::Finished => allowances.finished,
        EdgeKind::Hem if sleeve => allowances.sleeve_hem,
        EdgeKind::Hem => allowances.hem,
        EdgeKind::Seam if edge.answers_to("armhole") || edge.name.starts_with("cap-") => {
            allowances.armhole
        }
        EdgeKind::Seam => allowances.seam,
    }
}

/// A hem is folded back along its line: what stands beside it is mirrored in it. Seams end in mitres.
fn corners(piece: &mut Piece) {
    use geometry::allowance::Which;
    let kinds: Vec<EdgeKind> = piece.edges.iter().map(|edge| edge.kind).collect();
    let count = kinds.len();
    for (index, edge) in piece.edges.iter_mut().enumerate() {
        let (this, next) = (kinds[index], kinds[(index + 1) % count]);
        edge.corner = match (this, next) {
            // On the fold the cutting line of the neighbour runs up to the fold and no farther.
            (EdgeKind::Fold, _) => Corner::Squared(Which::Before),
            (_, EdgeKind::Fold) => Corner::Squared(Which::After),
            (EdgeKind::Hem, _) => Corner::Mirrored(Which::Before),
            (_, EdgeKind::Hem) => Corner::Mirrored(Which::After),
            _ => Corner::Mitre,
        };
    }
}
