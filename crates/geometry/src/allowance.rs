//! The cutting outline round a seam line: every side moved out by its allowance, the corners made as they are sewn.
//!
//! Knows sides, distances and corners, not what they are sewn to. Invariant: a cutting outline is closed and simple, runs
//! clockwise on the table like its seam line, and its stretches come in the order of the sides.

use kurbo::{BezPath, Point};

use crate::{
    Curve, Tolerance,
    corner::{Meeting, Seam},
    curve::{closed_path, enclosed_area},
    simple::clashes,
};

/// How near the ends of sides that follow each other must be, mm.
const CLOSED: f64 = 1e-3;

/// One side of a seam line.
#[derive(Clone, Debug, PartialEq)]
pub struct Side {
    /// The seam line, clockwise on the table.
    pub curve: Curve,
    /// Allowance outside of it, mm; 0 on a fold.
    pub distance: f64,
    /// How the corner at its end is made.
    pub corner: Corner,
}

/// One of the two sides that meet in a corner, in the outline's order.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Which {
    /// The side that ends in the corner.
    Before,
    /// The side that starts from it.
    After,
}

/// How two allowances meet in a corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Corner {
    /// Both cutting lines run on straight till they meet; where that is farther from the corner than
    /// [`MITRE_LIMIT`](crate::offset::MITRE_LIMIT) times the larger allowance, the tip is cut off at right angles there.
    /// Where the seam line hardly turns but the allowance changes, the cutting line steps across in the corner.
    Mitre,
    /// The seam line of the side named runs on to the other's cutting line, and its allowance ends at right angles there.
    /// In a hollow corner like a mitre.
    Squared(Which),
    /// The allowance of the side named is folded back along its seam line (a hem, or a seam that is pressed to one side):
    /// it ends as the mirror image of the other's cutting line, so that it lies on it exactly once folded. A curved seam
    /// line is mirrored in its tangent at the corner. In a hollow corner like a mitre.
    Mirrored(Which),
}

/// What one side adds to the cutting outline.
#[derive(Clone, Debug, PartialEq)]
pub struct Cut {
    /// Its cutting line; `None` for a short side in a hollow, whose neighbours' cutting lines meet before it.
    pub line: Option<Curve>,
    /// What joins it to the next side's cutting line, where they do not meet by themselves.
    pub join: Option<Curve>,
}

/// A cutting outline: what every side adds, in order.
#[derive(Clone, Debug, PartialEq)]
pub struct CuttingOutline {
    /// One for every side, in the sides' order.
    pub cuts: Vec<Cut>,
}

/// Why a cutting outline cannot be made; sides are told by their number from 0.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum AllowanceError {
    /// There are no sides.
    Empty,
    /// A side does not start where the one before ends.
    Gap {
        /// The side.
        side: usize,
        /// How far it starts from there, mm.
        gap: f64,
    },
    /// An allowance is negative or not a number.
    Distance {
        /// The side.
        side: usize,
        /// Its allowance, mm.
        distance: f64,
    },
    /// The seam line does not run clockwise on the table, so that its outside is not on its left.
    Anticlockwise,
    /// The allowance of a side turns over itself or runs into another's.
    TurnsOver {
        /// The side.
        side: usize,
        /// The side that it runs into; the same where it turns over itself.
        other: usize,
        /// Where.
        at: Point,
    },
}

impl std::fmt::Display for AllowanceError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            Self::Empty => write!(f, "an outline without sides has no allowance"),
            Self::Gap { side, gap } => {
                write!(
                    f,
                    "side {side} starts {gap:.3} mm from the end of the one before"
                )
            }
            Self::Distance { side, distance } => {
                write!(
                    f,
                    "the allowance of side {side} is {distance} mm; 0 or more is allowed"
                )
            }
            Self::Anticlockwise => write!(f, "the outline runs anticlockwise on the table"),
            Self::TurnsOver { side, other, at } if side == other => write!(
                f,
                "the allowance of side {side} turns over itself at ({:.1}, {:.1}) mm",
                at.x, at.y
            ),
            Self::TurnsOver { side, other, at } => write!(
                f,
                "the allowances of sides {side} and {other} run into each other at ({:.1}, {:.1}) mm",
                at.x, at.y
            ),
        }
    }
}

