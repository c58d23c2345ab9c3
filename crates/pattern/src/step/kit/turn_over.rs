//! A piece turned over: its mirror image, with its outline clockwise again.
//!
//! Knows nothing of seams: who turns a piece over lets its seams be walked the other way. Invariant: turning over twice gives
//! the piece back.

use geometry::allowance::{Corner, Which};
use geometry::{Affine, Angle, Curve};

use crate::name::Part;
use crate::piece::{Dart, Edge, InnerLine, Mark, Piece, Pressed};

/// The mirror image of a piece, left for right.
pub fn turned_over(piece: &Piece) -> Piece {
    let flip = Affine::FLIP_X;
    let count = piece.edges.len();
    let edges = (0..count).rev().map(|index| {
        let edge = &piece.edges[index];
        Edge {
            runs: reversed(&edge.runs, flip),
            corner: corner(piece.edges[(index + count - 1) % count].corner),
            part: Part {
                from: 1.0 - edge.part.to,
                to: 1.0 - edge.part.from,
            },
            ..edge.clone()
        }
    });
    let mut turned = Piece {
        edges: edges.collect(),
        darts: piece
            .darts
            .iter()
            .map(|dart| self::dart(piece, dart, flip))
            .collect(),
        marks: piece
            .marks
            .iter()
            .map(|mark| self::mark(piece, mark, flip))
            .collect(),
        lines: piece
            .lines
            .iter()
            .map(|line| self::line(line, flip))
            .collect(),
        grain: Angle::from_degrees(180.0 - piece.grain.degrees()),
        ..piece.clone()
    };
    super::fill::sort_darts(&mut turned);
    turned
}

fn reversed(runs: &[Curve], flip: Affine) -> Vec<Curve> {
    runs.iter()
        .rev()
        .map(|run| run.transformed(flip).reversed())
        .collect()
}

/// The corner at the other end of an edge, seen from the other side.
fn corner(before: Corner) -> Corner {
    let other = |which: Which| match which {
        Which::Before => Which::After,
        Which::After => Which::Before,
    };
    match before {
        Corner::Mitre => Corner::Mitre,
        Corner::Squared(which) => Corner::Squared(other(which)),
        Corner::Mirrored(which) => Corner::Mirrored(other(which)),
    }
}

fn dart(piece: &Piece, dart: &Dart, flip: Affine) -> Dart {
    let runs = piece.edge(&dart.edge).map_or(0, |edge| edge.runs.len());
    Dart {
        gap: runs.saturating_sub(2 + dart.gap),
        point: flip * dart.point,
        aim: flip * dart.aim,
        pressed: match dart.pressed {
            Pressed::Before => Pressed::After,
            Pressed::After => Pressed::Before,
        },
        ..dart.clone()
    }
}

fn mark(piece: &Piece, mark: &Mark, flip: Affine) -> Mark {
    match mark {
        Mark::Point { name, at } => Mark::Point {
            name: name.clone(),
            at: flip * *at,
        },
        Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } => Mark::Notch {
            name: name.clone(),
            edge: edge.clone(),
            along: piece.edge(edge).map_or(0.0, Edge::length) - along,
            strokes: *strokes,
        },
    }
}

fn line(line: &InnerLine, flip: Affine) -> InnerLine {
    InnerLine {
        name: line.name.clone(),
        runs: line.runs.iter().map(|run| run.transformed(flip)).collect(),
    }
}

/// A piece moved.
pub fn moved(piece: &Piece, by: Affine) -> Piece {
    let turn = geometry::math::atan2(by.as_coeffs()[1], by.as_coeffs()[0]);
    let mut moved = piece.clone();
    for run in moved.edges.iter_mut().flat_map(|edge| &mut edge.runs) {
        *run = run.transformed(by);
    }
    for dart in &mut moved.darts {
        (dart.point, dart.aim) = (by * dart.point, by * dart.aim);
    }
    for run in moved.lines.iter_mut().flat_map(|line| &mut line.runs) {
        *run = run.transformed(by);
    }
    for mark in &mut moved.marks {
        if let Mark::Point { at, .. } = mark {
            *at = by * *at;
        }
    }
    moved.grain = Angle::from_radians(piece.grain.radians() + turn);
    moved
}
