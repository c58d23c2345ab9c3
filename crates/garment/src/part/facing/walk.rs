//! Walking round the outline of a garment as it is sewn: from edge to edge, over darts that are closed and seams that are joined.
//!
//! Knows no facing. Invariants: a walk keeps the cloth on one side; where it crosses a seam, the piece beyond is laid on by a
//! rigid motion, turned over where it must be; a walk ends where it began at the latest.

use geometry::curve::{angle_between, turn_about};
use geometry::{Affine, Angle, Curve, Point, Vec2};
use pattern::name::{answers_to, root};
use pattern::step::kit::walk::written_out;
use pattern::{Edge, EdgeKind, Pattern, Piece, Seam, Stretch};

/// An edge, by numbers of piece and edge, and the direction in which it is walked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Foot {
    pub(super) piece: usize,
    pub(super) edge: usize,
    pub(super) backwards: bool,
}

/// A run of an edge where it lies when the garment is sewn.
#[derive(Clone, Debug)]
pub(super) struct Chunk {
    pub(super) foot: Foot,
    /// The run as it is walked.
    pub(super) curve: Curve,
    /// From the coordinates of its piece to those of the walk.
    pub(super) placed: Affine,
}

/// A seam seen from one of its ends: the edge beyond it, walked away from that end.
#[derive(Clone, Copy, Debug)]
struct Partner<'a> {
    foot: Foot,
    seam: &'a Seam,
}

impl Foot {
    pub(super) fn piece(self, pattern: &Pattern) -> &Piece {
        &pattern.pieces[self.piece]
    }

    pub(super) fn of(self, pattern: &Pattern) -> &Edge {
        &pattern.pieces[self.piece].edges[self.edge]
    }

    /// The edge that follows at the corner where this one is left.
    pub(super) fn next(self, pattern: &Pattern) -> Self {
        let count = self.piece(pattern).edges.len();
        let by = if self.backwards { count - 1 } else { 1 };
        Self {
            edge: (self.edge + by) % count,
            ..self
        }
    }

    /// The same edge walked the other way.
    pub(super) const fn turned(self) -> Self {
        Self {
            backwards: !self.backwards,
            ..self
        }
    }

    /// The edge's runs as they are walked, darts closed, the first of them placed.
    pub(super) fn chunks(self, pattern: &Pattern, placed: Affine) -> Vec<Chunk> {
        let (piece, edge) = (self.piece(pattern), self.of(pattern));
        let count = edge.runs.len();
        let mut placed = placed;
        let mut chunks: Vec<Chunk> = Vec::with_capacity(count);
        for step in 0..count {
            let run = if self.backwards {
                count - 1 - step
            } else {
                step
            };
            if step > 0 {
                let gap = if self.backwards { run } else { run - 1 };
                placed *= closing(piece, edge, gap, self.backwards);
            }
            let curve = edge.runs[run].transformed(placed);
            let curve = if self.backwards {
                curve.reversed()
            } else {
                curve
            };
            let start = chunks.last().map_or(curve.start(), |last| last.curve.end());
            chunks.push(Chunk {
                foot: self,
                curve: curve.with_ends(start, curve.end()),
                placed,
            });
        }
        chunks
    }
}

/// What lays the run beyond a dart on the run before it, in the order of the walk.
fn closing(piece: &Piece, edge: &Edge, gap: usize, backwards: bool) -> Affine {
    let dart = piece
        .darts
        .iter()
        .find(|dart| dart.edge == edge.name && dart.gap == gap);
    dart.map_or(Affine::IDENTITY, |dart| {
        let turn = piece.legs(dart).turn().radians();
        let turn = if backwards { turn } else { -turn };
        turn_about(dart.point, Angle::from_radians(turn))
    })
}

/// Which directions of the two sides of a seam are laid on each other, where they are not straight.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Aligned {
    /// Those from corner to reach: for pieces that become one.
    Whole,
    /// Those at the corner: for a line that runs on there.
    Start,
    /// Those at reach, point on point: for a line that runs on there.
    Reach,
}

/// How a walk goes on.
pub(super) struct Walk<'a> {
    pub(super) pattern: &'a Pattern,
    /// Names of the edges that are walked.
    pub(super) along: &'a [&'a str],
    /// Names of the seams' edges that are crossed besides those within a cut piece.
    pub(super) over: &'a [&'a str],
    /// How far along a seam its two sides are laid on each other, mm.
    pub(super) reach: f64,
    /// Whether the cloth lies on the left of the walk instead of its right.
    pub(super) cloth_left: bool,
    /// How seams are laid together.
    pub(super) aligned: Aligned,
}

