//! Stretching a piece along its grain between levels: what lies above stays, what lies below goes along whole.
//!
//! Between two levels every place goes down by a growing part of the amount, so that no edge gets a corner. Invariants: edges
//! and darts outside of the levels keep their shapes bit for bit or are moved as they are; widths across the grain stay.

use geometry::{Affine, Curve, Knot, Point, Tolerance, Vec2};

use super::dart_end;
use super::frame::Frame;
use crate::piece::{Dart, Mark, Piece};

/// Distance of the places from which a stretched edge is drawn, mm.
const STEP: f64 = 12.0;

/// Two levels and by how much what lies below both goes down, mm below the origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Band {
    /// Upper level.
    pub from: f64,
    /// Lower level.
    pub to: f64,
    /// How far down.
    pub by: f64,
}

/// A piece's directions and the bands in which it is stretched.
struct Field<'a> {
    frame: Frame,
    bands: &'a [Band],
}

/// Stretches a piece; `None` where a band has no height, or loses more of it than a smooth edge can.
pub fn stretch(piece: &mut Piece, bands: &[Band]) -> Option<()> {
    // The middle of a band changes half as much again as the whole of it.
    let fits = |band: &Band| {
        band.to - band.from > 1.0 && 1.0 + 1.5 * band.by / (band.to - band.from) > 0.2
    };
    if !bands.iter().all(fits) {
        return None;
    }
    let field = Field {
        frame: Frame::of(piece),
        bands,
    };
    let old = piece.clone();
    for edge in &mut piece.edges {
        for run in &mut edge.runs {
            *run = field.run(run)?;
        }
    }
    for line in &mut piece.lines {
        for run in &mut line.runs {
            *run = field.run(run)?;
        }
    }
    move_marks(piece, &old, &field);
    for dart in &old.darts {
        move_dart(piece, dart, &old, &field);
    }
    Some(())
}

impl Field<'_> {
    fn shift(&self, point: Point) -> f64 {
        let level = self.frame.level(point);
        let part = |band: &Band| {
            let share = ((level - band.from) / (band.to - band.from)).clamp(0.0, 1.0);
            band.by * share * share * (3.0 - 2.0 * share)
        };
        self.bands.iter().map(part).sum()
    }

    /// How fast the shift grows with the level.
    fn slope(&self, point: Point) -> f64 {
        let level = self.frame.level(point);
        let part = |band: &Band| {
            let height = band.to - band.from;
            let share = ((level - band.from) / height).clamp(0.0, 1.0);
            band.by * 6.0 * share * (1.0 - share) / height
        };
        self.bands.iter().map(part).sum()
    }

    fn place(&self, point: Point) -> Point {
        point + self.frame.down * self.shift(point)
    }

    fn way(&self, point: Point, way: Vec2) -> Vec2 {
        way + self.frame.down * (way.dot(self.frame.down) * self.slope(point))
    }

    fn run(&self, run: &Curve) -> Option<Curve> {
        let mut cuts = self.cuts(run);
        cuts.insert(0, 0.0);
        cuts.push(run.length());
        let parts = cuts
            .windows(2)
            .filter(|pair| pair[1] - pair[0] > 1e-6)
            .map(|pair| self.part(&run.stretch(pair[0], pair[1])));
        let parts: Option<Vec<Curve>> = parts.collect();
        let mut parts = parts?.into_iter();
        let first = parts.next()?;
        Some(parts.fold(first, |all, part| super::fill::joined(&all, &part)))
    }

    /// Lengths along a run at which it passes the levels.
    fn cuts(&self, run: &Curve) -> Vec<f64> {
        let levels = self.bands.iter().flat_map(|band| [band.from, band.to]);
        let mut cuts: Vec<f64> = levels
            .flat_map(|level| {
                let through = Point::ORIGIN + self.frame.down * level;
                run.crossings_with_line(through, self.frame.out, Tolerance::PATTERN)
            })
            .map(|crossing| crossing.along)
            .filter(|along| *along > 1e-6 && *along < run.length() - 1e-6)
            .collect();
        cuts.sort_by(f64::total_cmp);
        cuts
    }

    /// What lies in one band, or outside of all.
    fn part(&self, part: &Curve) -> Option<Curve> {
        let [start, middle, end] =
            [0.0, 0.5, 1.0].map(|share| part.point_at(part.length() * share));
        let shifts = [start, middle, end].map(|point| self.shift(point));
        if shifts.iter().all(|shift| (shift - shifts[0]).abs() < 1e-12) {
            if shifts[0] == 0.0 {
                return Some(part.clone());
            }
            return Some(part.transformed(Affine::translate(self.frame.down * shifts[0])));
        }
        if is_along(part, self.frame.down) {
            return Some(Curve::line(self.place(start), self.place(end)));
        }
        let length = part.length();
        let count = (length / STEP).ceil().clamp(4.0, 40.0);
        let knot = |index: u32| {
            let along = length * f64::from(index) / count;
            let point = part.point_at(along);
            Knot::toward(self.place(point), self.way(point, part.direction_at(along)))
        };
        let knots: Vec<Knot> = (0..=count as u32).map(knot).collect();
        Curve::smooth(&knots)
    }
}

/// Whether a curve runs straight along a direction.
fn is_along(curve: &Curve, way: Vec2) -> bool {
    let length = curve.length();
    let places = [0.0, 0.25, 0.5, 0.75, 1.0].map(|share| curve.direction_at(length * share));
    places
        .iter()
        .all(|direction| direction.cross(way).abs() < 1e-9)
}

fn move_marks(piece: &mut Piece, old: &Piece, field: &Field<'_>) {
    let edges = piece.edges.clone();
    for mark in &mut piece.marks {
        match mark {
            Mark::Point { at, .. } => *at = field.place(*at),
            Mark::Notch { edge, along, .. } => {
                let pair = old
                    .edge(edge)
                    .zip(edges.iter().find(|other| other.name == *edge));
                if let Some((before, after)) = pair {
                    *along = same_place(before, after, *along, field);
                }
            }
        }
    }
}

/// Where a place on an edge lies when the edge was stretched: length as sewn, mm.
fn same_place(before: &crate::Edge, after: &crate::Edge, along: f64, field: &Field<'_>) -> f64 {
    let (mut rest, mut passed) = (along, 0.0);
    for (index, (old, new)) in before.runs.iter().zip(&after.runs).enumerate() {
        let length = old.length();
        if rest <= length || index + 1 == before.runs.len() {
            if old == new {
                return passed + rest;
            }
            return passed + new.nearest(field.place(old.point_at(rest))).along;
        }
        rest -= length;
        passed += new.length();
    }
    along
}

/// A dart goes along with its mouth, and then ends where its point went.
fn move_dart(piece: &mut Piece, dart: &Dart, old: &Piece, field: &Field<'_>) {
    let legs = old.legs(dart);
    let shift = field.shift(legs.before.midpoint(legs.after));
    let point = field.place(dart.point);
    let carried = dart.point + field.frame.down * shift;
    for own in piece.darts.iter_mut().filter(|own| own.name == dart.name) {
        own.point = carried;
        own.aim = field.place(dart.aim);
    }
    if (point - carried).hypot() > 1e-9 {
        dart_end::draw_to(piece, &dart.name, point);
    }
}
