//! Where one outline may not stand beside another: their Minkowski sum by convolution, on a grid of whole numbers.
//!
//! Two outlines are walked with the same direction at the same time (Guibas, Ramshaw, Stolfi: A kinetic framework for
//! computational geometry, FOCS 1983). The walk winds round a point as often as the two areas have parts in common when
//! one is put there, so that the places in conflict are where the winding number is above zero. Knows no cloth and no
//! search. Invariant: exact on whole numbers up to 2^29, but for crossings, which are rounded to the grid.

use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::point::IntPoint;

/// Contours as thin as this, in spots, come from crossings that were rounded to the grid. A hole of that kind is no room for
/// anything, and which side of so thin a ring is inside cannot be told at its corners.
const SLIVER: f64 = 8.0;

/// A place on the grid.
pub(super) type Spot = [i64; 2];

/// The contours round all places of `moving`'s reference point at which it overlaps `fixed`: outer ones counter-clockwise,
/// holes clockwise. Both outlines are simple and counter-clockwise.
pub(super) fn conflict(fixed: &[Spot], moving: &[Spot]) -> Vec<Vec<Spot>> {
    let mirrored: Vec<Spot> = moving.iter().map(|&[x, y]| [-x, -y]).collect();
    let loops = linked(steps(fixed, &mirrored));
    let points = |ring: &Vec<Spot>| ring.iter().map(|&[x, y]| IntPoint::new(x, y)).collect();
    let loops: Vec<Vec<IntPoint<i64>>> = loops.iter().map(points).collect();
    let filled = Overlay::from_subj(&loops).overlay(OverlayRule::Subject, FillRule::Positive);
    let spots = |ring: Vec<IntPoint<i64>>| ring.iter().map(|p| [p.x, p.y]).collect();
    let rings = filled.into_iter().flatten().map(spots);
    rings
        .filter(|ring: &Vec<Spot>| thickness(ring) > SLIVER)
        .collect()
}

/// Twice the area of a ring over its girth, in spots.
fn thickness(ring: &[Spot]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    let (mut twice_area, mut girth) = (0_i128, 0.0);
    for (&from, &to) in ring.iter().zip(next) {
        let way = minus(to, from);
        twice_area +=
            i128::from(from[0]) * i128::from(way[1]) - i128::from(from[1]) * i128::from(way[0]);
        girth += geometry::math::hypot(way[0] as f64, way[1] as f64);
    }
    twice_area.unsigned_abs() as f64 / girth
}

/// The directed edges of the convolution of two outlines.
fn steps(one: &[Spot], other: &[Spot]) -> Vec<[Spot; 2]> {
    let mut steps = Vec::new();
    along(one, other, Ends::SkipsFirst, &mut steps);
    along(other, one, Ends::SkipsLast, &mut steps);
    steps
}

/// Which end of a turn does not belong to it: parallel edges of the two outlines are met in one order only.
#[derive(Clone, Copy)]
enum Ends {
    SkipsFirst,
    SkipsLast,
}

/// The edges of `walked` while the other outline stands at a corner and turns.
fn along(walked: &[Spot], turning: &[Spot], ends: Ends, steps: &mut Vec<[Spot; 2]>) {
    for corner in 0..turning.len() {
        let here = turning[corner];
        let before = turning[(corner + turning.len() - 1) % turning.len()];
        let after = turning[(corner + 1) % turning.len()];
        let (incoming, outgoing) = (minus(here, before), minus(after, here));
        let leftward = cross(incoming, outgoing) >= 0;
        for start in 0..walked.len() {
            let (from, to) = (walked[start], walked[(start + 1) % walked.len()]);
            let heading = minus(to, from);
            let (from, to) = (plus(from, here), plus(to, here));
            if leftward && swept(incoming, outgoing, heading, ends) {
                steps.push([from, to]);
            } else if !leftward && swept(outgoing, incoming, heading, ends) {
                steps.push([to, from]);
            }
        }
    }
}

