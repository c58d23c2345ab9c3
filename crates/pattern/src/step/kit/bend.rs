//! Bending: an edge follows what is done to its two ends and runs evenly between them, its darts closed.
//!
//! A place on the edge goes along with the move of the first end or of the last by how far along it lies. Invariants: both
//! ends go exactly where they are moved and keep their angles to what moved with them; darts keep their angles; where the
//! length is kept it is kept to 10⁻⁶ mm.

use geometry::curve::turn_about;
use geometry::{Affine, Curve, Knot, Point, Vec2, solve};

use super::closed::Closed;
use super::notches;
use super::true_up::Keep;
use crate::piece::Piece;

/// Distance of the places from which a bent curve is drawn, mm: far under what a pencil shows on any edge of a garment.
const STEP: f64 = 16.0;
/// Where a curve may bow aside to keep its length, as shares of it: its middle first.
const BOWS: [f64; 5] = [0.5, 0.35, 0.65, 0.22, 0.78];
/// A bow as slight as this is taken before one at a place farther from the middle, mm.
const SLIGHT: f64 = 2.0;
/// How far the middle may bow out to keep a length, mm.
const BOW: f64 = 24.0;

/// Moves of the two ends of an edge, as it lies on the table.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ends {
    /// What its first corner moves with.
    pub start: Affine,
    /// What its last corner moves with.
    pub end: Affine,
}

impl Ends {
    /// Only the first corner moves.
    pub fn first(start: Affine) -> Self {
        let end = Affine::IDENTITY;
        Self { start, end }
    }

    /// Only the last corner moves.
    pub fn last(end: Affine) -> Self {
        let start = Affine::IDENTITY;
        Self { start, end }
    }
}

/// A bow on the way: how far the curve goes sideways, and where it does so most.
#[derive(Clone, Copy, Debug)]
struct Bow {
    sideways: Vec2,
    most_at: f64,
}

/// Bends an edge; false where no curve does it, and the edge is left as it was. Neighbours are not brought along.
pub fn bend_edge(piece: &mut Piece, edge: usize, ends: Ends, keep: Keep) -> bool {
    let closed = Closed::of(piece, &piece.edges[edge]);
    let old = closed.curve();
    let last = closed.moves[closed.moves.len() - 1];
    let within = Ends {
        start: ends.start,
        end: last * ends.end * last.inverse(),
    };
    let Some(new) = bent(&old, within, keep) else {
        return false;
    };
    let (start, end) = (
        ends.start * piece.edges[edge].start(),
        ends.end * piece.edges[edge].end(),
    );
    put(piece, edge, &closed, &old, &new) && {
        set_ends(piece, edge, start, end);
        true
    }
}

/// Bows an edge out sideways by a vector, most at a length along it, not at all at its ends.
pub fn bow_edge(piece: &mut Piece, edge: usize, sideways: Vec2, most_at: f64) -> bool {
    let closed = Closed::of(piece, &piece.edges[edge]);
    let old = closed.curve();
    let bow = Bow {
        sideways,
        most_at: most_at / old.length(),
    };
    let still = Ends::first(Affine::IDENTITY);
    match Sampled::of(&old).drawn(still, Some(bow), (0.5, 0.0)) {
        Some(new) => put(piece, edge, &closed, &old, &new),
        None => false,
    }
}

/// Bows an edge in or out, most in its middle, until it has a length.
pub fn bow_to_length(piece: &mut Piece, edge: usize, length: f64) -> bool {
    let closed = Closed::of(piece, &piece.edges[edge]);
    let old = closed.curve();
    match bent(&old, Ends::first(Affine::IDENTITY), Keep::Length(length)) {
        Some(new) => put(piece, edge, &closed, &old, &new),
        None => false,
    }
}

/// A curve whose ends are moved; where its length is kept, it bows aside as little as that takes.
pub fn bent(curve: &Curve, ends: Ends, keep: Keep) -> Option<Curve> {
    let sampled = Sampled::of(curve);
    let drawn = |place: f64, aside: f64| sampled.drawn(ends, None, (place, aside));
    let Keep::Length(wanted) = keep else {
        return drawn(0.5, 0.0);
    };
    let off = |place: f64, aside: f64| {
        drawn(place, aside).map_or(f64::NAN, |bent| bent.length() - wanted)
    };
    if off(0.5, 0.0).abs() < 1e-9 {
        return drawn(0.5, 0.0);
    }
    let reach = BOW.min(curve.length() / 3.0);
    let bow = |place: f64| {
        let ways = [2.0, -2.0]
            .map(|step| solve::stepping(0.0, step, reach, 1e-7, |aside| off(place, aside)).ok());
        let least = ways
            .into_iter()
            .flatten()
            .min_by(|a, b| a.abs().total_cmp(&b.abs()))?;
        Some((place, least))
    };
    let slight = |(_, aside): &(f64, f64)| aside.abs() < SLIGHT;
    let (place, least) = BOWS
        .iter()
        .find_map(|place| bow(*place).filter(slight))
        .or_else(|| {
            let all = BOWS.iter().filter_map(|place| bow(*place));
            all.min_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
        })?;
    drawn(place, least)
}

