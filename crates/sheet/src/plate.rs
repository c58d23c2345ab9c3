//! Plates: panels made smaller, whole on one page, to be looked at and not cut by.
//!
//! Invariant: everything of a plate is made smaller alike, words and lines too, so that it looks as it does at full size.

use geometry::{Affine, Point, Rect, Vec2};

use crate::cover::furniture;
use crate::drawing::{Drawing, Item, Panel, Shape, Turns, Words};
use crate::layout::{Group, Page};
use crate::paper::Paper;

/// Height of the line above a plate, mm.
const TITLE_MM: f64 = 5.0;
/// Room below that line, mm.
const GAP_MM: f64 = 5.0;

/// A page for each plate of a drawing.
pub(crate) fn pages(drawing: &Drawing, paper: &Paper) -> Vec<Page> {
    let (width, height) = paper.size.size_mm();
    let printed = Rect::new(0.0, 0.0, width, height).inset(-paper.margin_mm);
    let pages = drawing.plates.iter().enumerate();
    pages
        .map(|(index, plate)| Page {
            label: format!("plate {}", index + 1),
            width_mm: width,
            height_mm: height,
            printed,
            shows: None,
            groups: vec![Group {
                id: Some(plate.id.clone()),
                clip: None,
                items: fitted(plate, printed),
            }],
        })
        .collect()
}

/// A plate as a panel of at most a size, to be packed among others.
pub(crate) fn panel(plate: &Panel, size: Vec2) -> Panel {
    Panel {
        id: format!("plate-{}", plate.id),
        title: plate.title.clone(),
        items: fitted(plate, Rect::from_origin_size(Point::ORIGIN, size.to_size())),
        turns: Turns::None,
    }
}

/// The title and everything of a plate below it, within a room; never larger than life.
fn fitted(plate: &Panel, room: Rect) -> Vec<Item> {
    let bounds = plate.bounds().unwrap_or_default();
    let (width, height) = (room.width(), room.height() - TITLE_MM - GAP_MM);
    let scale = (width / bounds.width())
        .min(height / bounds.height())
        .min(1.0);
    let corner = Point::new(room.x0, room.y0 + TITLE_MM + GAP_MM);
    let into = Affine::translate(corner.to_vec2())
        * Affine::scale(scale)
        * Affine::translate(-bounds.origin().to_vec2());
    let below = Point::new(room.x0, room.y0 + TITLE_MM);
    let title = format!("{} · to look at, not to cut by", plate.title);
    let mut items = vec![furniture(Words::new(below, TITLE_MM, title).bold())];
    items.extend(plate.items.iter().map(|item| scaled(item, into, scale)));
    items.sort_by_key(|item| item.layer);
    items
}

fn scaled(item: &Item, into: Affine, scale: f64) -> Item {
    let mut item = item.clone();
    match &mut item.shape {
        Shape::Path { path, line, .. } => {
            path.apply_affine(into);
            if let Some(line) = line {
                line.width_mm *= scale;
                line.dash.iter_mut().for_each(|dash| *dash *= scale);
            }
        }
        Shape::Text(words) => {
            words.at = into * words.at;
            words.size_mm *= scale;
        }
    }
    item
}
