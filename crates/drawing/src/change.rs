//! What a step did to a pattern, as a person would draw it: before grey, after black, and the lines along which it was done.
//!
//! Knows patterns and lines on them, no step. Only pieces that changed are drawn, those that were cut from one another in one
//! place. Invariant: nothing tells itself by its colour alone.

use std::collections::BTreeSet;

use geometry::curve::unit;
use geometry::{Affine, BezPath, Curve, Point, Rect, Tolerance, Vec2, outline::roomiest};
use pattern::step::kit::refuse::open_outline;
use pattern::step::{Trace, TraceLine};
use pattern::{Mark, Pattern, Piece, name};
use sheet::{
    Anchor, Colour, Drawing, Item, Layer, Line, Panel, Shape, Turns, Weight, Words, circle,
};

use crate::ground::inward;
use crate::overview::side_by_side;

/// Words over the longer side of what is drawn.
const WORDS: f64 = 1.0 / 38.0;
/// The least and the largest words, mm.
const WORDS_MM: [f64; 2] = [7.0, 22.0];
/// Length of a notch, mm.
const NOTCH_MM: f64 = 9.0;

/// A step to be drawn.
#[derive(Clone, Copy, Debug)]
pub struct Change<'a> {
    /// The pattern before it.
    pub before: &'a Pattern,
    /// The pattern after it.
    pub after: &'a Pattern,
    /// The lines along which it was done.
    pub lines: &'a [TraceLine],
    /// What stands over the picture, such as "Step 3: transfer".
    pub title: &'a str,
    /// What stands below that, in a sentence.
    pub words: &'a str,
}

/// Draws a step; all pieces where it changed none.
pub fn change(change: &Change<'_>) -> Drawing {
    let groups = groups(change);
    let panels: Vec<Panel> = groups.iter().map(|group| panel(change, group)).collect();
    let mut items = side_by_side(&panels, change.title).items;
    let size = words_size(&items);
    items.extend(piece_names(&groups, &panels, change, size));
    let kinds: BTreeSet<&str> = change.lines.iter().map(|line| line.kind.word()).collect();
    let mut keys = vec![("before", before_line()), ("after", after_line())];
    let trace = [Trace::Pivot, Trace::Slash, Trace::Moved, Trace::Redrawn];
    let told = trace.iter().filter(|kind| kinds.contains(kind.word()));
    keys.extend(told.map(|kind| (kind.word(), trace_line(*kind))));
    frame(&mut items, change.title, change.words, &keys, size);
    drawing(change.title, items)
}

/// A drawing of one panel.
pub(crate) fn drawing(title: &str, items: Vec<Item>) -> Drawing {
    Drawing {
        title: title.to_owned(),
        subject: String::new(),
        version: String::new(),
        date: None,
        language: "en".to_owned(),
        panels: vec![Panel {
            id: "picture".to_owned(),
            title: title.to_owned(),
            items,
            turns: Turns::None,
        }],
        lists: Vec::new(),
        plates: Vec::new(),
        legend: Vec::new(),
    }
}

/// Roots of the names of pieces that changed, in the order of the patterns.
fn groups(change: &Change<'_>) -> Vec<String> {
    let both = || change.before.pieces.iter().chain(&change.after.pieces);
    let differs =
        |piece: &Piece| change.before.piece(&piece.name) != change.after.piece(&piece.name);
    let traced = change.lines.iter().map(|line| line.piece.as_str());
    let mut changed: BTreeSet<&str> = both()
        .filter(|piece| differs(piece))
        .map(|piece| name::root(&piece.name))
        .chain(traced.map(name::root))
        .collect();
    if changed.is_empty() {
        changed = both().map(|piece| name::root(&piece.name)).collect();
    }
    let mut groups: Vec<String> = Vec::new();
    for piece in both() {
        let root = name::root(&piece.name);
        if changed.contains(root) && !groups.iter().any(|known| known == root) {
            groups.push(root.to_owned());
        }
    }
    groups
}

