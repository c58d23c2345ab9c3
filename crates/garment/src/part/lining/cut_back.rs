//! Cutting an edge back by a constant depth: a hem that ends higher.
//!
//! Invariants: the new edge keeps its distance from the old one; the edges beside it and the legs of its darts are cut where
//! it meets them; all else stays.

use geometry::{Curve, Tolerance};
use pattern::step::kit::fill::joined;
use pattern::step::kit::notches;
use pattern::{Mark, Piece};

/// Cuts an edge back; tells by how much the edge before it and the edge after it became shorter. `None`, and nothing is done,
/// where it would not meet them.
pub(super) fn cut_back(piece: &mut Piece, edge: usize, depth: f64) -> Option<[f64; 2]> {
    if depth.abs() < 1e-9 {
        return Some([0.0; 2]);
    }
    let count = piece.edges.len();
    let (before, after) = ((edge + count - 1) % count, (edge + 1) % count);
    let last = piece.edges[before].runs.len() - 1;
    let into = piece.edges[before].runs[last].reversed();
    let out = piece.edges[after].runs[0].clone();
    let mut runs = Vec::new();
    let mut cuts = [0.0; 2];
    let legs = legs(piece, edge)?;
    let number = piece.edges[edge].runs.len();
    for (index, run) in piece.edges[edge].runs.iter().enumerate() {
        let start = if index == 0 {
            &into
        } else {
            &legs[index - 1][1]
        };
        let end = if index + 1 == number {
            &out
        } else {
            &legs[index][0]
        };
        let (run, cut) = between(run, depth, start, end)?;
        if index == 0 {
            cuts[0] = cut[0];
        }
        if index + 1 == number {
            cuts[1] = cut[1];
        }
        runs.push(run);
    }
    let runs = even_mouths(piece, edge, runs);
    let shortened = [into.length() - cuts[0], out.length() - cuts[1]];
    if shortened.iter().any(|left| *left < 1.0) {
        return None;
    }
    let (start, end) = (runs[0].start(), runs[runs.len() - 1].end());
    piece.edges[before].runs[last] = into.stretch(cuts[0], into.length()).reversed();
    let run = &mut piece.edges[before].runs[last];
    *run = run.with_ends(run.start(), start);
    let run = out.stretch(cuts[1], out.length());
    piece.edges[after].runs[0] = run.with_ends(end, run.end());
    piece.edges[edge].runs = runs;
    keep_marks(piece, [before, edge, after], cuts[1]);
    Some(cuts)
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

/// Notches stay where they lie; those that were cut off go, and so do those of the edge itself.
fn keep_marks(piece: &mut Piece, [before, edge, after]: [usize; 3], cut: f64) {
    let names = [before, edge, after].map(|index| piece.edges[index].name.clone());
    let left = piece.edges[before].length();
    notches::change(piece, &names[2], |along| along - cut);
    piece.marks.retain(|mark| match mark {
        Mark::Notch { edge, along, .. } if *edge == names[0] => *along <= left,
        Mark::Notch { edge, along, .. } if *edge == names[2] => *along >= 0.0,
        Mark::Notch { edge, .. } => *edge != names[1],
        Mark::Point { .. } => true,
    });
}
