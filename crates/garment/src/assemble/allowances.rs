//! Gives every edge its allowance and every corner its shape.

use pattern::{Corner, Edge, EdgeKind, Pattern, Piece};

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
