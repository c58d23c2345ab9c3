//! A part of a piece that moves: the runs between two gaps of its outline and a border inside that joins them.
//!
//! Invariants: what lies outside the part stays as it was, bit for bit; darts, points and lines move with the cloth on which
//! they lie. Where lines are bridged, a dart through which the border goes keeps its point; where
//! they are left, as when a dart opens, it moves whole.

use geometry::curve::{self, closed_path, contains, enclosed_area};
use geometry::outline::centroid;
use geometry::{Affine, BezPath, Curve, Point, Tolerance};

use super::gap::{Gap, runs_between};
use super::inner::{self, Torn};
use super::place::SAME_POINT;
use crate::piece::{EdgeKind, Legs, Mark, Piece};

/// Areas that differ by less than this share of the whole are alike.
const ALIKE: f64 = 0.05;

/// A part of a piece between two gaps.
#[derive(Clone, Debug)]
pub struct Part {
    /// Its runs in order, each by the gap after it.
    pub runs: Vec<Gap>,
    border: Vec<Curve>,
    outline: Vec<Curve>,
    path: BezPath,
}

impl Part {
    /// What one meets going clockwise from one gap to another, closed by curves inside the piece that lead from its end back
    /// to its start.
    pub fn between(piece: &Piece, from: Gap, to: Gap, border: Vec<Curve>) -> Self {
        let runs = runs_between(piece, from, to);
        let mut outline: Vec<Curve> = Vec::new();
        let curves = runs.iter().map(|gap| gap.curve(piece)).chain(&border);
        for curve in curves {
            // Darts inside the part are bridged at their mouths.
            if let Some(last) = outline.last()
                && (last.end() - curve.start()).hypot() > SAME_POINT
            {
                outline.push(Curve::line(last.end(), curve.start()));
            }
            outline.push(curve.clone());
        }
        Self {
            path: closed_path(&outline),
            runs,
            border,
            outline,
        }
    }

    /// The part that turns about a point inside when the outline is cut to it at both gaps.
    pub fn about(piece: &Piece, from: Gap, to: Gap, pivot: Point) -> Self {
        let border = vec![
            Curve::line(to.before(piece), pivot),
            Curve::line(pivot, from.after(piece)),
        ];
        Self::between(piece, from, to, border)
    }

    /// Of the two parts between two gaps, the one that moves, so that the same cut always moves the same part: not the one
    /// with the centre line; where that does not say, the lower one along the grain or, for a cut down the piece, the
    /// smaller one, so that the middle of a sleeve stays on its grain; the right one of two alike. True where it is the part
    /// from the first gap to the second.
    pub fn first_moves(piece: &Piece, first: &Self, second: &Self) -> bool {
        match (first.holds_centre(piece), second.holds_centre(piece)) {
            (true, false) => return false,
            (false, true) => return true,
            _ => {}
        }
        let grain =
            (curve::turn_about(Point::ORIGIN, piece.grain) * Point::new(1.0, 0.0)).to_vec2();
        let (Some(one), Some(other)) = (centroid(&first.outline), centroid(&second.outline)) else {
            return true;
        };
        let way = one - other;
        let (along, across) = (way.dot(grain), grain.cross(way));
        if along.abs() > across.abs() {
            return along > 0.0;
        }
        let (area, other_area) = (first.area(), second.area());
        if (area - other_area).abs() > ALIKE * (area + other_area) {
            area < other_area
        } else {
            across < 0.0
        }
    }

    /// Whether the centre line or a fold is part of its outline.
    pub fn holds_centre(&self, piece: &Piece) -> bool {
        self.runs.iter().any(|gap| {
            let edge = &piece.edges[gap.edge];
            edge.kind == EdgeKind::Fold || edge.answers_to("centre")
        })
    }

    /// Its area, mm².
    pub fn area(&self) -> f64 {
        enclosed_area(&self.outline).abs()
    }

    /// Its closed outline.
    pub fn path(&self) -> &BezPath {
        &self.path
    }

    /// Whether a point lies in it.
    pub fn holds(&self, point: Point) -> bool {
        contains(&self.path, point)
    }

    /// Moves it. The ends of its runs then lie apart from the rest: fill the gaps. Returns the names of darts whose mouth
    /// moved and whose point stayed.
    pub fn carry(&self, piece: &mut Piece, by: Affine, torn: Torn) -> Vec<String> {
        let crossed = self.carry_darts(piece, by, torn);
        for mark in &mut piece.marks {
            if let Mark::Point { at, .. } = mark
                && self.holds(*at)
            {
                *at = by * *at;
            }
        }
        for line in &mut piece.lines {
            *line = inner::carry(line, &self.path, by, torn);
        }
        for gap in &self.runs {
            let run = &mut piece.edges[gap.edge].runs[gap.run];
            *run = run.transformed(by);
        }
        crossed
    }

    /// Darts that open between two of its runs move with it, unless it spreads and its border goes through them.
    fn carry_darts(&self, piece: &mut Piece, by: Affine, torn: Torn) -> Vec<String> {
        let mut crossed = Vec::new();
        for index in 0..piece.darts.len() {
            let Some(gap) = Gap::of_dart(piece, &piece.darts[index].name) else {
                continue;
            };
            if !self.opens_inside(gap, piece) {
                continue;
            }
            let cut = torn == Torn::Bridged && self.cuts(&piece.legs(&piece.darts[index]));
            let dart = &mut piece.darts[index];
            if cut {
                crossed.push(dart.name.clone());
            } else {
                dart.point = by * dart.point;
                dart.aim = by * dart.aim;
            }
        }
        crossed
    }

    /// Whether both runs at a gap are its own.
    pub fn opens_inside(&self, gap: Gap, piece: &Piece) -> bool {
        let own = self.runs.iter().position(|run| *run == gap);
        own.is_some_and(|index| self.runs.get(index + 1) == Some(&gap.next(piece)))
    }

    /// Whether its border goes through a leg of a dart, away from the leg's ends.
    fn cuts(&self, legs: &Legs) -> bool {
        let crosses = |mouth: Point| {
            let leg = Curve::line(legs.point, mouth);
            let length = leg.length();
            self.border.iter().any(|curve| {
                let met = leg.crossings(curve, Tolerance::PATTERN);
                met.iter()
                    .any(|met| met.along > SAME_POINT && met.along < length - SAME_POINT)
            })
        };
        let mut mouths = [legs.before, legs.after].into_iter();
        mouths.any(|mouth| (mouth - legs.point).hypot() > SAME_POINT && crosses(mouth))
    }
}

/// The turn about a point that takes one direction to another.
pub fn turn(about: Point, from: geometry::Vec2, to: geometry::Vec2) -> Affine {
    curve::turn_about(about, curve::angle_between(from, to))
}
