//! Which edges give when they are handled, and what holds them.
//!
//! An edge is held where a good part of it runs off the threads: the angle between it and the nearer of lengthwise and crosswise
//! grain is taken along the curve. What turns much is held by a row of stitches, which follows it; what is nearly straight, and
//! every shoulder and waist, by tape. Invariant: of the two sides of a seam only the held one is named.

use geometry::Curve;
use geometry::curve::{angle_between, unit};
use pattern::step::kit::walk::written_out;
use pattern::{Edge, EdgeKind, Fullness, Layer, Pattern, Piece, Stay, Stayed, Stretch};

use crate::part::figures;
use crate::recipe::parts::Interfacing;

/// Places of an edge at which its angle is taken.
const PLACES: u32 = 64;

/// How an edge lies to the threads.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
struct Lie {
    /// Share of its length beyond the angle that is allowed.
    share: f64,
    /// The most, degrees.
    most: f64,
}

/// All edges that are to be held.
pub(super) fn of(pattern: &Pattern, wish: &Interfacing) -> Vec<Stayed> {
    let is_shell =
        |piece: &&Piece| piece.cut.layer == Layer::Shell && !pattern.makeup.is_derived(&piece.name);
    let mut stayed = Vec::new();
    for piece in pattern.pieces.iter().filter(is_shell) {
        for edge in &piece.edges {
            stayed.extend(held(pattern, piece, edge, wish));
        }
    }
    stayed
}

fn held(pattern: &Pattern, piece: &Piece, edge: &Edge, wish: &Interfacing) -> Option<Stayed> {
    let across = ["shoulder", "waist"]
        .iter()
        .any(|name| edge.answers_to(name));
    let is_open = matches!(edge.kind, EdgeKind::Opening | EdgeKind::Finished);
    if !(across || is_open || is_faced(pattern, piece, edge)) || edge.kind == EdgeKind::Hem {
        return None;
    }
    let mut lie = lie(piece, edge, wish.off_grain);
    if across {
        for seam in &pattern.seams {
            let [own, other] = [&seam.held, &seam.worked].map(|side| written_out(pattern, side));
            if is_on(&other, piece, edge) {
                return None;
            }
            if is_on(&own, piece, edge) && !matches!(seam.fullness, Fullness::Gathered(_)) {
                lie = other
                    .iter()
                    .fold(lie, |lie, far| worse(lie, beyond(pattern, far, wish)));
            }
        }
    }
    if lie.share < figures::OFF_GRAIN_SHARE {
        return None;
    }
    let straight = turning(edge) < figures::TAPE_TURNS;
    let stay = if across || straight {
        Stay::Tape(wish.tape)
    } else {
        Stay::Staystitching
    };
    Some(Stayed {
        stay,
        piece: piece.name.clone(),
        along: edge.name.clone(),
        length: edge.length(),
        why: format!(
            "{:.0} % of it runs more than {:.0}° off the grain, up to {:.0}°",
            lie.share * 100.0,
            wish.off_grain,
            lie.most
        ),
    })
}

fn is_on(side: &[Stretch], piece: &Piece, edge: &Edge) -> bool {
    side.iter()
        .any(|one| one.piece == piece.name && one.edge == edge.name)
}

/// Whether a facing lies behind an edge.
fn is_faced(pattern: &Pattern, piece: &Piece, edge: &Edge) -> bool {
    let is_facing = |stretch: &Stretch| {
        let mut owners = pattern.pieces_of(&stretch.piece);
        owners.any(|owner| owner.cut.layer == Layer::Facing)
    };
    pattern.makeup.mates.iter().any(|mate| {
        let [held, worked] = [&mate.held, &mate.worked];
        let lies = |own: &[Stretch], other: &[Stretch]| {
            is_on(&written_out(pattern, own), piece, edge) && other.iter().any(is_facing)
        };
        lies(held, worked) || lies(worked, held)
    })
}

fn beyond(pattern: &Pattern, far: &Stretch, wish: &Interfacing) -> Lie {
    let owner = pattern.piece(&far.piece);
    let edge = owner.and_then(|owner| owner.edge(&far.edge));
    match (owner, edge) {
        (Some(owner), Some(edge)) => lie(owner, edge, wish.off_grain),
        _ => Lie::default(),
    }
}

fn worse(one: Lie, other: Lie) -> Lie {
    if other.share > one.share { other } else { one }
}

/// How an edge lies to the threads of its piece, run by run.
fn lie(piece: &Piece, edge: &Edge, limit: f64) -> Lie {
    let grain = unit(piece.grain);
    let whole = edge.length();
    let mut lie = Lie::default();
    for run in &edge.runs {
        let length = run.length();
        for step in 0..PLACES {
            let along = length * (f64::from(step) + 0.5) / f64::from(PLACES);
            let angle = angle_between(grain, run.direction_at(along))
                .degrees()
                .abs();
            let within = angle.rem_euclid(90.0);
            let off = within.min(90.0 - within);
            lie.most = lie.most.max(off);
            if off > limit {
                lie.share += length / f64::from(PLACES) / whole;
            }
        }
    }
    lie
}

/// Through how many degrees an edge turns, either way.
fn turning(edge: &Edge) -> f64 {
    let turn = |run: &Curve| {
        let length = run.length();
        let ways =
            (0..=PLACES).map(|step| run.direction_at(length * f64::from(step) / f64::from(PLACES)));
        let ways: Vec<geometry::Vec2> = ways.collect();
        ways.windows(2)
            .map(|pair| angle_between(pair[0], pair[1]).degrees().abs())
            .sum::<f64>()
    };
    edge.runs.iter().map(turn).sum()
}
