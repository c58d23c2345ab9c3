//! Absorbs a dart into a seam: what the dart took away is taken away at the seam instead.
//!
//! **What it does.** The dart goes and the edge is drawn over its mouth; the corner at which the edge meets the seam comes in
//! by as much, and the seam runs from there back into its old line.
//! **When it is used.** A narrow waist dart near a side seam; a shoulder dart of the back given to the armhole. Where the
//! dart is deep, cut the piece through the dart instead.
//! **Example.** `absorb dart="skirt-back.waist-dart-2" into="skirt-back.side" over="150 mm"`.
//! **What can go wrong.** The seam does not begin or end at the edge of the dart; the dart is too wide for the seam.
//!
//! Invariants: the edge of the dart keeps its length as sewn, and so does the seam: its top is lifted as far as that takes.

use document::{Finding, Place as Spot};
use geometry::curve::{angle_between, turn_about};
use geometry::{Curve, Knot, Point, Vec2, solve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fill::{self, joined};
use super::kit::gap::Gap;
use super::kit::true_up::{Keep, true_up};
use super::kit::{notches, shift_edge};
use super::transfer::dart_line;
use crate::piece::Piece;
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "absorb",
    group: Group::Darts,
    summary: "takes away at a seam what a dart took away",
    manual: include_str!("absorb.rs"),
    parameters: &[
        Parameter::needed("dart", Kind::Dart, "dart that goes"),
        Parameter::needed(
            "into",
            Kind::Edge,
            "edge beside the dart's own that comes in",
        ),
        Parameter::usually(
            "over",
            Kind::Length(30.0, 600.0),
            Usual::Length(200.0),
            "length of the seam that is drawn anew",
        ),
    ],
    amount: None,
    apply: absorb,
};

fn absorb(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, dart) = arguments.dart(pattern, "dart")?;
    let (other, seam) = arguments.edge(pattern, "into")?;
    let piece = &pattern.pieces[index];
    let Some(gap) = Gap::of_dart(piece, &dart.name).filter(|_| other == index) else {
        return Err(arguments.blame("into", apart(piece, "")));
    };
    let count = piece.edges.len();
    let follows = (gap.edge + 1) % count == seam;
    if !follows && (seam + 1) % count != gap.edge {
        return Err(arguments.blame("into", apart(piece, &piece.edges[seam].name)));
    }
    let mut changed = piece.clone();
    changed.darts.retain(|other| other.name != dart.name);
    let joint = fill::bridge(&mut changed, gap);
    true_up(&mut changed, gap.edge, &[joint], Keep::Shape);
    let meeting = Meeting {
        edge: gap.edge,
        seam,
        follows,
        over: arguments.mm("over")?,
    };
    let changed = drawn_in(&changed, piece, &meeting)
        .ok_or_else(|| arguments.blame("over", no_room(piece, &piece.edges[seam].name)))?;
    let words = format!(
        "absorbed the {} of the {} ({:.0} mm) into its {}",
        dart.name,
        piece.name,
        joint.to - joint.from,
        piece.edges[seam].name
    );
    let line = |kind, curve| TraceLine::new(&piece.name, kind, curve);
    let mut lines = vec![line(Trace::Pivot, dart_line(piece, dart))];
    let runs = changed.edges[seam].runs.iter();
    lines.extend(runs.map(|run| line(Trace::Redrawn, run.clone())));
    let mut pattern = pattern.clone();
    pattern.pieces[index] = changed;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}

/// The edge of the dart and the seam beside it.
struct Meeting {
    edge: usize,
    seam: usize,
    /// Whether the seam follows the edge, clockwise.
    follows: bool,
    over: f64,
}

/// The piece with its edge and its seam as long as before, its corner come in.
fn drawn_in(piece: &Piece, before: &Piece, meeting: &Meeting) -> Option<Piece> {
    let length = before.edges[meeting.edge].length();
    // Lifting the corner along the seam makes the edge a hair longer, which is cut off again: a few rounds settle it.
    let mut cut = piece.edges[meeting.edge].length() - length;
    let mut drawn = None;
    for _ in 0..5 {
        let tried = cut_and_lifted(piece, before, meeting, cut)?;
        cut += tried.edges[meeting.edge].length() - length;
        drawn = Some(tried);
    }
    drawn
}

