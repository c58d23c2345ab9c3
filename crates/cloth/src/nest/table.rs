//! All pieces at all their turns, and for every two of them the field that tells how deep one stands in the other.
//!
//! Invariant: fields are shared where one is the other turned by half a circle; the sign tells which way to read it.

use std::collections::BTreeMap;

use geometry::Point;

use super::convolution::Spot;
use super::no_fit::NoFit;
use super::outline;
use super::problem::{Problem, Turn};
use super::room::Room;

/// Spots along the longest side of anything, so that sums and products stay exact.
const FINEST: f64 = (1_u64 << 29) as f64;

/// One piece at one turn, or a flaw.
#[derive(Clone, Debug)]
pub(super) struct Shape {
    /// Least and greatest x and y from its origin.
    pub(super) low: [f64; 2],
    pub(super) high: [f64; 2],
    /// The square root of its area.
    pub(super) size: f64,
    pub(super) kind: Kind,
}

/// What a shape is.
#[derive(Clone, Debug)]
pub(super) enum Kind {
    /// An item at one of its turns, with the places that it may have.
    Piece {
        item: usize,
        turn: usize,
        room: Room,
    },
    /// A place to keep off.
    Flaw,
}

/// Which field stands for two shapes and how it is read.
#[derive(Clone, Copy, Debug)]
pub(super) struct Pairing {
    pub(super) field: u32,
    pub(super) sign: f64,
    /// What one unit of depth counts.
    pub(super) scale: f64,
}

/// Shapes and their fields.
#[derive(Clone, Debug)]
pub(super) struct Table {
    pub(super) shapes: Vec<Shape>,
    /// For each item, its shapes: a stretch of `shapes`.
    pub(super) of_item: Vec<std::ops::Range<usize>>,
    /// The flaws' shapes.
    pub(super) flaws: std::ops::Range<usize>,
    pub(super) fields: Vec<NoFit>,
    pairings: Vec<Pairing>,
    /// The depth up to which two pieces only touch.
    slack: f64,
}

/// The depth that counts as touching, as a share of the width.
const SLACK: f64 = 1e-6;

impl Table {
    pub(super) fn new(problem: &Problem) -> Self {
        let (mut shapes, mut rings) = (Vec::new(), Vec::new());
        let mut of_item = Vec::new();
        for (item, piece) in problem.items().iter().enumerate() {
            let first = shapes.len();
            for (turn, &way) in piece.turns.iter().enumerate() {
                if let Some(room) = Room::new(problem.width(), piece, way) {
                    let ring = outline::turned(&piece.outline, way);
                    shapes.push(Shape::new(&ring, Kind::Piece { item, turn, room }));
                    rings.push(ring);
                }
            }
            of_item.push(first..shapes.len());
        }
        let first_flaw = shapes.len();
        for flaw in problem.flaws() {
            let ring = outline::turned(flaw, Turn::AS_GIVEN);
            shapes.push(Shape::new(&ring, Kind::Flaw));
            rings.push(ring);
        }
        let flaws = first_flaw..shapes.len();
        let per_unit = fineness(&rings);
        let rings: Vec<Vec<Spot>> = rings.iter().map(|ring| on_grid(ring, per_unit)).collect();
        let (fields, pairings) = fields(&shapes, &rings, per_unit);
        Self {
            shapes,
            of_item,
            flaws,
            fields,
            pairings,
            slack: SLACK * problem.width(),
        }
    }

    /// The field of two shapes: how deep `moving` stands in `fixed`.
    #[inline]
    pub(super) fn pairing(&self, fixed: usize, moving: usize) -> Pairing {
        self.pairings[fixed * self.shapes.len() + moving]
    }

    /// How deep two shapes stand in each other, times the scale of the two; `way` leads from the fixed to the moving one.
    #[inline]
    pub(super) fn conflict(&self, fixed: usize, moving: usize, way: [f64; 2]) -> f64 {
        let Pairing { field, sign, scale } = self.pairing(fixed, moving);
        let depth = self.fields[field as usize].depth([way[0] * sign, way[1] * sign]);
        if depth > self.slack {
            depth * scale
        } else {
            0.0
        }
    }

    /// The shortest move of `moving` that parts two shapes, if they are in conflict.
    pub(super) fn way_out(&self, fixed: usize, moving: usize, way: [f64; 2]) -> Option<[f64; 2]> {
        let Pairing { field, sign, .. } = self.pairing(fixed, moving);
        let place = [way[0] * sign, way[1] * sign];
        let out = self.fields[field as usize].way_out(place, self.slack)?;
        Some([out[0] * sign, out[1] * sign])
    }
}

impl Shape {
    fn new(ring: &[Point], kind: Kind) -> Self {
        let [low, high] = outline::bounds(ring);
        Self {
            low,
            high,
            size: outline::area(ring).abs().sqrt(),
            kind,
        }
    }

