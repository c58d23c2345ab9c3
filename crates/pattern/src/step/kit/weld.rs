//! Two pieces as one: laid on each other along an edge of each, which is gone; the opposite of dividing.
//!
//! Parts of one edge that meet are that edge again. Where the two edges part before their ends, as where a dart was absorbed,
//! the gap becomes a dart. Knows nothing of seams. Invariants: nothing of the first piece moves; lengths of all other edges stay.

use document::{Finding, Place as Spot};
use geometry::{Curve, Point, curve::angle_between};

use super::divide;
use super::fill::{joined, sort_darts};
use super::place::SAME_POINT;
use crate::name::{Part, free_name, root};
use crate::piece::{Dart, Edge, InnerLine, Laid, Mark, Piece, Pressed};

/// Edges that are nowhere farther apart than this, mm, are alike: less than scissors can tell.
const ALIKE: f64 = 0.5;
/// Where edges are farther apart than this, mm, a dart has begun.
const PARTED: f64 = 0.02;

/// One of two pieces that are joined: the piece where it lies, the number of its edge.
#[derive(Clone, Copy, Debug)]
pub struct Half<'a> {
    /// The piece.
    pub piece: &'a Piece,
    /// Number of the edge that goes.
    pub edge: usize,
}

/// Pieces that became one.
#[derive(Clone, Debug)]
pub struct Welded {
    /// The piece.
    pub piece: Piece,
    /// What the edges of the first piece and of the second are called now: old name, new name.
    pub names: [Vec<(String, String)>; 2],
    /// Darts that the edges left.
    pub darts: Vec<String>,
}

/// Where two edges lie on each other: lengths along the first, from its last corner to its first.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Contact {
    from: f64,
    to: f64,
    length: f64,
}

/// Joins two pieces under a name; darts that the edges leave are called after the seam.
pub fn weld(first: Half<'_>, second: Half<'_>, name: &str, seam: &str) -> Result<Welded, Finding> {
    let contact = contact(first, second)?;
    let [edges, others] = [first, second].map(|half| around(half.piece, half.edge));
    let mut piece = Piece {
        name: name.into(),
        edges: Vec::new(),
        ..first.piece.clone()
    };
    let mut names = [Vec::new(), Vec::new()];
    add_second(&mut piece, first, second);
    take_edges(&mut piece, &mut names, [edges, others], [first, second]);
    // The edges of the first piece end where its edge began: there the second's edges follow.
    let count = names[0].len();
    let line = walk(first);
    let mut darts = Vec::new();
    for (along, open) in [
        (contact.to, contact.length - contact.to),
        (contact.from, contact.from),
    ] {
        let index = if darts.is_empty() {
            count - 1
        } else {
            piece.edges.len() - 1
        };
        let point = (open > SAME_POINT).then(|| line.point_at(along));
        darts.push(close(&mut piece, &mut names, index, point, seam)?);
    }
    let darts = darts.into_iter().flatten().collect();
    piece.lines = lines(first.piece, second.piece);
    piece.cut.laid = laid(first.piece, second.piece, &names)?;
    piece.cut.count = if matches!(second.piece.cut.laid, Laid::OnFold(_)) {
        second.piece.cut.count
    } else {
        piece.cut.count
    };
    sort_darts(&mut piece);
    Ok(Welded {
        piece,
        names,
        darts,
    })
}

/// The first edge as the second runs beside it: from its last corner to its first.
fn walk(first: Half<'_>) -> Curve {
    first.piece.edges[first.edge].runs[0].reversed()
}

