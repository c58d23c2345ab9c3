//! Fits the shoulders of a bodice to square or sloping ones.
//!
//! **What it does.** Turns the shoulder seam about the side neck point until the shoulder point lies so much higher (square) or
//! lower (sloping). The underarm follows along the side seam, so that the armhole stays as long as it was; or it stays, and
//! the sleeve is eased more or less. Neckline and armhole still meet the shoulder at their old angles.
//! **When it is used.** Folds run from the neck to the armhole (sloping), or from the shoulder point to the neck (square).
//! **Example.** `square-shoulder by="10 mm"`: front and back together, 10 mm higher at the shoulder point and the underarm.
//! **What can go wrong.** Only one of front and back is named; the side seam is too short to be cut back.
//!
//! Invariants: shoulder and neckline keep their lengths, and so does the armhole unless the underarm stays; front and back
//! side change alike; what does not touch them stays bit for bit.

use document::{Finding, Place as Spot};
use geometry::{Affine, Curve, Point, math};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::{self, Ends, turned};
use super::kit::closed::Closed;
use super::kit::frame::{self, Frame};
use super::kit::fullness::ask_ease;
use super::kit::halves::{Shoulder, prolong_start};
use super::kit::partner;
use super::kit::shift_edge::reach_lines;
use super::kit::true_up::Keep;
use crate::piece::Piece;
use crate::seam::Pattern;

/// How near to a side that was cut back a line inside must end to go down with it, mm.
const REACHES: f64 = 0.5;

const PARAMETERS: &[Parameter] = &[
    Parameter::usually(
        "piece",
        Kind::Piece,
        Usual::Nothing,
        "pieces with a shoulder; all where none is named",
    )
    .many(),
    Parameter::needed(
        "by",
        Kind::Length(0.0, 50.0),
        "how much at the shoulder point",
    ),
    Parameter::usually(
        "underarm",
        Kind::Choice(&["follows", "stays"]),
        Usual::Word("follows"),
        "whether the armhole keeps its length",
    ),
];

