//! Transfers a dart, or a share of it, to another place on the outline.
//!
//! **What it does.** Cuts from the new place to the dart's point, closes the old dart and lets the cut open, by turning the
//! part of the piece that lies between the two about that point.
//! **When it is used.** To put the fullness of the bust where the style wants it: shoulder, armhole, neck, waist.
//! **Example.** `transfer dart="front.bust-dart" to="front.shoulder halfway"`: a side dart of 20° becomes a shoulder dart of
//! 20°; the closed piece is the same.
//! **What can go wrong.** The dart or edge is not there; the new place lies at a corner or in another dart; the cut would go
//! through another dart. The pattern is then left as it was.
//!
//! Invariants: the angle at the point, the lengths of all edges as sewn and the closed outline stay as they were; the
//! centre line does not move.

use document::{Finding, Place as Spot};
use geometry::curve::turn_about;
use geometry::{Angle, Curve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::inner::Torn;
use super::kit::place::SAME_POINT;
use super::kit::{Gap, Part, fill, find, gap};
use crate::name::free_name;
use crate::piece::{Dart, Piece};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "transfer",
    group: Group::Darts,
    summary: "moves a dart, or a share of it, to another place on the outline",
    manual: include_str!("transfer.rs"),
    parameters: &[
        Parameter::needed("dart", Kind::Dart, "dart that is transferred"),
        Parameter::usually(
            "to",
            Kind::Place,
            Usual::Nothing,
            "place where it opens anew",
        ),
        Parameter::usually(
            "into",
            Kind::Dart,
            Usual::Nothing,
            "dart with the same point that takes it",
        ),
        Parameter::usually(
            "share",
            Kind::Number(0.0, 1.0),
            Usual::Number(1.0),
            "how much of its angle",
        ),
        Parameter::usually(
            "name",
            Kind::Text,
            Usual::Nothing,
            "name of the new dart where a share is moved",
        ),
    ],
    amount: Some("share"),
    apply: transfer,
};

/// Where a dart goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// To a place on an edge, at a length as sewn from its first corner, mm.
    Edge {
        /// Name of the edge.
        edge: String,
        /// Length from its first corner, mm.
        along: f64,
    },
    /// Into another dart with the same point, which grows by its angle.
    Dart(String),
}

/// Transfers the whole dart of this name; see the module.
pub fn transfer_dart(piece: &Piece, dart: &str, target: &Target) -> Result<Piece, Finding> {
    swing(piece, dart, target, 1.0, None)
}

fn transfer(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, dart) = arguments.dart(pattern, "dart")?;
    let (name, target) = target(pattern, arguments, index)?;
    let share = arguments.plain("share")?;
    let piece = &pattern.pieces[index];
    let wanted = arguments.word("name").ok();
    let moved = swing(piece, &dart.name, &target, share, wanted)
        .map_err(|finding| arguments.blame(name, finding))?;
    let lines = lines(piece, &moved, dart);
    let words = words(piece, &moved, dart, &target, share);
    let mut pattern = pattern.clone();
    pattern.pieces[index] = moved;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}

/// The target and the name of the parameter that gives it.
fn target<'a>(
    pattern: &Pattern,
    arguments: &Arguments,
    piece: usize,
) -> Result<(&'a str, Target), Finding> {
    let owner = &pattern.pieces[piece];
    if arguments.has("into") {
        let (other, dart) = arguments.dart(pattern, "into")?;
        if other != piece {
            let other = &pattern.pieces[other].name;
            return Err(arguments.blame("into", other_piece(owner, other)));
        }
        return Ok(("into", Target::Dart(dart.name.clone())));
    }
    let seat = arguments.seat(pattern, "to")?;
    if seat.piece != piece {
        let other = &pattern.pieces[seat.piece].name;
        return Err(arguments.blame("to", other_piece(owner, other)));
    }
    let edge = owner.edges[seat.edge].name.clone();
    let along = seat.along;
    Ok(("to", Target::Edge { edge, along }))
}

/// Turns a share of a dart's angle about its point to a target.
pub(super) fn swing(
    piece: &Piece,
    dart: &str,
    target: &Target,
    share: f64,
    name: Option<&str>,
) -> Result<Piece, Finding> {
    let mut changed = piece.clone();
    let Some((source, from)) = piece.dart(dart).zip(Gap::of_dart(piece, dart)) else {
        return Err(no_such_dart(piece, dart));
    };
    let turn = Angle::from_radians(piece.legs(source).turn().radians() * share);
    let mut held = [from];
    let to = open_target(&mut changed, source, target, &mut held)?;
    let [from] = held;
    turn_between(&mut changed, source, (from, to), turn);
    if let Target::Edge { .. } = target {
        let taken = piece.darts.iter().map(|dart| dart.name.as_str());
        // The old name is free once the whole dart is closed.
        let name = match name {
            Some(name) => name.into(),
            None if share >= 1.0 => source.name.clone(),
            None => free_name(&source.name, taken),
        };
        let dart = Dart {
            name,
            ..source.clone()
        };
        if share >= 1.0 {
            changed.darts.retain(|other| other.name != source.name);
        }
        fill::dart(&mut changed, to, dart);
    } else if share >= 1.0 {
        changed.darts.retain(|other| other.name != source.name);
    }
    if share >= 1.0 {
        fill::join(&mut changed, from);
    }
    Ok(changed)
}

