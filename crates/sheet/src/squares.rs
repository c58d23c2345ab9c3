//! Squares to measure: 100 mm and 4 in, with words inside them.
//!
//! A square's side runs from the middle of one line to the middle of the other. Invariant: nothing inside a square touches
//! its line.

use geometry::{Point, Rect, Vec2};

use crate::cover::{furniture, to_know};
use crate::drawing::{Drawing, Item, Line, Shape, Words};
use crate::flow::{self, Column, Paragraph};
use crate::layer::Layer;
use crate::marks::{self, rectangle};

/// Side of the metric square, mm.
pub(crate) const METRIC_MM: f64 = 100.0;
/// Side of the other square: 4 in.
pub(crate) const INCHES_MM: f64 = 101.6;
/// Room inside a square's line, mm.
const INSET_MM: f64 = 4.0;
/// Distance of two samples of lines, mm.
const SAMPLE_STEP_MM: f64 = 6.0;

/// The metric square with words inside it.
pub(crate) fn metric(at: Point, inside: &[Paragraph]) -> Vec<Item> {
    let mut items = square(at, METRIC_MM, "100 mm", "test-square-100-mm");
    let (words, _) = words(inside, below_title(at, METRIC_MM));
    items.extend(words);
    items
}

/// The square of 4 in with samples of the lines and, where there is room, what must be known; otherwise that is returned.
pub(crate) fn inches(at: Point, drawing: &Drawing) -> (Vec<Item>, Vec<Paragraph>) {
    let mut items = square(at, INCHES_MM, "4 in", "test-square-4-in");
    let room = below_title(at, INCHES_MM);
    let (key, end) = key(drawing, room);
    items.extend(key);
    let legend = to_know(drawing);
    let (set, end) = words(&legend, Rect { y0: end, ..room });
    if end > room.y1 {
        return (items, legend);
    }
    items.extend(set);
    (items, Vec::new())
}

fn square(at: Point, side: f64, length: &str, name: &str) -> Vec<Item> {
    let outline = rectangle(Rect::from_origin_size(at, (side, side)));
    let title = at + Vec2::new(INSET_MM, INSET_MM + 4.6);
    let below = title + Vec2::new(0.0, 5.4);
    vec![
        Item::path(Layer::Furniture, outline, Line::solid(0.35)).named(name),
        furniture(Words::new(title, 5.4, format!("Measure me: {length}")).bold()),
        furniture(Words::new(below, 3.2, "each side, from line to line")),
    ]
}

fn below_title(at: Point, side: f64) -> Rect {
    Rect::new(
        at.x + INSET_MM,
        at.y + INSET_MM + 13.5,
        at.x + side - INSET_MM,
        at.y + side - 2.0,
    )
}

/// Words set from the top of an area, however far down they go.
fn words(paragraphs: &[Paragraph], area: Rect) -> (Vec<Item>, f64) {
    let endless = Rect {
        y1: f64::INFINITY,
        ..area
    };
    let (set, end) = flow::set(paragraphs, |_| Column {
        page: 0,
        area: endless,
    });
    (set.into_iter().map(|(_, item)| item).collect(), end)
}

/// A sample of the line of every layer that has one, with the layer's name; returns where it ends.
fn key(drawing: &Drawing, room: Rect) -> (Vec<Item>, f64) {
    let heading = Words::new(room.origin() + Vec2::new(0.0, 4.2), 4.2, "The lines");
    let mut items = vec![furniture(heading.bold())];
    let mut y = room.y0 + 10.0;
    for layer in Layer::ALL {
        if let Some(line) = line_of(drawing, layer) {
            items.extend(sample(layer, line, Point::new(room.x0, y)));
            y += SAMPLE_STEP_MM;
        }
    }
    (items, y)
}

fn sample(layer: Layer, line: Line, from: Point) -> [Item; 2] {
    let to = from + Vec2::new(28.0, 0.0);
    let path = match layer {
        Layer::Grain => marks::arrow(from, to),
        Layer::Marks => marks::circle(from.midpoint(to), 1.5),
        _ => marks::line(from, to),
    };
    let name = Words::new(to + Vec2::new(4.0, 1.1), 3.2, layer.title());
    [Item::path(Layer::Furniture, path, line), furniture(name)]
}

fn line_of(drawing: &Drawing, layer: Layer) -> Option<Line> {
    let mut items = drawing.panels.iter().flat_map(|panel| &panel.items);
    items.find_map(|item| match &item.shape {
        Shape::Path {
            line: Some(line), ..
        } if item.layer == layer => Some(line.clone()),
        _ => None,
    })
}
