//! Giving an edge another shape: lines inside that ended on it end on it again, what lies outside is gone.
//!
//! Knows nothing of neighbours: who moves the ends of an edge moves those of its neighbours too. Invariant: lines that did not
//! end on the edge and lie inside the new outline stay as they were.

use geometry::{Curve, Tolerance, curve::contains};

use super::fill::joined;
use super::inner;
use super::place::SAME_POINT;
use crate::piece::{InnerLine, Mark, Piece};

/// How near to an edge a line inside must end to be drawn on to it, mm.
const REACHES: f64 = 0.05;
/// How far a line is drawn on to an edge that went away from it, mm.
const DRAWN_ON: f64 = 60.0;

/// Gives an edge other runs, as many as it had; lines that ended on it are drawn on or cut back to it.
pub fn put(piece: &mut Piece, edge: usize, runs: Vec<Curve>) {
    let before = std::mem::replace(&mut piece.edges[edge].runs, runs);
    let after = piece.edges[edge].runs.clone();
    for line in &mut piece.lines {
        for run in &mut line.runs {
            if is_on(&before, run.end()) {
                *run = drawn_on(run, &after);
            }
            if is_on(&before, run.start()) {
                *run = drawn_on(&run.reversed(), &after).reversed();
            }
        }
    }
}

/// Takes away what a new outline leaves outside: stretches of lines, and points.
pub fn clip(piece: &mut Piece) {
    let path = piece.outline_path();
    let edges: Vec<Curve> = piece
        .edges
        .iter()
        .flat_map(|edge| edge.runs.clone())
        .collect();
    let lines = std::mem::take(&mut piece.lines);
    piece.lines = lines
        .into_iter()
        .filter_map(|line| clipped(line, piece, &path))
        .collect();
    piece.marks.retain(|mark| match mark {
        Mark::Point { at, .. } => contains(&path, *at) || is_on(&edges, *at),
        Mark::Notch { .. } => true,
    });
}

/// A line that lies inside as a whole is left alone, bit for bit.
fn clipped(line: InnerLine, piece: &Piece, path: &geometry::BezPath) -> Option<InnerLine> {
    let only = Piece {
        lines: vec![line.clone()],
        ..piece.clone()
    };
    let left = inner::inside(&only, path).pop()?;
    if line.length() - left.length() < 4.0 * SAME_POINT {
        return Some(line);
    }
    Some(left)
}

fn is_on(runs: &[Curve], point: geometry::Point) -> bool {
    runs.iter().any(|run| run.nearest(point).distance < REACHES)
}

/// A line that ends where it, or its prolongation, meets one of some curves, as near as possible to where it ended.
fn drawn_on(line: &Curve, onto: &[Curve]) -> Curve {
    let (end, way, length) = (line.end(), line.end_direction(), line.length());
    if length < REACHES || way.hypot() < 0.5 {
        return line.clone();
    }
    let longer = joined(line, &Curve::line(end, end + way * DRAWN_ON));
    let crossings = onto
        .iter()
        .flat_map(|curve| longer.crossings(curve, Tolerance::PATTERN));
    let off = |along: f64| (along - length).abs();
    let nearest = crossings.min_by(|a, b| off(a.along).total_cmp(&off(b.along)));
    match nearest {
        Some(crossing) if crossing.along > REACHES && off(crossing.along) > 1e-9 => {
            longer.stretch(0.0, crossing.along)
        }
        Some(_) | None => line.clone(),
    }
}
