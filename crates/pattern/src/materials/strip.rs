//! Bias strips for edges that nothing else finishes.
//!
//! Invariant: strips are as long as their edges as sewn, all round the body.

use super::figures::{STRIP_END, STRIP_STEP, STRIP_WIDTH};
use super::sewn;
use crate::makeup::{Hem, HemFinish};
use crate::name::root;
use crate::piece::{Edge, EdgeKind, Piece};
use crate::seam::Pattern;

/// A bias strip for an edge that is finished on its own.
#[derive(Clone, Debug, PartialEq)]
pub struct Strip {
    /// The edge: `neckline`, `armhole`, `hem`.
    pub edge: String,
    /// How many are cut.
    pub count: u32,
    /// Width as it is cut, mm.
    pub width: f64,
    /// Length of the edge that one strip goes along, mm.
    pub along: f64,
}

impl Strip {
    /// Length to cut, mm.
    pub fn length(&self) -> f64 {
        ((self.along + 2.0 * STRIP_END) / STRIP_STEP).ceil() * STRIP_STEP
    }

    /// Area of all of them, mm².
    pub fn area(&self) -> f64 {
        self.length() * self.width * f64::from(self.count)
    }
}

/// The strips of a pattern: one for edges that cross the middle of the body, two for those that lie on both sides of it.
pub(super) fn strips(pattern: &Pattern) -> Vec<Strip> {
    let mut strips: Vec<Strip> = Vec::new();
    for piece in &pattern.pieces {
        for (index, edge) in piece.edges.iter().enumerate() {
            if is_bound(pattern, piece, edge) {
                let strip = hem(pattern, piece, edge).and_then(|hem| hem.strip);
                let width = strip.map_or(STRIP_WIDTH, |strip| strip.width);
                let name = called(pattern, piece, edge);
                let meets_centre = meets_centre(piece, index);
                add(&mut strips, (name, width), piece, edge, meets_centre);
            }
        }
    }
    for strip in &mut strips {
        strip.along /= f64::from(strip.count);
    }
    strips
}

/// Whether an edge is bound with a strip: a hem that is, or an edge of the outside that nothing else finishes.
pub(super) fn is_bound(pattern: &Pattern, piece: &Piece, edge: &Edge) -> bool {
    let wished = match hem(pattern, piece, edge) {
        Some(hem) => hem.finish == HemFinish::Bound,
        None => edge.kind == EdgeKind::Finished && !pattern.makeup.is_derived(&piece.name),
    };
    wished
        && !sewn::is_in(pattern, &pattern.seams, piece, edge)
        && !sewn::is_faced(pattern, piece, edge)
}

/// How an edge is hemmed, where it is known to be.
pub(super) fn hem<'a>(pattern: &'a Pattern, piece: &Piece, edge: &Edge) -> Option<&'a Hem> {
    let mut hems = pattern.makeup.hems.iter();
    hems.find(|hem| piece.answers_to(&hem.piece) && edge.answers_to(&hem.edge))
}

/// What an edge is called in the list: one strip binds a hem all round, whatever its stretches are called.
fn called<'a>(pattern: &Pattern, piece: &Piece, edge: &'a Edge) -> &'a str {
    match hem(pattern, piece, edge) {
        Some(_) if root(&piece.name).starts_with("sleeve") => "sleeve-hem",
        Some(_) => "hem",
        None => root(&edge.name),
    }
}

fn add(
    strips: &mut Vec<Strip>,
    (name, width): (&str, f64),
    piece: &Piece,
    edge: &Edge,
    meets_centre: bool,
) {
    let along = edge.length() * piece.halves();
    let known = strips
        .iter()
        .position(|one| one.edge == name && one.width == width);
    let at = known.unwrap_or_else(|| {
        let count = if piece.halves() == 1.0 { 1 } else { 2 };
        strips.push(Strip {
            edge: name.to_owned(),
            count,
            width,
            along: 0.0,
        });
        strips.len() - 1
    });
    strips[at].along += along;
    if meets_centre {
        strips[at].count = 1;
    }
}

/// Whether an edge starts or ends at the middle of the body.
fn meets_centre(piece: &Piece, index: usize) -> bool {
    let count = piece.edges.len();
    let beside = [
        &piece.edges[(index + 1) % count],
        &piece.edges[(index + count - 1) % count],
    ];
    let is_centre = |edge: &Edge| {
        matches!(edge.kind, EdgeKind::Fold | EdgeKind::Opening) || edge.answers_to("centre")
    };
    beside.into_iter().any(is_centre)
}
