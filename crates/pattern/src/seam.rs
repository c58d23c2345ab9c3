//! Seams: which edges are sewn together, with what ease, and the pattern that they hold together.

use document::Finding;

use crate::makeup::Makeup;
use crate::piece::{Edge, InnerLine, Piece};

/// One side of a seam: whole edges that follow each other, each walked forwards or backwards.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Stretch {
    /// Name of the piece.
    pub piece: String,
    /// Name of the edge, or of an edge that was cut into parts since.
    pub edge: String,
    /// Walked from the edge's last corner to its first.
    pub backwards: bool,
}

impl Stretch {
    /// An edge walked clockwise round its piece.
    pub fn forwards(piece: &str, edge: &str) -> Self {
        Self {
            piece: piece.into(),
            edge: edge.into(),
            backwards: false,
        }
    }

    /// An edge walked anticlockwise round its piece.
    pub fn backwards(piece: &str, edge: &str) -> Self {
        Self {
            piece: piece.into(),
            edge: edge.into(),
            backwards: true,
        }
    }
}

/// How the longer side of a seam is made to fit the shorter one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fullness {
    /// Both sides alike.
    None,
    /// The second side is longer by so many mm, eased in.
    Eased(f64),
    /// The second side is so many times as long, gathered.
    Gathered(f64),
    /// The second side is longer by so many mm, laid in pleats.
    Pleated(f64),
}

/// Two sides that are sewn together.
#[derive(Clone, Debug, PartialEq)]
pub struct Seam {
    /// Name: `side`, `shoulder`, `armhole-front`, …
    pub name: String,
    /// The side that is held flat.
    pub held: Vec<Stretch>,
    /// The side that is eased or gathered onto it, if any is; walked from the same end.
    pub worked: Vec<Stretch>,
    /// How the worked side is longer than the held one.
    pub fullness: Fullness,
    /// Whether the edges beside the seam must run on smoothly across its start and across its end.
    pub runs_on: [bool; 2],
}

/// How far a level of the closed pattern goes round the body.
#[derive(Clone, Debug, PartialEq)]
pub struct Girth {
    /// Name of the level: `bust`, `waist`, `hip`.
    pub level: String,
    /// The body's own girth there, mm.
    pub body: f64,
    /// The ease that was asked for, mm.
    pub ease: f64,
    /// Edges and inner lines that make the level up, by piece and name.
    pub parts: Vec<(String, String)>,
    /// By how many times the parts are gathered: 1 where nothing is.
    pub gathered: f64,
    /// Whether more than body and ease is meant: a flare or gathers pass this level.
    pub at_least: bool,
}

/// Pieces, the seams that join them, and what was noticed while they were drafted.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Pattern {
    /// Pieces in the order in which they are shown.
    pub pieces: Vec<Piece>,
    /// Seams in the order in which they are checked.
    pub seams: Vec<Seam>,
    /// Levels to compare with the body.
    pub girths: Vec<Girth>,
    /// Findings of the drafting itself.
    pub findings: Vec<Finding>,
    /// What it is made up with, derived from all the above after the last step.
    pub makeup: Makeup,
}

impl Pattern {
    /// The piece of this name.
    pub fn piece(&self, name: &str) -> Option<&Piece> {
        self.pieces.iter().find(|piece| piece.name == name)
    }

    /// The piece of this name, to change it.
    pub fn piece_mut(&mut self, name: &str) -> Option<&mut Piece> {
        self.pieces.iter_mut().find(|piece| piece.name == name)
    }

    /// The piece of this name or, where it was cut, its parts in the order in which they are shown.
    pub fn pieces_of<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Piece> {
        let exact = self.piece(name).is_some();
        let is_meant = move |piece: &&Piece| {
            if exact {
                piece.name == name
            } else {
                piece.answers_to(name)
            }
        };
        self.pieces.iter().filter(is_meant)
    }

    /// The edges that a stretch stands for, in the order in which it is walked, each with its piece; where piece or edge
    /// was cut, all parts of it.
    pub fn edges_of<'a>(&'a self, stretch: &'a Stretch) -> Vec<(&'a Piece, &'a Edge)> {
        let mut edges: Vec<_> = self
            .pieces_of(&stretch.piece)
            .flat_map(|piece| piece.edges_of(&stretch.edge).map(move |edge| (piece, edge)))
            .collect();
        edges.sort_by(|(_, a), (_, b)| a.part.from.total_cmp(&b.part.from));
        if stretch.backwards {
            edges.reverse();
        }
        edges
    }

    /// Length as sewn of one side of a seam, mm.
    pub fn side_length(&self, side: &[Stretch]) -> f64 {
        side.iter()
            .flat_map(|stretch| self.edges_of(stretch))
            .map(|(_, edge)| edge.length())
            .sum()
    }

    /// How far the closed pattern goes round the body at a level, mm.
    pub fn girth(&self, girth: &Girth) -> f64 {
        let drawn: f64 = girth
            .parts
            .iter()
            .map(|(piece, part)| self.part_girth(piece, part))
            .sum();
        drawn / girth.gathered
    }

    /// How far a named line or edge goes round the body in all pieces that answer to a name, mm.
    fn part_girth(&self, piece: &str, part: &str) -> f64 {
        self.pieces_of(piece)
            .map(|piece| {
                let length = piece.line(part).map_or_else(
                    || piece.edges_of(part).map(Edge::length).sum(),
                    InnerLine::length,
                );
                length * piece.halves()
            })
            .sum()
    }
}