impl std::error::Error for AllowanceError {}

impl CuttingOutline {
    /// Cutting lines and joins in order round the outline.
    pub fn curves(&self) -> impl Iterator<Item = &Curve> {
        self.cuts
            .iter()
            .flat_map(|cut| cut.line.iter().chain(&cut.join))
    }

    /// The whole outline as one closed path, for drawing.
    pub fn to_path(&self) -> BezPath {
        closed_path(self.curves())
    }

    /// Area inside, mm².
    pub fn area(&self) -> f64 {
        enclosed_area(self.curves())
    }
}

/// Makes the cutting outline of a seam line whose sides follow each other clockwise on the table.
pub fn cutting_outline(
    sides: &[Side],
    tolerance: Tolerance,
) -> Result<CuttingOutline, AllowanceError> {
    check(sides)?;
    let raws: Vec<Option<Curve>> = sides
        .iter()
        .map(|side| side.curve.offset(side.distance, tolerance))
        .collect();
    let mut present: Vec<usize> = (0..sides.len())
        .filter(|&index| raws[index].is_some())
        .collect();
    loop {
        let attempt = corners_of(sides, &raws, &present, tolerance);
        let swallowed = match attempt {
            Ok(corners) => match first_swallowed(&corners, &present) {
                None => return finished(sides.len(), &raws, &present, &corners),
                Some(side) => side,
            },
            Err(side) => side,
        };
        if present.len() <= 2 || !is_short(sides, swallowed) {
            return Err(AllowanceError::TurnsOver {
                side: swallowed,
                other: swallowed,
                at: sides[swallowed].curve.start(),
            });
        }
        present.retain(|&index| index != swallowed);
    }
}

fn check(sides: &[Side]) -> Result<(), AllowanceError> {
    let Some(last) = sides.last() else {
        return Err(AllowanceError::Empty);
    };
    let mut end = last.curve.end();
    for (index, side) in sides.iter().enumerate() {
        let gap = (side.curve.start() - end).hypot();
        if gap > CLOSED {
            return Err(AllowanceError::Gap { side: index, gap });
        }
        if !(side.distance >= 0.0 && side.distance.is_finite()) {
            let distance = side.distance;
            return Err(AllowanceError::Distance {
                side: index,
                distance,
            });
        }
        end = side.curve.end();
    }
    if enclosed_area(sides.iter().map(|side| &side.curve)) <= 0.0 {
        return Err(AllowanceError::Anticlockwise);
    }
    Ok(())
}

/// The corner after every side that is present, or the number of a side that its neighbours leave no room.
fn corners_of(
    sides: &[Side],
    raws: &[Option<Curve>],
    present: &[usize],
    tolerance: Tolerance,
) -> Result<Vec<Meeting>, usize> {
    let count = present.len();
    (0..count)
        .map(|k| {
            let (before, after) = (present[k], present[(k + 1) % count]);
            let seam = |index: usize| Seam {
                curve: &sides[index].curve,
                distance: sides[index].distance,
                raw: raws[index]
                    .as_ref()
                    .expect("a side that is present has an offset"),
            };
            let neighbours = (before + 1) % sides.len() == after;
            let met = if neighbours {
                crate::corner::corner(sides[before].corner, &seam(before), &seam(after), tolerance)
            } else {
                crate::corner::bridge(&seam(before), &seam(after))
            };
            met.ok_or_else(|| shorter(raws, before, after))
        })
        .collect()
}

