//! Pockets: in a seam, with two halves of a bag and the tape that holds it; on the outside, as patches.
//!
//! **What it does.** Marks the opening of a pocket on both edges of its seam and cuts the two halves of its bag; or cuts a patch and
//! marks its corners where it is sewn on.
//! **When it is used.** Where a recipe has `pockets`.
//! **Example.** `pockets { in-seam seam="skirt-side" below-waist="80 mm"; patch piece="skirt-front" shape="pointed" }`.
//! **What can go wrong.** The opening lies too high or too low for the hand; the bag reaches past CF, below the hem or under a
//! dart; a patch hangs over the edge of its piece or lies over a dart.
//!
//! Knows seams and pieces by their names. Invariants: a bag and a patch are drawn where they lie on the shell; both halves of a
//! bag are alike all round; marks of an opening stand on both sides of its seam, equally far down.

mod bag;
mod patch;
mod seam;

use document::Finding;
use geometry::{BezPath, Curve, Point, Tolerance};
use pattern::{Cut, Laid, Layer, Pattern, Piece};

use super::Asked;
use crate::recipe::parts::PocketSide;

pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    let wishes = &asked.recipe.parts.pockets;
    for wish in &wishes.in_seam {
        seam::derive(pattern, wish)?;
    }
    wishes
        .patches
        .iter()
        .try_for_each(|wish| patch::derive(pattern, wish))
}

/// How a piece for one side of the body or both is cut; what is drawn lies at the left of a front that is worn.
fn cut(layer: Layer, side: PocketSide) -> Cut {
    let both = side == PocketSide::Both;
    Cut {
        layer,
        count: if both { 2 } else { 1 },
        laid: if both { Laid::Pair } else { Laid::Single },
    }
}

/// The side in words: nothing for both, ` of the left side`.
fn side_words(side: PocketSide) -> &'static str {
    match side {
        PocketSide::Both => "",
        PocketSide::Left => " of the left side",
        PocketSide::Right => " of the right side",
    }
}

/// The outline of a piece as its darts are cut, to ask what lies within.
fn within(piece: &Piece) -> BezPath {
    piece.outline_path()
}

/// Points along a closed outline, close enough to compare with other lines.
fn points_of(outline: &[Curve]) -> Vec<Point> {
    let tolerance = Tolerance::from_mm(0.5).unwrap_or(Tolerance::DRAWING);
    let curves = outline.iter();
    curves
        .flat_map(|curve| curve.flattened(tolerance))
        .collect()
}

/// Darts of a piece of which a part lies under or over an outline, by their names.
fn darts_touched(piece: &Piece, outline: &[Curve]) -> Vec<String> {
    let path = geometry::curve::closed_path(outline);
    let touched = |dart: &&pattern::Dart| {
        let legs = piece.legs(dart);
        let mouth = legs.before.midpoint(legs.after);
        (0..=20).any(|step| {
            let at = mouth.lerp(legs.point, f64::from(step) / 20.0);
            geometry::curve::contains(&path, at)
        })
    };
    let darts = piece.darts.iter().filter(touched);
    darts.map(|dart| dart.name.clone()).collect()
}
