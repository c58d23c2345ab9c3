//! Makes the back broader or narrower between the armholes.
//!
//! **What it does.** Bows the armhole out or in by the amount at the level across the back, to nothing at shoulder and underarm.
//! What is sewn to the armhole follows its new length; the words say by how much.
//! **When it is used.** The back pulls from armhole to armhole when the arms move forward (broad), or folds stand upright beside
//! the armholes (narrow).
//! **Example.** `broad-back by="8 mm"`: 16 mm more from armhole to armhole.
//! **What can go wrong.** The bottom of the armhole has no room for so much.
//!
//! Invariants: shoulder and underarm stay where they are; all other edges stay bit for bit.

use document::{Finding, Place as Spot};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::bow_edge;
use super::kit::frame::{self, Frame};
use super::kit::{find, partner};
use crate::piece::Piece;
use crate::seam::Pattern;

/// Where the level across the back meets the armhole, as part of its length from the shoulder: the middle of the block's
/// bounds.
const LEVEL: f64 = 0.45;

const PARAMETERS: &[Parameter] = &[
    Parameter::usually("piece", Kind::Piece, Usual::Nothing, "back that is changed"),
    Parameter::needed("by", Kind::Length(0.0, 40.0), "how much in each half"),
    Parameter::usually(
        "level",
        Kind::Place,
        Usual::Nothing,
        "where on the armhole it is most",
    ),
];

pub(super) const BROAD: StepKind = StepKind {
    name: "broad-back",
    group: Group::Correction,
    summary: "widens the back between the armholes",
    manual: include_str!("back_width.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, 1.0),
};

pub(super) const NARROW: StepKind = StepKind {
    name: "narrow-back",
    group: Group::Correction,
    summary: "narrows the back between the armholes",
    manual: include_str!("back_width.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, -1.0),
};

fn apply(pattern: &Pattern, arguments: &Arguments, sign: f64) -> Result<Done, Finding> {
    let by = arguments.mm("by")? * sign;
    let index = if arguments.has("piece") {
        arguments.piece(pattern, "piece")?
    } else {
        find::piece_index(pattern, "back").map_err(|finding| arguments.blame("piece", finding))?
    };
    let edge = frame::edge(pattern, index, "armhole")
        .map_err(|finding| arguments.blame("piece", finding))?;
    let old = &pattern.pieces[index];
    let at = if arguments.has("level") {
        arguments.seat(pattern, "level")?.along
    } else {
        old.edges[edge].length() * level(old, edge)
    };
    let mut changed = pattern.clone();
    let piece = &mut changed.pieces[index];
    let out = Frame::of(piece).out;
    if !bow_edge(piece, edge, out * by, at) {
        return Err(arguments.blame("by", cannot(old)));
    }
    let (name, more) = (
        piece.name.clone(),
        piece.edges[edge].length() - old.edges[edge].length(),
    );
    let runs = piece.edges[edge].runs.iter();
    let lines = runs
        .map(|run| TraceLine::new(&name, Trace::Redrawn, run.clone()))
        .collect();
    let armhole = old.edges[edge].name.clone();
    let told = partner::follow(&mut changed, pattern, &name, &armhole);
    let mut words = format!(
        "made the {name} {:.0} mm {} in each half; its armhole is {more:+.1} mm",
        by.abs(),
        if by < 0.0 { "narrower" } else { "broader" }
    );
    for more in told {
        words = format!("{words}; {more}");
    }
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

/// The level from the shoulder, whichever end of the armhole that is.
fn level(piece: &Piece, edge: usize) -> f64 {
    let before = (edge + piece.edges.len() - 1) % piece.edges.len();
    if piece.edges[before].answers_to("side") {
        1.0 - LEVEL
    } else {
        LEVEL
    }
}

fn cannot(piece: &Piece) -> Finding {
    Finding::error(
        "armhole-cannot-bow",
        format!("the armhole of the {} cannot be drawn so", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less, or choose a level nearer to its middle")
}
