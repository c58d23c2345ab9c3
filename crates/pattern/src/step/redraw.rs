//! Draws an edge anew: a neckline, a waist, a hem, an armhole.
//!
//! **What it does.** Moves the corners of an edge along the edges beside it and draws it anew through points, in a shape. Across
//! a seam the joining piece's corner moves as well and its edge is drawn to it. Lines that the old edge gave a level stay inside.
//! **When it is used.** Necklines: round, V, square, boat; a waist with a peak at the centre, or straight; a shaped hem.
//! **Example.** `redraw edge="front.neckline" shape="v" ends="front.centre at 80 mm from neckline, front.shoulder at 20 mm from
//! neckline"`.
//! **What can go wrong.** A corner moves beyond its edge or a dart; a dart of the edge does not reach the new line.
//!
//! Invariants: the edge keeps its name, its darts their angles; its ends stay smooth over seams and square at the centre, or are
//! declared peaked; edges that do not touch it stay bit for bit.

use document::{Finding, Place as Spot};
use geometry::{Affine, Angle, Curve, Knot, Point, Vec2};

use super::arguments::{Arguments, Value};
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::closed::Closed;
use super::kit::corner::{self, Across, Tip, is_centre};
use super::kit::find::at_edge;
use super::kit::{levels, place, reshape, square_edge};
use crate::check::{SMOOTH_LIMIT, SQUARE_LIMIT};
use crate::piece::Piece;
use crate::seam::{Fullness, Pattern};

const SHAPES: &[&str] = &[
    "smooth", "round", "v", "peaked", "boat", "straight", "square",
];

pub(super) const STEP: StepKind = StepKind {
    name: "redraw",
    group: Group::Line,
    summary: "draws an edge anew, through points and in a shape",
    manual: include_str!("redraw.rs"),
    parameters: &[
        Parameter::needed("edge", Kind::Edge, "edge that is drawn anew"),
        Parameter::usually(
            "shape",
            Kind::Choice(SHAPES),
            Usual::Word("smooth"),
            "how it runs",
        ),
        Parameter::usually(
            "ends",
            Kind::Place,
            Usual::Nothing,
            "new places of its ends, on the edges beside it",
        )
        .many(),
        Parameter::usually(
            "start-by",
            Kind::Length(-1000.0, 1000.0),
            Usual::Length(0.0),
            "by how much the edge before it is prolonged; below zero: cut back",
        ),
        Parameter::usually(
            "end-by",
            Kind::Length(-1000.0, 1000.0),
            Usual::Length(0.0),
            "by how much the edge after it is prolonged; below zero: cut back",
        ),
        Parameter::usually(
            "through",
            Kind::Place,
            Usual::Nothing,
            "points through which it runs, in order",
        )
        .many(),
        Parameter::usually(
            "at",
            Kind::Number(0.0, 1.0),
            Usual::Nothing,
            "shares of the old edge, in order",
        )
        .many(),
        Parameter::usually(
            "out",
            Kind::Length(-1000.0, 1000.0),
            Usual::Nothing,
            "how far outside of the old edge it runs there; below zero: inside",
        )
        .many(),
        Parameter::usually(
            "across",
            Kind::Flag,
            Usual::Flag(true),
            "whether corners of the joining pieces move as well",
        ),
    ],
    amount: None,
    apply: redraw,
};

/// How an end of the new line meets the edge beside it.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Meets {
    /// At this interior angle.
    At(Angle),
    /// As it comes.
    Freely,
}

/// An edge that is drawn anew.
struct Sketch {
    tips: [Tip; 2],
    shape: String,
    points: Vec<Point>,
}

fn redraw(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (piece, edge) = arguments.edge(pattern, "edge")?;
    let tips = [false, true].map(|at_end| Tip {
        piece,
        edge,
        at_end,
    });
    let sketch = Sketch {
        tips,
        shape: arguments.word("shape")?.into(),
        points: points(pattern, arguments, (piece, edge))?,
    };
    let meets = tips.map(|tip| sketch.meets(pattern, tip));
    let mut changed = pattern.clone();
    let by = moves(pattern, arguments, tips)?;
    for (index, tip) in tips.into_iter().enumerate() {
        let name = if tip.at_end { "end-by" } else { "start-by" };
        let across = arguments
            .is_set("across")
            .then_some(meets[index] != Meets::Freely);
        move_corner(&mut changed, tip, by[index], across)
            .map_err(|finding| arguments.blame(name, finding))?;
    }
    draw(&mut changed, &sketch, meets).map_err(|finding| arguments.blame("edge", finding))?;
    declare(&mut changed, &sketch);
    reshape::clip(&mut changed.pieces[piece]);
    let lost = levels::keep(&mut changed, pattern, piece);
    Ok(Done {
        lines: traces(
            &changed,
            (piece, edge),
            &pattern.pieces[piece].edges[edge].name,
        ),
        words: words(pattern, &changed, &sketch, &lost),
        pattern: changed,
    })
}

