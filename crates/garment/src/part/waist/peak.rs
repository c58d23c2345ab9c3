//! Drawing the front waist down to a peak at CF.
//!
//! A point at a share t of the waist, from the side seam at 0 to CF at 1, moves out square to the waist by peak·t²: so the curve
//! leaves the side as it did and arrives at CF off the square. Darts and seams that end at the waist are prolonged to it.
//! Invariants: legs of darts stay alike, both sides of a seam grow alike.

use geometry::{Affine, Curve, Knot, Point, Tolerance, Vec2};
use pattern::step::kit::closed::Closed;
use pattern::step::kit::fill::joined;
use pattern::step::kit::notches;
use pattern::{Pattern, Piece};

use super::front_waist;

/// The curve of each piece is drawn through so many points.
const KNOTS: usize = 8;

/// Lowers the waist of the front by a peak, mm. `None` where it has no shape.
pub(super) fn lower(pattern: &mut Pattern, peak: f64) -> Option<()> {
    let parts = front_waist(pattern);
    let length = |&(piece, edge): &(usize, usize)| pattern.pieces[piece].edges[edge].length();
    let whole: f64 = parts.iter().map(length).sum();
    let is_half = |&(piece, _): &(usize, usize)| pattern.pieces[piece].halves() == 2.0;
    let &(piece, edge) = parts.last()?;
    let edges = &pattern.pieces[piece].edges;
    let at_centre = edges[(edge + 1) % edges.len()].answers_to("centre");
    if !at_centre || !parts.iter().all(is_half) {
        return None;
    }
    let ends = parts.iter().scan(0.0, |before, part| {
        let from = *before;
        *before += length(part) / whole;
        Some([from, *before])
    });
    let shares: Vec<[f64; 2]> = ends.collect();
    for ((piece, edge), share) in parts.into_iter().zip(shares) {
        let piece = &mut pattern.pieces[piece];
        lower_part(piece, edge, share, peak)?;
        piece.peaked.push(piece.edges[edge].name.clone());
    }
    Some(())
}

/// Lowers one edge that runs from one share of the waist to another.
fn lower_part(piece: &mut Piece, edge: usize, share: [f64; 2], peak: f64) -> Option<()> {
    let owner = &piece.edges[edge];
    let closed = Closed::of(piece, owner);
    let old = closed.curve();
    let long = prolonged(&drawn(&old, share, peak)?, 2.0 * peak + 10.0);
    let count = piece.edges.len();
    let (before, after) = ((edge + count - 1) % count, (edge + 1) % count);
    let last = *closed.moves.last()?;
    let first = piece.edges[before].end_direction();
    let start = meets(&long, old.start(), first)?;
    let out = turned(last, -piece.edges[after].start_direction());
    let end = meets(&long, old.end(), out)?;
    let mouths = mouths(piece, edge, &closed, &long)?;
    let mouths: Vec<f64> = mouths.iter().map(|along| along - start).collect();
    let new = long.stretch(start, end);
    let runs = closed.reopened(&new, &mouths)?;
    let corners = [runs[0].start(), runs[runs.len() - 1].end()];
    piece.edges[edge].runs = runs;
    reach(piece, [before, after], corners);
    Some(())
}

/// The lowered curve, through points that moved out square to the old one.
fn drawn(old: &Curve, [from, to]: [f64; 2], peak: f64) -> Option<Curve> {
    let knots: Vec<Knot> = (0..=KNOTS)
        .map(|index| {
            let part = index as f64 / KNOTS as f64;
            let along = part * old.length();
            let share = from + (to - from) * part;
            let way = old.direction_at(along);
            let out = Vec2::new(way.y, -way.x) * (peak * share * share);
            let at = old.point_at(along) + out;
            if share == 0.0 {
                Knot::toward(at, old.start_direction())
            } else {
                Knot::free(at)
            }
        })
        .collect();
    Curve::smooth(&knots)
}

/// A curve that goes on straight at both ends.
fn prolonged(curve: &Curve, by: f64) -> Curve {
    let head = curve.start() - curve.start_direction() * by;
    let tail = curve.end() + curve.end_direction() * by;
    let whole = joined(&Curve::line(head, curve.start()), curve);
    joined(&whole, &Curve::line(curve.end(), tail))
}

/// How far along a curve it meets what goes on straight from a corner.
fn meets(curve: &Curve, corner: Point, way: Vec2) -> Option<f64> {
    // A corner that does not move lies on the curve itself.
    let from = corner - way * 0.01;
    let crossings = curve.crossings_with_ray(from, way, Tolerance::PATTERN);
    let nearest = crossings.iter().min_by(|a, b| {
        let far = |one: &Point| (*one - corner).hypot();
        far(&a.point).total_cmp(&far(&b.point))
    });
    nearest.map(|crossing| crossing.along)
}

/// How far along the lowered curve the darts stand, each on its prolonged legs.
fn mouths(piece: &Piece, edge: usize, closed: &Closed, long: &Curve) -> Option<Vec<f64>> {
    let name = &piece.edges[edge].name;
    let gaps = 0..closed.runs.len() - 1;
    gaps.map(|gap| {
        let dart = piece.darts_on(name).find(|dart| dart.gap == gap)?;
        let mouth = closed.runs[gap].end();
        let way = mouth - closed.moves[gap] * dart.point;
        meets(long, mouth, way / way.hypot())
    })
    .collect()
}

/// Lets the edges beside the waist end at its new corners.
fn reach(piece: &mut Piece, [before, after]: [usize; 2], [start, end]: [Point; 2]) {
    let last = piece.edges[before].runs.len() - 1;
    let run = &piece.edges[before].runs[last];
    piece.edges[before].runs[last] = longer(run, start);
    let run = piece.edges[after].runs[0].reversed();
    let more = (end - run.end()).hypot();
    piece.edges[after].runs[0] = longer(&run, end).reversed();
    let name = piece.edges[after].name.clone();
    notches::change(piece, &name, |along| along + more);
}

/// A run that goes on straight to a point; one that is straight stays one line.
fn longer(run: &Curve, to: Point) -> Curve {
    let more = (to - run.end()).hypot();
    let chord = (run.end() - run.start()).hypot();
    if more < 1e-6 {
        run.with_ends(run.start(), to)
    } else if run.length() - chord < 1e-6 {
        Curve::line(run.start(), to)
    } else {
        joined(run, &Curve::line(run.end(), to))
    }
}

fn turned(by: Affine, direction: Vec2) -> Vec2 {
    (by * direction.to_point()) - (by * Point::ORIGIN)
}
