//! Seams and girths in the file.

use serde_json::{Value, json};

use super::number::number;
use crate::seam::{Fullness, Girth, Pattern, Seam, Stretch};

pub(super) fn seam(pattern: &Pattern, seam: &Seam) -> Value {
    let (eased, gathered) = match seam.fullness {
        Fullness::None => (0.0, 1.0),
        Fullness::Eased(by) | Fullness::Pleated(by) => (by, 1.0),
        Fullness::Gathered(times) => (0.0, times),
    };
    let [held, worked] = [&seam.held, &seam.worked].map(|side| pattern.side_length(side));
    json!({
        "name": seam.name,
        "held": side(pattern, &seam.held),
        "worked": side(pattern, &seam.worked),
        "eased_mm": number(eased),
        "gathered_times": number(gathered),
        "off_mm": number(worked - held * gathered - eased),
    })
}

pub(super) fn side(pattern: &Pattern, side: &[Stretch]) -> Value {
    let edges = side.iter().flat_map(|stretch| {
        let edges = pattern.edges_of(stretch).into_iter();
        edges.map(|(piece, edge)| {
            json!({"piece": piece.name, "edge": edge.name, "backwards": stretch.backwards})
        })
    });
    json!({
        "length_mm": number(pattern.side_length(side)),
        "edges": edges.collect::<Vec<_>>(),
    })
}

pub(super) fn girth(pattern: &Pattern, girth: &Girth) -> Value {
    let closed = pattern.girth(girth);
    let parts = girth.parts.iter().flat_map(|(name, part)| {
        pattern.pieces_of(name).flat_map(move |piece| {
            let names: Vec<String> = match piece.line(part) {
                Some(_) => vec![part.clone()],
                None => piece.edges_of(part).map(|edge| edge.name.clone()).collect(),
            };
            let kind = if piece.line(part).is_some() { "line" } else { "edge" };
            names
                .into_iter()
                .map(move |part| json!({"piece": piece.name, kind: part, "times": piece.halves() as u32}))
        })
    });
    json!({
        "level": girth.level,
        "closed": number(closed),
        "body": number(girth.body),
        "ease": number(closed - girth.body),
        "ease_asked": number(girth.ease),
        "or_more": girth.at_least,
        "gathered_times": number(girth.gathered),
        "parts": parts.collect::<Vec<_>>(),
    })
}
