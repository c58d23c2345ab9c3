//! Notches that meet: those of one name on both sides of a seam, as they are walked from the same end.
//!
//! Knows names and lengths, no strokes. Invariant: where a side is longer by named fullness, its notch may lie farther along by
//! any part of it, since the fullness lies before or behind the notch.

use crate::name::answers_to;
use crate::piece::Mark;
use crate::seam::{Pattern, Seam, Stretch};

/// Notches that steps and layers have moved apart by no more than this are brought together again, mm; what is farther apart is
/// a mistake that is to be seen.
const ECHO: f64 = 5.0;

/// What is no distance, mm.
const SAME: f64 = 0.01;

/// A notch on one side of a seam.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Met {
    pub(crate) name: String,
    /// From where the seam is walked, mm.
    pub(crate) along: f64,
    pub(crate) piece: String,
    pub(crate) edge: String,
    /// From the edge's first corner, mm.
    on_edge: f64,
    backwards: bool,
    pub(crate) at: (f64, f64),
}

/// Two notches that should meet, and from where to where the worked one may lie, mm.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Pair {
    pub(crate) held: Met,
    pub(crate) worked: Met,
    pub(crate) allowed: (f64, f64),
}

/// All pairs of a seam. A name that stands on one side only, or not as often on both, says something else.
pub(crate) fn pairs(pattern: &Pattern, seam: &Seam) -> Vec<Pair> {
    let (held, worked) = (met(pattern, &seam.held), met(pattern, &seam.worked));
    if held.is_empty() || worked.is_empty() {
        return Vec::new();
    }
    let more = pattern.side_length(&seam.worked) - pattern.side_length(&seam.held);
    let count = |side: &[Met], name: &str| side.iter().filter(|notch| notch.name == name).count();
    let mut pairs = Vec::new();
    let mut seen: Vec<&str> = Vec::new();
    for here in &held {
        let before = seen.iter().filter(|name| **name == here.name).count();
        seen.push(&here.name);
        if count(&held, &here.name) != count(&worked, &here.name) {
            continue;
        }
        let mut there = worked.iter().filter(|notch| notch.name == here.name);
        pairs.extend(there.nth(before).map(|there| Pair {
            held: here.clone(),
            worked: there.clone(),
            allowed: (here.along + more.min(0.0), here.along + more.max(0.0)),
        }));
    }
    pairs
}

/// Brings notches together again that lie a little apart: the worked side's moves.
pub fn meet(pattern: &mut Pattern) {
    for seam in pattern.seams.clone() {
        for pair in pairs(pattern, &seam) {
            let place = pair.worked.along.clamp(pair.allowed.0, pair.allowed.1);
            let by = place - pair.worked.along;
            if (SAME..=ECHO).contains(&by.abs()) {
                shift(pattern, &pair.worked, by);
            }
        }
    }
}

impl Pair {
    /// Which of the two moves, and by how much along the seam, until they meet: the worked one, or that of a piece.
    pub(crate) fn movement(&self, piece: Option<&str>) -> (&Met, f64) {
        let (least, most) = self.allowed;
        let by = self.worked.along.clamp(least, most) - self.worked.along;
        let is_of = |notch: &Met| piece.is_some_and(|piece| answers_to(&notch.piece, piece));
        if is_of(&self.held) && !is_of(&self.worked) {
            (&self.held, -by)
        } else {
            (&self.worked, by)
        }
    }
}

/// Brings all notches of a seam together; those of a piece move.
pub(crate) fn meet_on(pattern: &mut Pattern, seam: &str, piece: &str) {
    let found = pattern.seams.iter().find(|one| one.name == seam).cloned();
    for pair in found.map_or_else(Vec::new, |seam| pairs(pattern, &seam)) {
        let (notch, by) = pair.movement(Some(piece));
        shift(pattern, notch, by);
    }
}

/// Moves a notch by so much in the direction in which its seam is walked, as far as its edge reaches.
pub(crate) fn shift(pattern: &mut Pattern, notch: &Met, by: f64) {
    let Some(piece) = pattern.piece_mut(&notch.piece) else {
        return;
    };
    let length = piece.edge(&notch.edge).map_or(0.0, crate::Edge::length);
    for mark in &mut piece.marks {
        if let Mark::Notch {
            name, edge, along, ..
        } = mark
            && *name == notch.name
            && *edge == notch.edge
            && *along == notch.on_edge
        {
            let by = if notch.backwards { -by } else { by };
            *along = (*along + by).clamp(0.0, length);
        }
    }
}

/// All notches on a side of a seam, in the order in which they are walked.
fn met(pattern: &Pattern, side: &[Stretch]) -> Vec<Met> {
    let mut before = 0.0;
    let mut found = Vec::new();
    for stretch in side {
        for (piece, edge) in pattern.edges_of(stretch) {
            let length = edge.length();
            for mark in &piece.marks {
                let Mark::Notch {
                    name,
                    edge: on,
                    along,
                    ..
                } = mark
                else {
                    continue;
                };
                if *on != edge.name {
                    continue;
                }
                let within = if stretch.backwards {
                    length - along
                } else {
                    *along
                };
                let (point, _) = edge.place_at(*along);
                found.push(Met {
                    name: name.clone(),
                    along: before + within,
                    piece: piece.name.clone(),
                    edge: edge.name.clone(),
                    on_edge: *along,
                    backwards: stretch.backwards,
                    at: (point.x, point.y),
                });
            }
            before += length;
        }
    }
    found.sort_by(|a, b| a.along.total_cmp(&b.along));
    found
}
