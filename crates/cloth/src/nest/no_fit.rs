//! How deep one piece stands in another, for every way they can lie: one field for two outlines.
//!
//! The places in conflict are a region (`convolution`); the depth is the way from a place in it to its border, which is
//! the shortest move that parts the two. A net of cells over the region knows which stretches of border can be the nearest
//! from a cell, so that one question costs a few multiplications. Invariant: a depth of nought is exact; within cells
//! that the border does not pass the depth is interpolated.

use super::convolution::{Spot, conflict};

/// Cells along the longer side of a field.
const CELLS: f64 = 24.0;

/// A share of a cell's side that does not matter.
const CLOSE: f64 = 1e-9;

/// The depth of one outline in another by where its reference point lies from the other's.
#[derive(Clone, Debug)]
pub(super) struct NoFit {
    /// The corners of the box round the region, lower and upper.
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
    per_cell: f64,
    columns: usize,
    cells: Vec<Cell>,
    /// For each cell near the border, the stretches that can be nearest, side by side.
    nearest: Vec<Stretch>,
    border: Vec<Stretch>,
    /// The contours of the region, outer ones counter-clockwise.
    pub(super) contours: Vec<Vec<[f64; 2]>>,
}

#[derive(Clone, Copy, Debug)]
enum Cell {
    Outside,
    /// With the depths at its corners: both lower ones, both upper ones.
    Inside([f32; 4]),
    Border {
        first: u32,
        count: u32,
    },
}

/// A straight stretch of border with the region at its left.
#[derive(Clone, Copy, Debug)]
struct Stretch {
    start: [f64; 2],
    heading: [f64; 2],
    length: f64,
    /// Whether the region has a hollow corner at the start, and at the end: what is nearest to one lies inside.
    hollow: [bool; 2],
}

impl NoFit {
    /// The field of two outlines on the grid of `per_unit` spots a unit.
    pub(super) fn new(fixed: &[Spot], moving: &[Spot], per_unit: f64) -> Self {
        let contours = conflict(fixed, moving);
        let place = |spot: &Spot| [spot[0] as f64 / per_unit, spot[1] as f64 / per_unit];
        let contours: Vec<Vec<[f64; 2]>> = contours
            .iter()
            .map(|ring| ring.iter().map(place).collect())
            .collect();
        Self::of(contours)
    }

    fn of(contours: Vec<Vec<[f64; 2]>>) -> Self {
        let border: Vec<Stretch> = contours.iter().flat_map(|ring| stretches(ring)).collect();
        let (mut low, mut high) = ([f64::MAX; 2], [f64::MIN; 2]);
        for point in contours.iter().flatten() {
            for axis in 0..2 {
                low[axis] = low[axis].min(point[axis]);
                high[axis] = high[axis].max(point[axis]);
            }
        }
        let side = (high[0] - low[0]).max(high[1] - low[1]) / CELLS;
        let count = |axis: usize| ((high[axis] - low[axis]) / side).ceil().max(1.0) as usize;
        let (columns, rows) = (count(0), count(1));
        let mut field = Self {
            low,
            high,
            per_cell: 1.0 / side,
            columns,
            cells: Vec::with_capacity(columns * rows),
            nearest: Vec::new(),
            border,
            contours,
        };
        field.fill_cells(rows, side);
        field
    }

    fn fill_cells(&mut self, rows: usize, side: f64) {
        let mut ways = Vec::with_capacity(self.border.len());
        for row in 0..rows {
            for column in 0..self.columns {
                let low = [
                    self.low[0] + column as f64 * side,
                    self.low[1] + row as f64 * side,
                ];
                let square = Square::new(low, side);
                ways.clear();
                ways.extend(self.border.iter().map(|stretch| square.ways(stretch)));
                let passed = ways.iter().any(|[least, _]| *least <= side * CLOSE);
                let cell = if passed {
                    self.border_cell(&ways)
                } else if depth(square.corners[0], self.border.iter()) > 0.0 {
                    let [a, b, c, d] = square
                        .corners
                        .map(|corner| depth(corner, self.border.iter()) as f32);
                    Cell::Inside([a, b, d, c])
                } else {
                    Cell::Outside
                };
                self.cells.push(cell);
            }
        }
    }

    /// A cell with the stretches that are nearest to some place in it: those that come nearer than another always is.
    fn border_cell(&mut self, ways: &[[f64; 2]]) -> Cell {
        let within = ways.iter().map(|way| way[1]).fold(f64::MAX, f64::min) * (1.0 + CLOSE);
        let first = self.nearest.len();
        for (which, way) in ways.iter().enumerate() {
            if way[0] <= within {
                self.nearest.push(self.border[which]);
            }
        }
        Cell::Border {
            first: first as u32,
            count: (self.nearest.len() - first) as u32,
        }
    }

