//! Takes length from the centre back at the waist, for a back that is hollow there.
//!
//! **What it does.** Lifts the waist into the piece at the centre line by the amount, to nothing at the side seam, square at
//! both ends. Name the waists on both sides of a waist seam, so that both are hollowed. A negative amount lets length out, for
//! a flat back.
//! **When it is used.** Cloth lies in folds across the back above the waist, or a skirt stands off there.
//! **Example.** `sway-back edge="back.waist" by="10 mm"`: the centre back is 10 mm shorter, the side seam as long as before.
//! **What can go wrong.** The edge does not end at the centre line.
//!
//! Invariants: the waist keeps its length as sewn, for which the dart nearest to the centre line takes a hair more, or the
//! side seam where there is no dart; the centre line changes by just the amount; all other edges stay bit for bit.

use document::Finding;
use geometry::{Affine, Curve, Vec2, solve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::{self, Ends};
use super::kit::frame::{centre, told};
use super::kit::notches;
use super::kit::true_up::Keep;
use super::kit::{find, shift_edge};
use crate::piece::Piece;
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "sway-back",
    group: Group::Correction,
    summary: "hollows the waist at the centre back",
    manual: include_str!("sway_back.rs"),
    parameters: &[
        Parameter::usually(
            "edge",
            Kind::Edge,
            Usual::Nothing,
            "waists that are hollowed",
        )
        .many(),
        Parameter::needed(
            "by",
            Kind::Length(-60.0, 60.0),
            "how much at the centre line",
        ),
    ],
    amount: Some("by"),
    apply,
};

fn apply(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let by = arguments.mm("by")?;
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for (index, edge) in waists(pattern, arguments)? {
        let piece = &mut changed.pieces[index];
        hollow(piece, edge, by).map_err(|finding| arguments.blame("edge", finding))?;
        let runs = piece.edges[edge].runs.iter();
        lines.extend(runs.map(|run| TraceLine::new(&piece.name, Trace::Redrawn, run.clone())));
        names.push(piece.name.clone());
    }
    let words = format!(
        "made the centre of the {} {:.0} mm {} at the waist",
        names.join(" and the "),
        by.abs(),
        if by < 0.0 { "longer" } else { "shorter" }
    );
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

/// The waists that are named, or that of the back.
fn waists(pattern: &Pattern, arguments: &Arguments) -> Result<Vec<(usize, usize)>, Finding> {
    let given = arguments.names_of("edge");
    let usual = super::arguments::Named::of("back", "waist");
    let named = if given.is_empty() {
        vec![&usual]
    } else {
        given
    };
    let found = named.into_iter().map(|named| find::edge(pattern, named));
    found
        .collect::<Result<_, _>>()
        .map_err(|finding| arguments.blame("edge", finding))
}

fn hollow(piece: &mut Piece, edge: usize, by: f64) -> Result<(), Finding> {
    let count = piece.edges.len();
    let line = centre(piece).ok_or_else(|| no_centre(piece, edge))?;
    let ends = if (edge + 1) % count == line {
        Ends::last(Affine::translate(piece.edges[line].start_direction() * by))
    } else if (line + 1) % count == edge {
        Ends::first(Affine::translate(-piece.edges[line].end_direction() * by))
    } else {
        return Err(no_centre(piece, edge));
    };
    if !bend_waist(piece, edge, line, ends) {
        return Err(too_much(piece, edge));
    }
    cut_centre(piece, line, edge).ok_or_else(|| too_much(piece, edge))
}

/// Bends the waist; its length is kept by a hair more or less in the dart nearest to the centre line, or by its own bow.
fn bend_waist(piece: &mut Piece, edge: usize, line: usize, ends: Ends) -> bool {
    let name = piece.edges[edge].name.clone();
    let mut darts: Vec<String> = piece
        .darts_on(&name)
        .map(|dart| dart.name.clone())
        .collect();
    if (edge + 1) % piece.edges.len() == line {
        darts.reverse();
    }
    let with_dart =
        |piece: &mut Piece, dart: &String| bend::bend_with_dart(piece, edge, ends, dart);
    let length = piece.edges[edge].length();
    darts.iter().any(|dart| with_dart(piece, dart))
        || bend::bend_edge(piece, edge, ends, Keep::Length(length))
        || bend_side(piece, edge, line, ends)
}

/// A waist without darts keeps its length by a hair at the side seam.
fn bend_side(piece: &mut Piece, edge: usize, line: usize, ends: Ends) -> bool {
    let count = piece.edges.len();
    let at_end = (edge + 1) % count == line;
    let side = if at_end {
        (edge + count - 1) % count
    } else {
        (edge + 1) % count
    };
    let (length, side_length) = (piece.edges[edge].length(), piece.edges[side].length());
    let way = if at_end {
        piece.edges[edge].start_direction()
    } else {
        -piece.edges[edge].end_direction()
    };
    let moved = |by: f64| {
        let at_side = Affine::translate(way * by);
        if at_end {
            Ends {
                start: at_side,
                ..ends
            }
        } else {
            Ends {
                end: at_side,
                ..ends
            }
        }
    };
    let off = |by: f64| {
        let mut trial = piece.clone();
        let done = bend::bend_edge(&mut trial, edge, moved(by), Keep::Shape);
        if done {
            trial.edges[edge].length() - length
        } else {
            f64::NAN
        }
    };
    let step = if off(0.0) > 0.0 { 1.0 } else { -1.0 };
    let Ok(by) = solve::stepping(0.0, step, 10.0, 1e-8, off) else {
        return false;
    };
    let at_side = Affine::translate(way * by);
    let side_ends = if at_end {
        Ends::last(at_side)
    } else {
        Ends::first(at_side)
    };
    bend::bend_edge(piece, edge, moved(by), Keep::Shape)
        && (bend::bend_edge(piece, side, side_ends, Keep::Length(side_length))
            || bend::bend_edge(piece, side, side_ends, Keep::Shape))
}

/// Ends the centre line at the waist's new corner.
fn cut_centre(piece: &mut Piece, line: usize, edge: usize) -> Option<()> {
    let name = piece.edges[line].name.clone();
    let follows = (edge + 1) % piece.edges.len() == line;
    let runs = &mut piece.edges[line].runs;
    if follows {
        let corner = piece.edges[edge].end();
        let runs = &mut piece.edges[line].runs;
        let before = runs[0].length();
        runs[0] = ended(&runs[0].reversed(), corner)?.reversed();
        let more = runs[0].length() - before;
        notches::change(piece, &name, |along| (along + more).max(0.0));
    } else {
        let last = runs.len() - 1;
        let corner = piece.edges[edge].start();
        let runs = &mut piece.edges[line].runs;
        runs[last] = ended(&runs[last], corner)?;
    }
    Some(())
}

/// A run cut back or prolonged straight to a point on its line.
fn ended(run: &Curve, corner: geometry::Point) -> Option<Curve> {
    let ahead: Vec2 = corner - run.end();
    if ahead.dot(run.end_direction()) > 0.0 {
        return shift_edge::drawn_to(run, corner);
    }
    let nearest = run.nearest(corner);
    let kept = run.stretch(0.0, nearest.along);
    (nearest.along > 1.0).then(|| kept.with_ends(kept.start(), corner))
}

fn no_centre(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    let what = format!(
        "the {name} of the {} does not end at a centre line",
        piece.name
    );
    told("edge-not-at-centre", piece, name, what)
        .cure("name a waist that ends at the centre line or fold")
}

fn too_much(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    let what = format!("the {name} of the {} cannot be hollowed so far", piece.name);
    told("edge-cannot-bend", piece, name, what).cure("ask for less")
}
