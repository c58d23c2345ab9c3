//! Pushes pieces back along the cloth until they touch, exactly.
//!
//! Invariant: a lay without conflict stays so, and no piece moves forward.

use super::state::Pose;
use super::table::Table;

/// How often all pieces are pushed.
const ROUNDS: usize = 8;

/// Pushes every piece back, and returns the length that is left.
pub(super) fn push_back(table: &Table, poses: &mut [Pose]) -> f64 {
    let mut order: Vec<usize> = (0..poses.len()).collect();
    let start = |pose: &Pose| pose.place[0] + table.shapes[pose.shape].low[0];
    order.sort_by(|&a, &b| {
        start(&poses[a])
            .total_cmp(&start(&poses[b]))
            .then(a.cmp(&b))
    });
    for _ in 0..ROUNDS {
        for &piece in &order {
            poses[piece].place[0] = furthest_back(table, poses, piece);
        }
    }
    length(table, poses)
}

/// The length of cloth that pieces take.
pub(super) fn length(table: &Table, poses: &[Pose]) -> f64 {
    let end = |pose: &Pose| pose.place[0] + table.shapes[pose.shape].room().ahead();
    poses.iter().map(end).fold(0.0, f64::max)
}

/// The least x that a piece reaches from where it lies, if it slides along the cloth only.
fn furthest_back(table: &Table, poses: &[Pose], piece: usize) -> f64 {
    let pose = poses[piece];
    let room = table.shapes[pose.shape].room();
    let mut least = room.range(f64::INFINITY)[0][0];
    let others = poses
        .iter()
        .copied()
        .enumerate()
        .filter(|&(other, _)| other != piece)
        .map(|(_, other)| other);
    let flaws = table.flaws.clone().map(Pose::fixed);
    for other in others.chain(flaws) {
        let pairing = table.pairing(other.shape, pose.shape);
        for ring in &table.fields[pairing.field as usize].contours {
            let put = |corner: [f64; 2]| {
                [0, 1].map(|axis| other.place[axis] + corner[axis] * pairing.sign)
            };
            for at in 0..ring.len() {
                let side = [put(ring[at]), put(ring[(at + 1) % ring.len()])];
                if let Some(x) = furthest_hit(side, pose.place[1])
                    && x <= pose.place[0]
                {
                    least = least.max(x);
                }
            }
        }
    }
    // What is nearest may be a hair ahead by rounding; then the piece stays.
    let wish = [least.min(pose.place[0]), pose.place[1]];
    let [x, _] = room.place(wish, f64::INFINITY);
    if x >= least && x < pose.place[0] {
        x
    } else {
        pose.place[0]
    }
}

/// The greatest x at which a side meets the line at `y`, unless it only touches it from one end.
fn furthest_hit([a, b]: [[f64; 2]; 2], y: f64) -> Option<f64> {
    let (low, high) = if a[1] <= b[1] { (a, b) } else { (b, a) };
    if y <= low[1] || y >= high[1] {
        return None;
    }
    Some(low[0] + (high[0] - low[0]) * ((y - low[1]) / (high[1] - low[1])))
}