/// Points through which the line runs: named ones, then those given beside the old edge.
fn points(
    pattern: &Pattern,
    arguments: &Arguments,
    (piece, edge): (usize, usize),
) -> Result<Vec<Point>, Finding> {
    let owner = &pattern.pieces[piece];
    let mut points = Vec::new();
    for place in arguments.spots("through") {
        let found =
            place::find(pattern, place).map_err(|finding| arguments.blame("through", finding))?;
        if found.piece != piece {
            return Err(arguments.blame("through", other_piece(owner)));
        }
        points.push(found.at);
    }
    let shares = arguments.all("at").filter_map(|value| match value {
        Value::Number(share) => Some(*share),
        _ => None,
    });
    let outs = arguments.all("out").filter_map(|value| match value {
        Value::Length(out) => Some(*out),
        _ => None,
    });
    let (shares, outs): (Vec<f64>, Vec<f64>) = (shares.collect(), outs.collect());
    if shares.len() != outs.len() {
        return Err(arguments.blame("at", not_paired(owner)));
    }
    let length = owner.edges[edge].length();
    for (share, out) in shares.into_iter().zip(outs) {
        let (at, way) = owner.edges[edge].place_at(length * share);
        points.push(at + Vec2::new(way.y, -way.x) * out);
    }
    Ok(points)
}

/// By how much the edges beside the edge change at its two corners.
fn moves(pattern: &Pattern, arguments: &Arguments, tips: [Tip; 2]) -> Result<[f64; 2], Finding> {
    let mut by = [arguments.mm("start-by")?, arguments.mm("end-by")?];
    let beside = tips.map(|tip| tip.neighbour(pattern));
    for seat in arguments.seats(pattern, "ends")? {
        let own = beside
            .iter()
            .position(|tip| (tip.piece, tip.edge) == (seat.piece, seat.edge));
        let piece = &pattern.pieces[tips[0].piece];
        let Some(index) = own else {
            return Err(arguments.blame("ends", not_beside(piece, tips[0].edge)));
        };
        let length = piece.edges[seat.edge].length();
        by[index] = if beside[index].at_end {
            seat.along - length
        } else {
            -seat.along
        };
    }
    Ok(by)
}

/// Moves a corner of an edge along the edge beside it; where they are to follow, smoothly or not, also the corners that lie on
/// it across seams.
fn move_corner(
    pattern: &mut Pattern,
    tip: Tip,
    by: f64,
    across: Option<bool>,
) -> Result<(), Finding> {
    if by == 0.0 {
        return Ok(());
    }
    let beside = tip.neighbour(pattern);
    let before = pattern.clone();
    let piece = &mut pattern.pieces[beside.piece];
    corner::move_end(piece, beside.edge, beside.at_end, by)?;
    let Some(smooth) = across else { return Ok(()) };
    for other in corner::across(&before, beside) {
        follow(pattern, &before, other, smooth)?;
    }
    Ok(())
}

/// Moves the corner of a joining piece by the share by which its seam has changed, and draws the edge that meets it there.
fn follow(
    pattern: &mut Pattern,
    before: &Pattern,
    other: Across,
    smooth: bool,
) -> Result<(), Finding> {
    let seam = &before.seams[other.seam];
    let (here, there) = if other.held {
        (&seam.held, &seam.worked)
    } else {
        (&seam.worked, &seam.held)
    };
    let grown = pattern.side_length(here) / before.side_length(here);
    // Sides without fullness differ by rounding at most, and keep it.
    let by = if seam.fullness == Fullness::None {
        pattern.side_length(here) - before.side_length(here)
    } else {
        before.side_length(there) * (grown - 1.0)
    };
    let meeting = other.tip.neighbour(before);
    let angle = meeting.angle(before);
    let piece = &mut pattern.pieces[other.tip.piece];
    corner::move_end(piece, other.tip.edge, other.tip.at_end, by)?;
    corner::draw_to(pattern, meeting, smooth.then_some(angle))?;
    if let Fullness::Eased(more) | Fullness::Pleated(more) = &mut pattern.seams[other.seam].fullness
    {
        *more *= grown;
    }
    Ok(())
}