/// An edge that follows, and what lays its piece where it belongs.
pub(super) struct Beyond {
    pub(super) foot: Foot,
    pub(super) placed: Affine,
    /// How far the two sides of a crossed seam lie apart within reach, mm.
    pub(super) apart: f64,
}

impl Walk<'_> {
    /// The feet from one back to the beginning and on to the end, in order.
    pub(super) fn feet(&self, from: Foot) -> Vec<Foot> {
        let back = self.onwards(from.turned());
        let first = back.last().map_or(from, |last| last.turned());
        self.onwards(first)
    }

    /// The feet from one on.
    pub(super) fn onwards(&self, from: Foot) -> Vec<Foot> {
        let mut feet = vec![from];
        loop {
            let last = feet[feet.len() - 1];
            match self.after(last, Affine::IDENTITY) {
                Some(next) if self.is_walked(next.foot) && !feet.contains(&next.foot) => {
                    feet.push(next.foot);
                }
                _ => return feet,
            }
        }
    }

    fn is_walked(&self, foot: Foot) -> bool {
        let edge = foot.of(self.pattern);
        self.along
            .iter()
            .any(|name| is_named(root(&edge.name), name))
    }

    /// The chunks of feet that follow each other, the first as it is placed, and the largest misfit of the seams between them.
    pub(super) fn laid(&self, feet: &[Foot], mut placed: Affine) -> (Vec<Chunk>, f64) {
        let (mut chunks, mut apart): (Vec<Chunk>, f64) = (Vec::new(), 0.0);
        for &foot in feet {
            if let Some(last) = chunks.last()
                && let Some(beyond) = self.after(last.foot, last.placed)
            {
                placed = beyond.placed;
                apart = apart.max(beyond.apart);
            }
            let own = foot.chunks(self.pattern, placed);
            placed = own[own.len() - 1].placed;
            chunks.extend(own);
        }
        for index in 1..chunks.len() {
            let end = chunks[index - 1].curve.end();
            let curve = &chunks[index].curve;
            chunks[index].curve = curve.with_ends(end, curve.end());
        }
        (chunks, apart)
    }

    /// What follows an edge: the next one, or the one beyond the seam that begins there, where that is crossed.
    pub(super) fn after(&self, foot: Foot, placed: Affine) -> Option<Beyond> {
        let next = foot.next(self.pattern);
        if self.is_walked(next) {
            return Some(Beyond {
                foot: next,
                placed,
                apart: 0.0,
            });
        }
        self.beyond(next, placed, |partner| self.crosses(next, partner))
    }

    /// The edge beyond a seam, seen from the corner at which a foot on this side of it begins.
    pub(super) fn beyond(
        &self,
        near: Foot,
        placed: Affine,
        crosses: impl Fn(Foot) -> bool,
    ) -> Option<Beyond> {
        let partner = partners(self.pattern, near)
            .into_iter()
            .find(|partner| crosses(partner.foot))?;
        let (placed, apart) = self.laid_on(near, partner, placed);
        Some(Beyond {
            foot: partner.foot.turned().next(self.pattern),
            placed,
            apart,
        })
    }

    /// Whether a seam is walked over: within a piece that was cut, or by its name.
    pub(super) fn crosses(&self, near: Foot, far: Foot) -> bool {
        let [own, other] = [near, far].map(|foot| root(&foot.piece(self.pattern).name));
        let edges = [near, far].map(|foot| foot.of(self.pattern));
        let opens = edges.iter().any(|edge| edge.kind == EdgeKind::Opening);
        let named = |edge: &Edge| self.over.iter().any(|name| edge.answers_to(name));
        !opens && (own == other || edges.into_iter().any(named))
    }

    /// Lays the far side of a seam on the near one as they are aligned; their ease spreads evenly. Also how far they lie apart
    /// within reach.
    fn laid_on(&self, near: Foot, partner: Partner<'_>, placed: Affine) -> (Affine, f64) {
        let far = partner.foot;
        let lengths = [near, far].map(|foot| foot.of(self.pattern).length());
        let onto = near.first_run(self.pattern).transformed(placed);
        // With the cloth on its right, a walk goes on backwards exactly where the piece is turned over.
        let goes_on_backwards = far.turned().next(self.pattern).backwards;
        let own = far.first_run(self.pattern);
        let turned = if goes_on_backwards == self.cloth_left {
            Affine::IDENTITY
        } else {
            Affine::FLIP_X
        };
        let from = own.transformed(turned);
        let reach = self.reach.min(onto.length());
        // Facings are alike wide on both sides: at their width nothing is eased.
        let even = partner.seam.fullness == pattern::Fullness::None;
        let share = if even || self.aligned == Aligned::Reach {
            1.0
        } else {
            lengths[1] / lengths[0]
        };
        let direction = |curve: &Curve, along: f64| match self.aligned {
            Aligned::Whole => curve.point_at(along) - curve.start(),
            Aligned::Start => curve.start_direction(),
            Aligned::Reach => curve.direction_at(along),
        };
        let way = direction(&onto, reach);
        let aim = direction(&from, reach * share);
        let at = match self.aligned {
            Aligned::Whole | Aligned::Start => 0.0,
            Aligned::Reach => reach,
        };
        let by = laid(from.point_at(at * share), aim, onto.point_at(at), way);
        let lying = from.transformed(by);
        let apart = (1..=8)
            .map(|step| reach * f64::from(step) / 8.0)
            .map(|along| (onto.point_at(along) - lying.point_at(along * share)).hypot())
            .fold(0.0, f64::max);
        (by * turned, apart)
    }
}

