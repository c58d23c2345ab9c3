//! Notches: short strokes from the cutting line inwards, square to it.
//!
//! Knows edges and allowances. Invariant: a stroke starts on the cutting line and, where there is an allowance, ends
//! before the seam line.

use geometry::{BezPath, Curve, Point, Tolerance, Vec2};
use pattern::{Mark, Piece};
use sheet::{Item, Layer, Line};

use crate::ground::{Ground, inward};
use crate::outline::{Cutting, straight};

/// Distance between the strokes of one notch, mm.
const STEP_MM: f64 = 6.0;
/// Shortest and longest stroke, mm; a notch that is cut should weaken the allowance as little as it can.
const STROKE_MM: [f64; 2] = [3.0, 7.0];
/// Stroke where there is no allowance, mm.
const BARE_STROKE_MM: f64 = 5.0;

/// Length of a stroke in an allowance, mm: it stops well before the seam line.
pub(crate) fn stroke_length(allowance: f64) -> f64 {
    if allowance <= 0.0 {
        return BARE_STROKE_MM;
    }
    let [least, most] = STROKE_MM;
    (allowance * 0.5).clamp(least, most).min(allowance * 0.8)
}

/// Draws all notches of a piece.
pub(crate) fn items(piece: &Piece, cutting: &Cutting, ground: &mut Ground) -> Vec<Item> {
    let mut items = Vec::new();
    for mark in &piece.marks {
        let Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } = mark
        else {
            continue;
        };
        let Some(path) = notch(piece, cutting, (edge, *along), *strokes, ground) else {
            continue;
        };
        let id = format!("{}.{edge}.{name}", piece.name);
        items.push(Item::path(Layer::Marks, path, Line::mark()).named(id));
    }
    items
}

fn notch(
    piece: &Piece,
    cutting: &Cutting,
    (edge, along): (&str, f64),
    strokes: u8,
    ground: &mut Ground,
) -> Option<BezPath> {
    let edge = piece.edge(edge)?;
    let (place, direction) = edge.place_at(along);
    let (curve, along) = on_cutting_line(cutting, place, -inward(direction))?;
    let mut path = BezPath::new();
    for base in bases(curve, along, strokes) {
        let (from, way) = (curve.point_at(base), curve.direction_at(base));
        let to = from + inward(way) * stroke_length(edge.allowance);
        ground.add_straight(from, to, 0.3);
        path.extend(straight(from, to));
    }
    Some(path)
}

/// The stretch of the cutting line that lies outwards of a place on the seam line, and the length along it.
fn on_cutting_line(cutting: &Cutting, place: Point, out: Vec2) -> Option<(&Curve, f64)> {
    // A hair inside, so that a seam line without allowance is met.
    let from = place - out * 0.01;
    let met = cutting.all().flat_map(|side| {
        let crossings = side.curve.crossings_with_ray(from, out, Tolerance::PATTERN);
        crossings
            .into_iter()
            .map(|crossing| (crossing.other_along, &side.curve, crossing.along))
    });
    let nearest = met.min_by(|one, other| one.0.total_cmp(&other.0));
    nearest
        .map(|(_, curve, along)| (curve, along))
        .or_else(|| nearest_on(cutting, place))
}

fn nearest_on(cutting: &Cutting, place: Point) -> Option<(&Curve, f64)> {
    let near = cutting
        .all()
        .map(|side| (side.curve.nearest(place), &side.curve));
    let nearest = near.min_by(|one, other| one.0.distance.total_cmp(&other.0.distance));
    nearest.map(|(near, curve)| (curve, near.along))
}

/// Where the strokes of a notch start, side by side about a place and all on the curve.
fn bases(curve: &Curve, along: f64, strokes: u8) -> impl Iterator<Item = f64> {
    let width = STEP_MM * f64::from(strokes.saturating_sub(1));
    let last = (curve.length() - width).max(0.0);
    let first = (along - width / 2.0).clamp(0.0, last);
    (0..strokes).map(move |stroke| first + STEP_MM * f64::from(stroke))
}
