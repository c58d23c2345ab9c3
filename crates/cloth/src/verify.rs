//! Proves a lay, or says what is wrong with it.
//!
//! Shares no code with the search: outlines are put down anew, on a grid of whole numbers of their own, and every two are
//! intersected (`i_overlay`, exact but for crossings, which are rounded to the grid). Invariant: nothing is taken from the
//! search but the lay itself.

pub mod garment;
mod grid;

use geometry::Point;

use crate::nest::{Item, Layout, Placement, Problem, Repeat};
use grid::{Fineness, Ring};

/// What is wrong with a lay. Pieces are numbered as the lay lists them.
#[derive(Clone, Debug, PartialEq)]
pub enum Violation {
    /// The lay has not as many copies of an item as were asked for.
    Copies {
        /// The item.
        item: usize,
        /// How many lie there.
        found: usize,
        /// How many were asked for.
        demand: usize,
    },
    /// The lay names an item or a turn that the problem does not have.
    Unknown {
        /// The piece.
        piece: usize,
    },
    /// A number is not finite.
    NotFinite,
    /// A piece sticks out of the cloth or of the box that it must lie in.
    Outside {
        /// The piece.
        piece: usize,
        /// By how much.
        by: f64,
    },
    /// Two pieces overlap.
    Overlap {
        /// The pieces.
        pieces: [usize; 2],
        /// How thick the overlap is: twice its area over its girth.
        depth: f64,
        /// The area of the overlap.
        area: f64,
    },
    /// A piece lies on a flaw.
    OnFlaw {
        /// The piece.
        piece: usize,
        /// The flaw.
        flaw: usize,
        /// How thick the overlap is.
        depth: f64,
    },
    /// A piece does not lie on the fold.
    OffFold {
        /// The piece.
        piece: usize,
        /// How far off.
        by: f64,
    },
    /// A piece does not lie on whole repeats.
    OffRepeat {
        /// The piece.
        piece: usize,
        /// How far off.
        by: f64,
    },
}

/// The tolerance for a problem, a hundred-thousandth of the width: 15 µm on cloth 1.5 m wide.
pub fn tolerance(problem: &Problem) -> f64 {
    problem.width() * 1e-5
}