fn of_group<'a>(pattern: &'a Pattern, group: &'a str) -> impl Iterator<Item = &'a Piece> {
    pattern
        .pieces
        .iter()
        .filter(move |piece| name::root(&piece.name) == group)
}

fn panel(change: &Change<'_>, group: &str) -> Panel {
    let mut items = Vec::new();
    for piece in of_group(change.before, group) {
        items.extend(sketch(piece, &before_line(), Layer::Furniture));
        // An arrow that stays as it was would only lie beside itself.
        let mut after = of_group(change.after, group).peekable();
        let stays = after.peek().is_some() && after.all(|after| after.grain == piece.grain);
        items.extend(arrow(piece, &before_line(), Layer::Furniture).filter(|_| !stays));
    }
    for piece in of_group(change.after, group) {
        items.extend(sketch(piece, &after_line(), Layer::SeamLine));
        items.extend(arrow(piece, &after_line(), Layer::SeamLine));
    }
    for line in change
        .lines
        .iter()
        .filter(|line| name::root(&line.piece) == group)
    {
        items.extend(traced(line));
    }
    Panel {
        id: group.to_owned(),
        title: group.to_owned(),
        items,
        turns: Turns::None,
    }
}

/// Outline with its darts open, lines and points inside, and notches of a piece, all with one line.
pub(crate) fn sketch(piece: &Piece, line: &Line, layer: Layer) -> Vec<Item> {
    let fine = Line {
        width_mm: line.width_mm * 0.5,
        ..line.clone()
    };
    let mut items = vec![Item::path(
        layer,
        joined(&open_outline(piece)),
        line.clone(),
    )];
    let inside = piece.lines.iter().flat_map(|inner| &inner.runs);
    items.extend(inside.map(|run| Item::path(layer, run.to_path(), fine.clone())));
    for mark in &piece.marks {
        let path = match mark {
            Mark::Point { at, .. } => circle(*at, 3.0),
            Mark::Notch { edge, along, .. } => match piece.edge(edge) {
                Some(edge) => {
                    let (at, way) = edge.place_at(*along);
                    straight(at, at + inward(way) * NOTCH_MM)
                }
                None => continue,
            },
        };
        items.push(Item::path(layer, path, fine.clone()));
    }
    items
}

/// The arrow of the grain as an item.
pub(crate) fn arrow(piece: &Piece, line: &Line, layer: Layer) -> Option<Item> {
    let fine = Line {
        width_mm: line.width_mm * 0.5,
        ..line.clone()
    };
    grain(piece).map(|path| Item::path(layer, path, fine))
}

/// An arrow along the grain in the roomiest place.
fn grain(piece: &Piece) -> Option<BezPath> {
    let room = room(piece)?;
    let half = unit(piece.grain) * (room.1 * 0.6);
    Some(sheet::arrow(room.0 - half, room.0 + half))
}

/// The roomiest place of a piece and how far it is from the outline, mm.
pub(crate) fn room(piece: &Piece) -> Option<(Point, f64)> {
    let tolerance = Tolerance::from_mm(3.0).unwrap_or(Tolerance::DRAWING);
    let room = roomiest(&piece.seam_outline(), tolerance)?;
    Some((room.point, room.radius))
}

fn joined(curves: &[Curve]) -> BezPath {
    geometry::curve::closed_path(curves)
}

fn straight(from: Point, to: Point) -> BezPath {
    Curve::line(from, to).to_path()
}

fn traced(trace: &TraceLine) -> Vec<Item> {
    let line = trace_line(trace.kind);
    let mut items = vec![Item::path(Layer::Marks, trace.curve.to_path(), line)];
    if trace.kind == Trace::Pivot {
        items.push(Item::filled(
            Layer::Marks,
            circle(trace.curve.start(), 4.0),
            Colour::INK,
        ));
    }
    items
}

pub(crate) fn before_line() -> Line {
    Line::solid(1.6).coloured(Colour(168, 168, 168))
}

pub(crate) fn after_line() -> Line {
    Line::solid(1.6)
}