fn contact(first: Half<'_>, second: Half<'_>) -> Result<Contact, Finding> {
    const SAMPLES: u32 = 200;
    let (one, other) = (walk(first), &second.piece.edges[second.edge].runs[0]);
    let (length, other_length) = (one.length(), other.length());
    let apart =
        |along: f64| (one.point_at(along) - other.point_at(along * other_length / length)).hypot();
    let place = |step: u32| length * f64::from(step) / f64::from(SAMPLES);
    let known: Vec<f64> = (0..=SAMPLES).map(|step| apart(place(step))).collect();
    let most = known.iter().copied().fold(0.0, f64::max);
    if most <= ALIKE {
        return Ok(Contact {
            from: 0.0,
            to: length,
            length,
        });
    }
    let touching = |step: &u32| known[*step as usize] <= PARTED;
    let (first_step, last_step) = (
        (0..=SAMPLES).find(touching),
        (0..=SAMPLES).rev().find(touching),
    );
    let (Some(from), Some(to)) = (first_step, last_step) else {
        return Err(unlike(first, second, most));
    };
    if (from..=to).any(|step| known[step as usize] > ALIKE) {
        return Err(unlike(first, second, most));
    }
    let edge = |inside: u32, outside: u32| {
        let (mut near, mut far) = (place(inside), place(outside));
        while (far - near).abs() > 1e-6 {
            let middle = f64::midpoint(near, far);
            if apart(middle) <= PARTED {
                near = middle;
            } else {
                far = middle;
            }
        }
        near
    };
    Ok(Contact {
        from: if from == 0 { 0.0 } else { edge(from, from - 1) },
        to: if to == SAMPLES {
            length
        } else {
            edge(to, to + 1)
        },
        length,
    })
}

/// The edges of a piece after one of them, all round, without it.
fn around(piece: &Piece, edge: usize) -> Vec<Edge> {
    let count = piece.edges.len();
    (1..count)
        .map(|step| piece.edges[(edge + step) % count].clone())
        .collect()
}

/// Adds what lies in the second piece; names that are taken get the piece's own before them.
fn add_second(piece: &mut Piece, first: Half<'_>, second: Half<'_>) {
    let gone = [first, second].map(|half| half.piece.edges[half.edge].name.clone());
    piece
        .marks
        .retain(|mark| !matches!(mark, Mark::Notch { edge, .. } if *edge == gone[0]));
    for mark in &second.piece.marks {
        let same = |other: &Mark| match (mark, other) {
            (
                Mark::Point { name, at },
                Mark::Point {
                    name: known,
                    at: there,
                },
            ) => name == known && (*at - *there).hypot() < SAME_POINT,
            _ => false,
        };
        if let Mark::Point { .. } = mark
            && !piece.marks.iter().any(same)
        {
            piece.marks.push(mark.clone());
        }
    }
}

/// Gives the joined piece the edges of both, in order, with their darts and notches.
fn take_edges(
    piece: &mut Piece,
    names: &mut [Vec<(String, String)>; 2],
    edges: [Vec<Edge>; 2],
    halves: [Half<'_>; 2],
) {
    for (which, own) in edges.into_iter().enumerate() {
        let from = halves[which].piece;
        for edge in own {
            let taken = piece.edges.iter().map(|edge| edge.name.as_str());
            let mine = edges_left(halves[0]);
            let name = if which == 0 || !mine.contains(&edge.name.as_str()) {
                edge.name.clone()
            } else {
                free_name(&format!("{}-{}", root(&from.name), edge.name), taken)
            };
            names[which].push((edge.name.clone(), name.clone()));
            if which == 1 {
                take_second(piece, from, &edge.name, &name);
            }
            piece.edges.push(Edge { name, ..edge });
        }
    }
    let peaked = |which: usize| {
        names[which]
            .iter()
            .filter(move |(old, _)| halves[which].piece.peaked.contains(old))
    };
    piece.peaked = peaked(0)
        .chain(peaked(1))
        .map(|(_, new)| new.clone())
        .collect();
}

fn edges_left(half: Half<'_>) -> Vec<&str> {
    let edges = half.piece.edges.iter().enumerate();
    edges
        .filter(|(index, _)| *index != half.edge)
        .map(|(_, edge)| edge.name.as_str())
        .collect()
}

fn take_second(piece: &mut Piece, from: &Piece, old: &str, new: &str) {
    for mark in &from.marks {
        if let Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } = mark
            && edge == old
        {
            piece.marks.push(Mark::Notch {
                name: name.clone(),
                edge: new.into(),
                along: *along,
                strokes: *strokes,
            });
        }
    }
    for dart in from.darts_on(old) {
        let taken: Vec<String> = piece.darts.iter().map(|dart| dart.name.clone()).collect();
        let name = if taken.contains(&dart.name) {
            let wanted = format!("{}-{}", root(&from.name), dart.name);
            free_name(&wanted, taken.iter().map(String::as_str))
        } else {
            dart.name.clone()
        };
        piece.darts.push(Dart {
            name,
            edge: new.into(),
            ..dart.clone()
        });
    }
}

