//! Whatever is wrong with an instance or a problem: one sentence with place, found, allowed, next step.

mod common;

use cloth::instance::read;
use cloth::nest::{Area, Fault, PoseSpace, Problem, Repeat, Turn, Unsound};
use common::{item, rectangle};
use geometry::Point;

const GOOD: &str = r#"{"format": "neutral-strip-packing-1", "name": "two", "strip_width": 10, "allowed_rotations_deg": [0, 180],
 "items": [{"id": 0, "demand": 2, "vertices": [[0, 0], [4, 0], [4, 4], [0, 4]]}]}"#;

fn says(from: &str, to: &str, expected: &str) {
    assert_eq!(GOOD.matches(from).count(), 1, "{from}");
    let unread = read(&GOOD.replace(from, to)).expect_err("this is no instance");
    assert_eq!(unread.to_string(), expected);
}

#[test]
fn a_good_instance_is_read() {
    let instance = read(GOOD).expect("this is an instance");
    assert_eq!(
        (
            instance.name.as_str(),
            instance.problem.pieces(),
            instance.problem.area()
        ),
        ("two", 2, 32.0)
    );
    assert_eq!(
        instance.problem.items()[0].turns,
        [Turn::by(0.0), Turn::by(180.0)]
    );
}

#[test]
fn bad_values_are_named_with_their_place() {
    says(
        "\"items\":",
        "\"items\"",
        "line 2, column 10: this is no JSON; correct it there",
    );
    says(
        "neutral-strip-packing-1",
        "other",
        "format: \"other\" stands where the name of the form, \"neutral-strip-packing-1\" must stand",
    );
    says(
        "\"strip_width\": 10, ",
        "",
        "strip_width: nothing stands where a value must stand",
    );
    says(
        "10,",
        "\"wide\",",
        "strip_width: \"wide\" stands where a number must stand",
    );
    says(
        "\"demand\": 2",
        "\"demand\": -2",
        "items[0].demand: -2 stands where a whole number from 0 to 10000 must stand",
    );
    says(
        "[4, 4]",
        "[4, \"x\"]",
        "items[0].vertices[2][1]: \"x\" stands where a number must stand",
    );
    says(
        "[4, 4]",
        "[4]",
        "items[0].vertices[2]: [4] stands where a list of two numbers, x and y, must stand",
    );
    says(
        "[0, 180]",
        "{}",
        "allowed_rotations_deg: {} stands where a list must stand",
    );
}

#[test]
fn what_cannot_be_laid_is_said() {
    says(
        "10,",
        "0,",
        "the cloth is 0 wide, and its width must be above 0; give the usable width",
    );
    says(
        "10,",
        "3,",
        "item 0 takes 4 across the cloth, and no place of 3 that it may have holds it; use wider cloth or allow other turns",
    );
    says(
        "\"demand\": 2",
        "\"demand\": 0",
        "there is nothing to lay: no piece has a demand of 1 or more; add a piece or raise its demand",
    );
    says(
        "[4, 4], [0, 4]",
        "[0, 4], [5, 4]",
        "item 0 has no sound outline: its sides 1 and 3 cross each other; correct its corners",
    );
    says(
        "[4, 4], [0, 4]",
        "[2, 0]",
        "item 0 has no sound outline: it encloses no area; correct its corners",
    );
    says(
        ", [4, 4], [0, 4]",
        "",
        "item 0 has no sound outline: it has 2 corners, and an outline needs at least 3; correct its corners",
    );
    says(
        "[0, 180]",
        "[]",
        "item 0 has no turn that it may lie at; allow at least one, such as 0 degrees",
    );
    says(
        "[4, 4]",
        "[1e999, 4]",
        "line 2, column 69: this is no JSON; correct it there",
    );
}

#[test]
fn rooms_without_a_place_are_refused() {
    let refused = |space: PoseSpace| {
        let mut piece = item(rectangle(20.0, 30.0), 1);
        piece.space = space;
        Problem::new(100.0, vec![piece], Vec::new()).expect_err("no place holds it")
    };
    let narrow = Area {
        low: [0.0, 10.0],
        high: [f64::INFINITY, 35.0],
    };
    assert!(matches!(
        refused(PoseSpace::boxed(narrow)),
        Fault::TooLarge { room: 25.0, .. }
    ));
    let off_fold = Area {
        low: [0.0, 10.0],
        high: [f64::INFINITY, 90.0],
    };
    assert!(matches!(
        refused(PoseSpace {
            pinned: true,
            ..PoseSpace::boxed(off_fold)
        }),
        Fault::TooLarge { .. }
    ));
    let wide = Repeat {
        every: 500.0,
        phase: 300.0,
    };
    assert!(matches!(
        refused(PoseSpace::lattice(None, Some(wide))),
        Fault::TooLarge { .. }
    ));
    let none = Repeat {
        every: 0.0,
        phase: 0.0,
    };
    assert!(matches!(
        refused(PoseSpace::lattice(Some(none), None)),
        Fault::Repeat { .. }
    ));
}

#[test]
fn flaws_must_be_outlines() {
    let flaw = vec![Point::ZERO, Point::new(1.0, f64::NAN), Point::new(1.0, 1.0)];
    let fault = Problem::new(10.0, vec![item(rectangle(2.0, 3.0), 1)], vec![flaw])
        .expect_err("this is no flaw");
    assert_eq!(
        fault,
        Fault::Flaw {
            place: 0,
            what: Unsound::NotFinite { place: 1 }
        }
    );
}
