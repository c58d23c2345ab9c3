//! Widens or narrows pieces at an edge.
//!
//! **What it does.** Moves the edge out or in, square to itself, by as much at both ends or differently; the edges beside it
//! are prolonged or cut back, lines inside reach it again.
//! **When it is used.** To give or take width at a side seam, or at a centre seam. Name the edges on both sides of the seam,
//! so that each takes its half.
//! **Example.** `widen edge="front.side, back.side" by="5 mm"`: 20 mm more round the body.
//! **What can go wrong.** An edge beside it is too short to be cut back so far.
//!
//! Invariants: the edge keeps its length and its darts their angles; edges that do not touch it stay bit for bit.

use document::{Finding, Place as Spot};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::find;
use super::kit::fullness::ask_ease;
use super::kit::shift_edge::shift_edge;
use crate::seam::Pattern;

const EDGE: Parameter = Parameter::needed("edge", Kind::Edge, "edges that move").many();
const BY: Parameter = Parameter::needed("by", Kind::Length(0.0, 500.0), "how far");
const END: Parameter = Parameter::usually(
    "by-end",
    Kind::Length(0.0, 500.0),
    Usual::Nothing,
    "how far at the edge's last corner, where that differs",
);

pub(super) const WIDEN: StepKind = StepKind {
    name: "widen",
    group: Group::Size,
    summary: "moves edges outwards",
    manual: include_str!("widen.rs"),
    parameters: &[EDGE, BY, END],
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, 1.0),
};

pub(super) const NARROW: StepKind = StepKind {
    name: "narrow",
    group: Group::Size,
    summary: "moves edges inwards",
    manual: include_str!("widen.rs"),
    parameters: &[EDGE, BY, END],
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, -1.0),
};

fn apply(pattern: &Pattern, arguments: &Arguments, sign: f64) -> Result<Done, Finding> {
    let by = arguments.mm("by")?;
    let end = if arguments.has("by-end") {
        arguments.mm("by-end")?
    } else {
        by
    };
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for named in arguments.names_of("edge") {
        let blamed = |finding| arguments.blame("edge", finding);
        let (index, edge) = find::edge(pattern, named).map_err(blamed)?;
        let piece = &mut changed.pieces[index];
        let name = piece.edges[edge].name.clone();
        let out = ends(by, end, named_backwards(pattern, index, edge)).map(|out| out * sign);
        shift_edge(piece, edge, out).ok_or_else(|| blamed(no_shape(&piece.name, &name)))?;
        let runs = piece.edges[edge].runs.iter();
        lines.extend(runs.map(|run| TraceLine::new(&piece.name, Trace::Moved, run.clone())));
        names.push(format!("{name} of the {}", piece.name));
    }
    ask_ease(&mut changed, pattern);
    let verb = if sign > 0.0 { "out" } else { "in" };
    let words = format!("moved the {} {verb} by {by:.0} mm", names.join(" and the "));
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn ends(by: f64, end: f64, backwards: bool) -> [f64; 2] {
    if backwards { [end, by] } else { [by, end] }
}

/// Both sides of a seam are walked from the same end: on the side that is walked backwards the amounts change places.
fn named_backwards(pattern: &Pattern, piece: usize, edge: usize) -> bool {
    let owner = &pattern.pieces[piece];
    let name = &owner.edges[edge].name;
    let stretches = pattern
        .seams
        .iter()
        .flat_map(|seam| seam.held.iter().chain(&seam.worked));
    stretches
        .filter(|stretch| owner.answers_to(&stretch.piece))
        .find(|stretch| crate::name::answers_to(name, &stretch.edge))
        .is_some_and(|stretch| stretch.backwards)
}

fn no_shape(piece: &str, edge: &str) -> Finding {
    Finding::error(
        "edge-cannot-move",
        format!("the {edge} of the {piece} cannot be moved so far"),
    )
    .at(Spot::Edge {
        piece: piece.into(),
        edge: edge.into(),
        at: None,
    })
    .cure("ask for less")
}
