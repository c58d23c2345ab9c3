//! Darts at the waist: those above the waist seam run on in those below it.
//!
//! **What it does.** Walks both sides of every seam along a waist to each closed dart and each seam that ends there, and compares
//! every dart with the nearest line of the other side, as far as that one is meant: within a hand's breadth.
//! **Why.** Two darts that miss each other by a few millimetres look like a slip of the needle, and lie thick side by side.
//! **Example.** A bodice dart 83 mm from the centre over a skirt dart 91 mm from it.
//! **What can go wrong.** Where one side has more darts than the other, some have no partner, and are left alone.
//!
//! Knows lengths along the seam, no shapes of darts.

use document::{Allowed, Finding, Mend, Place, Quantity};

use super::{About, Check, WAIST_DART_LIMIT};
use crate::piece::{Dart, Edge, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const CHECK: Check = Check {
    title: "Darts at the waist",
    manual: include_str!("waist_darts.rs"),
    codes: &[("waist-darts-apart", "3 mm")],
    about: About::Wearing,
    run: check,
};

/// Darts farther apart than this are not meant to meet, mm; common practice, no source.
const MEANT: f64 = 40.0;

fn check(pattern: &Pattern) -> Vec<Finding> {
    pattern
        .seams
        .iter()
        .filter(|seam| is_flat_waist(seam))
        .flat_map(|seam| across(pattern, seam))
        .collect()
}

fn is_flat_waist(seam: &Seam) -> bool {
    let at_waist =
        |side: &[Stretch]| !side.is_empty() && side.iter().all(|one| one.edge.starts_with("waist"));
    at_waist(&seam.held)
        && at_waist(&seam.worked)
        && matches!(seam.fullness, Fullness::None | Fullness::Eased(_))
}

/// A dart, or the end of a seam, on one side of the waist.
struct Line<'a> {
    along: f64,
    dart: Option<(&'a Piece, &'a Edge, &'a Dart)>,
}

fn across(pattern: &Pattern, seam: &Seam) -> Vec<Finding> {
    let [held, worked] = [&seam.held, &seam.worked].map(|side| lines(pattern, side));
    let darts = worked.iter().filter(|line| line.dart.is_some());
    let mut findings = Vec::new();
    for below in darts {
        let Some(above) = nearest(&held, below.along) else {
            continue;
        };
        // Of two darts near the same one, the nearer is meant.
        let is_mutual = nearest(&worked, above.along).is_some_and(|line| line.along == below.along);
        let off = (below.along - above.along).abs();
        if is_mutual && off > WAIST_DART_LIMIT && off <= MEANT {
            findings.extend(apart(seam, above, below, off));
        }
    }
    findings
}

fn nearest<'a, 'b>(lines: &'b [Line<'a>], along: f64) -> Option<&'b Line<'a>> {
    let off = |line: &&Line<'_>| (line.along - along).abs();
    lines.iter().min_by(|a, b| off(a).total_cmp(&off(b)))
}

/// Darts and ends of seams within a side, by length as sewn.
fn lines<'a>(pattern: &'a Pattern, side: &'a [Stretch]) -> Vec<Line<'a>> {
    let mut before = 0.0;
    let mut lines = Vec::new();
    for stretch in side {
        for (index, (piece, edge)) in pattern.edges_of(stretch).into_iter().enumerate() {
            if index > 0 {
                lines.push(Line {
                    along: before,
                    dart: None,
                });
            }
            let length = edge.length();
            for dart in piece.darts_on(&edge.name) {
                let runs = edge.runs[..=dart.gap].iter();
                let along: f64 = runs.map(geometry::Curve::length).sum();
                let within = if stretch.backwards {
                    length - along
                } else {
                    along
                };
                lines.push(Line {
                    along: before + within,
                    dart: Some((piece, edge, dart)),
                });
            }
            before += length;
        }
    }
    lines
}

fn apart(seam: &Seam, above: &Line<'_>, below: &Line<'_>, off: f64) -> Option<Finding> {
    let (piece, edge, dart) = below.dart?;
    let other = above.dart.map_or_else(
        || "the seam above it".to_owned(),
        |(piece, _, dart)| format!("the {} of the {}", dart.name, piece.name),
    );
    let legs = piece.legs(dart);
    let at = legs.before.midpoint(legs.after);
    let share = below_share(edge, dart, below, above);
    Some(
        Finding::warning(
            "waist-darts-apart",
            format!(
                "the {} of the {} misses {other} by {off:.1} mm at the {} seam",
                dart.name, piece.name, seam.name
            ),
        )
        .at(Place::Edge {
            piece: piece.name.clone(),
            edge: edge.name.clone(),
            at: Some((at.x, at.y)),
        })
        .measured(
            Quantity::mm(off),
            Allowed::AtMost(Quantity::mm(WAIST_DART_LIMIT)),
        )
        .because("darts that miss each other by little look like a slip and lie thick side by side")
        .cure("move one of them along the waist")
        .mend(Mend::line(
            "steps",
            format!(
                "transfer dart=\"{0}.{1}\" to=\"{0}.{2} at {share:.1} % from start\"",
                piece.name, dart.name, edge.name
            ),
            format!(
                "moves the {} of the {} along the {} to {other}",
                dart.name, piece.name, edge.name
            ),
        )),
    )
}

/// Where on its edge the dart would have to lie, in hundredths of the edge from its first corner.
fn below_share(edge: &Edge, dart: &Dart, below: &Line<'_>, above: &Line<'_>) -> f64 {
    let runs = edge.runs[..=dart.gap].iter();
    let along: f64 = runs.map(geometry::Curve::length).sum();
    let by = above.along - below.along;
    100.0 * (along + by) / edge.length()
}
