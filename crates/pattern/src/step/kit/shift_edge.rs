//! Moving an edge outwards or inwards: its neighbours are prolonged or cut back to it, lines inside reach it.
//!
//! Invariants: the moved edge keeps its shape, its length and the angles of its darts; edges that do not touch it stay bit for
//! bit.

use geometry::{
    Affine, Curve, Knot, Point, Tolerance, Vec2, curve::angle_between, curve::turn_about,
};

use super::closed::Closed;
use super::fill::joined;
use super::notches;
use crate::piece::{InnerLine, Piece};

/// A neighbour is drawn anew over at most so much of its end, mm, unless it is cut back farther.
const REDRAWN: f64 = 120.0;
/// How near to the edge a line inside must end to be drawn on to it, mm.
const REACHES: f64 = 0.5;

/// Moves an edge out by so much at its first corner and at its last (in: negative), square to the line between them.
/// `None` where it has no length.
pub fn shift_edge(piece: &mut Piece, edge: usize, out: [f64; 2]) -> Option<()> {
    let owner = piece.edges.get(edge)?;
    let closed = Closed::of(piece, owner);
    let old = closed.curve();
    let (start, end) = (old.start(), old.end());
    let chord = end - start;
    if chord.hypot() < 1.0 {
        return None;
    }
    let square = Vec2::new(chord.y, -chord.x) / chord.hypot();
    let by = laid(
        [start, end],
        [start + square * out[0], end + square * out[1]],
    );
    let new = old.transformed(by);
    let runs = closed.reopened(&new, &closed.mouths())?;
    let before = piece.edges[edge].runs.clone();
    piece.edges[edge].runs = runs;
    follow(piece, edge)?;
    reach_lines(piece, edge, &before);
    Some(())
}

/// The move without stretching that lays one stretch on another, their middles on each other.
fn laid(from: [Point; 2], onto: [Point; 2]) -> Affine {
    let (middle, aim) = (from[0].midpoint(from[1]), onto[0].midpoint(onto[1]));
    let angle = angle_between(from[1] - from[0], onto[1] - onto[0]);
    let shift = Affine::translate(aim - middle);
    if angle.radians().abs() < 1e-12 {
        shift
    } else {
        turn_about(aim, angle) * shift
    }
}

/// Lets the edges before and after end at the corners of an edge that moved.
fn follow(piece: &mut Piece, edge: usize) -> Option<()> {
    let count = piece.edges.len();
    let (start, end) = (piece.edges[edge].start(), piece.edges[edge].end());
    let before = (edge + count - 1) % count;
    let last = piece.edges[before].runs.len() - 1;
    let run = &piece.edges[before].runs[last];
    piece.edges[before].runs[last] = drawn_to(run, start)?;
    let after = (edge + 1) % count;
    let run = piece.edges[after].runs[0].clone();
    let drawn = drawn_to(&run.reversed(), end)?.reversed();
    let more = drawn.length() - run.length();
    piece.edges[after].runs[0] = drawn;
    let name = piece.edges[after].name.clone();
    // What lies on the stretch that is drawn anew keeps its distance from the far end.
    notches::change(piece, &name, |along| {
        if along < 1e-6 {
            along
        } else {
            (along + more).max(0.0)
        }
    });
    Some(())
}

/// How much of the end of a run is drawn anew when its end moves by so much, mm: enough to cut it back by that.
fn redrawn(run: &Curve, moves: f64) -> f64 {
    let length = run.length();
    (length / 2.0)
        .min(REDRAWN)
        .max(moves * 1.25)
        .min(length * 0.99)
}

/// A run that ends at another point, in the direction in which it ended.
pub fn drawn_to(run: &Curve, end: Point) -> Option<Curve> {
    if (run.end() - end).hypot() < 1e-9 {
        return Some(run.with_ends(run.start(), end));
    }
    drawn_toward(run, end, run.end_direction())
}

/// A run that ends at another point and arrives there in a direction; a straight one stays straight where the point lies on
/// its line.
pub fn drawn_toward(run: &Curve, end: Point, arrives: Vec2) -> Option<Curve> {
    let along = run.length() - redrawn(run, (end - run.end()).hypot());
    let (from, leaves) = (run.point_at(along), run.direction_at(along));
    let way = end - from;
    let straight = [leaves, arrives].iter().all(|direction| {
        direction.cross(way).abs() < 1e-9 * way.hypot() && direction.dot(way) > 0.0
    });
    let tail = if straight {
        Curve::line(from, end)
    } else {
        Curve::smooth(&[Knot::toward(from, leaves), Knot::toward(end, arrives)])?
    };
    match run.split_at(along) {
        Some((head, _)) => Some(joined(&head, &tail)),
        None => Some(tail),
    }
}

/// Lines inside that ended on the edge end on it again.
pub fn reach_lines(piece: &mut Piece, edge: usize, before: &[Curve]) {
    let after = piece.edges[edge].runs.clone();
    for line in &mut piece.lines {
        reach_line(line, before, &after);
    }
}

fn reach_line(line: &mut InnerLine, before: &[Curve], after: &[Curve]) {
    for run in &mut line.runs {
        if let Some(index) = ends_on(run.end(), before) {
            *run = drawn_on(run, &after[index]);
        }
        if let Some(index) = ends_on(run.start(), before) {
            *run = drawn_on(&run.reversed(), &after[index]).reversed();
        }
    }
}

fn ends_on(point: Point, runs: &[Curve]) -> Option<usize> {
    runs.iter()
        .position(|run| run.nearest(point).distance < REACHES)
}

/// A line drawn on straight, or cut back, to where it meets a curve; as it was where it does not.
fn drawn_on(line: &Curve, onto: &Curve) -> Curve {
    let cut = line.crossings(onto, Tolerance::PATTERN);
    if let Some(first) = cut.first() {
        return line.stretch(0.0, first.along);
    }
    let (end, way) = (line.end(), line.end_direction());
    if way.hypot() < 0.5 {
        return line.clone();
    }
    match onto
        .crossings_with_ray(end, way, Tolerance::PATTERN)
        .first()
    {
        Some(crossing) => joined(line, &Curve::line(end, crossing.point)),
        None => line.clone(),
    }
}
