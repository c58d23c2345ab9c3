//! Speed of what every piece needs: lengths, places along, offsets, crossings, cutting outlines.

use divan::{Bencher, black_box};
use geometry::{
    Angle, Curve, Knot, Point, Tolerance,
    allowance::{Corner, Side, Which, cutting_outline},
    outline::roomiest,
    simple::is_simple,
};

fn main() {
    divan::main();
}

/// A hollow and a bulge, like a front armhole.
fn armhole() -> Curve {
    let points = [
        (0.0, 0.0),
        (-22.0, 60.0),
        (-20.0, 120.0),
        (30.0, 175.0),
        (70.0, 185.0),
    ];
    let knots: Vec<Knot> = points.iter().map(|&p| Knot::free(p.into())).collect();
    Curve::smooth(&knots).expect("the knots are apart")
}

/// A closed outline of so many slightly curved sides, clockwise on the table.
fn outline(sides: u32) -> Vec<Curve> {
    let corner = |k: u32| {
        let k = k % sides;
        let way =
            geometry::curve::unit(Angle::from_degrees(360.0 * f64::from(k) / f64::from(sides)));
        Point::new(300.0, 400.0) + way * (250.0 + 40.0 * f64::from(k % 3))
    };
    (0..sides)
        .map(|k| {
            let (from, to) = (corner(k), corner(k + 1));
            let middle = from.midpoint(to) + (to - Point::new(300.0, 400.0)) * 0.02;
            Curve::smooth(&[from, middle, to].map(Knot::free)).expect("the knots are apart")
        })
        .collect()
}

#[divan::bench]
fn length(bencher: Bencher<'_, '_>) {
    let curve = armhole();
    bencher.bench(|| black_box(&curve).length());
}

#[divan::bench]
fn point_at(bencher: Bencher<'_, '_>) {
    let curve = armhole();
    bencher.bench(|| black_box(&curve).point_at(black_box(123.0)));
}

#[divan::bench]
fn nearest(bencher: Bencher<'_, '_>) {
    let curve = armhole();
    bencher.bench(|| black_box(&curve).nearest(black_box(Point::new(40.0, 90.0))));
}

#[divan::bench]
fn split_at(bencher: Bencher<'_, '_>) {
    let curve = armhole();
    bencher.bench(|| black_box(&curve).split_at(black_box(123.0)));
}

#[divan::bench]
fn flattened(bencher: Bencher<'_, '_>) {
    let curve = armhole();
    bencher.bench(|| black_box(&curve).flattened(Tolerance::DRAWING));
}

#[divan::bench(args = [15.0, -15.0, -60.0])]
fn offset(bencher: Bencher<'_, '_>, distance: f64) {
    let curve = armhole();
    bencher.bench(|| black_box(&curve).offset(distance, Tolerance::PATTERN));
}

#[divan::bench]
fn crossings(bencher: Bencher<'_, '_>) {
    let curve = armhole();
    let other = curve.turned(Point::new(0.0, 90.0), Angle::from_degrees(70.0));
    bencher.bench(|| black_box(&curve).crossings(black_box(&other), Tolerance::PATTERN));
}

#[divan::bench(args = [5, 20, 80])]
fn simple(bencher: Bencher<'_, '_>, sides: u32) {
    let outline = outline(sides);
    bencher.bench(|| is_simple(black_box(&outline)));
}

#[divan::bench(args = [5, 20])]
fn allowance(bencher: Bencher<'_, '_>, sides: u32) {
    let sides: Vec<Side> = outline(sides)
        .into_iter()
        .enumerate()
        .map(|(k, curve)| Side {
            curve,
            distance: if k % 4 == 0 { 40.0 } else { 15.0 },
            corner: [
                Corner::Mitre,
                Corner::Mirrored(Which::Before),
                Corner::Squared(Which::After),
            ][k % 3],
        })
        .collect();
    assert!(cutting_outline(&sides, Tolerance::PATTERN).is_ok());
    bencher.bench(|| cutting_outline(black_box(&sides), Tolerance::PATTERN));
}

#[divan::bench]
fn roomiest_place(bencher: Bencher<'_, '_>) {
    let outline = outline(20);
    bencher.bench(|| roomiest(black_box(&outline), Tolerance::DRAWING));
}
