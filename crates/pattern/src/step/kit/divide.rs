//! Dividing a piece along a line into two that are sewn together again.
//!
//! The line may begin and end at places on the outline or at darts, which it then absorbs: each side gets one leg. The parts
//! are named after the piece, the parts of edges that are cut after the parts of the piece. Invariants: seams, notches,
//! darts, points and lines are found on the parts; the two new edges have one length unless a dart's legs differ.

use document::{Finding, Place as Spot};
use geometry::allowance::{Corner, Which};
use geometry::{Curve, Point};

use super::fill::joined;
use super::find::at_edge;
use super::gap::{self, Gap};
use super::inner;
use super::part::Part;
use crate::name::{self, Part as Share};
use crate::piece::{Cut, Dart, Edge, EdgeKind, Laid, Mark, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

/// Where a dividing line begins or ends.
#[derive(Clone, Debug, PartialEq)]
pub enum End {
    /// At a place on an edge: its number and the length as sewn along it.
    Edge(usize, f64),
    /// At the point of a dart, which is absorbed.
    Dart(String),
}

/// How a piece is divided.
#[derive(Clone, Debug, PartialEq)]
pub struct Division {
    /// Number of the piece.
    pub piece: usize,
    /// Where the line begins.
    pub from: End,
    /// Where it ends.
    pub to: End,
    /// The line, from where it begins to where it ends; its ends are put on them exactly.
    pub line: Curve,
    /// Words for the part that lies clockwise after the beginning, and for the other: `side` and `centre`.
    pub words: [String; 2],
    /// Name of the new edges and of the seam.
    pub seam: String,
}

/// The cut line as each part will have it: along the first part, from its last corner to its first, and along the second.
struct Sides {
    first: Curve,
    second: Curve,
}

/// Divides a piece; the two parts take its place in the pattern. Returns their numbers.
pub fn divide(pattern: &mut Pattern, division: &Division) -> Result<[usize; 2], Finding> {
    let mut whole = pattern.pieces[division.piece].clone();
    let lengths: Vec<f64> = whole.edges.iter().map(Edge::length).collect();
    let mut held = Vec::new();
    let from = open(&mut whole, &division.from, &mut held)?;
    held.push(from);
    let to = open(&mut whole, &division.to, &mut held)?;
    let from = held[0];
    if from == to {
        return Err(no_line(&whole));
    }
    let sides = sides(&whole, division, from, to);
    let smooth = [from, to].map(|gap| !gap.is_corner(&whole));
    let first = part(&whole, division, &lengths, (from, to), &sides.first, 0);
    let second = part(&whole, division, &lengths, (to, from), &sides.second, 1);
    for (part, other) in [(&first, &second), (&second, &first)] {
        whole_darts(&whole, part, other, division)?;
    }
    let seam = seam(pattern, division, [&first.name, &second.name], smooth);
    pattern
        .pieces
        .splice(division.piece..=division.piece, [first, second]);
    pattern.seams.push(seam);
    Ok([division.piece, division.piece + 1])
}

fn open(piece: &mut Piece, end: &End, held: &mut [Gap]) -> Result<Gap, Finding> {
    match end {
        End::Edge(edge, along) if *edge < piece.edges.len() => {
            gap::open(piece, *edge, *along, held)
        }
        End::Edge(..) => Err(no_line(piece)),
        End::Dart(dart) => Gap::of_dart(piece, dart).ok_or_else(|| no_line(piece)),
    }
}

fn sides(piece: &Piece, division: &Division, from: Gap, to: Gap) -> Sides {
    let point = |end: &End| match end {
        End::Dart(name) => piece.dart(name).map(|dart| dart.point),
        End::Edge(..) => None,
    };
    let (begin, end) = (point(&division.from), point(&division.to));
    let along = |start: Point, stop: Point| {
        let line = division
            .line
            .with_ends(begin.unwrap_or(start), end.unwrap_or(stop));
        let line = begin.map_or(line.clone(), |point| {
            joined(&Curve::line(start, point), &line)
        });
        end.map_or(line.clone(), |point| {
            joined(&line, &Curve::line(point, stop))
        })
    };
    Sides {
        first: along(from.after(piece), to.before(piece)).reversed(),
        second: along(from.before(piece), to.after(piece)),
    }
}

/// One part as a piece of its own.
fn part(
    whole: &Piece,
    division: &Division,
    lengths: &[f64],
    (from, to): (Gap, Gap),
    side: &Curve,
    which: usize,
) -> Piece {
    let word = &division.words[which];
    let region = Part::between(whole, from, to, vec![side.clone()]);
    let mut piece = Piece {
        name: name::part_of(&whole.name, word),
        edges: Vec::new(),
        darts: Vec::new(),
        marks: Vec::new(),
        lines: inner::inside(whole, region.path()),
        ..whole.clone()
    };
    for stretch in stretches(&region.runs) {
        take_edge(&mut piece, whole, lengths, stretch, word);
    }
    let seam = new_edge(whole, &piece, &division.seam, side);
    piece.edges.push(seam);
    corners(&mut piece);
    piece
        .marks
        .extend(whole.marks.iter().filter_map(|mark| match mark {
            Mark::Point { at, .. } if region.holds(*at) || on_line(side, *at) => Some(mark.clone()),
            _ => None,
        }));
    piece.cut = cut(whole, &piece);
    piece
}

/// The runs of a part by edges: number of the edge, first and last run.
fn stretches(runs: &[Gap]) -> Vec<(usize, usize, usize)> {
    let mut found: Vec<(usize, usize, usize)> = Vec::new();
    for run in runs {
        match found.last_mut() {
            Some(last) if last.0 == run.edge && last.2 + 1 == run.run => last.2 = run.run,
            _ => found.push((run.edge, run.run, run.run)),
        }
    }
    found
}

/// Gives a part the stretch of an edge, with the darts and notches on it.
fn take_edge(
    piece: &mut Piece,
    whole: &Piece,
    lengths: &[f64],
    (index, first, last): (usize, usize, usize),
    word: &str,
) {
    let edge = &whole.edges[index];
    let before: f64 = edge.runs[..first].iter().map(Curve::length).sum();
    let own: f64 = edge.runs[first..=last].iter().map(Curve::length).sum();
    let is_whole = first == 0 && last + 1 == edge.runs.len();
    let taken = piece.edges.iter().map(|edge| edge.name.as_str());
    let name = if is_whole {
        edge.name.clone()
    } else {
        name::free_name(&name::part_of(&edge.name, word), taken)
    };
    let share = |along: f64| edge.part.cut_at(along / lengths[index].max(1e-9))[0].to;
    let part = if is_whole {
        edge.part
    } else {
        Share {
            from: share(before),
            to: share(before + own),
        }
    };
    piece.edges.push(Edge {
        name: name.clone(),
        runs: edge.runs[first..=last].to_vec(),
        part,
        ..edge.clone()
    });
    piece.darts.extend(
        whole
            .darts_on(&edge.name)
            .filter(|dart| dart.gap >= first && dart.gap < last)
            .map(|dart| Dart {
                edge: name.clone(),
                gap: dart.gap - first,
                ..dart.clone()
            }),
    );
    take_notches(
        piece,
        whole,
        &edge.name,
        &name,
        (before, own, last + 1 == edge.runs.len()),
    );
}

fn take_notches(
    piece: &mut Piece,
    whole: &Piece,
    old: &str,
    new: &str,
    (before, own, is_last): (f64, f64, bool),
) {
    for mark in &whole.marks {
        if let Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } = mark
            && edge == old
            && *along >= before
            && (*along < before + own || is_last)
        {
            piece.marks.push(Mark::Notch {
                name: name.clone(),
                edge: new.into(),
                along: along - before,
                strokes: *strokes,
            });
        }
    }
}

