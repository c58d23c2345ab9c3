//! The map: the joined sheet drawn small, with the label of every printed tile.

use geometry::{Affine, Point, Rect, Vec2};

use crate::cover::{fitting, furniture};
use crate::drawing::{Anchor, Colour, Item, Line, Shape, Words};
use crate::font::Weight;
use crate::layer::Layer;
use crate::layout::Placed;
use crate::marks::rectangle;
use crate::tiles::{Tile, Tiling};

/// Draws the map as large as the area allows; returns where it ends below.
pub(crate) fn items(tiling: &Tiling, area: Rect) -> (Vec<Item>, f64) {
    let sheet = tiling.sheet();
    let heading = Words::new(
        area.origin() + Vec2::new(0.0, 4.2),
        4.2,
        "The sheets, joined",
    )
    .bold();
    let corner = area.origin() + Vec2::new(0.0, 8.0);
    let scale = (area.width() / sheet.width()).min((area.height() - 8.0) / sheet.height());
    let place = Affine::new([scale, 0.0, 0.0, scale, corner.x, corner.y]);
    let mut items = vec![
        furniture(heading),
        Item::filled(
            Layer::Furniture,
            rectangle(place.transform_rect_bbox(sheet)),
            Colour::PALE,
        ),
    ];
    items.extend(
        tiling
            .tiles()
            .map(|tile| paper(place.transform_rect_bbox(cell(tiling, tile)))),
    );
    items.extend(tiling.placed.iter().flat_map(|one| outline(one, place)));
    let names: Vec<Words> = tiling
        .placed
        .iter()
        .filter_map(|one| name(one, place))
        .collect();
    let taken: Vec<Rect> = names.iter().map(Words::bounds).collect();
    let is_free = |at: Rect| !taken.iter().any(|one| one.overlaps(at));
    let is_clear =
        |at: Rect| is_free(at) && tiling.is_clear(place.inverse().transform_rect_bbox(at));
    for tile in tiling.tiles() {
        let words = labels(place.transform_rect_bbox(cell(tiling, tile)), tile);
        let found = |holds: &dyn Fn(Rect) -> bool| words.iter().find(|words| holds(words.bounds()));
        let best = found(&is_clear)
            .or_else(|| found(&is_free))
            .unwrap_or(&words[0]);
        items.push(furniture(best.clone()));
    }
    for words in names {
        let behind = rectangle(words.bounds());
        items.push(Item::filled(Layer::Furniture, behind, Colour::WHITE));
        items.push(furniture(words));
    }
    (items, corner.y + scale * sheet.height())
}

/// The part of the sheet that only this tile shows, and what the last of a row or column shows beyond it.
fn cell(tiling: &Tiling, tile: Tile) -> Rect {
    let window = tiling.window(tile);
    let is_last = |index: usize, count: usize| index + 1 == count;
    let overlap = |last: bool| if last { 0.0 } else { tiling.grid.overlap };
    Rect::new(
        window.x0,
        window.y0,
        window.x1 - overlap(is_last(tile.column, tiling.grid.columns)),
        window.y1 - overlap(is_last(tile.row, tiling.rows)),
    )
}

fn paper(cell: Rect) -> Item {
    Item {
        layer: Layer::Furniture,
        id: None,
        shape: Shape::Path {
            path: rectangle(cell),
            line: Some(Line::solid(0.18).coloured(Colour::HELP)),
            fill: Some(Colour::WHITE),
        },
    }
}

fn outline(placed: &Placed, place: Affine) -> Vec<Item> {
    let cut = placed
        .items
        .iter()
        .filter(|item| item.layer == Layer::CuttingLine);
    let paths = cut.filter_map(|item| match &item.shape {
        Shape::Path { path, .. } => Some(place * path),
        Shape::Text(_) => None,
    });
    paths
        .map(|path| Item::path(Layer::Furniture, path, Line::solid(0.25)))
        .collect()
}

/// The label of a tile in each place of its cell where it may stand, the best first: corners, then sides, then smaller.
fn labels(cell: Rect, tile: Tile) -> Vec<Words> {
    let size = (cell.height() * 0.28).clamp(1.6, 4.0);
    let sizes = [size, (0.7 * size).max(1.6)];
    sizes
        .into_iter()
        .flat_map(|size| labels_of(cell, tile, size))
        .collect()
}

fn labels_of(cell: Rect, tile: Tile, size: f64) -> Vec<Words> {
    let words = Words::new(cell.origin(), size, tile.label()).coloured(Colour::QUIET);
    let (left, right) = (cell.x0 + 0.25 * size, cell.x1 - 0.3 * size - words.width());
    let (high, low) = (cell.y0 + 0.95 * size, cell.y1 - 0.3 * size);
    let (middle, centre) = (f64::midpoint(left, right), f64::midpoint(high, low));
    let places = [
        (left, high),
        (right, high),
        (left, low),
        (right, low),
        (left, centre),
        (right, centre),
        (middle, high),
        (middle, low),
    ];
    let at = |at: (f64, f64)| Words {
        at: at.into(),
        ..words.clone()
    };
    places.into_iter().map(at).collect()
}

/// The name of a piece in its middle, upright along its longer side; left out where it would not be read.
fn name(placed: &Placed, place: Affine) -> Option<Words> {
    let box_ = place.transform_rect_bbox(placed.place);
    let stands = box_.height() > 1.6 * box_.width();
    let room = 0.8 * box_.width().max(box_.height());
    let size = fitting(&placed.title, 2.8, Weight::Bold, room);
    if size < 1.5 {
        return None;
    }
    let drop = 0.35 * size;
    let (turn, shift) = if stands {
        (-90.0, Vec2::new(drop, 0.0))
    } else {
        (0.0, Vec2::new(0.0, drop))
    };
    let at: Point = box_.center() + shift;
    let words = Words::new(at, size, placed.title.as_str());
    Some(words.bold().anchored(Anchor::Middle).turned(turn))
}