impl Sketch {
    /// How the line meets the edge beside it at one of its ends.
    fn meets(&self, before: &Pattern, tip: Tip) -> Meets {
        let beside = tip.neighbour(before);
        let centre = is_centre(&before.pieces[beside.piece], beside.edge);
        match (self.shape.as_str(), centre) {
            ("straight", _) | ("v" | "peaked", true) | ("boat", false) => Meets::Freely,
            (_, true) => Meets::At(Angle::from_degrees(90.0)),
            _ => Meets::At(smooth_angle(before, tip)),
        }
    }
}

/// The angle with which an edge runs on over a seam, or that which it has where it need not.
fn smooth_angle(before: &Pattern, tip: Tip) -> Angle {
    let beside = tip.neighbour(before);
    match corner::running_on(before, beside) {
        Some(other) => Angle::from_degrees(180.0 - other.tip.angle(before).degrees()),
        None => tip.angle(before),
    }
}

fn draw(pattern: &mut Pattern, sketch: &Sketch, meets: [Meets; 2]) -> Result<(), Finding> {
    let [start, end] = sketch.tips;
    let beside = sketch.tips.map(|tip| tip.neighbour(pattern));
    let piece = &mut pattern.pieces[start.piece];
    if sketch.shape == "square" {
        let centre = beside.map(|tip| is_centre(piece, tip.edge));
        return square_edge::draw(piece, start.edge, centre[1] && !centre[0]);
    }
    let closed = Closed::of(piece, &piece.edges[start.edge]);
    let frames = [closed.moves[0], closed.moves[closed.moves.len() - 1]];
    let (before, after) = (&piece.edges[beside[0].edge], &piece.edges[beside[1].edge]);
    let corners = [frames[0] * before.end(), frames[1] * after.start()];
    let ways = [
        way(meets[0], frames[0], before.end_direction(), false),
        way(meets[1], frames[1], after.start_direction(), true),
    ];
    // Points that stand beyond a dart move with what lies there when the dart is closed.
    let points = sketch
        .points
        .iter()
        .map(|point| in_frame(&closed, piece, end.edge, *point));
    let knot = |index: usize| Knot {
        point: corners[index],
        direction: ways[index],
    };
    let mut knots = vec![knot(0)];
    knots.extend(points.map(Knot::free));
    knots.push(knot(1));
    let new = line(&knots, &sketch.shape, meets).ok_or_else(|| cannot(piece, start.edge))?;
    corner::put_closed(piece, start.edge, &closed, &new)
}

fn way(meets: Meets, frame: Affine, beside: Vec2, at_end: bool) -> Option<Vec2> {
    let Meets::At(angle) = meets else { return None };
    let beside = (frame * beside.to_point()) - (frame * Point::ORIGIN);
    Some(corner::direction(beside, at_end, angle))
}

/// A straight line, or a smooth one; at a peak it starts towards the next point.
fn line(knots: &[Knot], shape: &str, meets: [Meets; 2]) -> Option<Curve> {
    let last = knots.len() - 1;
    if knots.len() == 2 && meets == [Meets::Freely; 2] {
        return ((knots[1].point - knots[0].point).hypot() > 1e-6)
            .then(|| Curve::line(knots[0].point, knots[1].point));
    }
    let mut knots = knots.to_vec();
    if matches!(shape, "v" | "peaked") {
        for (index, next) in [(0, 1), (last, last - 1)] {
            if knots[index].direction.is_none() {
                let sign = if index == 0 { 1.0 } else { -1.0 };
                knots[index].direction = Some((knots[next].point - knots[index].point) * sign);
            }
        }
    }
    Curve::smooth(&knots)
}

/// A point as it lies with the darts of the edge closed: in the frame of the run to which it is nearest.
fn in_frame(closed: &Closed, piece: &Piece, edge: usize, point: Point) -> Point {
    let runs = piece.edges[edge]
        .runs
        .iter()
        .map(|run| run.nearest(point).distance);
    let nearest = runs.enumerate().min_by(|a, b| a.1.total_cmp(&b.1));
    nearest.map_or(point, |(run, _)| closed.moves[run] * point)
}