fn new_edge(whole: &Piece, piece: &Piece, seam: &str, side: &Curve) -> Edge {
    let seams = whole
        .edges
        .iter()
        .filter(|edge| edge.kind == EdgeKind::Seam);
    let taken = piece.edges.iter().map(|edge| edge.name.as_str());
    Edge {
        allowance: seams.map(|edge| edge.allowance).fold(0.0, f64::max),
        ..Edge::new(name::free_name(seam, taken), EdgeKind::Seam, side.clone())
    }
}

/// The corners at both ends of the new edge, which is the last: a hem is folded back along its line, a fold is met square.
fn corners(piece: &mut Piece) {
    let count = piece.edges.len();
    for index in [count - 1, count.saturating_sub(2)] {
        let (this, next) = (
            piece.edges[index].kind,
            piece.edges[(index + 1) % count].kind,
        );
        piece.edges[index].corner = corner(this, next);
    }
}

/// How the allowances of two edges that follow each other usually meet.
pub fn corner(this: EdgeKind, next: EdgeKind) -> Corner {
    match (this, next) {
        (EdgeKind::Fold, _) => Corner::Squared(Which::Before),
        (_, EdgeKind::Fold) => Corner::Squared(Which::After),
        (EdgeKind::Hem, _) => Corner::Mirrored(Which::Before),
        (_, EdgeKind::Hem) => Corner::Mirrored(Which::After),
        _ => Corner::Mitre,
    }
}

