//! The whole sheet cut into tiles that a home printer can print and a person can join.
//!
//! A tile shows its own cell of the sheet and, to the right and below, a strip of its neighbours' cells on which they
//! are glued. Invariant: every drop of ink lies in the cell of a printed tile; a tile without ink is not printed.

use geometry::{Rect, Vec2};

use crate::drawing::{Drawing, Panel};
use crate::fault::Fault;
use crate::ink::{self, Turned};
use crate::layout::{self, Page, Placed};
use crate::pack::{self, Grid, Spot};
use crate::paper::{Paper, Spread};
use crate::search::search;
use crate::{cover, join, plate};

/// Most tiles that are made of one drawing; more is a slip in a measure.
const MOST_SHEETS: usize = 400;
/// The joined sheet and its tiles.
pub(crate) struct Tiling {
    /// Size of a page, mm.
    pub(crate) page: Vec2,
    /// Margin of a page, mm.
    pub(crate) margin: f64,
    /// The grid over the sheet.
    pub(crate) grid: Grid,
    /// Rows of tiles.
    pub(crate) rows: usize,
    /// Whether a tile is printed, row by row.
    pub(crate) printed: Vec<bool>,
    /// The panels in their places on the sheet.
    pub(crate) placed: Vec<Placed>,
}

/// A tile by its row and column, counted from 0.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Tile {
    pub(crate) row: usize,
    pub(crate) column: usize,
}

impl Tile {
    /// Its label: rows by letter, columns by number, "B3".
    pub(crate) fn label(self) -> String {
        let mut letters = String::new();
        let mut rest = self.row + 1;
        while rest > 0 {
            letters.insert(0, char::from(b'A' + ((rest - 1) % 26) as u8));
            rest = (rest - 1) / 26;
        }
        format!("{letters}{}", self.column + 1)
    }
}

/// Cover and tiles of a drawing.
pub(crate) fn pages(drawing: &Drawing, paper: &Paper) -> Result<Vec<Page>, Fault> {
    let tiling = Tiling::of(&drawing.panels, paper)?;
    let mut pages = cover::pages(drawing, paper, &tiling);
    pages.extend(plate::pages(drawing, paper));
    let front = pages.len();
    pages.extend(tiling.pages(&drawing.title, front));
    Ok(pages)
}

impl Tiling {
    /// The best tiling found: fewest sheets, then fewest joins, then upright.
    pub(crate) fn of(panels: &[Panel], paper: &Paper) -> Result<Self, Fault> {
        let turned: Vec<Vec<Turned>> = panels.iter().map(ink::turned).collect();
        let best = search(&turned, paper)?.ok_or_else(|| too_many(paper, usize::MAX))?;
        if best.sheets > MOST_SHEETS {
            return Err(too_many(paper, best.sheets));
        }
        let mut tiling = Self {
            page: best.page,
            margin: paper.margin_mm,
            grid: best.grid,
            rows: best.rows,
            printed: best.printed,
            placed: place(panels, &turned, &best.spots),
        };
        if paper.size.spread() == Spread::Roll && tiling.rows == 1 {
            tiling.cut_to(pack::lowest(&best.spots, 0));
        }
        Ok(tiling)
    }

    /// Cuts the pages of a single row to the length that is used, rounded up to a whole millimetre.
    fn cut_to(&mut self, used: f64) {
        let height = (used + 2.0 * self.margin)
            .ceil()
            .max(self.margin * 2.0 + 4.0 * self.grid.overlap);
        self.page.y = height;
        self.grid.step.y = height - 2.0 * self.margin - self.grid.overlap;
    }

    /// The printed tiles, row by row.
    pub(crate) fn tiles(&self) -> impl Iterator<Item = Tile> + '_ {
        let all = (0..self.rows)
            .flat_map(|row| (0..self.grid.columns).map(move |column| Tile { row, column }));
        all.filter(|tile| self.is_printed(tile.row, tile.column))
    }

    /// Whether there is such a tile and it is printed.
    pub(crate) fn is_printed(&self, row: usize, column: usize) -> bool {
        column < self.grid.columns
            && self.printed.get(row * self.grid.columns + column) == Some(&true)
    }

    /// The part of a page that is printed on.
    pub(crate) fn printable(&self) -> Rect {
        Rect::new(0.0, 0.0, self.page.x, self.page.y).inset(-self.margin)
    }

    /// The part of the sheet that a tile shows.
    pub(crate) fn window(&self, tile: Tile) -> Rect {
        let corner = (
            tile.column as f64 * self.grid.step.x,
            tile.row as f64 * self.grid.step.y,
        );
        Rect::from_origin_size(corner, self.printable().size())
    }

    /// The part of the sheet that holds all tiles.
    pub(crate) fn sheet(&self) -> Rect {
        let last = Tile {
            row: self.rows - 1,
            column: self.grid.columns - 1,
        };
        Rect::new(0.0, 0.0, 0.0, 0.0).union(self.window(last))
    }

    /// Whether no piece has ink there on the sheet.
    pub(crate) fn is_clear(&self, place: Rect) -> bool {
        let near = self.placed.iter().filter(|one| one.place.overlaps(place));
        !near.flat_map(|one| &one.ink).any(|ink| ink.overlaps(place))
    }

    /// The pages of the tiles, with `front` pages before them.
    pub(crate) fn pages(&self, title: &str, front: usize) -> Vec<Page> {
        let count = front + self.tiles().count();
        let joins = join::Joins::of(self);
        let page = |(index, tile): (usize, Tile)| {
            let note = format!("{title} · sheet {} of {count}", front + index + 1);
            self.page(tile, join::furniture(self, &joins, tile, &note))
        };
        self.tiles().enumerate().map(page).collect()
    }

    fn page(&self, tile: Tile, furniture: layout::Group) -> Page {
        let (window, printed) = (self.window(tile), self.printable());
        let pieces = self
            .placed
            .iter()
            .filter_map(|one| one.on_page(window, printed));
        Page {
            label: tile.label(),
            width_mm: self.page.x,
            height_mm: self.page.y,
            printed,
            shows: Some(window),
            groups: std::iter::once(furniture).chain(pieces).collect(),
        }
    }
}

/// The fault of a drawing that needs so many sheets.
pub(crate) fn too_many(paper: &Paper, sheets: usize) -> Fault {
    Fault::TooManySheets {
        sheets,
        paper: paper.size.title(),
        allowed: MOST_SHEETS,
    }
}

fn place(panels: &[Panel], turned: &[Vec<Turned>], spots: &[Spot]) -> Vec<Placed> {
    let mut spots = spots.to_vec();
    spots.sort_by_key(|spot| spot.panel);
    let put = |spot: &Spot| layout::put(&panels[spot.panel], &turned[spot.panel][spot.turn], spot);
    spots.iter().map(put).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_letters_and_columns_numbers() {
        let label = |row, column| Tile { row, column }.label();
        assert_eq!(label(0, 0), "A1");
        assert_eq!(label(1, 2), "B3");
        assert_eq!(label(25, 9), "Z10");
        assert_eq!(label(26, 0), "AA1");
        assert_eq!(label(53, 0), "BB1");
    }
}
