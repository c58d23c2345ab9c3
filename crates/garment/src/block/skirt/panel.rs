//! A panel of a skirt with its four edges, and the arcs of which waists and hems are made.
//!
//! Invariant: the four edges share their corners exactly; the waist runs from left to right, the hem from right to left.

use geometry::{Affine, Angle, Curve, Point, math};
use pattern::{Cut, Edge, EdgeKind, InnerLine, Laid, Layer, Piece};

/// Name and kind of an edge beside the waist.
pub(super) type Named = (&'static str, EdgeKind);

/// A side edge.
pub(super) const SIDE: Named = ("side", EdgeKind::Seam);

/// A panel between waist and hem.
#[derive(Clone, Debug)]
pub(super) struct Panel {
    pub(super) name: String,
    pub(super) waist: Curve,
    /// From waist to hem.
    pub(super) right: Curve,
    pub(super) hem: Curve,
    /// Names of the right and of the left edge; the left one is straight unless it mirrors the right one.
    pub(super) beside: [Named; 2],
    pub(super) lines: Vec<InnerLine>,
    pub(super) laid: Laid,
}

impl Panel {
    /// Half of a panel, its left edge the straight centre line.
    pub(super) fn half(self) -> Piece {
        let left = Curve::line(self.hem.end(), self.waist.start());
        self.piece(&left)
    }

    /// A whole panel from its right half, which is mirrored in its middle line; lines inside are mirrored too.
    pub(super) fn whole(self) -> Piece {
        let (top, bottom) = (self.waist.start(), self.hem.end());
        let mirror = |curve: &Curve| curve.mirrored(top, bottom);
        let both = |right: &Curve| {
            let left = mirror(right).reversed();
            left.then(right).unwrap_or_else(|| right.clone())
        };
        let hem = self.hem.reversed();
        let left = mirror(&self.right).reversed();
        let lines = self.lines.iter().map(|line| InnerLine {
            name: line.name.clone(),
            runs: line.runs.iter().map(both).collect(),
        });
        let whole = Self {
            waist: both(&self.waist),
            hem: both(&hem).reversed(),
            lines: lines.collect(),
            ..self
        };
        whole.piece(&left)
    }

    fn piece(self, left: &Curve) -> Piece {
        let [right, left_edge] = self.beside;
        let (start, end) = (self.waist.start(), self.waist.end());
        let (low, far) = (self.right.end(), self.hem.end());
        Piece {
            name: self.name,
            edges: vec![
                Edge::new("waist", EdgeKind::Seam, self.waist),
                Edge::new(right.0, right.1, self.right.with_ends(end, low)),
                Edge::new("hem", EdgeKind::Hem, self.hem.with_ends(low, far)),
                Edge::new(left_edge.0, left_edge.1, left.with_ends(far, start)),
            ],
            darts: Vec::new(),
            marks: Vec::new(),
            lines: self.lines,
            grain: Angle::from_degrees(90.0),
            cut: Cut {
                layer: Layer::Shell,
                count: if self.laid == Laid::Pair { 2 } else { 1 },
                laid: self.laid,
            },
            peaked: Vec::new(),
            asked: None,
        }
    }
}

/// The centre line of a half that is laid on the fold or, with a seam, cut as a pair.
pub(super) fn centre(seam: bool) -> (Named, Laid) {
    if seam {
        (("centre", EdgeKind::Opening), Laid::Pair)
    } else {
        (("centre", EdgeKind::Fold), Laid::OnFold("centre".into()))
    }
}

/// An arc that leaves a point to the right, level, and rises by an angle over a length, mm; straight where the angle is nothing.
pub(super) fn arc(from: Point, angle: f64, length: f64) -> Curve {
    /// Arcs of cubics of up to 30° are true to one part in ten million.
    const MOST: f64 = std::f64::consts::PI / 6.0;
    if angle.abs() < 1e-9 {
        return Curve::line(from, Point::new(from.x + length, from.y));
    }
    let radius = length / angle;
    let count = (angle.abs() / MOST).ceil().max(1.0);
    let each = angle / count;
    let handle = radius * 4.0 / 3.0 * math::tan(each / 4.0);
    let end = Point::new(radius * math::sin(each), radius * (1.0 - math::cos(each)));
    let back = handle * geometry::Vec2::new(math::cos(each), math::sin(each));
    let one = Curve::cubic(Point::ORIGIN, Point::new(handle, 0.0), end - back, end);
    // Drawn downwards about a centre below, then flipped: the arc rises.
    let flip = Affine::translate(from.to_vec2()) * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 0.0]);
    let centre = Point::new(0.0, radius);
    let turns = (0..count as usize).map(|index| {
        let by = Angle::from_radians(each * index as f64);
        one.turned(centre, by).transformed(flip)
    });
    turns
        .reduce(|whole, next| whole.then(&next).unwrap_or(whole))
        .unwrap_or_else(|| Curve::line(from, from))
}

/// A level line inside.
pub(super) fn line(name: &str, run: Curve) -> InnerLine {
    InnerLine {
        name: name.into(),
        runs: vec![run],
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_arc_has_its_length_and_its_angle() {
        for degrees in [-50.0_f64, 0.0, 5.0, 90.0, 170.0] {
            let angle = degrees.to_radians();
            let arc = arc(Point::new(3.0, 4.0), angle, 250.0);
            assert!((arc.length() - 250.0).abs() < 1e-4, "{degrees}");
            let end = arc.end_direction();
            assert!(
                (math::atan2(-end.y, end.x) - angle).abs() < 1e-6,
                "{degrees}"
            );
            assert!((arc.start_direction().y).abs() < 1e-9);
        }
    }
}
