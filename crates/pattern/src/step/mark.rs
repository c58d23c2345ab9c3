//! Marks a point inside a piece: where a pocket, a button or a drill hole goes.
//!
//! **What it does.** Puts a named point at a known place, moved along and across the grain, or on the way from one place to
//! another.
//! **When it is used.** For pockets, buttons, the end of a dart that is stitched short of its point; and to give a style line
//! a point to run through.
//! **Example.** `mark name="pocket" at="front.bust-point" along="-60 mm" across="20 mm"`.
//! **What can go wrong.** The point would lie outside the piece, or its name is taken.
//!
//! Invariant: no line moves; the point moves with the cloth in every later step.

use document::{Finding, Place as Where};
use geometry::{Point, curve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::place::{SAME_POINT, find};
use crate::piece::{Mark, Piece};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "mark",
    group: Group::Marks,
    summary: "marks a point inside a piece",
    manual: include_str!("mark.rs"),
    parameters: &[
        Parameter::needed("name", Kind::Text, "name of the point"),
        Parameter::needed("at", Kind::Place, "place from which it is measured"),
        Parameter::usually(
            "toward",
            Kind::Place,
            Usual::Nothing,
            "place towards which it lies",
        ),
        Parameter::usually(
            "share",
            Kind::Number(0.0, 1.0),
            Usual::Number(0.5),
            "share of the way to that place",
        ),
        Parameter::usually(
            "along",
            Kind::Length(-2000.0, 2000.0),
            Usual::Length(0.0),
            "how far down the grain",
        ),
        Parameter::usually(
            "across",
            Kind::Length(-2000.0, 2000.0),
            Usual::Length(0.0),
            "how far across the grain, away from the centre line",
        ),
    ],
    amount: None,
    apply: mark,
};

fn mark(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let from =
        find(pattern, arguments.spot("at")?).map_err(|finding| arguments.blame("at", finding))?;
    let piece = &pattern.pieces[from.piece];
    let base = match arguments.spot("toward") {
        Ok(place) => {
            let to = find(pattern, place).map_err(|finding| arguments.blame("toward", finding))?;
            if to.piece != from.piece {
                return Err(arguments.blame("toward", other_piece(piece)));
            }
            from.at.lerp(to.at, arguments.plain("share")?)
        }
        Err(_) => from.at,
    };
    let down = curve::unit(piece.grain);
    // On the table, away from the centre line is a quarter turn from down the grain against x towards y.
    let out = geometry::Vec2::new(down.y, -down.x);
    let at = base + down * arguments.mm("along")? + out * arguments.mm("across")?;
    let name = arguments.word("name")?;
    free(piece, name).map_err(|finding| arguments.blame("name", finding))?;
    inside(piece, at).map_err(|finding| arguments.blame("at", finding))?;
    let mut changed = pattern.clone();
    changed.pieces[from.piece].marks.push(Mark::Point {
        name: name.into(),
        at,
    });
    Ok(Done {
        pattern: changed,
        lines: way(piece, from.at, at),
        words: format!(
            "marked the {name} of the {} at x {:.0}, y {:.0} mm",
            piece.name, at.x, at.y
        ),
    })
}

fn way(piece: &Piece, from: Point, to: Point) -> Vec<TraceLine> {
    if (to - from).hypot() < SAME_POINT {
        return Vec::new();
    }
    let line = geometry::Curve::line(from, to);
    vec![TraceLine::new(&piece.name, Trace::Redrawn, line)]
}

/// A later step that names a point must find one place.
fn free(piece: &Piece, name: &str) -> Result<(), Finding> {
    if piece.point(name).is_none() && piece.dart(name).is_none() {
        return Ok(());
    }
    Err(Finding::error(
        "point-name-taken",
        format!(
            "the {} has a point or a dart called {name} already",
            piece.name
        ),
    )
    .at(Where::Piece(piece.name.clone()))
    .cure("give another name"))
}

fn inside(piece: &Piece, at: Point) -> Result<(), Finding> {
    let outline = piece.seam_outline();
    let on_line = outline
        .iter()
        .any(|side| side.nearest(at).distance < SAME_POINT);
    if on_line || geometry::outline::contains(&outline, at) {
        return Ok(());
    }
    Err(Finding::error(
        "point-outside",
        format!(
            "the point would lie outside the {}, at x {:.0}, y {:.0} mm",
            piece.name, at.x, at.y
        ),
    )
    .at(Where::Piece(piece.name.clone()))
    .allowed("a place inside the seam line")
    .cure("choose smaller distances along and across"))
}

fn other_piece(piece: &Piece) -> Finding {
    Finding::error(
        "place-on-other-piece",
        format!("both places must lie on the {}", piece.name),
    )
    .at(Where::Piece(piece.name.clone()))
    .cure(format!("choose a place on the {}", piece.name))
}
