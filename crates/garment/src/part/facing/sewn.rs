//! The shell as it is sewn along the edges behind which a facing lies: one line, what lies beside its ends, and how it goes on.
//!
//! Knows no widths. Invariant: darts and style lines within the line are closed, so that a facing drawn on it has neither.

use geometry::curve::mirror_in;
use geometry::{Affine, Curve, Tolerance};
use pattern::name::root;
use pattern::{EdgeKind, Pattern};

use super::walk::{Aligned, Chunk, Foot, Walk};

/// The line and its surroundings.
pub(super) struct Sewn {
    /// Its runs in order, the cloth on their right.
    pub(super) chunks: Vec<Chunk>,
    /// What lies beside its first and its last point.
    pub(super) borders: [Border; 2],
    /// How far the sides of a seam that was joined lie apart, mm.
    pub(super) apart: f64,
}

/// The edge at which a facing ends.
pub(super) struct Border {
    pub(super) foot: Foot,
    /// From the line inwards, darts closed.
    pub(super) curve: Curve,
    /// Whether it is the middle of the body.
    pub(super) is_centre: bool,
    /// How the line goes on across it, and how it does at a facing's width: mirrored at a centre, else on the piece beyond,
    /// else straight.
    goes_on: [Curve; 2],
    /// What follows it where the facing must not reach.
    pub(super) beyond: Option<Curve>,
}

/// Where a prolonged line is to run on smoothly across a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Depth {
    /// At the faced edge.
    Edge,
    /// At the facing's width.
    Width,
}

/// A stretch of the line that is one edge of one side of the garment.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Section {
    /// Root name of the edge.
    pub(super) edge: String,
    /// Root name of the piece.
    pub(super) side: String,
    /// Its first chunk and the one after its last.
    pub(super) chunks: [usize; 2],
}

/// Whether an edge is the middle of the body.
pub(super) fn is_centre(foot: Foot, pattern: &Pattern) -> bool {
    let edge = foot.of(pattern);
    edge.kind == EdgeKind::Fold || edge.answers_to("centre")
}

impl Sewn {
    /// The line through an edge.
    pub(super) fn of(walk: &Walk<'_>, from: Foot) -> Self {
        let feet = walk.feet(from);
        let placed = if feet[0].backwards {
            Affine::FLIP_X
        } else {
            Affine::IDENTITY
        };
        let (mut chunks, apart) = walk.laid(&feet, placed);
        let back = reference(&chunks, walk.pattern).inverse();
        for chunk in &mut chunks {
            chunk.placed = back * chunk.placed;
            chunk.curve = chunk.curve.transformed(back);
        }
        let (first, last) = (&chunks[0], &chunks[chunks.len() - 1]);
        let borders = [
            border(
                walk,
                first.foot.turned(),
                first.placed,
                &first.curve.reversed(),
                true,
            ),
            border(walk, last.foot, last.placed, &last.curve, false),
        ];
        let mut sewn = Self {
            chunks,
            borders,
            apart,
        };
        sewn.mirror_at_centres(walk.reach);
        sewn
    }

    /// Mirrors the line at centres: in the centre's direction at the line, and in that at a facing's width where it is shaped.
    fn mirror_at_centres(&mut self, reach: f64) {
        let line = self.line([0, self.chunks.len()]);
        for (at, border) in self.borders.iter_mut().enumerate() {
            if !border.is_centre {
                continue;
            }
            let away = if at == 0 {
                line.clone()
            } else {
                line.reversed()
            };
            border.goes_on = [0.0, reach].map(|along| {
                let through = border.curve.point_at(along);
                let mirror = mirror_in(through, through + border.curve.direction_at(along));
                bridged(&away.reversed(), &away.transformed(mirror))
            });
        }
    }

    /// Some chunks as one curve.
    pub(super) fn line(&self, [from, to]: [usize; 2]) -> Curve {
        let first = self.chunks[from].curve.clone();
        self.chunks[from + 1..to]
            .iter()
            .fold(first, |line, chunk| joined(&line, &chunk.curve))
    }

    /// Some chunks with what comes before and after them, each so long; straight on where it is not the end of the line.
    pub(super) fn prolonged(&self, chunks: [usize; 2], by: f64, at: Depth) -> Curve {
        let line = self.line(chunks);
        let before = if chunks[0] == 0 {
            self.borders[0].goes_on[at as usize].stretch(0.0, by)
        } else {
            straight(&line.reversed(), by)
        };
        let after = if chunks[1] == self.chunks.len() {
            self.borders[1].goes_on[at as usize].stretch(0.0, by)
        } else {
            straight(&line, by)
        };
        joined(&joined(&before.reversed(), &line), &after)
    }

