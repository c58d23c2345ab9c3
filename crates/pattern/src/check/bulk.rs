//! Bulk: how thick the layers of cloth lie at every seam and crossing, and in every hem.
//!
//! **What it does.** Adds the thickness of all layers that a needle passes: each side of a seam with what lies behind it in the
//! same seam (facing, mounted lining, interfacing), gathers and pleats as often as they fold, and, where another seam ends
//! in it, its allowances pressed open once more. A hem has its turned-up layers, twice where a seam runs into it.
//! **Why.** A home machine stops, skips or breaks its needle in more than it can lift its foot over; a hand can push a needle
//! through less.
//! **Example.** A gathered skirt of coating, 2.1 mm, on a bodice of the same with a facing: 17.2 mm at the side seam.
//! **What can go wrong.** Thickness is that of the cloth as it lies; under the foot soft cloth gives way to half of it.
//!
//! Limits are common practice without a source, and stand here in one table. Knows no machine and no stitch.

use document::{Allowed, Finding, Mend, Place, Quantity};

use super::{About, Check};
use crate::makeup::{HemFinish, LiningWay};
use crate::name;
use crate::piece::{Edge, EdgeKind, Layer, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const CHECK: Check = Check {
    title: "Bulk",
    manual: include_str!("bulk.rs"),
    codes: &[
        ("seam-too-thick", "6 mm under the foot of a home machine"),
        ("hem-too-thick", "4.5 mm under the hand"),
    ],
    about: About::Wearing,
    run: check,
};

/// Layers that a home machine still sews, mm; common practice, no source.
pub const MACHINE_LIMIT: f64 = 6.0;
/// Layers through which a hand still pushes a needle, mm; common practice, no source.
pub const HAND_LIMIT: f64 = 4.5;
/// How often a pleat lies over itself where it is deepest.
const PLEAT: f64 = 3.0;
/// What thin cloth behind an edge is: cotton lawn 70 g/m² (trade pages), mm.
const THIN: f64 = 0.2;

fn check(pattern: &Pattern) -> Vec<Finding> {
    if pattern.makeup.cloths.is_empty() {
        return Vec::new();
    }
    let seams = pattern
        .seams
        .iter()
        .filter_map(|seam| at_seam(pattern, seam));
    let hems = pattern
        .pieces
        .iter()
        .filter_map(|piece| at_hem(pattern, piece));
    seams.chain(hems).collect()
}

/// One layer more than another lies where a needle passes.
struct Pile {
    thickness: f64,
    facing: f64,
}

fn at_seam(pattern: &Pattern, seam: &Seam) -> Option<Finding> {
    let held = side(pattern, &seam.held, 1.0);
    let worked = side(pattern, &seam.worked, folds(pattern, seam));
    let crossed = crossing(pattern, seam);
    let times = if crossed.is_some() { 2.0 } else { 1.0 };
    let thickness = times * (held.thickness + worked.thickness);
    if thickness <= MACHINE_LIMIT {
        return None;
    }
    let place = crossed.map_or_else(
        || Place::Seam(seam.name.clone()),
        |(piece, edge, at)| Place::Edge {
            piece: piece.name.clone(),
            edge: edge.name.clone(),
            at: Some(at),
        },
    );
    let what = if times > 1.0 {
        "crossing of the"
    } else {
        "whole of the"
    };
    let finding = Finding::warning(
        "seam-too-thick",
        format!("{thickness:.1} mm of cloth lie under the needle at the {what} {} seam", seam.name),
    )
    .at(place)
    .measured(
        Quantity::mm(thickness),
        Allowed::AtMost(Quantity::mm(MACHINE_LIMIT)),
    )
    .because("a home machine skips stitches or breaks its needle in more")
    .cure("grade the allowances, each layer shorter than the next; then tape instead of a facing; then thinner cloth behind the edge");
    let facing = held.facing + worked.facing;
    Some(
        finding
            .mend_with(thinner_facing(pattern, facing))
            .mend_with(thinner_shell(pattern, thickness / MACHINE_LIMIT)),
    )
}

/// The layers of one side of a seam: the thickest of its pieces with what is sewn in behind it.
fn side(pattern: &Pattern, side: &[Stretch], times: f64) -> Pile {
    let piles = side.iter().flat_map(|stretch| pattern.edges_of(stretch));
    piles
        .map(|(piece, edge)| pile(pattern, piece, edge, times))
        .fold(
            Pile {
                thickness: 0.0,
                facing: 0.0,
            },
            |most, one| {
                if one.thickness > most.thickness {
                    one
                } else {
                    most
                }
            },
        )
}

fn pile(pattern: &Pattern, piece: &Piece, edge: &Edge, times: f64) -> Pile {
    let own = thickness(pattern, piece.cut.layer);
    let behind = behind(pattern, piece, edge);
    let sum = |layer: Option<Layer>| -> f64 {
        behind
            .iter()
            .filter(|one| layer.is_none_or(|layer| one.cut.layer == layer))
            .map(|one| thickness(pattern, one.cut.layer))
            .sum()
    };
    Pile {
        thickness: times * own + sum(None),
        facing: sum(Some(Layer::Facing)),
    }
}

/// What is caught in the same seam behind a piece: interfacing on it, and the layers that are mated with it along this edge.
fn behind<'a>(pattern: &'a Pattern, piece: &Piece, edge: &Edge) -> Vec<&'a Piece> {
    let makeup = &pattern.makeup;
    let interfaced = makeup
        .lies
        .iter()
        .filter(|lies| lies.upon == piece.name)
        .filter_map(|lies| pattern.piece(&lies.piece))
        .filter(|one| one.cut.layer == Layer::Interfacing);
    let names = |side: &[Stretch]| {
        side.iter().any(|one| {
            name::answers_to(&piece.name, &one.piece) && name::answers_to(&edge.name, &one.edge)
        })
    };
    let mated = makeup.mates.iter().filter_map(|mate| {
        let other = if names(&mate.held) {
            mate.worked.first()?
        } else if names(&mate.worked) {
            mate.held.first()?
        } else {
            return None;
        };
        let found = pattern.pieces_of(&other.piece).next()?;
        makeup.is_derived(&found.name).then_some(found)
    });
    let mounted = makeup
        .lined
        .as_ref()
        .is_some_and(|lined| lined.way == LiningWay::Mounted);
    // A lining that is not mounted has seams of its own.
    let mated = mated.filter(|one| mounted || one.cut.layer != Layer::Lining);
    let mut found: Vec<&Piece> = Vec::new();
    for one in interfaced.chain(mated) {
        if one.name != piece.name && !found.iter().any(|known| known.name == one.name) {
            found.push(one);
        }
    }
    found
}

