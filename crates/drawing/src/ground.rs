//! What already lies on a piece, so that words and arrows keep clear of it.
//!
//! Knows straight stretches with a reach and a border, not what they are. Everything curved comes as straight stretches
//! within [`BULGE_MM`], which their reach takes in. Invariant: a box that is called free has no stretch's reach in it.

use geometry::curve::{turn_about, unit};
use geometry::{Affine, Angle, Curve, Point, Rect, Tolerance, Vec2, math};

/// How far a curve may stray from its straight stretches, mm.
const BULGE_MM: f64 = 0.1;
/// Distance between the lines with which an area is filled, mm; less than the smallest words are high.
const FILL_STEP_MM: f64 = 2.0;

/// How far words may lean back, degrees, before they are turned round.
const NEARLY_UPRIGHT: f64 = 15.0;

/// What a search keeps clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Heed {
    /// Everything.
    All,
    /// Everything but lines inside that come across, which an arrow may cross; never those that run along with it.
    NotCrossed,
}

#[derive(Clone, Copy, Debug)]
struct Stretch {
    from: Point,
    to: Point,
    reach: f64,
    is_line_inside: bool,
}

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
        let into_view = turn_about(Point::ORIGIN, Angle::from_radians(-angle.radians()));
        let seen = |stretch: &Stretch| Stretch {
            from: into_view * stretch.from,
            to: into_view * stretch.to,
            ..*stretch
        };
        View {
            angle,
            into_piece,
            into_view,
            stretches: self.stretches.iter().map(seen).collect(),
            border: self.border.iter().map(|point| into_view * *point).collect(),
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

/// What lies on a piece, in axes that are turned.
#[derive(Clone, Debug)]
pub(crate) struct View {
    /// Direction of the x axis on the piece.
    pub(crate) angle: Angle,
    /// From these axes to those of the piece.
    pub(crate) into_piece: Affine,
    /// From the axes of the piece to these.
    pub(crate) into_view: Affine,
    stretches: Vec<Stretch>,
    border: Vec<Point>,
}

/// From where to where something is free.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Gap {
    pub(crate) from: f64,
    pub(crate) to: f64,
}

impl Gap {
    pub(crate) fn length(self) -> f64 {
        self.to - self.from
    }

    pub(crate) const fn middle(self) -> f64 {
        f64::midpoint(self.from, self.to)
    }

    fn shrunk(self, margin: f64) -> Self {
        Self {
            from: self.from + margin,
            to: self.to - margin,
        }
    }
}

impl View {
    /// The box round the border.
    pub(crate) fn bounds(&self) -> Rect {
        let first = self.border.first().copied().unwrap_or_default();
        let corner = Rect::from_points(first, first);
        self.border
            .iter()
            .fold(corner, |all, point| all.union_pt(*point))
    }

    /// Where, inside the border, a band between two heights is free, with a margin beside it and one above and below;
    /// from left to right.
    pub(crate) fn gaps(
        &self,
        top: f64,
        bottom: f64,
        (beside, above): (f64, f64),
        heed: Heed,
    ) -> Vec<Gap> {
        let mut taken = self.taken(top - above, bottom + above, heed);
        taken.sort_by(|one, other| one.from.total_cmp(&other.from));
        let mut gaps = Vec::new();
        let mut end = f64::INFINITY;
        for one in taken {
            if one.from > end {
                gaps.push(
                    Gap {
                        from: end,
                        to: one.from,
                    }
                    .shrunk(beside),
                );
            }
            end = if end.is_finite() {
                end.max(one.to)
            } else {
                one.to
            };
        }
        let middle = f64::midpoint(top, bottom);
        gaps.retain(|gap| gap.length() > 0.0 && self.is_inside(Point::new(gap.middle(), middle)));
        gaps
    }