    /// The stretches of the line that are one edge each.
    pub(super) fn sections(&self, pattern: &Pattern) -> Vec<Section> {
        let mut sections: Vec<Section> = Vec::new();
        for (index, chunk) in self.chunks.iter().enumerate() {
            let edge = root(&chunk.foot.of(pattern).name);
            let side = root(&chunk.foot.piece(pattern).name);
            match sections.last_mut() {
                Some(last) if last.edge == edge && last.side == side => last.chunks[1] = index + 1,
                _ => sections.push(Section {
                    edge: edge.into(),
                    side: side.into(),
                    chunks: [index, index + 1],
                }),
            }
        }
        sections
    }
}

/// Where the piece lies to which the line belongs: that at the middle of the body, else the first.
fn reference(chunks: &[Chunk], pattern: &Pattern) -> Affine {
    let is_forwards = |chunk: &&Chunk| !chunk.foot.backwards;
    let ends_at_centre = |foot: Foot| is_centre(foot.next(pattern), pattern);
    let at_centre =
        |chunk: &&Chunk| ends_at_centre(chunk.foot) || ends_at_centre(chunk.foot.turned());
    let mut forwards = chunks.iter().filter(is_forwards);
    let own = forwards.clone().find(at_centre).or(forwards.next());
    let Some(foot) = own.map(|chunk| chunk.foot) else {
        return Affine::IDENTITY;
    };
    // Of an edge with darts, the run at the centre keeps its place.
    let mut runs = chunks.iter().filter(|chunk| chunk.foot == foot);
    let kept = if ends_at_centre(foot) {
        runs.next_back()
    } else {
        runs.next()
    };
    kept.map_or(Affine::IDENTITY, |chunk| chunk.placed)
}

/// What lies beside the end of a line that arrives along a curve.
fn border(walk: &Walk<'_>, last: Foot, placed: Affine, line: &Curve, cloth_left: bool) -> Border {
    let pattern = walk.pattern;
    let own = Walk {
        along: &[],
        over: &[],
        cloth_left,
        ..*walk
    };
    let next = last.next(pattern);
    let (foot, placed) = match own.after(last, placed) {
        Some(beyond) => (beyond.foot, beyond.placed),
        None => (next, placed),
    };
    let name = root(&foot.of(pattern).name).to_owned();
    let along = [name.as_str()];
    let on = Walk {
        along: &along,
        ..own
    };
    let (chunks, _) = on.laid(&on.onwards(foot), placed);
    let curve = chunks[1..]
        .iter()
        .fold(chunks[0].curve.clone(), |curve, chunk| {
            joined(&curve, &chunk.curve)
        });
    let end = &chunks[chunks.len() - 1];
    let beyond = own.after(end.foot, end.placed).map_or_else(
        || (end.foot.next(pattern), end.placed),
        |beyond| (beyond.foot, beyond.placed),
    );
    let goes_on = [Aligned::Start, Aligned::Reach].map(|aligned| {
        let across = Walk { aligned, ..own };
        let beyond = across.beyond(foot, placed, |_| true);
        beyond.map_or_else(
            || straight(line, 1000.0),
            |beyond| {
                let on = whole(beyond.foot, pattern, beyond.placed);
                bridged(line, &on)
            },
        )
    });
    Border {
        is_centre: is_centre(foot, pattern),
        foot,
        curve: curve.with_ends(line.end(), curve.end()),
        goes_on,
        beyond: Some(whole(beyond.0, pattern, beyond.1)),
    }
}

fn whole(foot: Foot, pattern: &Pattern, placed: Affine) -> Curve {
    let chunks = foot.chunks(pattern, placed);
    chunks[1..]
        .iter()
        .fold(chunks[0].curve.clone(), |curve, chunk| {
            joined(&curve, &chunk.curve)
        })
}

/// How a line goes on to a curve that begins some way off: over a straight bridge, or drawn to its end where it lies behind.
fn bridged(line: &Curve, on: &Curve) -> Curve {
    let gap = on.start() - line.end();
    if gap.dot(line.end_direction()) > 0.01 {
        joined(&Curve::line(line.end(), on.start()), on)
    } else {
        on.with_ends(line.end(), on.end())
    }
}

/// Straight on from the end of a curve.
fn straight(line: &Curve, by: f64) -> Curve {
    Curve::line(line.end(), line.end() + line.end_direction() * by)
}

/// Two curves as one; the second is put where the first ends.
pub(super) fn joined(before: &Curve, after: &Curve) -> Curve {
    before
        .then(&after.with_ends(before.end(), after.end()))
        .expect("the second curve starts where the first ends")
}

/// Lines at a distance on the right of another, mm; kinks that open are rounded.
pub(super) fn beside(line: &Curve, distance: f64) -> Option<Curve> {
    line.rounded_offset(-distance, Tolerance::PATTERN)
}