    /// The least and greatest corners of the shape where it lies.
    #[inline]
    pub(super) fn bounds(&self, place: [f64; 2]) -> [[f64; 2]; 2] {
        let put = |corner: [f64; 2]| [corner[0] + place[0], corner[1] + place[1]];
        [put(self.low), put(self.high)]
    }

    /// The room of a piece.
    pub(super) fn room(&self) -> &Room {
        match &self.kind {
            Kind::Piece { room, .. } => room,
            Kind::Flaw => unreachable!("only pieces are moved"),
        }
    }
}

/// Spots a unit: a power of two, so that short binary fractions stay exact.
fn fineness(rings: &[Vec<Point>]) -> f64 {
    let extents = rings
        .iter()
        .flatten()
        .map(|point| point.x.abs().max(point.y.abs()));
    let greatest = extents.fold(f64::MIN_POSITIVE, f64::max);
    let mut per_unit = 1.0;
    while greatest * per_unit > FINEST {
        per_unit /= 2.0;
    }
    while greatest * per_unit * 2.0 <= FINEST {
        per_unit *= 2.0;
    }
    per_unit
}

/// The ring on the grid, counter-clockwise, without corners that are none.
fn on_grid(ring: &[Point], per_unit: f64) -> Vec<Spot> {
    let spot = |point: &Point| {
        [
            (point.x * per_unit).round() as i64,
            (point.y * per_unit).round() as i64,
        ]
    };
    let mut spots: Vec<Spot> = ring.iter().map(spot).collect();
    if outline::area(ring) < 0.0 {
        spots.reverse();
    }
    while let Some(idle) = idle_corner(&spots) {
        spots.remove(idle);
    }
    spots
}

/// A corner that does not turn.
fn idle_corner(spots: &[Spot]) -> Option<usize> {
    let count = spots.len();
    (0..count).find(|&at| {
        let (a, b, c) = (
            spots[(at + count - 1) % count],
            spots[at],
            spots[(at + 1) % count],
        );
        (b[0] - a[0]) * (c[1] - b[1]) == (b[1] - a[1]) * (c[0] - b[0])
    })
}

/// A field for every two shapes.
fn fields(shapes: &[Shape], rings: &[Vec<Spot>], per_unit: f64) -> (Vec<NoFit>, Vec<Pairing>) {
    let (names, opposite) = names(rings);
    let mut fields = Vec::new();
    let mut known: BTreeMap<(usize, usize), u32> = BTreeMap::new();
    let mut pairings = Vec::with_capacity(shapes.len() * shapes.len());
    for fixed in 0..shapes.len() {
        for moving in 0..shapes.len() {
            let (a, b) = (names[fixed], names[moving]);
            let scale = scale(&shapes[fixed], &shapes[moving]);
            // With A and B turned by half a circle, or with their parts changed, the field is the same, turned.
            let turned = opposite[a].zip(opposite[b]);
            let ways = [
                (Some((a, b)), 1.0),
                (Some((b, a)), -1.0),
                (turned, -1.0),
                (turned.map(|(a, b)| (b, a)), 1.0),
            ];
            let found = ways
                .iter()
                .find_map(|&(pair, sign)| Some((*known.get(&pair?)?, sign)));
            let (field, sign) = found.unwrap_or_else(|| {
                fields.push(NoFit::new(&rings[fixed], &rings[moving], per_unit));
                let field = (fields.len() - 1) as u32;
                known.insert((a, b), field);
                (field, 1.0)
            });
            pairings.push(Pairing { field, sign, scale });
        }
    }
    (fields, pairings)
}

/// What one unit of depth counts between two shapes: more where they are large, so that the small give way.
fn scale(one: &Shape, other: &Shape) -> f64 {
    (one.size * other.size).sqrt()
}

/// A number for each ring, the same for the same ring, and the number of the ring turned by half a circle.
fn names(rings: &[Vec<Spot>]) -> (Vec<usize>, Vec<Option<usize>>) {
    let mut known: BTreeMap<Vec<Spot>, usize> = BTreeMap::new();
    let mut names = Vec::new();
    for ring in rings {
        let next = known.len();
        names.push(*known.entry(from_least(ring.clone())).or_insert(next));
    }
    let mut opposite = vec![None; known.len()];
    for (ring, &name) in &known {
        let turned = ring.iter().map(|&[x, y]| [-x, -y]).collect();
        opposite[name] = known.get(&from_least(turned)).copied();
    }
    (names, opposite)
}

/// The ring begun at its least spot.
fn from_least(mut ring: Vec<Spot>) -> Vec<Spot> {
    let least = (0..ring.len()).min_by_key(|&at| ring[at]).unwrap_or(0);
    ring.rotate_left(least);
    ring
}
