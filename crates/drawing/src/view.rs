//! A piece in axes that are turned, and where it is free there.
//!
//! Knows bands and boxes along the axes. Invariant: a box that is called free has no stretch's reach in it.

use geometry::{Affine, Angle, Point, Rect};

use crate::ground::Stretch;

/// What a search keeps clear of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Heed {
    /// Everything.
    All,
    /// Everything but lines inside that come across, which an arrow may cross; never those that run along with it.
    NotCrossed,
}

/// What lies on a piece, in axes that are turned.
#[derive(Clone, Debug)]
pub(crate) struct View {
    /// Direction of the x axis on the piece.
    pub(crate) angle: Angle,
    /// From these axes to those of the piece.
    pub(crate) into_piece: Affine,
    /// From the axes of the piece to these.
    pub(crate) from_piece: Affine,
    pub(crate) stretches: Vec<Stretch>,
    /// The border of the piece, in order.
    pub(crate) border: Vec<Point>,
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
        let (mut gaps, mut end) = (Vec::new(), f64::INFINITY);
        for one in taken {
            if one.from > end {
                let gap = Gap {
                    from: end,
                    to: one.from,
                };
                gaps.push(gap.shrunk(beside));
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
            .map(|(from, to)| Gap { from, to })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ground;
    use geometry::Curve;

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
}
