//! Refusal: what no step may leave behind, and the most that still works.
//!
//! Knows no step. Invariant: a piece is only blamed for what it did not have before.

use std::collections::BTreeSet;

use document::{Finding, Place as Spot};
use geometry::simple::{Clash, clashes};
use geometry::{Curve, Point, curve::enclosed_area};

use super::gap::Gap;
use super::place::SAME_POINT;
use crate::check::LEG_LIMIT;
use crate::piece::{Dart, Piece};

/// A finding where a piece cannot be cut: its corners apart, its outline inside out or crossing itself, or its darts over
/// each other, unless the piece from which it was made had the same fault.
pub fn unless_sound(piece: &Piece, before: Option<&Piece>) -> Result<(), Finding> {
    let Some((fault, finding)) = fault(piece) else {
        return Ok(());
    };
    let was_there = before
        .and_then(self::fault)
        .is_some_and(|(old, _)| old == fault);
    if was_there { Ok(()) } else { Err(finding) }
}

/// The largest share of what was asked that still works, from just above nothing to all, to a thousandth; `None` where not
/// even a little works.
pub fn most(works: impl Fn(f64) -> bool) -> Option<f64> {
    const LITTLE: f64 = 0.01;
    const STEPS: u32 = 12;
    if !works(LITTLE) {
        return None;
    }
    let (mut low, mut high) = (LITTLE, 1.0);
    for _ in 0..STEPS {
        let middle = f64::midpoint(low, high);
        if works(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    Some(low)
}

/// What is wrong with a piece.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Fault {
    Names,
    Runs,
    Corner,
    InsideOut,
    Crossing,
    Legs,
    Darts,
}

fn fault(piece: &Piece) -> Option<(Fault, Finding)> {
    names(piece)
        .or_else(|| runs(piece))
        .or_else(|| corner(piece))
        .or_else(|| legs(piece))
        .or_else(|| inside_out(piece))
        .or_else(|| crossing(piece))
        .or_else(|| darts(piece))
}

fn told(piece: &Piece, code: &'static str, what: &str) -> Finding {
    Finding::error(code, format!("the {} {what}", piece.title().to_lowercase()))
        .at(Spot::Piece(piece.name.clone()))
        .because("a piece is cut along one line that comes back to its start")
        .cure("ask for less, or choose another place")
}

/// Names of edges and of darts must differ, or later steps would find the wrong one.
fn names(piece: &Piece) -> Option<(Fault, Finding)> {
    let edges: BTreeSet<&str> = piece.edges.iter().map(|edge| edge.name.as_str()).collect();
    let darts: BTreeSet<&str> = piece.darts.iter().map(|dart| dart.name.as_str()).collect();
    (edges.len() != piece.edges.len() || darts.len() != piece.darts.len()).then(|| {
        let what = "would have two edges or two darts of the same name";
        (
            Fault::Names,
            told(piece, "name-taken", what).cure("give another name"),
        )
    })
}

fn runs(piece: &Piece) -> Option<(Fault, Finding)> {
    let empty = piece.edges.is_empty() || piece.edges.iter().any(|edge| edge.runs.is_empty());
    let counts = piece.edges.iter().all(|edge| {
        let gaps: BTreeSet<usize> = piece.darts_on(&edge.name).map(|dart| dart.gap).collect();
        gaps.len() + 1 == edge.runs.len() && gaps.iter().all(|gap| gap + 1 < edge.runs.len())
    });
    let at_home = piece
        .darts
        .iter()
        .all(|dart| piece.edge_index(&dart.edge).is_some());
    (empty || !counts || !at_home).then(|| {
        (
            Fault::Runs,
            told(piece, "outline-in-pieces", "would come apart at an edge"),
        )
    })
}

fn corner(piece: &Piece) -> Option<(Fault, Finding)> {
    let corners = (0..piece.edges.len()).map(|edge| Gap::corner(piece, edge));
    let open = corners
        .map(|gap| (gap, (gap.after(piece) - gap.before(piece)).hypot()))
        .find(|(_, apart)| *apart > SAME_POINT || !apart.is_finite())?;
    let name = &piece.edges[open.0.edge].name;
    let what = format!("would come apart at the end of its {name}");
    Some((Fault::Corner, told(piece, "corner-open", &what)))
}

fn legs(piece: &Piece) -> Option<(Fault, Finding)> {
    let differ = |dart: &&Dart| {
        let [one, other] = piece.legs(dart).lengths();
        (one - other).abs() > LEG_LIMIT
    };
    let dart = piece.darts.iter().find(differ)?;
    let what = format!("would have a {} with two different legs", dart.name);
    Some((Fault::Legs, told(piece, "dart-legs-differ", &what)))
}

fn inside_out(piece: &Piece) -> Option<(Fault, Finding)> {
    let area = enclosed_area(&piece.seam_outline());
    let what = "would be turned inside out";
    (area.is_nan() || area <= 0.0)
        .then(|| (Fault::InsideOut, told(piece, "outline-inside-out", what)))
}

fn crossing(piece: &Piece) -> Option<(Fault, Finding)> {
    let clash = clashes(&piece.seam_outline()).into_iter().next()?;
    Some((
        Fault::Crossing,
        at_clash(
            piece,
            &clash,
            "outline-crosses",
            "an outline that crosses itself",
        ),
    ))
}

/// The outline as it is cut open along the darts; darts may share their point and nothing else.
fn darts(piece: &Piece) -> Option<(Fault, Finding)> {
    if piece.darts.is_empty() {
        return None;
    }
    let shared = |point: Point| {
        let ends = piece
            .darts
            .iter()
            .filter(|dart| (dart.point - point).hypot() < SAME_POINT);
        ends.count() > 1
    };
    let clash = clashes(&open_outline(piece))
        .into_iter()
        .find(|clash| !shared(clash.point))?;
    Some((
        Fault::Darts,
        at_clash(
            piece,
            &clash,
            "dart-crosses",
            "a dart that crosses another or the outline",
        ),
    ))
}

fn at_clash(piece: &Piece, clash: &Clash, code: &'static str, what: &str) -> Finding {
    let Point { x, y } = clash.point;
    told(
        piece,
        code,
        &format!("would have {what} at x {x:.0}, y {y:.0} mm"),
    )
}

/// The runs with the legs of the darts between them, clockwise.
pub fn open_outline(piece: &Piece) -> Vec<Curve> {
    let mut outline = Vec::new();
    for edge in &piece.edges {
        for (gap, run) in edge.runs.iter().enumerate() {
            outline.push(run.clone());
            let dart = piece
                .darts
                .iter()
                .find(|dart| dart.edge == edge.name && dart.gap == gap);
            if let Some(dart) = dart {
                let legs = piece.legs(dart);
                outline.push(Curve::line(legs.before, legs.point));
                outline.push(Curve::line(legs.point, legs.after));
            }
        }
    }
    outline
}
