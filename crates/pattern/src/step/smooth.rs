//! Lets edges run on smoothly over the seams at their ends, and square to a centre line.
//!
//! **What it does.** Turns the end of an edge until it makes one line with the edge across the seam, or a right angle with the
//! centre line, and blends that into the edge. Where the edges on both sides of a seam are named, each gives half of it.
//! What is sewn to the edges follows their new lengths.
//! **When it is used.** After a seam was flared, taken in or drawn anew, a hem, waist or armhole shows a peak or a dip there.
//! **Example.** `smooth edge="skirt-front.hem, skirt-back.hem"`.
//! **What can go wrong.** A peak that is meant, such as that of a V neckline, is left alone: `redraw` makes it smooth.
//!
//! Invariants: corners stay where they are; an edge that is smooth already stays bit for bit.

use document::Finding;
use geometry::Angle;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine};
use super::kit::corner::{self, Tip, is_centre};
use super::kit::{find, partner, reshape};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "smooth",
    group: Group::Line,
    summary: "lets edges run on smoothly over seams, and square to a centre line",
    manual: include_str!("smooth.rs"),
    parameters: &[Parameter::needed(
        "edge",
        Kind::Edge,
        "edges that are made smooth at their ends",
    )
    .many()],
    amount: None,
    apply: smooth,
};

/// What no pencil shows, degrees.
const UNSEEN: f64 = 0.05;

fn smooth(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let tips = tips(pattern, arguments)?;
    let mut changed = pattern.clone();
    let mut done: Vec<(Tip, f64)> = Vec::new();
    for &tip in &tips {
        let Some(wanted) = wanted(pattern, tip, &tips) else {
            continue;
        };
        let off = tip.angle(pattern).degrees() - wanted.degrees();
        if off.abs() < UNSEEN {
            continue;
        }
        corner::turn_end(&mut changed, tip, wanted)
            .map_err(|finding| arguments.blame("edge", finding))?;
        done.push((tip, off));
    }
    let mut words = Vec::new();
    for (tip, off) in &done {
        let owner = &pattern.pieces[tip.piece];
        let (piece, edge) = (owner.name.clone(), owner.edges[tip.edge].name.clone());
        reshape::clip(&mut changed.pieces[tip.piece]);
        let followed = partner::follow(&mut changed, pattern, &piece, &edge);
        words.push(format!("the {edge} of the {piece} by {:.1}°", off.abs()));
        words.extend(followed);
    }
    let words = if words.is_empty() {
        "found nothing to make smooth".to_owned()
    } else {
        format!("made smooth: {}", words.join("; "))
    };
    Ok(Done {
        lines: traces(&changed, &done),
        words,
        pattern: changed,
    })
}

/// Both ends of every edge that is named, whole where it was cut.
fn tips(pattern: &Pattern, arguments: &Arguments) -> Result<Vec<Tip>, Finding> {
    let mut tips = Vec::new();
    for named in arguments.names_of("edge") {
        let edges = find::edges(pattern, &named.piece, &named.name)
            .map_err(|finding| arguments.blame("edge", finding))?;
        for (found, at_end) in [(edges.first(), false), (edges.last(), true)] {
            tips.extend(found.map(|&(piece, edge)| Tip {
                piece,
                edge,
                at_end,
            }));
        }
    }
    Ok(tips)
}

/// The interior angle that an end of an edge should have; `None` where nothing is asked of it.
fn wanted(pattern: &Pattern, tip: Tip, named: &[Tip]) -> Option<Angle> {
    let beside = tip.neighbour(pattern);
    let piece = &pattern.pieces[tip.piece];
    if is_centre(piece, beside.edge) {
        let peaked = piece.peaked.contains(&piece.edges[tip.edge].name);
        return (!peaked).then(|| Angle::from_degrees(90.0));
    }
    let other = corner::running_on(pattern, beside)?;
    let own = tip.angle(pattern).degrees();
    let corner = own + other.tip.angle(pattern).degrees() - 180.0;
    let both = named.contains(&other.tip.neighbour(pattern));
    Some(Angle::from_degrees(
        own - if both { corner / 2.0 } else { corner },
    ))
}

fn traces(pattern: &Pattern, done: &[(Tip, f64)]) -> Vec<TraceLine> {
    let mut edges: Vec<(usize, usize)> =
        done.iter().map(|(tip, _)| (tip.piece, tip.edge)).collect();
    edges.dedup();
    let runs = edges.into_iter().flat_map(|(piece, edge)| {
        let owner = &pattern.pieces[piece];
        let runs = owner.edges[edge].runs.iter();
        runs.map(|run| TraceLine::new(&owner.name, Trace::Redrawn, run.clone()))
    });
    runs.collect()
}
