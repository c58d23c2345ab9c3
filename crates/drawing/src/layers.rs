//! The layers view: what lies behind each piece of the outside, all at once, each layer in a line of its own.
//!
//! Knows patterns and where their derived pieces lie. Invariants: every derived piece that lies on a shown one is drawn there,
//! in the place where it is sewn; each line tells itself by its dashes, not by its colour.

use geometry::{Affine, BezPath, Point, Rect, Vec2};
use pattern::step::kit::refuse::open_outline;
use pattern::{Layer as Cloth, Pattern, Piece, name};
use sheet::{Anchor, Colour, Drawing, Item, Layer, Line, Panel, Shape, Turns, Words};

use crate::Labels;
use crate::change::{bounds, drawing};
use crate::overview::in_rows_of;

/// The line of the outside: light enough that every other line is seen on it.
const SHELL: Colour = Colour(176, 176, 176);
/// How deep layers may lie on layers: interfacing on a facing on a lining on the shell.
const DEEPEST: usize = 4;
/// Words over the root of the area of all that is shown.
const WORDS: f64 = 1.0 / 62.0;
/// The least and the largest words, mm.
const WORDS_MM: [f64; 2] = [7.0, 26.0];
/// Width of the rows of a plate over the side of a square of their area: an upright page.
const UPRIGHT: f64 = 0.85;

/// The layers of a garment: a panel for each piece behind which something lies, with its own key. None where nothing lies
/// behind anything.
pub fn layers(pattern: &Pattern, labels: &Labels) -> Option<Drawing> {
    let panels = panels(pattern);
    let first = panels.first()?.clone();
    let title = title(labels);
    Some(Drawing {
        panels,
        ..drawing(&title, first.items)
    })
}

/// The same on one panel, as a plate among the papers.
pub(crate) fn plate(pattern: &Pattern, labels: &Labels) -> Option<Panel> {
    let panels = panels(pattern);
    let plate = in_rows_of(UPRIGHT, &panels, &title(labels));
    (!panels.is_empty()).then(|| Panel {
        id: "layers".to_owned(),
        ..plate
    })
}

fn title(labels: &Labels) -> String {
    format!("{}: layer on layer", labels.garment)
}

/// A derived piece and the way to where it lies.
struct Behind<'a> {
    piece: &'a Piece,
    placed: Affine,
}

fn panels(pattern: &Pattern) -> Vec<Panel> {
    let outside = pattern
        .pieces
        .iter()
        .filter(|piece| !pattern.makeup.is_derived(&piece.name));
    let groups: Vec<(&Piece, Vec<Behind<'_>>)> = outside
        .map(|piece| (piece, behind(pattern, piece)))
        .filter(|(_, behind)| !behind.is_empty())
        .collect();
    let size = words_size(groups.iter().map(|(piece, _)| *piece));
    let shown = groups
        .iter()
        .map(|(piece, behind)| panel(piece, behind, size));
    shown.collect()
}

/// Everything that lies on a piece, or on what lies on it, the lowest first.
fn behind<'a>(pattern: &'a Pattern, piece: &Piece) -> Vec<Behind<'a>> {
    let mut found: Vec<Behind<'a>> = Vec::new();
    add(pattern, &piece.name, Affine::IDENTITY, DEEPEST, &mut found);
    found.sort_by_key(|one| layer_of(one.piece));
    found
}

fn add<'a>(
    pattern: &'a Pattern,
    upon: &str,
    placed: Affine,
    depth: usize,
    found: &mut Vec<Behind<'a>>,
) {
    let here = pattern.makeup.lies.iter().filter(|lies| lies.upon == upon);
    for lies in here {
        let Some(piece) = pattern.piece(&lies.piece) else {
            continue;
        };
        if depth == 0 || found.iter().any(|known| known.piece.name == piece.name) {
            continue;
        }
        let placed = placed * lies.placed;
        found.push(Behind { piece, placed });
        add(pattern, &piece.name, placed, depth - 1, found);
    }
}

