//! What one evaluation of the lay engine costs: by the neighbours of a piece, not by the number of pieces.

use cloth::nest::{Budget, Continue, Item, PoseSpace, Problem, Turn, solve};
use divan::Bencher;
use divan::counter::ItemsCount;
use geometry::Point;

fn main() {
    divan::main();
}

/// Pieces on the cloth: a skirt, a lined dress, several garments.
const PIECES: [usize; 3] = [15, 60, 240];

/// Evaluations of one run.
const EVALUATIONS: u64 = 400_000;

/// The time for one item is the time for one evaluation, on two cores.
#[divan::bench(args = PIECES, sample_count = 5, sample_size = 1)]
fn evaluations(bencher: Bencher, pieces: usize) {
    let problem = problem(pieces);
    let bencher = bencher.counter(ItemsCount::new(EVALUATIONS));
    bencher.bench(|| search(&problem, EVALUATIONS));
}

/// Fields of all pairs and a first lay, before any evaluation.
#[divan::bench(args = PIECES, sample_count = 5, sample_size = 1)]
fn first_lay(bencher: Bencher, pieces: usize) {
    let problem = problem(pieces);
    bencher.bench(|| search(&problem, 0));
}

fn search(problem: &Problem, evaluations: u64) -> f64 {
    let budget = Budget::evaluations(evaluations);
    solve(problem, &budget, 1, &mut |_| Continue::Yes, None).length
}

/// Five kinds of panels with a round top and a hollow side, in equal numbers, on 1.4 m of width.
fn problem(pieces: usize) -> Problem {
    let item = |kind: usize| Item {
        name: format!("panel {kind}"),
        outline: panel(180.0 + 40.0 * kind as f64, 420.0 - 50.0 * kind as f64),
        demand: pieces / 5,
        turns: vec![Turn::by(0.0), Turn::by(180.0)],
        space: PoseSpace::free(),
    };
    let items = (0..5).map(item).collect();
    Problem::new(1400.0, items, Vec::new()).expect("panels fit the cloth")
}

/// A panel with a straight hem, a hollow side like an armhole and a round top.
fn panel(width: f64, height: f64) -> Vec<Point> {
    let arc = |middle: Point, radii: (f64, f64), from: f64, to: f64| {
        (0..=8).map(move |step| {
            let angle = (from + (to - from) * f64::from(step) / 8.0).to_radians();
            let (sin, cos) = geometry::math::sin_cos(angle);
            Point::new(middle.x + radii.0 * cos, middle.y + radii.1 * sin)
        })
    };
    let side = Point::new(width, height * 0.6);
    let top = Point::new(width * 0.5, height * 0.8);
    let mut outline = vec![Point::ZERO, Point::new(width, 0.0)];
    outline.extend(arc(side, (width * 0.25, height * 0.2), 270.0, 90.0));
    outline.extend(arc(top, (width * 0.5, height * 0.2), 0.0, 180.0));
    outline.dedup();
    outline
}