/// Whether a left turn of less than half a circle from one heading to another passes a third.
fn swept(first: Spot, last: Spot, heading: Spot, ends: Ends) -> bool {
    let (from_first, to_last) = (cross(first, heading), cross(heading, last));
    let is = |one: Spot| cross(one, heading) == 0 && dot(one, heading) > 0;
    match ends {
        Ends::SkipsFirst if is(first) => false,
        Ends::SkipsFirst if is(last) => true,
        Ends::SkipsLast if is(last) => false,
        Ends::SkipsLast if is(first) => true,
        _ => from_first > 0 && to_last > 0,
    }
}

/// Links edges end to start into closed loops; which edge follows at a crossing does not change the winding numbers.
fn linked(mut steps: Vec<[Spot; 2]>) -> Vec<Vec<Spot>> {
    steps.sort_unstable();
    let mut used = vec![false; steps.len()];
    let mut loops = Vec::new();
    for first in 0..steps.len() {
        if used[first] {
            continue;
        }
        let (mut ring, mut at) = (Vec::new(), first);
        loop {
            used[at] = true;
            ring.push(steps[at][0]);
            let end = steps[at][1];
            let start = steps.partition_point(|step| step[0] < end);
            let next = (start..steps.len())
                .take_while(|&next| steps[next][0] == end)
                .find(|&next| !used[next]);
            // As many edges leave a place as reach it, so a walk ends only where it began.
            let Some(next) = next else { break };
            at = next;
        }
        loops.push(ring);
    }
    loops
}

fn minus(a: Spot, b: Spot) -> Spot {
    [a[0] - b[0], a[1] - b[1]]
}

fn plus(a: Spot, b: Spot) -> Spot {
    [a[0] + b[0], a[1] + b[1]]
}

fn cross(a: Spot, b: Spot) -> i64 {
    a[0] * b[1] - a[1] * b[0]
}

fn dot(a: Spot, b: Spot) -> i64 {
    a[0] * b[0] + a[1] * b[1]
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The contours, each begun at its least spot; all a hundred times as large, so that nothing is a sliver.
    fn check(fixed: &[Spot], moving: &[Spot], expected: &[&[Spot]]) {
        let large = |ring: &[Spot]| ring.iter().map(|&[x, y]| [x * 100, y * 100]).collect();
        let (fixed, moving): (Vec<Spot>, Vec<Spot>) = (large(fixed), large(moving));
        let expected: Vec<Vec<Spot>> = expected.iter().map(|ring| large(ring)).collect();
        let mut found = conflict(&fixed, &moving);
        for ring in &mut found {
            let least = (0..ring.len())
                .min_by_key(|&at| ring[at])
                .expect("a contour has corners");
            ring.rotate_left(least);
        }
        found.sort();
        assert_eq!(found, expected);
    }

    const SMALL: [Spot; 4] = [[0, 0], [4, 0], [4, 4], [0, 4]];

    #[test]
    fn two_squares_conflict_in_a_square() {
        let square = [[0, 0], [10, 0], [10, 10], [0, 10]];
        check(
            &square,
            &SMALL,
            &[&[[-4, -4], [10, -4], [10, 10], [-4, 10]]],
        );
    }

    #[test]
    fn a_hollow_that_closes_round_a_square_leaves_a_hole() {
        // A frame of thickness 1 with a slit of 2 at its right, too narrow for the square of 4; 6 × 6 inside.
        let frame = [
            [0, 0],
            [8, 0],
            [8, 3],
            [7, 3],
            [7, 1],
            [1, 1],
            [1, 7],
            [7, 7],
            [7, 5],
            [8, 5],
            [8, 8],
            [0, 8],
        ];
        check(
            &frame,
            &SMALL,
            &[
                &[[-4, -4], [8, -4], [8, 8], [-4, 8]],
                &[[1, 1], [1, 3], [3, 3], [3, 1]],
            ],
        );
    }
}
