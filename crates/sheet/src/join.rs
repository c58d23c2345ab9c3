//! What is printed on a tile so that it can be told from the others, trimmed, and joined to its neighbours.
//!
//! A tile lies with its trimmed left and upper edges on the grey strips of the tiles before it. Each join bears a number
//! in diamonds that straddle it: half a diamond on either sheet, which meet when the sheets lie right. Only joins between
//! two printed tiles are marked. Words and diamonds keep clear of the pieces' ink where there is room.

use geometry::{BezPath, Point, Rect, Vec2};

use crate::drawing::{Anchor, Colour, Item, Line, Words};
use crate::font::Weight;
use crate::layer::Layer;
use crate::layout::Group;
use crate::marks::{self, rectangle, scissors};
use crate::tiles::{Tile, Tiling};

/// Half a diamond's diagonal, mm.
const DIAMOND_MM: f64 = 6.0;
/// Where the two diamonds of a join may lie along a cell, the best place first.
const FIRST_HALF: [f64; 5] = [0.25, 0.2, 0.3, 0.15, 0.35];
const SECOND_HALF: [f64; 5] = [0.75, 0.8, 0.7, 0.85, 0.65];
/// Where the words of a strip may stand along a cell.
const WORDS_ALONG: [f64; 5] = [0.5, 0.55, 0.45, 0.6, 0.4];
/// Where scissors may lie along a cell.
const SCISSORS_ALONG: [f64; 5] = [0.5, 0.45, 0.55, 0.4, 0.6];
const LABEL_MM: f64 = 12.0;
const NOTE_MM: f64 = 2.8;
const LABEL_COLOUR: Colour = Colour(176, 176, 176);

/// The joins between printed tiles.
pub(crate) struct Joins {
    columns: usize,
    /// Of each tile: the join on its right, the join below it.
    of_tile: Vec<[Option<Join>; 2]>,
}

/// A join: its number, and where its diamonds lie along it, mm from the corner of the cell.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Join {
    number: usize,
    diamonds: [f64; 2],
}

impl Joins {
    /// Numbers the joins in the order of the tiles, the one on the right first.
    pub(crate) fn of(tiling: &Tiling) -> Self {
        let columns = tiling.grid.columns;
        let mut number = 0;
        let mut of_tile = vec![[None; 2]; columns * tiling.rows];
        for tile in tiling.tiles() {
            let neighbours = [
                (Side::Right, tile.row, tile.column + 1),
                (Side::Below, tile.row + 1, tile.column),
            ];
            for (index, (side, row, column)) in neighbours.into_iter().enumerate() {
                if tiling.is_printed(row, column) {
                    number += 1;
                    let diamonds = diamonds(tiling, tile, side);
                    of_tile[tile.row * columns + tile.column][index] =
                        Some(Join { number, diamonds });
                }
            }
        }
        Self { columns, of_tile }
    }

    fn at(&self, tile: Tile, side: Side) -> Option<Join> {
        let (row, column, index) = match side {
            Side::Right => (tile.row, tile.column, 0),
            Side::Below => (tile.row, tile.column, 1),
            Side::Left => (tile.row, tile.column.checked_sub(1)?, 0),
            Side::Above => (tile.row.checked_sub(1)?, tile.column, 1),
        };
        self.of_tile[row * self.columns + column][index]
    }
}

/// Where the diamonds of a join lie: clear of ink where there is such a place.
fn diamonds(tiling: &Tiling, tile: Tile, side: Side) -> [f64; 2] {
    let (along, across) = side.axes();
    let corner = side.corner(tiling.window(tile), tiling.grid.step);
    let length = along.dot(tiling.grid.step);
    [FIRST_HALF, SECOND_HALF].map(|choices| {
        let distance = |choice: f64| (choice * length * 100.0).round() / 100.0;
        let clear = choices.into_iter().map(distance).find(|at| {
            let centre = corner + along * *at;
            let reach = (along + across) * DIAMOND_MM;
            tiling.is_clear(Rect::from_points(centre - reach, centre + reach))
        });
        clear.unwrap_or(distance(choices[0]))
    })
}

