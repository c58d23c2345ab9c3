//! How long it takes to draw a piece, a roomy one and one that has hardly room for words.

#[path = "../tests/samples/mod.rs"]
mod samples;

use divan::{Bencher, black_box};

fn main() {
    divan::main();
}

#[divan::bench]
fn bodice_front(bencher: Bencher<'_, '_>) {
    let (piece, labels) = (samples::bodice_front(), samples::labels());
    bencher.bench_local(|| drawing::panel(black_box(&piece), &labels).ok());
}

#[divan::bench]
fn belt_loop(bencher: Bencher<'_, '_>) {
    let (piece, labels) = (samples::tab(), samples::labels());
    bencher.bench_local(|| drawing::panel(black_box(&piece), &labels).ok());
}

#[divan::bench]
fn nine_pieces_side_by_side(bencher: Bencher<'_, '_>) {
    let (pattern, labels) = (samples::pattern(), samples::labels());
    bencher.bench_local(|| drawing::overview(black_box(&pattern), &labels));
}
