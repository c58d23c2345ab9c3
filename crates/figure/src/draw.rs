//! One view: the body, the tapes over it, the numbers beside it.
//!
//! Brings full size to the scale of the paper in one place. Invariant: tapes lie over the body, numbers over ties.

use body::Measure;
use geometry::curve::closed_path;
use geometry::{Affine, BezPath, Curve, Point, Rect, Vec2};
use sheet::{Anchor, Colour, Item, Layer, Line, Panel, Shape, Turns, Words, circle};

use crate::callout::{self, Callout};
use crate::place::{Figure, Flank, Place};
use crate::style::{self, Style};
use crate::{Side, number, suit};

/// Length of a tick, mm on paper.
const TICK_MM: f64 = 3.0;
/// From the figure to the column of numbers, mm on paper.
const AWAY_MM: f64 = 7.0;

/// The panel of one view.
pub(crate) fn view(figure: &Figure, side: Side, shown: &[Measure], style: &Style) -> Panel {
    let scale = Affine::scale(style.scale);
    let placed: Vec<(Measure, Place)> = shown
        .iter()
        .filter_map(|measure| Some((*measure, figure.place(*measure, side)?)))
        .collect();
    let mut items = body(figure, side, scale);
    for (measure, place) in &placed {
        items.extend(tape(*measure, place, style, scale));
    }
    if style.numbered {
        let reach = reach(&items);
        for flank in [Flank::Left, Flank::Right] {
            items.extend(numbers(&placed, flank, reach, style));
        }
    }
    Panel {
        id: side.word().to_owned(),
        title: side.title().to_owned(),
        items,
        turns: Turns::None,
    }
}

/// The closed outline of a view, full size.
pub(crate) fn outline(figure: &Figure, side: Side) -> Vec<Curve> {
    match side {
        Side::Front | Side::Back => figure.upright.outline(),
        Side::Profile => figure.profile.outline(),
    }
}

fn body(figure: &Figure, side: Side, scale: Affine) -> Vec<Item> {
    let outline = outline(figure, side);
    let whole = Item {
        layer: Layer::Furniture,
        id: Some("body".to_owned()),
        shape: Shape::Path {
            path: scale * closed_path(&outline),
            line: Some(style::body_line()),
            fill: Some(Colour::WHITE),
        },
    };
    let lines = suit::lines(figure, side).into_iter();
    let within = lines.map(|curve| {
        Item::path(
            Layer::Furniture,
            scale * curve.to_path(),
            style::inner_line(),
        )
    });
    std::iter::once(whole).chain(within).collect()
}

fn tape(measure: Measure, place: &Place, style: &Style, scale: Affine) -> Vec<Item> {
    let item = |curve: &Curve, line: Line| {
        Item::path(Layer::Marks, scale * curve.to_path(), line).named(measure.key())
    };
    let far = place
        .far
        .iter()
        .map(|curve| item(curve, style.far(measure)));
    let near = place
        .near
        .iter()
        .map(|curve| item(curve, style.near(measure)));
    let mut items: Vec<Item> = far.chain(near).collect();
    if place.ticks {
        let ends = place.near.iter().flat_map(|curve| {
            [
                (curve.start(), curve.start_direction()),
                (curve.end(), curve.end_direction()),
            ]
        });
        let ticks = ends.map(|(end, way)| tick(scale * end, way));
        items.extend(ticks.map(|path| Item::path(Layer::Marks, path, style.near(measure))));
    }
    items
}

/// A short stroke square to the end of a line.
fn tick(at: Point, way: Vec2) -> BezPath {
    let across = Vec2::new(-way.y, way.x) * (TICK_MM / 2.0);
    stroke(at - across, at + across)
}

fn stroke(from: Point, to: Point) -> BezPath {
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    path
}

/// The box that holds what is drawn so far.
fn reach(items: &[Item]) -> Rect {
    let all = items
        .iter()
        .filter_map(Item::bounds)
        .reduce(|all, one| all.union(one));
    all.unwrap_or_default()
}

fn numbers(placed: &[(Measure, Place)], flank: Flank, reach: Rect, style: &Style) -> Vec<Item> {
    let held: Vec<(Measure, Point)> = placed
        .iter()
        .filter(|(_, place)| place.flank == flank)
        .map(|(measure, place)| (*measure, Affine::scale(style.scale) * place.hold))
        .collect();
    let ring = style.ring_mm();
    let x = match flank {
        Flank::Left => reach.x0 - AWAY_MM - ring,
        Flank::Right => reach.x1 + AWAY_MM + ring,
    };
    let column = callout::column(&held, x, 2.0 * ring + 0.8);
    column
        .iter()
        .flat_map(|callout| numbered(callout, style))
        .collect()
}

fn numbered(callout: &Callout<Measure>, style: &Style) -> Vec<Item> {
    let Callout { what, at, hold } = *callout;
    let colour = style.colour(what);
    let way = (hold - at) / hold.distance(at).max(1e-9);
    let tie = stroke(at + way * style.ring_mm(), hold);
    let ring = Shape::Path {
        path: circle(at, style.ring_mm()),
        line: Some(Line::solid(0.3).coloured(colour)),
        fill: Some(Colour::WHITE),
    };
    let foot = at + Vec2::new(0.0, 0.36 * style.number_mm);
    let words = Words::new(foot, style.number_mm, number(what).to_string());
    vec![
        Item::path(Layer::Furniture, tie, style::leader()),
        Item::filled(Layer::Furniture, circle(hold, 0.6), colour),
        Item {
            layer: Layer::Text,
            id: None,
            shape: ring,
        },
        Item::text(words.anchored(Anchor::Middle).coloured(colour)),
    ]
}
