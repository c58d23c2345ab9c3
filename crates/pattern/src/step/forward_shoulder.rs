//! Moves the shoulder seam forward at the shoulder point, for shoulders that stand forward.
//!
//! **What it does.** Cuts a strip from the front shoulder, nothing at the neck and the amount at the armhole, and adds it to the
//! back. The crown of the sleeve moves forward on its cap by as much. A negative amount moves the seam back.
//! **When it is used.** The shoulder seam of the mock-up runs to the back at the shoulder point, or pulls there.
//! **Example.** `forward-shoulder by="8 mm"`.
//! **What can go wrong.** A dart opens at the shoulder; the shoulder seam is not there.
//!
//! Invariants: both armholes together, and the cap, keep their lengths; what front and back armhole lose and gain is equal;
//! necklines and sides stay bit for bit.

use document::{Finding, Place as Spot};
use geometry::curve::mirror_in;
use geometry::{Affine, Curve, Point};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fill::joined;
use super::kit::find;
use super::kit::fullness::{Manner, joins, take_up};
use super::kit::halves::{Shoulder, prolong_start};
use super::kit::notches;
use super::kit::part::turn;
use crate::piece::{Mark, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const STEP: StepKind = StepKind {
    name: "forward-shoulder",
    group: Group::Correction,
    summary: "moves the shoulder seam forward at the shoulder point",
    manual: include_str!("forward_shoulder.rs"),
    parameters: &[
        Parameter::usually("front", Kind::Piece, Usual::Nothing, "front that gives"),
        Parameter::usually("back", Kind::Piece, Usual::Nothing, "back that takes"),
        Parameter::needed(
            "by",
            Kind::Length(-40.0, 40.0),
            "how far at the shoulder point",
        ),
    ],
    amount: Some("by"),
    apply,
};

fn apply(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let by = arguments.mm("by")?;
    let front = named(pattern, arguments, "front")?;
    let back = named(pattern, arguments, "back")?;
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let (giver, taker) = if by < 0.0 {
        (back, front)
    } else {
        (front, back)
    };
    let edges = |index: usize, name: &str| {
        Shoulder::of(pattern, index).map_err(|finding| arguments.blame(name, finding))
    };
    let both = [edges(front, "front")?, edges(back, "back")?];
    let (gives, takes) = if by < 0.0 {
        (both[1], both[0])
    } else {
        (both[0], both[1])
    };
    let over = |finding| arguments.blame("by", finding);
    let strip = cut_strip(&mut changed.pieces[giver], gives, by.abs()).map_err(over)?;
    add_strip(&mut changed.pieces[taker], takes, &strip).map_err(over)?;
    for (index, edges) in [(giver, gives), (taker, takes)] {
        let piece = &changed.pieces[index];
        let run = piece.edges[edges.shoulder].runs[0].clone();
        lines.push(TraceLine::new(&piece.name, Trace::Redrawn, run));
    }
    let [front, back] = [front, back].map(|index| pattern.pieces[index].name.clone());
    take_up(&mut changed, pattern, (&front, "shoulder"), Manner::Ease);
    let cap = move_crown(&mut changed, [&front, &back], by);
    if cap.is_none() {
        for piece in [&front, &back] {
            take_up(&mut changed, pattern, (piece, "armhole"), Manner::Ease);
        }
    }
    let words = format!(
        "moved the shoulder seam {:.0} mm {} at the shoulder point{}",
        by.abs(),
        if by < 0.0 { "back" } else { "forward" },
        cap.map_or(String::new(), |sleeve| format!(
            ", and the crown of the {sleeve} with it"
        ))
    );
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn named(pattern: &Pattern, arguments: &Arguments, name: &str) -> Result<usize, Finding> {
    if arguments.has(name) {
        return arguments.piece(pattern, name);
    }
    find::piece_index(pattern, name).map_err(|finding| arguments.blame(name, finding))
}

/// The armhole's end of the strip that is cut off, and the shoulder along which it was sewn.
struct Strip {
    armhole: Option<Curve>,
    neck: Point,
    tip: Point,
}

/// Cuts the strip from a shoulder.
fn cut_strip(piece: &mut Piece, edges: Shoulder, by: f64) -> Result<Strip, Finding> {
    let shoulder = plain_shoulder(piece, edges)?;
    let run = piece.edges[edges.armhole].runs[0].clone();
    let armhole = if by < 1e-9 {
        None
    } else {
        let parts = run.split_at(by).ok_or_else(|| too_much(piece))?;
        Some(parts.0)
    };
    prolong_start(piece, edges.armhole, -by).ok_or_else(|| too_much(piece))?;
    draw_shoulder(piece, edges);
    Ok(Strip {
        armhole,
        neck: shoulder.start(),
        tip: shoulder.end(),
    })
}

/// Adds it to the other: it is turned over along the seam, as it lies when the seam is open.
fn add_strip(piece: &mut Piece, edges: Shoulder, strip: &Strip) -> Result<(), Finding> {
    let shoulder = plain_shoulder(piece, edges)?;
    let Some(armhole) = &strip.armhole else {
        return Ok(());
    };
    let (neck, tip) = (shoulder.start(), shoulder.end());
    let turned = turn(tip, strip.tip - strip.neck, tip - neck) * Affine::translate(tip - strip.tip);
    let laid = mirror_in(neck, tip) * turned;
    let ahead = armhole.transformed(laid).reversed();
    let runs = &mut piece.edges[edges.armhole].runs;
    let more = ahead.length();
    runs[0] = joined(&ahead, &runs[0]);
    let name = piece.edges[edges.armhole].name.clone();
    notches::change(piece, &name, |along| along + more);
    draw_shoulder(piece, edges);
    Ok(())
}

fn plain_shoulder(piece: &Piece, edges: Shoulder) -> Result<Curve, Finding> {
    match &piece.edges[edges.shoulder].runs[..] {
        [run] => Ok(run.clone()),
        _ => Err(has_dart(piece, edges.shoulder)),
    }
}

/// Draws the shoulder to the armhole's new start.
fn draw_shoulder(piece: &mut Piece, edges: Shoulder) {
    let tip = piece.edges[edges.armhole].start();
    let shoulder = &mut piece.edges[edges.shoulder];
    let old = shoulder.length();
    let drawn = shoulder.runs[0].with_ends(shoulder.start(), tip);
    let share = drawn.length() / old;
    shoulder.runs = vec![drawn];
    let name = shoulder.name.clone();
    notches::change(piece, &name, |along| along * share);
}

/// Moves the corner between the two halves of the cap; the sleeve's name, or `None` where there is no such cap.
fn move_crown(pattern: &mut Pattern, [front, back]: [&str; 2], by: f64) -> Option<String> {
    let cap = |piece: &str| {
        let seam = pattern
            .seams
            .iter()
            .find(|seam| joins(seam, piece, "armhole"))?;
        sleeve_side(seam, piece)
    };
    let (front_cap, back_cap) = (cap(front)?, cap(back)?);
    if front_cap.piece != back_cap.piece {
        return None;
    }
    let sleeve = pattern.piece_mut(&front_cap.piece)?;
    let (front, back) = (
        sleeve.edge_index(&front_cap.edge)?,
        sleeve.edge_index(&back_cap.edge)?,
    );
    if (back + 1) % sleeve.edges.len() != front {
        return None;
    }
    let whole = [back, front].map(|edge| sleeve.edges[edge].runs.clone());
    let ([back_run], [front_run]) = (&whole[0][..], &whole[1][..]) else {
        return None;
    };
    let old = back_run.length();
    let (new_back, new_front) = parted(back_run, front_run, by)?;
    let names = [back, front].map(|edge| sleeve.edges[edge].name.clone());
    sleeve.edges[back].runs = vec![new_back];
    sleeve.edges[front].runs = vec![new_front];
    for mark in &mut sleeve.marks {
        share_notch(mark, &names, (old, by));
    }
    Some(front_cap.piece)
}

/// The two halves of a cap with their corner moved onto the second by so much.
fn parted(first: &Curve, second: &Curve, by: f64) -> Option<(Curve, Curve)> {
    if by.abs() < 1e-9 {
        return Some((first.clone(), second.clone()));
    }
    if by > 0.0 {
        let (strip, rest) = second.split_at(by)?;
        return Some((joined(first, &strip), rest));
    }
    let (rest, strip) = first.split_at(first.length() + by)?;
    Some((rest, joined(&strip, second)))
}

/// A notch at the corner stays there; others keep their place on the cap.
fn share_notch(mark: &mut Mark, [back, front]: &[String; 2], (old, by): (f64, f64)) {
    let Mark::Notch { edge, along, .. } = mark else {
        return;
    };
    let on_back = *edge == *back;
    if !on_back && *edge != *front {
        return;
    }
    let on_cap = if on_back { *along - old } else { *along };
    if on_cap.abs() < 1e-6 {
        *along = if on_back { old + by } else { 0.0 };
        return;
    }
    let new = on_cap - by;
    if new >= 0.0 {
        edge.clone_from(front);
        *along = new;
    } else {
        edge.clone_from(back);
        *along = old + by + new;
    }
}

/// The one edge to which an armhole is sewn, where the seam eases nothing but the usual.
fn sleeve_side(seam: &Seam, piece: &str) -> Option<Stretch> {
    let own = |side: &[Stretch]| side.iter().any(|stretch| stretch.piece == piece);
    let other = if own(&seam.held) {
        &seam.worked
    } else {
        &seam.held
    };
    let plain = matches!(seam.fullness, Fullness::None | Fullness::Eased(_));
    match &other[..] {
        [only] if plain => Some(only.clone()),
        _ => None,
    }
}

fn has_dart(piece: &Piece, edge: usize) -> Finding {
    Finding::error(
        "dart-at-shoulder",
        format!(
            "a dart opens at the {} of the {}",
            piece.edges[edge].name, piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("transfer the dart elsewhere first, and back afterwards")
}

fn too_much(piece: &Piece) -> Finding {
    Finding::error(
        "armhole-too-short",
        format!("the armhole of the {} has not so much to give", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less")
}