/// Closes the outline between an edge and the next: parts of one edge become one, a gap becomes a dart.
fn close(
    piece: &mut Piece,
    names: &mut [Vec<(String, String)>; 2],
    index: usize,
    point: Option<Point>,
    seam: &str,
) -> Result<Option<String>, Finding> {
    let next = (index + 1) % piece.edges.len();
    let Some(whole) = whole_name(piece, index, next) else {
        if point.is_some() {
            return Err(no_dart_between(piece, index, next));
        }
        let end = piece.edges[index].end();
        let run = &mut piece.edges[next].runs[0];
        *run = run.with_ends(end, run.end());
        let kinds = [index, next].map(|index| piece.edges[index].kind);
        piece.edges[index].corner = divide::corner(kinds[0], kinds[1]);
        return Ok(None);
    };
    let before = piece.edges[index].clone();
    let after = piece.edges[next].clone();
    // Two runs that meet become one; over a gap they stay two.
    let runs = before.runs.len() - usize::from(point.is_none());
    rename(piece, names, ([&before, &after], runs), &whole);
    let dart = point.map(|point| dart(piece, &whole, (before.runs.len() - 1, point), seam));
    let mut runs = before.runs.clone();
    if let Some(dart) = dart {
        runs.extend(after.runs.clone());
        turned_outward(piece, &dart, &runs)?;
        piece.darts.push(dart);
    } else {
        let last = runs.len() - 1;
        runs[last] = joined(&runs[last], &after.runs[0]);
        runs.extend(after.runs[1..].iter().cloned());
    }
    let left = piece
        .darts
        .last()
        .filter(|_| point.is_some())
        .map(|dart| dart.name.clone());
    piece.edges[index] = Edge {
        name: whole,
        runs,
        part: Part {
            from: before.part.from,
            to: after.part.to,
        },
        corner: after.corner,
        ..before
    };
    piece.edges.remove(next);
    Ok(left)
}

/// What two edges that follow each other are called as one; `None` where they are not parts of one edge.
fn whole_name(piece: &Piece, index: usize, next: usize) -> Option<String> {
    let (before, after) = (&piece.edges[index], &piece.edges[next]);
    let (parent, _) = before.name.rsplit_once('/')?;
    let (other, _) = after.name.rsplit_once('/')?;
    let follows = (before.part.to - after.part.from).abs() < 1e-9;
    (parent == other && follows && index != next).then(|| parent.to_string())
}

/// Brings names, darts and notches of two edges over to the whole.
fn rename(
    piece: &mut Piece,
    names: &mut [Vec<(String, String)>; 2],
    (edges, gaps): ([&Edge; 2], usize),
    whole: &str,
) {
    let [before, after] = edges;
    for (_, new) in names.iter_mut().flatten() {
        if *new == before.name || *new == after.name {
            *new = whole.into();
        }
    }
    let shift = before.length();
    for dart in &mut piece.darts {
        if dart.edge == after.name {
            dart.gap += gaps;
            dart.edge = whole.into();
        } else if dart.edge == before.name {
            dart.edge = whole.into();
        }
    }
    for mark in &mut piece.marks {
        if let Mark::Notch { edge, along, .. } = mark {
            if *edge == after.name {
                *along += shift;
                *edge = whole.into();
            } else if *edge == before.name {
                *edge = whole.into();
            }
        }
    }
    for name in &mut piece.peaked {
        if *name == before.name || *name == after.name {
            *name = whole.into();
        }
    }
    piece.peaked.dedup();
}

fn dart(piece: &Piece, edge: &str, (gap, point): (usize, Point), seam: &str) -> Dart {
    let taken = piece.darts.iter().map(|dart| dart.name.as_str());
    Dart {
        name: free_name(&format!("{seam}-dart"), taken),
        edge: edge.into(),
        gap,
        point,
        aim: point,
        pressed: Pressed::After,
    }
}

