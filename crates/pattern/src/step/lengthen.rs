//! Lengthens or shortens pieces at a level.
//!
//! **What it does.** Cuts the piece across the grain at a level and moves the parts apart along the grain, or folds a band
//! away below the level; the edges that are crossed are drawn over the gap and trued.
//! **When it is used.** For a longer or shorter body, sleeve or skirt where the shape above and below shall stay. Name every
//! piece that is sewn together at that level, so that their seams still walk.
//! **Example.** `lengthen at="front.side 100 mm from waist, back.side 100 mm from waist" by="20 mm"`.
//! **What can go wrong.** The level passes through the mouth of a dart, or crosses the outline more than twice.
//!
//! Invariants: every edge that is crossed changes by the amount, along the grain; all others stay. Shortening by as much at
//! the same level gives the piece back where nothing was trued.

use document::Finding;
use geometry::curve::turn_about;
use geometry::{Point, Vec2};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::place::find as find_place;
use super::kit::slash::{self, Slash, Spread};
use super::kit::true_up::{Keep, true_all};
use crate::piece::Piece;
use crate::seam::Pattern;

const AT: Parameter = Parameter::needed("at", Kind::Place, "level, one place a piece").many();
const BY: Parameter = Parameter::needed("by", Kind::Length(0.0, 1500.0), "how much");
const TRUE: Parameter = Parameter::usually(
    "trued",
    Kind::Flag,
    Usual::Flag(true),
    "whether crossed edges are trued",
);

pub(super) const LENGTHEN: StepKind = StepKind {
    name: "lengthen",
    group: Group::Size,
    summary: "makes pieces longer at a level",
    manual: include_str!("lengthen.rs"),
    parameters: &[AT, BY, TRUE],
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, 1.0),
};

pub(super) const SHORTEN: StepKind = StepKind {
    name: "shorten",
    group: Group::Size,
    summary: "makes pieces shorter at a level",
    manual: include_str!("lengthen.rs"),
    parameters: &[AT, BY, TRUE],
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, -1.0),
};

fn apply(pattern: &Pattern, arguments: &Arguments, sign: f64) -> Result<Done, Finding> {
    let by = arguments.mm("by")?;
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for place in arguments.spots("at") {
        let blamed = |finding| arguments.blame("at", finding);
        let found = find_place(pattern, place).map_err(blamed)?;
        let piece = &mut changed.pieces[found.piece];
        let spread =
            at_level(piece, found.at, by * sign, arguments.is_set("trued")).map_err(blamed)?;
        let slashes = spread.lines.into_iter();
        lines.extend(slashes.map(|line| TraceLine::new(&piece.name, Trace::Slash, line)));
        names.push(piece.name.clone());
    }
    let verb = if sign > 0.0 {
        "lengthened"
    } else {
        "shortened"
    };
    let words = format!("{verb} the {} by {by:.0} mm", names.join(" and the "));
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn at_level(piece: &mut Piece, level: Point, by: f64, trued: bool) -> Result<Spread, Finding> {
    let grain = (turn_about(Point::ORIGIN, piece.grain) * Point::new(1.0, 0.0)).to_vec2();
    let [from, to] = slash::across(piece, level, Vec2::new(-grain.y, grain.x))?;
    let before: Vec<(String, f64)> = lengths(piece);
    let slash = Slash {
        from,
        to,
        opens: by,
        opens_at_end: by,
    };
    let spread = slash::spread(piece, &[slash])?;
    if trued {
        true_all(piece, &spread.joints, |name, length| {
            let old = before.iter().find(|(other, _)| other == name);
            Keep::Length(old.map_or(length, |(_, old)| grown(*old, length, by)))
        });
    }
    Ok(spread)
}

fn lengths(piece: &Piece) -> Vec<(String, f64)> {
    let edges = piece.edges.iter();
    edges
        .map(|edge| (edge.name.clone(), edge.length()))
        .collect()
}

/// An edge that was crossed once has grown by the amount, one that was crossed twice by twice as much.
fn grown(old: f64, now: f64, by: f64) -> f64 {
    let times = ((now - old) / by).round();
    if times.is_finite() {
        old + by * times
    } else {
        now
    }
}
