//! Which pieces lie near a place: a net of squares over the cloth, each with the set of pieces whose boxes reach it.
//!
//! Invariant: a piece is in the set of every square that its box touches, and in no other.

use super::state::Pose;
use super::table::Table;

/// Sets of pieces, one a square, 64 to a word.
#[derive(Clone, Debug)]
pub(super) struct Grid {
    per_square: f64,
    columns: usize,
    rows: usize,
    words: usize,
    sets: Vec<u64>,
}

impl Grid {
    pub(super) fn new(table: &Table, width: f64, poses: &[Pose], length: f64) -> Self {
        let count = poses.len().max(1);
        let square = (width * length / count as f64).sqrt();
        let columns = (length / square).ceil().max(1.0) as usize;
        let rows = (width / square).ceil().max(1.0) as usize;
        let words = count.div_ceil(64);
        let mut grid = Self {
            per_square: 1.0 / square,
            columns,
            rows,
            words,
            sets: vec![0; columns * rows * words],
        };
        for (piece, &pose) in poses.iter().enumerate() {
            grid.add(table, piece, pose);
        }
        grid
    }

    /// Goes through the pieces near a box, without one, in the order of their numbers.
    #[inline]
    pub(super) fn near(
        &self,
        low: [f64; 2],
        high: [f64; 2],
        without: usize,
        mut visit: impl FnMut(usize),
    ) {
        let [columns, rows] = self.squares(low, high);
        for word in 0..self.words {
            let mut set = 0;
            for row in rows.0..=rows.1 {
                for column in columns.0..=columns.1 {
                    set |= self.sets[(row * self.columns + column) * self.words + word];
                }
            }
            if without / 64 == word {
                set &= !(1 << (without % 64));
            }
            while set != 0 {
                let piece = word * 64 + set.trailing_zeros() as usize;
                set &= set - 1;
                visit(piece);
            }
        }
    }

    pub(super) fn add(&mut self, table: &Table, piece: usize, pose: Pose) {
        self.each_set(table, piece, pose, |set, bit| *set |= bit);
    }

    pub(super) fn remove(&mut self, table: &Table, piece: usize, pose: Pose) {
        self.each_set(table, piece, pose, |set, bit| *set &= !bit);
    }

    fn each_set(
        &mut self,
        table: &Table,
        piece: usize,
        pose: Pose,
        change: impl Fn(&mut u64, u64),
    ) {
        let shape = &table.shapes[pose.shape];
        let low = [shape.low[0] + pose.place[0], shape.low[1] + pose.place[1]];
        let high = [shape.high[0] + pose.place[0], shape.high[1] + pose.place[1]];
        let [columns, rows] = self.squares(low, high);
        for row in rows.0..=rows.1 {
            for column in columns.0..=columns.1 {
                let at = (row * self.columns + column) * self.words + piece / 64;
                change(&mut self.sets[at], 1 << (piece % 64));
            }
        }
    }

    /// First and last column, first and last row.
    #[inline]
    fn squares(&self, low: [f64; 2], high: [f64; 2]) -> [(usize, usize); 2] {
        // A cast to a whole number keeps what lies below nought at nought.
        let at = |value: f64, count: usize| ((value * self.per_square) as usize).min(count - 1);
        [
            (at(low[0], self.columns), at(high[0], self.columns)),
            (at(low[1], self.rows), at(high[1], self.rows)),
        ]
    }
}
