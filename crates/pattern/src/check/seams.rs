//! Seams: both sides of each, walked, have the same length, but for the ease or gathers that were asked for; and so have two
//! layers that lie on each other.
//!
//! **What it does.** Walks both sides of every seam over all parts into which their edges were cut, darts closed, and takes off
//! the named ease, gathers or pleats. Facing and lining are walked against the shell in the same way.
//! **Why.** Edges that differ pucker, or leave a tail at the end of the seam; a lining that is too short pulls the outside in.
//! **Example.** A front side seam of 186.0 mm against a back one of 184.2 mm.
//! **What can go wrong.** Fullness that is meant but not named is found as a difference: name it with the step that makes it.

use document::{Allowed, Finding, Place, Quantity};

use super::{About, Check, LAYER_LIMIT, SEAM_LIMIT};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const CHECK: Check = Check {
    title: "Seams and layers",
    manual: include_str!("seams.rs"),
    codes: &[
        ("seam-lengths-differ", "0.5 mm beyond the named ease"),
        ("layers-differ", "1 mm beyond the named ease"),
        ("seam-without-edge", "both sides of a seam are there"),
    ],
    about: About::Sewing,
    run: check,
};

fn check(pattern: &Pattern) -> Vec<Finding> {
    let seams = pattern.seams.iter().map(|seam| (seam, &SEWN));
    let mates = pattern.makeup.mates.iter().map(|mate| (mate, &LAYERED));
    seams
        .chain(mates)
        .filter_map(|(seam, joint)| {
            missing_edge(pattern, seam).or_else(|| walk(pattern, seam, joint))
        })
        .collect()
}

/// What two sides are to each other, and how far they may differ.
struct Joint {
    code: &'static str,
    limit: f64,
    reason: &'static str,
}

const SEWN: Joint = Joint {
    code: "seam-lengths-differ",
    limit: SEAM_LIMIT,
    reason: "edges that differ pucker or leave a tail at the end of the seam",
};

const LAYERED: Joint = Joint {
    code: "layers-differ",
    limit: LAYER_LIMIT,
    reason: "a layer that is too long bags and one that is too short pulls the outside in",
};

fn missing_edge(pattern: &Pattern, seam: &Seam) -> Option<Finding> {
    let lost = seam
        .held
        .iter()
        .chain(&seam.worked)
        .find(|stretch| pattern.edges_of(stretch).is_empty())?;
    Some(
        Finding::error(
            "seam-without-edge",
            format!(
                "the {} seam names {} of {}, which is not there",
                seam.name, lost.edge, lost.piece
            ),
        )
        .at(Place::Seam(seam.name.clone()))
        .because("a seam joins edges by their names"),
    )
}

fn walk(pattern: &Pattern, seam: &Seam, joint: &Joint) -> Option<Finding> {
    let (held, worked) = (
        pattern.side_length(&seam.held),
        pattern.side_length(&seam.worked),
    );
    let wanted = wanted_length(seam, held);
    let off = worked - wanted;
    if off.abs() <= joint.limit {
        return None;
    }
    let than = if off > 0.0 { "longer" } else { "shorter" };
    Some(
        Finding::error(
            joint.code,
            format!(
                "{} is {:.1} mm {than} than {} needs at the {} seam",
                words(&seam.worked),
                off.abs(),
                words(&seam.held),
                seam.name
            ),
        )
        .at(Place::Seam(seam.name.clone()))
        .measured(
            Quantity::mm(worked),
            Allowed::Between(
                Quantity::mm(wanted - joint.limit),
                Quantity::mm(wanted + joint.limit),
            ),
        )
        .because(joint.reason),
    )
}

fn wanted_length(seam: &Seam, held: f64) -> f64 {
    match seam.fullness {
        Fullness::None => held,
        Fullness::Eased(more) | Fullness::Pleated(more) => held + more,
        Fullness::Gathered(times) => held * times,
    }
}

fn words(side: &[Stretch]) -> String {
    let parts: Vec<String> = side
        .iter()
        .map(|stretch| {
            format!(
                "{} {}",
                stretch.piece.replace('-', " "),
                stretch.edge.replace('-', " ")
            )
        })
        .collect();
    parts.join(" with ")
}