/// On which layer of the drawing a piece lies.
pub fn layer_of(piece: &Piece) -> Layer {
    let root = name::root(&piece.name);
    match piece.cut.layer {
        Cloth::Interfacing => Layer::Interfacing,
        _ if root.contains("pocket") => Layer::Pocket,
        Cloth::Facing if root.ends_with("hem-facing") => Layer::HemFacing,
        Cloth::Facing => Layer::Facing,
        Cloth::Lining => Layer::Lining,
        Cloth::Shell => Layer::Shell,
    }
}

fn panel(piece: &Piece, behind: &[Behind<'_>], size: f64) -> Panel {
    let of_piece = Behind {
        piece,
        placed: Affine::IDENTITY,
    };
    let mut items: Vec<Item> = Vec::new();
    for one in behind.iter().chain([&of_piece]) {
        items.extend(drawn(one, size));
    }
    let all = bounds(&items);
    items.extend(key(all, piece, behind, size));
    Panel {
        id: piece.name.clone(),
        title: piece.title(),
        items,
        turns: Turns::None,
    }
}

/// Outline and lines inside of a piece where it lies.
fn drawn(one: &Behind<'_>, size: f64) -> Vec<Item> {
    let layer = layer_of(one.piece);
    let mut outline = geometry::curve::closed_path(&open_outline(one.piece));
    outline.apply_affine(one.placed);
    let fill = (layer == Layer::Interfacing).then_some(Colour::PALE);
    let mut items = vec![Item {
        layer,
        id: Some(one.piece.name.clone()),
        shape: Shape::Path {
            path: outline,
            line: Some(line(layer, size)),
            fill,
        },
    }];
    let fine = Line {
        width_mm: size * 0.03,
        ..line(layer, size)
    }
    .coloured(Colour::QUIET);
    let inside = one.piece.lines.iter().flat_map(|line| &line.runs);
    items.extend(inside.map(|run| Item::path(layer, one.placed * run.to_path(), fine.clone())));
    items
}

/// The line of a layer, for pictures whose words have a size. What lies over something else is narrower than that, so that lines
/// that run on each other are all seen.
fn line(layer: Layer, size: f64) -> Line {
    let dashed = |width: f64, dash: &[f64]| {
        let dash: Vec<f64> = dash.iter().map(|share| share * size).collect();
        Line::dashed(width * size, &dash)
    };
    match layer {
        Layer::Lining => dashed(0.17, &[1.0, 0.45]).coloured(Colour::CHALK),
        Layer::Facing => dashed(0.08, &[0.8, 0.25, 0.12, 0.25]),
        Layer::HemFacing => dashed(0.1, &[0.4, 0.3]),
        Layer::Interfacing => dashed(0.06, &[0.1, 0.22]).coloured(Colour::QUIET),
        Layer::Pocket => dashed(0.08, &[0.7, 0.2, 0.12, 0.2, 0.12, 0.2]),
        _ => Line::solid(0.3 * size).coloured(SHELL),
    }
}

/// Below the drawing: the name of each piece beside its line, each on its own layer.
fn key(all: Rect, piece: &Piece, behind: &[Behind<'_>], size: f64) -> Vec<Item> {
    let mut at = Point::new(all.x0, all.y1 + size * 2.0);
    let names = std::iter::once(piece).chain(behind.iter().rev().map(|one| one.piece));
    let mut items = Vec::new();
    for (index, named) in names.enumerate() {
        let layer = layer_of(named);
        let middle = at - Vec2::new(0.0, size * 0.3);
        let mut path = BezPath::new();
        path.move_to(middle);
        path.line_to(middle + Vec2::new(size * 3.4, 0.0));
        items.push(Item::path(layer, path, line(layer, size)));
        let mut words = Words::new(at + Vec2::new(size * 4.0, 0.0), size, named.title());
        words = words.anchored(Anchor::Start);
        items.push(Item::words(
            layer,
            if index == 0 { words.bold() } else { words },
        ));
        at.y += size * 1.45;
    }
    items
}

/// The size of words that can be read where the whole is seen at once.
fn words_size<'a>(pieces: impl Iterator<Item = &'a Piece>) -> f64 {
    let area: f64 = pieces
        .map(|piece| {
            let bounds = piece.outline_path().control_box();
            (bounds.width() + 60.0) * (bounds.height() + 150.0)
        })
        .sum();
    let [least, most] = WORDS_MM;
    (area.sqrt() * WORDS).clamp(least, most)
}
