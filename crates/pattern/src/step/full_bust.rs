//! Gives the front more or less room for the bust, by an amount per half.
//!
//! **What it does.** Moves the part below the bust dart out by the amount and turns the part above it, so that the darts grow
//! by the angle that such a bust takes; says the angles before and after. The width goes into the waist dart, so that the
//! waist stays (`both`), into the side dart as well (`side`), or all into the waist dart (`waist`). In a front that is cut
//! through the bust (`seam`), the seam bows out on the side part, and the centre part is let in at the bust line until both
//! walk.
//! **When it is used.** The block was drafted for another bust, or the mock-up pulls over the bust while neck, shoulders and
//! back fit. The amount is half of what the bust lacks all round.
//! **Example.** `full-bust by="25 mm" into="both"`: 50 mm more round the bust, the side dart 4.1° wider.
//! **What can go wrong.** A small bust takes more than a dart has; the front is cut or mirrored already.
//!
//! Invariants: armhole, side and waist keep their lengths as sewn; neckline, shoulder and centre line stay bit for bit;
//! the same amount less gives the start back.

use document::{Finding, Place as Spot};
use geometry::Curve;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bust::{self, Into, Volume};
use super::kit::fullness::ask_ease;
use super::kit::{Gap, bust_seam, frame};
use super::transfer::{Target, swing};
use crate::piece::Piece;
use crate::seam::Pattern;

/// What the bust dart gains, degrees per mm of half width: what the block gives a larger bust, its two witnesses joined. Over
/// 2,000 drawn bodies that is 0.165 for 50 mm more all round (nine in ten: 0.15 to 0.18) and 0.158 for 100 mm.
const TURN: f64 = 0.163;

const PARAMETERS: &[Parameter] = &[
    Parameter::usually(
        "piece",
        Kind::Piece,
        Usual::Nothing,
        "front that is changed",
    ),
    Parameter::needed(
        "by",
        Kind::Length(0.0, 80.0),
        "how much, in each half at the bust line",
    ),
    Parameter::usually(
        "into",
        Kind::Choice(&["both", "side", "waist", "seam"]),
        Usual::Word("both"),
        "where the volume goes",
    ),
    Parameter::usually(
        "dart",
        Kind::Dart,
        Usual::Nothing,
        "bust dart, where there are several",
    ),
    Parameter::usually(
        "seam",
        Kind::Seam,
        Usual::Nothing,
        "seam over the bust that takes the volume",
    ),
    Parameter::usually(
        "angle",
        Kind::Angle(0.0, 40.0),
        Usual::Nothing,
        "what the darts gain; by the block's rule where it is not given",
    ),
];

