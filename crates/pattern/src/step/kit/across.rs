//! Across a seam: where a place on an edge comes to lie on the edges to which it is sewn.
//!
//! Knows lengths and directions along seams, no shapes of pieces. Invariant: going across and back leads to the same place.

use geometry::Vec2;

use crate::piece::Edge;
use crate::seam::{Pattern, Seam, Stretch};

/// A place on an edge of a piece, by names; the length as sewn from the edge's first corner, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// Name of the piece.
    pub piece: String,
    /// Name of the edge.
    pub edge: String,
    /// Length along it, mm.
    pub along: f64,
}

/// One edge of a side of a seam, with the length walked before it.
struct Leg<'a> {
    piece: &'a str,
    edge: &'a Edge,
    backwards: bool,
    before: f64,
}

/// All places to which a place is sewn, over all seams of which its edge is a part.
pub fn partners(pattern: &Pattern, spot: &Spot) -> Vec<Spot> {
    let mut found: Vec<Spot> = Vec::new();
    for seam in &pattern.seams {
        for (here, there) in [(&seam.held, &seam.worked), (&seam.worked, &seam.held)] {
            let lengths = [here, there].map(|side| pattern.side_length(side));
            for walked in walked(pattern, here, spot) {
                let other = at(pattern, there, over(seam, walked, lengths));
                found.extend(other.filter(|other| !found.contains(other) && other != spot));
            }
        }
    }
    found
}

/// The length on the other side of a seam: the same, or the same share where one side is fuller.
fn over(seam: &Seam, walked: f64, [here, there]: [f64; 2]) -> f64 {
    let even = matches!(seam.fullness, crate::seam::Fullness::None);
    if even || here < 1e-9 {
        walked.min(there)
    } else {
        walked * there / here
    }
}

/// Lengths along a side of a seam at which a place lies; more than one where an edge is walked twice, as round a waist.
fn walked(pattern: &Pattern, side: &[Stretch], spot: &Spot) -> Vec<f64> {
    let legs = legs(pattern, side);
    let own = legs
        .iter()
        .filter(|leg| leg.piece == spot.piece && leg.edge.name == spot.edge);
    own.map(|leg| {
        let within = if leg.backwards {
            leg.edge.length() - spot.along
        } else {
            spot.along
        };
        leg.before + within
    })
    .collect()
}

/// The place at a length along one side of a seam.
pub fn at(pattern: &Pattern, side: &[Stretch], along: f64) -> Option<Spot> {
    let legs = legs(pattern, side);
    let leg = leg_at(&legs, along)?;
    Some(Spot {
        piece: leg.piece.into(),
        edge: leg.edge.name.clone(),
        along: leg.within(along),
    })
}

/// The unit direction in which a side of a seam is walked at a length along it.
pub fn direction(pattern: &Pattern, side: &[Stretch], along: f64) -> Option<Vec2> {
    let legs = legs(pattern, side);
    let leg = leg_at(&legs, along)?;
    let way = leg.edge.place_at(leg.within(along)).1;
    Some(if leg.backwards { -way } else { way })
}

impl Leg<'_> {
    fn within(&self, along: f64) -> f64 {
        let length = self.edge.length();
        let within = (along - self.before).clamp(0.0, length);
        if self.backwards {
            length - within
        } else {
            within
        }
    }
}

fn leg_at<'a, 'b>(legs: &'b [Leg<'a>], along: f64) -> Option<&'b Leg<'a>> {
    let holds = |leg: &&Leg<'_>| along <= leg.before + leg.edge.length();
    legs.iter().find(holds).or_else(|| legs.last())
}

fn legs<'a>(pattern: &'a Pattern, side: &'a [Stretch]) -> Vec<Leg<'a>> {
    let mut before = 0.0;
    let mut legs = Vec::new();
    for stretch in side {
        for (piece, edge) in pattern.edges_of(stretch) {
            legs.push(Leg {
                piece: &piece.name,
                edge,
                backwards: stretch.backwards,
                before,
            });
            before += edge.length();
        }
    }
    legs
}