fn trace_line(kind: Trace) -> Line {
    match kind {
        Trace::Pivot => Line::dashed(1.2, &[14.0, 4.0, 2.0, 4.0]),
        Trace::Slash => Line::dashed(1.2, &[10.0, 6.0]),
        Trace::Moved => Line::solid(3.2),
        Trace::Redrawn => Line::dashed(3.2, &[22.0, 6.0]),
    }
}

/// The size of words that can be read where the whole is seen at once.
pub(crate) fn words_size(items: &[Item]) -> f64 {
    let all = bounds(items);
    let [least, most] = WORDS_MM;
    (all.width().max(all.height()) * WORDS).clamp(least, most)
}

pub(crate) fn bounds(items: &[Item]) -> Rect {
    let boxes = items.iter().filter_map(Item::bounds);
    boxes.reduce(|all, one| all.union(one)).unwrap_or_default()
}

/// The names of the pieces after the step, or before it where none is left, each in its piece.
fn piece_names(groups: &[String], panels: &[Panel], change: &Change<'_>, size: f64) -> Vec<Item> {
    let moved = side_by_side(panels, "");
    let mut names = Vec::new();
    let mut first = 0;
    for (group, panel) in groups.iter().zip(panels) {
        let by = shift(panel, &moved.items[first..]);
        first += panel.items.len();
        let after: Vec<&Piece> = of_group(change.after, group).collect();
        let shown = if after.is_empty() {
            of_group(change.before, group).collect()
        } else {
            after
        };
        for piece in shown {
            names.extend(title(piece, Affine::translate(by), size));
        }
    }
    names
}

/// The name of a piece beside its arrow.
pub(crate) fn title(piece: &Piece, place: Affine, size: f64) -> Option<Item> {
    let (at, far) = room(piece)?;
    let at = place * (at + Vec2::new(0.0, far * 0.6 + size));
    let mut words = Words::new(at, size * 0.8, piece.title()).anchored(Anchor::Middle);
    words.weight = Weight::Bold;
    Some(Item::text(words))
}

/// How far the items of a panel were moved.
fn shift(panel: &Panel, moved: &[Item]) -> Vec2 {
    let corner = |item: &Item| item.bounds().unwrap_or_default().origin();
    match (panel.items.first(), moved.first()) {
        (Some(old), Some(new)) => corner(new) - corner(old),
        _ => Vec2::ZERO,
    }
}

/// Puts title and words above a picture, and what its lines mean below.
pub(crate) fn frame(
    items: &mut Vec<Item>,
    title: &str,
    words: &str,
    keys: &[(&str, Line)],
    size: f64,
) {
    let all = bounds(items);
    let width = all.width().max(size * 26.0);
    let mut lines = vec![(Weight::Bold, title.to_owned())];
    let told = sheet::wrap(words, size, Weight::Regular, width);
    lines.extend(told.into_iter().map(|line| (Weight::Regular, line)));
    let height = size * 1.35 * lines.len() as f64;
    let top = Point::new(all.x0, all.y0 - height);
    items.extend(sheet::text_block(&lines, top, size, Anchor::Start, 0.0));
    let mut at = Point::new(all.x0, all.y1 + size * 2.5);
    for (text, line) in keys {
        let words = Words::new(at + Vec2::new(size * 4.5, 0.0), size, *text);
        let advance = size * 6.0 + words.width();
        if at.x > all.x0 && at.x + advance > all.x0 + width {
            at = Point::new(all.x0, at.y + size * 1.6);
        }
        items.extend(key(at, text, line.clone(), size));
        at.x += advance;
    }
}

fn key(at: Point, text: &str, line: Line, size: f64) -> [Item; 2] {
    let middle = at - Vec2::new(0.0, size * 0.35);
    let words = Words::new(at + Vec2::new(size * 4.5, 0.0), size, text);
    [
        Item {
            layer: Layer::Marks,
            id: None,
            shape: Shape::Path {
                path: straight(middle, middle + Vec2::new(size * 4.0, 0.0)),
                line: Some(line),
                fill: None,
            },
        },
        Item::text(words),
    ]
}
