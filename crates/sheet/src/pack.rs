//! Packing: where the panels lie on a sheet, so that few pages are printed.
//!
//! Panels are packed by their boxes, in several orders; where a grid of tiles lies over the sheet, a place is judged by
//! how many tiles the panel's *ink* would add. Knows boxes of ink only. Invariant: boxes keep [`GAP_MM`] apart and
//! stay on the sheet; the work is bounded, and the same panels lie in the same places every time.

use geometry::{Rect, Vec2};

use crate::ink::Turned;

/// Room between the boxes of two panels, mm: enough to see whose line is whose.
pub(crate) const GAP_MM: f64 = 6.0;
/// What rounding may take or add, mm.
const HAIR_MM: f64 = 1e-6;

/// Where a panel lies.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Spot {
    /// Index of the panel.
    pub(crate) panel: usize,
    /// Index of its turn.
    pub(crate) turn: usize,
    /// Index of the page, where panels are packed whole.
    pub(crate) page: usize,
    /// Where the panel's box lies on the sheet or page, mm.
    pub(crate) place: Rect,
}

/// A grid of tiles, endless downwards.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Grid {
    /// Tiles side by side.
    pub(crate) columns: usize,
    /// From one tile to the next, mm.
    pub(crate) step: Vec2,
    /// What the last tile of a row shows beyond its step, mm.
    pub(crate) overlap: f64,
}

impl Grid {
    fn width(&self) -> f64 {
        self.columns as f64 * self.step.x + self.overlap
    }

    /// Columns that a stretch of the sheet touches, first and last.
    pub(crate) fn columns_of(&self, from: f64, to: f64) -> (usize, usize) {
        cells(from, to, self.step.x, self.columns)
    }

    /// Rows that a stretch of the sheet touches, first and last, where there are `rows` of them.
    pub(crate) fn rows_of(&self, from: f64, to: f64, rows: usize) -> (usize, usize) {
        cells(from, to, self.step.y, rows)
    }

    /// Rows that a sheet of this height needs.
    pub(crate) fn rows_for(&self, height: f64) -> usize {
        ((height - self.overlap - HAIR_MM) / self.step.y)
            .ceil()
            .max(1.0) as usize
    }
}

fn cells(from: f64, to: f64, step: f64, count: usize) -> (usize, usize) {
    let first = ((from + HAIR_MM) / step).floor().max(0.0) as usize;
    let last = ((to - HAIR_MM) / step).floor().max(0.0) as usize;
    (first.min(count - 1), last.max(first).min(count - 1))
}

/// The orders in which panels are tried: by area, by longest side, by height, by width, each largest first; then
/// `shuffles` more, in which neighbours of the first order change places.
pub(crate) fn orders(panels: &[Vec<Turned>], shuffles: usize) -> Vec<Vec<usize>> {
    let keys: [fn(Vec2) -> f64; 4] = [
        |size| size.x * size.y,
        |size| size.x.max(size.y),
        |size| size.y,
        |size| size.x,
    ];
    let mut orders: Vec<Vec<usize>> = Vec::new();
    for key in keys {
        let mut order: Vec<usize> = (0..panels.len()).collect();
        order.sort_by(|a, b| key(panels[*b][0].size).total_cmp(&key(panels[*a][0].size)));
        orders.push(order);
    }
    let mut state = 1_u64;
    for _ in 0..shuffles {
        let mut order = orders[0].clone();
        for index in 1..order.len() {
            // The congruential step of Knuth's MMIX; its high bits are even enough for this.
            state = state
                .wrapping_mul(6_364_136_223_846_793_005)
                .wrapping_add(1_442_695_040_888_963_407);
            if (state >> 33) % 5 < 2 {
                order.swap(index - 1, index);
            }
        }
        orders.push(order);
    }
    orders.dedup();
    orders
}

/// How much a search may still look at: a box of ink in a place that is tried is one look, and so are two panels that may
/// be in the way.
pub(crate) struct Effort {
    /// Looks that are left.
    pub(crate) looks: usize,
}

impl Effort {
    const fn spend(&mut self, looks: usize) {
        self.looks = self.looks.saturating_sub(looks);
    }
}

