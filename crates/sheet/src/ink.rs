//! Where the ink of a panel lies: many small boxes, so that it is known which sheets it touches.
//!
//! Invariant: every drop of ink lies in a box; a box is a letter, or at most [`CHUNK_MM`] of a line.

use geometry::{Affine, BezPath, Rect, Vec2};
use kurbo::{ParamCurve as _, PathSeg, Shape as _};

use crate::drawing::{Item, Line, Panel, Shape, Words};
use crate::font;

/// Longest stretch of a line that one box covers, mm.
const CHUNK_MM: f64 = 6.0;
/// Longest side of a coarse box, mm: a small part of the smallest tile.
const COARSE_MM: f64 = 24.0;
/// What a curve may bulge beyond the straight line under one chunk of it, mm; true for radii above 9 mm, and tighter
/// curves are bounded by their own control points.
const BULGE_MM: f64 = 0.5;

/// A panel in one of its turns, its ink measured from the top left corner of its box.
#[derive(Clone, Debug)]
pub(crate) struct Turned {
    /// Quarter turns, clockwise on paper.
    pub(crate) quarter: u8,
    /// From the panel's coordinates to those of the box.
    pub(crate) into_box: Affine,
    /// Width and height of the box, mm.
    pub(crate) size: Vec2,
    /// Boxes of ink.
    pub(crate) ink: Vec<Rect>,
    /// The same ink in fewer and larger boxes, for a search that looks at it often.
    pub(crate) coarse: Vec<Rect>,
}

/// The panel in every turn that it allows; the drawing has been checked, so the panel has ink.
pub(crate) fn turned(panel: &Panel) -> Vec<Turned> {
    let bounds = panel.bounds().unwrap_or_default();
    let ink = ink(panel, bounds);
    let quarters = panel.turns.quarters().iter();
    quarters
        .map(|quarter| turn(*quarter, bounds, &ink))
        .collect()
}

fn turn(quarter: u8, bounds: Rect, ink: &[Rect]) -> Turned {
    let turn = quarter_turn(quarter);
    let turned = turn.transform_rect_bbox(bounds);
    let into_box = Affine::translate(-turned.origin().to_vec2()) * turn;
    let ink: Vec<Rect> = ink
        .iter()
        .map(|one| into_box.transform_rect_bbox(*one))
        .collect();
    Turned {
        quarter,
        into_box,
        size: turned.size().to_vec2(),
        coarse: merged(&ink),
        ink,
    }
}

/// Neighbouring boxes joined up to [`COARSE_MM`], and of those the ones that lie in no other.
fn merged(ink: &[Rect]) -> Vec<Rect> {
    let mut joined: Vec<Rect> = Vec::new();
    for one in ink {
        match joined.last_mut() {
            Some(last) if is_small(last.union(*one)) => *last = last.union(*one),
            _ => joined.push(*one),
        }
    }
    let mut outer: Vec<Rect> = Vec::new();
    for one in joined {
        if !outer.iter().any(|other| other.contains_rect(one)) {
            outer.retain(|other| !one.contains_rect(*other));
            outer.push(one);
        }
    }
    outer
}

fn is_small(rect: Rect) -> bool {
    rect.width().max(rect.height()) <= COARSE_MM
}

/// A turn by quarters about the origin, clockwise on paper; exact.
fn quarter_turn(quarter: u8) -> Affine {
    match quarter % 4 {
        0 => Affine::IDENTITY,
        1 => Affine::new([0.0, 1.0, -1.0, 0.0, 0.0, 0.0]),
        2 => Affine::new([-1.0, 0.0, 0.0, -1.0, 0.0, 0.0]),
        _ => Affine::new([0.0, -1.0, 1.0, 0.0, 0.0, 0.0]),
    }
}

fn ink(panel: &Panel, bounds: Rect) -> Vec<Rect> {
    let mut boxes = Vec::new();
    for item in &panel.items {
        add_ink(item, &mut boxes);
    }
    for one in &mut boxes {
        *one = one.intersect(bounds);
    }
    boxes
}

fn add_ink(item: &Item, boxes: &mut Vec<Rect>) {
    match &item.shape {
        Shape::Text(words) => add_words(words, boxes),
        Shape::Path { path, line, fill } => {
            if fill.is_some() {
                boxes.extend(item.bounds());
            } else if let Some(line) = line {
                add_line(path, line, boxes);
            }
        }
    }
}

