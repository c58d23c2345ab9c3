//! Pieces of one cloth as they are laid: outline with allowances along the grain, and how often each is cut.
//!
//! The *grain frame* of a piece has x along its lengthwise grain; its origin is the point that stripes and plaids hold, and for
//! a piece on the fold the fold is y = 0. Knows patterns, no cloth. Invariant: outlines hold all of what is cut.

use document::{Finding, Place};
use geometry::curve::mirror_in;
use geometry::{Affine, Point, Vec2};
use pattern::materials::Strip;
use pattern::{Laid, Layer, Materials, Pattern, Piece};

use super::outward::{self, polygon};

/// How much more than the area of the strips the square takes from which they are cut: the seams that join it and the corners
/// left over. From memory of the usual way to cut a strip in one spiral; no source.
const SPIRAL: f64 = 1.15;
/// The square is a whole number of these, mm.
const SQUARE_STEP: f64 = 10.0;
/// A fold edge may run off the grain by this share and still lie on a fold along it.
const ALONG: f64 = 1e-3;
/// Name of the square for bias strips.
pub const STRIPS: &str = "bias-strips";

/// How copies of a piece are cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Cut {
    /// With an edge on a fold that runs along the grain.
    OnFold,
    /// Whole, with the mirror image of what is drawn: its fold runs across the grain or at a slant.
    AcrossFold,
    /// A left and a right one.
    Pair,
    /// As it is drawn.
    Single,
}

/// A piece to be laid.
#[derive(Clone, Debug)]
pub(super) struct Kind {
    /// Its name in the pattern.
    pub(super) name: String,
    /// Its name for people.
    pub(super) title: String,
    /// How it is cut.
    pub(super) cut: Cut,
    /// How many are cut; left and right counted apart.
    pub(super) count: usize,
    /// From the pattern to the grain frame.
    pub(super) frame: Affine,
    /// Outline of what is drawn.
    pub(super) ring: Vec<Point>,
    /// Outline with its mirror image, where it has a fold.
    pub(super) whole: Option<Vec<Point>>,
    /// Whether it is laid whole although it could lie on the fold.
    pub(super) off_fold: bool,
}

impl Kind {
    /// The outline of one copy as it is in the end, opened out.
    pub(super) fn opened(&self) -> &[Point] {
        self.whole.as_deref().unwrap_or(&self.ring)
    }

    /// Whether its edge goes on the fold where there is one.
    pub(super) fn on_fold(&self) -> bool {
        self.cut == Cut::OnFold && !self.off_fold
    }

    /// Area of all copies, mm².
    pub(super) fn area(&self) -> f64 {
        outward::area(self.opened()).abs() * self.count as f64
    }

    /// Moves the origin of the grain frame.
    pub(super) fn shift(&mut self, by: Vec2) {
        self.frame = Affine::translate(by) * self.frame;
        let move_all = |ring: &mut Vec<Point>| ring.iter_mut().for_each(|point| *point += by);
        move_all(&mut self.ring);
        self.whole.iter_mut().for_each(move_all);
    }
}

/// Keeps the pieces of these names off the fold.
pub(super) fn keep_off(kinds: &mut [Kind], names: &[String]) {
    for kind in kinds {
        kind.off_fold = names.contains(&kind.name);
    }
}

/// All pieces that are cut from a cloth, with the square for its bias strips; a finding for each without a cutting line.
pub(super) fn kinds(pattern: &Pattern, layers: &[Layer]) -> Result<Vec<Kind>, Vec<Finding>> {
    let (mut kinds, mut findings) = (Vec::new(), Vec::new());
    for piece in &pattern.pieces {
        if !layers.contains(&piece.cut.layer) || piece.cut.count == 0 {
            continue;
        }
        match kind(piece) {
            Ok(kind) => kinds.push(kind),
            Err(finding) => findings.push(finding),
        }
    }
    if layers.contains(&Layer::Shell) {
        kinds.extend(strips(&Materials::of(pattern).strips));
    }
    if findings.is_empty() {
        Ok(kinds)
    } else {
        Err(findings)
    }
}

