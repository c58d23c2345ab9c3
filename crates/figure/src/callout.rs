//! Numbers beside the figure, each tied to its tape by a thin line.
//!
//! Knows points on paper; no body. Invariants: rings of one column never touch; ties of one column never cross.

use geometry::Point;

/// Where a number stands and where its tie ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Callout<T> {
    pub(crate) what: T,
    /// Middle of the ring.
    pub(crate) at: Point,
    /// The place on the tape.
    pub(crate) hold: Point,
}

/// Sets numbers into a column at `x`, as near to the height of their tapes as a distance between them allows.
pub(crate) fn column<T: Copy>(held: &[(T, Point)], x: f64, apart: f64) -> Vec<Callout<T>> {
    let mut sorted = held.to_vec();
    sorted.sort_by(|a, b| a.1.y.total_cmp(&b.1.y).then(a.1.x.total_cmp(&b.1.x)));
    let wanted: Vec<f64> = sorted.iter().map(|(_, hold)| hold.y).collect();
    let mut callouts: Vec<Callout<T>> = sorted
        .iter()
        .zip(spread(&wanted, apart))
        .map(|((what, hold), y)| Callout {
            what: *what,
            at: Point::new(x, y),
            hold: *hold,
        })
        .collect();
    uncross(&mut callouts);
    callouts
}

/// Heights at least so far apart, in order, with the least sum of squared moves (pool adjacent violators).
fn spread(wanted: &[f64], apart: f64) -> Vec<f64> {
    let mut pools: Vec<(f64, usize)> = Vec::new();
    for (k, y) in wanted.iter().enumerate() {
        let mut pool = (y - apart * k as f64, 1);
        while let Some(&(mean, count)) = pools.last()
            && mean > pool.0
        {
            pools.pop();
            let all = count + pool.1;
            pool = (
                (mean * count as f64 + pool.0 * pool.1 as f64) / all as f64,
                all,
            );
        }
        pools.push(pool);
    }
    let means = pools
        .iter()
        .flat_map(|(mean, count)| std::iter::repeat_n(*mean, *count));
    means
        .enumerate()
        .map(|(k, mean)| mean + apart * k as f64)
        .collect()
}

/// Swaps places in the column while two ties cross; every swap makes the ties shorter together, so this ends.
fn uncross<T: Copy>(callouts: &mut [Callout<T>]) {
    while let Some((i, j)) = crossed(callouts) {
        let (first, second) = (callouts[i].at, callouts[j].at);
        callouts[i].at = second;
        callouts[j].at = first;
    }
}

fn crossed<T>(callouts: &[Callout<T>]) -> Option<(usize, usize)> {
    let shorter = |a: &Callout<T>, b: &Callout<T>| {
        let now = a.at.distance(a.hold) + b.at.distance(b.hold);
        let swapped = b.at.distance(a.hold) + a.at.distance(b.hold);
        swapped < now - 1e-9
    };
    (0..callouts.len())
        .flat_map(|i| (0..i).map(move |j| (j, i)))
        .find(|(i, j)| shorter(&callouts[*i], &callouts[*j]))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn cross(a: &Callout<usize>, b: &Callout<usize>) -> bool {
        let side = |from: Point, to: Point, of: Point| (to - from).cross(of - from);
        side(a.at, a.hold, b.at) * side(a.at, a.hold, b.hold) < 0.0
            && side(b.at, b.hold, a.at) * side(b.at, b.hold, a.hold) < 0.0
    }

    #[test]
    fn rings_keep_apart_and_ties_do_not_cross() {
        let holds = [
            (-10.0, 4.0),
            (-60.0, 0.0),
            (-5.0, 4.5),
            (-80.0, 4.6),
            (-20.0, 90.0),
            (-70.0, 91.0),
            (-40.0, 4.7),
        ];
        let held: Vec<(usize, Point)> = holds.into_iter().map(Point::from).enumerate().collect();
        let column = column(&held, 20.0, 8.0);
        let mut heights: Vec<f64> = column.iter().map(|one| one.at.y).collect();
        heights.sort_by(f64::total_cmp);
        assert!(
            heights
                .windows(2)
                .all(|pair| pair[1] - pair[0] >= 8.0 - 1e-9),
            "{heights:?}"
        );
        for a in &column {
            assert!(column.iter().all(|b| !cross(a, b)), "{a:?}");
        }
    }

    #[test]
    fn numbers_with_room_stand_level_with_their_tapes() {
        assert_eq!(spread(&[0.0, 20.0, 40.0], 8.0), [0.0, 20.0, 40.0]);
        assert_eq!(spread(&[10.0, 10.0], 8.0), [6.0, 14.0]);
    }
}