pub(super) const SQUARE: StepKind = StepKind {
    name: "square-shoulder",
    group: Group::Correction,
    summary: "lifts the shoulder point",
    manual: include_str!("shoulder_slope.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, -1.0),
};

pub(super) const SLOPE: StepKind = StepKind {
    name: "slope-shoulder",
    group: Group::Correction,
    summary: "lowers the shoulder point",
    manual: include_str!("shoulder_slope.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, 1.0),
};

fn apply(pattern: &Pattern, arguments: &Arguments, sign: f64) -> Result<Done, Finding> {
    let by = arguments.mm("by")? * sign;
    let follows = arguments.word("underarm")? == "follows";
    let pieces = frame::pieces(
        pattern,
        &arguments.names_of("piece"),
        &["shoulder", "armhole"],
    )
    .map_err(|finding| arguments.blame("piece", finding))?;
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for &index in &pieces {
        let edges =
            Shoulder::of(pattern, index).map_err(|finding| arguments.blame("piece", finding))?;
        let piece = &mut changed.pieces[index];
        tilt(piece, edges, by, follows).ok_or_else(|| arguments.blame("by", too_much(piece)))?;
        let runs = [edges.shoulder, edges.armhole].map(|edge| piece.edges[edge].runs.clone());
        lines.extend(
            runs.into_iter()
                .flatten()
                .map(|run| TraceLine::new(&piece.name, Trace::Redrawn, run)),
        );
        names.push(piece.name.clone());
    }
    let mut told = Vec::new();
    for &index in &pieces {
        let piece = pattern.pieces[index].clone();
        for edge in ["shoulder", "armhole", "side"] {
            told.extend(partner::follow(&mut changed, pattern, &piece.name, edge));
        }
    }
    ask_ease(&mut changed, pattern);
    let what = if by < 0.0 { "higher" } else { "lower" };
    let mut words = format!(
        "put the shoulder point of the {} {:.0} mm {what}",
        names.join(" and the "),
        by.abs()
    );
    words += if follows {
        ", and the underarm with it"
    } else {
        "; the underarm stays"
    };
    for more in told {
        words = format!("{words}; {more}");
    }
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

/// Turns the shoulder of one piece until its point lies so much lower.
fn tilt(piece: &mut Piece, edges: Shoulder, by: f64, follows: bool) -> Option<()> {
    let frame = Frame::of(piece);
    let old = piece.clone();
    let shoulder = &old.edges[edges.shoulder];
    let (neck, tip) = (shoulder.start(), shoulder.end());
    let turn = turn_for(tip - neck, frame, by)?;
    turn_shoulder(piece, edges.shoulder, turned(neck, turn))?;
    let length = old.edges[edges.neckline].length();
    let with_neck = Ends::last(turned(neck, turn));
    bend::bend_edge(piece, edges.neckline, with_neck, Keep::Length(length)).then_some(())?;
    let new_tip = piece.edges[edges.shoulder].end();
    let start = Affine::translate(new_tip - tip) * turned(tip, turn);
    let end = if follows {
        let way = old.edges[edges.side].start_direction();
        prolong_start(piece, edges.side, -by)?;
        lower_lines(piece, &old, edges.side, by);
        Affine::translate(way * by)
    } else {
        Affine::IDENTITY
    };
    let keep = if follows {
        Keep::Length(old.edges[edges.armhole].length())
    } else {
        Keep::Shape
    };
    let ends = Ends { start, end };
    // Where no even curve has just the old length, what is sewn to it follows.
    let drawn = bend::bend_edge(piece, edges.armhole, ends, keep)
        || bend::bend_edge(piece, edges.armhole, ends, Keep::Shape);
    drawn.then_some(())?;
    let underarm = piece.edges[edges.side].start();
    bend::set_ends(piece, edges.armhole, new_tip, underarm);
    Some(())
}

/// The turn about the side neck point that puts the shoulder point so much lower, radians.
fn turn_for(way: geometry::Vec2, frame: Frame, by: f64) -> Option<f64> {
    let reach = way.hypot();
    let now = way.dot(frame.down) / reach;
    let wanted = now + by / reach;
    (wanted.abs() < 0.95).then(|| {
        let right = if way.dot(geometry::Vec2::new(frame.down.y, -frame.down.x)) >= 0.0 {
            1.0
        } else {
            -1.0
        };
        right * (math::asin(wanted) - math::asin(now))
    })
}

fn turn_shoulder(piece: &mut Piece, edge: usize, turn: Affine) -> Option<()> {
    let start = piece.edges[edge].start();
    let closed = Closed::of(piece, &piece.edges[edge]);
    let old = closed.curve();
    bend::put(piece, edge, &closed, &old, &old.transformed(turn)).then_some(())?;
    let end: Point = piece.edges[edge].end();
    bend::set_ends(piece, edge, start, end);
    Some(())
}

/// Lines that ended where the side was cut away go down with the underarm; all end at the side again.
fn lower_lines(piece: &mut Piece, old: &Piece, side: usize, by: f64) {
    let down = Frame::of(old).down;
    let cut = (by > 0.0).then(|| old.edges[side].runs[0].stretch(0.0, by));
    let on_cut = |run: &Curve| {
        let ends = [run.start(), run.end()];
        cut.as_ref()
            .is_some_and(|cut| ends.iter().any(|end| cut.nearest(*end).distance < REACHES))
    };
    for line in &mut piece.lines {
        if line.runs.iter().any(on_cut) {
            let runs = line.runs.iter();
            line.runs = runs
                .map(|run| run.transformed(Affine::translate(down * by)))
                .collect();
        }
    }
    let moved = piece
        .lines
        .iter()
        .zip(&old.lines)
        .any(|(new, old)| new != old);
    if moved {
        let before: Vec<Curve> = old.edges[side]
            .runs
            .iter()
            .map(|run| run.transformed(Affine::translate(down * by)))
            .collect();
        reach_lines(piece, side, &before);
    }
}

fn too_much(piece: &Piece) -> Finding {
    Finding::error(
        "shoulder-cannot-turn-so-far",
        format!("the shoulder of the {} cannot be turned so far", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less")
}