fn thickness(pattern: &Pattern, layer: Layer) -> f64 {
    pattern
        .makeup
        .cloth(layer)
        .map_or(0.0, |cloth| cloth.thickness)
}

/// How often the worked side lies over itself.
fn folds(pattern: &Pattern, seam: &Seam) -> f64 {
    match seam.fullness {
        Fullness::None | Fullness::Eased(_) => 1.0,
        Fullness::Gathered(times) => times.max(1.0),
        Fullness::Pleated(more) => {
            let held = pattern.side_length(&seam.held);
            if more > 0.0 && held > 0.0 { PLEAT } else { 1.0 }
        }
    }
}

/// Where another seam ends in this one, so that its allowances lie in it once more.
fn crossing<'a>(pattern: &'a Pattern, seam: &'a Seam) -> Option<(&'a Piece, &'a Edge, (f64, f64))> {
    let edges: Vec<(&Piece, &Edge)> = seam
        .held
        .iter()
        .chain(&seam.worked)
        .flat_map(|stretch| pattern.edges_of(stretch))
        .collect();
    edges.into_iter().find_map(|(piece, edge)| {
        let index = piece.edge_index(&edge.name)?;
        let count = piece.edges.len();
        let before = &piece.edges[(index + count - 1) % count];
        let after = &piece.edges[(index + 1) % count];
        [(before, edge.start()), (after, edge.end())]
            .into_iter()
            .find(|(other, _)| other.kind == EdgeKind::Seam && other.allowance > 0.0)
            .map(|(_, at)| (piece, edge, (at.x, at.y)))
    })
}

fn at_hem(pattern: &Pattern, piece: &Piece) -> Option<Finding> {
    let edge = piece.edges.iter().find(|edge| edge.kind == EdgeKind::Hem)?;
    let finish = pattern
        .makeup
        .hems
        .iter()
        .find(|hem| hem.piece == piece.name && name::answers_to(&edge.name, &hem.edge))
        .map_or(HemFinish::Turned, |hem| hem.finish);
    let layers = match finish {
        HemFinish::Narrow | HemFinish::Bound => 3.0,
        HemFinish::Turned | HemFinish::Faced => 2.0,
    };
    let runs_in = piece.edges.iter().any(|other| {
        other.kind == EdgeKind::Seam && (other.end() == edge.start() || other.start() == edge.end())
    });
    let own = thickness(pattern, piece.cut.layer);
    let thickness = layers * own * if runs_in { 2.0 } else { 1.0 };
    (thickness > HAND_LIMIT).then(|| {
        Finding::warning(
            "hem-too-thick",
            format!(
                "{thickness:.1} mm of cloth lie in the {} of the {} where a seam runs into it",
                edge.name,
                piece.title().to_lowercase()
            ),
        )
        .at(Place::Edge {
            piece: piece.name.clone(),
            edge: edge.name.clone(),
            at: Some((edge.start().x, edge.start().y)),
        })
        .measured(
            Quantity::mm(thickness),
            Allowed::AtMost(Quantity::mm(HAND_LIMIT)),
        )
        .because("a hand does not push a needle through more, and the edge shows through")
        .cure("cut the allowances of the seam to half within the hem; then face the hem with thin cloth; then take thinner cloth")
        .mend_with(thinner_shell(pattern, thickness / HAND_LIMIT))
    })
}

fn thinner_facing(pattern: &Pattern, facing: f64) -> Option<Mend> {
    let cloth = pattern.makeup.cloth(Layer::Facing)?;
    (facing > 0.0 && cloth.thickness > THIN)
        .then(|| cloth_of("facing", &cloth.name, THIN, "faces with thin cloth"))
}

/// A shell thinner by so many times, to a hundredth of a millimetre.
fn thinner_shell(pattern: &Pattern, times: f64) -> Option<Mend> {
    let cloth = pattern.makeup.cloth(Layer::Shell)?;
    let thickness = (100.0 * cloth.thickness / times).floor() / 100.0;
    (thickness >= 0.02).then(|| cloth_of("shell", &cloth.name, thickness, "takes a shell of"))
}

fn cloth_of(layer: &str, name: &str, thickness: f64, words: &str) -> Mend {
    let shown = format!("{thickness:.2} mm");
    Mend::value(
        &["cloths", layer],
        format!("{name:?}"),
        format!("{words} {shown} thickness"),
    )
    .and(Mend::property(
        &["cloths", layer],
        "thickness",
        format!("\"{shown}\""),
        "",
    ))
}
