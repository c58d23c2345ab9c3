//! Darts: legs from the mouth to a small circle at the point, the fold between them, notches where the legs are cut off.
//!
//! Knows nothing of notches across seams. Invariant: a dart's notches start on the cutting line, in line with its legs, so
//! that the marks lie on each other when the dart is folded.

use geometry::{BezPath, Point, Tolerance};
use pattern::{Dart, Legs, Piece};
use sheet::{Colour, Item, Layer, Line, circle};

use crate::ground::Ground;
use crate::notches::{Notch, stroke_length};
use crate::outline::{Cutting, fold_line, straight};

/// Radius of the circle at a dart's point, mm.
const CIRCLE_MM: f64 = 1.8;
/// Mouths narrower than this, mm, have no room for a fold line between their legs.
const LEAST_FOLDED_MM: f64 = 8.0;

/// Draws all darts of a piece; where a notch of the seam marks a leg already, no second one is drawn.
pub(crate) fn items(
    piece: &Piece,
    cutting: &Cutting,
    notches: &[Notch],
    ground: &mut Ground,
) -> Vec<Item> {
    let mut items = Vec::new();
    for dart in &piece.darts {
        let legs = piece.legs(dart);
        items.extend(inside(piece, dart, &legs, ground));
        let allowance = piece.edge(&dart.edge).map_or(0.0, |edge| edge.allowance);
        for (mouth, side) in [(legs.before, "before"), (legs.after, "after")] {
            let notch = mouth_notch(&legs, mouth, allowance, cutting);
            let notch = notch.filter(|[from, _]| !notches.iter().any(|notch| notch.is_near(*from)));
            items.extend(notch.map(|[from, to]| {
                ground.add_straight(from, to, 0.3);
                let item = Item::path(Layer::Marks, straight(from, to), Line::mark());
                item.named(format!("{}.{}.{side}", piece.name, dart.name))
            }));
        }
    }
    items
}

/// Legs, circle and fold.
fn inside(piece: &Piece, dart: &Dart, legs: &Legs, ground: &mut Ground) -> Vec<Item> {
    let id = format!("{}.{}", piece.name, dart.name);
    let mut items = vec![
        Item::path(Layer::Marks, drawn_legs(legs), Line::mark()).named(id),
        Item::path(Layer::Marks, circle(legs.point, CIRCLE_MM), Line::mark()),
    ];
    let edge = piece.edge(&dart.edge);
    let tip = edge.map_or(legs.point, |edge| piece.cap(edge, dart)[0].end());
    if legs.intake() >= LEAST_FOLDED_MM {
        let line = fold_line(0.2).coloured(Colour::QUIET);
        items.push(Item::path(Layer::Marks, straight(legs.point, tip), line));
    }
    claim(legs, tip, ground);
    items
}

fn drawn_legs(legs: &Legs) -> BezPath {
    let mut path = straight(legs.before, legs.point);
    path.line_to(legs.after);
    path
}

/// From the cutting line inwards along a leg.
fn mouth_notch(legs: &Legs, mouth: Point, allowance: f64, cutting: &Cutting) -> Option<[Point; 2]> {
    let out = (mouth - legs.point).normalize();
    // A hair inside, so that a mouth on the cutting line itself is met.
    let from = mouth - out * 0.01;
    let meetings = cutting.all().flat_map(|side| {
        let crossings = side.curve.crossings_with_ray(from, out, Tolerance::PATTERN);
        crossings
            .into_iter()
            .map(|crossing| (crossing.other_along, crossing.point))
    });
    let (_, start) = meetings.min_by(|one, other| one.0.total_cmp(&other.0))?;
    Some([start, start - out * stroke_length(allowance)])
}

/// The cloth inside a dart bears no words.
fn claim(legs: &Legs, tip: Point, ground: &mut Ground) {
    ground.add_triangle(legs.point, [legs.before, tip], 0.3);
    ground.add_triangle(legs.point, [tip, legs.after], 0.3);
    let reach = CIRCLE_MM + 0.2;
    ground.add_straight(legs.point, legs.point, reach);
}
