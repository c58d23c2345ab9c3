//! The outline of a piece drawn in by a distance; a fold stays where it is.
//!
//! Knows no interfacing. Invariant: edges keep their names and order; the outline is simple, or there is none.

use geometry::curve::{angle_between, enclosed_area};
use geometry::simple::is_simple;
use geometry::{Curve, Point, Tolerance};
use pattern::{Edge, EdgeKind, Piece};

/// Edges that turn by less than this at their corner are taken to run on, degrees.
const RUNS_ON: f64 = 5.0;

/// The edges of a piece without darts, drawn in.
pub(super) fn edges(piece: &Piece, by: f64) -> Option<Vec<Edge>> {
    let count = piece.edges.len();
    let lines: Vec<Curve> = piece
        .edges
        .iter()
        .map(|edge| line(edge, by))
        .collect::<Option<_>>()?;
    let corners: Vec<Point> = (0..count)
        .map(|index| corner(piece, &lines, index))
        .collect();
    let drawn: Option<Vec<Edge>> = (0..count)
        .map(|index| {
            let (start, end) = (corners[(index + count - 1) % count], corners[index]);
            let line = &lines[index];
            let [from, to] = [start, end].map(|point| line.nearest(point).along);
            (from < to).then(|| Edge {
                runs: vec![line.stretch(from, to).with_ends(start, end)],
                ..piece.edges[index].clone()
            })
        })
        .collect();
    drawn.filter(|edges| {
        let outline: Vec<Curve> = edges.iter().map(|edge| edge.runs[0].clone()).collect();
        enclosed_area(&outline) > 0.0 && is_simple(&outline)
    })
}

/// An edge drawn in, and prolonged at both ends so that it meets its neighbours.
fn line(edge: &Edge, by: f64) -> Option<Curve> {
    let run = edge.runs.first()?;
    let line = if edge.kind == EdgeKind::Fold {
        run.clone()
    } else {
        run.rounded_offset(-by, Tolerance::PATTERN)?
    };
    let reach = 4.0 * by;
    let before = Curve::line(line.start() - line.start_direction() * reach, line.start());
    let after = Curve::line(line.end(), line.end() + line.end_direction() * reach);
    before.then(&line)?.then(&after)
}

/// Where an edge drawn in meets the next.
fn corner(piece: &Piece, lines: &[Curve], index: usize) -> Point {
    let next = (index + 1) % lines.len();
    let (edge, other) = (&piece.edges[index], &piece.edges[next]);
    let at = edge.end();
    let turn = angle_between(edge.end_direction(), other.start_direction());
    let beside = || lines[index].point_at(lines[index].nearest(at).along);
    if turn.degrees().abs() < RUNS_ON {
        return beside();
    }
    let crossings = lines[index].crossings(&lines[next], Tolerance::PATTERN);
    let nearest = crossings
        .iter()
        .map(|crossing| crossing.point)
        .min_by(|a, b| (*a - at).hypot().total_cmp(&(*b - at).hypot()));
    nearest.unwrap_or_else(beside)
}
