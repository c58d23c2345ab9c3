//! Filling a gap of the outline: ends that meet are joined, ends apart are bridged, or a dart is left there.
//!
//! Invariants: after filling, an edge with n darts has n + 1 runs; notches beyond the gap are brought along; gaps before the
//! filled one on the same edge keep their numbers, so several are filled from the last to the first.

use geometry::Curve;

use super::gap::Gap;
use super::notches;
use crate::piece::{Dart, Piece};

/// A stretch of an edge that is not smooth since something was filled there: lengths as sewn from its first corner, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Joint {
    /// Number of the edge.
    pub edge: usize,
    /// Where it begins.
    pub from: f64,
    /// Where it ends; the same as where it begins for two runs that meet.
    pub to: f64,
}

/// Joins the two runs at a gap whose ends meet; at a corner the next edge is put exactly on the end.
pub fn join(piece: &mut Piece, gap: Gap) -> Joint {
    let from = gap.along(piece);
    let joint = Joint {
        edge: gap.edge,
        from,
        to: from,
    };
    if gap.is_corner(piece) {
        let (end, next) = (gap.before(piece), gap.next(piece));
        let run = &mut piece.edges[next.edge].runs[next.run];
        *run = run.with_ends(end, run.end());
        return joint;
    }
    let edge = &mut piece.edges[gap.edge];
    let after = edge.runs.remove(gap.run + 1);
    let before = &edge.runs[gap.run];
    edge.runs[gap.run] = joined(before, &after);
    fewer_runs(piece, gap);
    joint
}

/// Bridges the two ends at a gap with a straight line; at a corner the edge before it is prolonged.
pub fn bridge(piece: &mut Piece, gap: Gap) -> Joint {
    let from = gap.along(piece);
    let line = Curve::line(gap.before(piece), gap.after(piece));
    let width = line.length();
    if width < 1e-9 {
        return join(piece, gap);
    }
    let edge = &mut piece.edges[gap.edge];
    edge.runs[gap.run] = joined(&edge.runs[gap.run], &line);
    let name = edge.name.clone();
    if !gap.is_corner(piece) {
        notches::shift(piece, &name, from, width);
        join(piece, gap);
    }
    Joint {
        edge: gap.edge,
        from,
        to: from + width,
    }
}

/// Leaves a dart in a gap.
pub fn dart(piece: &mut Piece, gap: Gap, dart: Dart) {
    piece.darts.push(Dart {
        edge: piece.edges[gap.edge].name.clone(),
        gap: gap.run,
        ..dart
    });
    sort_darts(piece);
}

/// Takes the runs between two gaps of one edge away, with what they carry: the run after the second gap follows the run
/// before the first. The ends are not yet joined: fill the first gap.
pub fn take_out(piece: &mut Piece, from: Gap, to: Gap) {
    let first = from.next(piece);
    if from == to || first.edge != to.edge || first.run > to.run {
        return;
    }
    let edge = &mut piece.edges[to.edge];
    let at: f64 = edge.runs[..first.run].iter().map(Curve::length).sum();
    let taken: f64 = edge
        .runs
        .drain(first.run..=to.run)
        .map(|run| run.length())
        .sum();
    let name = edge.name.clone();
    let fewer = to.run + 1 - first.run;
    for dart in piece
        .darts
        .iter_mut()
        .filter(|dart| dart.edge == name && dart.gap >= to.run)
    {
        dart.gap -= fewer;
    }
    notches::shift(piece, &name, at, -taken);
}

/// Two runs as one; the second is put where the first ends.
pub fn joined(before: &Curve, after: &Curve) -> Curve {
    let after = after.with_ends(before.end(), after.end());
    before
        .then(&after)
        .expect("the second run starts where the first ends")
}

/// Puts the darts in the order of the edges and runs.
pub fn sort_darts(piece: &mut Piece) {
    let order: Vec<String> = piece.edges.iter().map(|edge| edge.name.clone()).collect();
    let rank = |dart: &Dart| order.iter().position(|name| *name == dart.edge);
    piece.darts.sort_by_key(|dart| (rank(dart), dart.gap));
}

fn fewer_runs(piece: &mut Piece, gap: Gap) {
    let name = &piece.edges[gap.edge].name;
    let later = piece
        .darts
        .iter_mut()
        .filter(|dart| dart.edge == *name && dart.gap > gap.run);
    later.for_each(|dart| dart.gap -= 1);
}
