//! Puts a notch on an edge, and the notch that meets it on every edge to which it is sewn.
//!
//! **What it does.** Marks a length or a share along an edge; across each seam of that edge it marks the place that comes to
//! lie on it: the same length, or the same share where one side is eased or gathered.
//! **When it is used.** Where two pieces must meet: on long curved seams, at the ends of gathers, where a zip stops.
//! **Example.** `notch at="front.side at 90 mm from armhole" name="balance"`: also on the side of the back.
//! **What can go wrong.** The place lies beyond the edge; a notch of this name is there already at another place of the edge.
//!
//! Invariant: no line moves; walked along the seam, both notches are met at once.

use document::{Finding, Place as Where};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Usual};
use super::kit::across::{self, Spot};
use super::kit::notches;
use super::kit::place::SAME_POINT;
use crate::name::free_name;
use crate::piece::Mark;
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "notch",
    group: Group::Marks,
    summary: "marks a place on an edge, and where it meets the other side of the seam",
    manual: include_str!("notch.rs"),
    parameters: &[
        Parameter::needed("at", Kind::Place, "place on an edge"),
        Parameter::usually("name", Kind::Text, Usual::Nothing, "name of the notch"),
        Parameter::usually(
            "strokes",
            Kind::Count(1, 4),
            Usual::Count(1),
            "how many strokes: one in front, two behind, by common practice",
        ),
        Parameter::usually(
            "matched",
            Kind::Flag,
            Usual::Flag(true),
            "whether the other side of the seam is notched as well",
        ),
    ],
    amount: None,
    apply: notch,
};

fn notch(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let seat = arguments.seat(pattern, "at")?;
    let piece = &pattern.pieces[seat.piece];
    let spot = Spot {
        piece: piece.name.clone(),
        edge: piece.edges[seat.edge].name.clone(),
        along: seat.along,
    };
    let mut spots = vec![spot.clone()];
    if arguments.is_set("matched") {
        spots.extend(across::partners(pattern, &spot));
    }
    let name = match arguments.word("name") {
        Ok(name) => name.to_string(),
        Err(_) => free_name("notch", notch_names(pattern)),
    };
    let strokes = u8::try_from(arguments.count("strokes")?).unwrap_or(1);
    let mut changed = pattern.clone();
    for spot in &spots {
        if let Some(other) = taken(pattern, spot, &name) {
            return Err(arguments.blame("name", other));
        }
        notches::put(
            &mut changed,
            (&spot.piece, &spot.edge),
            &name,
            spot.along,
            strokes,
        );
    }
    Ok(Done {
        pattern: changed,
        lines: Vec::new(),
        words: words(&name, &spots),
    })
}

fn notch_names(pattern: &Pattern) -> impl Iterator<Item = &str> {
    let marks = pattern.pieces.iter().flat_map(|piece| &piece.marks);
    marks.filter_map(|mark| match mark {
        Mark::Notch { name, .. } => Some(name.as_str()),
        Mark::Point { .. } => None,
    })
}

fn words(name: &str, spots: &[Spot]) -> String {
    let places: Vec<String> = spots
        .iter()
        .map(|spot| {
            format!(
                "the {} of the {} at {:.0} mm",
                spot.edge, spot.piece, spot.along
            )
        })
        .collect();
    format!("notched {} ({name})", places.join(" and "))
}

/// A later step that names a notch must find one place.
fn taken(pattern: &Pattern, spot: &Spot, wanted: &str) -> Option<Finding> {
    let piece = pattern.piece(&spot.piece)?;
    let elsewhere = piece.marks.iter().any(|mark| {
        matches!(mark, Mark::Notch { name, edge, along, .. }
            if name == wanted && *edge == spot.edge && (along - spot.along).abs() > SAME_POINT)
    });
    elsewhere.then(|| {
        Finding::error(
            "notch-name-taken",
            format!(
                "the {} of the {} has a notch called {wanted} at another place",
                spot.edge, spot.piece
            ),
        )
        .at(Where::Edge {
            piece: spot.piece.clone(),
            edge: spot.edge.clone(),
            at: None,
        })
        .cure("give another name")
    })
}
