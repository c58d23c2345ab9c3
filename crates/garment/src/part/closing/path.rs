//! The edges that part where a garment opens, from its top downwards.
//!
//! Knows names of pieces and edges, no closing. Invariant: the legs follow each other on the body; a place on the path is a place
//! on exactly one of them.

use pattern::{EdgeKind, Mark, Pattern, Piece, Stretch, name};

use super::Slit;
use crate::block::skirt::found::{self, On};
use crate::recipe::Opening;

/// An edge on the way down.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Leg {
    pub(super) piece: String,
    pub(super) edge: String,
    /// Whether the edge runs up, so that going down it is walked backwards.
    pub(super) backwards: bool,
    pub(super) length: f64,
    /// Whether it lies below the waist.
    pub(super) skirt: bool,
}

/// A place on an edge.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Spot {
    pub(super) piece: String,
    pub(super) edge: String,
    /// From the edge's first corner, mm.
    pub(super) along: f64,
}

/// One side of an opening, and what is sewn to it where it lies in a seam of two pieces.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Path {
    pub(super) legs: Vec<Leg>,
    /// The same on the other piece of a side seam; empty at a centre, where a pair has one drawing.
    pub(super) other: Vec<Leg>,
}

impl Path {
    pub(super) fn of(pattern: &Pattern, opening: Opening) -> Self {
        match opening {
            Opening::Back => Self::alone(legs(pattern, ("back", "centre"), On::CentreBack)),
            Opening::Front => Self::alone(legs(pattern, ("front", "centre"), On::CentreFront)),
            Opening::Side => Self::beside(
                legs(pattern, ("front", "side"), On::Side),
                legs(pattern, ("back", "side"), On::Side),
            ),
            Opening::Nowhere => Self::alone(Vec::new()),
        }
    }

    const fn beside(legs: Vec<Leg>, other: Vec<Leg>) -> Self {
        Self { legs, other }
    }

    const fn alone(legs: Vec<Leg>) -> Self {
        Self {
            legs,
            other: Vec::new(),
        }
    }

    /// Length from the top to the hem, mm.
    pub(super) fn length(&self) -> f64 {
        self.legs.iter().map(|leg| leg.length).sum()
    }

    /// How far below the top the waist lies, mm; 0 where the top is the waist.
    pub(super) fn waist(&self) -> f64 {
        let above = self.legs.iter().filter(|leg| !leg.skirt);
        above.map(|leg| leg.length).sum()
    }

    /// Whether it goes on below the waist.
    pub(super) fn has_skirt(&self) -> bool {
        self.legs.iter().any(|leg| leg.skirt)
    }

    /// The place so far below the top, mm, on one side of the opening or on each of a side seam.
    pub(super) fn spots(&self, from_top: f64) -> Vec<Spot> {
        [&self.legs, &self.other]
            .into_iter()
            .filter_map(|legs| spot(legs, from_top))
            .collect()
    }

    pub(super) fn stretches(&self) -> Vec<Stretch> {
        let stretch = |leg: &Leg| Stretch {
            piece: leg.piece.clone(),
            edge: leg.edge.clone(),
            backwards: leg.backwards,
        };
        self.legs.iter().map(stretch).collect()
    }

    /// Puts the notches where the opening begins and ends, instead of those of the draft.
    pub(super) fn mark_ends(&self, pattern: &mut Pattern, slit: &Slit) {
        for piece in &mut pattern.pieces {
            let is_old =
                |mark: &Mark| matches!(mark, Mark::Notch { name, .. } if name == "opening-end");
            piece.marks.retain(|mark| !is_old(mark));
        }
        if slit.from > 0.0 {
            self.notch(pattern, "opening-start", slit.from);
        }
        if !slit.whole {
            self.notch(pattern, "opening-end", slit.to);
        }
    }

    /// Puts a notch so far below the top.
    pub(super) fn notch(&self, pattern: &mut Pattern, name: &str, from_top: f64) {
        for spot in self.spots(from_top) {
            if let Some(piece) = pattern.piece_mut(&spot.piece) {
                piece.marks.push(Mark::Notch {
                    name: name.into(),
                    edge: spot.edge,
                    along: spot.along,
                    strokes: 1,
                });
            }
        }
    }
}

/// The edges on which a garment opens, in bodice and skirt, from the top; at a centre only those that part.
fn legs(pattern: &Pattern, (bodice, edge): (&str, &str), on: On) -> Vec<Leg> {
    let is_side = on == On::Side;
    let stretch = Stretch {
        piece: bodice.into(),
        edge: edge.into(),
        backwards: !is_side,
    };
    let above = pattern.edges_of(&stretch).into_iter();
    let mut below = found::edges(pattern, on);
    below.retain(|(piece, _)| !is_side || is_behind(piece) == (bodice == "back"));
    below.sort_by(|(_, one), (_, other)| one.part.from.total_cmp(&other.part.from));
    if !is_side {
        below.reverse();
    }
    above
        .map(|found| (found, false))
        .chain(below.into_iter().map(|found| (found, true)))
        .filter(|((_, edge), _)| is_side || edge.kind == EdgeKind::Opening)
        .map(|((piece, edge), skirt)| Leg {
            piece: piece.name.clone(),
            edge: edge.name.clone(),
            backwards: !is_side,
            length: edge.length(),
            skirt,
        })
        .collect()
}

/// Whether a piece of a skirt lies behind the side line.
fn is_behind(piece: &Piece) -> bool {
    name::root(&piece.name)
        .split('-')
        .any(|word| word == "back")
}

fn spot(legs: &[Leg], from_top: f64) -> Option<Spot> {
    let mut rest = from_top;
    for (index, leg) in legs.iter().enumerate() {
        if rest > leg.length && index + 1 < legs.len() {
            rest -= leg.length;
            continue;
        }
        let down = rest.clamp(0.0, leg.length);
        return Some(Spot {
            piece: leg.piece.clone(),
            edge: leg.edge.clone(),
            along: if leg.backwards {
                leg.length - down
            } else {
                down
            },
        });
    }
    None
}
