//! The outer half of a band that is folded lengthwise: from its fold to the edge that is sewn on.
//!
//! Knows bands by their `fold` line and their `waist` edge. Invariant: the half runs clockwise as the whole does.

use geometry::Curve;
use pattern::{Edge, EdgeKind, Piece};

/// Where a line ends on the outline.
struct On {
    edge: usize,
    along: f64,
}

/// The half beside the sewn edge; none for a piece that is not folded.
pub(super) fn outer(piece: &Piece) -> Option<Piece> {
    let fold = piece.line("fold")?.runs.first()?.clone();
    let (start, end) = (on(piece, &fold, true)?, on(piece, &fold, false)?);
    let edges =
        side(piece, &end, &start, &fold).or_else(|| side(piece, &start, &end, &fold.reversed()))?;
    Some(Piece {
        edges,
        ..piece.clone()
    })
}

/// The edge on which an end of the fold lies.
fn on(piece: &Piece, fold: &Curve, at_start: bool) -> Option<On> {
    let point = if at_start { fold.start() } else { fold.end() };
    let nearest = |edge: &Edge| {
        let run = edge.runs.first()?;
        (edge.runs.len() == 1).then(|| run.nearest(point))
    };
    let found = piece
        .edges
        .iter()
        .enumerate()
        .filter_map(|(index, edge)| Some((index, nearest(edge)?)));
    let (edge, nearest) = found.min_by(|a, b| a.1.distance.total_cmp(&b.1.distance))?;
    Some(On {
        edge,
        along: nearest.along,
    })
}

/// The outline from one place on to another and back along the fold, which runs from the second to the first; none where the
/// sewn edge is not on it.
fn side(piece: &Piece, from: &On, to: &On, fold: &Curve) -> Option<Vec<Edge>> {
    let count = piece.edges.len();
    let cut = |index: usize, start: Option<f64>, end: Option<f64>| {
        let edge = &piece.edges[index];
        let run = &edge.runs[0];
        let run = run.stretch(start.unwrap_or(0.0), end.unwrap_or_else(|| run.length()));
        Edge {
            runs: vec![run],
            ..edge.clone()
        }
    };
    let mut edges = vec![cut(from.edge, Some(from.along), None)];
    let mut index = (from.edge + 1) % count;
    while index != to.edge {
        edges.push(piece.edges[index].clone());
        index = (index + 1) % count;
    }
    edges.push(cut(to.edge, None, Some(to.along)));
    let sewn = edges.iter().any(|edge| edge.answers_to("waist"));
    let line = fold.with_ends(edges[edges.len() - 1].end(), edges[0].start());
    edges.push(Edge::new("fold", EdgeKind::Finished, line));
    sewn.then_some(edges)
}
