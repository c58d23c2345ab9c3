//! The hem of a lining: it hangs free and shorter than the shell, or is sewn to the shell's hem with a fold of ease.
//!
//! Sewn to the hem (*jump*), the lining ends at the upper edge of the shell's hem allowance and is so much longer than the way
//! there that it cannot pull the hem up. Invariant: a hem that is cut back by a depth is shorter by the angle through which it
//! turns times that depth.

use geometry::curve::angle_between;
use pattern::{EdgeKind, Makeup};

use super::super::figures::{LEAST_HEM_FOR_JUMP, LINING_HEM, LINING_JUMP, LINING_SHORTER};
use super::cut_back::cut_back;
use super::inner::Inner;
use crate::recipe::parts::LiningWish;

/// How one hem of the lining is made.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum HemWay {
    /// Hangs so much shorter than the shell, mm.
    Free(f64),
    /// Is sewn to the shell's hem allowance of a depth, so much longer than the way there, mm.
    Sewn(f64, f64),
}

impl HemWay {
    /// The way that is asked for, or usual: sleeves are always sewn to their hem, and so is a bagged lining.
    pub(super) fn of(wish: &LiningWish, shell_hem: f64, sewn_usually: bool) -> Self {
        let jump = wish.jump.as_ref().map(|jump| jump.value);
        let shorter = wish.shorter.as_ref().map(|shorter| shorter.value);
        let deep = shell_hem >= LEAST_HEM_FOR_JUMP;
        match (jump, shorter) {
            (Some(jump), _) if deep => Self::Sewn(shell_hem, jump),
            (None, None) if deep && sewn_usually => Self::Sewn(shell_hem, LINING_JUMP),
            _ => Self::Free(shorter.unwrap_or(LINING_SHORTER)),
        }
    }

    /// The way of a sleeve, which always covers the hem allowance where there is one.
    pub(super) fn of_sleeve(wish: &LiningWish, shell_hem: f64) -> Self {
        let jump = wish.jump.as_ref().map_or(LINING_JUMP, |jump| jump.value);
        if shell_hem >= LEAST_HEM_FOR_JUMP {
            Self::Sewn(shell_hem, jump)
        } else {
            Self::Free(shell_hem)
        }
    }

    /// By how much the lining's edge lies above the shell's hem line, mm.
    const fn depth(self) -> f64 {
        match self {
            Self::Free(shorter) => shorter,
            Self::Sewn(hem, jump) => hem - jump,
        }
    }

    /// Whether it is sewn to the shell's hem.
    pub(super) const fn is_sewn(self) -> bool {
        matches!(self, Self::Sewn(..))
    }
}

/// Depth of the hem of a shell edge, mm: as it is finished, or its allowance.
pub(super) fn shell_depth(makeup: &Makeup, inner: &Inner, edge: usize) -> f64 {
    let edge = &inner.piece.edges[edge];
    let known = makeup
        .hems
        .iter()
        .find(|hem| hem.piece == inner.upon && hem.edge == edge.name);
    known.map_or(edge.allowance, |hem| hem.depth)
}

/// The hems of a piece, each of the edges that follow each other: where a stand is added, its hem goes on beside the old one.
pub(super) fn chains(inner: &Inner) -> Vec<Vec<usize>> {
    let edges = &inner.piece.edges;
    let is_hem = |index: usize| edges[index % edges.len()].kind == EdgeKind::Hem;
    let count = edges.len();
    let firsts = (0..count).filter(|&index| is_hem(index) && !is_hem(index + count - 1));
    firsts
        .map(|first| {
            let all = (first..first + count).take_while(|&index| is_hem(index));
            all.map(|index| index % count).collect()
        })
        .collect()
}

/// Makes one hem of edges that follow each other; `false` where there is no room to cut it back.
pub(super) fn make(
    inner: &mut Inner,
    edges: &[usize],
    way: HemWay,
    wish: &LiningWish,
    seam: f64,
) -> bool {
    let count = inner.piece.edges.len();
    let beside = [
        (edges[0] + count - 1) % count,
        (edges[edges.len() - 1] + 1) % count,
    ];
    let turns: Vec<f64> = edges.iter().map(|&edge| turns(inner, edge)).collect();
    let Some(cuts) = cut_back(&mut inner.piece, edges, way.depth()) else {
        return false;
    };
    for (index, cut) in beside.into_iter().zip(cuts) {
        inner.lengthened(index, -cut, false);
    }
    let sewn = way.is_sewn();
    for (&edge, turns) in edges.iter().zip(turns) {
        inner.lengthened(edge, -turns * way.depth(), false);
        let hem = &mut inner.piece.edges[edge];
        hem.kind = if sewn { EdgeKind::Seam } else { EdgeKind::Hem };
        hem.allowance = if sewn {
            seam
        } else {
            wish.hem.unwrap_or(LINING_HEM)
        };
        if let Some(meet) = inner.meet_mut(edge) {
            meet.mates &= sewn;
        }
    }
    true
}

/// The angle through which an edge turns along its runs, radians.
fn turns(inner: &Inner, edge: usize) -> f64 {
    let runs = inner.piece.edges[edge].runs.iter();
    runs.map(|run| angle_between(run.start_direction(), run.end_direction()).radians())
        .sum()
}
