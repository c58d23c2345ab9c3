//! What is sewn to an edge that changed follows it: a seam that eases eases more or less, another edge is bowed a little.
//!
//! Invariant: after it, every seam of the edge walks with the fullness that it asks for.

use super::bend;
use super::fullness::{Manner, joins, take_up};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

/// Differences that no partner follows, mm.
const NOTHING: f64 = 1e-6;
/// The most that a partner is bowed longer or shorter, mm; more is taken up by the seam. Common practice, no source.
const MOST: f64 = 8.0;

/// Lets all that is sewn to an edge follow its new length; says in words what followed.
pub fn follow(pattern: &mut Pattern, before: &Pattern, piece: &str, edge: &str) -> Vec<String> {
    let seams: Vec<Seam> = pattern
        .seams
        .iter()
        .filter(|seam| joins(seam, piece, edge))
        .cloned()
        .collect();
    let mut words = Vec::new();
    for seam in seams {
        let own = |side: &[Stretch]| pattern.side_length(side) - before.side_length(side);
        let (held, worked) = (own(&seam.held), own(&seam.worked));
        if (held - worked).abs() < NOTHING {
            continue;
        }
        let on_held = seam.held.iter().any(|stretch| names(stretch, piece, edge));
        let (other, more) = if on_held {
            (&seam.worked, held - worked)
        } else {
            (&seam.held, worked - held)
        };
        let bowed =
            seam.fullness == Fullness::None && more.abs() <= MOST && bow(pattern, other, more);
        if bowed {
            let Stretch { piece, edge, .. } = &other[0];
            words.push(format!(
                "the {edge} of the {piece} follows by {more:+.1} mm"
            ));
        } else {
            take_up(pattern, before, (piece, edge), Manner::Ease);
            words.push(format!(
                "the {} seam {}",
                seam.name,
                asks(pattern, &seam.name)
            ));
        }
    }
    words
}

/// What a seam asks for now, in words.
pub fn asks(pattern: &Pattern, seam: &str) -> String {
    let found = pattern.seams.iter().find(|other| other.name == seam);
    match found.map(|seam| seam.fullness) {
        Some(Fullness::Eased(ease)) => format!("now eases in {ease:.1} mm"),
        Some(Fullness::Gathered(times)) => format!("now gathers {times:.2} times"),
        Some(Fullness::Pleated(more)) => format!("now lays {more:.1} mm in pleats"),
        Some(Fullness::None) | None => "is as long on both sides".into(),
    }
}

fn names(stretch: &Stretch, piece: &str, edge: &str) -> bool {
    crate::name::answers_to(piece, &stretch.piece) && crate::name::answers_to(edge, &stretch.edge)
}

/// Bows the only edge of a side by so much more length.
fn bow(pattern: &mut Pattern, side: &[Stretch], more: f64) -> bool {
    let found = match &edges(pattern, side)[..] {
        [(piece, edge)] => Some((piece.name.clone(), edge.name.clone(), edge.length())),
        _ => None,
    };
    let Some((piece, edge, length)) = found else {
        return false;
    };
    let Some(owner) = pattern.piece_mut(&piece) else {
        return false;
    };
    owner
        .edge_index(&edge)
        .is_some_and(|index| bend::bow_to_length(owner, index, length + more))
}

fn edges<'a>(
    pattern: &'a Pattern,
    side: &'a [Stretch],
) -> Vec<(&'a crate::Piece, &'a crate::Edge)> {
    side.iter()
        .flat_map(|stretch| pattern.edges_of(stretch))
        .collect()
}
