//! The whole sheet cut into tiles that a home printer can print and a person can join.
//!
//! A tile shows its own cell of the sheet and, to the right and below, a strip of its neighbours' cells on which they
//! are glued. Invariant: every drop of ink lies in the cell of a printed tile; a tile without ink is not printed.

use geometry::{Rect, Vec2};

use crate::drawing::{Drawing, Panel};
use crate::fault::Fault;
use crate::ink::{self, Turned};
use crate::layout::{self, Page, Placed};
use crate::pack::{self, Effort, Grid, Spot};
use crate::paper::Paper;
use crate::{cover, join};

/// Most tiles that are made of one drawing; more is a slip in a measure.
const MOST_SHEETS: usize = 400;
/// Tiles side by side up to which a sheet is tried for its own sake, and beyond which only if a panel needs it.
const USUAL_COLUMNS: usize = 8;
const MOST_COLUMNS: usize = 120;
/// What the search may look at, for each panel; about five thousandths of a second's work.
const LOOKS_PER_PANEL: usize = 600_000;
/// How many orders `pack::orders` begins with that are no shuffles.
const PLAIN_ORDERS: usize = 4;
/// Orders tried beyond the plain ones.
const SHUFFLES: usize = 12;
/// Sheets that are tried in every turn and order.
const PROMISING: usize = 3;

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
        Ok(Self {
            page: best.page,
            margin: paper.margin_mm,
            grid: best.grid,
            rows: best.rows,
            printed: best.printed,
            placed: place(panels, &turned, &best.spots),
        })
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

/// A way to lay the panels on tiles, and what it costs.
struct Trial {
    sheets: usize,
    joins: usize,
    page: Vec2,
    grid: Grid,
    rows: usize,
    printed: Vec<bool>,
    spots: Vec<Spot>,
}

impl Trial {
    fn of(turned: &[Vec<Turned>], spots: Vec<Spot>, page: Vec2, grid: Grid) -> Self {
        let (rows, printed) = printed_tiles(turned, &spots, grid);
        Self {
            sheets: printed.iter().filter(|one| **one).count(),
            joins: joins(&printed, grid.columns),
            page,
            grid,
            rows,
            printed,
            spots,
        }
    }

    const fn cost(&self) -> (usize, usize) {
        (self.sheets, self.joins)
    }
}

/// The cheapest trial. Every sheet is first tried in the plain orders and with the panels upright or on one side; the
/// most promising ones once more in other orders and in every turn. The search ends when its effort is spent, but not
/// before something was found.
fn search(turned: &[Vec<Turned>], paper: &Paper) -> Result<Option<Trial>, Fault> {
    let mut sheets = Vec::new();
    for page in orientations(paper) {
        sheets.extend(
            grids(paper, page, turned)?
                .into_iter()
                .map(|grid| (page, grid)),
        );
    }
    let mut effort = Effort {
        looks: LOOKS_PER_PANEL * turned.len(),
    };
    let mut trials = Vec::new();
    let orders = pack::orders(turned, SHUFFLES);
    let (plain, other) = orders.split_at(PLAIN_ORDERS.min(orders.len()));
    try_all(turned, plain, &sheets, 2, &mut effort, &mut trials);
    trials.sort_by_key(Trial::cost);
    sheets = promising(&trials);
    try_all(turned, plain, &sheets, 4, &mut effort, &mut trials);
    try_all(turned, other, &sheets, 4, &mut effort, &mut trials);
    Ok(trials.into_iter().min_by_key(Trial::cost))
}

/// The sheets of the cheapest trials, each once; the trials come cheapest first.
fn promising(trials: &[Trial]) -> Vec<(Vec2, Grid)> {
    let mut sheets = Vec::new();
    for sheet in trials.iter().map(|trial| (trial.page, trial.grid)) {
        if sheets.len() < PROMISING && !sheets.contains(&sheet) {
            sheets.push(sheet);
        }
    }
    sheets
}

fn try_all(
    turned: &[Vec<Turned>],
    orders: &[Vec<usize>],
    sheets: &[(Vec2, Grid)],
    turns: usize,
    effort: &mut Effort,
    trials: &mut Vec<Trial>,
) {
    for order in orders {
        for (page, grid) in sheets {
            if effort.looks == 0 && !trials.is_empty() {
                return;
            }
            let spots = pack::on_tiles(turned, order, *grid, turns, effort);
            trials.extend(spots.map(|spots| Trial::of(turned, spots, *page, *grid)));
        }
    }
}

fn orientations(paper: &Paper) -> [Vec2; 2] {
    let (width, height) = paper.size.size_mm();
    [Vec2::new(width, height), Vec2::new(height, width)]
}

fn grids(paper: &Paper, page: Vec2, turned: &[Vec<Turned>]) -> Result<Vec<Grid>, Fault> {
    let taken = 2.0 * paper.margin_mm + paper.overlap_mm;
    let step = page - Vec2::new(taken, taken);
    let overlap = paper.overlap_mm;
    let widest = turned
        .iter()
        .map(|turns| {
            turns
                .iter()
                .map(|one| one.size.x)
                .fold(f64::INFINITY, f64::min)
        })
        .fold(0.0, f64::max);
    let least = ((widest - overlap) / step.x).ceil().max(1.0) as usize;
    if least > MOST_COLUMNS {
        return Err(too_many(paper, least));
    }
    let columns = least..=least.max(USUAL_COLUMNS);
    Ok(columns
        .map(|columns| Grid {
            columns,
            step,
            overlap,
        })
        .collect())
}

fn too_many(paper: &Paper, sheets: usize) -> Fault {
    Fault::TooManySheets {
        sheets,
        paper: paper.size.title(),
        allowed: MOST_SHEETS,
    }
}

/// How many rows there are, and which tiles have ink.
fn printed_tiles(turned: &[Vec<Turned>], spots: &[Spot], grid: Grid) -> (usize, Vec<bool>) {
    let rows = grid.rows_for(pack::lowest(spots, 0));
    let mut printed = vec![false; rows * grid.columns];
    for spot in spots {
        for one in &turned[spot.panel][spot.turn].ink {
            let ink = *one + spot.place.origin().to_vec2();
            let (left, right) = grid.columns_of(ink.x0, ink.x1);
            let (top, bottom) = grid.rows_of(ink.y0, ink.y1, rows);
            for row in top..=bottom {
                printed[row * grid.columns + left..=row * grid.columns + right].fill(true);
            }
        }
    }
    (rows, printed)
}

/// How many edges are shared by two printed tiles.
fn joins(printed: &[bool], columns: usize) -> usize {
    let beside = |index: usize| !(index + 1).is_multiple_of(columns) && printed[index + 1];
    let below = |index: usize| printed.get(index + columns) == Some(&true);
    (0..printed.len())
        .filter(|index| printed[*index])
        .map(|index| usize::from(beside(index)) + usize::from(below(index)))
        .sum()
}

fn place(panels: &[Panel], turned: &[Vec<Turned>], spots: &[Spot]) -> Vec<Placed> {
    let mut spots = spots.to_vec();
    spots.sort_by_key(|spot| spot.panel);
    let put = |spot: &Spot| layout::put(&panels[spot.panel], &turned[spot.panel][spot.turn], spot);
    spots.iter().map(put).collect()
}
