//! What already lies on a piece, so that words and arrows keep clear of it.
//!
//! Knows straight stretches with a reach and a border, not what they are. Invariant: everything curved comes as straight
//! stretches within [`BULGE_MM`] of it, which their reach takes in.

use geometry::curve::{turn_about, unit};
use geometry::{Angle, Curve, Point, Rect, Tolerance, Vec2, math};

use crate::view::View;

/// How far a curve may stray from its straight stretches, mm.
const BULGE_MM: f64 = 0.1;
/// Distance between the lines with which an area is filled, mm; less than the smallest words are high.
const FILL_STEP_MM: f64 = 2.0;
/// How far words may lean back, degrees, before they are turned round.
const NEARLY_UPRIGHT: f64 = 15.0;

/// What lies on a piece, and the border within which words may stand.
#[derive(Clone, Debug, Default)]
pub(crate) struct Ground {
    stretches: Vec<Stretch>,
    border: Vec<Point>,
}

impl Ground {
    /// A piece with nothing on it but its border, the seam line.
    pub(crate) fn bordered(outline: &[Curve]) -> Self {
        let mut ground = Self::default();
        for curve in outline {
            ground.add_curve(curve, 0.2);
            ground.border.extend(flattened(curve));
        }
        ground
    }

    pub(crate) fn add_curve(&mut self, curve: &Curve, reach: f64) {
        self.add(curve, reach + BULGE_MM, false);
    }

    /// A line that arrows may cross.
    pub(crate) fn add_line_inside(&mut self, curve: &Curve, reach: f64) {
        self.add(curve, reach + BULGE_MM, true);
    }

    pub(crate) fn add_straight(&mut self, from: Point, to: Point, reach: f64) {
        self.add(&Curve::line(from, to), reach, false);
    }

    /// A triangle on which nothing may stand.
    pub(crate) fn add_triangle(&mut self, tip: Point, base: [Point; 2], reach: f64) {
        let width = base[0].distance(base[1]);
        let count = (width / FILL_STEP_MM).ceil().max(1.0);
        for step in 0..=count as usize {
            self.add_straight(tip, base[0].lerp(base[1], step as f64 / count), reach);
        }
    }

    /// A box in the axes of a view, on which nothing may stand.
    pub(crate) fn add_box(&mut self, angle: Angle, area: Rect) {
        let into_piece = turn_about(Point::ORIGIN, angle);
        let count = (area.height() / FILL_STEP_MM).ceil().max(1.0);
        for step in 0..=count as usize {
            let y = area.y0 + area.height() * step as f64 / count;
            let (from, to) = (Point::new(area.x0, y), Point::new(area.x1, y));
            self.add_straight(into_piece * from, into_piece * to, 0.0);
        }
    }

    /// The same in axes of their own: x along an angle, y a quarter turn on.
    pub(crate) fn seen_along(&self, angle: Angle) -> View {
        let into_piece = turn_about(Point::ORIGIN, angle);
        let from_piece = turn_about(Point::ORIGIN, Angle::from_radians(-angle.radians()));
        let seen = |stretch: &Stretch| Stretch {
            from: from_piece * stretch.from,
            to: from_piece * stretch.to,
            ..*stretch
        };
        View {
            angle,
            into_piece,
            from_piece,
            stretches: self.stretches.iter().map(seen).collect(),
            border: self
                .border
                .iter()
                .map(|point| from_piece * *point)
                .collect(),
        }
    }

    fn add(&mut self, curve: &Curve, reach: f64, is_line_inside: bool) {
        let points = flattened(curve);
        self.stretches.extend(points.windows(2).map(|pair| Stretch {
            from: pair[0],
            to: pair[1],
            reach,
            is_line_inside,
        }));
    }
}

/// A straight stretch of something drawn.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stretch {
    from: Point,
    to: Point,
    reach: f64,
    is_line_inside: bool,
}

impl Stretch {
    /// Whether it is a line inside that runs rather across the view than along it.
    pub(crate) fn may_be_crossed(&self) -> bool {
        let way = self.to - self.from;
        self.is_line_inside && way.y.abs() > way.x.abs()
    }

    /// From where to where it lies in a band, its reach included.
    pub(crate) fn within(&self, top: f64, bottom: f64) -> Option<(f64, f64)> {
        let (top, bottom) = (top - self.reach, bottom + self.reach);
        let (high, low) = if self.from.y <= self.to.y {
            (self.from, self.to)
        } else {
            (self.to, self.from)
        };
        if low.y < top || high.y > bottom {
            return None;
        }
        let at = |y: f64| {
            let share = (y - high.y) / (low.y - high.y).max(f64::MIN_POSITIVE);
            high.x + (low.x - high.x) * share.clamp(0.0, 1.0)
        };
        let first = if high.y < top { at(top) } else { high.x };
        let last = if low.y > bottom { at(bottom) } else { low.x };
        Some((first.min(last) - self.reach, first.max(last) + self.reach))
    }
}

/// The angle along a direction or against it at which words are read: never upside down, and upwards where they stand
/// upright or nearly so.
pub(crate) fn reading(direction: Vec2) -> Angle {
    let degrees = Angle::from_radians(math::atan2(direction.y, direction.x)).degrees();
    let turned = match degrees {
        high if high >= 90.0 - NEARLY_UPRIGHT => high - 180.0,
        low if low < -90.0 - NEARLY_UPRIGHT => low + 180.0,
        other => other,
    };
    Angle::from_degrees(turned)
}

/// The unit vector a quarter turn clockwise from a direction: inwards, where an outline runs clockwise.
pub(crate) fn inward(direction: Vec2) -> Vec2 {
    Vec2::new(-direction.y, direction.x)
}

/// The unit vector across an angle, to its right.
pub(crate) fn across(angle: Angle) -> Vec2 {
    inward(unit(angle))
}

fn flattened(curve: &Curve) -> Vec<Point> {
    curve.flattened(Tolerance::from_mm(BULGE_MM).unwrap_or(Tolerance::DRAWING))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_are_never_upside_down() {
        for (way, degrees) in [
            ((0.0, 1.0), -90.0),
            ((0.0, -1.0), -90.0),
            ((0.1, 1.0), -95.710_593_137_499_64),
            ((-1.0, 0.0), 0.0),
            ((-1.0, -1.0), 45.0),
        ] {
            assert!(
                (reading(Vec2::from(way)).degrees() - degrees).abs() < 1e-9,
                "{way:?}"
            );
        }
    }
}
