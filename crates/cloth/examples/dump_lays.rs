//! Writes random lays, legal and not, with what the verifier says of them, one JSON object a line.
//!
//! Usage: `dump_lays [SEED] [LAYS]`. Pieces are spiky outlines drawn by chance; some lays are found by the engine, some are
//! thrown on the cloth, some are found and then nudged.

#![allow(
    clippy::print_stdout,
    reason = "an example that writes for another program"
)]

use cloth::nest::{Budget, Continue, Item, Layout, Placement, PoseSpace, Problem, Turn, solve};
use cloth::verify::{Violation, tolerance, verify};
use geometry::Point;
use serde_json::{Value, json};

fn main() {
    let mut arguments = std::env::args().skip(1).map(|text| text.parse::<u64>());
    let mut next = |usual| arguments.next().and_then(Result::ok).unwrap_or(usual);
    let (seed, lays) = (next(1), next(2000));
    let mut chance = Chance(seed);
    for lay in 0..lays {
        let problem = problem(&mut chance);
        let layout = match lay % 3 {
            0 => found(&problem, lay),
            1 => thrown(&problem, &mut chance),
            _ => nudged(&problem, found(&problem, lay), &mut chance),
        };
        println!("{}", line(&problem, &layout));
    }
}

/// Even numbers by a linear congruence (Knuth's MMIX figures); good enough to throw pieces about.
struct Chance(u64);

impl Chance {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        low + (high - low) * (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }
}

fn problem(chance: &mut Chance) -> Problem {
    let kinds = chance.between(1.0, 5.0) as usize;
    let items = (0..kinds).map(|kind| item(kind, chance)).collect();
    let flaw = star(chance).into_iter();
    let flaw = flaw.map(|corner| corner + geometry::Vec2::new(30.0, 20.0));
    let flaws = if chance.between(0.0, 1.0) < 0.3 {
        vec![flaw.collect()]
    } else {
        Vec::new()
    };
    Problem::new(100.0, items, flaws).expect("stars are sound and fit 100")
}

fn item(kind: usize, chance: &mut Chance) -> Item {
    let face_down = Turn {
        degrees: 180.0,
        mirrored: true,
    };
    Item {
        name: format!("star {kind}"),
        outline: star(chance),
        demand: chance.between(1.0, 4.0) as usize,
        turns: vec![Turn::by(0.0), face_down, Turn::by(37.0)],
        space: if chance.between(0.0, 1.0) < 0.2 {
            PoseSpace::pinned()
        } else {
            PoseSpace::free()
        },
    }
}

fn star(chance: &mut Chance) -> Vec<Point> {
    let count = chance.between(3.0, 11.0) as usize;
    let corner = |at: usize| {
        let reach = chance.between(4.0, 20.0);
        let (sin, cos) = geometry::math::sin_cos(at as f64 / count as f64 * std::f64::consts::TAU);
        Point::new(20.0 + reach * cos, 20.0 + reach * sin)
    };
    (0..count).map(corner).collect()
}

fn found(problem: &Problem, seed: u64) -> Layout {
    let budget = Budget::evaluations(1_000);
    solve(problem, &budget, seed, &mut |_| Continue::Yes, None)
}

fn thrown(problem: &Problem, chance: &mut Chance) -> Layout {
    let mut placements = Vec::new();
    for (item, piece) in problem.items().iter().enumerate() {
        for _ in 0..piece.demand {
            let turn = chance.between(0.0, piece.turns.len() as f64) as usize;
            let place = Point::new(chance.between(0.0, 200.0), chance.between(-5.0, 65.0));
            placements.push(Placement { item, turn, place });
        }
    }
    Layout {
        length: 220.0,
        placements,
    }
}

/// A lay of which one piece was moved by anything from a hair to a finger.
fn nudged(problem: &Problem, mut layout: Layout, chance: &mut Chance) -> Layout {
    let by = geometry::math::pow(10.0, chance.between(-5.0, 1.0));
    let which = chance.between(0.0, problem.pieces() as f64) as usize;
    let (sin, cos) = geometry::math::sin_cos(chance.between(0.0, std::f64::consts::TAU));
    layout.placements[which].place += geometry::Vec2::new(by * cos, by * sin);
    layout
}

fn line(problem: &Problem, layout: &Layout) -> Value {
    let piece = |placement: &Placement| {
        let item = &problem.items()[placement.item];
        let turn = item.turns[placement.turn];
        json!({
            "outline": ring(&item.outline),
            "degrees": turn.degrees,
            "mirrored": turn.mirrored,
            "pinned": item.space.pinned,
            "place": [placement.place.x, placement.place.y],
        })
    };
    let tolerance = tolerance(problem);
    let wrong = verify(problem, layout, tolerance).err().unwrap_or_default();
    json!({
        "width": problem.width(),
        "length": layout.length,
        "tolerance": tolerance,
        "flaws": problem.flaws().iter().map(|flaw| ring(flaw)).collect::<Vec<_>>(),
        "pieces": layout.placements.iter().map(piece).collect::<Vec<Value>>(),
        "wrong": wrong.iter().map(violation).collect::<Vec<Value>>(),
    })
}

fn ring(ring: &[Point]) -> Vec<Value> {
    let corners = ring.iter().map(|corner| json!([corner.x, corner.y]));
    corners.collect()
}

fn violation(violation: &Violation) -> Value {
    match violation {
        Violation::Overlap {
            pieces,
            depth,
            area,
        } => json!({ "overlap": pieces, "depth": depth, "area": area }),
        Violation::OnFlaw { piece, flaw, depth } => {
            json!({ "on_flaw": [piece, flaw], "depth": depth })
        }
        Violation::Outside { piece, by } => json!({ "outside": piece, "by": by }),
        Violation::OffFold { piece, by } => json!({ "off_fold": piece, "by": by }),
        other => json!({ "other": format!("{other:?}") }),
    }
}