/// Everything but the pieces on a tile's page; `note` stands under its label.
pub(crate) fn furniture(tiling: &Tiling, joins: &Joins, tile: Tile, note: &str) -> Group {
    let mut desk = Desk {
        tiling,
        tile,
        items: Vec::new(),
        taken: Vec::new(),
    };
    for side in [Side::Right, Side::Below] {
        if joins.at(tile, side).is_some() {
            desk.strip(side);
        }
    }
    for side in Side::ALL {
        if let Some(join) = joins.at(tile, side) {
            desk.join(side, join);
        }
    }
    desk.label(note);
    Group {
        id: None,
        clip: None,
        items: desk.items,
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Left,
    Above,
    Right,
    Below,
}

impl Side {
    const ALL: [Self; 4] = [Self::Left, Self::Above, Self::Right, Self::Below];

    /// The direction along the join, and the one across it to the right or down.
    const fn axes(self) -> (Vec2, Vec2) {
        let (x, y) = (Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0));
        match self {
            Self::Left | Self::Right => (y, x),
            Self::Above | Self::Below => (x, y),
        }
    }

    const fn is_trimmed(self) -> bool {
        matches!(self, Self::Left | Self::Above)
    }

    /// Where the join begins, at a corner of the tile's cell.
    fn corner(self, window: Rect, step: Vec2) -> Point {
        let corner = window.origin();
        match self {
            Self::Left | Self::Above => corner,
            Self::Right => corner + Vec2::new(step.x, 0.0),
            Self::Below => corner + Vec2::new(0.0, step.y),
        }
    }
}

/// One tile's page while its furniture is set out, in page coordinates.
struct Desk<'a> {
    tiling: &'a Tiling,
    tile: Tile,
    items: Vec<Item>,
    /// Where furniture stands already.
    taken: Vec<Rect>,
}

