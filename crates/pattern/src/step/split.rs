//! Splits a dart in two that share its angle.
//!
//! **What it does.** Gives a share of the dart's angle to a second dart from the same point, at a second place.
//! **When it is used.** Where one dart would be too wide to lie flat: two narrow ones shape more softly.
//! **Example.** `split dart="front.bust-dart" at="front.waist halfway"`: 20° become 10° at the side and 10° at the waist.
//! **What can go wrong.** The second place lies at a corner, in another dart, or beyond one.
//!
//! Invariants: the two angles add up to the old one; the closed outline stays.

use document::{Finding, Place as Spot};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::gap::Gap;
use super::transfer::{Target, dart_line, swing};
use crate::piece::{Dart, Piece};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "split",
    group: Group::Darts,
    summary: "shares a dart's angle between two darts",
    manual: include_str!("split.rs"),
    parameters: &[
        Parameter::needed("dart", Kind::Dart, "dart that is split"),
        Parameter::usually(
            "at",
            Kind::Place,
            Usual::Nothing,
            "place of the second dart",
        ),
        Parameter::usually(
            "apart",
            Kind::Length(5.0, 300.0),
            Usual::Length(30.0),
            "distance of the second dart on the same edge, where no place is given",
        ),
        Parameter::usually(
            "share",
            Kind::Number(0.01, 0.99),
            Usual::Number(0.5),
            "share of the second dart",
        ),
        Parameter::usually(
            "name",
            Kind::Text,
            Usual::Nothing,
            "name of the second dart",
        ),
    ],
    amount: None,
    apply: split,
};

fn split(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, dart) = arguments.dart(pattern, "dart")?;
    let piece = &pattern.pieces[index];
    let target = target(pattern, arguments, (index, dart))?;
    let share = arguments.plain("share")?;
    let changed = swing(
        piece,
        &dart.name,
        &target,
        share,
        arguments.word("name").ok(),
    )
    .map_err(|finding| arguments.blame("at", finding))?;
    let degrees = piece.legs(dart).angle().degrees();
    let words = format!(
        "split the {} of the {}: {:.1}° stay, {:.1}° go to a second dart",
        dart.name,
        piece.name,
        degrees * (1.0 - share),
        degrees * share
    );
    let new = changed
        .darts
        .iter()
        .filter(|new| piece.dart(&new.name).is_none());
    let lines = new
        .map(|new| TraceLine::new(&piece.name, Trace::Slash, dart_line(&changed, new)))
        .collect();
    let mut pattern = pattern.clone();
    pattern.pieces[index] = changed;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}

fn target(
    pattern: &Pattern,
    arguments: &Arguments,
    (index, dart): (usize, &Dart),
) -> Result<Target, Finding> {
    let piece = &pattern.pieces[index];
    if !arguments.has("at") {
        return Ok(beside(piece, dart, arguments.mm("apart")?));
    }
    let seat = arguments.seat(pattern, "at")?;
    if seat.piece != index {
        let finding = Finding::error(
            "place-on-other-piece",
            format!("the second dart must lie on the {} as well", piece.name),
        );
        let cure = format!("choose a place on the {}", piece.name);
        return Err(arguments.blame("at", finding.at(Spot::Piece(piece.name.clone())).cure(cure)));
    }
    Ok(Target::Edge {
        edge: piece.edges[seat.edge].name.clone(),
        along: seat.along,
    })
}

/// On the side of the dart where its edge is longer.
fn beside(piece: &Piece, dart: &Dart, apart: f64) -> Target {
    let gap = Gap::of_dart(piece, &dart.name);
    let mouth = gap.map_or(0.0, |gap| gap.along(piece));
    let length = piece.edge(&dart.edge).map_or(0.0, crate::Edge::length);
    let along = if length - mouth > mouth {
        mouth + apart
    } else {
        mouth - apart
    };
    Target::Edge {
        edge: dart.edge.clone(),
        along,
    }
}