/// Whether a side is short enough beside its own allowance and its neighbours' for their cutting lines to meet before it.
fn is_short(sides: &[Side], index: usize) -> bool {
    let count = sides.len();
    let beside = [index + count - 1, index, index + 1].map(|near| sides[near % count].distance);
    let widest = beside.into_iter().fold(0.0, f64::max);
    sides[index].curve.length() <= 4.0 * widest
}

fn shorter(raws: &[Option<Curve>], before: usize, after: usize) -> usize {
    let length = |index: usize| raws[index].as_ref().map_or(0.0, Curve::length);
    if length(before) <= length(after) {
        before
    } else {
        after
    }
}

/// The side whose cutting line would end before it starts, if any.
fn first_swallowed(corners: &[Meeting], present: &[usize]) -> Option<usize> {
    let count = present.len();
    (0..count)
        .find(|&k| {
            let (start, end) = (&corners[(k + count - 1) % count].after, &corners[k].before);
            end.along - start.along < -1e-9
                || (end.along - start.along < 1e-9 && (end.at - start.at).hypot() < 1e-9)
        })
        .map(|k| present[k])
}

/// The outline of its parts, if they do not run into each other.
fn finished(
    count: usize,
    raws: &[Option<Curve>],
    present: &[usize],
    corners: &[Meeting],
) -> Result<CuttingOutline, AllowanceError> {
    let nothing = Cut {
        line: None,
        join: None,
    };
    let mut cuts = vec![nothing; count];
    for (k, &side) in present.iter().enumerate() {
        let start = &corners[(k + present.len() - 1) % present.len()].after;
        let end = &corners[k].before;
        let raw = raws[side]
            .as_ref()
            .expect("a side that is present has an offset");
        cuts[side] = Cut {
            line: crate::corner::cut_line(raw, start, end),
            join: corners[k].join.clone(),
        };
    }
    let outline = CuttingOutline { cuts };
    match first_clash(&outline) {
        None => Ok(outline),
        Some(error) => Err(error),
    }
}