/// Ends that are no longer smooth or square are declared peaked, those that are again are not.
fn declare(pattern: &mut Pattern, sketch: &Sketch) {
    let [start, _] = sketch.tips;
    let root = pattern.pieces[start.piece].edges[start.edge].name.clone();
    let root = if sketch.shape == "square" {
        crate::name::root(&root).to_string()
    } else {
        root
    };
    let tips = ends_of(pattern, start.piece, &root);
    let mut peaked = false;
    for tip in tips {
        let beside = tip.neighbour(pattern);
        if is_centre(&pattern.pieces[beside.piece], beside.edge) {
            peaked |= (tip.angle(pattern).degrees() - 90.0).abs() > SQUARE_LIMIT;
        }
        for other in corner::across(pattern, beside) {
            let sum = tip.angle(pattern).degrees() + other.tip.angle(pattern).degrees();
            if (sum - 180.0).abs() > SMOOTH_LIMIT {
                pattern.seams[other.seam].runs_on[usize::from(other.last)] = false;
            }
        }
    }
    let piece = &mut pattern.pieces[start.piece];
    piece
        .peaked
        .retain(|name| !crate::name::answers_to(name, &root));
    if peaked {
        let names: Vec<String> = piece
            .edges_of(&root)
            .map(|edge| edge.name.clone())
            .collect();
        piece.peaked.extend(names);
    }
}

/// The two ends of an edge, or of the parts that it was drawn in.
fn ends_of(pattern: &Pattern, piece: usize, name: &str) -> Vec<Tip> {
    let owner = &pattern.pieces[piece];
    let parts: Vec<usize> = owner
        .edges_of(name)
        .filter_map(|edge| owner.edge_index(&edge.name))
        .collect();
    let ends = [(parts.first(), false), (parts.last(), true)];
    ends.into_iter()
        .filter_map(|(edge, at_end)| {
            Some(Tip {
                piece,
                edge: *edge?,
                at_end,
            })
        })
        .collect()
}

fn traces(pattern: &Pattern, (piece, edge): (usize, usize), name: &str) -> Vec<TraceLine> {
    let owner = &pattern.pieces[piece];
    let edges: Vec<_> = match owner.edges_of(name).collect::<Vec<_>>() {
        found if found.is_empty() => vec![&owner.edges[edge]],
        found => found,
    };
    let runs = edges.into_iter().flat_map(|edge| edge.runs.iter().cloned());
    runs.map(|run| TraceLine::new(&owner.name, Trace::Redrawn, run))
        .collect()
}

fn words(before: &Pattern, after: &Pattern, sketch: &Sketch, lost: &[String]) -> String {
    let [tip, _] = sketch.tips;
    let (old, new) = (&before.pieces[tip.piece], &after.pieces[tip.piece]);
    let name = &old.edges[tip.edge].name;
    let length = |piece: &Piece| piece.edges_of(name).map(crate::Edge::length).sum::<f64>();
    let levels = if lost.is_empty() {
        String::new()
    } else {
        format!(
            "; the {} is not compared with the body any more",
            lost.join(" and the ")
        )
    };
    format!(
        "redrew the {name} of the {} ({}): {:.0} mm before, {:.0} mm now{levels}",
        old.name,
        sketch.shape,
        length(old),
        length(new)
    )
}

fn other_piece(piece: &Piece) -> Finding {
    Finding::error(
        "place-on-other-piece",
        format!("the points must lie on the {}", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure(format!("choose points on the {}", piece.name))
}

fn not_paired(piece: &Piece) -> Finding {
    Finding::error(
        "points-not-paired",
        "every share of the old edge needs a distance out from it",
    )
    .at(Spot::Piece(piece.name.clone()))
    .allowed("as many values of out as of at")
    .cure("give both for every point")
}

fn not_beside(piece: &Piece, edge: usize) -> Finding {
    let count = piece.edges.len();
    let [before, after] =
        [(edge + count - 1) % count, (edge + 1) % count].map(|index| &piece.edges[index].name);
    Finding::error(
        "end-not-beside",
        "its ends can only move along the edges beside it",
    )
    .at(at_edge(piece, edge))
    .allowed(format!("a place on the {before} or on the {after}"))
    .cure("name one of these edges")
}

fn cannot(piece: &Piece, edge: usize) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "edge-cannot-be-drawn",
        format!("the {name} of the {} cannot be drawn so", piece.name),
    )
    .at(at_edge(piece, edge))
    .cure("choose points that follow each other along the edge")
}