/// Packs all panels on one sheet under a grid of tiles, each in one of its first `turns` turns; `None` where one is wider
/// than the sheet in all of them.
pub(crate) fn on_tiles(
    panels: &[Vec<Turned>],
    order: &[usize],
    grid: Grid,
    turns: usize,
    effort: &mut Effort,
) -> Option<Vec<Spot>> {
    let mut sheet = TiledSheet::new(grid);
    for panel in order {
        let allowed = &panels[*panel];
        let spot = sheet.best(*panel, &allowed[..allowed.len().min(turns)], effort)?;
        sheet.put(spot, &panels[*panel][spot.turn]);
    }
    Some(sheet.spots)
}

struct TiledSheet {
    grid: Grid,
    spots: Vec<Spot>,
    /// Of each row of tiles, which have ink: one bit a column.
    inked: Vec<u128>,
}

impl TiledSheet {
    const fn new(grid: Grid) -> Self {
        Self {
            grid,
            spots: Vec::new(),
            inked: Vec::new(),
        }
    }

    fn best(&self, panel: usize, turns: &[Turned], effort: &mut Effort) -> Option<Spot> {
        let mut best: Option<(u32, Spot)> = None;
        for (turn, turned) in turns.iter().enumerate() {
            let lefts = self.lefts(turned.size.x);
            let tops: Vec<(f64, Vec<(usize, usize)>)> = self
                .tops(turned.size.y)
                .into_iter()
                .map(|top| (top, self.rows_of_ink(turned, top)))
                .collect();
            effort.spend((lefts.len() + tops.len()) * turned.coarse.len());
            for left in lefts {
                let columns = self.columns_of_ink(turned, left);
                for (top, rows) in &tops {
                    let place = Rect::from_origin_size((left, *top), turned.size.to_size());
                    let spot = Spot {
                        panel,
                        turn,
                        page: 0,
                        place,
                    };
                    effort.spend(1 + self.spots.len() / 2);
                    if !is_free(&self.spots, 0, place) {
                        continue;
                    }
                    effort.spend(rows.len());
                    let tiles = self.new_tiles(&columns, rows);
                    if best.is_none_or(|(least, old)| {
                        tiles < least || (tiles == least && lower(&spot, &old))
                    }) {
                        best = Some((tiles, spot));
                    }
                    if tiles == 0 {
                        // Farther down there is nothing to be gained.
                        break;
                    }
                }
            }
        }
        best.map(|(_, spot)| spot)
    }

    fn put(&mut self, spot: Spot, turned: &Turned) {
        let columns = self.columns_of_ink(turned, spot.place.x0);
        let rows = self.rows_of_ink(turned, spot.place.y0);
        let needed = rows.iter().map(|(_, last)| last + 1).max().unwrap_or(0);
        self.inked.resize(self.inked.len().max(needed), 0);
        for (bits, (first, last)) in columns.into_iter().zip(rows) {
            for row in &mut self.inked[first..=last] {
                *row |= bits;
            }
        }
        self.spots.push(spot);
    }

    /// Of each box of ink, the rows of tiles that it touches, first and last.
    fn rows_of_ink(&self, turned: &Turned, top: f64) -> Vec<(usize, usize)> {
        let ink = turned.coarse.iter();
        ink.map(|one| self.grid.rows_of(one.y0 + top, one.y1 + top, usize::MAX))
            .collect()
    }

    /// Of each box of ink, the columns of tiles that it touches, as bits.
    fn columns_of_ink(&self, turned: &Turned, left: f64) -> Vec<u128> {
        let bits = |one: &Rect| {
            let (first, last) = self.grid.columns_of(one.x0 + left, one.x1 + left);
            (u128::MAX >> (127 - (last - first))) << first
        };
        turned.coarse.iter().map(bits).collect()
    }

    /// How many tiles would get their first ink.
    fn new_tiles(&self, columns: &[u128], rows: &[(usize, usize)]) -> u32 {
        let top = rows.iter().map(|(first, _)| *first).min().unwrap_or(0);
        let bottom = rows.iter().map(|(_, last)| *last).max().unwrap_or(0);
        let mut touched = vec![0_u128; bottom + 1 - top];
        for (bits, (first, last)) in columns.iter().zip(rows) {
            for row in &mut touched[first - top..=last - top] {
                *row |= bits;
            }
        }
        let inked = |row: usize| self.inked.get(row).copied().unwrap_or(0);
        let new = touched
            .iter()
            .zip(top..)
            .map(|(bits, row)| bits & !inked(row));
        new.map(u128::count_ones).sum()
    }

