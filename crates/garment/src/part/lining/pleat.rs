//! The ease pleat at CB: extra width that opens when the back moves, sewn down at neck and waist.
//!
//! Where CB is a fold the pleat lies in its middle, where it opens half of it lies on either side. Invariant: each half of the
//! back is wider by half the pleat; a tapering one runs out to nothing at the lowest end of CB.

use geometry::Point;
use pattern::step::kit::shift_edge::shift_edge;
use pattern::{InnerLine, name};

use super::inner::Inner;
use crate::recipe::parts::Pleat;

/// Gives the pleat to the pieces at CB; tells whether there is any.
pub(super) fn give(inners: &mut [Inner], pleat: Pleat) -> bool {
    let is_back = |inner: &Inner| name::root(&inner.upon) == "back";
    let ends = |inner: &Inner| {
        let centres = inner.edges("centre").into_iter();
        centres
            .flat_map(|edge| {
                let edge = &inner.piece.edges[edge];
                [edge.start().y, edge.end().y]
            })
            .collect::<Vec<f64>>()
    };
    let all: Vec<f64> = inners
        .iter()
        .filter(|one| is_back(one))
        .flat_map(ends)
        .collect();
    let top = all.iter().copied().fold(f64::INFINITY, f64::min);
    let low = all.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let share = |point: Point| {
        if pleat.tapering {
            (low - point.y) / (low - top)
        } else {
            1.0
        }
    };
    let half = pleat.width / 2.0;
    let mut given = false;
    for inner in inners.iter_mut().filter(|one| is_back(one)) {
        for edge in inner.edges("centre") {
            let owner = &inner.piece.edges[edge];
            let out = [owner.start(), owner.end()].map(|at| half * share(at));
            given |= widen(inner, edge, out);
        }
    }
    given
}

/// Moves a centre edge out and keeps its old place as a line along which the pleat is folded.
fn widen(inner: &mut Inner, edge: usize, out: [f64; 2]) -> bool {
    let count = inner.piece.edges.len();
    let beside = [(edge + count - 1) % count, (edge + 1) % count];
    let lengths = |inner: &Inner| beside.map(|index| inner.piece.edges[index].length());
    let (before, line) = (lengths(inner), inner.piece.edges[edge].runs.clone());
    let own = inner.piece.edges[edge].length();
    if shift_edge(&mut inner.piece, edge, out).is_none() {
        return false;
    }
    let after = lengths(inner);
    for (which, index) in beside.into_iter().enumerate() {
        inner.lengthened(index, after[which] - before[which], true);
    }
    if (out[0] - out[1]).abs() > 1e-9 {
        // The slanting fold is laid on the straight one before the edges at its ends are sewn.
        let names = beside.map(|index| inner.piece.edges[index].name.clone());
        inner.piece.peaked.extend(names);
    }
    let grown = inner.piece.edges[edge].length() - own;
    inner.lengthened(edge, grown, false);
    inner.piece.lines.push(InnerLine {
        name: "pleat".into(),
        runs: line,
    });
    true
}
