//! Searches a benchmark instance and writes how dense the lay is as the search goes on.
//!
//! Usage: `measure_lays INSTANCE.json [SEED] [EVALUATIONS]`; evaluations rather than seconds, so that a busy machine measures
//! the same.

#![allow(clippy::print_stdout, reason = "an example that is read by a person")]

use cloth::instance;
use cloth::nest::{Budget, Continue, Progress, solve};

fn main() {
    let mut arguments = std::env::args().skip(1);
    let path = arguments
        .next()
        .expect("the first argument is the path of an instance");
    let mut number = |usual| {
        arguments.next().map_or(usual, |text| {
            text.parse().expect("seed and evaluations are numbers")
        })
    };
    let (seed, evaluations) = (number(1), number(10_000_000));
    let text = std::fs::read_to_string(&path).expect("the instance can be read");
    let instance = instance::read(&text).unwrap_or_else(|unread| panic!("{path}: {unread}"));
    let mut next = 1_000_000;
    let mut tell = |now: Progress<'_>| {
        if now.evaluations >= next {
            println!(
                "{:5} M {:.3} %",
                now.evaluations / 1_000_000,
                100.0 * now.density
            );
            next = now.evaluations * 8 / 5;
        }
        Continue::Yes
    };
    let layout = solve(
        &instance.problem,
        &Budget::evaluations(evaluations),
        seed,
        &mut tell,
        None,
    );
    println!(
        "{} {seed} {:.3} %",
        instance.name,
        100.0 * instance.problem.density(layout.length)
    );
}