fn add_line(path: &BezPath, line: &Line, boxes: &mut Vec<Rect>) {
    let reach = line.width_mm / 2.0;
    for segment in path.segments() {
        let bound = segment.bounding_box().inflate(reach, reach);
        let chunks = (polygon_length(&segment) / CHUNK_MM).ceil().max(1.0) as usize;
        let mut from = segment.eval(0.0);
        for chunk in 1..=chunks {
            let to = segment.eval(chunk as f64 / chunks as f64);
            let reach = reach + BULGE_MM;
            boxes.push(
                Rect::from_points(from, to)
                    .inflate(reach, reach)
                    .intersect(bound),
            );
            from = to;
        }
    }
}

fn polygon_length(segment: &PathSeg) -> f64 {
    match segment {
        PathSeg::Line(line) => (line.p1 - line.p0).hypot(),
        PathSeg::Quad(quad) => (quad.p1 - quad.p0).hypot() + (quad.p2 - quad.p1).hypot(),
        PathSeg::Cubic(cubic) => {
            (cubic.p1 - cubic.p0).hypot()
                + (cubic.p2 - cubic.p1).hypot()
                + (cubic.p3 - cubic.p2).hypot()
        }
    }
}

/// The boxes of the letters themselves: a sheet is not printed for the room above a word.
fn add_words(words: &Words, boxes: &mut Vec<Rect>) {
    let place = words.place();
    let mut left = -words.lead();
    for letter in words.text.chars() {
        let glyph = font::glyph(words.weight, letter);
        if let Some(shape) = font::glyph_box(words.weight, glyph) {
            let upright = shape.scale_from_origin(words.size_mm) + Vec2::new(left, 0.0);
            boxes.push(place.transform_rect_bbox(upright));
        }
        left += font::advance(words.weight, glyph) * words.size_mm;
    }
}

#[cfg(test)]
mod tests {
    use geometry::Point;

    use super::*;
    use crate::drawing::Turns;
    use crate::layer::Layer;
    use crate::marks;

    fn ring() -> Panel {
        let path = marks::circle(Point::new(40.0, 90.0), 60.0);
        let words = Words::new(Point::new(40.0, 90.0), 6.0, "words on a slant").turned(30.0);
        Panel {
            id: "ring".to_owned(),
            title: "Ring".to_owned(),
            items: vec![
                Item::path(Layer::Marks, path, Line::solid(0.5)),
                Item::text(words),
            ],
            turns: Turns::Any,
        }
    }

    #[test]
    fn boxes_hold_the_line_in_every_turn() {
        let panel = ring();
        let Shape::Path { path, .. } = &panel.items[0].shape else {
            panic!("a ring is a path");
        };
        for turned in turned(&panel) {
            for segment in path.segments() {
                for step in 0..=200 {
                    let point = turned.into_box * segment.eval(f64::from(step) / 200.0);
                    let held = |boxes: &[Rect]| boxes.iter().any(|one| one.contains(point));
                    assert!(held(&turned.ink) && held(&turned.coarse), "{point:?}");
                }
            }
        }
    }

    #[test]
    fn the_middle_of_a_ring_is_blank_but_for_its_words() {
        let turned = &turned(&ring())[0];
        let middle = turned.into_box * Point::new(40.0, 60.0);
        assert!(!turned.ink.iter().any(|one| one.contains(middle)));
        let word = turned.into_box * Point::new(41.5, 89.5);
        assert!(turned.ink.iter().any(|one| one.contains(word)));
        let above = turned.into_box * Point::new(40.0, 84.5);
        assert!(!turned.ink.iter().any(|one| one.contains(above)));
    }

    #[test]
    fn quarters_turn_the_box() {
        let sizes: Vec<(f64, f64)> = turned(&ring())
            .iter()
            .map(|one| (one.size.x, one.size.y))
            .collect();
        assert_eq!(sizes[0], (sizes[1].1, sizes[1].0));
        assert_eq!(sizes[0], sizes[2]);
        assert_eq!(sizes[1], sizes[3]);
    }
}
