//! Pieces that are made from an edge of another: straight bands, and what an edge becomes when something is sewn to it.
//!
//! Invariant: a new piece runs clockwise, its corners shared exactly; an edge that is sewn has the allowance of a seam.

use geometry::{Angle, Curve, Point};

use super::divide;
use crate::name::free_name;
use crate::piece::{Cut, Edge, EdgeKind, InnerLine, Laid, Piece};
use crate::seam::Pattern;

/// Allowance of a seam where no piece says another, mm; common practice (5/8 in), no source.
const SEAM_ALLOWANCE: f64 = 15.0;

/// A straight band: what it is called, how long and how high it is, and what lies over.
#[derive(Clone, Debug, PartialEq)]
pub struct Band {
    /// Name of the piece.
    pub name: String,
    /// Name of the edge that is sewn on.
    pub edge: String,
    /// Length of that edge, mm.
    pub length: f64,
    /// Height as worn, mm.
    pub height: f64,
    /// What it is longer than the edge at its end, to lie over, mm.
    pub overlap: f64,
    /// Whether it is cut twice as high and folded.
    pub folded: bool,
    /// How it is cut.
    pub cut: Cut,
    /// Allowance of its seams, mm.
    pub allowance: f64,
}

impl Band {
    /// The piece; its sewn edge runs backwards along the lower side.
    pub fn piece(&self) -> Piece {
        let height = if self.folded {
            2.0 * self.height
        } else {
            self.height
        };
        let (whole, length) = (self.length + self.overlap, self.length);
        let corner = |x: f64, y: f64| Point::new(x, y);
        let line = |from: Point, to: Point| Curve::line(from, to);
        let top = if self.folded { "inside" } else { "outside" };
        let kind = if self.folded {
            EdgeKind::Seam
        } else {
            EdgeKind::Finished
        };
        let mut edges = vec![
            self.edge(top, kind, line(corner(0.0, 0.0), corner(whole, 0.0))),
            self.edge(
                "end",
                EdgeKind::Seam,
                line(corner(whole, 0.0), corner(whole, height)),
            ),
        ];
        if self.overlap > 0.0 {
            let run = line(corner(whole, height), corner(length, height));
            edges.push(self.edge("overlap", EdgeKind::Seam, run));
        }
        edges.push(self.edge(
            &self.edge,
            EdgeKind::Seam,
            line(corner(length, height), corner(0.0, height)),
        ));
        edges.push(self.edge(
            "start",
            EdgeKind::Seam,
            line(corner(0.0, height), corner(0.0, 0.0)),
        ));
        let fold = InnerLine {
            name: "fold".into(),
            runs: vec![line(corner(0.0, self.height), corner(whole, self.height))],
        };
        Piece {
            name: self.name.clone(),
            edges,
            darts: Vec::new(),
            marks: Vec::new(),
            lines: if self.folded { vec![fold] } else { Vec::new() },
            grain: Angle::from_degrees(0.0),
            cut: self.cut.clone(),
            peaked: Vec::new(),
            asked: None,
        }
    }

    fn edge(&self, name: &str, kind: EdgeKind, run: Curve) -> Edge {
        Edge {
            allowance: self.allowance,
            ..Edge::new(name, kind, run)
        }
    }
}

/// The largest allowance of the seams of a piece, mm.
pub fn seam_allowance(piece: &Piece) -> f64 {
    let seams = piece
        .edges
        .iter()
        .filter(|edge| edge.kind == EdgeKind::Seam);
    let most = seams.map(|edge| edge.allowance).fold(0.0, f64::max);
    if most > 0.0 { most } else { SEAM_ALLOWANCE }
}

/// Makes an edge one that is sewn.
pub fn sew(piece: &mut Piece, edge: usize) {
    let allowance = seam_allowance(piece);
    let edge_kind = &mut piece.edges[edge];
    if edge_kind.kind != EdgeKind::Seam {
        edge_kind.kind = EdgeKind::Seam;
        edge_kind.allowance = allowance;
    }
    corners(piece);
}

/// The corners of a piece by the kinds of its edges.
pub fn corners(piece: &mut Piece) {
    let kinds: Vec<EdgeKind> = piece.edges.iter().map(|edge| edge.kind).collect();
    let count = kinds.len();
    for (index, edge) in piece.edges.iter_mut().enumerate() {
        edge.corner = divide::corner(kinds[index], kinds[(index + 1) % count]);
    }
}

/// A name that no piece has.
pub fn piece_name(pattern: &Pattern, wanted: &str) -> String {
    free_name(
        wanted,
        pattern.pieces.iter().map(|piece| piece.name.as_str()),
    )
}

/// A name that no seam has.
pub fn seam_name(pattern: &Pattern, wanted: &str) -> String {
    free_name(wanted, pattern.seams.iter().map(|seam| seam.name.as_str()))
}

/// Whether a piece is half of what is worn: on the fold, or a pair with a centre line.
pub fn is_half(piece: &Piece) -> bool {
    match piece.cut.laid {
        Laid::OnFold(_) => true,
        Laid::Pair => super::frame::centre(piece).is_some(),
        Laid::Single => false,
    }
}