impl Desk<'_> {
    fn printed(&self) -> Rect {
        self.tiling.printable()
    }

    /// Where a join begins on the page, and how long it is there.
    fn edge(&self, side: Side) -> (Point, f64) {
        let (along, _) = side.axes();
        let start = side.corner(self.printed(), self.tiling.grid.step);
        (start, along.dot(self.printed().size().to_vec2()))
    }

    fn cell(&self, side: Side) -> f64 {
        side.axes().0.dot(self.tiling.grid.step)
    }

    /// Whether neither ink nor furniture stands there.
    fn is_clear(&self, place: Rect) -> bool {
        let shift = self.tiling.window(self.tile).origin() - self.printed().origin();
        self.tiling.is_clear(place + shift) && !self.taken.iter().any(|taken| taken.overlaps(place))
    }

    fn line(&mut self, path: BezPath, line: Line) {
        let line = line.coloured(Colour::QUIET);
        self.items.push(Item::path(Layer::Furniture, path, line));
    }

    fn words(&mut self, words: Words) {
        self.items.push(Item::words(Layer::Furniture, words));
    }

    /// The grey of the strip on which the next sheet is glued.
    fn strip(&mut self, side: Side) {
        let (start, _) = self.edge(side);
        let strip = Rect::from_points(start, (self.printed().x1, self.printed().y1));
        self.items.push(Item::filled(
            Layer::Furniture,
            rectangle(strip),
            Colour::PALE,
        ));
    }

    /// A join's line with its diamonds; scissors where it is trimmed, and what to glue there where it is not.
    fn join(&mut self, side: Side, join: Join) {
        let (along, across) = side.axes();
        let (start, length) = self.edge(side);
        let dash: &[f64] = if side.is_trimmed() { &[] } else { &[2.0, 1.5] };
        self.line(
            marks::line(start, start + along * length),
            Line::dashed(0.25, dash),
        );
        for at in join.diamonds {
            let centre = start + along * at;
            self.half_diamond(centre, along, across, join.number);
            if !side.is_trimmed() {
                self.half_diamond(centre, along, -across, join.number);
            }
        }
        if side.is_trimmed() {
            self.scissors(side);
        } else {
            self.glue_here(side);
        }
    }

    /// Half a diamond on the side of a join to which `across` points, with the number of the join.
    fn half_diamond(&mut self, centre: Point, along: Vec2, across: Vec2, number: usize) {
        let mut path = BezPath::new();
        path.move_to(centre - along * DIAMOND_MM);
        path.line_to(centre + across * DIAMOND_MM);
        path.line_to(centre + along * DIAMOND_MM);
        self.line(path, Line::solid(0.25));
        let size = if number < 100 { 2.6 } else { 2.0 };
        let base = centre + across * (0.36 * DIAMOND_MM) + Vec2::new(0.0, 0.35 * size);
        let words = Words::new(base, size, number.to_string());
        self.words(words.anchored(Anchor::Middle).coloured(Colour::QUIET));
        let corner = centre + across * DIAMOND_MM;
        self.taken.push(
            Rect::from_points(centre - along * DIAMOND_MM, corner)
                .union_pt(centre + along * DIAMOND_MM),
        );
    }

    fn scissors(&mut self, side: Side) {
        let (along, across) = side.axes();
        let (start, _) = self.edge(side);
        let place = |choice: f64| start + along * (choice * self.cell(side));
        let reach =
            |at: Point| Rect::from_points(at - along * 9.0 - across * 3.0, at + across * 3.0);
        let clear = SCISSORS_ALONG
            .into_iter()
            .map(place)
            .find(|at| self.is_clear(reach(*at)));
        let at = clear.unwrap_or(place(SCISSORS_ALONG[0]));
        self.line(scissors(at, along), Line::solid(0.25));
    }

    fn glue_here(&mut self, side: Side) {
        let neighbour = match side {
            Side::Right | Side::Left => Tile {
                column: self.tile.column + 1,
                ..self.tile
            },
            Side::Below | Side::Above => Tile {
                row: self.tile.row + 1,
                ..self.tile
            },
        };
        let (along, across) = side.axes();
        let (start, _) = self.edge(side);
        let depth = self.tiling.grid.overlap;
        let upright = along.y != 0.0;
        let words = |choice: f64| {
            let drop = across * (depth / 2.0 + if upright { -1.0 } else { 1.0 });
            let base = start + along * (choice * self.cell(side)) + drop;
            Words::new(base, 3.0, format!("{} goes here", neighbour.label()))
                .anchored(Anchor::Middle)
                .turned(if upright { 90.0 } else { 0.0 })
                .coloured(Colour::QUIET)
        };
        let clear = WORDS_ALONG
            .into_iter()
            .map(words)
            .find(|words| self.is_clear(words.bounds()));
        let words = clear.unwrap_or_else(|| words(WORDS_ALONG[0]));
        self.words(words);
    }

    /// The tile's label with a note below it: at the top on the left, or where else in the cell there is room.
    fn label(&mut self, note: &str) {
        let label = self.tile.label();
        let width = Words::new(Point::ORIGIN, NOTE_MM, note).width();
        let height = LABEL_MM + 1.6 * NOTE_MM;
        let cell = Rect::from_origin_size(self.printed().origin(), self.tiling.grid.step.to_size())
            .inset(-9.0);
        let room = Vec2::new(cell.width() - width, cell.height() - height);
        let choices =
            (0..=4).flat_map(|y| (0..=4).map(move |x| (f64::from(x) / 4.0, f64::from(y) / 4.0)));
        let block = |(x, y): (f64, f64)| {
            Rect::from_origin_size(
                cell.origin() + Vec2::new(x * room.x, y * room.y),
                (width, height),
            )
        };
        let clear = choices
            .map(block)
            .find(|place| self.is_clear(place.inflate(1.0, 1.0)));
        let place = clear.unwrap_or(block((0.0, 0.0)));
        let base = Point::new(place.x0, place.y0 + 0.76 * LABEL_MM);
        let mut large = Words::new(base, LABEL_MM, label).coloured(LABEL_COLOUR);
        large.weight = Weight::Bold;
        self.words(large);
        let below = Point::new(place.x0, place.y1 - 0.6 * NOTE_MM);
        self.words(Words::new(below, NOTE_MM, note).coloured(Colour::QUIET));
    }
}
