//! Drawing a dart to the point of the body at which it aims, its mouth about as wide as before.
//!
//! Where that point lies beside the middle line of the dart, one leg would be longer: both mouths are moved along until the
//! legs agree. Knows no seams. Invariants: every run keeps its length and its direction at its far end, and meets its leg at the
//! angle at which it met it, so that the edge stays smooth over the closed dart.

use geometry::curve::{angle_between, turn_about, unit};
use geometry::{Angle, Curve, Knot, Point, math, solve};

use super::fill::joined;
use super::gap::Gap;
use super::reshape;
use crate::piece::Piece;

/// Draws a dart to a new end; `None`, and nothing changed, where there is no such dart or its edge cannot follow.
pub fn draw_to(piece: &mut Piece, dart: &str, end: Point) -> Option<()> {
    let gap = Gap::of_dart(piece, dart)?;
    let legs = piece.legs(piece.dart(dart)?);
    let reach = [legs.before, legs.after].map(|mouth| (mouth - end).hypot());
    let mean = f64::midpoint(reach[0], reach[1]);
    let mut runs = piece.edges[gap.edge].runs.clone();
    runs[gap.run] = followed(&runs[gap.run], legs.point, end, mean)?;
    let after = runs[gap.run + 1].reversed();
    runs[gap.run + 1] = followed(&after, legs.point, end, mean)?.reversed();
    reshape::put(piece, gap.edge, runs);
    let owner = piece.darts.iter_mut().find(|other| other.name == dart)?;
    owner.point = end;
    Some(())
}

/// A run that ends at a mouth of a dart, drawn on to a mouth at a distance from the dart's new end.
fn followed(run: &Curve, from: Point, end: Point, reach: f64) -> Option<Curve> {
    /// How far the mouth may move about the new end, radians; tried in turn, as a curve that turns back is long again.
    const REACHES: [f64; 4] = [0.01, 0.02, 0.04, 0.08];
    let (mouth, length) = (run.end(), run.length());
    let meets = angle_between(from - mouth, run.end_direction());
    let (kept, _) = run.split_at(length / 2.0)?;
    let old = mouth - end;
    let angle = math::atan2(old.y, old.x);
    let drawn = |by: f64| {
        let mouth = end + unit(Angle::from_radians(angle + by)) * reach;
        let way = turn_about(Point::ORIGIN, meets) * (end - mouth).to_point();
        let knots = [
            Knot::toward(kept.end(), kept.end_direction()),
            Knot::toward(mouth, way.to_vec2()),
        ];
        Some(joined(&kept, &Curve::smooth(&knots)?))
    };
    let off = |by: f64| drawn(by).map_or(f64::NAN, |curve| curve.length() - length);
    let mut reaches = REACHES.into_iter();
    let by = reaches.find_map(|most| solve::bracketed(-most, most, 1e-12, off).ok())?;
    drawn(by)
}
