//! Absorbs a dart into a seam: what the dart took away is taken away at the seam instead.
//!
//! **What it does.** The dart goes and the edge is drawn over its mouth; the corner at which the edge meets the seam comes in
//! by as much, and the seam runs from there back into its old line.
//! **When it is used.** A narrow waist dart near a side seam; a shoulder dart of the back given to the armhole. Where the
//! dart is deep, cut the piece through the dart instead.
//! **Example.** `absorb dart="skirt-back.waist-dart-2" into="skirt-back.side" over="150 mm"`.
//! **What can go wrong.** The seam does not begin or end at the edge of the dart; the dart is too wide for the seam.
//!
//! Invariants: the edge of the dart keeps its length as sewn; so does the seam, where one curve allows it.

use document::{Finding, Place as Spot};
use geometry::{Curve, Knot, solve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fill::{self, joined};
use super::kit::gap::Gap;
use super::kit::true_up::{Keep, true_up};
use super::kit::{closed::Closed, notches};
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
            Usual::Length(150.0),
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
    let length = piece.edges[gap.edge].length();
    changed.darts.retain(|other| other.name != dart.name);
    let joint = fill::bridge(&mut changed, gap);
    true_up(&mut changed, gap.edge, &[joint], Keep::Shape);
    trim(&mut changed, gap.edge, length, follows);
    let over = arguments.mm("over")?;
    draw_in(&mut changed, (gap.edge, seam), over, follows)
        .ok_or_else(|| arguments.blame("over", no_room(piece, &piece.edges[seam].name)))?;
    let words = format!(
        "absorbed the {} of the {} ({:.0} mm) into its {}",
        dart.name,
        piece.name,
        joint.to - joint.from,
        piece.edges[seam].name
    );
    let redrawn = Closed::of(&changed, &changed.edges[seam]).curve();
    let lines = vec![
        TraceLine::new(&piece.name, Trace::Pivot, dart_line(piece, dart)),
        TraceLine::new(&piece.name, Trace::Redrawn, redrawn),
    ];
    let mut pattern = pattern.clone();
    pattern.pieces[index] = changed;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}

/// Cuts an edge back to a length at the end where the seam is.
fn trim(piece: &mut Piece, edge: usize, length: f64, at_end: bool) {
    let owner = &mut piece.edges[edge];
    let excess = owner.length() - length;
    let index = if at_end { owner.runs.len() - 1 } else { 0 };
    let run = owner.runs[index].clone();
    let kept = if at_end {
        run.stretch(0.0, run.length() - excess)
    } else {
        run.stretch(excess, run.length())
    };
    owner.runs[index] = kept;
    if !at_end {
        let name = owner.name.clone();
        notches::change(piece, &name, |along| (along - excess).max(0.0));
    }
}

/// Draws the seam from the corner that came in back into its old line.
fn draw_in(
    piece: &mut Piece,
    (edge, seam): (usize, usize),
    over: f64,
    follows: bool,
) -> Option<()> {
    let corner = if follows {
        piece.edges[edge].end()
    } else {
        piece.edges[edge].start()
    };
    let owner = &mut piece.edges[seam];
    let index = if follows { 0 } else { owner.runs.len() - 1 };
    let run = if follows {
        owner.runs[0].clone()
    } else {
        owner.runs[index].reversed()
    };
    let over = over.min(run.length() * 0.98);
    let (old, rest) = run.split_at(over)?;
    let first = Knot::toward(rest.start(), rest.start_direction());
    let drawn = |lean: f64| {
        let way = (rest.start() - corner).lerp(old.start_direction() * over, lean);
        Curve::smooth(&[Knot::toward(corner, way), first])
    };
    let off = |lean: f64| drawn(lean).map_or(f64::NAN, |curve| curve.length() - old.length());
    // A seam that leans more or less into the corner is longer or shorter: the one that keeps its length, or the nearest.
    let lean = solve::bracketed(-1.5, 2.5, 1e-9, off).unwrap_or_else(|missing| {
        let nearest = missing.nearest();
        nearest.clamp(0.0, 1.0)
    });
    let whole = joined(&drawn(lean)?, &rest);
    owner.runs[index] = if follows { whole } else { whole.reversed() };
    Some(())
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
