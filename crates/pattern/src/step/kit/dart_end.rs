//! Drawing a dart to another end: its mouth stays, its legs get one length, and its edge is trued with the dart closed.
//!
//! Invariant: the length as sewn of the edge at which the dart opens stays.

use geometry::{Angle, Curve, Point, curve::angle_between, math};

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

/// Turns the runs beside a mouth about their far ends until both legs have the mean of their lengths: the runs keep their
/// shapes. Where a run cannot reach so far, its end is put on the leg.
pub fn level_legs(piece: &mut Piece, gap: Gap, point: Point) {
    let (before, after) = (gap.before(piece), gap.after(piece));
    let lengths = [before, after].map(|mouth| (mouth - point).hypot());
    let mean = f64::midpoint(lengths[0], lengths[1]);
    if lengths.iter().any(|length| *length < 1e-6) || (lengths[0] - lengths[1]).abs() < 1e-9 {
        return;
    }
    let next = gap.next(piece);
    let runs = &mut piece.edges[gap.edge].runs;
    runs[gap.run] = reaching(&runs[gap.run], point, mean);
    runs[next.run] = reaching(&runs[next.run].reversed(), point, mean).reversed();
}

/// A run turned about its start until its end lies at a distance from a point.
fn reaching(run: &Curve, point: Point, distance: f64) -> Curve {
    let (far, end) = (run.start(), run.end());
    let (base, arm) = ((point - far).hypot(), (end - far).hypot());
    // The angle at the far end of the triangle with these three sides.
    let cosine = (base * base + arm * arm - distance * distance) / (2.0 * base * arm);
    if !(-1.0..=1.0).contains(&cosine) {
        let onto = point + (end - point) * (distance / (end - point).hypot());
        return run.with_ends(far, onto);
    }
    let now = angle_between(point - far, end - far).radians();
    let wanted = math::acos(cosine) * now.signum();
    run.turned(far, Angle::from_radians(wanted - now))
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
