//! Room: allowances that fit round every corner.
//!
//! **What it does.** Makes the cutting line of every piece and, where an allowance turns over itself, looks for the largest one
//! that works: of the edge alone, or of all edges together where that alone does not help.
//! **Why.** A piece without a cutting line cannot be cut.
//! **Example.** An allowance of 15 mm on both sides of a slit of 10 mm: 5 mm fit.
//! **What can go wrong.** Narrow allowances fray and tear: where a slit is narrow, face it instead.
//!
//! Invariant: with the allowances that it offers there is a cutting line.

use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};

use super::{About, Check};
use crate::cutting::CuttingError;
use crate::piece::{Edge, Piece};
use crate::seam::Pattern;

pub(super) const CHECK: Check = Check {
    title: "Allowances",
    manual: include_str!("room.rs"),
    codes: &[(
        "allowance-does-not-fit",
        "a cutting line that comes back to its start",
    )],
    about: About::Sewing,
    run: check,
};

/// How near the largest allowance is looked for, mm.
const NEAR: f64 = 0.05;

fn check(pattern: &Pattern) -> Vec<Finding> {
    pattern
        .pieces
        .iter()
        .filter_map(|piece| Some(no_room(piece, &piece.cutting_outline().err()?)))
        .collect()
}

fn no_room(piece: &Piece, error: &CuttingError) -> Finding {
    let finding = Finding::error(
        "allowance-does-not-fit",
        format!(
            "the {} has no room for its allowance: {error}",
            piece.title().to_lowercase()
        ),
    )
    .at(Place::Edge {
        piece: piece.name.clone(),
        edge: error.edge.clone(),
        at: None,
    })
    .because("a piece is cut along one line that comes back to its start");
    let edges = piece.edges.iter().enumerate();
    let edges = edges.filter(|(_, edge)| edge.allowance > 0.0);
    let (own, others): (Vec<_>, Vec<_>) = edges.partition(|(_, edge)| edge.name == error.edge);
    let single = own.iter().chain(&others).map(|(index, _)| vec![*index]);
    let all = own.iter().chain(&others).map(|(index, _)| *index).collect();
    let found = single
        .chain([all])
        .find_map(|narrowed| Some((largest(piece, &narrowed)?, narrowed)));
    match found {
        Some((share, narrowed)) => with_room(finding, piece, &narrowed, share),
        None => finding.cure("give the piece narrower allowances"),
    }
}

/// The finding with the allowances that work: of one edge or, where that alone does not help, of all.
fn with_room(finding: Finding, piece: &Piece, narrowed: &[usize], share: f64) -> Finding {
    let first = &piece.edges[narrowed[0]];
    let works = tenths(first.allowance * share);
    let line = |edge: &Edge| {
        let works = tenths(edge.allowance * share);
        Mend::line(
            "allowances",
            format!(
                "edge \"{}.{}\" {}",
                piece.name,
                edge.name,
                written_mm(works)
            ),
            format!(
                "gives the {} of the {} an allowance of {works:.1} mm, the largest that works there",
                edge.name, piece.name
            ),
        )
    };
    let mut lines = narrowed.iter().map(|&index| line(&piece.edges[index]));
    let mend = lines.next().map(|first| lines.fold(first, Mend::and));
    finding
        .measured(
            Quantity::mm(first.allowance),
            Allowed::AtMost(Quantity::mm(works)),
        )
        .cure(format!(
            "give its {} an allowance of {works:.1} mm, the largest that works{}",
            first.name,
            if narrowed.len() > 1 {
                ", and narrow all others as much"
            } else {
                ""
            }
        ))
        .mend_with(mend)
}

/// Down to whole tenths of a millimetre.
fn tenths(mm: f64) -> f64 {
    (mm * 10.0 + 1e-6).floor() / 10.0
}

/// The largest share of their allowances with which these edges let the piece have a cutting line; looked for by halving.
fn largest(piece: &Piece, narrowed: &[usize]) -> Option<f64> {
    let mut tried = piece.clone();
    let mut works = |share: f64| {
        for &index in narrowed {
            tried.edges[index].allowance = tenths(piece.edges[index].allowance * share);
        }
        tried.cutting_outline().is_ok()
    };
    if !works(0.0) {
        return None;
    }
    let widest = narrowed
        .iter()
        .map(|&index| piece.edges[index].allowance)
        .fold(0.0, f64::max);
    let (mut low, mut high) = (0.0, 1.0);
    while (high - low) * widest > NEAR {
        let middle = 0.5 * (low + high);
        if works(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}
