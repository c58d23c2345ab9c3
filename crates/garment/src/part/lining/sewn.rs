//! The seams of a lining: those of its shell, with what each side of them grew or lost.
//!
//! Invariant: a seam of the shell whose edges are all there on the lining has a fellow called `lining-…`.

use pattern::{Fullness, Pattern, Seam, Stretch, name};

use super::super::figures::LINING_GIVES;
use super::inner::{Inner, fullness};

/// The fellow of a shell seam among the lining pieces, which stand in the pattern already.
pub(super) fn fellow(pattern: &Pattern, inners: &[Inner], seam: &Seam) -> Option<Seam> {
    let side = |side: &[Stretch]| -> Option<Vec<Stretch>> {
        side.iter()
            .map(|stretch| {
                let own = Stretch {
                    piece: name::derived(&stretch.piece, "lining"),
                    ..stretch.clone()
                };
                let edges = |stretch: &Stretch| pattern.edges_of(stretch).len();
                (edges(&own) == edges(stretch) && edges(&own) > 0).then_some(own)
            })
            .collect()
    };
    let (held, worked) = (side(&seam.held)?, side(&seam.worked)?);
    let change = |side: &[Stretch]| change(pattern, inners, side);
    let (of_held, of_worked) = (change(&held), change(&worked));
    let sewn = Seam {
        name: format!("lining-{}", seam.name),
        held,
        worked,
        ..seam.clone()
    };
    Some(match (of_held, of_worked) {
        (Some(held), Some(worked)) => {
            let before = pattern.side_length(&seam.held);
            changed(sewn, before, [held, worked])
        }
        _ => left_over(pattern, sewn, seam),
    })
}

/// A seam of the lining's own, with what its sides grew since they agreed.
pub(super) fn adjusted(pattern: &Pattern, inners: &[Inner], seam: Seam) -> Seam {
    let change = |side: &[Stretch]| change(pattern, inners, side);
    let (Some(held), Some(worked)) = (change(&seam.held), change(&seam.worked)) else {
        return seam;
    };
    let before = pattern.side_length(&seam.held) - held.0;
    changed(seam, before, [held, worked])
}

/// How much a side grew against the shell's and whether it did so in a pleat; `None` where only a part of an edge is left.
fn change(pattern: &Pattern, inners: &[Inner], side: &[Stretch]) -> Option<(f64, bool)> {
    let mut all = (0.0, false);
    for (piece, edge) in side.iter().flat_map(|stretch| pattern.edges_of(stretch)) {
        let inner = inners.iter().find(|inner| inner.piece.name == piece.name)?;
        let meet = inner.meets.iter().find(|meet| meet.edge == edge.name);
        if let Some(meet) = meet {
            all.0 += meet.more?;
            all.1 |= meet.pleated;
        }
    }
    Some(all)
}

/// A seam whose sides grew by known amounts, its held side from a length.
fn changed(
    mut sewn: Seam,
    length: f64,
    [(held, in_held), (worked, in_worked)]: [(f64, bool); 2],
) -> Seam {
    let pleated = in_held != in_worked || matches!(sewn.fullness, Fullness::Pleated(_));
    match sewn.fullness {
        Fullness::Gathered(times) => {
            sewn.fullness = Fullness::Gathered((length * times + worked) / (length + held));
        }
        Fullness::None | Fullness::Eased(_) | Fullness::Pleated(_) => {
            let more = known(sewn.fullness) + worked - held;
            if more < 0.0 {
                std::mem::swap(&mut sewn.held, &mut sewn.worked);
            }
            sewn.fullness = fullness(more.abs(), pleated);
        }
    }
    sewn
}

/// A seam of which a facing took a part: of the shell's ease it has at the most what there was, and gives a little where the facing
/// does not end equally far from the edge on both sides.
fn left_over(pattern: &Pattern, mut sewn: Seam, shell: &Seam) -> Seam {
    let more = pattern.side_length(&sewn.worked) - pattern.side_length(&sewn.held);
    sewn.runs_on = [false, false];
    if matches!(shell.fullness, Fullness::Gathered(_)) {
        return sewn;
    }
    let most = known(shell.fullness) + LINING_GIVES;
    let more = more.clamp(-LINING_GIVES, most);
    if more < 0.0 {
        std::mem::swap(&mut sewn.held, &mut sewn.worked);
    }
    let pleated = matches!(shell.fullness, Fullness::Pleated(_));
    sewn.fullness = fullness(more.abs(), pleated);
    sewn
}

/// By how much the worked side of a seam is longer, mm.
const fn known(fullness: Fullness) -> f64 {
    match fullness {
        Fullness::Eased(more) | Fullness::Pleated(more) => more,
        Fullness::None | Fullness::Gathered(_) => 0.0,
    }
}
