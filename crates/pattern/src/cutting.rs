//! The outline of a piece as it is cut: darts with their caps, allowances outside.
//!
//! The cloth inside a dart is folded over one of its legs; its end must follow the edge under which it lies. The *cap* of a
//! dart is that end: the neighbouring run mirrored in the leg, then in the fold.

use geometry::allowance::{self, AllowanceError, Corner, Side};
use geometry::curve::{closed_path, enclosed_area, mirror_in};
use geometry::{BezPath, Curve, Point, Tolerance};

use crate::piece::{Dart, Edge, Legs, Piece, Pressed};

/// Why a piece has no cutting line: the edge, in words, and what is wrong there.
#[derive(Clone, Debug, PartialEq)]
pub struct CuttingError {
    /// Name of the edge at which the allowance cannot be made.
    pub edge: String,
    /// What is wrong.
    pub error: AllowanceError,
}

impl std::fmt::Display for CuttingError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match &self.error {
            AllowanceError::TurnsOver { at, .. } => {
                write!(
                    f,
                    "the allowance of its {} turns over itself at x {:.0}, y {:.0} mm",
                    self.edge, at.x, at.y
                )
            }
            other => write!(f, "{other} (at its {})", self.edge),
        }
    }
}

impl Piece {
    /// The seam line all round, with the caps of the darts, clockwise.
    pub fn seam_outline(&self) -> Vec<Curve> {
        self.cut_sides()
            .into_iter()
            .map(|(_, side)| side.curve)
            .collect()
    }

    /// The seam line as a closed path.
    pub fn outline_path(&self) -> BezPath {
        closed_path(&self.seam_outline())
    }

    /// Area inside the seam line with the caps of the darts, mm².
    pub fn area(&self) -> f64 {
        enclosed_area(&self.seam_outline())
    }

    /// The line along which the piece is cut: seam line and allowances.
    pub fn cutting_outline(&self) -> Result<allowance::CuttingOutline, CuttingError> {
        let (edges, sides): (Vec<usize>, Vec<Side>) = self.cut_sides().into_iter().unzip();
        allowance::cutting_outline(&sides, Tolerance::DRAWING).map_err(|error| {
            let side = match error {
                AllowanceError::Gap { side, .. }
                | AllowanceError::Distance { side, .. }
                | AllowanceError::TurnsOver { side, .. } => side,
                AllowanceError::Empty | AllowanceError::Anticlockwise => 0,
            };
            let edge = edges
                .get(side)
                .map_or_else(String::new, |&index| self.edges[index].name.clone());
            CuttingError { edge, error }
        })
    }

    /// What is cut along, in order, each with the number of its edge.
    fn cut_sides(&self) -> Vec<(usize, Side)> {
        let mut sides = Vec::new();
        for (index, edge) in self.edges.iter().enumerate() {
            for (gap, run) in edge.runs.iter().enumerate() {
                let last = gap + 1 == edge.runs.len();
                let corner = if last { edge.corner } else { Corner::Mitre };
                sides.push((
                    index,
                    Side {
                        curve: run.clone(),
                        distance: edge.allowance,
                        corner,
                    },
                ));
                let dart = self
                    .darts
                    .iter()
                    .find(|dart| dart.edge == edge.name && dart.gap == gap);
                for curve in dart.map(|dart| self.cap(edge, dart)).into_iter().flatten() {
                    sides.push((
                        index,
                        Side {
                            curve,
                            distance: edge.allowance,
                            corner: Corner::Mitre,
                        },
                    ));
                }
            }
        }
        sides
    }

    /// The end of the cloth inside a dart, from the leg before to the leg after; its tip lies on the fold.
    pub fn cap(&self, edge: &Edge, dart: &Dart) -> [Curve; 2] {
        let legs = self.legs(dart);
        let fold = legs.before.midpoint(legs.after);
        match dart.pressed {
            Pressed::Before => {
                let near = toward_fold(&edge.runs[dart.gap].reversed(), &legs, legs.before, fold);
                let far = near.mirrored(legs.point, fold).reversed();
                [
                    near.with_ends(legs.before, near.end()),
                    far.with_ends(near.end(), legs.after),
                ]
            }
            Pressed::After => {
                let near = toward_fold(&edge.runs[dart.gap + 1], &legs, legs.after, fold);
                let far = near.mirrored(legs.point, fold);
                let tip = near.end();
                [
                    far.with_ends(legs.before, tip),
                    near.reversed().with_ends(tip, legs.after),
                ]
            }
        }
    }
}

/// The run that starts at a leg's mouth, mirrored in the leg, up to the fold.
fn toward_fold(run: &Curve, legs: &Legs, mouth: Point, fold: Point) -> Curve {
    let mirrored = run.transformed(mirror_in(legs.point, mouth));
    let way = fold - legs.point;
    let crossing = mirrored
        .crossings_with_ray(legs.point, way, Tolerance::PATTERN)
        .into_iter()
        .find(|crossing| crossing.along > 0.0);
    match crossing {
        // The tip is put exactly on the fold, so that its mirror image starts where it ends.
        Some(crossing) => {
            let tip = legs.point + way * ((crossing.point - legs.point).dot(way) / way.hypot2());
            mirrored.stretch(0.0, crossing.along).with_ends(mouth, tip)
        }
        // A run too short to reach the fold goes on straight.
        None => Curve::line(
            mouth,
            straight_to_fold(mouth, mirrored.start_direction(), legs.point, way).unwrap_or(fold),
        ),
    }
}

fn straight_to_fold(
    from: Point,
    way: geometry::Vec2,
    point: Point,
    fold: geometry::Vec2,
) -> Option<Point> {
    let across = way.cross(fold);
    let along = (point - from).cross(fold) / across;
    (across.abs() > 1e-9 && along > 0.0 && along.is_finite()).then(|| from + way * along)
}
