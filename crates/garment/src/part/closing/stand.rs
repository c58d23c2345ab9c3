//! The stand: cloth beyond the centre line on which buttons and buttonholes lie over each other.
//!
//! Knows the step that extends an edge, no buttons. Invariants: what was the edge stays as a line inside; the ends of the stands
//! are sewn where their neighbours are; all seams walk as before.

use document::Finding;
use geometry::{Curve, Point, Vec2};
use pattern::step::{self, Arguments, Named, Value};
use pattern::{Edge, EdgeKind, InnerLine, Pattern};

use super::path::Path;
use crate::recipe::Written;
use crate::recipe::parts::Closed;

/// Name of the ends of a stand: `stand-neckline`, `stand-hem`.
const NAME: &str = "stand";
/// The line that the step leaves where the edge was.
const LEFT: &str = "centre-line";
/// What it is called on a piece that opens; the word “line” is written behind it anyway.
const CENTRE: &str = "centre";

/// A stretch of the centre line, from its top downwards.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Centre {
    pub(super) piece: String,
    pub(super) line: Curve,
    /// The finished edge beyond it.
    pub(super) edge: Curve,
}

impl Centre {
    /// The place so far down, and the way from there to the finished edge.
    pub(super) fn at(&self, down: f64) -> (Point, Vec2) {
        let place = self.line.point_at(down);
        let beyond = self.edge.point_at(self.edge.nearest(place).along) - place;
        (place, beyond / beyond.hypot().max(1e-9))
    }

    /// How far the finished edge lies beyond the line at its narrowest, mm.
    pub(super) fn width(&self) -> f64 {
        let length = self.line.length();
        let widths = (0..=8).map(|index| {
            let place = self.line.point_at(length * f64::from(index) / 8.0);
            self.edge.nearest(place).distance
        });
        widths.fold(f64::INFINITY, f64::min)
    }
}

/// Extends the edges of a path, and the ends of a waistband, by the width of a stand; edges that a step has extended already
/// stay as they are.
pub(super) fn extend(
    pattern: &mut Pattern,
    path: &Path,
    width: f64,
    closed: &Written<Closed>,
) -> Result<(), Finding> {
    let mut edges: Vec<Named> = Vec::new();
    for leg in &path.legs {
        let is_extended = |piece: &pattern::Piece| piece.line(LEFT).is_some();
        if !pattern.piece(&leg.piece).is_some_and(is_extended) {
            edges.push(Named::of(&leg.piece, &leg.edge));
        }
    }
    if edges.is_empty() {
        return Ok(());
    }
    if path.waist() == 0.0 && pattern.piece("waistband").is_some() {
        edges.extend(["start", "end"].map(|end| Named::of("waistband", end)));
    }
    let kind = step::find("extend").expect("the registry has the step by this name");
    let arguments = edges.iter().fold(Arguments::new(), |arguments, edge| {
        arguments.with("edge", Value::Named(edge.clone()))
    });
    let arguments = arguments
        .length("by", width)
        .with("name", Value::Text(NAME.into()));
    let blame = |finding: Finding| finding.at_text(&closed.span, "needs a stand");
    *pattern = kind.run(pattern, &arguments).map_err(blame)?.pattern;
    let mut pieces: Vec<&str> = edges.iter().map(|edge| edge.piece.as_str()).collect();
    pieces.dedup();
    for piece in pieces {
        tidy(pattern, piece, width);
    }
    Ok(())
}

/// Names the old edge as it is called in the trade; a peak at the neck stays one at the end of the stand; the fold of a band
/// goes on over its stands.
fn tidy(pattern: &mut Pattern, piece: &str, width: f64) {
    let Some(piece) = pattern.piece_mut(piece) else {
        return;
    };
    for line in &mut piece.lines {
        if let Some(edge) = line.name.strip_suffix("-line") {
            line.name = edge.to_owned();
        }
        if line.name == "fold" {
            lengthen(line, width);
        }
    }
    let peaked: Vec<String> = piece
        .peaked
        .iter()
        .map(|name| format!("{NAME}-{}", name.replace('/', "-")))
        .filter(|name| piece.edge(name).is_some())
        .collect();
    for name in peaked {
        if !piece.peaked.contains(&name) {
            piece.peaked.push(name);
        }
    }
}

fn lengthen(line: &mut InnerLine, by: f64) {
    if let [run] = &line.runs[..] {
        let (start, end) = (run.start(), run.end());
        let (back, on) = (-run.start_direction() * by, run.end_direction() * by);
        line.runs = vec![Curve::line(start + back, end + on)];
    }
}

/// Gives the finished edge of a stand the allowance of a seam: a facing is sewn to it.
pub(super) fn allow(pattern: &mut Pattern, leg: &super::path::Leg, allowance: f64) {
    let piece = pattern.piece_mut(&leg.piece);
    for edge in piece.into_iter().flat_map(|piece| &mut piece.edges) {
        if edge.name == leg.edge {
            edge.allowance = allowance;
        }
    }
}

/// The centre lines of a path that has stands, from the top downwards.
pub(super) fn centres(pattern: &Pattern, path: &Path) -> Vec<Centre> {
    let centre = |leg: &super::path::Leg| {
        let piece = pattern.piece(&leg.piece)?;
        let line = piece
            .line(CENTRE)
            .or_else(|| piece.line(LEFT))?
            .runs
            .first()?;
        let edge = piece.edge(&leg.edge)?.runs.first()?.clone();
        Some(Centre {
            piece: leg.piece.clone(),
            line: if leg.backwards {
                line.reversed()
            } else {
                line.clone()
            },
            edge,
        })
    };
    path.legs.iter().filter_map(centre).collect()
}

/// The edges of a stand on a piece: the finished edge and its two ends, in the order of the outline.
pub(super) fn edges<'a>(pattern: &'a Pattern, piece: &str, edge: &str) -> Option<[&'a Edge; 3]> {
    let piece = pattern.piece(piece)?;
    let (index, count) = (piece.edge_index(edge)?, piece.edges.len());
    let around = [index + count - 1, index, index + 1].map(|index| &piece.edges[index % count]);
    (around[1].kind == EdgeKind::Opening).then_some(around)
}
