//! Corners that move along an edge: the edge is cut back or prolonged, and what meets it there is drawn to its new end.
//!
//! Knows which corner lies on which across a seam. Invariants: the far ends of both edges stay; the edge that is drawn anew
//! keeps the angle at which it met the other, so that what ran on over a seam still does.

use document::{Finding, Place as Spot};
use geometry::{Angle, CubicBez, Curve, Knot, PathSeg, Point, Tolerance, Vec2, curve};

use super::closed::Closed;
use super::fill::joined;
use super::find::at_edge;
use super::place::SAME_POINT;
use super::shift_edge::drawn_toward;
use super::{notches, reshape};
use crate::piece::{EdgeKind, Mark, Piece};
use crate::seam::{Pattern, Stretch};

/// An end of an edge, by numbers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tip {
    /// Number of the piece.
    pub piece: usize,
    /// Number of the edge.
    pub edge: usize,
    /// Whether it is the edge's last corner.
    pub at_end: bool,
}

/// A corner that lies on another across a seam.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Across {
    /// Number of the seam.
    pub seam: usize,
    /// Whether the walk along the seam ends there.
    pub last: bool,
    /// Whether the given edge is on the held side.
    pub held: bool,
    /// The edge on the other side.
    pub tip: Tip,
}

impl Tip {
    /// The end of the edge that meets this one at its corner.
    pub fn neighbour(self, pattern: &Pattern) -> Self {
        Self {
            edge: self.beside(&pattern.pieces[self.piece]),
            at_end: !self.at_end,
            ..self
        }
    }

    /// Number of the edge that meets this one at its corner.
    pub fn beside(self, piece: &Piece) -> usize {
        let count = piece.edges.len();
        let step = if self.at_end { 1 } else { count - 1 };
        (self.edge + step) % count
    }

    /// Interior angle of the corner.
    pub fn angle(self, pattern: &Pattern) -> Angle {
        self.angle_of(&pattern.pieces[self.piece])
    }

    /// Interior angle of the corner of its piece.
    pub fn angle_of(self, piece: &Piece) -> Angle {
        let next = self.beside(piece);
        let (into, out) = if self.at_end {
            (self.edge, next)
        } else {
            (next, self.edge)
        };
        let turn = curve::angle_between(
            piece.edges[into].end_direction(),
            piece.edges[out].start_direction(),
        );
        Angle::from_degrees(180.0 - turn.degrees())
    }
}

/// The corners on which an end of an edge lies across its seams.
pub fn across(pattern: &Pattern, tip: Tip) -> Vec<Across> {
    let mut found = Vec::new();
    for (seam, joins) in pattern.seams.iter().enumerate() {
        for (held, here, there) in [
            (true, &joins.held, &joins.worked),
            (false, &joins.worked, &joins.held),
        ] {
            for last in [false, true] {
                if side_tip(pattern, here, last) == Some(tip)
                    && let Some(tip) = side_tip(pattern, there, last)
                {
                    found.push(Across {
                        seam,
                        last,
                        held,
                        tip,
                    });
                }
            }
        }
    }
    found
}

/// The corners on which a corner lies across the seams of both its edges.
pub fn meeting(pattern: &Pattern, tip: Tip) -> Vec<Across> {
    let mut all = across(pattern, tip);
    all.extend(across(pattern, tip.neighbour(pattern)));
    all
}

fn side_tip(pattern: &Pattern, side: &[Stretch], last: bool) -> Option<Tip> {
    let stretch = if last { side.last() } else { side.first() }?;
    let edges = pattern.edges_of(stretch);
    let (owner, edge) = if last { edges.last() } else { edges.first() }?;
    let piece = pattern
        .pieces
        .iter()
        .position(|piece| piece.name == owner.name)?;
    Some(Tip {
        piece,
        edge: owner.edge_index(&edge.name)?,
        at_end: last != stretch.backwards,
    })
}

/// Whether an edge lies on a centre line: on the fold, or at CF or CB.
pub fn is_centre(piece: &Piece, edge: usize) -> bool {
    let edge = &piece.edges[edge];
    edge.kind == EdgeKind::Fold || edge.answers_to("centre")
}

/// Where the corner of an edge lies across a seam over which the edge beside it runs on smoothly.
pub fn running_on(pattern: &Pattern, tip: Tip) -> Option<Across> {
    let found = across(pattern, tip).into_iter();
    let mut smooth =
        found.filter(|other| pattern.seams[other.seam].runs_on[usize::from(other.last)]);
    smooth.next()
}

