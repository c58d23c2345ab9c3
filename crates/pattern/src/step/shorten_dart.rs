//! Lets a dart end elsewhere: short of the point at which it aims, by its length, or at a named point.
//!
//! **What it does.** Draws both legs to the new end. The mouth keeps its width; the legs get one length and the edge is trued
//! with the dart closed.
//! **When it is used.** A bust dart that was moved at the bust point is ended 20 to 50 mm before it, so that it does not
//! stand off in a peak.
//! **Example.** `shorten-dart dart="front.bust-dart" before="30 mm"`.
//! **What can go wrong.** The dart would have no length left, or end outside the piece.
//!
//! Invariant: the edge at which it opens keeps its length as sewn.

use document::{Finding, Place as Spot};
use geometry::{Curve, Point};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::{dart_end, place};
use crate::piece::{Dart, Piece};
use crate::seam::Pattern;

/// No dart can be sewn shorter than this, mm; common practice, no source.
const LEAST_LENGTH: f64 = 15.0;

pub(super) const STEP: StepKind = StepKind {
    name: "shorten-dart",
    group: Group::Darts,
    summary: "lets a dart end elsewhere",
    manual: include_str!("shorten_dart.rs"),
    parameters: &[
        Parameter::needed("dart", Kind::Dart, "dart that is drawn anew"),
        Parameter::usually(
            "before",
            Kind::Length(-300.0, 300.0),
            Usual::Nothing,
            "how far it ends before the point at which it aims",
        ),
        Parameter::usually(
            "length",
            Kind::Length(LEAST_LENGTH, 800.0),
            Usual::Nothing,
            "how long it is",
        ),
        Parameter::usually("to", Kind::Place, Usual::Nothing, "point at which it ends"),
    ],
    amount: None,
    apply: shorten,
};

fn shorten(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, dart) = arguments.dart(pattern, "dart")?;
    let (piece, name) = (&pattern.pieces[index], dart.name.clone());
    let end = end(pattern, arguments, piece, dart)?;
    let mut changed = piece.clone();
    dart_end::draw_to(&mut changed, &name, end);
    let legs = changed.dart(&name).map(|dart| changed.legs(dart));
    let [length, degrees] =
        legs.map_or([0.0; 2], |legs| [legs.lengths()[0], legs.angle().degrees()]);
    if length < LEAST_LENGTH {
        return Err(too_short(piece, &name, length));
    }
    let words = format!(
        "drew the {name} of the {} to another end: {length:.0} mm long, {degrees:.1}°",
        piece.name
    );
    let moved = Curve::line(dart.point, end);
    let lines = if (end - dart.point).hypot() > 1e-6 {
        vec![TraceLine::new(&piece.name, Trace::Moved, moved)]
    } else {
        Vec::new()
    };
    let mut pattern = pattern.clone();
    pattern.pieces[index] = changed;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}

fn end(
    pattern: &Pattern,
    arguments: &Arguments,
    piece: &Piece,
    dart: &Dart,
) -> Result<Point, Finding> {
    let legs = piece.legs(dart);
    let middle = legs.before.midpoint(legs.after);
    if arguments.has("to") {
        let found = place::find(pattern, arguments.spot("to")?);
        return Ok(found.map_err(|finding| arguments.blame("to", finding))?.at);
    }
    if arguments.has("length") {
        let leg = arguments.mm("length")?;
        let half = legs.intake() / 2.0;
        let depth = (leg * leg - half * half).max(0.0).sqrt();
        return Ok(middle + place::axis(&legs) * depth);
    }
    let before = arguments.mm("before")?;
    let way = dart.aim - middle;
    let far = way.hypot();
    if far < 1e-6 {
        return Err(too_short(piece, &dart.name, 0.0));
    }
    Ok(middle + way * ((far - before) / far))
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
    .cure("let it end nearer to the point at which it aims")
}
