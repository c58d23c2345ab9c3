//! What the tests of this room share: recipes and bodies.
#![allow(dead_code, reason = "each test file uses its own part of it")]

pub(crate) mod spoilt;

use body::{Body, Measure, Tape};
use document::Source;
use garment::Recipe;

/// The recipe that a text stands for.
pub(crate) fn recipe(text: &str) -> Recipe {
    let read = garment::recipe::read(&Source::new("test.kdl", text));
    read.unwrap_or_else(|findings| panic!("{findings:#?}"))
}

/// The dress on which populations are tried: all kinds of seams, nothing that only some bodies can have.
pub(crate) fn dress(bust_dart: &str, skirt: &str, sleeve: &str) -> Recipe {
    recipe(&format!(
        "garment \"Test dress\" {{\n ease {{ bust \"60 mm\"; waist \"40 mm\" }}\n bodice {{ bust-dart \"{bust_dart}\" }}\n skirt {skirt}\n {sleeve}\n}}"
    ))
}

/// A body of which only these are taped, the rest completed.
pub(crate) fn body(taped: &[(Measure, f64)]) -> Body {
    let tape = taped
        .iter()
        .fold(Tape::new("test"), |tape, (measure, value)| {
            tape.with(*measure, *value)
        });
    body::complete(&tape)
}

/// A body of one bust girth, all else completed.
pub(crate) fn body_of_bust(bust: f64) -> Body {
    body(&[(Measure::Bust, bust)])
}

/// The women of the survey's file, as tapes.
pub(crate) fn survey(text: &str) -> Vec<Tape> {
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let columns: Vec<&str> = lines
        .next()
        .expect("the survey names its columns")
        .split(',')
        .collect();
    let tape = |line: &str| {
        let values = line
            .split(',')
            .map(|value| value.parse().unwrap_or(f64::NAN));
        let row: Vec<(&str, f64)> = columns.iter().copied().zip(values).collect();
        body::population::survey_body(line.split(',').next().unwrap_or("survey"), &row)
    };
    lines.map(tape).collect()
}

/// Says that a test was skipped, and why.
#[allow(
    clippy::print_stderr,
    reason = "a skipped test says so where one looks"
)]
pub(crate) fn skipped(why: &str) {
    eprintln!("SKIPPED {why}");
}