/// Cuts an edge back at an end (below zero), or prolongs it straight; notches on what is cut away are gone.
pub fn move_end(piece: &mut Piece, edge: usize, at_end: bool, by: f64) -> Result<(), Finding> {
    let owner = &piece.edges[edge];
    let index = if at_end { owner.runs.len() - 1 } else { 0 };
    let run = if at_end {
        owner.runs[index].clone()
    } else {
        owner.runs[index].reversed()
    };
    let length = run.length();
    if -by > length - 1.0 {
        return Err(too_far(piece, edge, length));
    }
    let new = if by < 0.0 {
        run.stretch(0.0, length + by)
    } else if by > 0.0 {
        longer(&run, by)
    } else {
        return Ok(());
    };
    let new = if at_end { new } else { new.reversed() };
    let name = owner.name.clone();
    let mut runs = owner.runs.clone();
    runs[index] = new;
    reshape::put(piece, edge, runs);
    if !at_end {
        notches::change(piece, &name, |along| along + by);
    }
    let whole = piece.edges[edge].length();
    piece.marks.retain(|mark| match mark {
        Mark::Notch { edge, along, .. } => {
            *edge != name || (-SAME_POINT..=whole + SAME_POINT).contains(along)
        }
        Mark::Point { .. } => true,
    });
    Ok(())
}

/// A straight run stays one line.
fn longer(run: &Curve, by: f64) -> Curve {
    let (end, way) = (run.end(), run.end_direction());
    let tail = Curve::line(end, end + way * by);
    let straight =
        run.segments().len() == 1 && (run.length() - (end - run.start()).hypot()).abs() < 1e-9;
    if straight {
        Curve::line(run.start(), tail.end())
    } else {
        joined(run, &tail)
    }
}

/// The direction in which an edge leaves a corner, or arrives there, for an interior angle with the edge beside it.
pub fn direction(beside: Vec2, at_end: bool, interior: Angle) -> Vec2 {
    let turn = Angle::from_degrees(180.0 - interior.degrees());
    let turn = if at_end {
        Angle::from_radians(-turn.radians())
    } else {
        turn
    };
    (curve::turn_about(Point::ORIGIN, turn) * beside.to_point()).to_vec2()
}

/// Draws the end of an edge to the corner that its neighbour makes now, at an interior angle or as it comes.
pub fn draw_to(pattern: &mut Pattern, tip: Tip, interior: Option<Angle>) -> Result<(), Finding> {
    let beside = tip.neighbour(pattern);
    let piece = &pattern.pieces[tip.piece];
    let owner = &piece.edges[beside.edge];
    let (corner, way) = if beside.at_end {
        (owner.end(), owner.end_direction())
    } else {
        (owner.start(), owner.start_direction())
    };
    let edge = &piece.edges[tip.edge];
    let closed = Closed::of(piece, edge);
    let frame = closed.moves[if tip.at_end {
        closed.moves.len() - 1
    } else {
        0
    }];
    let corner = frame * corner;
    let way = (frame * way.to_point()) - (frame * Point::ORIGIN);
    let arrives = interior.map(|angle| direction(way, tip.at_end, angle));
    let old = closed.curve();
    let new = drawn(&old, tip.at_end, corner, arrives).ok_or_else(|| no_way(piece, tip.edge))?;
    put_closed(&mut pattern.pieces[tip.piece], tip.edge, &closed, &new)
}

/// Turns the end of an edge, whose corner stays, until it meets the edge beside it at an interior angle; the line is drawn anew as
/// far as a hand would blend it, not farther than its middle.
pub fn turn_end(pattern: &mut Pattern, tip: Tip, interior: Angle) -> Result<(), Finding> {
    let beside = tip.neighbour(pattern);
    let piece = &pattern.pieces[tip.piece];
    let owner = &piece.edges[beside.edge];
    let way = if beside.at_end {
        owner.end_direction()
    } else {
        owner.start_direction()
    };
    let closed = Closed::of(piece, &piece.edges[tip.edge]);
    let last = if tip.at_end {
        closed.moves.len() - 1
    } else {
        0
    };
    let frame = closed.moves[last];
    let way = (frame * way.to_point()) - (frame * Point::ORIGIN);
    let way = direction(way, tip.at_end, interior);
    let old = closed.curve();
    let new = if tip.at_end {
        drawn_toward(&old, old.end(), way)
    } else {
        drawn_toward(&old.reversed(), old.start(), -way).map(|curve| curve.reversed())
    };
    let new = new.ok_or_else(|| no_way(piece, tip.edge))?;
    put_closed(&mut pattern.pieces[tip.piece], tip.edge, &closed, &new)
}

/// The old line stretched along and across the direction at its far end until it reaches the corner; where it is too flat for
/// that, one smooth curve.
fn drawn(old: &Curve, at_end: bool, corner: Point, way: Option<Vec2>) -> Option<Curve> {
    if !at_end {
        let back = drawn(&old.reversed(), true, corner, way.map(|way| -way));
        return back.map(|curve| curve.reversed());
    }
    let ends = [
        Knot::toward(old.start(), old.start_direction()),
        Knot {
            point: corner,
            direction: way,
        },
    ];
    way.and_then(|way| stretched(old, corner, way))
        .or_else(|| Curve::smooth(&ends))
}

