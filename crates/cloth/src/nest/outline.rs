//! Outlines as points in a ring: turning them, measuring them, and whether they are sound.

use geometry::{Point, math};

use super::fault::Unsound;
use super::problem::Turn;

/// Twice the largest share of a size that is taken for nought, against rounding.
const NOUGHT: f64 = 1e-12;

/// The area, positive where the ring runs counter-clockwise.
pub(super) fn area(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter()
        .zip(next)
        .map(|(a, b)| a.x * b.y - a.y * b.x)
        .sum::<f64>()
        / 2.0
}

/// The least and the greatest x and y.
pub(super) fn bounds(ring: &[Point]) -> [[f64; 2]; 2] {
    let (mut low, mut high) = ([f64::INFINITY; 2], [f64::NEG_INFINITY; 2]);
    for point in ring {
        (low[0], low[1]) = (low[0].min(point.x), low[1].min(point.y));
        (high[0], high[1]) = (high[0].max(point.x), high[1].max(point.y));
    }
    [low, high]
}

/// The ring at a turn. Quarters of a circle are exact.
pub(super) fn turned(ring: &[Point], turn: Turn) -> Vec<Point> {
    let (sin, cos) = match turn.degrees.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        degrees => math::sin_cos(degrees.to_radians()),
    };
    let put = |point: &Point| {
        let x = if turn.mirrored { -point.x } else { point.x };
        Point::new(x * cos - point.y * sin, x * sin + point.y * cos)
    };
    ring.iter().map(put).collect()
}

/// Whether a ring is an outline: finite, of some area, without crossing itself.
pub fn check(ring: &[Point]) -> Result<(), Unsound> {
    if ring.len() < 3 {
        return Err(Unsound::Few { found: ring.len() });
    }
    if let Some(place) = ring.iter().position(|point| !point.is_finite()) {
        return Err(Unsound::NotFinite { place });
    }
    let [low, high] = bounds(ring);
    let size = (high[0] - low[0]).max(high[1] - low[1]);
    if area(ring).abs() <= NOUGHT * size * size || size == 0.0 {
        return Err(Unsound::NoArea);
    }
    crossing(ring).map_or(Ok(()), |sides| Err(Unsound::Crossing { sides }))
}

/// Two sides that cross or touch though they are not neighbours.
fn crossing(ring: &[Point]) -> Option<[usize; 2]> {
    let side = |at: usize| (ring[at], ring[(at + 1) % ring.len()]);
    for first in 0..ring.len() {
        let skipped = usize::from(first == 0);
        for second in first + 2..ring.len() - skipped {
            if cross(side(first), side(second)) {
                return Some([first, second]);
            }
        }
    }
    None
}

fn cross((a, b): (Point, Point), (c, d): (Point, Point)) -> bool {
    let side = |from: Point, to: Point, of: Point| (to - from).cross(of - from);
    let apart = |one: f64, other: f64| (one > 0.0 && other < 0.0) || (one < 0.0 && other > 0.0);
    apart(side(a, b, c), side(a, b, d)) && apart(side(c, d, a), side(c, d, b))
}