pub(super) const FULL: StepKind = StepKind {
    name: "full-bust",
    group: Group::Correction,
    summary: "gives the front more room for the bust",
    manual: include_str!("full_bust.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, 1.0),
};

pub(super) const SMALL: StepKind = StepKind {
    name: "small-bust",
    group: Group::Correction,
    summary: "takes room for the bust from the front",
    manual: include_str!("full_bust.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, -1.0),
};

fn apply(pattern: &Pattern, arguments: &Arguments, sign: f64) -> Result<Done, Finding> {
    let by = arguments.mm("by")? * sign;
    if arguments.word("into")? == "seam" {
        let seam = arguments.name_of("seam")?;
        let let_in = bust_seam::give(pattern, &seam.name, by)
            .map_err(|finding| arguments.blame("seam", finding))?;
        return Ok(seam_done(pattern, let_in, by));
    }
    let index = front(pattern, arguments)?;
    let piece = &pattern.pieces[index];
    let turn = match arguments.angle("angle") {
        Ok(angle) => angle.radians() * sign,
        Err(_) => (TURN * by).to_radians(),
    };
    let into = match arguments.word("into")? {
        "side" => Into::Side,
        "waist" => Into::Waist,
        _ => Into::Both,
    };
    let dart = bust_dart(pattern, arguments, index)?;
    let volume = Volume { by, turn, into };
    let changed =
        given(piece, dart.as_deref(), volume).map_err(|finding| arguments.blame("by", finding))?;
    let (lines, words) = (lines(piece, &changed), words(piece, &changed, by));
    let mut done = pattern.clone();
    done.pieces[index] = changed;
    ask_ease(&mut done, pattern);
    Ok(Done {
        pattern: done,
        lines,
        words,
    })
}

/// The front that is named, or the only one with a bust point.
fn front(pattern: &Pattern, arguments: &Arguments) -> Result<usize, Finding> {
    if arguments.has("piece") {
        return arguments.piece(pattern, "piece");
    }
    if arguments.has("dart") {
        return Ok(arguments.dart(pattern, "dart")?.0);
    }
    let mut fronts =
        (0..pattern.pieces.len()).filter(|&at| pattern.pieces[at].point("bust-point").is_some());
    match (fronts.next(), fronts.next()) {
        (Some(front), None) => Ok(front),
        (Some(_), Some(_)) => Err(arguments.blame("piece", several())),
        _ => frame::pieces(pattern, &[], &["bust-point"])
            .map(|found| found[0])
            .map_err(|finding| arguments.blame("piece", finding)),
    }
}

fn bust_dart(
    pattern: &Pattern,
    arguments: &Arguments,
    front: usize,
) -> Result<Option<String>, Finding> {
    let piece = &pattern.pieces[front];
    if arguments.has("dart") {
        let (_, dart) = arguments.dart(pattern, "dart")?;
        return Ok(Some(dart.name.clone()).filter(|_| bust::is_bust_dart(piece, dart)));
    }
    let found = piece
        .darts
        .iter()
        .find(|dart| bust::is_bust_dart(piece, dart));
    Ok(found.map(|dart| dart.name.clone()))
}

/// The front with its volume; a bust dart that opens elsewhere is turned to the side for it, and back.
fn given(piece: &Piece, dart: Option<&str>, volume: Volume) -> Result<Piece, Finding> {
    let elsewhere = dart
        .and_then(|dart| piece.dart(dart))
        .filter(|dart| !crate::name::answers_to(&dart.edge, "side"));
    let mut changed = piece.clone();
    let Some(dart) = elsewhere else {
        bust::give(&mut changed, dart, volume)?;
        return Ok(changed);
    };
    let home = Target::Edge {
        edge: dart.edge.clone(),
        along: Gap::of_dart(piece, &dart.name).map_or(0.0, |gap| gap.along(piece)),
    };
    if let Some((edge, along)) = bust::side_place(piece) {
        changed = swing(
            &changed,
            &dart.name,
            &Target::Edge { edge, along },
            1.0,
            None,
        )?;
    }
    bust::give(&mut changed, Some(&dart.name), volume)?;
    swing(&changed, &dart.name, &home, 1.0, None)
}

fn lines(before: &Piece, after: &Piece) -> Vec<TraceLine> {
    let Some(point) = before.point("bust-point") else {
        return Vec::new();
    };
    let slash = |dart: &crate::Dart| {
        let legs = after.legs(dart);
        let to = legs.before.midpoint(legs.after);
        TraceLine::new(&after.name, Trace::Slash, Curve::line(point, to))
    };
    let redrawn = after.edges.iter().filter(|edge| {
        before
            .edge(&edge.name)
            .is_none_or(|old| old.runs != edge.runs)
    });
    let redrawn = redrawn.flat_map(|edge| &edge.runs);
    let mut lines: Vec<TraceLine> = after
        .darts
        .iter()
        .filter(|dart| changed_angle(before, after, dart).is_some())
        .map(slash)
        .collect();
    lines.extend(redrawn.map(|run| TraceLine::new(&after.name, Trace::Redrawn, run.clone())));
    lines
}

/// The angles of a dart before and after, degrees, where they differ.
fn changed_angle(before: &Piece, after: &Piece, dart: &crate::Dart) -> Option<[f64; 2]> {
    let old = before
        .dart(&dart.name)
        .map_or(0.0, |dart| before.legs(dart).angle().degrees());
    let new = after.legs(dart).angle().degrees();
    ((old - new).abs() > 1e-3).then_some([old, new])
}

fn words(before: &Piece, after: &Piece, by: f64) -> String {
    let darts = after.darts.iter().filter_map(|dart| {
        let [old, new] = changed_angle(before, after, dart)?;
        Some(format!("{} {old:.1}° → {new:.1}°", dart.name))
    });
    let darts: Vec<String> = darts.collect();
    format!(
        "gave the {} {:.0} mm {} in each half for the bust: {}",
        after.name,
        by.abs(),
        more(by),
        darts.join(", ")
    )
}

fn more(by: f64) -> &'static str {
    if by < 0.0 { "less" } else { "more" }
}

fn seam_done(before: &Pattern, given: bust_seam::Given, by: f64) -> Done {
    let mut pattern = given.pattern;
    ask_ease(&mut pattern, before);
    let lines = given
        .runs
        .into_iter()
        .map(|(piece, run)| TraceLine::new(piece, Trace::Redrawn, run));
    Done {
        words: format!(
            "gave the {} seam {:.0} mm {} in each half for the bust; the part beside it is {:.1} mm {} at the bust line; no dart changed",
            given.seam,
            by.abs(),
            more(by),
            given.longer.abs(),
            if given.longer < 0.0 {
                "shorter"
            } else {
                "longer"
            }
        ),
        lines: lines.collect(),
        pattern,
    }
}

fn several() -> Finding {
    Finding::error("piece-not-said", "more than one piece has a bust point")
        .at(Spot::Piece("front".into()))
        .cure("name the piece")
}