fn open_target(
    piece: &mut Piece,
    source: &Dart,
    target: &Target,
    held: &mut [Gap],
) -> Result<Gap, Finding> {
    match target {
        Target::Edge { edge, along } => {
            let index = piece
                .edge_index(edge)
                .ok_or_else(|| no_such_edge(piece, edge))?;
            gap::open_inside(piece, index, *along, held)
        }
        Target::Dart(name) => {
            let other = piece.dart(name).ok_or_else(|| no_such_dart(piece, name))?;
            if other.name == source.name || (other.point - source.point).hypot() > SAME_POINT {
                return Err(ends_apart(piece, &source.name, name));
            }
            Gap::of_dart(piece, name).ok_or_else(|| no_such_dart(piece, name))
        }
    }
}

/// Closes the first gap by an angle about a dart's point and opens the second by as much; the centre line stays.
fn turn_between(piece: &mut Piece, source: &Dart, (from, to): (Gap, Gap), turn: Angle) {
    let after = Part::about(piece, from, to, source.point);
    let before = Part::about(piece, to, from, source.point);
    let (part, by) = if after.holds_centre(piece) {
        (before, turn)
    } else {
        (after, Angle::from_radians(-turn.radians()))
    };
    part.carry(piece, turn_about(source.point, by), Torn::Left);
}

fn lines(before: &Piece, after: &Piece, dart: &Dart) -> Vec<TraceLine> {
    let new = after.darts.iter().find(|new| {
        before.dart(&new.name).is_none_or(|old| {
            after.legs(new).intake() > before.legs(old).intake() + SAME_POINT
                || old.edge != new.edge
        })
    });
    let slash = new.map(|new| {
        let legs = after.legs(new);
        Curve::line(new.point, legs.before.midpoint(legs.after))
    });
    let old = before.legs(dart);
    let closed = Curve::line(dart.point, old.before.midpoint(old.after));
    let line = |kind, curve| TraceLine::new(&after.name, kind, curve);
    let mut lines = vec![line(Trace::Pivot, closed)];
    lines.extend(slash.map(|curve| line(Trace::Slash, curve)));
    lines
}

fn words(before: &Piece, after: &Piece, dart: &Dart, target: &Target, share: f64) -> String {
    let legs = before.legs(dart);
    let degrees = legs.angle().degrees() * share;
    let what = if share >= 1.0 {
        "the"
    } else {
        "a share of the"
    };
    let whereto = match target {
        Target::Edge { edge, along } => format!("to the {edge}, {along:.0} mm along it"),
        Target::Dart(name) => format!("into the {name}"),
    };
    let grown = match target {
        Target::Dart(name) => after.dart(name),
        Target::Edge { edge, .. } => after.darts_on(edge).find(|new| {
            (new.point - dart.point).hypot() < SAME_POINT
                && (new.edge != dart.edge || new.gap != dart.gap)
        }),
    };
    let wide = grown.map_or(String::new(), |dart| {
        format!("; it is {:.0} mm wide there", after.legs(dart).intake())
    });
    format!(
        "transferred {what} {} of the {} ({degrees:.1}°) from the {} {whereto}{wide}",
        dart.name, before.name, dart.edge
    )
}

fn no_such_dart(piece: &Piece, dart: &str) -> Finding {
    let names: Vec<&str> = piece.darts.iter().map(|dart| dart.name.as_str()).collect();
    let message = format!("the {} has no dart called {dart}", piece.name);
    find::not_there("dart-not-there", message, dart, &names).at(Spot::Piece(piece.name.clone()))
}

fn no_such_edge(piece: &Piece, edge: &str) -> Finding {
    let names: Vec<&str> = piece.edges.iter().map(|edge| edge.name.as_str()).collect();
    let message = format!("the {} has no edge called {edge}", piece.name);
    find::not_there("edge-not-there", message, edge, &names).at(Spot::Piece(piece.name.clone()))
}

fn other_piece(piece: &Piece, other: &str) -> Finding {
    Finding::error(
        "place-on-other-piece",
        format!(
            "the dart is on the {} and cannot go to the {other}",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure(format!("choose a place on the {}", piece.name))
}

fn ends_apart(piece: &Piece, one: &str, other: &str) -> Finding {
    Finding::error(
        "darts-end-apart",
        format!(
            "the darts {one} and {other} of the {} do not end at the same point",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("let both end at the same point first, or transfer to a place on an edge")
}

/// The middle line of a dart, from its point to the middle of its mouth; a hair long where the dart has no length.
pub(super) fn dart_line(piece: &Piece, dart: &Dart) -> Curve {
    let legs = piece.legs(dart);
    Curve::line(dart.point, legs.before.midpoint(legs.after))
}