    /// Whether nothing reaches into a box.
    pub(crate) fn is_free(&self, area: Rect) -> bool {
        let mut taken = self.taken(area.y0, area.y1, Heed::All).into_iter();
        taken.all(|one| one.to <= area.x0 || one.from >= area.x1)
    }

    /// Whether a point lies inside the border.
    pub(crate) fn is_inside(&self, point: Point) -> bool {
        let count = self.border.len();
        let sides = (0..count).map(|index| (self.border[index], self.border[(index + 1) % count]));
        let right = sides.filter(|(a, b)| {
            (a.y > point.y) != (b.y > point.y)
                && a.x + (point.y - a.y) / (b.y - a.y) * (b.x - a.x) > point.x
        });
        right.count() % 2 == 1
    }

    fn taken(&self, top: f64, bottom: f64, heed: Heed) -> Vec<Gap> {
        let heeded = self
            .stretches
            .iter()
            .filter(|stretch| heed == Heed::All || !stretch.may_be_crossed());
        heeded
            .filter_map(|stretch| stretch.within(top, bottom))
            .collect()
    }
}

impl Stretch {
    /// Whether it is a line inside that runs rather across the view than along it.
    fn may_be_crossed(&self) -> bool {
        let way = self.to - self.from;
        self.is_line_inside && way.y.abs() > way.x.abs()
    }

    /// From where to where it lies in a band, its reach included.
    fn within(&self, top: f64, bottom: f64) -> Option<Gap> {
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
        Some(Gap {
            from: first.min(last) - self.reach,
            to: first.max(last) + self.reach,
        })
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

    fn square(side: f64) -> Ground {
        let corners = [
            (0.0, 0.0),
            (side, 0.0),
            (side, side),
            (0.0, side),
            (0.0, 0.0),
        ];
        let corners = corners.map(Point::from);
        let sides: Vec<Curve> = corners
            .windows(2)
            .map(|pair| Curve::line(pair[0], pair[1]))
            .collect();
        Ground::bordered(&sides)
    }

    #[test]
    fn a_band_is_free_between_what_stands_in_it() {
        let mut ground = square(100.0);
        ground.add_straight(Point::new(40.0, 0.0), Point::new(60.0, 100.0), 0.0);
        let view = ground.seen_along(Angle::from_degrees(0.0));
        let gaps = view.gaps(50.0, 60.0, (1.0, 1.0), Heed::All);
        assert_eq!(gaps.len(), 2);
        // The slanting line lies at x 49.8 to 52.2 in the band with its margin.
        assert!(
            (gaps[0].to - 48.8).abs() < 1e-9 && (gaps[1].from - 53.2).abs() < 1e-9,
            "{gaps:?}"
        );
    }

    #[test]
    fn a_turned_view_has_the_same_room() {
        let view = square(100.0).seen_along(Angle::from_degrees(-90.0));
        let bounds = view.bounds();
        let gaps = view.gaps(bounds.y0 + 10.0, bounds.y0 + 20.0, (0.0, 0.0), Heed::All);
        assert_eq!(gaps.len(), 1);
        assert!((gaps[0].length() - 99.4).abs() < 1e-9, "{gaps:?}");
    }

    #[test]
    fn lines_inside_are_crossed_by_arrows_only() {
        let mut ground = square(100.0);
        let line = Curve::line(Point::new(50.0, 1.0), Point::new(50.0, 99.0));
        ground.add_line_inside(&line, 0.2);
        let view = ground.seen_along(Angle::from_degrees(0.0));
        assert_eq!(view.gaps(40.0, 60.0, (0.0, 0.0), Heed::All).len(), 2);
        assert_eq!(view.gaps(40.0, 60.0, (0.0, 0.0), Heed::NotCrossed).len(), 1);
        let along = ground.seen_along(Angle::from_degrees(90.0));
        assert_eq!(
            along.gaps(-60.0, -40.0, (0.0, 0.0), Heed::NotCrossed).len(),
            2
        );
    }

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
