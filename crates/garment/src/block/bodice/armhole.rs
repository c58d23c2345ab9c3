//! The armhole: leaves the shoulder at a right angle, stands upright at the across line, meets the side seam at a right angle.

use geometry::{Curve, Knot, Point, Vec2, math, solve};

use super::super::figures;

/// What an armhole passes through, looking at a piece whose centre line lies at the left.
pub(super) struct Armhole {
    /// End of the shoulder seam.
    pub(super) shoulder: Point,
    /// Direction of the shoulder seam, outwards.
    pub(super) shoulder_direction: Vec2,
    /// Distance of the across line's end from the centre line, mm.
    pub(super) across: f64,
    /// Between which parts of the way from shoulder to underarm the across line may lie.
    pub(super) levels: [f64; 2],
    /// Underarm point.
    pub(super) underarm: Point,
    /// Direction of the side seam, downwards.
    pub(super) side_direction: Vec2,
}

impl Armhole {
    /// The armhole with an across line that leaves its bottom the least width, and by how much that line was shortened, mm.
    pub(super) fn with_bottom(self) -> (Self, f64) {
        let across = self
            .across
            .min(self.underarm.x - figures::LEAST_ARMHOLE_WIDTH);
        let shortened = self.across - across;
        (Self { across, ..self }, shortened)
    }

    /// The highest level at which the across line may be passed: one that reaches out past the shoulder (large busts) is passed
    /// low, so that the armhole comes to it in an even arc and does not hook back below the shoulder.
    fn highest_even(&self) -> f64 {
        let [high, low] = self.levels;
        if self.lean_to_spare(high) >= 0.0 {
            return high;
        }
        match solve::bracketed(high, low, 1e-3, |level| self.lean_to_spare(level)) {
            Ok(level) => level,
            Err(missing) => missing.nearest(),
        }
    }

    /// The armhole from the shoulder to the underarm. Where on the way it passes the across line is a free choice between
    /// two levels: the one at which its curvature does not jump.
    pub(super) fn curve(&self) -> Option<Curve> {
        let [low, high] = [self.highest_even(), self.levels[1]];
        let jump = |level: f64| {
            self.curve_at(level)
                .map_or(f64::NAN, |curve| curvature_jump(&curve))
        };
        let level = match solve::bracketed(low, high, 1e-3, jump) {
            Ok(level) => level,
            Err(missing) => missing.nearest(),
        };
        self.curve_at(level)
    }

    fn across_at(&self, level: f64) -> Point {
        let height = (self.underarm.y - self.shoulder.y) * level;
        Point::new(self.across, self.shoulder.y + height)
    }

    /// How an even arc from the shoulder leans outwards where it passes the across line, and the most that leaves the way
    /// from there to the underarm hollow, radians.
    fn lean(&self, across: Point) -> [f64; 2] {
        let outwards = |way: Vec2| math::atan2(way.x, way.y);
        let upper = outwards(across - self.shoulder);
        let even = 2.0 * upper - outwards(down_from(self.shoulder_direction));
        [even, 0.75 * outwards(self.underarm - across)]
    }

    fn lean_to_spare(&self, level: f64) -> f64 {
        let [even, most] = self.lean(self.across_at(level));
        most - even
    }

    /// Upright, so that the hole is narrowest at the across line. Where that line reaches out nearly as far as the shoulder,
    /// the way there is an even arc instead, passed on the way out, and the hole is narrowest above it.
    fn across_direction(&self, across: Point) -> Vec2 {
        let [even, most] = self.lean(across);
        let (sin, cos) = math::sin_cos(even.min(most).max(0.0));
        Vec2::new(sin, cos)
    }

    fn curve_at(&self, level: f64) -> Option<Curve> {
        let across = self.across_at(level);
        Curve::smooth(&[
            Knot::toward(self.shoulder, down_from(self.shoulder_direction)),
            Knot::toward(across, self.across_direction(across)),
            Knot::toward(self.underarm, out_from(self.side_direction)),
        ])
    }
}

/// How much more the curve bends just below its middle knot than just above it, 1/mm.
fn curvature_jump(curve: &Curve) -> f64 {
    let middle =
        Curve::from_segments(vec![curve.segments()[0]]).map_or(0.0, |upper| upper.length());
    curve.curvature_at(middle + 1e-3).abs() - curve.curvature_at(middle - 1e-3).abs()
}

/// At a right angle to a shoulder that runs outwards, into the piece.
fn down_from(shoulder: Vec2) -> Vec2 {
    Vec2::new(-shoulder.y, shoulder.x)
}

/// At a right angle to a side seam that runs downwards, out of the piece.
fn out_from(side: Vec2) -> Vec2 {
    Vec2::new(side.y, -side.x)
}
