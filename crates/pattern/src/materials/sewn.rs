//! What is sewn to what: how often a seam is there, and which edges are in some seam.

use crate::makeup::LiningWay;
use crate::piece::{Edge, EdgeKind, Layer, Piece};
use crate::seam::{Pattern, Seam, Stretch};

/// How often a seam is there: on both sides of the body, but once where an edge is sewn to its own mirror image.
pub(super) fn times(pattern: &Pattern, seam: &Seam) -> f64 {
    let of_side = |side: &[Stretch]| {
        let (mut drawn, mut all) = (0.0, 0.0);
        for (piece, edge) in side.iter().flat_map(|stretch| pattern.edges_of(stretch)) {
            drawn += edge.length();
            all += edge.length() * piece.halves();
        }
        if drawn > 0.0 { all / drawn } else { 0.0 }
    };
    let [held, worked] = [of_side(&seam.held), of_side(&seam.worked)];
    if is_mirrored(seam) {
        held / 2.0
    } else {
        held.min(worked)
    }
}

fn is_mirrored(seam: &Seam) -> bool {
    let same =
        |(one, other): (&Stretch, &Stretch)| one.piece == other.piece && one.edge == other.edge;
    seam.held.len() == seam.worked.len() && seam.held.iter().zip(&seam.worked).all(same)
}

/// The layers of both sides, the held one's first.
pub(super) fn layers(pattern: &Pattern, seam: &Seam) -> Vec<Layer> {
    let first = |side: &Vec<Stretch>| {
        let mut edges = side.iter().flat_map(|stretch| pattern.edges_of(stretch));
        edges.next().map(|(piece, _)| piece.cut.layer)
    };
    [&seam.held, &seam.worked]
        .into_iter()
        .filter_map(first)
        .collect()
}

/// Whether an edge is part of one of some seams.
pub(super) fn is_in(pattern: &Pattern, seams: &[Seam], piece: &Piece, edge: &Edge) -> bool {
    let is_it = |stretch: &Stretch| {
        piece.answers_to(&stretch.piece)
            && edge.answers_to(&stretch.edge)
            && pattern
                .edges_of(stretch)
                .iter()
                .any(|(other, found)| other.name == piece.name && found.name == edge.name)
    };
    seams
        .iter()
        .any(|seam| seam.held.iter().chain(&seam.worked).any(is_it))
}

/// Whether the outer side of a mate is part of a seam besides, in which the inner layer is caught.
pub(super) fn is_sewn_outside(pattern: &Pattern, mate: &Seam) -> bool {
    let outer = |(piece, _): &(&Piece, &Edge)| !pattern.makeup.is_derived(&piece.name);
    let mut outer = edges(pattern, mate).into_iter().filter(outer);
    outer.any(|(piece, edge)| is_in(pattern, &pattern.seams, piece, edge))
}

/// Whether a facing lies behind an edge.
pub(super) fn is_faced(pattern: &Pattern, piece: &Piece, edge: &Edge) -> bool {
    let mates = pattern.makeup.mates.iter();
    let mut facing = mates.filter(|mate| layers(pattern, mate).contains(&Layer::Facing));
    facing.any(|mate| is_in(pattern, std::slice::from_ref(mate), piece, edge))
}

fn edges<'a>(pattern: &'a Pattern, seam: &'a Seam) -> Vec<(&'a Piece, &'a Edge)> {
    let stretches = seam.held.iter().chain(&seam.worked);
    stretches
        .flat_map(|stretch| pattern.edges_of(stretch))
        .collect()
}

/// Whether the raw edge of a seam is neatened: on the outside where no lining hides it, and at the free edge of a facing.
pub(super) fn needs_neatening(pattern: &Pattern, piece: &Piece, edge: &Edge) -> bool {
    match piece.cut.layer {
        Layer::Shell => !is_covered(pattern, piece),
        Layer::Facing => edge.kind == EdgeKind::Finished,
        Layer::Lining | Layer::Interfacing => false,
    }
}

/// Whether a lining that is not mounted hides the wrong side of a piece.
fn is_covered(pattern: &Pattern, piece: &Piece) -> bool {
    let way = pattern.makeup.lined.as_ref().map(|lined| lined.way);
    let upon = pattern
        .makeup
        .lies
        .iter()
        .filter(|lies| lies.upon == piece.name);
    let mut over = upon.filter_map(|lies| pattern.piece(&lies.piece));
    way != Some(LiningWay::Mounted) && over.any(|over| over.cut.layer == Layer::Lining)
}