/// Cuts the edge back and lifts its end along the seam until the seam has its length.
fn cut_and_lifted(piece: &Piece, before: &Piece, meeting: &Meeting, cut: f64) -> Option<Piece> {
    let seam = &before.edges[meeting.seam];
    let wanted = seam.length();
    let mut trimmed = piece.clone();
    trim(&mut trimmed, meeting.edge, cut, meeting.follows);
    let up = if meeting.follows {
        -seam.start_direction()
    } else {
        seam.end_direction()
    };
    let tried = |lift: f64| {
        let mut drawn = trimmed.clone();
        lift_corner(&mut drawn, before, meeting, up * lift)?;
        Some(drawn)
    };
    let off = |lift: f64| {
        tried(lift).map_or(f64::NAN, |drawn| {
            drawn.edges[meeting.seam].length() - wanted
        })
    };
    let reach = meeting.over / 3.0;
    let lift = solve::bracketed(-reach, reach, 1e-9, off).unwrap_or(0.0);
    tried(lift)
}

/// Cuts so much off an edge at the end where the seam is.
fn trim(piece: &mut Piece, edge: usize, cut: f64, at_end: bool) {
    let owner = &mut piece.edges[edge];
    let index = if at_end { owner.runs.len() - 1 } else { 0 };
    let run = owner.runs[index].clone();
    owner.runs[index] = if at_end {
        run.stretch(0.0, run.length() - cut)
    } else {
        run.stretch(cut, run.length())
    };
    if !at_end {
        let name = owner.name.clone();
        notches::change(piece, &name, |along| (along - cut).max(0.0));
    }
}

/// Puts the corner at a place beside where the edge ends now: the seam tapers into its old line, and the edge is drawn to the
/// corner so that it meets the seam at the angle that it had.
fn lift_corner(piece: &mut Piece, before: &Piece, meeting: &Meeting, by: Vec2) -> Option<()> {
    let edge = &piece.edges[meeting.edge];
    let ends = if meeting.follows {
        edge.end()
    } else {
        edge.start()
    };
    let corner = ends + by;
    let seam = &mut piece.edges[meeting.seam];
    let index = if meeting.follows {
        0
    } else {
        seam.runs.len() - 1
    };
    let run = facing(&seam.runs[index], meeting.follows);
    let drawn = tapered(&run, corner, meeting.over)?;
    let turned = angle_between(run.start_direction(), drawn.start_direction());
    seam.runs[index] = facing(&drawn, meeting.follows);
    let edge = &mut piece.edges[meeting.edge];
    let index = if meeting.follows {
        edge.runs.len() - 1
    } else {
        0
    };
    let run = facing(&edge.runs[index], !meeting.follows).reversed();
    let old = &before.edges[meeting.edge].runs;
    let old = if meeting.follows {
        old.last()?
    } else {
        old.first()?
    };
    let arrives = facing(old, !meeting.follows).reversed().end_direction();
    let arrives = turn_about(Point::ORIGIN, turned) * arrives.to_point();
    let drawn = shift_edge::drawn_toward(&run, corner, arrives.to_vec2())?;
    edge.runs[index] = facing(&drawn.reversed(), !meeting.follows);
    Some(())
}

/// A run as seen from the corner onwards: as it is for the edge that begins there, turned round for the one that ends there.
fn facing(run: &Curve, begins: bool) -> Curve {
    if begins { run.clone() } else { run.reversed() }
}

/// A curve that starts at another place and comes back to itself, ever more gently, over a length.
fn tapered(run: &Curve, start: Point, over: f64) -> Option<Curve> {
    const KNOTS: u32 = 5;
    let over = over.min(run.length() * 0.98);
    let (head, rest) = run.split_at(over)?;
    let shift = start - run.start();
    let knots: Vec<Knot> = (0..KNOTS)
        .map(|knot| {
            let share = f64::from(knot) / f64::from(KNOTS);
            // Nearly straight in, so that the seam leaves the corner at a slight angle, and softly into the old line.
            let left = 1.0 - share;
            let fading = left * (0.4 + 0.6 * left);
            Knot::free(head.point_at(over * share) + shift * fading)
        })
        .chain([Knot::toward(rest.start(), rest.start_direction())])
        .collect();
    Some(joined(&Curve::smooth(&knots)?, &rest))
}

fn apart(piece: &Piece, edge: &str) -> Finding {
    let what = if edge.is_empty() {
        "the other edge".into()
    } else {
        format!("the {edge}")
    };
    Finding::error(
        "edges-do-not-meet",
        format!("{what} does not meet the edge of the dart at a corner of the {}", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("name an edge that begins or ends where the edge of the dart does, or transfer the dart first")
}

fn no_room(piece: &Piece, edge: &str) -> Finding {
    Finding::error(
        "seam-too-short",
        format!(
            "the {edge} of the {} cannot be drawn to the new corner",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("let it be drawn anew over another length")
}
