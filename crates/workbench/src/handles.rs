//! Handles: points of the drawing that move when a number is changed, found by changing each number a little.
//!
//! Nothing here knows what a neckline is: every number of the recipe and of its own steps is changed by a small amount, the
//! garment is drafted again, and what moved is compared. The point that moves most plainly becomes the number's handle; a
//! drag is turned into a change of the number along that motion. Invariants: two numbers never share a handle's place; a
//! handle that is let go leaves a number within its bounds, as a person would write it.

mod find;
mod new;
mod pull;

use std::sync::Arc;

use geometry::{Point, Vec2};
use making::draft::Draft;
use pattern::{Pattern, Piece};
use serde::Serialize;

use crate::desk::{Drafted, Table};
use crate::view::drawing::shell_pieces;
use crate::view::path;
use crate::view::units::Units;

pub(crate) use find::Turned;
pub(crate) use new::numbers as new_numbers;
pub(crate) use pull::Pulled;

/// The handles of a garment.
#[derive(Debug)]
pub(crate) struct Handles {
    /// The numbers that were tried, in order: the handles hold while these stay the same.
    tried: Vec<String>,
    pub(crate) all: Vec<Handle>,
}

/// A point that moves with a number.
#[derive(Clone, Debug)]
pub(crate) struct Handle {
    /// The number that it turns, which is also its own name.
    pub(crate) turned: Turned,
    /// The point.
    pub(crate) spot: Spot,
    /// How far and where the point moves for one unit of the number.
    pub(crate) motion: Vec2,
    /// How far from its point it is held.
    pub(crate) grip: Vec2,
}

/// A named point of a piece.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Spot {
    /// The piece.
    pub(crate) piece: String,
    /// Which of its points.
    pub(crate) point: Which,
}

/// Which point of a piece.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Which {
    /// The corner where an edge of this name ends.
    Corner(String),
    /// The point of a dart.
    Dart(String),
    /// A mark inside.
    Mark(String),
    /// The middle of an edge.
    Middle(String),
    /// A notch that tells where a pocket begins or ends.
    Notch(String),
}

/// A handle as JSON.
#[derive(Serialize)]
pub(crate) struct HandleView {
    id: String,
    label: String,
    piece: String,
    at: [f64; 2],
    along: [f64; 2],
    number: String,
    shown: String,
    help: String,
}

impl Spot {
    /// Where it is on a pattern, in its piece's own millimetres.
    pub(crate) fn on(&self, pattern: &Pattern) -> Option<Point> {
        let piece = pattern.piece(&self.piece)?;
        match &self.point {
            Which::Corner(edge) => Some(piece.edge(edge)?.end()),
            Which::Dart(dart) => Some(piece.dart(dart)?.point),
            Which::Mark(mark) => piece.point(mark),
            Which::Middle(edge) => {
                let edge = piece.edge(edge)?;
                Some(edge.place_at(edge.length() / 2.0).0)
            }
            Which::Notch(notch) => pocket_notches(piece)
                .find(|(name, _)| *name == notch)
                .map(|(_, at)| at),
        }
    }

    /// All points of a pattern's outside.
    fn all(pattern: &Pattern) -> Vec<(Self, Point)> {
        shell_pieces(pattern).flat_map(Self::of).collect()
    }

    fn of(piece: &Piece) -> Vec<(Self, Point)> {
        let spot = |point| Self {
            piece: piece.name.clone(),
            point,
        };
        let corners = piece
            .edges
            .iter()
            .map(|edge| (spot(Which::Corner(edge.name.clone())), edge.end()));
        let darts = piece
            .darts
            .iter()
            .map(|dart| (spot(Which::Dart(dart.name.clone())), dart.point));
        let marks = piece.marks.iter().filter_map(|mark| match mark {
            pattern::Mark::Point { name, at } => Some((spot(Which::Mark(name.clone())), *at)),
            pattern::Mark::Notch { .. } => None,
        });
        let middles = piece.edges.iter().map(|edge| {
            let middle = edge.place_at(edge.length() / 2.0).0;
            (spot(Which::Middle(edge.name.clone())), middle)
        });
        let notches =
            pocket_notches(piece).map(|(name, at)| (spot(Which::Notch(name.to_owned())), at));
        let inside = darts.chain(marks).chain(notches);
        corners.chain(inside).chain(middles).collect()
    }
}

/// The notches that tell where pockets begin and end, by their names.
fn pocket_notches(piece: &Piece) -> impl Iterator<Item = (&str, Point)> {
    piece.marks.iter().filter_map(|mark| match mark {
        pattern::Mark::Notch {
            name, edge, along, ..
        } if name.starts_with("pocket") => {
            Some((name.as_str(), piece.edge(edge)?.place_at(*along).0))
        }
        _ => None,
    })
}

impl Handles {
    /// The handles of a draft; those found before hold as long as the same numbers can be turned.
    pub(crate) fn of(drafted: &Drafted, draft: &Draft, before: Option<&Arc<Self>>) -> Arc<Self> {
        let turned = Turned::all(drafted, draft);
        let tried: Vec<String> = turned.iter().map(|one| one.key(draft)).collect();
        if let Some(before) = before
            && before.tried == tried
            && before.hold(draft)
        {
            return Arc::clone(before);
        }
        Arc::new(Self {
            tried,
            all: find::handles(drafted, draft, &turned),
        })
    }

    /// Whether all points are there still.
    fn hold(&self, draft: &Draft) -> bool {
        let pattern = &draft.garment.pattern;
        self.all
            .iter()
            .all(|handle| handle.spot.on(pattern).is_some())
    }

    /// The handles where they are on a draft.
    pub(crate) fn views(&self, draft: &Draft, table: &Table, units: Units) -> Vec<HandleView> {
        let pattern = &draft.garment.pattern;
        let handles = self.all.iter();
        handles
            .filter_map(|handle| {
                let at = handle.spot.on(pattern)? + table.at(&handle.spot.piece) + handle.grip;
                let way = handle.motion.normalize();
                let id = handle.turned.id();
                let label = handle.turned.label(draft);
                Some(HandleView {
                    help: format!(
                        "{label}: drag along the arrow, or press the arrow keys; Enter to type."
                    ),
                    label,
                    piece: handle.spot.piece.clone(),
                    at: path::point(at),
                    along: [path::rounded(way.x), path::rounded(way.y)],
                    number: id.clone(),
                    shown: handle.turned.shown(draft, units),
                    id,
                })
            })
            .collect()
    }
}
