//! Notches stay where they are when their edge changes: their lengths along it are brought along.
//!
//! Knows no shapes, only lengths along named edges.

use crate::piece::{Mark, Piece};

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