/// Bends an edge and lets one of its darts take so much more or less that the edge keeps its length as sewn.
pub fn bend_with_dart(piece: &mut Piece, edge: usize, ends: Ends, dart: &str) -> bool {
    let closed = Closed::of(piece, &piece.edges[edge]);
    let old = closed.curve();
    let Some(dart) = piece.dart(dart) else {
        return false;
    };
    let (gap, angle) = (dart.gap, piece.legs(dart).turn().radians());
    let sampled = Sampled::of(&old);
    let moves = |more: f64| {
        let turn = closed.moves[gap] * turned(dart.point, -more) * closed.moves[gap].inverse();
        let beyond = closed.moves.iter().enumerate();
        let moves = beyond.map(|(run, by)| if run > gap { turn * *by } else { *by });
        moves.collect::<Vec<_>>()
    };
    let last = closed.moves.len() - 1;
    let drawn = |more: f64| {
        let end = moves(more)[last] * ends.end * closed.moves[last].inverse();
        sampled.drawn(Ends { end, ..ends }, None, (0.5, 0.0))
    };
    let off = |more: f64| drawn(more).map_or(f64::NAN, |new| new.length() - old.length());
    let step = if off(0.0) > 0.0 { 0.01 } else { -0.01 };
    let Ok(more) = solve::stepping(0.0, step, 0.3, 1e-10, off) else {
        return false;
    };
    if angle + more < 0.005 {
        return false;
    }
    let (start, end) = (
        ends.start * piece.edges[edge].start(),
        ends.end * piece.edges[edge].end(),
    );
    let changed = Closed {
        moves: moves(more),
        ..closed.clone()
    };
    let done = drawn(more).is_some_and(|new| put(piece, edge, &changed, &old, &new));
    if done {
        set_ends(piece, edge, start, end);
    }
    done
}

/// Puts the two ends of an edge exactly on points; its shape stays.
pub fn set_ends(piece: &mut Piece, edge: usize, start: Point, end: Point) {
    let runs = &mut piece.edges[edge].runs;
    let last = runs.len() - 1;
    runs[0] = runs[0].with_ends(start, runs[0].end());
    runs[last] = runs[last].with_ends(runs[last].start(), end);
}

/// Puts a new closed curve in an edge's place; its darts open at the same shares of it, its notches stand there.
pub fn put(piece: &mut Piece, edge: usize, closed: &Closed, old: &Curve, new: &Curve) -> bool {
    let share = new.length() / old.length();
    let mouths: Vec<f64> = closed.mouths().into_iter().map(|at| at * share).collect();
    let Some(runs) = closed.reopened(new, &mouths) else {
        return false;
    };
    piece.edges[edge].runs = runs;
    let name = piece.edges[edge].name.clone();
    notches::change(piece, &name, |along| along * share);
    true
}

/// A place of a curve: its share of the way, where it is, and the way on.
#[derive(Clone, Copy)]
struct Sample {
    share: f64,
    point: Point,
    way: Vec2,
}

/// A curve by its places, each with one just before and one just after it.
struct Sampled<'a> {
    curve: &'a Curve,
    places: Vec<[Sample; 3]>,
}

impl<'a> Sampled<'a> {
    fn of(curve: &'a Curve) -> Self {
        const NEAR: f64 = 1e-3;
        let length = curve.length();
        let count = ((length / STEP).ceil().clamp(5.0, 40.0)) as usize;
        let sample = |along: f64| {
            let along = along.clamp(0.0, length);
            Sample {
                share: along / length,
                point: curve.point_at(along),
                way: curve.direction_at(along),
            }
        };
        let place = |index: usize| {
            let along = length * index as f64 / count as f64;
            [along - NEAR, along, along + NEAR].map(sample)
        };
        let places = (0..=count).map(place).collect();
        Self { curve, places }
    }

    /// The curve with its ends moved, bowed by a vector, or square to itself at a share by so much.
    fn drawn(&self, ends: Ends, bow: Option<Bow>, aside: (f64, f64)) -> Option<Curve> {
        if bow.is_none() && aside.1 == 0.0 && same(ends.start, ends.end) {
            return Some(self.curve.transformed(ends.start));
        }
        let knot = |[before, at, after]: &[Sample; 3]| {
            let place = |sample: &Sample| moved(sample, ends, bow, aside);
            Knot::toward(place(at), place(after) - place(before))
        };
        let mut knots: Vec<Knot> = self.places.iter().map(knot).collect();
        let last = knots.len() - 1;
        knots[0] = Knot::toward(
            ends.start * self.curve.start(),
            linear(ends.start, self.curve.start_direction()),
        );
        knots[last] = Knot::toward(
            ends.end * self.curve.end(),
            linear(ends.end, self.curve.end_direction()),
        );
        Curve::smooth(&knots)
    }
}

fn moved(sample: &Sample, ends: Ends, bow: Option<Bow>, (place, aside): (f64, f64)) -> Point {
    let Sample { share, point, way } = *sample;
    let on_way = (ends.start * point).lerp(ends.end * point, eased(share));
    let square = Vec2::new(way.y, -way.x);
    let bowed = bow.map_or(Vec2::ZERO, |bow| bow.sideways * swell(share, bow.most_at));
    on_way + square * (aside * swell(share, place)) + bowed
}

/// From 0 to 1, level at both ends.
fn eased(share: f64) -> f64 {
    share * share * (3.0 - 2.0 * share)
}

/// From 0 over 1 at a share to 0 again, level at all three.
fn swell(share: f64, most_at: f64) -> f64 {
    if share < most_at {
        eased(share / most_at)
    } else {
        eased((1.0 - share) / (1.0 - most_at))
    }
}

fn linear(by: Affine, way: Vec2) -> Vec2 {
    (by * way.to_point()) - (by * Point::ORIGIN)
}

fn same(one: Affine, other: Affine) -> bool {
    let pairs = one.as_coeffs().into_iter().zip(other.as_coeffs());
    pairs.into_iter().all(|(a, b)| (a - b).abs() < 1e-12)
}

/// A turn about a point by so many radians, clockwise on the table.
pub fn turned(about: Point, radians: f64) -> Affine {
    turn_about(about, geometry::Angle::from_radians(radians))
}
