//! Drawing a dart to another end: its mouth stays, its legs get one length, and its edge is trued with the dart closed.
//!
//! Invariant: the length as sewn of the edge at which the dart opens stays.

use geometry::Point;

use super::fill::Joint;
use super::gap::Gap;
use super::true_up::{Keep, true_up};
use crate::piece::Piece;

/// Draws a dart to a new end; false where there is no such dart.
pub fn draw_to(piece: &mut Piece, dart: &str, end: Point) -> bool {
    let Some(gap) = Gap::of_dart(piece, dart) else {
        return false;
    };
    let Some(owner) = piece.darts.iter_mut().find(|other| other.name == dart) else {
        return false;
    };
    owner.point = end;
    let length = piece.edges[gap.edge].length();
    level_legs(piece, gap, end);
    let along = gap.along(piece);
    let joint = Joint {
        edge: gap.edge,
        from: along,
        to: along,
    };
    if !true_up(piece, gap.edge, &[joint], Keep::Length(length)) {
        true_up(piece, gap.edge, &[joint], Keep::Shape);
    }
    true
}

/// Puts both ends of the mouth on their legs at the mean of the two lengths.
pub fn level_legs(piece: &mut Piece, gap: Gap, point: Point) {
    let (before, after) = (gap.before(piece), gap.after(piece));
    let lengths = [before, after].map(|mouth| (mouth - point).hypot());
    let mean = f64::midpoint(lengths[0], lengths[1]);
    if lengths.iter().any(|length| *length < 1e-6) || (lengths[0] - lengths[1]).abs() < 1e-9 {
        return;
    }
    let mouth = |end: Point, length: f64| point + (end - point) * (mean / length);
    let (new_before, new_after) = (mouth(before, lengths[0]), mouth(after, lengths[1]));
    let next = gap.next(piece);
    let runs = &mut piece.edges[gap.edge].runs;
    runs[gap.run] = runs[gap.run].with_ends(runs[gap.run].start(), new_before);
    runs[next.run] = runs[next.run].with_ends(new_after, runs[next.run].end());
}

/// The point on the middle line of a dart's mouth that is nearest to its point: from there both legs are of one length.
pub fn on_middle_line(piece: &Piece, dart: &str) -> Option<Point> {
    let legs = piece.legs(piece.dart(dart)?);
    let middle = legs.before.midpoint(legs.after);
    let mouth = legs.after - legs.before;
    if mouth.hypot() < 1e-9 {
        return Some(legs.point);
    }
    let off = (legs.point - middle).dot(mouth) / mouth.hypot2();
    Some(legs.point - mouth * off)
}
