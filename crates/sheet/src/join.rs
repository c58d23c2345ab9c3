//! What is printed on a tile so that it can be told from the others, trimmed, and joined to its neighbours.
//!
//! A tile lies with its trimmed left and upper edges on the grey strips of the tiles before it. Each join bears a number
//! in diamonds that straddle it: half a diamond on either sheet, which meet when the sheets lie right. Only joins between
//! two printed tiles are marked.

use geometry::{BezPath, Point, Rect, Vec2};

use crate::drawing::{Anchor, Colour, Item, Line, Words};
use crate::layer::Layer;
use crate::layout::Group;
use crate::marks::{self, scissors};
use crate::tiles::{Tile, Tiling};

/// Half a diamond's diagonal, mm.
const DIAMOND_MM: f64 = 6.0;
/// Where the diamonds of a join lie along it.
const ALONG: [f64; 2] = [0.25, 0.75];

/// The numbers of the joins.
pub(crate) struct Numbers {
    columns: usize,
    /// Of each tile: the join on its right, the join below it.
    of_tile: Vec<[Option<usize>; 2]>,
}

impl Numbers {
    /// Numbers the joins in the order of the tiles, the one on the right first.
    pub(crate) fn of(tiling: &Tiling) -> Self {
        let columns = tiling.grid.columns;
        let mut next = 0;
        let mut of_tile = vec![[None; 2]; columns * tiling.rows];
        for tile in tiling.tiles() {
            let neighbours = [(tile.row, tile.column + 1), (tile.row + 1, tile.column)];
            for (side, (row, column)) in neighbours.into_iter().enumerate() {
                if tiling.is_printed(row, column) {
                    next += 1;
                    of_tile[tile.row * columns + tile.column][side] = Some(next);
                }
            }
        }
        Self { columns, of_tile }
    }

    fn right(&self, tile: Tile) -> Option<usize> {
        self.of_tile[tile.row * self.columns + tile.column][0]
    }

    fn below(&self, tile: Tile) -> Option<usize> {
        self.of_tile[tile.row * self.columns + tile.column][1]
    }

    fn left(&self, tile: Tile) -> Option<usize> {
        let column = tile.column.checked_sub(1)?;
        self.right(Tile { column, ..tile })
    }

    fn above(&self, tile: Tile) -> Option<usize> {
        let row = tile.row.checked_sub(1)?;
        self.below(Tile { row, ..tile })
    }
}

/// Everything but the pieces on a tile's page; `note` stands under its label.
pub(crate) fn furniture(tiling: &Tiling, numbers: &Numbers, tile: Tile, note: &str) -> Group {
    let printed = tiling.printable();
    let step = tiling.grid.step;
    let mut items = Vec::new();
    let flaps = [Side::Right, Side::Below];
    for side in flaps {
        if let Some(number) = side.number(numbers, tile) {
            items.extend(flap(
                side,
                printed,
                step,
                number,
                &side.neighbour(tile).label(),
            ));
        }
    }
    for side in [Side::Left, Side::Above] {
        if let Some(number) = side.number(numbers, tile) {
            items.extend(trimmed_edge(side, printed, step, number));
        }
    }
    items.extend(label(printed.origin(), &tile.label(), note));
    Group {
        id: None,
        clip: None,
        items,
    }
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Left,
    Above,
    Right,
    Below,
}

impl Side {
    fn number(self, numbers: &Numbers, tile: Tile) -> Option<usize> {
        match self {
            Self::Left => numbers.left(tile),
            Self::Above => numbers.above(tile),
            Self::Right => numbers.right(tile),
            Self::Below => numbers.below(tile),
        }
    }

    /// The tile beyond a flap.
    const fn neighbour(self, tile: Tile) -> Tile {
        match self {
            Self::Right | Self::Left => Tile {
                column: tile.column + 1,
                ..tile
            },
            Self::Below | Self::Above => Tile {
                row: tile.row + 1,
                ..tile
            },
        }
    }

    /// The direction along the join, and the one across it to the right or down.
    const fn axes(self) -> (Vec2, Vec2) {
        let (x, y) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
        match self {
            Self::Left | Self::Right => (y, x),
            Self::Above | Self::Below => (x, y),
        }
    }

