//! Width: every piece fits the width of its cloth.
//!
//! **What it does.** Lays every piece with its allowances along its grain and compares its width with that of its cloth, doubled where
//! it is cut on a fold that runs with the grain.
//! **Why.** A piece that is wider than its cloth must be pieced, which costs a seam where none was meant.
//! **Example.** A half circle on the fold, 1558 mm wide, for a cloth of 1400 mm.
//! **What can go wrong.** The width is that of the piece alone: whether two find room beside each other is for the lay to say.
//!
//! Knows no lay and no shrinkage.

use document::{Allowed, Finding, Mend, Place, Quantity};
use geometry::{Affine, Angle, Curve, curve};

use super::{About, Check};
use crate::makeup::Cloth;
use crate::piece::{Laid, Piece};
use crate::seam::Pattern;

pub(super) const CHECK: Check = Check {
    title: "Cloth",
    manual: include_str!("cloth_width.rs"),
    codes: &[("piece-wider-than-cloth", "the width of the cloth")],
    about: About::Wearing,
    run: check,
};

/// How many times its width an allowance reaches out at a mitred corner at the most.
const REACH: f64 = 4.0;

fn check(pattern: &Pattern) -> Vec<Finding> {
    let pieces = pattern.pieces.iter();
    pieces.filter_map(|piece| fits(pattern, piece)).collect()
}

fn fits(pattern: &Pattern, piece: &Piece) -> Option<Finding> {
    let cloth = pattern.makeup.cloth(piece.cut.layer)?;
    let edges = piece.edges.iter();
    let widest = edges.map(|edge| edge.allowance).fold(0.0, f64::max);
    // Most pieces fit by far; only the others need their cutting line.
    let drawn = width_on_cloth(piece, piece.edges.iter().flat_map(|edge| &edge.runs));
    if drawn + 2.0 * REACH * widest <= cloth.width {
        return None;
    }
    let outline = piece.cutting_outline().ok()?;
    let curves = outline.cuts.iter();
    let width = width_on_cloth(
        piece,
        curves.flat_map(|cut| cut.line.iter().chain(&cut.join)),
    );
    (width > cloth.width).then(|| too_wide(piece, cloth, width))
}

/// Width of a piece across its grain, unfolded, mm.
fn width_on_cloth<'a>(piece: &Piece, curves: impl Iterator<Item = &'a Curve>) -> f64 {
    let upright = Affine::rotate(Angle::from_degrees(90.0).radians() - piece.grain.radians());
    let (mut left, mut right) = (f64::MAX, f64::MIN);
    for curve in curves {
        let bounds = curve.transformed(upright).bounds();
        left = left.min(bounds.x0);
        right = right.max(bounds.x1);
    }
    let width = right - left;
    let Laid::OnFold(fold) = &piece.cut.laid else {
        return width;
    };
    // Unfolded it is twice as wide where the fold runs with the grain, and as wide as it is drawn where it runs across.
    let across = piece.edge(fold).map_or(1.0, |edge| {
        curve::unit(piece.grain)
            .cross((edge.end() - edge.start()).normalize())
            .abs()
    });
    if across < 0.5 { 2.0 * width } else { width }
}

fn too_wide(piece: &Piece, cloth: &Cloth, width: f64) -> Finding {
    let layer = piece.cut.layer.word();
    let needed = (width / 10.0).ceil() * 10.0;
    Finding::error(
        "piece-wider-than-cloth",
        format!(
            "the {} is {width:.0} mm wide across its grain, {:.0} mm more than the {layer} is wide",
            piece.title().to_lowercase(),
            width - cloth.width
        ),
    )
    .at(Place::Piece(piece.name.clone()))
    .measured(
        Quantity::mm(width),
        Allowed::AtMost(Quantity::mm(cloth.width)),
    )
    .because("a piece that is wider than its cloth must be pieced with a seam more")
    .cure(format!(
        "take a cloth of {needed:.0} mm, cut the piece in two, or make it narrower"
    ))
    .mend(
        Mend::value(
            &["cloths", layer],
            format!("{:?}", cloth.name),
            format!("takes a {layer} of {:.0} cm width", needed / 10.0),
        )
        .and(Mend::property(
            &["cloths", layer],
            "width",
            format!("\"{:.0} cm\"", needed / 10.0),
            "",
        )),
    )
}
