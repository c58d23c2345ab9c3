//! Cutting edges back by a constant depth: a hem that ends higher.
//!
//! Invariants: the new edge keeps its distance from the old one; the edges beside it and the legs of its darts are cut where
//! it meets them; all else stays.

use geometry::{Curve, Tolerance, Vec2};
use pattern::step::kit::fill::joined;
use pattern::step::kit::notches;
use pattern::{Mark, Piece};

/// Cuts edges that follow each other back; tells by how much the edge before them and the edge after them became shorter. `None`,
/// and nothing is done, where they would not meet those.
pub(super) fn cut_back(piece: &mut Piece, edges: &[usize], depth: f64) -> Option<[f64; 2]> {
    let (&first, &last) = (edges.first()?, edges.last()?);
    if depth.abs() < 1e-9 {
        return Some([0.0; 2]);
    }
    let count = piece.edges.len();
    let (before, after) = ((first + count - 1) % count, (last + 1) % count);
    let into = piece.edges[before].runs.last()?.reversed();
    let out = piece.edges[after].runs[0].clone();
    let mut starts = into.clone();
    let mut cuts = [0.0; 2];
    let mut new: Vec<Vec<Curve>> = Vec::new();
    for &edge in edges {
        let legs = legs(piece, edge)?;
        let ends = if edge == last {
            out.clone()
        } else {
            inwards(piece, edge, 3.0 * depth)
        };
        let number = piece.edges[edge].runs.len();
        let mut runs = Vec::new();
        for (index, run) in piece.edges[edge].runs.iter().enumerate() {
            let start = if index == 0 {
                &starts
            } else {
                &legs[index - 1][1]
            };
            let end = if index + 1 == number {
                &ends
            } else {
                &legs[index][0]
            };
            let (run, cut) = between(run, depth, start, end)?;
            if edge == first && index == 0 {
                cuts[0] = cut[0];
            }
            cuts[1] = cut[1];
            runs.push(run);
        }
        new.push(even_mouths(piece, edge, runs));
        starts = ends;
    }
    let left = [into.length() - cuts[0], out.length() - cuts[1]];
    if left.iter().any(|left| *left < 1.0) {
        return None;
    }
    let corner = [new[0][0].start(), new[new.len() - 1].last()?.end()];
    let run = into.stretch(cuts[0], into.length()).reversed();
    *piece.edges[before].runs.last_mut()? = run.with_ends(run.start(), corner[0]);
    let run = out.stretch(cuts[1], out.length());
    piece.edges[after].runs[0] = run.with_ends(corner[1], run.end());
    for (&edge, runs) in edges.iter().zip(new) {
        piece.edges[edge].runs = runs;
    }
    close(piece, edges);
    keep_marks(piece, [before, after], edges, cuts[1]);
    Some(cuts)
}

/// A line from the last corner of an edge inwards, halving the angle between it and the next.
fn inwards(piece: &Piece, edge: usize, length: f64) -> Curve {
    let next = &piece.edges[(edge + 1) % piece.edges.len()];
    let way = piece.edges[edge].end_direction() + next.start_direction();
    let square = Vec2::new(-way.y, way.x) / way.hypot().max(1e-9);
    let corner = piece.edges[edge].end();
    Curve::line(corner, corner + square * length)
}

/// Corners between the edges that were cut back are shared exactly.
fn close(piece: &mut Piece, edges: &[usize]) {
    for pair in edges.windows(2) {
        let end = piece.edges[pair[0]].end();
        let run = &mut piece.edges[pair[1]].runs[0];
        *run = run.with_ends(end, run.end());
    }
}

/// The legs of the darts of an edge, each from its mouth inwards: before and after.
fn legs(piece: &Piece, edge: usize) -> Option<Vec<[Curve; 2]>> {
    let owner = &piece.edges[edge];
    (0..owner.runs.len() - 1)
        .map(|gap| {
            let dart = piece.darts_on(&owner.name).find(|dart| dart.gap == gap)?;
            let legs = piece.legs(dart);
            Some([
                Curve::line(legs.before, dart.point),
                Curve::line(legs.after, dart.point),
            ])
        })
        .collect()
}

/// A run moved inwards, between two lines that begin at its ends; and how much of each it cuts off.
fn between(run: &Curve, depth: f64, start: &Curve, end: &Curve) -> Option<(Curve, [f64; 2])> {
    let moved = run.offset(-depth, Tolerance::PATTERN)?;
    let reach = 2.0 * depth.abs() + 5.0;
    let head = moved.start() - moved.start_direction() * reach;
    let tail = moved.end() + moved.end_direction() * reach;
    let long = joined(&Curve::line(head, moved.start()), &moved);
    let long = joined(&long, &Curve::line(moved.end(), tail));
    let crossing = |line: &Curve| {
        let found = line.crossings(&long, Tolerance::PATTERN);
        found.into_iter().find(|crossing| crossing.along > 0.0)
    };
    let (from, to) = (crossing(start)?, crossing(end)?);
    if from.other_along >= to.other_along {
        return None;
    }
    let run = long.stretch(from.other_along, to.other_along);
    Some((run.with_ends(from.point, to.point), [from.along, to.along]))
}

/// Runs whose ends lie equally far from the points of the darts between them.
fn even_mouths(piece: &Piece, edge: usize, mut runs: Vec<Curve>) -> Vec<Curve> {
    for gap in 0..runs.len() - 1 {
        let name = &piece.edges[edge].name;
        let Some(dart) = piece.darts_on(name).find(|dart| dart.gap == gap) else {
            continue;
        };
        let (one, other) = (
            runs[gap].end() - dart.point,
            runs[gap + 1].start() - dart.point,
        );
        let length = (one.hypot() + other.hypot()) / 2.0;
        let at = |leg: geometry::Vec2| dart.point + leg * (length / leg.hypot());
        runs[gap] = runs[gap].with_ends(runs[gap].start(), at(one));
        runs[gap + 1] = runs[gap + 1].with_ends(at(other), runs[gap + 1].end());
    }
    runs
}

/// Notches stay where they lie; those that were cut off go, and so do those of the edges themselves.
fn keep_marks(piece: &mut Piece, [before, after]: [usize; 2], edges: &[usize], cut: f64) {
    let name = |index: usize| piece.edges[index].name.clone();
    let (before_name, after_name) = (name(before), name(after));
    let own: Vec<String> = edges.iter().map(|&edge| name(edge)).collect();
    let left = piece.edges[before].length();
    notches::change(piece, &after_name, |along| along - cut);
    piece.marks.retain(|mark| match mark {
        Mark::Notch { edge, along, .. } if *edge == before_name => *along <= left,
        Mark::Notch { edge, along, .. } if *edge == after_name => *along >= 0.0,
        Mark::Notch { edge, .. } => !own.contains(edge),
        Mark::Point { .. } => true,
    });
}
