//! The lines and marks of a piece without any words: for a screen, where words are set anew at every size.
//!
//! Invariant: everything lies where it lies on paper.

use document::Finding;
use pattern::Piece;
use sheet::{Item, Shape};

use crate::ground::Ground;
use crate::outline::Cutting;
use crate::{centre, darts, grain, inner, notches, outline};

/// Cutting line, seam lines, folds, darts, notches, marks and the arrow of the grain, named as on paper.
pub fn lines(piece: &Piece) -> Result<Vec<Item>, Finding> {
    let cutting = Cutting::of(piece)?;
    let mut ground = Ground::bordered(&piece.seam_outline());
    let notches = notches::of(piece, &cutting);
    let mut items = outline::items(piece, &cutting);
    items.extend(notches.iter().map(|notch| notch.item(&mut ground)));
    items.extend(darts::items(piece, &cutting, &notches, &mut ground));
    items.extend(inner::marks(piece, &mut ground));
    items.extend(centre::items(piece, &mut ground));
    let arrow = grain::places(&ground, piece.grain).into_iter().next();
    items.extend(arrow.map_or_else(Vec::new, |arrow| arrow.items(&piece.name, &mut ground)));
    items.retain(|item| matches!(item.shape, Shape::Path { .. }));
    Ok(items)
}
