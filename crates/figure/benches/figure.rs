//! How long a figure takes: it is drawn anew for every digit that is typed.

use body::{Body, Measure, Tape, complete};
use figure::{Side, Style, sheet_of, view};

fn main() {
    divan::main();
}

fn body() -> Body {
    complete(&Tape::new("Marit").with(Measure::Bust, 937.0))
}

#[divan::bench(args = Side::ALL)]
fn one_view_with_all_measures(bencher: divan::Bencher<'_, '_>, side: Side) {
    let (body, style) = (body(), Style::default());
    bencher.bench_local(|| view(&body, side, &Measure::ALL, &style));
}

#[divan::bench]
fn three_views_with_the_list(bencher: divan::Bencher<'_, '_>) {
    let (body, style) = (body(), Style::default());
    bencher.bench_local(|| sheet_of(&body, &Measure::ALL, &style));
}
