//! What reading, completing and judging a body costs.

use body::{complete, plausible, population};
use document::Source;

fn main() {
    divan::main();
}

#[divan::bench]
fn read_the_cellist(bencher: divan::Bencher<'_, '_>) {
    let source = Source::new(
        "cellist.kdl",
        include_str!("../../../examples/bodies/cellist.kdl"),
    );
    bencher.bench(|| body::read(&source));
}

#[divan::bench]
fn complete_the_cellist(bencher: divan::Bencher<'_, '_>) {
    let tape = cellist();
    bencher.bench(|| complete(&tape));
}

#[divan::bench]
fn judge_the_cellist(bencher: divan::Bencher<'_, '_>) {
    let tape = cellist();
    let body = complete(&tape);
    bencher.bench(|| plausible::findings(&tape, &body));
}

#[divan::bench]
fn draw_a_hundred_bodies() -> usize {
    population::draw(100, 7).count()
}

fn cellist() -> body::Tape {
    let source = Source::new(
        "cellist.kdl",
        include_str!("../../../examples/bodies/cellist.kdl"),
    );
    body::read(&source).expect("the example is read by the tests")
}