/// Whether a lay keeps every rule within a tolerance; all that is wrong with it otherwise.
pub fn verify(problem: &Problem, layout: &Layout, tolerance: f64) -> Result<(), Vec<Violation>> {
    let mut wrong = copies(problem, layout);
    let is_finite = layout
        .placements
        .iter()
        .all(|placement| placement.place.is_finite());
    if !is_finite || !layout.length.is_finite() {
        wrong.push(Violation::NotFinite);
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let put: Vec<Vec<Point>> = layout
        .placements
        .iter()
        .map(|placement| put_down(problem, placement))
        .collect();
    for (piece, ring) in put.iter().enumerate() {
        let placement = &layout.placements[piece];
        let item = &problem.items()[placement.item];
        wrong.extend(
            outside(problem, layout, item, ring, tolerance)
                .map(|by| Violation::Outside { piece, by }),
        );
        wrong.extend(off_fold(item, ring, tolerance).map(|by| Violation::OffFold { piece, by }));
        wrong.extend(
            off_repeat(item, placement, tolerance).map(|by| Violation::OffRepeat { piece, by }),
        );
    }
    wrong.extend(overlaps(problem, &put, tolerance));
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

fn copies(problem: &Problem, layout: &Layout) -> Vec<Violation> {
    let mut counted = vec![0; problem.items().len()];
    let mut wrong = Vec::new();
    for (piece, placement) in layout.placements.iter().enumerate() {
        match problem.items().get(placement.item) {
            Some(item) if placement.turn < item.turns.len() => counted[placement.item] += 1,
            _ => wrong.push(Violation::Unknown { piece }),
        }
    }
    for (item, (piece, found)) in problem.items().iter().zip(counted).enumerate() {
        if found != piece.demand {
            wrong.push(Violation::Copies {
                item,
                found,
                demand: piece.demand,
            });
        }
    }
    wrong
}

/// The outline of a piece as it lies on the cloth.
fn put_down(problem: &Problem, placement: &Placement) -> Vec<Point> {
    let item = &problem.items()[placement.item];
    let turn = item.turns[placement.turn];
    let quarters = turn.degrees / 90.0;
    let (sin, cos) = if quarters.fract() == 0.0 {
        [(0.0, 1.0), (1.0, 0.0), (0.0, -1.0), (-1.0, 0.0)][quarters.rem_euclid(4.0) as usize]
    } else {
        geometry::math::sin_cos(turn.degrees * std::f64::consts::PI / 180.0)
    };
    let face = if turn.mirrored { -1.0 } else { 1.0 };
    let put = |corner: &Point| {
        let (x, y) = (corner.x * face, corner.y);
        Point::new(
            placement.place.x + cos * x - sin * y,
            placement.place.y + sin * x + cos * y,
        )
    };
    item.outline.iter().map(put).collect()
}

fn outside(
    problem: &Problem,
    layout: &Layout,
    item: &Item,
    ring: &[Point],
    tolerance: f64,
) -> Option<f64> {
    let (mut low, mut high) = ([0.0; 2], [layout.length, problem.width()]);
    if let Some(area) = item.space.area {
        for axis in 0..2 {
            low[axis] = area.low[axis].max(low[axis]);
            high[axis] = area.high[axis].min(high[axis]);
        }
    }
    let beyond = |corner: &Point| {
        let ways = [
            low[0] - corner.x,
            low[1] - corner.y,
            corner.x - high[0],
            corner.y - high[1],
        ];
        ways.into_iter().fold(0.0, f64::max)
    };
    let by = ring.iter().map(beyond).fold(0.0, f64::max);
    (by > tolerance).then_some(by)
}

fn off_fold(item: &Item, ring: &[Point], tolerance: f64) -> Option<f64> {
    let lowest = ring
        .iter()
        .map(|corner| corner.y)
        .fold(f64::INFINITY, f64::min);
    (item.space.pinned && lowest.abs() > tolerance).then_some(lowest.abs())
}

fn off_repeat(item: &Item, placement: &Placement, tolerance: f64) -> Option<f64> {
    let off = |repeat: Option<Repeat>, found: f64| {
        let Some(Repeat { every, phase }) = repeat else {
            return 0.0;
        };
        let rest = (found - phase).rem_euclid(every);
        rest.min(every - rest)
    };
    let by =
        off(item.space.along, placement.place.x).max(off(item.space.across, placement.place.y));
    (by > tolerance).then_some(by)
}

fn overlaps(problem: &Problem, put: &[Vec<Point>], tolerance: f64) -> Vec<Violation> {
    let fineness = Fineness::of(put.iter().chain(problem.flaws()));
    let rings: Vec<Ring> = put.iter().map(|ring| Ring::new(ring, fineness)).collect();
    let flaws: Vec<Ring> = problem
        .flaws()
        .iter()
        .map(|ring| Ring::new(ring, fineness))
        .collect();
    let mut wrong = Vec::new();
    for (piece, ring) in rings.iter().enumerate() {
        for (other, second) in rings.iter().enumerate().skip(piece + 1) {
            if let Some((depth, area)) = ring.common(second).filter(|&(depth, _)| depth > tolerance)
            {
                wrong.push(Violation::Overlap {
                    pieces: [piece, other],
                    depth,
                    area,
                });
            }
        }
        for (flaw, second) in flaws.iter().enumerate() {
            if let Some((depth, _)) = ring.common(second).filter(|&(depth, _)| depth > tolerance) {
                wrong.push(Violation::OnFlaw { piece, flaw, depth });
            }
        }
    }
    wrong
}
