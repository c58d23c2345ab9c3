//! A lay that may still hold conflicts: where each piece lies, what each two cost each other, and how much that counts.
//!
//! Weights grow on pairs that stay in conflict (guided local search: Voudouris, Tsang 1999; for lays: Egeblad, Nielsen,
//! Odgaard 2007; Umetani and others 2009). Knows no search. Invariants: `costs` are those of the places; every place lies
//! in its piece's room.

use super::grid::Grid;
use super::table::Table;

/// Where a piece lies, and at which turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pose {
    /// Index of the shape in the table.
    pub(super) shape: usize,
    pub(super) place: [f64; 2],
}

impl Pose {
    /// A shape that lies as it is given.
    pub(super) fn fixed(shape: usize) -> Self {
        Self {
            shape,
            place: [0.0; 2],
        }
    }

    /// The way from this place to another.
    #[inline]
    pub(super) fn way_to(self, other: Self) -> [f64; 2] {
        [
            other.place[0] - self.place[0],
            other.place[1] - self.place[1],
        ]
    }
}

/// A lay with its conflicts. Pieces come first, flaws after them.
#[derive(Clone, Debug)]
pub(super) struct State<'a> {
    pub(super) table: &'a Table,
    pub(super) items: &'a [usize],
    pub(super) length: f64,
    pub(super) poses: Vec<Pose>,
    grid: Grid,
    /// Least and greatest corners of what lies there.
    boxes: Vec<[[f64; 2]; 2]>,
    /// What a piece meets, while its price is asked; one place more than there are pieces.
    met: Vec<u32>,
    costs: Vec<f64>,
    /// How much the conflict of each two counts.
    pub(super) weights: Vec<f64>,
    pub(super) evaluations: u64,
}

/// How fast weights grow at the least and the greatest conflict, and how they fade.
const GROWTH: [f64; 2] = [1.2, 2.0];
const FADING: f64 = 0.95;

impl<'a> State<'a> {
    /// The number of pieces that move.
    pub(super) fn pieces(&self) -> usize {
        self.items.len()
    }

    pub(super) fn new(
        table: &'a Table,
        items: &'a [usize],
        width: f64,
        length: f64,
        poses: &[Pose],
    ) -> Self {
        let mut poses = poses.to_vec();
        poses.extend(table.flaws.clone().map(Pose::fixed));
        let count = poses.len();
        let mut state = Self {
            table,
            items,
            length,
            grid: Grid::new(table, width, &poses, length),
            boxes: boxes(table, &poses),
            met: vec![0; poses.len() + 1],
            poses,
            costs: vec![0.0; count * count],
            weights: vec![1.0; count * count],
            evaluations: 0,
        };
        for piece in 0..state.pieces() {
            state.refresh(piece);
        }
        state
    }

    /// What a pose would cost a piece, by the weights; may stop as soon as it costs `most`.
    #[inline]
    pub(super) fn price(&mut self, piece: usize, pose: Pose, most: f64) -> f64 {
        self.evaluations += 1;
        let row = piece * self.poses.len();
        let count = self.meet(piece, pose);
        let mut sum = 0.0;
        for &other in &self.met[..count] {
            let other = other as usize;
            let there = self.poses[other];
            let cost = self
                .table
                .conflict(there.shape, pose.shape, there.way_to(pose));
            sum += cost * self.weights[row + other];
            if sum >= most {
                break;
            }
        }
        sum
    }

    /// Finds what a piece would meet at a pose by the boxes round the pieces, and says how many there are. What is likely to
    /// cost most comes first, since most questions end when the price is too high.
    #[inline]
    fn meet(&mut self, piece: usize, pose: Pose) -> usize {
        let row = piece * self.poses.len();
        let [low, high] = self.table.shapes[pose.shape].bounds(pose.place);
        let (met, boxes) = (&mut self.met, &self.boxes);
        let weights = &self.weights[row..row + boxes.len()];
        // Written without branches, and without the care of `f64::min` for what is not a number: which boxes meet cannot be
        // foretold.
        let less = |a: f64, b: f64| if a < b { a } else { b };
        let (mut count, mut deepest, mut greatest) = (0, 0, 0.0);
        self.grid.near(low, high, piece, |other| {
            let [there_low, there_high] = boxes[other];
            let along = less(high[0] - there_low[0], there_high[0] - low[0]);
            let across = less(high[1] - there_low[1], there_high[1] - low[1]);
            let over = less(along, across);
            let guess = over * weights[other];
            met[count] = other as u32;
            let is_deeper = guess > greatest;
            deepest = if is_deeper { count } else { deepest };
            greatest = if is_deeper { guess } else { greatest };
            count += usize::from(over > 0.0);
        });
        met.swap(0, deepest);
        count
    }

