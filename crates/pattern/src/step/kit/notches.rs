//! Notches stay where they are when their edge changes: their lengths along it are brought along.
//!
//! Knows no shapes, only lengths along named edges.

use crate::piece::{Mark, Piece};
use crate::seam::{Pattern, Stretch};

/// Changes the lengths of all notches of an edge.
pub fn change(piece: &mut Piece, edge: &str, place: impl Fn(f64) -> f64) {
    for mark in &mut piece.marks {
        if let Mark::Notch {
            edge: on, along, ..
        } = mark
            && on == edge
        {
            *along = place(*along);
        }
    }
}

/// Moves notches at or beyond a length by so much; those between a negative shift and its place come to the place.
pub fn shift(piece: &mut Piece, edge: &str, from: f64, by: f64) {
    // A notch that was put exactly at the place stays there.
    const ROUNDING: f64 = 1e-6;
    change(piece, edge, |along| {
        if along <= from + ROUNDING {
            along
        } else {
            (along + by).max(from)
        }
    });
}

/// Gives the notches of an edge to its two parts, the second beginning at a length.
pub fn share(piece: &mut Piece, edge: &str, at: f64, parts: [&str; 2]) {
    for mark in &mut piece.marks {
        if let Mark::Notch {
            edge: on, along, ..
        } = mark
            && on == edge
        {
            let second = *along > at;
            *on = parts[usize::from(second)].into();
            if second {
                *along -= at;
            }
        }
    }
}

/// How far a place on an edge is from where one side of a seam is walked from, mm; `None` where the edge is not in it.
pub fn on_side(
    pattern: &Pattern,
    side: &[Stretch],
    (piece, edge): (&str, &str),
    along: f64,
) -> Option<f64> {
    let mut before = 0.0;
    for stretch in side {
        for (owner, part) in pattern.edges_of(stretch) {
            let length = part.length();
            if owner.name == piece && part.name == edge {
                let within = if stretch.backwards {
                    length - along
                } else {
                    along
                };
                return Some(before + within);
            }
            before += length;
        }
    }
    None
}

/// The piece, the edge and the length along it at a length along one side of a seam.
pub fn at_side(pattern: &Pattern, side: &[Stretch], at: f64) -> Option<(String, String, f64)> {
    let mut rest = at;
    let edges: Vec<_> = side
        .iter()
        .flat_map(|stretch| {
            let edges = pattern.edges_of(stretch).into_iter();
            edges.map(move |(piece, edge)| (piece, edge, stretch.backwards))
        })
        .collect();
    for (index, (piece, edge, backwards)) in edges.iter().enumerate() {
        let length = edge.length();
        let last = index + 1 == edges.len();
        if rest <= length || last {
            let within = rest.clamp(0.0, length);
            let along = if *backwards { length - within } else { within };
            return Some((piece.name.clone(), edge.name.clone(), along));
        }
        rest -= length;
    }
    None
}

/// Puts a notch on an edge, unless there is the same one.
pub fn put(
    pattern: &mut Pattern,
    (piece, edge): (&str, &str),
    name: &str,
    along: f64,
    strokes: u8,
) {
    let mark = Mark::Notch {
        name: name.into(),
        edge: edge.into(),
        along,
        strokes,
    };
    if let Some(piece) = pattern.piece_mut(piece)
        && !piece.marks.contains(&mark)
    {
        piece.marks.push(mark);
    }
}
