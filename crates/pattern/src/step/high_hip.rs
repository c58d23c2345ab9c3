//! Gives a skirt more length over a hip that is higher on one side.
//!
//! **What it does.** Lifts the waist at the side seam of that side by the amount, to nothing at the centre, in front and behind.
//! **When it is used.** The hem hangs higher on one side, and folds run from that hip to the other side of the waist.
//! **Example.** `high-hip side="left" by="10 mm"`, after `mirror` of front and back.
//! **What can go wrong.** The skirt is drawn as a half, which stands for both sides: mirror front and back first.
//!
//! Invariants: the waist keeps its length, for which one of its darts takes a hair more or less; the side seams of that side
//! grow by just the amount, and still walk; the other side stays bit for bit.

use document::{Finding, Place as Spot};
use geometry::Affine;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::{self, Ends};
use super::kit::frame;
use super::kit::notches;
use super::kit::true_up::Keep;
use crate::name::part_of;
use crate::piece::{Laid, Piece};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "high-hip",
    group: Group::Correction,
    summary: "lifts the waist over a hip that is higher on one side",
    manual: include_str!("high_hip.rs"),
    parameters: &[
        Parameter::usually(
            "piece",
            Kind::Piece,
            Usual::Nothing,
            "pieces that change; all skirts where none is named",
        )
        .many(),
        Parameter::needed(
            "side",
            Kind::Choice(&["left", "right"]),
            "side of the wearer",
        ),
        Parameter::needed("by", Kind::Length(-50.0, 50.0), "how much higher"),
    ],
    amount: Some("by"),
    apply,
};

fn apply(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (by, word) = (arguments.mm("by")?, arguments.word("side")?);
    let given = arguments.names_of("piece");
    let pieces = frame::pieces(pattern, &given, &["waist", "side", "hem"])
        .map_err(|finding| arguments.blame("piece", finding))?;
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for index in pieces {
        let piece = &mut changed.pieces[index];
        let edges = corner(piece, word).map_err(|finding| arguments.blame("piece", finding))?;
        lift(piece, edges, by).ok_or_else(|| arguments.blame("by", too_much(piece)))?;
        let runs = piece.edges[edges[0]].runs.iter();
        lines.extend(runs.map(|run| TraceLine::new(&piece.name, Trace::Redrawn, run.clone())));
        names.push(piece.name.clone());
    }
    let words = format!(
        "lifted the waist at the {word} side of the {} by {by:.0} mm",
        names.join(" and the ")
    );
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

/// Numbers of the waist and of the side of one half of a whole piece.
fn corner(piece: &Piece, word: &str) -> Result<[usize; 2], Finding> {
    let [waist, side] = ["waist", "side"].map(|name| piece.edge_index(&part_of(name, word)));
    match (waist, side) {
        (Some(waist), Some(side)) => Ok([waist, side]),
        _ => Err(is_half(piece, word)),
    }
}

fn lift(piece: &mut Piece, [waist, side]: [usize; 2], by: f64) -> Option<()> {
    let count = piece.edges.len();
    let lengths = [waist, side].map(|edge| piece.edges[edge].length());
    let side_name = piece.edges[side].name.clone();
    let waist_first = (waist + 1) % count == side;
    let up = if waist_first {
        -piece.edges[side].start_direction()
    } else {
        piece.edges[side].end_direction()
    };
    let lifted = Affine::translate(up * by);
    let ends = |at_start: bool| {
        if at_start {
            Ends::first(lifted)
        } else {
            Ends::last(lifted)
        }
    };
    bend_waist(piece, waist, ends(!waist_first), lengths[0]).then_some(())?;
    let side_keeps = Keep::Length(lengths[1] + by);
    // Notches keep their distance from the hem.
    let marks = piece.marks.clone();
    bend::bend_edge(piece, side, ends(waist_first), side_keeps).then_some(())?;
    piece.marks = marks;
    if waist_first {
        notches::change(piece, &side_name, |along| (along + by).max(0.0));
    }
    Some(())
}

/// Bends the waist; its length is kept by a hair more or less in one of its darts, or by its own bow.
fn bend_waist(piece: &mut Piece, waist: usize, ends: Ends, length: f64) -> bool {
    let name = piece.edges[waist].name.clone();
    let darts: Vec<String> = piece
        .darts_on(&name)
        .map(|dart| dart.name.clone())
        .collect();
    darts
        .iter()
        .any(|dart| bend::bend_with_dart(piece, waist, ends, dart))
        || bend::bend_edge(piece, waist, ends, Keep::Length(length))
}

fn is_half(piece: &Piece, word: &str) -> Finding {
    let how = match piece.cut.laid {
        Laid::OnFold(_) => "is cut on the fold",
        Laid::Pair => "is cut as a pair",
        Laid::Single => "has no such side",
    };
    Finding::error(
        "piece-is-half",
        format!("the {} {how}: it has no {word} side of its own", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .because("what is drawn once and cut twice is alike on both sides")
    .cure("mirror front and back first")
}

fn too_much(piece: &Piece) -> Finding {
    Finding::error(
        "waist-cannot-bend",
        format!("the waist of the {} cannot be lifted so far", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less")
}