    /// What a piece costs where it lies, by the weights.
    pub(super) fn price_now(&self, piece: usize) -> f64 {
        let row = piece * self.poses.len();
        (0..self.poses.len())
            .map(|other| self.costs[row + other] * self.weights[row + other])
            .sum()
    }

    /// Whether a piece is in conflict.
    pub(super) fn is_in_conflict(&self, piece: usize) -> bool {
        let row = piece * self.poses.len();
        self.costs[row..row + self.poses.len()]
            .iter()
            .any(|&cost| cost > 0.0)
    }

    /// The sum of all conflicts, without weights.
    pub(super) fn conflict(&self) -> f64 {
        let count = self.poses.len();
        let rows =
            (0..self.pieces()).map(|piece| &self.costs[piece * count + piece..(piece + 1) * count]);
        rows.flatten().sum()
    }

    /// Puts a piece down elsewhere.
    pub(super) fn put(&mut self, piece: usize, pose: Pose) {
        self.grid.remove(self.table, piece, self.poses[piece]);
        self.poses[piece] = pose;
        self.boxes[piece] = self.table.shapes[pose.shape].bounds(pose.place);
        self.grid.add(self.table, piece, pose);
        self.refresh(piece);
    }

    fn refresh(&mut self, piece: usize) {
        self.evaluations += 1;
        let count = self.poses.len();
        let pose = self.poses[piece];
        for other in 0..count {
            let there = self.poses[other];
            let cost = if other == piece {
                0.0
            } else {
                self.table
                    .conflict(there.shape, pose.shape, there.way_to(pose))
            };
            self.costs[piece * count + other] = cost;
            self.costs[other * count + piece] = cost;
        }
    }

    /// Changes the length; pieces that stick out are brought back by `moved`.
    pub(super) fn set_length(
        &mut self,
        length: f64,
        width: f64,
        moved: impl Fn(usize, Pose) -> Pose,
    ) {
        self.length = length;
        for piece in 0..self.pieces() {
            self.poses[piece] = moved(piece, self.poses[piece]);
        }
        self.grid = Grid::new(self.table, width, &self.poses, length);
        self.boxes = boxes(self.table, &self.poses);
        for piece in 0..self.pieces() {
            self.refresh(piece);
        }
    }

    /// Whether any piece could lie further along a cloth of another length.
    pub(super) fn has_more_room(&self, length: f64) -> bool {
        let furthest = |pose: &Pose, length: f64| {
            let [_, [along, _]] = self.table.shapes[pose.shape].room().range(length);
            along
        };
        let mut poses = self.poses[..self.pieces()].iter();
        poses.any(|pose| furthest(pose, length) > furthest(pose, self.length))
    }

    /// Lets weights grow where there is conflict, the more the deeper, and fade elsewhere.
    pub(super) fn weigh(&mut self) {
        let greatest = self.costs.iter().copied().fold(0.0, f64::max);
        for (weight, &cost) in self.weights.iter_mut().zip(&self.costs) {
            *weight = if cost > 0.0 {
                *weight * (GROWTH[0] + (GROWTH[1] - GROWTH[0]) * (cost / greatest))
            } else {
                (*weight * FADING).max(1.0)
            };
        }
    }

    /// Makes all pairs count alike.
    pub(super) fn level(&mut self) {
        self.weights.fill(1.0);
    }
}

fn boxes(table: &Table, poses: &[Pose]) -> Vec<[[f64; 2]; 2]> {
    let bounds = |pose: &Pose| table.shapes[pose.shape].bounds(pose.place);
    poses.iter().map(bounds).collect()
}