    /// How far a place lies inside the region; nought outside it and on its border.
    #[inline]
    pub(super) fn depth(&self, place: [f64; 2]) -> f64 {
        let (along, across) = (
            (place[0] - self.low[0]) * self.per_cell,
            (place[1] - self.low[1]) * self.per_cell,
        );
        if along <= 0.0 || across <= 0.0 || place[0] >= self.high[0] || place[1] >= self.high[1] {
            return 0.0;
        }
        let (column, row) = (along as usize, across as usize);
        match self
            .cells
            .get(row * self.columns + column.min(self.columns - 1))
        {
            None | Some(Cell::Outside) => 0.0,
            Some(Cell::Inside(corners)) => {
                between(corners, along - column as f64, across - row as f64)
            }
            Some(&Cell::Border { first, count }) => {
                let near = &self.nearest[first as usize..(first + count) as usize];
                depth(place, near.iter())
            }
        }
    }

    /// The shortest way from a place in the region out of it, if the place is deeper than `slack`.
    pub(super) fn way_out(&self, place: [f64; 2], slack: f64) -> Option<[f64; 2]> {
        if self.depth(place) <= slack {
            return None;
        }
        let nearest = self
            .near(place)
            .map(|stretch| (stretch.way(place).0, stretch));
        let (_, nearest) = nearest.min_by(|a, b| a.0.total_cmp(&b.0))?;
        let out = nearest.nearest(place);
        Some([out[0] - place[0], out[1] - place[1]])
    }

    /// The stretches that can be nearest to a place in the region.
    fn near(&self, place: [f64; 2]) -> Box<dyn Iterator<Item = &Stretch> + '_> {
        let column = ((place[0] - self.low[0]) * self.per_cell) as usize;
        let row = ((place[1] - self.low[1]) * self.per_cell) as usize;
        match self
            .cells
            .get(row * self.columns + column.min(self.columns - 1))
        {
            Some(&Cell::Border { first, count }) => {
                let near = &self.nearest[first as usize..(first + count) as usize];
                Box::new(near.iter())
            }
            _ => Box::new(self.border.iter()),
        }
    }
}

impl Stretch {
    /// The square of the way to a place, and whether the place lies inside as seen from here.
    #[inline]
    fn way(&self, place: [f64; 2]) -> (f64, bool) {
        let from = [place[0] - self.start[0], place[1] - self.start[1]];
        let along = from[0] * self.heading[0] + from[1] * self.heading[1];
        let aside = self.heading[0] * from[1] - self.heading[1] * from[0];
        if along < 0.0 {
            (along * along + aside * aside, self.hollow[0])
        } else if along > self.length {
            let beyond = along - self.length;
            (beyond * beyond + aside * aside, self.hollow[1])
        } else {
            (aside * aside, aside > 0.0)
        }
    }
}

impl Stretch {
    /// The place on the stretch that is nearest to another.
    fn nearest(&self, place: [f64; 2]) -> [f64; 2] {
        let from = [place[0] - self.start[0], place[1] - self.start[1]];
        let along = from[0] * self.heading[0] + from[1] * self.heading[1];
        let along = along.clamp(0.0, self.length);
        [0, 1].map(|axis| self.start[axis] + along * self.heading[axis])
    }
}

/// What lies between the corners of a cell.
#[inline]
fn between(corners: &[f32; 4], along: f64, across: f64) -> f64 {
    let [a, b, c, d] = corners.map(f64::from);
    let (lower, upper) = (a + (b - a) * along, c + (d - c) * along);
    lower + (upper - lower) * across
}

/// A cell's square.
struct Square {
    corners: [[f64; 2]; 4],
}

impl Square {
    fn new(low: [f64; 2], side: f64) -> Self {
        let corners = [[0.0, 0.0], [side, 0.0], [side, side], [0.0, side]];
        Self {
            corners: corners.map(|[x, y]| [low[0] + x, low[1] + y]),
        }
    }

    /// The shortest way from any place of the square to a stretch, and the longest way from a place to its nearest spot on
    /// the stretch. The longest is found at a corner, as the distance from a straight stretch is convex.
    fn ways(&self, stretch: &Stretch) -> [f64; 2] {
        let mut corners = self.corners.map(|corner| stretch.way(corner).0);
        corners.sort_by(f64::total_cmp);
        let end = [0, 1].map(|axis| stretch.start[axis] + stretch.length * stretch.heading[axis]);
        let ends = self.way(stretch.start).min(self.way(end));
        let least = if self.is_passed(stretch.start, end) {
            0.0
        } else {
            corners[0].min(ends)
        };
        [least.sqrt(), corners[3].sqrt()]
    }

    /// The square of the way from a place to the square.
    fn way(&self, place: [f64; 2]) -> f64 {
        let off = |axis: usize| {
            (self.corners[0][axis] - place[axis])
                .max(place[axis] - self.corners[2][axis])
                .max(0.0)
        };
        off(0) * off(0) + off(1) * off(1)
    }

