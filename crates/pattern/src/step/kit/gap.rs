//! Gaps: the places between the runs of an outline, where it can be opened.
//!
//! A gap stands after a run; after the last run of an edge it is the corner. Invariant: opening an outline changes no point
//! of it and no length.

use document::{Finding, Place as Spot};
use geometry::{Curve, Point};

use super::find::at_edge;
use super::place::SAME_POINT;
use crate::piece::Piece;

/// The gap after a run of an edge; also names that run.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Gap {
    /// Number of the edge.
    pub edge: usize,
    /// Number of the run before the gap.
    pub run: usize,
}

impl Gap {
    /// The corner at which an edge ends.
    pub fn corner(piece: &Piece, edge: usize) -> Self {
        let run = piece.edges[edge].runs.len() - 1;
        Self { edge, run }
    }

    /// The gap in which a dart opens.
    pub fn of_dart(piece: &Piece, dart: &str) -> Option<Self> {
        let dart = piece.dart(dart)?;
        Some(Self {
            edge: piece.edge_index(&dart.edge)?,
            run: dart.gap,
        })
    }

    /// Whether it stands between two edges.
    pub fn is_corner(self, piece: &Piece) -> bool {
        self.run + 1 == piece.edges[self.edge].runs.len()
    }

    /// The run after it, by the gap that follows that run.
    pub fn next(self, piece: &Piece) -> Self {
        if self.is_corner(piece) {
            Self {
                edge: (self.edge + 1) % piece.edges.len(),
                run: 0,
            }
        } else {
            Self {
                run: self.run + 1,
                ..self
            }
        }
    }

    /// The run before it.
    pub fn curve(self, piece: &Piece) -> &Curve {
        &piece.edges[self.edge].runs[self.run]
    }

    /// Where the run before it ends.
    pub fn before(self, piece: &Piece) -> Point {
        self.curve(piece).end()
    }

    /// Where the run after it starts.
    pub fn after(self, piece: &Piece) -> Point {
        self.next(piece).curve(piece).start()
    }

    /// Length as sewn from the edge's first corner to the gap, mm.
    pub fn along(self, piece: &Piece) -> f64 {
        let runs = &piece.edges[self.edge].runs[..=self.run];
        runs.iter().map(Curve::length).sum()
    }
}

/// Opens the outline at a length as sewn along an edge and keeps the gaps that are held right. At a corner, or where the
/// outline is open already, nothing is cut.
pub fn open(piece: &mut Piece, edge: usize, along: f64, held: &mut [Gap]) -> Result<Gap, Finding> {
    let mut before = 0.0;
    let count = piece.edges[edge].runs.len();
    for run in 0..count {
        let length = piece.edges[edge].runs[run].length();
        let (from_start, from_end) = (along - before, before + length - along);
        if run == 0 && from_start < SAME_POINT {
            let previous = (edge + piece.edges.len() - 1) % piece.edges.len();
            return Ok(Gap::corner(piece, previous));
        }
        if from_end.abs() < SAME_POINT || run + 1 == count && from_end < SAME_POINT {
            return at_join(piece, Gap { edge, run });
        }
        if from_end > 0.0 {
            return Ok(split(piece, Gap { edge, run }, from_start, held));
        }
        before += length;
    }
    Ok(Gap::corner(piece, edge))
}

fn at_join(piece: &Piece, gap: Gap) -> Result<Gap, Finding> {
    let name = &piece.edges[gap.edge].name;
    match piece
        .darts
        .iter()
        .find(|dart| dart.edge == *name && dart.gap == gap.run)
    {
        None => Ok(gap),
        Some(dart) => Err(Finding::error(
            "place-in-dart",
            format!("the {} opens at this place of the {name}", dart.name),
        )
        .at(at_edge(piece, gap.edge))
        .cure("choose a place beside the dart, or name the dart itself")),
    }
}

fn split(piece: &mut Piece, gap: Gap, along: f64, held: &mut [Gap]) -> Gap {
    let edge = &mut piece.edges[gap.edge];
    let Some((before, after)) = edge.runs[gap.run].split_at(along) else {
        return gap;
    };
    let halves = [before, after].map(|half| without_slivers(&half));
    edge.runs.splice(gap.run..=gap.run, halves);
    let later = piece
        .darts
        .iter_mut()
        .filter(|dart| dart.edge == edge.name && dart.gap >= gap.run);
    later.for_each(|dart| dart.gap += 1);
    let moved = held
        .iter_mut()
        .filter(|other| other.edge == gap.edge && other.run >= gap.run);
    moved.for_each(|other| other.run += 1);
    gap
}

/// A run cut a rounding away from a join of its segments, without the sliver that is left there.
fn without_slivers(run: &Curve) -> Curve {
    const SLIVER: f64 = 1e-5;
    let long = |segment: &&geometry::PathSeg| {
        Curve::from_segments(vec![**segment]).is_some_and(|one| one.length() > SLIVER)
    };
    let segments = run.segments();
    let (Some(first), Some(last)) = (
        segments.iter().position(|s| long(&s)),
        segments.iter().rposition(|s| long(&s)),
    ) else {
        return run.clone();
    };
    Curve::from_segments(segments[first..=last].to_vec()).map_or_else(
        || run.clone(),
        |kept| kept.with_ends(run.start(), run.end()),
    )
}

/// Opens the outline strictly inside an edge; a finding at its corners.
pub fn open_inside(
    piece: &mut Piece,
    edge: usize,
    along: f64,
    held: &mut [Gap],
) -> Result<Gap, Finding> {
    let gap = open(piece, edge, along, held)?;
    if gap.edge == edge && !gap.is_corner(piece) {
        return Ok(gap);
    }
    let name = &piece.edges[edge].name;
    let place = piece.edges[edge].place_at(along).0;
    Err(Finding::error(
        "place-at-corner",
        format!("nothing can open at the corner of the {name} ({along:.0} mm along it)"),
    )
    .at(Spot::Edge {
        piece: piece.name.clone(),
        edge: name.clone(),
        at: Some((place.x, place.y)),
    })
    .cure("choose a place between the two corners of the edge"))
}

/// The runs that one meets going clockwise from one gap to another; all of them from a gap to itself.
pub fn runs_between(piece: &Piece, from: Gap, to: Gap) -> Vec<Gap> {
    let count = piece.edges.iter().map(|edge| edge.runs.len()).sum();
    let mut runs = Vec::new();
    let mut at = from;
    while runs.len() < count {
        at = at.next(piece);
        runs.push(at);
        if at == to {
            break;
        }
    }
    runs
}
