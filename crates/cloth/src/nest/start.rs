//! The first lay: large pieces first, each as far back on the cloth as it goes, touching what lies there.
//!
//! A piece that lies back as far as it can touches two things, so that the candidates are corners of the regions in
//! conflict and their crossings with each other and with the edges of its room. Invariant: the lay has no conflict, but
//! where a room that ends along the cloth is too small for its pieces.

use super::push;
use super::state::Pose;
use super::table::Table;
use super::worker::Legal;

/// Two places.
type Side = [[f64; 2]; 2];

/// A share of a length that is lost by rounding.
const ROUNDING: f64 = 1e-9;

/// A lay by contact.
pub(super) fn bottom_left(table: &Table, items: &[usize]) -> Legal {
    let mut order: Vec<usize> = (0..items.len()).collect();
    let size = |piece: usize| table.shapes[table.of_item[items[piece]].start].size;
    order.sort_by(|&a, &b| size(b).total_cmp(&size(a)).then(a.cmp(&b)));
    let mut placed: Vec<Pose> = table.flaws.clone().map(Pose::fixed).collect();
    let mut poses = vec![None; items.len()];
    for piece in order {
        let pose = furthest_back(table, &placed, table.of_item[items[piece]].clone());
        placed.push(pose);
        poses[piece] = Some(pose);
    }
    let poses: Vec<Pose> = poses.into_iter().flatten().collect();
    Legal {
        length: push::length(table, &poses),
        poses,
    }
}

/// The pose, of some shapes, that reaches least far along the cloth.
fn furthest_back(table: &Table, placed: &[Pose], shapes: std::ops::Range<usize>) -> Pose {
    let mut best: Option<(f64, Pose)> = None;
    for shape in shapes.clone() {
        let bound = best.map_or(f64::INFINITY, |(end, _)| end);
        best = lowest(table, placed, shape, bound).or(best);
    }
    // A room that ends along the cloth may be full: then the piece lies in conflict.
    let last = || Pose {
        shape: shapes.start,
        place: beyond(table, placed, shapes.start),
    };
    best.map_or_else(last, |(_, pose)| pose)
}

/// Where a shape reaches least far along the cloth without conflict, if that is below a bound.
fn lowest(table: &Table, placed: &[Pose], shape: usize, bound: f64) -> Option<(f64, Pose)> {
    let room = table.shapes[shape].room();
    let end = |pose: &Pose| pose.place[0] + room.ahead();
    let mut poses: Vec<Pose> = candidates(table, placed, shape, bound - room.ahead())
        .into_iter()
        .flat_map(|wish| rounded(table, shape, wish))
        .filter(|pose| end(pose) < bound)
        .collect();
    poses.sort_by(|a, b| {
        a.place[0]
            .total_cmp(&b.place[0])
            .then(a.place[1].total_cmp(&b.place[1]))
    });
    let found = poses
        .into_iter()
        .find(|pose| is_free(table, placed, *pose))?;
    Some((end(&found), found))
}

/// The places of the room round a wish: one, but on repeats.
fn rounded(table: &Table, shape: usize, wish: [f64; 2]) -> Vec<Pose> {
    let room = table.shapes[shape].room();
    let half = room
        .steps()
        .map(|step| if step.is_finite() { step / 2.0 } else { 0.0 });
    let shifts = |axis: usize| {
        if half[axis] > 0.0 {
            vec![-half[axis], half[axis]]
        } else {
            vec![0.0]
        }
    };
    let mut poses = Vec::new();
    for along in shifts(0) {
        for across in shifts(1) {
            let place = room.place([wish[0] + along, wish[1] + across], f64::INFINITY);
            poses.push(Pose { shape, place });
        }
    }
    poses
}

fn is_free(table: &Table, placed: &[Pose], pose: Pose) -> bool {
    placed
        .iter()
        .all(|other| table.conflict(other.shape, pose.shape, other.way_to(pose)) == 0.0)
}

/// Places up to an x at which a shape touches two things, and one beyond all others.
fn candidates(table: &Table, placed: &[Pose], shape: usize, most: f64) -> Vec<[f64; 2]> {
    let room = table.shapes[shape].room();
    let far = beyond(table, placed, shape)[0];
    let [low, high] = [room.range(0.0)[0], [far, room.range(0.0)[1][1]]];
    let mut sides: Vec<Side> = vec![
        [low, [low[0], high[1]]],
        [low, [far, low[1]]],
        [[low[0], high[1]], high],
    ];
    let mut wishes = vec![low, [low[0], high[1]], [far, low[1]]];
    for pose in placed {
        let pairing = table.pairing(pose.shape, shape);
        for ring in &table.fields[pairing.field as usize].contours {
            let put = |at: usize| {
                [0, 1].map(|axis| pose.place[axis] + ring[at % ring.len()][axis] * pairing.sign)
            };
            wishes.extend((0..ring.len()).map(put));
            sides.extend((0..ring.len()).map(|at| [put(at), put(at + 1)]));
        }
    }
    wishes.extend(crossings(sides, most));
    let slip = ROUNDING * (1.0 + far.abs());
    wishes.retain(|wish| {
        wish[0] >= low[0] - slip && wish[1] >= low[1] - slip && wish[1] <= high[1] + slip
    });
    wishes
}

/// A place that lies beyond all others.
fn beyond(table: &Table, placed: &[Pose], shape: usize) -> [f64; 2] {
    let reach = |pose: &Pose| pose.place[0] + table.shapes[pose.shape].high[0];
    let end = placed.iter().map(reach).fold(0.0, f64::max);
    let room = table.shapes[shape].room();
    let step = Some(room.steps()[0])
        .filter(|step| step.is_finite())
        .unwrap_or(0.0);
    let start = room.range(0.0)[0];
    room.place(
        [
            (end - table.shapes[shape].low[0] + step).max(start[0]),
            start[1],
        ],
        f64::INFINITY,
    )
}

/// Where sides cross, up to an x.
fn crossings(mut sides: Vec<Side>, most: f64) -> Vec<[f64; 2]> {
    let first = |[a, b]: &Side| a[0].min(b[0]);
    sides.sort_by(|a, b| first(a).total_cmp(&first(b)));
    let mut places = Vec::new();
    for (at, one) in sides.iter().enumerate() {
        let last = one[0][0].max(one[1][0]).min(most);
        let near = sides[at + 1..]
            .iter()
            .take_while(|other| first(other) <= last);
        places.extend(near.filter_map(|other| crossing(*one, *other)));
    }
    places
}

fn crossing([a, b]: Side, [c, d]: Side) -> Option<[f64; 2]> {
    if a[1].max(b[1]) < c[1].min(d[1]) || c[1].max(d[1]) < a[1].min(b[1]) {
        return None;
    }
    let cross = |u: [f64; 2], v: [f64; 2]| u[0] * v[1] - u[1] * v[0];
    let minus = |u: [f64; 2], v: [f64; 2]| [u[0] - v[0], u[1] - v[1]];
    let (one, other, between) = (minus(b, a), minus(d, c), minus(c, a));
    let turn = cross(one, other);
    if turn == 0.0 {
        return None;
    }
    let shares = [cross(between, other) / turn, cross(between, one) / turn];
    let is_on_both = shares.iter().all(|share| (0.0..=1.0).contains(share));
    is_on_both.then(|| [a[0] + shares[0] * one[0], a[1] + shares[0] * one[1]])
}
