//! Moves the bust point up or down and in or out, and the darts that aim at it.
//!
//! **What it does.** The point goes along the grain and across it; every dart that aims at it ends as far from it as before,
//! in the same direction. The mouths of the darts stay; their legs get one length and the edge is trued with the dart closed.
//! **When it is used.** The darts aim above, below or beside the bust of the wearer. Bust girth and dart angles are right.
//! **Example.** `move-bust-point up="-15 mm" out="5 mm"`: lower and farther apart.
//! **What can go wrong.** A dart would be too short to be sewn, or end outside the piece; move its mouth with `transfer` first.
//!
//! Invariants: the edges at which the darts open keep their lengths as sewn; all others stay bit for bit.

use document::{Finding, Place as Spot};
use geometry::{Curve, Vec2};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::{Ends, bent};
use super::kit::frame::{self, Frame};
use super::kit::part::turn;
use super::kit::true_up::Keep;
use super::kit::{dart_end, find};
use crate::piece::{Dart, Mark, Piece};
use crate::seam::Pattern;

/// A dart that ends within this of the aim is one of the point's, mm.
const AIMS: f64 = 1.0;
/// No dart can be sewn shorter than this, mm; common practice, no source.
const LEAST_LENGTH: f64 = 15.0;

pub(super) const STEP: StepKind = StepKind {
    name: "move-bust-point",
    group: Group::Correction,
    summary: "moves the bust point and the darts that aim at it",
    manual: include_str!("bust_point.rs"),
    parameters: &[
        Parameter::usually(
            "piece",
            Kind::Piece,
            Usual::Nothing,
            "piece with the bust point",
        )
        .many(),
        Parameter::usually(
            "up",
            Kind::Length(-80.0, 80.0),
            Usual::Length(0.0),
            "how far up; negative: down",
        ),
        Parameter::usually(
            "out",
            Kind::Length(-60.0, 60.0),
            Usual::Length(0.0),
            "how far from the centre; negative: towards it",
        ),
    ],
    amount: None,
    apply,
};

fn apply(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (up, out) = (arguments.mm("up")?, arguments.mm("out")?);
    let pieces = with_point(pattern, arguments)?;
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for index in pieces {
        let old = &pattern.pieces[index];
        let frame = Frame::of(old);
        let by = frame.out * out - frame.down * up;
        let piece = &mut changed.pieces[index];
        names.extend(move_point(piece, by)?);
        lines.extend(traces(old, piece));
    }
    let words = format!(
        "moved the bust point {:.0} mm {} and {:.0} mm {}, with {}",
        up.abs(),
        if up < 0.0 { "down" } else { "up" },
        out.abs(),
        if out < 0.0 { "in" } else { "out" },
        if names.is_empty() {
            "no dart".into()
        } else {
            names.join(" and ")
        }
    );
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn with_point(pattern: &Pattern, arguments: &Arguments) -> Result<Vec<usize>, Finding> {
    if arguments.has("piece") {
        return frame::pieces(pattern, &arguments.names_of("piece"), &[])
            .map_err(|finding| arguments.blame("piece", finding));
    }
    let found: Vec<usize> = (0..pattern.pieces.len())
        .filter(|&at| pattern.pieces[at].point("bust-point").is_some())
        .collect();
    if found.is_empty() {
        let finding = find::not_there(
            "bust-point-not-there",
            "no piece has a bust point".into(),
            "bust-point",
            &[],
        );
        return Err(arguments.blame("piece", finding));
    }
    Ok(found)
}

/// Moves the point of one piece; angles of its darts before and after, in words.
fn move_point(piece: &mut Piece, by: Vec2) -> Result<Vec<String>, Finding> {
    let Some(point) = piece.point("bust-point") else {
        let message = format!("the {} has no bust point", piece.name);
        return Err(
            find::not_there("bust-point-not-there", message, "bust-point", &[])
                .at(Spot::Piece(piece.name.clone())),
        );
    };
    for mark in &mut piece.marks {
        if let Mark::Point { name, at } = mark
            && name == "bust-point"
        {
            *at += by;
        }
    }
    let aims = |dart: &&Dart| (dart.aim - point).hypot() < AIMS;
    let darts: Vec<Dart> = piece.darts.iter().filter(aims).cloned().collect();
    let mut words = Vec::new();
    for dart in darts {
        let before = piece.legs(&dart).angle().degrees();
        for own in piece.darts.iter_mut().filter(|own| own.name == dart.name) {
            own.aim += by;
        }
        let ways = corner_ways(piece, &dart.edge);
        dart_end::draw_to(piece, &dart.name, dart.point + by);
        keep_corners(piece, &dart.edge, ways);
        let Some(now) = piece.dart(&dart.name) else {
            continue;
        };
        let legs = piece.legs(now);
        if legs.lengths()[0] < LEAST_LENGTH {
            return Err(too_short(piece, &dart.name, legs.lengths()[0]));
        }
        words.push(format!(
            "{} {before:.1}° → {:.1}°",
            dart.name,
            legs.angle().degrees()
        ));
    }
    Ok(words)
}

/// The directions in which an edge leaves its first corner and arrives at its last.
fn corner_ways(piece: &Piece, edge: &str) -> Option<[Vec2; 2]> {
    let edge = piece.edge(edge)?;
    Some([edge.start_direction(), edge.end_direction()])
}

/// The runs beside the corners are bent until they meet them as before: other edges run on there.
fn keep_corners(piece: &mut Piece, edge: &str, ways: Option<[Vec2; 2]>) {
    let Some((index, [leaves, arrives])) = piece.edge_index(edge).zip(ways) else {
        return;
    };
    let runs = &mut piece.edges[index].runs;
    let last = runs.len() - 1;
    let start = turn(runs[0].start(), runs[0].start_direction(), leaves);
    if let Some(bent) = bent(&runs[0], Ends::first(start), Keep::Shape) {
        runs[0] = bent;
    }
    let end = turn(runs[last].end(), runs[last].end_direction(), arrives);
    if let Some(bent) = bent(&runs[last], Ends::last(end), Keep::Shape) {
        runs[last] = bent;
    }
}

fn traces(before: &Piece, after: &Piece) -> Vec<TraceLine> {
    let moved = before.point("bust-point").zip(after.point("bust-point"));
    let moved = moved.filter(|(old, new)| (*old - *new).hypot() > 1e-6);
    moved
        .map(|(old, new)| TraceLine::new(&after.name, Trace::Moved, Curve::line(old, new)))
        .into_iter()
        .collect()
}

fn too_short(piece: &Piece, dart: &str, length: f64) -> Finding {
    Finding::error(
        "dart-too-short",
        format!(
            "the {dart} of the {} would be {length:.0} mm long",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .allowed(format!("at least {LEAST_LENGTH:.0} mm"))
    .cure("move the point less far, or move the mouth of the dart as well")
}
