//! Parts all pieces at once where little is missing: every two in conflict each go half of the way out, again and again.
//!
//! A lay that is nearly legal often needs a small move of many pieces in a row, which pieces that are moved one by one find
//! slowly. (Moves along constraints, as in position based dynamics: Müller, Heidelberger, Hennix, Ratcliff 2007.) Invariant:
//! every place stays in its piece's room.

use super::state::{Pose, State};

/// How often all pairs are parted.
const SWEEPS: usize = 120;
/// The share by which moves are longer than needed, so that rows of pieces come apart sooner.
const EAGERNESS: f64 = 1.3;

/// Poses without conflict near those of a state, if they are found.
pub(super) fn relaxed(state: &mut State<'_>) -> Option<Vec<Pose>> {
    let mut poses = state.poses.clone();
    let pairs = neighbours(state);
    for _ in 0..SWEEPS {
        state.evaluations += pairs.len() as u64 / 4 + 1;
        if !part(state, &mut poses, &pairs) {
            poses.truncate(state.pieces());
            return Some(poses);
        }
    }
    None
}

/// Pairs that are in conflict or could come into it by small moves.
fn neighbours(state: &State<'_>) -> Vec<[usize; 2]> {
    let table = state.table;
    let reach = |piece: usize| 0.1 * table.shapes[state.poses[piece].shape].size;
    let mut pairs = Vec::new();
    for one in 0..state.pieces() {
        for other in one + 1..state.poses.len() {
            let (a, b) = (state.poses[one], state.poses[other]);
            let (first, second) = (&table.shapes[a.shape], &table.shapes[b.shape]);
            let near = reach(one) + reach(other);
            let apart = (0..2).any(|axis| {
                a.place[axis] + first.high[axis] + near < b.place[axis] + second.low[axis]
                    || b.place[axis] + second.high[axis] + near < a.place[axis] + first.low[axis]
            });
            if !apart {
                pairs.push([one, other]);
            }
        }
    }
    pairs
}

/// Parts every pair once; whether any was in conflict.
fn part(state: &State<'_>, poses: &mut [Pose], pairs: &[[usize; 2]]) -> bool {
    let mut any = false;
    for &[one, other] in pairs {
        let (a, b) = (poses[one], poses[other]);
        let Some(way) = state.table.way_out(a.shape, b.shape, a.way_to(b)) else {
            continue;
        };
        any = true;
        let moved = |pose: Pose, share: f64| {
            let wish = [
                pose.place[0] + share * way[0],
                pose.place[1] + share * way[1],
            ];
            let place = state.table.shapes[pose.shape]
                .room()
                .place(wish, state.length);
            Pose { place, ..pose }
        };
        let is_fixed = other >= state.pieces();
        poses[one] = moved(a, if is_fixed { -1.0 } else { -EAGERNESS / 2.0 });
        if !is_fixed {
            poses[other] = moved(b, EAGERNESS / 2.0);
        }
    }
    any
}
