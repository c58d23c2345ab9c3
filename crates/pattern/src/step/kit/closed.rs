//! An edge with its darts closed, as it is sewn: where it must run smooth.
//!
//! The first run stays where it is; each later one is turned about the points of the darts before it until their legs lie on
//! each other. Invariant: opening again gives every dart the angle that it had.

use geometry::curve::turn_about;
use geometry::{Affine, Angle, Curve};

use crate::piece::{Edge, Piece};

/// An edge with its darts closed.
#[derive(Clone, Debug, PartialEq)]
pub struct Closed {
    /// Its runs, one after the other.
    pub runs: Vec<Curve>,
    /// By what each run was moved.
    pub moves: Vec<Affine>,
}

impl Closed {
    /// Closes the darts of an edge.
    pub fn of(piece: &Piece, edge: &Edge) -> Self {
        let mut moves = vec![Affine::IDENTITY];
        let mut runs = vec![edge.runs[0].clone()];
        for gap in 0..edge.runs.len() - 1 {
            let dart = piece
                .darts
                .iter()
                .find(|dart| dart.edge == edge.name && dart.gap == gap);
            let close = dart.map_or(Affine::IDENTITY, |dart| {
                let turn = piece.legs(dart).turn();
                turn_about(dart.point, Angle::from_radians(-turn.radians()))
            });
            let by = moves[gap] * close;
            let run = edge.runs[gap + 1].transformed(by);
            runs.push(run.with_ends(runs[gap].end(), run.end()));
            moves.push(by);
        }
        Self { runs, moves }
    }

    /// The whole closed edge.
    pub fn curve(&self) -> Curve {
        let first = self.runs[0].clone();
        self.runs[1..]
            .iter()
            .fold(first, |whole, run| super::fill::joined(&whole, run))
    }

    /// The runs of an edge that closes to a curve, each divided from the next at a length along it; as many lengths as
    /// there are darts, rising. `None` where they do not rise within the curve.
    pub fn reopened(&self, curve: &Curve, mouths: &[f64]) -> Option<Vec<Curve>> {
        let mut rest = curve.clone();
        let mut runs = Vec::new();
        let mut before = 0.0;
        for mouth in mouths {
            let (run, after) = rest.split_at(mouth - before)?;
            runs.push(run);
            rest = after;
            before = *mouth;
        }
        runs.push(rest);
        let moved = runs
            .iter()
            .zip(&self.moves)
            .map(|(run, by)| run.transformed(by.inverse()));
        (runs.len() == self.moves.len()).then(|| moved.collect())
    }

    /// Lengths along the closed edge at which its darts stand, mm.
    pub fn mouths(&self) -> Vec<f64> {
        let mut before = 0.0;
        let runs = self.runs[..self.runs.len() - 1].iter();
        runs.map(|run| {
            before += run.length();
            before
        })
        .collect()
    }
}