fn kind(piece: &Piece) -> Result<Kind, Finding> {
    let outline = piece.cutting_outline().map_err(|error| {
        Finding::error(
            "cutting-line-missing",
            format!(
                "the {} cannot be laid: {error}",
                piece.title().to_lowercase()
            ),
        )
        .at(Place::Piece(piece.name.clone()))
        .because("a piece is laid by its cutting line")
        .cure("make the allowance there smaller, or the edge smoother")
    })?;
    let mut frame = Affine::rotate(-piece.grain.radians());
    let fold = fold(piece).map(|ends| ends.map(|end| frame * end));
    let mut cut = match piece.cut.laid {
        Laid::OnFold(_) => Cut::AcrossFold,
        Laid::Pair => Cut::Pair,
        Laid::Single => Cut::Single,
    };
    if let Some([from, to]) = fold {
        let way = to - from;
        if way.y.abs() <= ALONG * way.hypot() {
            cut = Cut::OnFold;
            frame = Affine::translate(Vec2::new(0.0, -from.y)) * frame;
        }
    }
    let curves: Vec<_> = outline.curves().map(|one| one.transformed(frame)).collect();
    let mut ring = polygon(&curves);
    let mirror = match (cut, fold) {
        (Cut::OnFold, _) => Some(Affine::FLIP_Y),
        (_, Some([from, to])) => Some(mirror_in(from, to)),
        _ => None,
    };
    let whole = mirror.map(|mirror| {
        let other: Vec<Point> = ring.iter().map(|point| mirror * *point).collect();
        outward::union(&ring, &other)
    });
    if cut == Cut::OnFold {
        ring = clipped(ring);
    }
    Ok(Kind {
        name: piece.name.clone(),
        title: piece.title(),
        cut,
        count: piece.cut.count as usize,
        frame,
        ring,
        whole,
        off_fold: false,
    })
}

/// The ends of the edge on the fold.
fn fold(piece: &Piece) -> Option<[Point; 2]> {
    let Laid::OnFold(name) = &piece.cut.laid else {
        return None;
    };
    let edge = piece.edge(name)?;
    Some([edge.start(), edge.end()])
}

/// The ring as far as it lies on the piece's own side of the fold: what was moved outward there is no cloth.
fn clipped(ring: Vec<Point>) -> Vec<Point> {
    let (low, high) = ring
        .iter()
        .fold((f64::MAX, f64::MIN), |(low, high), point| {
            (low.min(point.y), high.max(point.y))
        });
    let above = high > -low;
    let put = |point: Point| {
        let y = if above {
            point.y.max(0.0)
        } else {
            point.y.min(0.0)
        };
        Point::new(point.x, y)
    };
    outward::counter_clockwise(ring.into_iter().map(put).collect())
}

/// A square from which all bias strips are cut.
fn strips(strips: &[Strip]) -> Option<Kind> {
    let side = strip_square(strips)?;
    let half = side / 2.0;
    let p = Point::new;
    Some(Kind {
        name: STRIPS.to_owned(),
        title: "Bias strips".to_owned(),
        cut: Cut::OnFold,
        count: 1,
        frame: Affine::IDENTITY,
        ring: vec![p(0.0, 0.0), p(side, 0.0), p(side, half), p(0.0, half)],
        whole: Some(vec![
            p(0.0, -half),
            p(side, -half),
            p(side, half),
            p(0.0, half),
        ]),
        off_fold: false,
    })
}

/// The side of the square from which bias strips are cut in one spiral, mm; none where there are no strips.
pub fn strip_square(strips: &[Strip]) -> Option<f64> {
    let area: f64 = strips.iter().map(Strip::area).sum();
    let side = (area * SPIRAL).sqrt();
    (side > 0.0).then(|| (side / SQUARE_STEP).ceil() * SQUARE_STEP)
}