fn first_clash(outline: &CuttingOutline) -> Option<AllowanceError> {
    let owners: Vec<usize> = outline
        .cuts
        .iter()
        .enumerate()
        .flat_map(|(side, cut)| cut.line.iter().chain(&cut.join).map(move |_| side))
        .collect();
    let clash = clashes(outline.curves()).into_iter().next()?;
    Some(AllowanceError::TurnsOver {
        side: owners[clash.first.curve],
        other: owners[clash.second.curve],
        at: clash.point,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use Corner::{Mirrored, Mitre, Squared};
    use kurbo::Vec2;

    fn polygon(points: &[(f64, f64)], distances: &[f64], corners: &[Corner]) -> Vec<Side> {
        let count = points.len();
        (0..count)
            .map(|k| Side {
                curve: Curve::line(points[k].into(), points[(k + 1) % count].into()),
                distance: distances[k],
                corner: corners[k],
            })
            .collect()
    }

    /// Clockwise on the table: top, right, bottom, left.
    const SQUARE: [(f64, f64); 4] = [(0.0, 0.0), (100.0, 0.0), (100.0, 100.0), (0.0, 100.0)];
    /// A skirt that widens to its hem at the bottom; the hem is the third side.
    const FLARED: [(f64, f64); 4] = [(0.0, 0.0), (100.0, 0.0), (130.0, 200.0), (-30.0, 200.0)];

    fn made(sides: &[Side]) -> CuttingOutline {
        let outline = cutting_outline(sides, Tolerance::PATTERN).unwrap();
        let curves: Vec<&Curve> = outline.curves().collect();
        for (k, curve) in curves.iter().enumerate() {
            let next = curves[(k + 1) % curves.len()];
            assert!(
                (curve.end() - next.start()).hypot() < 1e-9,
                "{curve:?} then {next:?}"
            );
        }
        outline
    }

    fn has_corner(outline: &CuttingOutline, x: f64, y: f64) -> bool {
        outline
            .curves()
            .any(|curve| (curve.end() - Point::new(x, y)).hypot() < 1e-6)
    }

    #[test]
    fn a_square_grows_on_all_sides() {
        let outline = made(&polygon(&SQUARE, &[10.0; 4], &[Mitre; 4]));
        assert!((outline.area() - 120.0 * 120.0).abs() < 1e-6, "{outline:?}");
        assert!(outline.cuts.iter().all(|cut| cut.join.is_none()));
        assert_eq!(outline.cuts[0].line.as_ref().unwrap().segments().len(), 1);
    }

    #[test]
    fn a_fold_stays_on_its_line() {
        let outline = made(&polygon(&SQUARE, &[15.0, 15.0, 40.0, 0.0], &[Mitre; 4]));
        assert!((outline.area() - 115.0 * 155.0).abs() < 1e-6);
        assert!(has_corner(&outline, 0.0, -15.0) && has_corner(&outline, 0.0, 140.0));
    }

    #[test]
    fn a_hem_folded_back_lies_on_the_side_seams() {
        for corners in [
            [
                Mitre,
                Mirrored(Which::After),
                Mirrored(Which::Before),
                Mitre,
            ],
            [Mitre, Mitre, Mitre, Mitre],
        ] {
            let outline = made(&polygon(&FLARED, &[10.0, 15.0, 40.0, 15.0], &corners));
            let cut = &outline.cuts[2];
            let hem = cut.line.as_ref().unwrap();
            // Folded back along y = 200, the hem's cutting line must be as wide as the skirt is there.
            let side = |y: f64| 100.0 + 30.0 * y / 200.0 + 15.0 * (1.0f64 + 0.15 * 0.15).sqrt();
            let missing = (hem.start().x - side(160.0)).abs();
            assert!((hem.start().y - 240.0).abs() < 1e-6);
            let mirrored = corners[1] != Mitre;
            assert_eq!(missing < 1e-6, mirrored, "{missing}");
            assert_eq!((hem.end().x - (100.0 - side(160.0))).abs() < 1e-6, mirrored);
        }
    }

    #[test]
    fn a_squared_end_is_at_right_angles_where_the_seam_line_leaves() {
        // A sharp shoulder tip at (100, 0): the top side is sewn first and squared off.
        let tip = [(0.0, 0.0), (100.0, 0.0), (40.0, 90.0)];
        let outline = made(&polygon(
            &tip,
            &[12.0; 3],
            &[Squared(Which::Before), Mitre, Mitre],
        ));
        let way = Vec2::new(-60.0, 90.0) / Vec2::new(-60.0, 90.0).hypot();
        let leaves = 100.0 + 12.0 / way.y;
        assert!(has_corner(&outline, leaves, 0.0), "{outline:?}");
        assert!(has_corner(&outline, leaves, -12.0));
    }

    #[test]
    fn a_sharp_tip_is_cut_off_at_the_limit() {
        let needle = [(0.0, 0.0), (300.0, 0.0), (0.0, 40.0)];
        let outline = made(&polygon(&needle, &[15.0; 3], &[Mitre; 3]));
        let join = outline.cuts[0].join.as_ref().unwrap();
        let middle = join.point_at(join.length() / 2.0);
        assert!(((middle - Point::new(300.0, 0.0)).hypot() - 37.5).abs() < 1e-6);
    }

    #[test]
    fn a_change_of_width_on_a_straight_run_steps_across() {
        let points = [
            (0.0, 0.0),
            (50.0, 0.0),
            (100.0, 0.0),
            (100.0, 100.0),
            (0.0, 100.0),
        ];
        let outline = made(&polygon(
            &points,
            &[10.0, 25.0, 10.0, 10.0, 10.0],
            &[Mitre; 5],
        ));
        assert!(has_corner(&outline, 50.0, -10.0) && has_corner(&outline, 50.0, -25.0));
    }

    #[test]
    fn a_short_cap_is_followed_and_a_swallowed_side_bridged() {
        // Waist with the small roof of a folded dart on it.
        let cap = [
            (0.0, 0.0),
            (40.0, 0.0),
            (50.0, -4.0),
            (60.0, 0.0),
            (100.0, 0.0),
            (100.0, 90.0),
            (0.0, 90.0),
        ];
        let outline = made(&polygon(&cap, &[15.0; 7], &[Mitre; 7]));
        assert!(outline.cuts.iter().all(|cut| cut.line.is_some()));
        // A notch in an edge, too narrow for its own allowance.
        let notch = [
            (0.0, 0.0),
            (45.0, 0.0),
            (48.0, 6.0),
            (52.0, 6.0),
            (55.0, 0.0),
            (100.0, 0.0),
            (100.0, 90.0),
            (0.0, 90.0),
        ];
        let outline = made(&polygon(&notch, &[15.0; 8], &[Mitre; 8]));
        assert!(outline.cuts[2].line.is_none());
    }

    #[test]
    fn an_open_dart_is_cut_along_its_legs() {
        let dart = [
            (0.0, 0.0),
            (40.0, 0.0),
            (50.0, 80.0),
            (60.0, 0.0),
            (100.0, 0.0),
            (100.0, 190.0),
            (0.0, 190.0),
        ];
        let outline = made(&polygon(
            &dart,
            &[15.0, 0.0, 0.0, 15.0, 15.0, 15.0, 15.0],
            &[Mitre; 7],
        ));
        assert!(has_corner(&outline, 50.0, 80.0));
        assert!(has_corner(&outline, 40.0 - 15.0 / 8.0, -15.0));
    }

    /// A hollow right angle, as where an extension for buttons or a vent begins, with one side of it on the fold.
    #[test]
    fn a_hollow_right_angle_is_made_however_its_last_digit_falls() {
        for off in [0.0, 5e-14, -5e-14, 1e-12, -1e-12, 1e-9, -1e-9, 1e-6, -1e-6] {
            let hollow = [
                (0.0, 0.0),
                (50.0, 0.0),
                (50.0 + off, 30.0),
                (100.0, 30.0 + off),
                (100.0, 100.0),
                (0.0, 100.0),
            ];
            for (distances, area) in [
                (
                    [15.0, 15.0, 0.0, 15.0, 15.0, 15.0],
                    130.0 * 130.0 - 50.0 * 45.0,
                ),
                (
                    [15.0, 0.0, 15.0, 15.0, 15.0, 15.0],
                    130.0 * 130.0 - 65.0 * 30.0,
                ),
                ([15.0; 6], 130.0 * 130.0 - 50.0 * 30.0),
            ] {
                for corner in [
                    Mitre,
                    Mirrored(Which::Before),
                    Mirrored(Which::After),
                    Squared(Which::Before),
                    Squared(Which::After),
                ] {
                    let mut corners = [Mitre; 6];
                    corners[1] = corner;
                    let outline = made(&polygon(&hollow, &distances, &corners));
                    assert!((outline.area() - area).abs() < 1e-3, "{off:e} {corner:?}");
                }
            }
        }
    }

    /// A full circle skirt with a waist of 1140 mm and 10 mm of allowance is cut at a radius of 171.4 mm: derived; adding the
    /// allowance is the common mistake.
    #[test]
    fn an_allowance_makes_the_waist_of_a_circle_smaller() {
        let radius = 1140.0 / (2.0 * std::f64::consts::PI);
        let quarter = |radius: f64, from: f64, to: f64| {
            let knots: Vec<crate::Knot> = (0..=4)
                .map(|k| {
                    let angle = from + (to - from) * f64::from(k) / 4.0;
                    let (sin, cos) = crate::math::sin_cos(angle.to_radians());
                    let way = Vec2::new(-sin, cos) * (to - from).signum();
                    crate::Knot::toward(Point::new(radius * cos, radius * sin), way)
                })
                .collect();
            Curve::smooth(&knots).unwrap()
        };
        let (waist, hem) = (quarter(radius, 90.0, 0.0), quarter(800.0, 0.0, 90.0));
        let sides = [
            (waist.clone(), 10.0),
            (Curve::line(waist.end(), hem.start()), 15.0),
            (hem.clone(), 20.0),
            (Curve::line(hem.end(), waist.start()), 0.0),
        ]
        .map(|(curve, distance)| Side {
            curve,
            distance,
            corner: Mitre,
        });
        let outline = made(&sides);
        let line = outline.cuts[0].line.as_ref().unwrap();
        for step in 0..=10 {
            let point = line.point_at(line.length() * f64::from(step) / 10.0);
            let off = point.to_vec2().hypot() - 171.4;
            assert!(point.x < 0.0 || point.y < 0.0 || off.abs() < 0.1, "{off}");
        }
    }

    /// The end of a dart of 3 mm, seen from above: its two sides are shorter than what their allowances overlap by.
    #[test]
    fn the_end_of_a_small_dart_leaves_no_loop() {
        let dart = [
            (0.0, 0.0),
            (74.0, -18.9),
            (75.44, -18.87),
            (76.85, -19.2),
            (210.0, -50.0),
            (210.0, 600.0),
            (0.0, 600.0),
        ];
        for hem in [0.0, 50.0] {
            let distances = [15.0, 15.0, 15.0, 15.0, 15.0, hem, 0.0];
            let outline = made(&polygon(&dart, &distances, &[Mitre; 7]));
            let above = outline.curves().filter_map(|curve| {
                let met = curve.crossings_with_ray(
                    Point::new(37.0, -9.45),
                    Vec2::new(0.0, -1.0),
                    Tolerance::PATTERN,
                );
                met.into_iter().map(|met| -9.45 - met.point.y).next()
            });
            let width = above.fold(0.0, f64::max);
            assert!(width > 15.0, "hem {hem}: {width} mm of allowance are left");
        }
    }

    #[test]
    fn what_cannot_be_made_names_the_side() {
        let square = polygon(&SQUARE, &[10.0; 4], &[Mitre; 4]);
        let mut gap = square.clone();
        gap[2].curve = Curve::line(Point::new(90.0, 100.0), Point::new(0.0, 100.0));
        assert!(matches!(
            cutting_outline(&gap, Tolerance::PATTERN),
            Err(AllowanceError::Gap { side: 2, .. })
        ));
        let mut negative = square.clone();
        negative[1].distance = -1.0;
        let error = cutting_outline(&negative, Tolerance::PATTERN).unwrap_err();
        assert_eq!(
            error,
            AllowanceError::Distance {
                side: 1,
                distance: -1.0
            }
        );
        let back: Vec<Side> = square
            .iter()
            .rev()
            .map(|side| Side {
                curve: side.curve.reversed(),
                ..side.clone()
            })
            .collect();
        assert_eq!(
            cutting_outline(&back, Tolerance::PATTERN),
            Err(AllowanceError::Anticlockwise)
        );
        assert_eq!(
            cutting_outline(&[], Tolerance::PATTERN),
            Err(AllowanceError::Empty)
        );
        // A slit narrower than its allowances.
        let slit = [
            (0.0, 0.0),
            (45.0, 0.0),
            (45.0, 80.0),
            (55.0, 80.0),
            (55.0, 0.0),
            (100.0, 0.0),
            (100.0, 190.0),
            (0.0, 190.0),
        ];
        let error = cutting_outline(&polygon(&slit, &[15.0; 8], &[Mitre; 8]), Tolerance::PATTERN)
            .unwrap_err();
        assert!(matches!(error, AllowanceError::TurnsOver { .. }), "{error}");
    }
}