    /// Where the join begins on the page, and its length.
    fn join(self, printed: Rect, step: Vec2) -> (Point, f64) {
        let corner = printed.origin();
        match self {
            Self::Left => (corner, printed.height()),
            Self::Above => (corner, printed.width()),
            Self::Right => (corner + Vec2::new(step.x, 0.0), printed.height()),
            Self::Below => (corner + Vec2::new(0.0, step.y), printed.width()),
        }
    }

    /// The length between two corners of the grid along the join.
    fn cell(self, step: Vec2) -> f64 {
        let (along, _) = self.axes();
        along.dot(step)
    }
}

/// The strip on which the next sheet is glued: grey, a dashed line where its edge comes, diamonds, and its label.
fn flap(side: Side, printed: Rect, step: Vec2, number: usize, neighbour: &str) -> Vec<Item> {
    let (along, across) = side.axes();
    let (start, length) = side.join(printed, step);
    let depth = across.dot(Vec2::new(printed.x1, printed.y1) - start.to_vec2());
    let strip = Rect::from_points(start, start + along * length + across * depth);
    let edge = Line::dashed(0.25, &[2.0, 1.5]).coloured(Colour::QUIET);
    let mut items = vec![
        Item::filled(Layer::Furniture, rectangle(strip), Colour::PALE),
        Item::path(
            Layer::Furniture,
            marks::line(start, start + along * length),
            edge,
        ),
    ];
    for place in ALONG {
        let centre = start + along * (place * side.cell(step));
        items.extend(half_diamond(centre, along, -across, number));
        items.extend(half_diamond(centre, along, across, number));
    }
    let middle = start + along * (0.5 * side.cell(step));
    let upright = along.y != 0.0;
    let base = middle + across * (depth / 2.0 + if upright { -1.0 } else { 1.0 });
    let words = Words::new(
        base,
        3.0,
        format!("glue sheet {neighbour} here, its trimmed edge on the line"),
    )
    .anchored(Anchor::Middle)
    .turned(if upright { 90.0 } else { 0.0 })
    .coloured(Colour::QUIET);
    items.push(Item::words(Layer::Furniture, words));
    items
}

/// The edge that is trimmed and lies on the sheet before: a solid line with scissors, and half diamonds.
fn trimmed_edge(side: Side, printed: Rect, step: Vec2, number: usize) -> Vec<Item> {
    let (along, across) = side.axes();
    let (start, length) = side.join(printed, step);
    let line = Line::solid(0.25).coloured(Colour::QUIET);
    let mut items = vec![Item::path(
        Layer::Furniture,
        marks::line(start, start + along * length),
        line.clone(),
    )];
    for place in ALONG {
        let centre = start + along * (place * side.cell(step));
        items.extend(half_diamond(centre, along, across, number));
    }
    let at = start + along * (0.5 * side.cell(step));
    items.push(Item::path(Layer::Furniture, scissors(at, along), line));
    items
}

/// Half a diamond on the side of a join to which `across` points, with the number of the join.
fn half_diamond(centre: Point, along: Vec2, across: Vec2, number: usize) -> [Item; 2] {
    let mut path = BezPath::new();
    path.move_to(centre - along * DIAMOND_MM);
    path.line_to(centre + across * DIAMOND_MM);
    path.line_to(centre + along * DIAMOND_MM);
    let size = 2.6;
    let base = centre + across * (0.4 * DIAMOND_MM) + Vec2::new(0.0, 0.35 * size);
    let words = Words::new(base, size, number.to_string())
        .anchored(Anchor::Middle)
        .coloured(Colour::QUIET);
    let line = Line::solid(0.25).coloured(Colour::QUIET);
    [
        Item::path(Layer::Furniture, path, line),
        Item::words(Layer::Furniture, words),
    ]
}

fn label(corner: Point, label: &str, note: &str) -> [Item; 2] {
    let large = Words::new(corner + Vec2::new(9.0, 17.0), 12.0, label)
        .bold()
        .coloured(Colour(176, 176, 176));
    let small = Words::new(corner + Vec2::new(9.0, 22.0), 2.8, note).coloured(Colour::QUIET);
    [
        Item::words(Layer::Furniture, large),
        Item::words(Layer::Furniture, small),
    ]
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