fn stretched(old: &Curve, corner: Point, way: Vec2) -> Option<Curve> {
    /// Flatter or more distorted than this, a line is drawn anew.
    const RATIOS: [f64; 2] = [0.5, 2.0];
    let (from, along) = (old.start(), old.start_direction());
    let across = Vec2::new(-along.y, along.x);
    let ratio = |axis: Vec2| (corner - from).dot(axis) / (old.end() - from).dot(axis);
    let ratios = [ratio(along), ratio(across)];
    if ratios
        .iter()
        .any(|ratio| !(RATIOS[0]..=RATIOS[1]).contains(ratio))
    {
        return None;
    }
    let place = |point: Point| {
        let off = point - from;
        from + along * (off.dot(along) * ratios[0]) + across * (off.dot(across) * ratios[1])
    };
    let mut segments: Vec<PathSeg> = old
        .segments()
        .iter()
        .map(|segment| {
            let cubic = with_handles(segment);
            PathSeg::Cubic(CubicBez::new(
                place(cubic.p0),
                place(cubic.p1),
                place(cubic.p2),
                place(cubic.p3),
            ))
        })
        .collect();
    // The last handle keeps its length and takes the direction in which the corner is met.
    if let Some(PathSeg::Cubic(last)) = segments.last_mut() {
        let handle = (last.p3 - last.p2).hypot();
        last.p2 = last.p3 - way * (handle / way.hypot());
    }
    Some(Curve::from_segments(segments)?.with_ends(from, corner))
}

/// A stretch as a cubic whose handles can be turned; those of a straight one would have no length.
fn with_handles(segment: &PathSeg) -> CubicBez {
    match segment {
        PathSeg::Line(line) => CubicBez::new(
            line.p0,
            line.p0.lerp(line.p1, 1.0 / 3.0),
            line.p0.lerp(line.p1, 2.0 / 3.0),
            line.p1,
        ),
        _ => segment.to_cubic(),
    }
}

/// Gives an edge a new closed line: its darts open where their middle lines meet it, its notches stay as near as they can.
pub fn put_closed(
    piece: &mut Piece,
    edge: usize,
    closed: &Closed,
    new: &Curve,
) -> Result<(), Finding> {
    let old = closed.curve();
    let mut mouths = Vec::new();
    for gap in 0..closed.runs.len() - 1 {
        let name = &piece.edges[edge].name;
        let dart = piece
            .darts
            .iter()
            .find(|dart| dart.edge == *name && dart.gap == gap);
        let Some(dart) = dart else { continue };
        let (point, mouth) = (closed.moves[gap] * dart.point, closed.runs[gap].end());
        let crossings = new
            .crossings_with_ray(point, mouth - point, Tolerance::PATTERN)
            .into_iter();
        let off = |crossing: &geometry::Crossing| (crossing.point - mouth).hypot();
        let nearest = crossings.min_by(|a, b| off(a).total_cmp(&off(b)));
        mouths.push(
            nearest
                .ok_or_else(|| no_mouth(piece, edge, &dart.name))?
                .along,
        );
    }
    let runs = closed
        .reopened(new, &mouths)
        .ok_or_else(|| no_way(piece, edge))?;
    let name = piece.edges[edge].name.clone();
    reshape::put(piece, edge, runs);
    notches::change(piece, &name, |along| new.nearest(old.point_at(along)).along);
    let count = piece.edges.len();
    let start = piece.edges[(edge + count - 1) % count].end();
    let end = piece.edges[(edge + 1) % count].start();
    let runs = &mut piece.edges[edge].runs;
    // Turning back and forth leaves rounding in the last place; corners are exact.
    let last = runs.len() - 1;
    runs[0] = runs[0].with_ends(start, runs[0].end());
    runs[last] = runs[last].with_ends(runs[last].start(), end);
    Ok(())
}

fn too_far(piece: &Piece, edge: usize, length: f64) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "corner-beyond-edge",
        format!("the corner would move beyond the {name}, or beyond a dart in it"),
    )
    .at(at_edge(piece, edge))
    .allowed(format!("at most {length:.0} mm along it"))
    .cure("move the corner less far")
}

fn no_mouth(piece: &Piece, edge: usize, dart: &str) -> Finding {
    Finding::error(
        "dart-misses-edge",
        format!("the {dart} does not reach the new line of its edge"),
    )
    .at(at_edge(piece, edge))
    .cure("shorten or transfer the dart first, or draw the line nearer to the old one")
}

fn no_way(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "edge-cannot-be-drawn",
        format!("the {name} of the {} cannot be drawn so", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("choose points that follow each other along the edge")
}
