//! The waist below a bust that gets more or less room: drawn in again by the dart below the bust point.
//!
//! Its darts are closed from the centre line outwards; the closed line follows the foot of the side and is opened again.
//! Invariants: the waist keeps its length as sewn and its ends their angles; the centre line does not move.

use geometry::curve::angle_between;
use geometry::{Affine, Curve, Point, Tolerance, Vec2, solve};

use super::bend::{self, Ends, bent, turned};
use super::closed::Closed;
use super::place;
use super::true_up::Keep;
use crate::piece::{Dart, Edge, Piece};

/// The least angle of a dart that is left, degrees.
pub const LEAST_ANGLE: f64 = 1.0;
/// What is left of a dart that was taken away whole, radians.
pub const NO_ANGLE: f64 = 1e-3;

/// Why a waist cannot be drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Refused {
    /// No curve does it.
    NoCurve,
    /// The dart has not so much to give.
    Vanishes,
}

/// What is done to the waist.
#[derive(Clone, Copy, Debug)]
pub struct Change<'a> {
    /// Number of the edge.
    pub edge: usize,
    /// The dart below the bust point, if there is one.
    pub dart: Option<&'a str>,
    /// How the foot of the side moves.
    pub foot: Affine,
    /// Whether the dart takes more or less, so that the waist keeps its length.
    pub solved: bool,
}

/// Draws the waist of a piece whose side has moved; `before` is the piece as it was.
pub fn draw(piece: &mut Piece, before: &Piece, change: Change<'_>) -> Result<(), Refused> {
    let Change {
        edge, dart, foot, ..
    } = change;
    let Some(dart) = dart.and_then(|dart| before.dart(dart)) else {
        let keep = Keep::Length(before.edges[edge].length());
        let drawn = bend::bend_edge(piece, edge, Ends::first(foot), keep);
        return drawn.then_some(()).ok_or(Refused::NoCurve);
    };
    carry_darts(piece, dart, foot);
    let waist = Waist::of(before, &before.edges[edge]);
    let (line, moves) = if change.solved {
        waist.solved((piece, before), dart, foot)?
    } else {
        let angle = before.legs(dart).turn().radians();
        let kept = Keep::Length(waist.line.length());
        waist
            .drawn((piece, before), (dart, angle), foot, kept)
            .ok_or(Refused::NoCurve)?
    };
    let mouths = waist.mouths(before, dart, (&line, &moves));
    let closed = Closed {
        runs: Vec::new(),
        moves,
    };
    let runs = mouths.and_then(|mouths| closed.reopened(&line, &mouths));
    piece.edges[edge].runs = runs.ok_or(Refused::NoCurve)?;
    Ok(())
}

/// Darts between the side and the one below the bust point go along with the side.
fn carry_darts(piece: &mut Piece, dart: &Dart, foot: Affine) {
    let beyond = |other: &&mut Dart| other.edge == dart.edge && other.gap < dart.gap;
    for other in piece.darts.iter_mut().filter(beyond) {
        other.point = foot * other.point;
        other.aim = foot * other.aim;
    }
}

/// A waist with its darts closed, its last run where it lies on the table.
struct Waist {
    line: Curve,
    moves: Vec<Affine>,
    mouths: Vec<f64>,
}

impl Waist {
    fn of(piece: &Piece, edge: &Edge) -> Self {
        let closed = Closed::of(piece, edge);
        let moves = to_last(&closed.moves);
        Self {
            line: closed.curve().transformed(moves[0]),
            mouths: closed.mouths(),
            moves,
        }
    }

    /// The line for another angle of the dart, and the moves that close to it.
    fn drawn(
        &self,
        pieces: (&Piece, &Piece),
        (dart, angle): (&Dart, f64),
        foot: Affine,
        keep: Keep,
    ) -> Option<(Curve, Vec<Affine>)> {
        let moves = self.closing(pieces, &dart.edge, (dart.gap, angle));
        let start = moves[0] * foot * self.moves[0].inverse();
        Some((bent(&self.line, Ends::first(start), keep)?, moves))
    }

    /// The line with the angle for which it keeps its length.
    fn solved(
        &self,
        pieces: (&Piece, &Piece),
        dart: &Dart,
        foot: Affine,
    ) -> Result<(Curve, Vec<Affine>), Refused> {
        let angle = pieces.1.legs(dart).turn().radians();
        let length = self.line.length();
        let line = |angle: f64, keep: Keep| self.drawn(pieces, (dart, angle), foot, keep);
        let off = |angle: f64| {
            line(angle, Keep::Shape).map_or(f64::NAN, |(line, _)| line.length() - length)
        };
        let step = if off(angle) > 0.0 { 0.03 } else { -0.03 };
        let found = solve::stepping(angle, step, 1.2, 1e-9, off).map_err(|_| Refused::Vanishes)?;
        let drawn = if found.abs() < NO_ANGLE {
            line(0.0, Keep::Length(length))
        } else if found < LEAST_ANGLE.to_radians() {
            return Err(Refused::Vanishes);
        } else {
            line(found, Keep::Shape)
        };
        drawn.ok_or(Refused::NoCurve)
    }

    /// The moves that close the darts of the changed piece, one of them with another angle.
    fn closing(
        &self,
        (piece, before): (&Piece, &Piece),
        name: &str,
        (gap, angle): (usize, f64),
    ) -> Vec<Affine> {
        let mut moves = vec![Affine::IDENTITY];
        for index in 0..self.moves.len() - 1 {
            let on = |owner: &Piece| owner.darts_on(name).find(|dart| dart.gap == index).cloned();
            let close = on(piece)
                .zip(on(before))
                .map_or(Affine::IDENTITY, |(new, old)| {
                    let turn = if index == gap {
                        angle
                    } else {
                        before.legs(&old).turn().radians()
                    };
                    turned(new.point, -turn)
                });
            moves.push(moves[index] * close);
        }
        to_last(&moves)
    }

    /// Where the darts open along the new line: the one below the bust point straight below its own point, the others where
    /// they were.
    fn mouths(
        &self,
        before: &Piece,
        dart: &Dart,
        (line, moves): (&Curve, &[Affine]),
    ) -> Option<Vec<f64>> {
        let legs = before.legs(dart);
        let axis = if legs.intake() < 1e-9 {
            legs.before - legs.point
        } else {
            -place::axis(&legs)
        };
        let half = turn_of(moves[dart.gap + 1].inverse() * moves[dart.gap]) / 2.0;
        let leg = turned(Point::ORIGIN, half) * axis.to_point();
        let to_line = moves[dart.gap + 1];
        let (from, way) = (
            to_line * dart.point,
            to_line * leg - to_line * Point::ORIGIN,
        );
        let crossing = line
            .crossings_with_ray(from, way, Tolerance::PATTERN)
            .into_iter()
            .next()?;
        let mut mouths = self.mouths.clone();
        mouths[dart.gap] = crossing.along;
        Some(mouths)
    }
}

/// The same moves with the last run left where it lies.
fn to_last(moves: &[Affine]) -> Vec<Affine> {
    let back = moves[moves.len() - 1].inverse();
    let moved = moves[..moves.len() - 1].iter().map(|by| back * *by);
    moved.chain([Affine::IDENTITY]).collect()
}

/// By how much a move turns, radians.
pub fn turn_of(by: Affine) -> f64 {
    let [a, b, ..] = by.as_coeffs();
    angle_between(Vec2::new(1.0, 0.0), Vec2::new(a, b)).radians()
}
