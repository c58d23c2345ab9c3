//! Levels of the body that an edge stood for: when the edge is drawn elsewhere, its old line stays as a line inside.
//!
//! Invariant: a girth is only compared with the body where the pattern still has a line at that level.

use geometry::curve::contains;

use crate::name::answers_to;
use crate::piece::{Edge, InnerLine, Piece};
use crate::seam::{Girth, Pattern};

/// Differences of a girth that are rounding, mm.
const ROUNDING: f64 = 0.01;

/// Keeps the girths of a changed piece: by the old lines of its edges where they lie inside it now, or not at all. Returns the
/// levels that are no longer compared.
pub fn keep(pattern: &mut Pattern, before: &Pattern, index: usize) -> Vec<String> {
    let old = &before.pieces[index];
    let mut lost = Vec::new();
    for girth in before.girths.clone() {
        let same =
            |pattern: &Pattern| (pattern.girth(&girth) - before.girth(&girth)).abs() < ROUNDING;
        if same(pattern) {
            continue;
        }
        for (_, part) in girth
            .parts
            .iter()
            .filter(|(owner, _)| answers_to(&old.name, owner))
        {
            draw_level(&mut pattern.pieces[index], old, part);
        }
        if !same(pattern) {
            pattern.girths.retain(|other: &Girth| *other != girth);
            lost.push(girth.level.clone());
        }
    }
    lost
}

fn draw_level(piece: &mut Piece, old: &Piece, part: &str) {
    let path = piece.outline_path();
    let runs: Vec<_> = old
        .edges_of(part)
        .flat_map(|edge: &Edge| edge.runs.clone())
        .collect();
    let inside = runs
        .iter()
        .all(|run| contains(&path, run.point_at(run.length() / 2.0)));
    if piece.line(part).is_none() && !runs.is_empty() && inside {
        piece.lines.push(InnerLine {
            name: part.into(),
            runs,
        });
        super::reshape::clip(piece);
    }
}
