//! Gives a piece its grain: by an edge, by an angle, or as in the piece to which it is sewn.
//!
//! **What it does.** Turns the grain line parallel to an edge, or by an angle from where it is, or so that the grain makes
//! the same angle with a seam as in the joining piece: parts of one piece then share its grain, and two halves that are drawn
//! alike, as front and back of a skirt, hang alike on both sides of their seam.
//! **When it is used.** For bias cuts (45° from an edge); for yokes and gores; on flared skirts, whose sides hang alike only
//! where the grain runs alike on both sides of the seam.
//! **Example.** `grain piece="skirt-back" seam="skirt-side"`: as in the front.
//! **What can go wrong.** The seam does not join the piece, or joins it only to itself.
//!
//! Invariant: nothing but the grain line changes.

use document::{Finding, Place as Where};
use geometry::{Angle, Vec2, curve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Usual};
use super::kit::across;
use super::kit::find;
use crate::piece::Piece;
use crate::seam::{Pattern, Stretch};

pub(super) const STEP: StepKind = StepKind {
    name: "grain",
    group: Group::Marks,
    summary: "turns the grain of a piece: by an edge, an angle, or as across a seam",
    manual: include_str!("grain.rs"),
    parameters: &[
        Parameter::needed("piece", Kind::Piece, "piece whose grain is set"),
        Parameter::usually(
            "edge",
            Kind::Edge,
            Usual::Nothing,
            "edge to which it is parallel",
        ),
        Parameter::usually(
            "seam",
            Kind::Seam,
            Usual::Nothing,
            "seam across which it is copied",
        ),
        Parameter::usually(
            "share",
            Kind::Number(0.0, 1.0),
            Usual::Number(0.5),
            "where along the seam both are compared",
        ),
        Parameter::usually(
            "angle",
            Kind::Angle(-180.0, 180.0),
            Usual::Angle(0.0),
            "by how much more it is turned",
        ),
    ],
    amount: None,
    apply: grain,
};

fn grain(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let index = arguments.piece(pattern, "piece")?;
    let piece = &pattern.pieces[index];
    let (base, by) = base(pattern, arguments, index)?;
    let turned = Angle::from_radians(base.radians() + arguments.angle("angle")?.radians());
    let mut changed = pattern.clone();
    changed.pieces[index].grain = within_a_turn(turned);
    let by = if by.is_empty() {
        String::new()
    } else {
        format!(" {by}")
    };
    let words = format!(
        "turned the grain of the {}{by}: it runs at {:.1}° now, at {:.1}° before",
        piece.name,
        changed.pieces[index].grain.degrees(),
        piece.grain.degrees()
    );
    Ok(Done {
        pattern: changed,
        lines: Vec::new(),
        words,
    })
}

/// The grain before any further turn, and from what it was taken.
fn base(
    pattern: &Pattern,
    arguments: &Arguments,
    index: usize,
) -> Result<(Angle, String), Finding> {
    let piece = &pattern.pieces[index];
    if arguments.has("seam") {
        let seam = find::seam(pattern, seam_name(arguments)?)
            .map_err(|finding| arguments.blame("seam", finding))?;
        let share = arguments.plain("share")?;
        let sides = [(&seam.held, &seam.worked), (&seam.worked, &seam.held)];
        let copied = sides
            .iter()
            .find_map(|(from, to)| copied(pattern, from, to, (index, share)));
        let found = copied.ok_or_else(|| arguments.blame("seam", not_joined(piece, &seam.name)))?;
        return Ok((found, format!("as across the {} seam", seam.name)));
    }
    if !arguments.has("edge") {
        return Ok((piece.grain, String::new()));
    }
    let (owner, edge) = arguments.edge(pattern, "edge")?;
    if owner != index {
        return Err(arguments.blame("edge", other_piece(piece)));
    }
    let edge = &piece.edges[edge];
    Ok((
        along(edge.end() - edge.start(), piece.grain),
        format!("along its {}", edge.name),
    ))
}

fn seam_name(arguments: &Arguments) -> Result<&str, Finding> {
    let named = arguments.name_of("seam")?;
    Ok(&named.name)
}

/// The grain that a piece on one side of a seam takes over from the other side; `None` where it is not on that side.
fn copied(
    pattern: &Pattern,
    from: &[Stretch],
    to: &[Stretch],
    (index, share): (usize, f64),
) -> Option<Angle> {
    let lengths = [from, to].map(|side| pattern.side_length(side));
    let own = pattern.pieces.get(index)?;
    let there = across::at(pattern, to, share * lengths[1])?;
    let here = across::at(pattern, from, share * lengths[0])?;
    if there.piece != own.name || here.piece == own.name {
        return None;
    }
    let source = pattern.piece(&here.piece)?;
    let way = across::direction(pattern, from, share * lengths[0])?;
    let own_way = across::direction(pattern, to, share * lengths[1])?;
    let off = curve::angle_between(way, curve::unit(source.grain)).radians();
    Some(Angle::from_radians(math_angle(own_way) + off))
}

fn math_angle(way: Vec2) -> f64 {
    geometry::math::atan2(way.y, way.x)
}

/// The angle of a direction or its opposite, whichever is nearer to an angle.
fn along(way: Vec2, near: Angle) -> Angle {
    let way = if way.dot(curve::unit(near)) < 0.0 {
        -way
    } else {
        way
    };
    Angle::from_radians(math_angle(way))
}

/// The same angle in (−180°, 180°].
fn within_a_turn(angle: Angle) -> Angle {
    let degrees = angle.degrees();
    if degrees > -180.0 && degrees <= 180.0 {
        return angle;
    }
    Angle::from_degrees(degrees - 360.0 * ((degrees - 180.0) / 360.0).ceil())
}

fn not_joined(piece: &Piece, seam: &str) -> Finding {
    Finding::error(
        "seam-joins-other-pieces",
        format!(
            "the {seam} seam does not join the {} to another piece there",
            piece.name
        ),
    )
    .at(Where::Seam(seam.into()))
    .at(Where::Piece(piece.name.clone()))
    .cure("name a seam between this piece and the one whose grain it takes over")
}

fn other_piece(piece: &Piece) -> Finding {
    Finding::error(
        "edge-on-other-piece",
        format!("the edge must be one of the {}", piece.name),
    )
    .at(Where::Piece(piece.name.clone()))
    .cure(format!("choose an edge of the {}", piece.name))
}