/// A dart takes cloth away; edges that overlap would need more.
fn turned_outward(piece: &Piece, dart: &Dart, runs: &[Curve]) -> Result<(), Finding> {
    let (before, after) = (runs[dart.gap].end(), runs[dart.gap + 1].start());
    let turn = angle_between(before - dart.point, after - dart.point);
    if turn.radians() > 0.0 {
        return Ok(());
    }
    Err(Finding::error(
        "pieces-overlap",
        format!("the two edges would overlap at the {}", dart.edge),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("leave the seam there, or straighten one of its edges first"))
}

/// The lines of both; those of one name that meet are one.
fn lines(first: &Piece, second: &Piece) -> Vec<InnerLine> {
    let mut lines = first.lines.clone();
    for line in &second.lines {
        match lines.iter_mut().find(|known| known.name == line.name) {
            Some(known) => *known = one_line(known, line),
            None => lines.push(line.clone()),
        }
    }
    lines
}

fn one_line(one: &InnerLine, other: &InnerLine) -> InnerLine {
    let turned = InnerLine {
        runs: other.runs.iter().rev().map(Curve::reversed).collect(),
        ..other.clone()
    };
    let pairs = [(one, other), (one, &turned), (other, one), (&turned, one)];
    let gap = |(a, b): &(&InnerLine, &InnerLine)| match (a.runs.last(), b.runs.first()) {
        (Some(a), Some(b)) => (a.end() - b.start()).hypot(),
        _ => 0.0,
    };
    let best = pairs.into_iter().min_by(|a, b| gap(a).total_cmp(&gap(b)));
    let runs = best.map_or_else(Vec::new, |(a, b)| {
        a.runs.iter().chain(&b.runs).cloned().collect()
    });
    super::inner::rejoined(&InnerLine {
        name: one.name.clone(),
        runs,
    })
}

/// How the joined piece is laid; `names` are the new names of its edges.
fn laid(
    first: &Piece,
    second: &Piece,
    names: &[Vec<(String, String)>; 2],
) -> Result<Laid, Finding> {
    let new = |which: usize, fold: &str| {
        let found = names[which].iter().find(|(old, _)| old == fold);
        Laid::OnFold(found.map_or(fold, |(_, new)| new).into())
    };
    match (&first.cut.laid, &second.cut.laid) {
        (Laid::OnFold(_), Laid::OnFold(_)) if two_folds(names, first, second) => {
            Err(both_folded(first, second))
        }
        (Laid::OnFold(fold), _) => Ok(new(0, fold)),
        (_, Laid::OnFold(fold)) => Ok(new(1, fold)),
        (laid, _) => Ok(laid.clone()),
    }
}

/// Whether two folds are two edges of the joined piece.
fn two_folds(names: &[Vec<(String, String)>; 2], first: &Piece, second: &Piece) -> bool {
    let new = |which: usize, piece: &Piece| match &piece.cut.laid {
        Laid::OnFold(fold) => names[which]
            .iter()
            .find(|(old, _)| old == fold)
            .map(|(_, new)| new.clone()),
        _ => None,
    };
    new(0, first) != new(1, second)
}

fn unlike(first: Half<'_>, second: Half<'_>, apart: f64) -> Finding {
    let [one, other] =
        [first, second].map(|half| (&half.piece.name, &half.piece.edges[half.edge].name));
    Finding::error(
        "edges-unlike",
        format!(
            "the {} of the {} and the {} of the {} have different shapes: laid on each other they are {apart:.1} mm apart",
            one.1, one.0, other.1, other.0
        ),
    )
    .at(Spot::Piece(one.0.clone()))
    .at(Spot::Piece(other.0.clone()))
    .allowed(format!("edges that are nowhere more than {ALIKE} mm apart, or that lie on each other but for their ends"))
    .cure("straighten both edges first (redraw), or keep the seam")
}

fn no_dart_between(piece: &Piece, index: usize, next: usize) -> Finding {
    let [before, after] = [index, next].map(|index| &piece.edges[index].name);
    Finding::error(
        "gap-between-edges",
        format!("the edges would leave a gap between the {before} and the {after}, which no dart can hold"),
    )
    .at(Spot::Piece(piece.name.clone()))
    .because("a dart opens inside one edge")
    .cure("straighten both edges first (redraw), or keep the seam")
}

fn both_folded(first: &Piece, second: &Piece) -> Finding {
    Finding::error(
        "two-folds",
        format!(
            "the {} and the {} both lie on a fold",
            first.name, second.name
        ),
    )
    .at(Spot::Piece(first.name.clone()))
    .at(Spot::Piece(second.name.clone()))
    .because("one piece of cloth cannot lie on two folds")
    .cure("let one of them open at the centre")
}
