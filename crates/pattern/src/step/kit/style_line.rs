//! A style line across a piece: from the outline or a dart, through points, to the outline or a dart.
//!
//! A dart at either end is absorbed: its legs become the line's two sides, each rounded into the line near the dart's point and
//! straight above. Where both darts end at one point, as over the bust, either side is rounded there. A curved line meets a centre line square. Knows no names of parts. Invariant: both sides have one
//! length.

use document::Finding;
use geometry::{Angle, Curve, Knot, PathSeg, Point, Vec2, curve};

use super::apex;
use super::divide::End;
use super::fill::joined;
use super::place::{SAME_POINT, axis};
use crate::piece::{EdgeKind, Legs, Piece};

/// A style line as it is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct StyleLine {
    /// Where it begins and ends.
    pub ends: [End; 2],
    /// Points through which it runs, in order.
    pub through: Vec<Point>,
    /// How far its middle bows to the right of the straight way, mm, where it runs through no points.
    pub bow: f64,
}

/// A style line as it is drawn, from its beginning to its end.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawn {
    /// The middle line between the ends or the points of the darts.
    pub line: Curve,
    /// The side that lies clockwise after the beginning, and the other; both run from beginning to end.
    pub sides: [Curve; 2],
    /// Lengths along either side at which it runs through points, mm.
    pub knots: Vec<f64>,
}

/// One end of the line on a piece.
#[derive(Clone, Copy)]
enum Foot {
    /// On an edge, with the way into the piece where that edge is a centre line, which is met square.
    Edge(Point, Option<Vec2>),
    Dart(Legs),
}

/// What is common to both sides.
struct Common {
    /// Points through which both sides run, each with the direction there.
    knots: Vec<(Point, Vec2)>,
    /// Curves between them.
    spans: Vec<Curve>,
}

/// Draws a style line on a piece; a finding where it has no length.
pub fn draw(piece: &Piece, wish: &StyleLine) -> Result<Drawn, Finding> {
    let drawn = foot(piece, &wish.ends[0]).zip(foot(piece, &wish.ends[1]));
    drawn
        .and_then(|feet| on(piece, wish, [feet.0, feet.1]))
        .ok_or_else(|| no_length(piece))
}

fn on(piece: &Piece, wish: &StyleLine, feet: [Foot; 2]) -> Option<Drawn> {
    if let [Foot::Dart(from), Foot::Dart(to)] = feet
        && wish
            .through
            .iter()
            .all(|point| (*point - from.point).hypot() < SAME_POINT)
        && (from.point - to.point).hypot() < SAME_POINT
    {
        let down = curve::unit(piece.grain);
        let across = Vec2::new(down.y, -down.x);
        let (sides, knot) = apex::sides(&from, &to, across)?;
        return Some(Drawn {
            line: Curve::line(from.point, to.point),
            sides,
            knots: vec![knot],
        });
    }
    let common = common(wish, feet)?;
    let begin = lead(feet[0], common.knots[0]);
    let end = lead(feet[1], turned(*common.knots.last()?));
    let side = |begin: &Option<Curve>, end: &Option<Curve>| {
        let all = begin.iter().chain(&common.spans).cloned();
        let all = all.chain(end.as_ref().map(Curve::reversed));
        all.reduce(|whole, span| joined(&whole, &span))
    };
    // The mouth after the beginning and the mouth before the end belong to one side.
    let first = side(&begin[1], &end[0])?;
    let second = side(&begin[0], &end[1])?;
    Some(Drawn {
        line: common
            .spans
            .iter()
            .cloned()
            .reduce(|whole, span| joined(&whole, &span))?,
        knots: lengths(&common, begin[0].as_ref(), end[0].as_ref()),
        sides: [first, second],
    })
}

fn foot(piece: &Piece, end: &End) -> Option<Foot> {
    match end {
        End::Edge(edge, along) => {
            let edge = piece.edges.get(*edge)?;
            let (at, way) = edge.place_at(*along);
            let centre = edge.kind == EdgeKind::Fold || edge.answers_to("centre");
            Some(Foot::Edge(at, centre.then(|| Vec2::new(-way.y, way.x))))
        }
        End::Dart(name) => piece.dart(name).map(|dart| Foot::Dart(piece.legs(dart))),
    }
}