/// A part without the fold is cut as a pair.
fn cut(whole: &Piece, piece: &Piece) -> Cut {
    let Laid::OnFold(fold) = &whole.cut.laid else {
        return whole.cut.clone();
    };
    let own = piece.edges_of(fold).next().map(|edge| edge.name.clone());
    match own {
        Some(fold) => Cut {
            laid: Laid::OnFold(fold),
            ..whole.cut.clone()
        },
        None => Cut {
            laid: Laid::Pair,
            count: whole.cut.count * 2,
            ..whole.cut.clone()
        },
    }
}

fn on_line(line: &Curve, point: Point) -> bool {
    line.nearest(point).distance < super::SAME_POINT
}

/// A dart must lie in one part, or be absorbed at an end of the line.
fn whole_darts(
    whole: &Piece,
    part: &Piece,
    other: &Piece,
    division: &Division,
) -> Result<(), Finding> {
    let path = geometry::curve::closed_path(part.edges.iter().flat_map(|edge| &edge.runs));
    let elsewhere = |dart: &&Dart| {
        let seam = other
            .edges
            .iter()
            .find(|edge| name::answers_to(&edge.name, &division.seam));
        let on_seam = seam.is_some_and(|edge| edge.runs.iter().any(|run| on_line(run, dart.point)));
        !on_seam && !geometry::curve::contains(&path, dart.point)
    };
    match part.darts.iter().find(elsewhere) {
        None => Ok(()),
        Some(dart) => Err(Finding::error(
            "line-crosses-dart",
            format!("the line would cut through the {}", dart.name),
        )
        .at(Spot::Edge {
            piece: whole.name.clone(),
            edge: name::root(&dart.edge).into(),
            at: Some((dart.point.x, dart.point.y)),
        })
        .cure("let the line end at the point of the dart, or transfer the dart first")),
    }
}

fn seam(pattern: &Pattern, division: &Division, parts: [&String; 2], smooth: [bool; 2]) -> Seam {
    let taken = pattern.seams.iter().map(|seam| seam.name.as_str());
    Seam {
        name: name::free_name(&division.seam, taken),
        held: vec![Stretch::backwards(parts[0], &division.seam)],
        worked: vec![Stretch::forwards(parts[1], &division.seam)],
        fullness: Fullness::None,
        runs_on: smooth,
    }
}

fn no_line(piece: &Piece) -> Finding {
    Finding::error(
        "line-does-not-divide",
        format!(
            "the line does not divide the {}",
            piece.title().to_lowercase()
        ),
    )
    .at(at_edge(piece, 0))
    .cure("let it begin and end at two different places of the outline")
}