impl Foot {
    fn first_run(self, pattern: &Pattern) -> Curve {
        let runs = &self.of(pattern).runs;
        if self.backwards {
            runs[runs.len() - 1].reversed()
        } else {
            runs[0].clone()
        }
    }
}

/// The motion that brings a point and a direction on another point and direction.
fn laid(from: Point, aim: Vec2, onto: Point, way: Vec2) -> Affine {
    Affine::translate(onto - from) * turn_about(from, angle_between(aim, way))
}

/// The edges that are sewn to an edge at the corner where a foot on it begins, each walked away from that corner.
fn partners(pattern: &Pattern, near: Foot) -> Vec<Partner<'_>> {
    let both = |seam: &'_ Seam| [feet(pattern, &seam.held), feet(pattern, &seam.worked)];
    let mut found = Vec::new();
    for seam in &pattern.seams {
        let sides = both(seam);
        for (own, other) in [(0, 1), (1, 0)] {
            let far = opposite(pattern, &sides[own], &sides[other], near);
            found.extend(far.map(|foot| Partner { foot, seam }));
        }
    }
    found
}

fn feet(pattern: &Pattern, side: &[Stretch]) -> Vec<Foot> {
    let written = written_out(pattern, side);
    let each = written.iter().filter_map(|stretch| {
        let piece = pattern
            .pieces
            .iter()
            .position(|piece| piece.name == stretch.piece)?;
        Some(Foot {
            piece,
            edge: pattern.pieces[piece].edge_index(&stretch.edge)?,
            backwards: stretch.backwards,
        })
    });
    each.collect()
}

/// The foot on the other side of a seam that begins where a foot on this side does; corners on both sides are those that lie
/// at the same share of their side.
fn opposite(pattern: &Pattern, own: &[Foot], other: &[Foot], near: Foot) -> Option<Foot> {
    const SAME_SHARE: f64 = 0.02;
    let (shares, others) = (shares(pattern, own), shares(pattern, other));
    let at = own
        .iter()
        .position(|foot| *foot == near || foot.turned() == near)?;
    let onwards = own[at] == near;
    let share = if onwards { shares[at] } else { shares[at + 1] };
    let index = (0..other.len()).find(|&index| {
        let begins = if onwards {
            others[index]
        } else {
            others[index + 1]
        };
        (begins - share).abs() < SAME_SHARE
    })?;
    Some(if onwards {
        other[index]
    } else {
        other[index].turned()
    })
}

/// Shares of a side's length at which its edges begin, and 1.
fn shares(pattern: &Pattern, side: &[Foot]) -> Vec<f64> {
    let lengths: Vec<f64> = side.iter().map(|foot| foot.of(pattern).length()).collect();
    let whole: f64 = lengths.iter().sum();
    let mut before = 0.0;
    let mut shares: Vec<f64> = lengths
        .iter()
        .map(|length| {
            let share = before / whole;
            before += length;
            share
        })
        .collect();
    shares.push(1.0);
    shares
}

/// Whether an edge of a root name is one of a name, or its continuation on an extension: `wrap-neckline`.
pub(super) fn is_named(edge: &str, name: &str) -> bool {
    edge.strip_suffix(name)
        .is_some_and(|rest| rest.is_empty() || rest.ends_with('-'))
}

/// The feet on all edges of a name in the pieces of a name.
pub(super) fn feet_on(pattern: &Pattern, piece: &str, edge: &str) -> Vec<Foot> {
    let owners = pattern.pieces.iter().enumerate();
    let own = owners.filter(|(_, owner)| {
        answers_to(&owner.name, piece) && !pattern.makeup.is_derived(&owner.name)
    });
    own.flat_map(|(piece, owner)| {
        let edges = owner.edges.iter().enumerate();
        edges
            .filter(|(_, own)| own.answers_to(edge))
            .map(move |(edge, _)| Foot {
                piece,
                edge,
                backwards: false,
            })
    })
    .collect()
}
