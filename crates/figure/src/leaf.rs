//! Several views side by side on one floor line, with the list of the numbers below.
//!
//! Invariant: views and list keep clear of each other; the list has every measure that is shown once.

use body::Measure;
use geometry::{Affine, BezPath, Point, Rect, Vec2};
use sheet::{Anchor, Colour, Drawing, Item, Layer, Line, Panel, Shape, Turns, Words};

use crate::place::Figure;
use crate::style::Style;
use crate::{Side, draw, number};

/// White between views, mm.
const BETWEEN_MM: f64 = 9.0;

/// The views with what each shows, and the list of all that is shown.
pub(crate) fn sheet(
    figure: &Figure,
    name: &str,
    views: &[(Side, Vec<Measure>)],
    style: &Style,
) -> Drawing {
    let panels = views
        .iter()
        .map(|(side, shown)| titled(figure, *side, shown, style));
    let mut items = side_by_side(panels.collect());
    if style.numbered {
        let shown: Vec<Measure> = views.iter().flat_map(|(_, shown)| shown.clone()).collect();
        let room = bounds(&items);
        items.extend(list(&shown, room, style));
    }
    Drawing {
        title: name.to_owned(),
        subject: String::new(),
        version: String::new(),
        date: None,
        language: "en".to_owned(),
        panels: vec![Panel {
            id: "figure".to_owned(),
            title: name.to_owned(),
            items,
            turns: Turns::None,
        }],
        lists: Vec::new(),
        plates: Vec::new(),
        legend: Vec::new(),
    }
}

/// A view with its name below the floor.
fn titled(figure: &Figure, side: Side, shown: &[Measure], style: &Style) -> Panel {
    let mut panel = draw::view(figure, side, shown, style);
    let below = Point::new(0.0, 2.2 * style.number_mm);
    let title = Words::new(below, style.number_mm, side.title()).anchored(Anchor::Middle);
    panel.items.push(Item::text(title.coloured(Colour::QUIET)));
    panel
}

fn side_by_side(views: Vec<Panel>) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut right = 0.0;
    for view in views {
        let bounds = view.bounds().unwrap_or_default();
        let shift = Vec2::new(right - bounds.x0, 0.0);
        items.extend(view.items.into_iter().map(|item| moved(item, shift)));
        right += bounds.width() + BETWEEN_MM;
    }
    let reach = bounds(&items);
    let mut floor = BezPath::new();
    floor.move_to((reach.x0, 0.4));
    floor.line_to((reach.x1, 0.4));
    items.insert(
        0,
        Item::path(
            Layer::Furniture,
            floor,
            Line::solid(0.22).coloured(Colour::HELP),
        ),
    );
    items
}

fn moved(item: Item, by: Vec2) -> Item {
    let shape = match item.shape {
        Shape::Path { path, line, fill } => Shape::Path {
            path: Affine::translate(by) * path,
            line,
            fill,
        },
        Shape::Text(words) => Shape::Text(Words {
            at: words.at + by,
            ..words
        }),
    };
    Item { shape, ..item }
}

fn bounds(items: &[Item]) -> Rect {
    let all = items
        .iter()
        .filter_map(Item::bounds)
        .reduce(|all, one| all.union(one));
    all.unwrap_or_default()
}

/// The numbers with what they stand for, in as many columns as there is room for, read downward.
fn list(shown: &[Measure], room: Rect, style: &Style) -> Vec<Item> {
    let size = style.number_mm;
    let mut sorted = shown.to_vec();
    sorted.sort_by_key(|measure| number(*measure));
    sorted.dedup();
    let entry = |measure: Measure| Words::new(Point::ORIGIN, size, measure.label());
    let widest = sorted
        .iter()
        .map(|measure| entry(*measure).width())
        .fold(0.0, f64::max);
    let column = widest + 3.2 * size;
    let columns = ((room.width() / column).floor() as usize).clamp(1, sorted.len().max(1));
    let rows = sorted.len().div_ceil(columns);
    let mut items = Vec::new();
    for (index, measure) in sorted.into_iter().enumerate() {
        let left = room.x0 + column * (index / rows) as f64;
        let at = Point::new(
            left + 1.5 * size,
            room.y1 + size * (2.0 + 1.45 * (index % rows) as f64),
        );
        let digits = Words::new(at, size, number(measure).to_string())
            .bold()
            .anchored(Anchor::End);
        items.push(Item::text(digits.coloured(style.colour(measure))));
        let words = Words {
            at: at + Vec2::new(0.5 * size, 0.0),
            ..entry(measure)
        };
        items.push(Item::text(words));
    }
    items
}
