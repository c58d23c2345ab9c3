//! Grain on both sides of a seam: cloth that hangs alike.
//!
//! **What it does.** Measures the angle between the seam and the lengthwise grain in the middle of every seam that runs down the
//! garment, on both sides.
//! **Why.** A bias edge stretches and drops where a straight one does not: sewn to each other, the seam puckers, twists or swings
//! to one side after a day on the hanger.
//! **Example.** The side of a flared front 8° off its grain, sewn to a back that is cut on the bias: 37°.
//! **What can go wrong.** Sides that both lie within 20° of the grain, as those of fitted pieces do, are left alone. Where only one of two pieces is meant to be on the bias, leave the finding: it is a warning. Seams
//! across the garment, such as those of yokes, bands and sleeve caps, join other grains on purpose and are left alone.
//!
//! Knows angles at one place, no cloth. Invariant: what it offers makes both angles alike there.

use document::{Allowed, Finding, Mend, Place, Quantity};
use geometry::curve;

use super::{About, Check, GRAIN_LIMIT};
use crate::piece::Piece;
use crate::seam::{Pattern, Seam, Stretch};
use crate::step::kit::across;

pub(super) const CHECK: Check = Check {
    title: "Grain",
    manual: include_str!("grain.rs"),
    codes: &[("grain-differs", "10°")],
    about: About::Wearing,
    run: check,
};

/// Seams farther off the grain than this on either side run across the garment, degrees.
const ACROSS: f64 = 60.0;
/// Up to here from the grain a seam keeps its length nearly as on the straight, degrees; common practice, no source.
const STRAIGHT: f64 = 20.0;

fn check(pattern: &Pattern) -> Vec<Finding> {
    pattern
        .seams
        .iter()
        .filter(|seam| seam.runs_on.contains(&true))
        .filter_map(|seam| compared(pattern, seam))
        .collect()
}

fn compared(pattern: &Pattern, seam: &Seam) -> Option<Finding> {
    let (held, off_held) = off_grain(pattern, &seam.held)?;
    let (worked, off_worked) = off_grain(pattern, &seam.worked)?;
    let differs = (off_held - off_worked).abs();
    let farther = off_held.max(off_worked);
    let runs_down = (STRAIGHT..=ACROSS).contains(&farther);
    // Layers follow the grain of the shell, and are mended with it.
    let is_layer = pattern.makeup.is_derived(&held.name);
    if is_layer || held.name == worked.name || !runs_down || differs <= GRAIN_LIMIT {
        return None;
    }
    Some(differ(
        seam,
        [(held, off_held), (worked, off_worked)],
        differs,
    ))
}

/// The piece in the middle of a side of a seam, and the angle there between seam and grain, from 0° to 90°.
fn off_grain<'a>(pattern: &'a Pattern, side: &[Stretch]) -> Option<(&'a Piece, f64)> {
    let middle = 0.5 * pattern.side_length(side);
    let spot = across::at(pattern, side, middle)?;
    let way = across::direction(pattern, side, middle)?;
    let piece = pattern.piece(&spot.piece)?;
    let off = curve::angle_between(way, curve::unit(piece.grain))
        .degrees()
        .abs();
    Some((piece, off.min(180.0 - off)))
}

fn differ(seam: &Seam, sides: [(&Piece, f64); 2], differs: f64) -> Finding {
    let [(one, off_one), (other, off_other)] = sides;
    // The piece that is farther off the grain takes over first: the straight one is seldom meant to be on the bias.
    let order = if off_one > off_other {
        [one, other]
    } else {
        [other, one]
    };
    let copies = |piece: &Piece, from: &Piece| {
        Mend::line(
            "steps",
            format!("grain piece=\"{}\" seam=\"{}\"", piece.name, seam.name),
            format!(
                "lays the grain of the {} as across the {} seam in the {}",
                piece.name, seam.name, from.name
            ),
        )
    };
    Finding::warning(
        "grain-differs",
        format!(
            "the {} seam is {off_one:.0}° off the grain in the {} and {off_other:.0}° in the {}",
            seam.name, one.name, other.name
        ),
    )
    .at(Place::Seam(seam.name.clone()))
    .measured(
        Quantity::degrees(differs),
        Allowed::AtMost(Quantity::degrees(GRAIN_LIMIT)),
    )
    .because("a bias edge stretches where a straight one does not, and the seam swings or puckers")
    .cure("lay one grain as the other is, or leave it where the bias is meant")
    .mend(copies(order[0], order[1]))
    .mend(copies(order[1], order[0]))
}
