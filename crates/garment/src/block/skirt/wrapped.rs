//! The wrapped skirt: a fitted skirt whose fronts lie over each other, open along one of them.
//!
//! **What it does.** Prolongs both fronts beyond CF by half the overlap and cuts a facing on to them.
//! **When it is used.** For a skirt that is put on flat and fits a waist that changes.
//! **Example.** `skirt "wrapped" overlap="24 cm" length="60 cm"`.
//! **What can go wrong.** Too little overlap opens in walking; more than half the waist reaches behind the side seams.
//!
//! Each front goes half the overlap beyond CF. The front edges are turned back by a facing that is cut on. Ties, buttons or hooks
//! are another part's business. Invariant: behind CF the front is that of the skirt without overlap.

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};
use geometry::{Curve, Vec2};
use pattern::{Edge, EdgeKind, Fullness, Laid, Piece};

use super::super::person::Person;
use super::panel::line;
use super::{DartsToMeet, Full, Skirt, SkirtWish, fitted};

/// How a skirt is wrapped, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wrap {
    /// How far the fronts lie over each other.
    pub overlap: f64,
    /// Width of the facing that is cut on to the front edges.
    pub facing: f64,
}

pub(super) fn draft(person: &Person<'_>, wish: &SkirtWish, wrap: &Wrap) -> Result<Skirt, Finding> {
    // It opens in front: the back is cut on the fold.
    let closed = SkirtWish {
        back_seam: false,
        ..wish.clone()
    };
    let darts = DartsToMeet::default();
    let mut skirt = if wish.full == Full::Usual {
        fitted::straight(person, &closed, darts)?
    } else {
        fitted::flared(person, &closed, darts)?
    };
    let most = (person.of(Measure::Waist) + wish.waist_ease) * MOST_OF_WAIST;
    if wrap.overlap > most {
        return Err(too_much(wrap.overlap, most));
    }
    skirt.overlap = wrap.overlap;
    let front = &mut skirt.pieces[0];
    *front = lapped(front, wrap).ok_or_else(cannot)?;
    skirt.waist[0].fullness = Fullness::None;
    Ok(skirt)
}

/// A front edge that reaches round to the other side seam is as far as fronts can lie over each other.
const MOST_OF_WAIST: f64 = 0.48;

/// The front with its share of the overlap and its facing.
fn lapped(front: &Piece, wrap: &Wrap) -> Option<Piece> {
    let lap = wrap.overlap / 2.0;
    let left = Vec2::new(-lap, 0.0);
    let mut piece = front.clone();
    let old_centre = front.edge("centre")?;
    let (bottom, top) = (old_centre.start(), old_centre.end());
    let centre_line = Curve::line(top, bottom);
    for edge in &mut piece.edges {
        let last = edge.runs.len() - 1;
        match edge.name.as_str() {
            "waist" => edge.runs[0] = Curve::line(top + left, top).then(&edge.runs[0])?,
            "hem" => edge.runs[last] = edge.runs[last].then(&Curve::line(bottom, bottom + left))?,
            "centre" => {
                let run = Curve::line(bottom + left, top + left);
                *edge = Edge::new("front-edge", EdgeKind::Finished, run);
                edge.allowance = wrap.facing;
            }
            _ => {}
        }
    }
    for line in &mut piece.lines {
        if let Some(first) = line.runs.first_mut() {
            let start = first.start();
            *first = Curve::line(start + left, start).then(first)?;
        }
    }
    piece.lines.push(line("centre-front", centre_line));
    piece.cut.count = 2;
    piece.cut.laid = Laid::Pair;
    Some(piece)
}

fn cannot() -> Finding {
    Finding::error(
        "skirt-cannot-be-drawn",
        "the front of the skirt cannot be lapped over CF",
    )
    .at(Place::Piece("skirt-front".into()))
    .cure("take another overlap")
}

fn too_much(overlap: f64, most: f64) -> Finding {
    Finding::error(
        "skirt-overlap-too-large",
        format!("fronts that lie over each other by {overlap:.0} mm reach behind the side seams"),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(
        Quantity::mm(overlap),
        Allowed::AtMost(Quantity::mm(most.floor())),
    )
    .because("a front edge must have the other front beneath it")
    .cure("take less overlap")
    .mend(Mend::property(
        &["skirt"],
        "overlap",
        written_mm(most.floor()),
        "takes as much overlap as there is room for",
    ))
}

/// What is said where a wrapped skirt is asked for under a bodice.
pub fn needs_own_waist() -> Finding {
    Finding::error(
        "skirt-wrap-needs-own-waist",
        "a wrapped skirt is longer at its waist than the bodice above it",
    )
    .at(Place::Piece("skirt-front".into()))
    .because("bodice and skirt must lie over each other by the same amount")
    .cure("take a straight or flared skirt, and let the step “extend” lap bodice and skirt at CF alike")
}
