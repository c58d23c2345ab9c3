//! Outlines for tests: plain ones, and ones drawn by chance.

#![allow(dead_code, reason = "each test file uses its own part of this")]

use cloth::nest::{Budget, Continue, Item, Layout, PoseSpace, Problem, Turn, solve};
use geometry::Point;
use proptest::prelude::*;

/// A rectangle from the origin.
pub(crate) fn rectangle(width: f64, height: f64) -> Vec<Point> {
    [(0.0, 0.0), (width, 0.0), (width, height), (0.0, height)]
        .map(Point::from)
        .to_vec()
}

/// Copies of an outline that may lie anywhere, as given or turned by half a circle.
pub(crate) fn item(outline: Vec<Point>, demand: usize) -> Item {
    Item {
        name: "piece".to_owned(),
        outline,
        demand,
        turns: vec![Turn::by(0.0), Turn::by(180.0)],
        space: PoseSpace::free(),
    }
}

/// A search that nobody watches.
pub(crate) fn search(problem: &Problem, evaluations: u64, seed: u64) -> Layout {
    solve(
        problem,
        &Budget::evaluations(evaluations),
        seed,
        &mut |_| Continue::Yes,
        None,
    )
}

/// An outline with a spike or a dent at each of its corners, none wider than 40.
pub(crate) fn star() -> impl Strategy<Value = Vec<Point>> {
    prop::collection::vec(4.0..20.0_f64, 3..11).prop_map(|reaches| {
        let count = reaches.len() as f64;
        let corner = |(at, reach): (usize, &f64)| {
            let angle = at as f64 / count * std::f64::consts::TAU;
            let (sin, cos) = geometry::math::sin_cos(angle);
            Point::new(20.0 + reach * cos, 20.0 + reach * sin)
        };
        reaches.iter().enumerate().map(corner).collect()
    })
}

/// Says that a test was skipped, and why.
#[allow(
    clippy::print_stderr,
    reason = "a skipped test says so where one looks"
)]
pub(crate) fn skipped(why: &str) {
    eprintln!("SKIPPED {why}");
}
