//! Seams: both sides of each, walked, have the same length, but for the ease or gathers that were asked for; and so have two
//! layers that lie on each other.
//!
//! **What it does.** Walks both sides of every seam over all parts into which their edges were cut, darts closed, and takes off
//! the named ease, gathers or pleats. Facing and lining are walked against the shell in the same way.
//! **Why.** Edges that differ pucker, or leave a tail at the end of the seam; a lining that is too short pulls the outside in.
//! **Example.** A front side seam of 186.0 mm against a back one of 184.2 mm.
//! **What can go wrong.** Fullness that is meant but not named is found as a difference: name it with the step that makes it.

use document::{Allowed, Finding, Place, Quantity};

use super::cure::{self, Cure};
use super::{About, Check, LAYER_LIMIT, SEAM_LIMIT, smoothness};
use crate::piece::{Edge, EdgeKind, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};
use crate::step::Arguments;
use crate::step::kit::corner::{Tip, is_centre};

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
    cure::with_cures(pattern, found(pattern), found_and_smooth, cures)
}

/// A seam that is trued at the cost of a peak beside it is no cure.
fn found_and_smooth(pattern: &Pattern) -> Vec<Finding> {
    let mut all = found(pattern);
    all.extend(smoothness::found(pattern));
    all
}

pub(super) fn found(pattern: &Pattern) -> Vec<Finding> {
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
    cure: &'static str,
}

const SEWN: Joint = Joint {
    code: "seam-lengths-differ",
    limit: SEAM_LIMIT,
    reason: "edges that differ pucker or leave a tail at the end of the seam",
    cure: "true one of its edges, or ease the longer side onto the shorter one where it is little",
};

const LAYERED: Joint = Joint {
    code: "layers-differ",
    limit: LAYER_LIMIT,
    reason: "a layer that is too long bags and one that is too short pulls the outside in",
    cure: "true the seams of the shell that end there: layers follow it",
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
        .because("a seam joins edges by their names")
    .cure("take the last step away that changed it: a seam that lost an edge is a mistake of the program"),
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
        .because(joint.reason)
        .cure(joint.cure),
    )
}

/// Lines that would have to be bowed longer or shorter by more than this become other lines, mm; common practice, no source.
const SLIGHT: f64 = 8.0;
/// A corner flatter than this is none, and its ends are not moved, degrees: the crown of a cap.
const CORNER: f64 = 150.0;

/// Steps that may bring both sides of a seam to one length: another line or another end of one of its edges, or ease.
fn cures(pattern: &Pattern, finding: &Finding) -> Vec<Cure> {
    let Some(Place::Seam(name)) = finding.places.first() else {
        return Vec::new();
    };
    let Some(seam) = pattern.seams.iter().find(|seam| seam.name == *name) else {
        return Vec::new();
    };
    let sides = [&seam.worked, &seam.held];
    let edges: Vec<(&Piece, &Edge)> = sides
        .into_iter()
        .flatten()
        .flat_map(|stretch| pattern.edges_of(stretch))
        .collect();
    let [held, worked] = [&seam.held, &seam.worked].map(|side| pattern.side_length(side));
    let is_slight = (worked - wanted_length(seam, held)).abs() <= SLIGHT;
    let slight = edges.iter().filter(|_| is_slight);
    let bowed = slight.map(|(piece, edge)| bowed(name, piece, edge));
    let moved = edges
        .iter()
        .flat_map(|(piece, edge)| moved(name, piece, edge));
    let ease = Cure::new(
        "ease-in",
        Arguments::new().named("seam", "", name),
        format!("eases the longer side of the {name} seam onto the shorter one"),
    );
    bowed.chain(moved).chain([ease]).collect()
}

fn bowed(seam: &str, piece: &Piece, edge: &Edge) -> Cure {
    Cure::new(
        "true-seam",
        Arguments::new()
            .named("seam", "", seam)
            .named("edge", &piece.name, &edge.name),
        format!(
            "bows the {} of the {} until the {seam} seam walks",
            edge.name, piece.name
        ),
    )
}

/// The end at a hem, which nothing is sewn to, comes first; centre lines stay straight.
fn moved(seam: &str, piece: &Piece, edge: &Edge) -> Vec<Cure> {
    let Some(index) = piece.edge_index(&edge.name) else {
        return Vec::new();
    };
    let tips = [false, true].map(|at_end| Tip {
        piece: 0,
        edge: index,
        at_end,
    });
    let tips = tips
        .into_iter()
        .filter(|tip| tip.angle_of(piece).degrees() < CORNER);
    let beside = tips.map(|tip| tip.beside(piece));
    let mut beside: Vec<&Edge> = beside
        .filter(|at| !is_centre(piece, *at))
        .map(|at| &piece.edges[at])
        .collect();
    beside.sort_by_key(|edge| edge.kind != EdgeKind::Hem);
    let ends = beside.into_iter().map(|at| {
        Cure::new(
            "true-seam",
            Arguments::new()
                .named("seam", "", seam)
                .named("edge", &piece.name, &edge.name)
                .named("at", &piece.name, &at.name),
            format!(
                "moves the end of the {} of the {} at the {} until the {seam} seam walks",
                edge.name, piece.name, at.name
            ),
        )
    });
    ends.collect()
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
