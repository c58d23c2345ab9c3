//! Volume for the bust in a seam that runs over it: the side part bows out, the centre part becomes as long.
//!
//! Invariants: both sides of the seam keep the difference that they had; the waist, the armhole and the side stay bit for bit.

use document::{Finding, Place as Spot};
use geometry::curve::contains;
use geometry::{Curve, Tolerance, Vec2};

use super::bend;
use super::find;
use super::frame::{Frame, middle_of};
use super::shift_edge::reach_lines;
use super::slash::{self, Slash};
use super::true_up::{Keep, true_all};
use crate::piece::{Edge, Piece};
use crate::seam::{Pattern, Stretch};

/// A pattern whose seam took the volume.
#[derive(Clone, Debug)]
pub struct Given {
    /// The pattern.
    pub pattern: Pattern,
    /// Name of the seam.
    pub seam: String,
    /// By how much the seam became longer, mm.
    pub longer: f64,
    /// Edges as they are now, each with its piece.
    pub runs: Vec<(String, Curve)>,
}

/// Where one side of the seam lies.
#[derive(Clone, Copy)]
struct Seat {
    piece: usize,
    edge: usize,
}

/// Gives a seam over the bust so much width in each half.
pub fn give(pattern: &Pattern, name: &str, by: f64) -> Result<Given, Finding> {
    let seam = find::seam(pattern, name)?;
    let sides = [seat(pattern, &seam.held)?, seat(pattern, &seam.worked)?];
    let [centre, side] = ordered(pattern, sides);
    let mut changed = pattern.clone();
    let longer = bow_out(&mut changed.pieces[side.piece], side.edge, by)
        .ok_or_else(|| not_over_bust(&pattern.pieces[side.piece], name))?;
    let_in(&mut changed.pieces[centre.piece], centre.edge, longer, name)?;
    let runs = [centre, side].into_iter().flat_map(|seat| {
        let piece = &changed.pieces[seat.piece];
        let runs = piece.edges[seat.edge].runs.iter();
        runs.map(|run| (piece.name.clone(), run.clone()))
            .collect::<Vec<_>>()
    });
    Ok(Given {
        runs: runs.collect(),
        seam: name.into(),
        longer,
        pattern: changed,
    })
}

fn seat(pattern: &Pattern, side: &[Stretch]) -> Result<Seat, Finding> {
    let edges: Vec<_> = side
        .iter()
        .flat_map(|stretch| pattern.edges_of(stretch))
        .collect();
    let found = match edges[..] {
        [(piece, edge)] => {
            let at = pattern
                .pieces
                .iter()
                .position(|other| other.name == piece.name);
            at.zip(piece.edge_index(&edge.name))
        }
        _ => None,
    };
    found
        .map(|(piece, edge)| Seat { piece, edge })
        .ok_or_else(|| {
            Finding::error(
                "seam-of-several-edges",
                "a side of the seam is not one whole edge",
            )
            .cure("give the bust its volume before the seam is cut across")
        })
}

/// The part that holds the centre, and the other.
fn ordered(pattern: &Pattern, [one, other]: [Seat; 2]) -> [Seat; 2] {
    let holds = |seat: Seat| super::frame::centre(&pattern.pieces[seat.piece]).is_some();
    if holds(other) && !holds(one) {
        [other, one]
    } else {
        [one, other]
    }
}

/// Bows the seam of the side part out at the bust line; by how much it became longer, mm.
fn bow_out(piece: &mut Piece, edge: usize, by: f64) -> Option<f64> {
    let frame = Frame::of(piece);
    let along = bust_along(piece, edge, frame)?;
    let inwards = (middle_of(piece) - piece.edges[edge].place_at(along).0).dot(frame.out);
    let outwards = frame.out * -inwards.signum();
    let before = piece.clone();
    let old = &before.edges[edge];
    bend::bow_edge(piece, edge, outwards * by, along).then_some(())?;
    reach_lines(piece, edge, &old.runs);
    keep_outside(piece, &before);
    Some(piece.edges[edge].length() - old.length())
}

/// What of a line lay outside of the piece, as over a dart that was absorbed, stays as it was.
fn keep_outside(piece: &mut Piece, before: &Piece) {
    let outline = before.outline_path();
    for (line, old) in piece.lines.iter_mut().zip(&before.lines) {
        for (run, old) in line.runs.iter_mut().zip(&old.runs) {
            if !contains(&outline, old.point_at(old.length() / 2.0)) {
                run.clone_from(old);
            }
        }
    }
}

/// Length along an edge at which the bust line meets it.
fn bust_along(piece: &Piece, edge: usize, frame: Frame) -> Option<f64> {
    let line = piece.line("bust")?;
    let ends = line.runs.iter().flat_map(|run| [run.start(), run.end()]);
    let near = ends.min_by(|a, b| {
        distance(&piece.edges[edge], *a).total_cmp(&distance(&piece.edges[edge], *b))
    })?;
    let mut before = 0.0;
    for run in &piece.edges[edge].runs {
        let crossings = run.crossings_with_line(near, frame.out, Tolerance::PATTERN);
        if let Some(crossing) = crossings.first() {
            return Some(before + crossing.along);
        }
        before += run.length();
    }
    None
}

fn distance(edge: &Edge, point: geometry::Point) -> f64 {
    let runs = edge.runs.iter().map(|run| run.nearest(point).distance);
    runs.fold(f64::INFINITY, f64::min)
}

/// Makes the centre part longer at the bust line, over its whole width.
fn let_in(piece: &mut Piece, edge: usize, longer: f64, seam: &str) -> Result<(), Finding> {
    let frame = Frame::of(piece);
    let along = bust_along(piece, edge, frame).ok_or_else(|| not_over_bust(piece, seam))?;
    let level: Vec2 = frame.out;
    // A hair above the line, so that the line itself stays whole below it.
    let through = piece.edges[edge].place_at(along).0 - frame.down * 0.5;
    let [from, to] = slash::across(piece, through, level)?;
    let slash = Slash {
        from,
        to,
        opens: longer,
        opens_at_end: longer,
    };
    let before: Vec<(String, f64)> = piece
        .edges
        .iter()
        .map(|edge| (edge.name.clone(), edge.length()))
        .collect();
    let spread = slash::spread(piece, &[slash])?;
    true_all(piece, &spread.joints, |name, length| {
        let old = before.iter().find(|(other, _)| other == name);
        Keep::Length(old.map_or(length, |(_, old)| old + longer))
    });
    Ok(())
}

fn not_over_bust(piece: &Piece, seam: &str) -> Finding {
    Finding::error(
        "seam-not-over-bust",
        format!(
            "the {seam} seam does not meet the bust line of the {}",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("name the seam that runs over the bust")
}
