//! Lays whose shortest length is known by arithmetic.

mod common;

use cloth::nest::{Area, Item, PoseSpace, Problem, Turn};
use cloth::verify::{tolerance, verify};
use common::{item, rectangle, search};
use geometry::Point;

fn check(width: f64, items: Vec<Item>, expected: f64) {
    let problem = Problem::new(width, items, Vec::new()).expect("the problem is sound");
    let lay = search(&problem, 400_000, 1);
    assert_eq!(verify(&problem, &lay, tolerance(&problem)), Ok(()));
    assert!(
        (lay.length - expected).abs() < 1e-3 * expected,
        "{} instead of {expected}",
        lay.length
    );
}

#[test]
fn rectangles_that_fill_the_cloth_leave_nothing() {
    check(60.0, vec![item(rectangle(20.0, 30.0), 8)], 80.0);
    check(
        50.0,
        vec![
            item(rectangle(30.0, 20.0), 2),
            item(rectangle(30.0, 30.0), 2),
        ],
        60.0,
    );
}

#[test]
fn a_piece_that_may_be_turned_lies_the_short_way() {
    let mut long = item(rectangle(90.0, 40.0), 1);
    long.turns = vec![Turn::by(0.0), Turn::by(90.0)];
    check(100.0, vec![long.clone()], 40.0);
    long.turns.truncate(1);
    check(100.0, vec![long], 90.0);
}

#[test]
fn two_triangles_make_a_square() {
    let triangle = [(0.0, 0.0), (10.0, 0.0), (0.0, 10.0)]
        .map(Point::from)
        .to_vec();
    check(10.0, vec![item(triangle, 2)], 10.0);
}

#[test]
fn a_piece_goes_into_the_hollow_of_another() {
    let frame = [
        (0, 0),
        (30, 0),
        (30, 5),
        (5, 5),
        (5, 25),
        (30, 25),
        (30, 30),
        (0, 30),
    ];
    let frame = frame
        .map(|(x, y)| Point::new(f64::from(x), f64::from(y)))
        .to_vec();
    check(
        30.0,
        vec![item(frame, 1), item(rectangle(24.0, 18.0), 1)],
        30.0,
    );
}

#[test]
fn a_flaw_is_gone_round() {
    let flaw = vec![rectangle(10.0, 20.0)];
    let problem = Problem::new(20.0, vec![item(rectangle(10.0, 20.0), 1)], flaw)
        .expect("the problem is sound");
    let lay = search(&problem, 10_000, 1);
    assert_eq!(verify(&problem, &lay, tolerance(&problem)), Ok(()));
    assert!((lay.length - 20.0).abs() < 0.02, "{}", lay.length);
}

/// A piece that is held in the middle of the cloth leaves no room beside it, and the first lay puts the larger one over it: the
/// search looks further along. 30 and 40 lie behind each other on 70.
#[test]
fn what_is_held_is_passed_by() {
    let held = Item {
        space: PoseSpace::boxed(Area {
            low: [0.0, 5.0],
            high: [30.0, 15.0],
        }),
        turns: vec![Turn::by(0.0)],
        ..item(rectangle(30.0, 10.0), 1)
    };
    let other = Item {
        turns: vec![Turn::by(0.0)],
        ..item(rectangle(40.0, 10.0), 1)
    };
    check(20.0, vec![held, other], 70.0);
}