    /// Whether a straight line between two places passes through the square.
    fn is_passed(&self, from: [f64; 2], to: [f64; 2]) -> bool {
        let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
        for axis in 0..2 {
            let way = to[axis] - from[axis];
            let [low, high] = [0, 2].map(|corner| self.corners[corner][axis] - from[axis]);
            if way == 0.0 {
                if low > 0.0 || high < 0.0 {
                    return false;
                }
            } else {
                let (one, other) = (low / way, high / way);
                enters = enters.max(one.min(other));
                leaves = leaves.min(one.max(other));
            }
        }
        enters <= leaves
    }
}

/// The depth of a place by the nearest of some stretches.
#[inline]
fn depth<'a>(place: [f64; 2], border: impl Iterator<Item = &'a Stretch>) -> f64 {
    let (mut nearest, mut within) = (f64::MAX, false);
    for stretch in border {
        let (way, inside) = stretch.way(place);
        if way < nearest {
            (nearest, within) = (way, inside);
        }
    }
    if within { nearest.sqrt() } else { 0.0 }
}

fn stretches(ring: &[[f64; 2]]) -> Vec<Stretch> {
    let count = ring.len();
    let heading = |at: usize| {
        let (start, end) = (ring[at % count], ring[(at + 1) % count]);
        let way = [end[0] - start[0], end[1] - start[1]];
        let length = geometry::math::hypot(way[0], way[1]);
        ([way[0] / length, way[1] / length], length)
    };
    let is_hollow =
        |before: [f64; 2], after: [f64; 2]| before[0] * after[1] - before[1] * after[0] < 0.0;
    let stretch = |at: usize| {
        let (before, (here, length), after) =
            (heading(at + count - 1).0, heading(at), heading(at + 1).0);
        let hollow = [is_hollow(before, here), is_hollow(here, after)];
        Stretch {
            start: ring[at],
            heading: here,
            length,
            hollow,
        }
    };
    (0..count).map(stretch).collect()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// A ring with spikes and dents, on the grid.
    fn ring() -> impl Strategy<Value = Vec<Spot>> {
        prop::collection::vec(100.0..1000.0_f64, 3..14).prop_map(|reaches| {
            let count = reaches.len() as f64;
            let corner = |(at, reach): (usize, &f64)| {
                let (sin, cos) = geometry::math::sin_cos(at as f64 / count * std::f64::consts::TAU);
                [(reach * cos) as i64, (reach * sin) as i64]
            };
            reaches.iter().enumerate().map(corner).collect()
        })
    }

    /// Whether a point lies in a ring, by the number of sides to its right; and its way to the ring.
    fn lies_in(ring: &[Spot], point: [f64; 2]) -> (bool, f64) {
        let (mut within, mut way) = (false, f64::MAX);
        for at in 0..ring.len() {
            let [a, b] = [ring[at], ring[(at + 1) % ring.len()]].map(|[x, y]| [x as f64, y as f64]);
            if (a[1] > point[1]) != (b[1] > point[1])
                && point[0] < a[0] + (b[0] - a[0]) * (point[1] - a[1]) / (b[1] - a[1])
            {
                within = !within;
            }
            let along = [b[0] - a[0], b[1] - a[1]];
            let from = [point[0] - a[0], point[1] - a[1]];
            let share = (from[0] * along[0] + from[1] * along[1])
                / (along[0] * along[0] + along[1] * along[1]);
            let share = share.clamp(0.0, 1.0);
            way = way.min(geometry::math::hypot(
                from[0] - share * along[0],
                from[1] - share * along[1],
            ));
        }
        (within, way)
    }

    proptest! {
        /// A triangle so small that it is nearly a point conflicts where the point lies in the ring.
        #[test]
        fn a_point_is_as_deep_in_a_ring_as_its_way_out(ring in ring(), x in -1000.0..1000.0_f64, y in -1000.0..1000.0_f64) {
            let large: Vec<Spot> = ring.iter().map(|&[x, y]| [x * 1000, y * 1000]).collect();
            let field = NoFit::new(&large, &[[-1, -1], [1, -1], [0, 1]], 1000.0);
            let (within, way) = lies_in(&ring, [x, y]);
            let depth = field.depth([x, y]);
            let bend = 2000.0 / CELLS;
            let expected = if within { way } else { 0.0 };
            prop_assert!((depth - expected).abs() < if expected > bend { bend / 2.0 } else { bend }, "{} {}", depth, expected);
            if way > 0.01 {
                prop_assert_eq!(depth > 0.0, within, "{} away", way);
            }
        }

        /// Moved out of the region, two rings have no corner in each other and no sides that cross.
        #[test]
        fn places_without_depth_are_without_conflict(a in ring(), b in ring(), x in -2000.0..2000.0_f64, y in -2000.0..2000.0_f64) {
            let (x, y) = (x.round(), y.round());
            let field = NoFit::new(&a, &b, 1.0);
            let moved: Vec<Spot> = b.iter().map(|&[u, v]| [u + x as i64, v + y as i64]).collect();
            let corner_within = moved.iter().any(|&[u, v]| {
                let (within, way) = lies_in(&a, [u as f64, v as f64]);
                within && way > 1.0
            });
            let depth = field.depth([x, y]);
            if corner_within {
                prop_assert!(depth > 0.0);
            }
        }
    }
}
