//! How long an opening must be for the body to pass: hips through the waist, head through the neckline.
//!
//! Knows girths, no zip. Invariant: an opening of a length gives twice that length to the girth at its top, so that half of what
//! is missing must open.

use body::{Body, Measure};
use document::{Allowed, Finding, Place, Quantity};
use pattern::{Edge, EdgeKind, Pattern};

use super::path::Path;
use crate::part::{Asked, figures};
use crate::recipe::parts::Closed;
use crate::recipe::{Opening, Written};

/// The least opening, from the top of its path.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Least {
    /// Where it ends at the highest, mm below the top.
    pub(super) to: f64,
    /// What passes it: `the hips`, `the head`.
    pub(super) what: &'static str,
}

/// The least length of a zip below the waist, mm: (hip − waist + 2 in)/2. Source: a trade magazine's worked example.
pub(super) fn by_rule(hip: f64, waist: f64) -> f64 {
    ((hip - waist + figures::OPENING_OVER_HIPS) / 2.0).max(0.0)
}

/// The least slit at the neck, mm: half of what the neckline is shorter than the head; arithmetic.
pub(super) fn neck_slit(head: f64, neckline: f64) -> f64 {
    ((head - neckline) / 2.0).max(0.0)
}

pub(super) fn least(pattern: &Pattern, asked: &Asked<'_>, path: &Path, from: f64) -> Least {
    let body = asked.body;
    let waist = girth(pattern, "waist");
    let neck = neck_slit(body.mm(Measure::Head), neckline(pattern));
    let at_neck = path.waist() > 0.0 && asked.recipe.opening != Opening::Side;
    // What is as wide at the waist as bust and a hand's ease is put on over the head.
    let over_head = path.waist() > 0.0
        && waist.is_some_and(|waist| waist >= body.mm(Measure::Bust) + figures::OPENING_OVER_HIPS);
    if over_head && at_neck {
        return Least {
            to: neck,
            what: "the head",
        };
    }
    let below = if path.has_skirt() {
        below_waist(pattern, body, waist)
    } else {
        path.length()
    };
    Least {
        to: (path.waist() + below).max(from).min(path.length()),
        what: if path.has_skirt() {
            "the hips"
        } else {
            "the shoulders"
        },
    }
}

/// How far below the waist the hips pass. Between waist and hip line the garment is taken to widen evenly, and since hips round
/// out it widens faster: the result errs to the safe side.
fn below_waist(pattern: &Pattern, body: &Body, waist: Option<f64>) -> f64 {
    let (hip, body_waist) = (body.mm(Measure::Hip), body.mm(Measure::Waist));
    let rule = by_rule(hip, body_waist);
    let (Some(waist), Some(at_hip)) = (waist, girth(pattern, "hip")) else {
        return rule;
    };
    let share = if at_hip > waist {
        ((hip - waist) / (at_hip - waist)).clamp(0.0, 1.0)
    } else {
        1.0
    };
    let wide_enough = body.mm(Measure::WaistToHip) * if hip > waist { share } else { 0.0 };
    rule.max(wide_enough)
}

/// A dress that opens at the side goes over the head whole: its neckline must be as long as the head is round.
pub(super) fn head(
    pattern: &Pattern,
    asked: &Asked<'_>,
    closed: &Written<Closed>,
) -> Option<Finding> {
    let mut tops = ["front", "back"]
        .into_iter()
        .flat_map(|name| pattern.pieces_of(name));
    let is_closed = |piece: &pattern::Piece| {
        let centre = piece.edges_of("centre").next();
        centre.is_none_or(|edge| matches!(edge.kind, EdgeKind::Fold | EdgeKind::Seam))
    };
    let (head, neckline) = (asked.body.mm(Measure::Head), neckline(pattern));
    if neckline >= head || neckline == 0.0 || !tops.all(is_closed) {
        return None;
    }
    let finding = Finding::error(
        "neckline-does-not-pass-head",
        format!("the neckline is {neckline:.0} mm round and the head {head:.0} mm"),
    )
    .at_text(&closed.span, "opens at the side only")
    .at(Place::Measure("head".into()));
    Some(
        finding
            .measured(Quantity::mm(neckline), Allowed::AtLeast(Quantity::mm(head)))
            .because("what opens at the side only is pulled over the head")
            .cure("widen or lower the neckline, or let the garment open at the back or in front"),
    )
}

/// The garment's girth at a level, mm.
fn girth(pattern: &Pattern, level: &str) -> Option<f64> {
    let found = pattern.girths.iter().find(|girth| girth.level == level)?;
    Some(pattern.girth(found))
}

/// The neckline all round, mm.
pub(super) fn neckline(pattern: &Pattern) -> f64 {
    let of_piece = |piece: &pattern::Piece| {
        let edges: f64 = piece.edges_of("neckline").map(Edge::length).sum();
        edges * piece.halves()
    };
    let pieces = ["front", "back"].into_iter();
    pieces
        .flat_map(|name| pattern.pieces_of(name))
        .map(of_piece)
        .sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: f64 = 25.4;

    #[test]
    fn a_zip_is_as_long_as_in_the_worked_example() {
        // A trade magazine's worked example: hips 14 in over the waist take a zip of 8 in.
        assert!((by_rule(40.0 * INCH, 26.0 * INCH) - 8.0 * INCH).abs() < 1e-9);
    }

    #[test]
    fn a_neck_slit_lets_the_head_pass() {
        // ASTM D5585-11e1, size 6: mid-neck 14 1/4 in, head 21 3/4 in; half the difference is 3 3/4 in.
        let slit = neck_slit(21.75 * INCH, 14.25 * INCH);
        assert!((slit - 3.75 * INCH).abs() < 1e-9);
        assert!(neck_slit(560.0, 600.0) < 1e-9);
    }
}