fn common(wish: &StyleLine, feet: [Foot; 2]) -> Option<Common> {
    let mut points: Vec<Point> = wish.through.clone();
    if points.is_empty() && wish.bow.abs() > SAME_POINT {
        points.extend(bowed(feet, wish.bow));
    }
    let ends = [ended(feet[0], 1.0), ended(feet[1], -1.0)];
    points.retain(|point| {
        ends.iter()
            .all(|end| (*point - end.point).hypot() > SAME_POINT)
    });
    let mut knots = vec![ends[0]];
    knots.extend(points.into_iter().map(Knot::free));
    knots.push(ends[1]);
    let straight = knots.len() == 2 && feet.iter().all(|foot| matches!(foot, Foot::Edge(..)));
    let whole = if straight {
        Curve::line(knots[0].point, knots[1].point)
    } else {
        Curve::smooth(&knots)?
    };
    ((ends[0].point - ends[1].point).hypot() > 1.0).then(|| {
        let spans: Vec<Curve> = whole.segments().iter().map(one).collect();
        let direction = |index: usize| match index.checked_sub(1) {
            Some(before) => spans[before].end_direction(),
            None => spans[0].start_direction(),
        };
        let all = knots.iter().enumerate();
        Common {
            knots: all
                .map(|(index, knot)| (knot.point, direction(index)))
                .collect(),
            spans: spans.clone(),
        }
    })
}

fn one(segment: &PathSeg) -> Curve {
    let cubic = segment.to_cubic();
    match segment {
        PathSeg::Line(line) => Curve::line(line.p0, line.p1),
        _ => Curve::cubic(cubic.p0, cubic.p1, cubic.p2, cubic.p3),
    }
}

/// The knot at an end of the common line: a dart's point is passed along its middle line, so that both legs bend alike.
fn ended(foot: Foot, sign: f64) -> Knot {
    match foot {
        Foot::Edge(point, inward) => Knot {
            point,
            direction: inward.map(|way| way * sign),
        },
        Foot::Dart(legs) => Knot::toward(legs.point, axis(&legs) * sign),
    }
}

fn bowed(feet: [Foot; 2], bow: f64) -> Option<Point> {
    let [from, to] = feet.map(|foot| match foot {
        Foot::Edge(point, _) => point,
        Foot::Dart(legs) => legs.point,
    });
    let way = to - from;
    let right = Vec2::new(-way.y, way.x) / way.hypot();
    (way.hypot() > 1.0).then(|| from.midpoint(to) + right * bow)
}

fn turned((point, way): (Point, Vec2)) -> (Point, Vec2) {
    (point, -way)
}

/// From the mouth before and the mouth after a dart to its point: straight along the leg, then round into the line.
fn lead(foot: Foot, (to, way): (Point, Vec2)) -> [Option<Curve>; 2] {
    let Foot::Dart(legs) = foot else {
        return [None, None];
    };
    let reach = rounding(&legs);
    [legs.before, legs.after].map(|mouth| {
        let near = apex::near(to, mouth, reach);
        let knots = [Knot::toward(near, to - mouth), Knot::toward(to, way)];
        let round = Curve::smooth(&knots).unwrap_or_else(|| Curve::line(near, to));
        let straight = (near - mouth).hypot() > SAME_POINT;
        Some(if straight {
            joined(&Curve::line(mouth, near), &round)
        } else {
            round
        })
    })
}

/// How far from a dart's point its legs are left, mm: the narrower the dart, the longer and softer is the bend.
fn rounding(legs: &Legs) -> f64 {
    /// Nowhere is a leg left by more than this, mm: what pressing takes up. Common practice, no source.
    const LEAVES: f64 = 2.0;
    // A cubic that starts along its chord and ends at an angle to it leaves the chord by 4/27 of its length times the tangent.
    let half = Angle::from_radians(legs.angle().radians() / 2.0);
    LEAVES * 27.0 / 4.0 * half.cos() / half.sin().max(1e-6)
}

/// Lengths from the beginning to the common points that are not ends of the line.
fn lengths(common: &Common, begin: Option<&Curve>, end: Option<&Curve>) -> Vec<f64> {
    let mut along = begin.map_or(0.0, Curve::length);
    let mut all = vec![along];
    for span in &common.spans {
        along += span.length();
        all.push(along);
    }
    let from = usize::from(begin.is_none());
    let to = all.len() - usize::from(end.is_none());
    all.get(from..to).map_or_else(Vec::new, <[f64]>::to_vec)
}

fn no_length(piece: &Piece) -> Finding {
    Finding::error(
        "line-has-no-length",
        format!(
            "no line can be drawn across the {} so",
            piece.title().to_lowercase()
        ),
    )
    .at(document::Place::Piece(piece.name.clone()))
    .cure("let it begin and end at two different places, and name the points between in order")
}
