//! An edge with a corner in it: square to the centre line, then along it.
//!
//! Knows nothing of seams. Invariant: the two parts are named after the edges that they meet and answer to the old name.

use document::Finding;
use geometry::allowance::Corner;
use geometry::{Curve, Point, Vec2};

use super::find::at_edge;
use super::reshape;
use crate::name::{self, Part};
use crate::piece::{Edge, Mark, Piece};

/// Draws an edge in two straight parts that meet at a right angle: square to the edge before it (or after it), then along.
pub fn draw(piece: &mut Piece, edge: usize, square_to_next: bool) -> Result<(), Finding> {
    let count = piece.edges.len();
    let (before, after) = ((edge + count - 1) % count, (edge + 1) % count);
    if piece.edges[edge].runs.len() != 1 {
        return Err(has_darts(piece, edge));
    }
    let (start, end) = (piece.edges[before].end(), piece.edges[after].start());
    let along = if square_to_next {
        piece.edges[after].start_direction()
    } else {
        piece.edges[before].end_direction()
    };
    let knee = knee(start, end, along, square_to_next);
    if [start, end]
        .iter()
        .any(|corner| (*corner - knee).hypot() < 1.0)
    {
        return Err(no_corner(piece, edge));
    }
    let whole = piece.edges[edge].clone();
    let lines = [Curve::line(start, knee), Curve::line(knee, end)];
    // Lines inside that ended on the edge reach the new line, whichever part of it.
    let both = lines[0].then(&lines[1]).unwrap_or_else(|| lines[0].clone());
    reshape::put(piece, edge, vec![both]);
    let words = [before, after].map(|beside| name::root(&piece.edges[beside].name).to_string());
    let share = lines[0].length() / (lines[0].length() + lines[1].length());
    let parts = part_edges(&whole, lines, words, share);
    share_notches(piece, &whole, &parts);
    piece.edges.splice(edge..=edge, parts);
    Ok(())
}

/// Where the part square to the centre line meets the part along it; on a level with the corners but for rounding, exactly.
fn knee(start: Point, end: Point, along: Vec2, square_to_next: bool) -> Point {
    const ROUNDING: f64 = 1e-9;
    let length = (end - start).dot(along);
    let knee = if square_to_next {
        start + along * length
    } else {
        end - along * length
    };
    let exact = |value: f64| {
        let corners = [start.x, start.y, end.x, end.y];
        let near = corners
            .into_iter()
            .find(|known| (known - value).abs() < ROUNDING);
        near.unwrap_or(value)
    };
    Point::new(exact(knee.x), exact(knee.y))
}

fn part_edges(whole: &Edge, lines: [Curve; 2], words: [String; 2], share: f64) -> [Edge; 2] {
    let [first, second] = lines;
    let [before, after]: [Part; 2] = whole.part.cut_at(share);
    let [one, other] = words.map(|word| name::part_of(&whole.name, &word));
    [
        Edge {
            name: one,
            runs: vec![first],
            part: before,
            corner: Corner::Mitre,
            ..whole.clone()
        },
        Edge {
            name: other,
            runs: vec![second],
            part: after,
            ..whole.clone()
        },
    ]
}

/// Notches keep their share of the edge.
fn share_notches(piece: &mut Piece, whole: &Edge, parts: &[Edge; 2]) {
    let (old, first) = (whole.length(), parts[0].length());
    let new = first + parts[1].length();
    for mark in &mut piece.marks {
        if let Mark::Notch { edge, along, .. } = mark
            && *edge == whole.name
        {
            let place = *along * new / old.max(1e-9);
            let second = place > first;
            edge.clone_from(&parts[usize::from(second)].name);
            *along = if second { place - first } else { place };
        }
    }
}

fn has_darts(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "edge-has-darts",
        format!(
            "the {name} of the {} has darts and cannot be squared",
            piece.name
        ),
    )
    .at(at_edge(piece, edge))
    .cure("transfer its darts to another edge first")
}

fn no_corner(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "no-room-for-corner",
        format!(
            "the {name} of the {} is too flat or too steep for a corner",
            piece.name
        ),
    )
    .at(at_edge(piece, edge))
    .cure("move its ends apart along the edges beside it, or choose another shape")
}
