//! Shifts the level of the waist or of the hip, while the lengths above and below it in all stay.
//!
//! **What it does.** For the waist: bodices become longer and skirts shorter between waist and hip (or the other way round), so
//! that hip and hem stay. For the hip: skirts become longer above the hip line and shorter below it.
//! **When it is used.** The waist of the mock-up lies above or below the wearer's; the hip curve sits too high or too low.
//! **Example.** `shift-waist by="15 mm"`: the waist seam lies 15 mm lower, hip and hem where they were.
//! **What can go wrong.** There is no hip line; a piece has no room to give so much.
//!
//! Invariants: waist, hem, and all above the bust line keep their shapes; the widths at waist and hip stay; darts at the waist
//! end as far along the stretch as they did.

use document::{Finding, Place as Spot};

use geometry::Tolerance;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::frame::{self, Frame, middle_of};
use super::kit::stretch::{Band, stretch};
use crate::piece::{Edge, Piece};
use crate::seam::Pattern;

const PIECE: Parameter = Parameter::usually(
    "piece",
    Kind::Piece,
    Usual::Nothing,
    "pieces that change; all where none is named",
)
.many();
const BY: Parameter = Parameter::needed(
    "by",
    Kind::Length(-80.0, 80.0),
    "how far down; negative: up",
);

pub(super) const WAIST: StepKind = StepKind {
    name: "shift-waist",
    group: Group::Correction,
    summary: "shifts the level of the waist",
    manual: include_str!("shift_level.rs"),
    parameters: &[PIECE, BY],
    amount: Some("by"),
    apply: shift_waist,
};

pub(super) const HIP: StepKind = StepKind {
    name: "shift-hip",
    group: Group::Correction,
    summary: "shifts the level of the hip",
    manual: include_str!("shift_level.rs"),
    parameters: &[PIECE, BY],
    amount: Some("by"),
    apply: shift_hip,
};

fn shift_waist(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let by = arguments.mm("by")?;
    let mut told = Vec::new();
    let mut bands = Vec::new();
    for index in pieces(pattern, arguments, &["waist", "side"])? {
        let piece = &pattern.pieces[index];
        let [high, low] = reach(piece, "waist");
        let below = low > Frame::of(piece).level(middle_of(piece));
        let band = if below {
            Band {
                from: lowest_of_bust(piece),
                to: high,
                by,
            }
        } else {
            Band {
                from: low,
                to: hip_level(piece).unwrap_or(low + 160.0),
                by: -by,
            }
        };
        let longer = (band.by > 0.0) == (by != 0.0);
        told.push(format!(
            "{} {}",
            piece.name,
            if longer { "longer" } else { "shorter" }
        ));
        bands.push((index, vec![band]));
    }
    let words = format!(
        "put the waist {:.0} mm {}: {}",
        by.abs(),
        way(by),
        told.join(", ")
    );
    stretched(pattern, arguments, &bands, words)
}

fn shift_hip(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let by = arguments.mm("by")?;
    let mut names = Vec::new();
    let mut bands = Vec::new();
    for index in pieces(pattern, arguments, &["waist", "side", "hem"])? {
        let piece = &pattern.pieces[index];
        let Some(hip) = hip_level(piece) else {
            continue;
        };
        let (from, to) = (reach(piece, "waist")[1], reach(piece, "hem")[0]);
        names.push(piece.name.clone());
        bands.push((
            index,
            vec![
                Band { from, to: hip, by },
                Band {
                    from: hip,
                    to,
                    by: -by,
                },
            ],
        ));
    }
    if bands.is_empty() {
        return Err(arguments.blame("piece", no_hip()));
    }
    let words = format!(
        "put the hip {:.0} mm {} in {}",
        by.abs(),
        way(by),
        names.join(" and ")
    );
    stretched(pattern, arguments, &bands, words)
}

fn stretched(
    pattern: &Pattern,
    arguments: &Arguments,
    bands: &[(usize, Vec<Band>)],
    words: String,
) -> Result<Done, Finding> {
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    for (index, bands) in bands {
        let piece = &mut changed.pieces[*index];
        stretch(piece, bands).ok_or_else(|| arguments.blame("by", no_room(piece)))?;
        let redrawn = piece.edges.iter().filter(|edge| edge.answers_to("side"));
        let runs = redrawn.flat_map(|edge| &edge.runs);
        lines.extend(runs.map(|run| TraceLine::new(&piece.name, Trace::Redrawn, run.clone())));
    }
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn pieces(pattern: &Pattern, arguments: &Arguments, with: &[&str]) -> Result<Vec<usize>, Finding> {
    frame::pieces(pattern, &arguments.names_of("piece"), with)
        .map_err(|finding| arguments.blame("piece", finding))
}

/// What lies between a level and an edge that must keep its shape, mm.
const CLEAR: f64 = 1.0;

/// The highest and the lowest level of an edge, mm below the origin, and a hair beyond.
fn reach(piece: &Piece, edge: &str) -> [f64; 2] {
    let frame = Frame::of(piece);
    let levels = |edge: &Edge| {
        let points = edge
            .runs
            .iter()
            .flat_map(|run| run.flattened(Tolerance::DRAWING));
        points.map(|point| frame.level(point)).collect::<Vec<_>>()
    };
    let all = piece.edges_of(edge).flat_map(levels);
    all.fold([f64::INFINITY, f64::NEG_INFINITY], |[high, low], level| {
        [high.min(level - CLEAR), low.max(level + CLEAR)]
    })
}

/// The lowest level of what belongs to the bust: its line, the armhole, the mouths of darts at the side.
fn lowest_of_bust(piece: &Piece) -> f64 {
    let frame = Frame::of(piece);
    let side: Vec<&str> = piece
        .edges_of("side")
        .map(|edge| edge.name.as_str())
        .collect();
    let mouths = piece
        .darts
        .iter()
        .filter(|dart| side.contains(&dart.edge.as_str()))
        .flat_map(|dart| [piece.legs(dart).before, piece.legs(dart).after]);
    let line = piece.line("bust").into_iter().flat_map(|line| &line.runs);
    let points = mouths.chain(line.flat_map(|run| [run.start(), run.end()]));
    let levels = points.map(|point| frame.level(point));
    levels.fold(reach(piece, "armhole")[1], f64::max)
}

/// The lowest level of the hip line.
fn hip_level(piece: &Piece) -> Option<f64> {
    let frame = Frame::of(piece);
    let runs = piece.line("hip")?.runs.iter();
    let levels = runs
        .flat_map(|run| [run.start(), run.end()])
        .map(|point| frame.level(point));
    levels.reduce(f64::max)
}

fn way(by: f64) -> &'static str {
    if by < 0.0 { "higher" } else { "lower" }
}

fn no_hip() -> Finding {
    Finding::error("hip-line-not-there", "no piece has a hip line").cure("name a fitted skirt")
}

fn no_room(piece: &Piece) -> Finding {
    Finding::error(
        "level-without-room",
        format!("the {} has no room to give so much", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less")
}
