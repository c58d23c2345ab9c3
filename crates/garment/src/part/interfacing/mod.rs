//! Interfacing behind facings and bands, and what keeps edges from stretching: stay tape and staystitching.
//!
//! **What it does.** Copies facings, waistband and other pieces that are named for the stiffening layer, cut 2 mm within the seam
//! line or with the allowances; finds every open, faced, shoulder and waist edge that runs off the threads of its cloth, and
//! asks for tape or staystitching there.
//! **When it is used.** Behind everything that must keep its shape; stays on every edge that gives when it is handled.
//! **Example.** `interfacing { behind "neck-facing" "waistband"; tape width="10 mm" off-grain="20°" }`.
//! **What can go wrong.** A name means no piece; a piece is too small to be cut within its seam line.
//!
//! Invariants: a piece of interfacing lies in the coordinates of the piece that it stiffens; a seam is held on one side only.

mod half;
mod inset;
mod stays;

use document::{Finding, Place};
use pattern::name::{derived, root};
use pattern::step::kit::new_piece::corners;
use pattern::{EdgeKind, Layer, Lies, Pattern, Piece};

use super::{Asked, figures};
use crate::recipe::parts::Interfacing;
use crate::recipe::parts::interfacing::is_meant;
use geometry::Affine;

#[allow(
    clippy::unnecessary_wraps,
    reason = "all parts are derived by one kind of function"
)]
pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    let Some(wish) = &asked.recipe.parts.interfacing.asked else {
        return Ok(());
    };
    let nothing = behind_nothing(pattern, wish);
    pattern.findings.extend(nothing);
    let stiffened: Vec<Piece> = pattern
        .pieces
        .iter()
        .filter(|piece| is_stiffened(piece, wish))
        .cloned()
        .collect();
    for piece in &stiffened {
        match copy(piece, wish) {
            Some(copy) => {
                pattern.makeup.lies.push(Lies {
                    piece: copy.name.clone(),
                    upon: piece.name.clone(),
                    placed: Affine::IDENTITY,
                });
                pattern.pieces.push(copy);
            }
            None => pattern.findings.push(too_small(piece)),
        }
    }
    let stayed = stays::of(pattern, wish);
    pattern.makeup.stayed.extend(stayed);
    Ok(())
}

/// Facings, waistbands and button stands by themselves; any other piece by its name.
fn is_stiffened(piece: &Piece, wish: &Interfacing) -> bool {
    if piece.cut.layer == Layer::Interfacing {
        return false;
    }
    if wish.behind.is_empty() {
        let name = root(&piece.name);
        return piece.cut.layer == Layer::Facing || name == "waistband" || name.ends_with("stand");
    }
    wish.behind
        .iter()
        .any(|named| is_meant(&piece.name, &named.value))
}

/// The piece as it is cut from interfacing.
fn copy(piece: &Piece, wish: &Interfacing) -> Option<Piece> {
    let halved = wish.half_band.then(|| half::outer(piece)).flatten();
    let whole = halved.as_ref().unwrap_or(piece);
    let mut copy = if wish.with_allowance {
        whole.clone()
    } else {
        within(whole)?
    };
    copy.name = derived(&piece.name, "interfacing");
    copy.cut.layer = Layer::Interfacing;
    copy.marks.clear();
    copy.lines.clear();
    corners(&mut copy);
    Some(copy)
}

/// A piece cut within its seam line; one with darts is cut along it, so that they can be sewn with it.
fn within(piece: &Piece) -> Option<Piece> {
    let mut copy = piece.clone();
    if copy.darts.is_empty() {
        copy.edges = inset::edges(piece, figures::WITHIN_SEAM)?;
    }
    for edge in &mut copy.edges {
        edge.allowance = 0.0;
        if edge.kind != EdgeKind::Fold {
            edge.kind = EdgeKind::Finished;
        }
    }
    Some(copy)
}

fn behind_nothing(pattern: &Pattern, wish: &Interfacing) -> Vec<Finding> {
    let meant = |name: &str| {
        pattern
            .pieces
            .iter()
            .any(|piece| is_meant(&piece.name, name))
    };
    let lost = wish.behind.iter().filter(|named| !meant(&named.value));
    let names: Vec<&str> = pattern
        .pieces
        .iter()
        .map(|piece| piece.name.as_str())
        .collect();
    lost.map(|named| {
        Finding::warning(
            "interfacing-behind-nothing",
            format!("there is no piece called {} to be stiffened", named.value),
        )
        .at_text(&named.span, "no such piece")
        .allowed(format!(
            "one of: {}, or the end of such a name",
            names.join(", ")
        ))
        .because("interfacing lies behind another piece")
        .cure("correct the name, or take it away")
    })
    .collect()
}

fn too_small(piece: &Piece) -> Finding {
    Finding::warning(
        "interfacing-too-small",
        format!(
            "the {} is too small for interfacing within its seam line",
            piece.title().to_lowercase()
        ),
    )
    .at(Place::Piece(piece.name.clone()))
    .because("nothing is left of it 2 mm within its seam line")
    .cure("cut its interfacing with the allowances: cut \"with-allowance\"")
}
