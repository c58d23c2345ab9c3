//! Copies of one piece that share turns and room, as items of the search.
//!
//! Knows kinds and the rules of a cloth. Invariant: every turn of a slot keeps the grain, the way of the nap and the face of its
//! part.

use geometry::{Affine, Point, Vec2};

use super::kind::Kind;
use super::{Held, Part};
use crate::goods::Cloth;
use crate::nest::{Area, Item, PoseSpace, Repeat, Turn};

/// What a cloth allows.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rules {
    /// Whether all pieces lie one way.
    pub(super) one_way: bool,
    /// Whether single pieces may lie on either face.
    pub(super) either_face: bool,
    /// How far the grain may be off, degrees.
    pub(super) tolerance: f64,
}

impl Rules {
    pub(super) fn of(cloth: &Cloth, tolerance: f64) -> Self {
        Self {
            one_way: cloth.direction.is_one_way() || cloth.repeats.uneven,
            either_face: cloth.sides_alike,
            tolerance: if cloth.repeats.any() { 0.0 } else { tolerance },
        }
    }
}

/// Copies of a piece that share turns and room.
#[derive(Clone, Debug)]
pub(super) struct Slot {
    /// Which kind.
    pub(super) kind: usize,
    /// What the copies are.
    pub(super) part: Part,
    /// Their numbers among all copies of the kind.
    pub(super) copies: Vec<usize>,
    /// The turns that they may have.
    pub(super) turns: Vec<Turn>,
    /// The box that holds them; the whole section where there is none.
    pub(super) area: Option<Area>,
    /// Where the only copy is held.
    pub(super) held: Option<Point>,
}

impl Slot {
    pub(super) fn new(
        kinds: &[Kind],
        kind: usize,
        part: Part,
        copies: std::ops::Range<usize>,
        rules: Rules,
    ) -> Self {
        Self {
            kind,
            part,
            copies: copies.collect(),
            turns: turns(&kinds[kind], part, rules),
            area: None,
            held: None,
        }
    }

    pub(super) fn within(self, area: Area) -> Self {
        Self {
            area: Some(area),
            ..self
        }
    }

    /// The outline that is laid, in the grain frame.
    pub(super) fn ring<'a>(&self, kinds: &'a [Kind]) -> &'a [Point] {
        let kind = &kinds[self.kind];
        match self.part {
            Part::Whole => kind.opened(),
            _ => &kind.ring,
        }
    }

    /// The item of the search, with the repeats of its section at which its origin lies.
    pub(super) fn item(&self, kinds: &[Kind], repeats: [Option<Repeat>; 2]) -> Item {
        let ring = self.ring(kinds).to_vec();
        let pinned = self.part == Part::OnFold;
        let mut space = PoseSpace {
            area: self.area,
            pinned,
            along: repeats[0],
            // A piece on the fold lies where the fold lies.
            across: repeats[1].filter(|_| !pinned),
        };
        if let Some(place) = self.held {
            space = held_at(&ring, self.turns[0], place, pinned);
        }
        Item {
            name: kinds[self.kind].title.clone(),
            outline: ring,
            demand: self.copies.len(),
            turns: self.turns.clone(),
            space,
        }
    }

    /// Takes the copies that are held out of this slot, as slots of their own.
    pub(super) fn split(mut self, kinds: &[Kind], held: &[Held]) -> Vec<Self> {
        let mut slots = Vec::new();
        for one in held.iter().filter(|one| one.piece == kinds[self.kind].name) {
            let Some(at) = self.copies.iter().position(|copy| *copy == one.copy) else {
                continue;
            };
            let wished = Turn {
                degrees: one.degrees,
                mirrored: one.face_down,
            };
            // A turn that the rules do not have would be no legal lay: the nearest of the same face is taken.
            let turn = nearest(&self.turns, wished);
            slots.push(Self {
                copies: vec![self.copies.remove(at)],
                turns: vec![turn],
                held: Some(one.place),
                ..self.clone()
            });
        }
        if !self.copies.is_empty() {
            slots.push(self);
        }
        slots
    }
}

fn nearest(turns: &[Turn], wished: Turn) -> Turn {
    let off = |turn: &Turn| {
        let degrees = (turn.degrees - wished.degrees).rem_euclid(360.0);
        let degrees = degrees.min(360.0 - degrees);
        if turn.mirrored == wished.mirrored {
            degrees
        } else {
            degrees + 360.0
        }
    };
    let nearest = turns.iter().min_by(|a, b| off(a).total_cmp(&off(b)));
    *nearest.expect("every slot has a turn")
}

/// The room that is one place: a box as large as the piece.
fn held_at(ring: &[Point], turn: Turn, place: Point, pinned: bool) -> PoseSpace {
    let put = placing(turn, place);
    let turned: Vec<Point> = ring.iter().map(|point| put * *point).collect();
    let [low, high] = super::bounds(&turned);
    // Never off the beginning of the cloth.
    let by = Vec2::new(
        (-low.x).max(0.0),
        if pinned { -low.y } else { (-low.y).max(0.0) },
    );
    let (low, high) = (low + by, high + by);
    PoseSpace {
        area: Some(Area {
            low: [low.x, low.y],
            high: [high.x, high.y],
        }),
        pinned,
        ..PoseSpace::default()
    }
}

/// From the grain frame to the section: face down first, then turned, then put down. Quarter turns are exact.
pub(super) fn placing(turn: Turn, place: Point) -> Affine {
    let (sin, cos) = match turn.degrees.rem_euclid(360.0) {
        0.0 => (0.0, 1.0),
        90.0 => (1.0, 0.0),
        180.0 => (0.0, -1.0),
        270.0 => (-1.0, 0.0),
        degrees => geometry::math::sin_cos(degrees.to_radians()),
    };
    let face = if turn.mirrored { -1.0 } else { 1.0 };
    Affine::new([cos * face, sin * face, -sin, cos, place.x, place.y])
}

/// The turns of a part: by half a circle where the cloth allows both ways, and off the grain as far as is allowed.
fn turns(kind: &Kind, part: Part, rules: Rules) -> Vec<Turn> {
    if part == Part::OnFold {
        return on_fold(kind, rules);
    }
    let faces: &[bool] = match part {
        Part::Both => &[false, true],
        Part::Mirrored => &[true],
        Part::Single if rules.either_face => &[false, true],
        _ => &[false],
    };
    let ways: &[bool] = if rules.one_way {
        &[false]
    } else {
        &[false, true]
    };
    let offs: &[f64] = if rules.tolerance > 0.0 {
        &[0.0, 1.0, -1.0]
    } else {
        &[0.0]
    };
    let mut turns = Vec::new();
    for &off in offs {
        for &face_down in faces {
            for &against in ways {
                // Turned face down about its width, a piece runs the other way until it is turned round.
                let half = face_down != against;
                turns.push(Turn {
                    degrees: if half { 180.0 } else { 0.0 } + off * rules.tolerance,
                    mirrored: face_down,
                });
            }
        }
    }
    turns
}

/// The turns that bring the fold edge to y = 0 with the piece behind it.
fn on_fold(kind: &Kind, rules: Rules) -> Vec<Turn> {
    let [low, high] = super::bounds(&kind.ring);
    let is_behind = high.y > -low.y;
    let degrees = if is_behind { 0.0 } else { 180.0 };
    let with = Turn {
        degrees,
        mirrored: !is_behind,
    };
    let against = Turn {
        degrees,
        mirrored: is_behind,
    };
    if rules.one_way {
        vec![with]
    } else {
        vec![with, against]
    }
}
