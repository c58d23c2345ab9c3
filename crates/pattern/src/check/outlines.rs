//! Outlines: corners that meet, and a boundary that runs clockwise and never crosses itself.
//!
//! **What it does.** Follows the edges of every piece, with the caps of its darts, once round.
//! **Why.** A piece whose outline crosses itself, or does not come back to its start, cannot be cut.
//! **Example.** A neckline drawn so deep that it passes through the armhole.
//! **What can go wrong.** Steps refuse what would make such a piece, so that it points to a mistake of the program.

use document::{Finding, Place};
use geometry::curve::enclosed_area;

use super::{About, Check};
use crate::piece::Piece;
use crate::seam::Pattern;

pub(super) const CHECK: Check = Check {
    title: "Outlines",
    manual: include_str!("outlines.rs"),
    codes: &[
        ("corner-open", "corners apart by at most 0.01 mm"),
        ("outline-inside-out", "an outline that runs clockwise"),
        ("outline-crosses", "an outline that never crosses itself"),
    ],
    about: About::Sewing,
    run: check,
};

/// Corners that lie farther apart than this do not meet, mm.
const CORNER_LIMIT: f64 = 0.01;

fn check(pattern: &Pattern) -> Vec<Finding> {
    pattern
        .pieces
        .iter()
        .flat_map(|piece| [corners(piece), crossing(piece)])
        .flatten()
        .collect()
}

fn corners(piece: &Piece) -> Option<Finding> {
    let count = piece.edges.len();
    let apart = (0..count).find(|&index| {
        let (edge, next) = (&piece.edges[index], &piece.edges[(index + 1) % count]);
        (edge.end() - next.start()).hypot() > CORNER_LIMIT
    })?;
    let (edge, next) = (
        &piece.edges[apart].name,
        &piece.edges[(apart + 1) % count].name,
    );
    Some(found(
        piece,
        "corner-open",
        &format!("has a gap between its {edge} and its {next}"),
    ))
}

fn crossing(piece: &Piece) -> Option<Finding> {
    let outline = piece.seam_outline();
    if enclosed_area(&outline) <= 0.0 {
        return Some(found(piece, "outline-inside-out", "is drawn inside out"));
    }
    let clashes = geometry::simple::clashes(&outline);
    let place = clashes.first()?.point;
    Some(found(
        piece,
        "outline-crosses",
        &format!(
            "has an outline that crosses itself at x {:.0}, y {:.0} mm",
            place.x, place.y
        ),
    ))
}

fn found(piece: &Piece, code: &'static str, what: &str) -> Finding {
    Finding::error(code, format!("the {} {what}", piece.title().to_lowercase()))
        .at(Place::Piece(piece.name.clone()))
        .because("a piece is cut along one line that comes back to its start")
        .cure("take the last step away that changed it, or ask it for less: a step should have refused this")
}
