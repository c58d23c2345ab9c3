//! The search for the tiling with the fewest sheets.
//!
//! Every grid of tiles is tried with the panels in several orders, upright paper and paper on its side; the promising ones
//! more thoroughly. Invariant: the work grows in step with the panels, whatever their ink, and the same panels give the
//! same tiling.

use geometry::Vec2;

use crate::fault::Fault;
use crate::ink::Turned;
use crate::pack::{self, Effort, Grid, Spot};
use crate::paper::{Paper, Spread};
use crate::tiles::too_many;

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

/// A way to lay the panels on tiles, and what it costs.
pub(crate) struct Trial {
    /// Sheets to print.
    pub(crate) sheets: usize,
    joins: usize,
    /// Size of a page, mm.
    pub(crate) page: Vec2,
    /// The grid of tiles.
    pub(crate) grid: Grid,
    /// Rows of tiles.
    pub(crate) rows: usize,
    /// Which tiles have ink, row by row.
    pub(crate) printed: Vec<bool>,
    /// Where the panels lie.
    pub(crate) spots: Vec<Spot>,
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

    /// Fewest sheets first; then little to join, and a small floor to lay them out on: three places of the floor weigh as
    /// much as one join.
    const fn cost(&self) -> (usize, usize) {
        (self.sheets, 3 * self.joins + self.printed.len())
    }
}

/// The cheapest trial. Every sheet is first tried in the plain orders and with the panels upright or on one side; the
/// most promising ones once more in other orders and in every turn. The search ends when its effort is spent, but not
/// before something was found.
pub(crate) fn search(turned: &[Vec<Turned>], paper: &Paper) -> Result<Option<Trial>, Fault> {
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

/// Upright and on its side; a roll has only one way.
fn orientations(paper: &Paper) -> Vec<Vec2> {
    let (width, height) = paper.size.size_mm();
    let upright = Vec2::new(width, height);
    match paper.size.spread() {
        Spread::Roll => vec![upright],
        Spread::Tiles | Spread::Sheets => vec![upright, Vec2::new(height, width)],
    }
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
