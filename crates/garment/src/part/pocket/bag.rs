//! The bag of a pocket in a seam: its outline in the coordinates of the piece behind which it hangs.
//!
//! Knows an edge that runs down at the outer side of a piece, and darts that its top must clear. Invariant: the outline runs
//! clockwise, its first side on the edge.

use geometry::{Affine, Curve, Knot, Point, Vec2};
use pattern::{Edge, EdgeKind, Piece};

use crate::part::figures;

/// What a bag is drawn from, mm along the edge or beyond it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Bag {
    /// The edge on which the pocket opens, running down.
    pub(super) edge: Curve,
    /// Where the bag begins and ends on it.
    pub(super) span: [f64; 2],
    /// How far it hangs below its end on the edge.
    pub(super) depth: f64,
    /// How far it reaches inwards.
    pub(super) width: f64,
    /// Unit direction down the grain.
    pub(super) down: Vec2,
    /// Unit direction across it, into the piece.
    pub(super) across: Vec2,
}

impl Bag {
    /// Its sides: on the seam, round the bottom, up inside, across the top.
    pub(super) fn sides(&self, piece: &Piece) -> [Curve; 4] {
        let side = self.edge.stretch(self.span[0], self.span[1]);
        let (top, foot) = (side.start(), side.end());
        let slope = self.slope(piece, top);
        let corner = top + self.across * self.width + self.down * slope;
        let bottom = self.level(foot) + self.depth;
        let low = self.at(self.reach(top) + self.width * 0.5, bottom);
        let turn_level = (bottom - self.width * 0.5).max(self.level(corner) + 10.0);
        let inner = self.at(self.reach(top) + self.width, turn_level);
        let round = Curve::smooth(&[
            Knot::toward(foot, self.down),
            Knot::toward(low, self.across),
            Knot::toward(inner, -self.down),
        ]);
        let round = round.unwrap_or_else(|| Curve::line(foot, inner));
        [
            side,
            round,
            Curve::line(inner, corner),
            Curve::line(corner, top),
        ]
    }

    /// The sides as the edges of a piece, with the allowance of its seams, mm; turned over for a bag of the right side only.
    pub(super) fn edges(&self, piece: &Piece, allowance: f64, turned: bool) -> Vec<Edge> {
        let names = ["opening", "bottom", "inside", "top"];
        let mut sides: Vec<(&str, Curve)> = names.into_iter().zip(self.sides(piece)).collect();
        if turned {
            sides.reverse();
            for (_, curve) in &mut sides {
                *curve = curve.transformed(Affine::FLIP_X).reversed();
            }
        }
        sides
            .into_iter()
            .map(|(name, curve)| Edge {
                allowance,
                ..Edge::new(name, EdgeKind::Seam, curve)
            })
            .collect()
    }

    /// How much its top falls towards the inside, mm, to pass below the darts.
    fn slope(&self, piece: &Piece, top: Point) -> f64 {
        let falls = piece.darts.iter().map(|dart| {
            let away = dart.point - top;
            let (inwards, deep) = (away.dot(self.across), away.dot(self.down));
            let is_near = inwards > 1.0 && inwards < self.width + figures::BAG_CLEAR_OF_DART;
            if is_near {
                (deep + figures::BAG_CLEAR_OF_DART) * self.width / inwards
            } else {
                0.0
            }
        });
        falls.fold(0.0, f64::max)
    }

    fn level(&self, point: Point) -> f64 {
        point.to_vec2().dot(self.down)
    }

    fn reach(&self, point: Point) -> f64 {
        point.to_vec2().dot(self.across)
    }

    fn at(&self, reach: f64, level: f64) -> Point {
        (self.across * reach + self.down * level).to_point()
    }
}
