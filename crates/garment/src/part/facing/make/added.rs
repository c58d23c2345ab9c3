//! Facings added to a pattern: their pieces, and the seams with which they are sewn to each other.
//!
//! Invariant: an edge of the shell that is faced is one that is sewn.

use pattern::name::{answers_to, root};
use pattern::{Edge, EdgeKind, Fullness, Pattern, Piece, Seam, Stretch};

use super::super::walk::Foot;
use super::Made;
use crate::recipe::parts::FacingWish;

/// Adds facings with their seams to a pattern, and makes the shell's edges ones that are sewn.
pub(in crate::part::facing) fn add(pattern: &mut Pattern, made: &[Made], wish: &FacingWish) {
    let seams = seams(pattern, made, wish);
    pattern.seams.extend(seams);
    for one in made {
        for (piece, edge) in &one.faced {
            let owner = pattern.piece_mut(piece);
            let edge = owner.and_then(|owner| owner.edges.iter_mut().find(|own| own.name == *edge));
            if let Some(edge) = edge {
                edge.kind = EdgeKind::Seam;
            }
        }
        for (piece, mark) in &one.notches {
            if let Some(piece) = pattern.piece_mut(piece) {
                piece.marks.push(mark.clone());
            }
        }
        pattern.pieces.push(one.piece.clone());
        pattern.makeup.mates.extend_from_slice(&one.mates);
        pattern.makeup.lies.extend_from_slice(&one.lies);
        pattern.findings.extend_from_slice(&one.findings);
    }
}

/// Seams between facings whose ends lie on the two sides of a seam of the shell.
fn seams(pattern: &Pattern, made: &[Made], wish: &FacingWish) -> Vec<Seam> {
    let ends: Vec<(&Made, &Foot, &Stretch)> = made
        .iter()
        .flat_map(|one| {
            one.ends
                .iter()
                .map(move |(foot, stretch)| (one, foot, stretch))
        })
        .collect();
    let mut found = Vec::new();
    for (index, (own, foot, stretch)) in ends.iter().enumerate() {
        for (other, far, its) in &ends[index + 1..] {
            let both = [*foot, *far].map(|foot| (foot.piece(pattern), foot.of(pattern)));
            let Some(shell) = pattern.seams.iter().find(|seam| joins(seam, both)) else {
                continue;
            };
            let length = |made: &Made, stretch: &Stretch| {
                made.piece.edge(&stretch.edge).map_or(0.0, Edge::length)
            };
            let longer = length(other, its) - length(own, stretch);
            let (held, worked) = if longer >= 0.0 {
                (stretch, its)
            } else {
                (its, stretch)
            };
            found.push(Seam {
                name: format!("{}-{}", wish.at.word(), root(&stretch.edge)),
                held: vec![(*held).clone()],
                worked: vec![(*worked).clone()],
                fullness: if longer.abs() < 0.1 {
                    Fullness::None
                } else {
                    Fullness::Eased(longer.abs())
                },
                runs_on: [
                    shell.runs_on == [true, true],
                    shell.runs_on == [true, true] || !is_between(other, its),
                ],
            });
        }
    }
    found
}

/// Whether an edge of a facing lies between two faced edges, and not between one and the outer edge.
fn is_between(made: &Made, stretch: &Stretch) -> bool {
    made.ends[..2]
        .iter()
        .all(|(_, end)| end.edge != stretch.edge)
}

fn joins(seam: &Seam, [one, other]: [(&Piece, &Edge); 2]) -> bool {
    let on = |side: &[Stretch], (piece, edge): (&Piece, &Edge)| {
        side.iter().any(|stretch| {
            answers_to(&piece.name, &stretch.piece) && answers_to(&edge.name, &stretch.edge)
        })
    };
    on(&seam.held, one) && on(&seam.worked, other) || on(&seam.held, other) && on(&seam.worked, one)
}