    /// Left sides worth trying: against the edge, against other panels, against the lines of the grid on either side.
    fn lefts(&self, width: f64) -> Vec<f64> {
        let grid = &self.grid;
        let lines = (0..grid.columns).map(|column| column as f64 * grid.step.x);
        let ends = (1..=grid.columns).map(|column| column as f64 * grid.step.x - width);
        let beside = self.spots.iter().map(|spot| spot.place.x1 + GAP_MM);
        let right = grid.width();
        distinct(
            lines
                .chain(ends)
                .chain(beside)
                .chain([right - width])
                .filter(|left| *left >= 0.0 && left + width <= right + HAIR_MM),
        )
    }

    /// Top sides worth trying, likewise.
    fn tops(&self, height: f64) -> Vec<f64> {
        let lowest = lowest(&self.spots, 0);
        let rows = (lowest / self.grid.step.y).ceil() as usize;
        let lines = (0..=rows).map(|row| row as f64 * self.grid.step.y);
        let ends = (1..=rows + 1).map(|row| row as f64 * self.grid.step.y - height);
        let below = self.spots.iter().map(|spot| spot.place.y1 + GAP_MM);
        distinct(lines.chain(ends).chain(below).filter(|top| *top >= 0.0))
    }
}

/// Packs all panels whole on as many pages as are needed; `None` where one fits on no page in any turn.
pub(crate) fn on_pages(panels: &[Vec<Turned>], order: &[usize], page: Vec2) -> Option<Vec<Spot>> {
    let mut spots = Vec::new();
    for panel in order {
        let spot = first_free(&spots, *panel, &panels[*panel], page)?;
        spots.push(spot);
    }
    Some(spots)
}

fn first_free(spots: &[Spot], panel: usize, turns: &[Turned], size: Vec2) -> Option<Spot> {
    let pages = spots.iter().map(|spot| spot.page + 1).max().unwrap_or(0);
    (0..=pages).find_map(|page| best_on_page(spots, page, panel, turns, size))
}

fn best_on_page(
    spots: &[Spot],
    page: usize,
    panel: usize,
    turns: &[Turned],
    size: Vec2,
) -> Option<Spot> {
    let there = || spots.iter().filter(|spot| spot.page == page);
    let xs = distinct(there().map(|spot| spot.place.x1 + GAP_MM).chain([0.0]));
    let ys = distinct(there().map(|spot| spot.place.y1 + GAP_MM).chain([0.0]));
    let mut best: Option<Spot> = None;
    for (turn, turned) in turns.iter().enumerate() {
        for y in &ys {
            for x in &xs {
                let place = Rect::from_origin_size((*x, *y), turned.size.to_size());
                let spot = Spot {
                    panel,
                    turn,
                    page,
                    place,
                };
                let fits = place.x1 <= size.x + HAIR_MM && place.y1 <= size.y + HAIR_MM;
                if fits && best.is_none_or(|old| lower(&spot, &old)) && is_free(spots, page, place)
                {
                    best = Some(spot);
                }
            }
        }
    }
    best
}

/// The bottom of the lowest panel on a page, mm.
pub(crate) fn lowest(spots: &[Spot], page: usize) -> f64 {
    let on_page = spots.iter().filter(|spot| spot.page == page);
    on_page.map(|spot| spot.place.y1).fold(0.0, f64::max)
}

fn lower(one: &Spot, other: &Spot) -> bool {
    (one.place.y1, one.place.x0) < (other.place.y1, other.place.x0)
}

fn is_free(spots: &[Spot], page: usize, place: Rect) -> bool {
    let gap = GAP_MM - HAIR_MM;
    let wide = place.inflate(gap, gap);
    !spots.iter().any(|spot| {
        let other = spot.place;
        spot.page == page
            && other.x0 < wide.x1
            && other.x1 > wide.x0
            && other.y0 < wide.y1
            && other.y1 > wide.y0
    })
}

fn distinct(values: impl Iterator<Item = f64>) -> Vec<f64> {
    let mut values: Vec<f64> = values.collect();
    values.sort_by(f64::total_cmp);
    values.dedup_by(|a, b| (*a - *b).abs() < 0.01);
    values
}
