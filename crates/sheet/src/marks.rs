//! Marks that are drawn again and again: arrows, folds, circles, blocks of words.
//!
//! They return plain paths; the caller chooses layer and line.

use geometry::{BezPath, CubicBez, Point, Rect, Vec2};

use crate::drawing::{Anchor, Item, Words};
use crate::font::Weight;

/// Length of an arrow's head along its line, mm.
const HEAD_MM: f64 = 6.0;
/// Half the width of an arrow's head, mm.
const HEAD_HALF_WIDTH_MM: f64 = 2.2;
/// Height of a block's line of words, in ems.
const LINE_HEIGHT: f64 = 1.35;

/// A double-headed arrow, as for the grain; open heads, so that it needs no fill.
pub fn arrow(from: Point, to: Point) -> BezPath {
    let mut path = line(from, to);
    let Some(along) = direction(from, to) else {
        return path;
    };
    let head = HEAD_MM.min(from.distance(to) / 3.0);
    add_head(&mut path, from, along, head);
    add_head(&mut path, to, -along, head);
    path
}

/// The mark of a fold: a line set in by `inset_mm` to the left of the way from `from` to `to`, whose ends turn square
/// to the fold and point at it. A negative inset lies on the right.
pub fn fold_mark(from: Point, to: Point, inset_mm: f64) -> BezPath {
    let Some(along) = direction(from, to) else {
        return line(from, to);
    };
    let inward = Vec2::new(along.y, -along.x) * inset_mm;
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(from + inward);
    path.line_to(to + inward);
    path.line_to(to);
    let head = HEAD_MM.min(inset_mm.abs() / 2.0);
    let square = inward / inset_mm.abs().max(f64::MIN_POSITIVE);
    add_head(&mut path, from, square, head);
    add_head(&mut path, to, square, head);
    path
}

/// A circle of four cubic arcs; their radius is true to 0.03 %.
pub fn circle(centre: Point, radius_mm: f64) -> BezPath {
    // 4/3 · (√2 − 1): the handle with which a cubic's middle lies on the quarter circle.
    let handle = radius_mm * 0.552_284_749_830_793_4;
    let quarter = |from: Vec2, to: Vec2| {
        CubicBez::new(
            centre + from * radius_mm,
            centre + from * radius_mm + to * handle,
            centre + to * radius_mm + from * handle,
            centre + to * radius_mm,
        )
    };
    let (right, down) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
    let mut path = BezPath::new();
    path.move_to(centre + right * radius_mm);
    for arc in [
        quarter(right, down),
        quarter(down, -right),
        quarter(-right, -down),
        quarter(-down, right),
    ] {
        path.curve_to(arc.p1, arc.p2, arc.p3);
    }
    path.close_path();
    path
}

/// Lines of words one under the other, the first one's base line at `at`, turned together about it.
pub fn text_block(
    lines: &[(Weight, String)],
    at: Point,
    size_mm: f64,
    anchor: Anchor,
    turn_degrees: f64,
) -> Vec<Item> {
    let turned = Words::new(Point::ORIGIN, size_mm, "").turned(turn_degrees);
    let down = turned.place() * Point::new(0.0, size_mm * LINE_HEIGHT);
    let mut place = at;
    let mut items = Vec::with_capacity(lines.len());
    for (weight, text) in lines {
        let mut words = Words::new(place, size_mm, text.as_str())
            .anchored(anchor)
            .turned(turn_degrees);
        words.weight = *weight;
        items.push(Item::text(words));
        place += down.to_vec2();
    }
    items
}

/// The outline of a rectangle.
pub(crate) fn rectangle(rect: Rect) -> BezPath {
    let mut path = BezPath::new();
    path.move_to((rect.x0, rect.y0));
    path.line_to((rect.x1, rect.y0));
    path.line_to((rect.x1, rect.y1));
    path.line_to((rect.x0, rect.y1));
    path.close_path();
    path
}

/// A straight line.
pub(crate) fn line(from: Point, to: Point) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    path
}

/// A pair of scissors that cuts along `along`, its blades opening at `at`; 9 mm long.
pub(crate) fn scissors(at: Point, along: Vec2) -> BezPath {
    let across = Vec2::new(-along.y, along.x);
    let mut path = BezPath::new();
    for side in [1.0, -1.0] {
        // One blade with its handle crosses the other at the rivet, two fifths of the way back.
        path.move_to(at + across * (side * 1.3));
        path.line_to(at - along * 6.0 - across * (side * 1.0));
        let handle = at - along * 7.4 - across * (side * 1.5);
        path.extend(circle(handle, 1.3));
    }
    path
}

fn direction(from: Point, to: Point) -> Option<Vec2> {
    let along = to - from;
    let length = along.hypot();
    (length > 0.0).then(|| along / length)
}

fn add_head(path: &mut BezPath, tip: Point, inward: Vec2, length: f64) {
    let across = Vec2::new(-inward.y, inward.x) * (HEAD_HALF_WIDTH_MM * length / HEAD_MM);
    path.move_to(tip + inward * length + across);
    path.line_to(tip);
    path.line_to(tip + inward * length - across);
}

#[cfg(test)]
mod tests {
    use kurbo::Shape as _;

    use super::*;

    #[test]
    fn arrow_reaches_from_point_to_point() {
        let bounds = arrow(Point::new(10.0, 0.0), Point::new(10.0, 200.0)).bounding_box();
        assert_eq!((bounds.y0, bounds.y1), (0.0, 200.0));
        assert!((bounds.width() - 2.0 * HEAD_HALF_WIDTH_MM).abs() < 1e-9);
    }

    #[test]
    fn arrow_of_no_length_is_a_point() {
        let bounds = arrow(Point::ORIGIN, Point::ORIGIN).bounding_box();
        assert_eq!((bounds.width(), bounds.height()), (0.0, 0.0));
    }

    #[test]
    fn fold_mark_touches_the_fold_and_lies_on_the_left() {
        let bounds = fold_mark(Point::ORIGIN, Point::new(0.0, 100.0), 12.0).bounding_box();
        assert_eq!((bounds.x0, bounds.x1), (0.0, 12.0));
    }

    #[test]
    fn circle_has_its_area() {
        let area = circle(Point::new(3.0, 4.0), 10.0).area();
        assert!(
            (area / (std::f64::consts::PI * 100.0) - 1.0).abs() < 6e-4,
            "{area}"
        );
    }
}
