//! The lines round a piece: where it is cut, where it is sewn, where it lies on the fold.
//!
//! Knows edges and allowances. Invariant: every edge has one item named `piece.edge` that runs exactly along its seam line
//! or fold; the cutting line leaves out what lies on the fold.

use document::{Finding, Place};
use geometry::allowance::CuttingOutline;
use geometry::{BezPath, Curve, PathEl, Point};
use pattern::{Edge, EdgeKind, Piece};
use sheet::{Item, Layer, Line};

use crate::words::spoken;

/// A stretch of the outline with the number of the edge that it belongs to.
#[derive(Clone, Debug)]
pub(crate) struct Side {
    pub(crate) edge: usize,
    pub(crate) curve: Curve,
}

/// The line along which a piece is cut, in stretches, and the fold on which it lies.
#[derive(Clone, Debug)]
pub(crate) struct Cutting {
    /// Clockwise, without what lies on the fold.
    pub(crate) sides: Vec<Side>,
    /// What lies on a fold, allowances at its ends included.
    pub(crate) folds: Vec<Side>,
}

impl Cutting {
    /// The cutting line of a piece, or why it has none.
    pub(crate) fn of(piece: &Piece) -> Result<Self, Finding> {
        let outline = piece.cutting_outline().map_err(|fault| {
            let edge = Place::Edge {
                piece: piece.name.clone(),
                edge: fault.edge.clone(),
                at: None,
            };
            Finding::error("no-cutting-line", format!("{}: {fault}", piece.title()))
                .at(edge)
                .because("where allowances run into each other there is no line to cut along")
                .cure(format!(
                    "make the allowance of {} narrower",
                    spoken(&fault.edge)
                ))
        })?;
        Ok(Self::sorted(piece, &outline))
    }

    fn sorted(piece: &Piece, outline: &CuttingOutline) -> Self {
        let (mut sides, mut folds) = (Vec::new(), Vec::new());
        for (edge, cut) in edge_of_each_cut(piece).into_iter().zip(&outline.cuts) {
            let is_fold = on_fold(&piece.edges[edge]);
            for curve in cut.line.iter().cloned() {
                let side = Side { edge, curve };
                if is_fold {
                    folds.push(side);
                } else {
                    sides.push(side);
                }
            }
            sides.extend(cut.join.iter().cloned().map(|curve| Side { edge, curve }));
        }
        Self { sides, folds }
    }

    /// All stretches that are cut or lie on a fold.
    pub(crate) fn all(&self) -> impl Iterator<Item = &Side> {
        self.sides.iter().chain(&self.folds)
    }
}

/// Whether an edge lies on the fold, so that it is never cut.
pub(crate) fn on_fold(edge: &Edge) -> bool {
    edge.kind == EdgeKind::Fold && edge.allowance == 0.0
}

/// The number of the edge to which each stretch of the cutting outline belongs: a run each, and two for the cap of a dart.
fn edge_of_each_cut(piece: &Piece) -> Vec<usize> {
    let mut edges = Vec::new();
    for (index, edge) in piece.edges.iter().enumerate() {
        let caps = 2 * piece.darts_on(&edge.name).count();
        edges.extend(std::iter::repeat_n(index, edge.runs.len() + caps));
    }
    edges
}

/// Draws cutting line, seam line and folds.
pub(crate) fn items(piece: &Piece, cutting: &Cutting) -> Vec<Item> {
    let mut items = vec![
        Item::path(Layer::CuttingLine, joined(&cutting.sides), Line::cutting())
            .named(format!("{}.cutting-line", piece.name)),
    ];
    for (index, edge) in piece.edges.iter().enumerate() {
        let id = format!("{}.{}", piece.name, edge.name);
        if on_fold(edge) {
            items.push(Item::path(Layer::Grain, runs(edge), fold_line(0.5)).named(id));
            items.extend(fold_ends(
                edge,
                cutting.folds.iter().filter(|side| side.edge == index),
            ));
        } else {
            items.push(Item::path(Layer::SeamLine, runs(edge), Line::seam()).named(id));
            items.extend(caps(piece, edge));
        }
    }
    items
}

/// The line of a fold: long dashes and dots, as a line of symmetry is drawn (ISO 128-2, line type 04; from memory).
pub(crate) fn fold_line(width_mm: f64) -> Line {
    Line::dashed(width_mm, &[12.0, 2.0, 0.8, 2.0])
}

fn runs(edge: &Edge) -> BezPath {
    let mut path = BezPath::new();
    for run in &edge.runs {
        path.extend(run.to_path());
    }
    path
}

/// The seam line across the caps of an edge's darts.
fn caps<'a>(piece: &'a Piece, edge: &'a Edge) -> impl Iterator<Item = Item> + 'a {
    piece.darts_on(&edge.name).map(move |dart| {
        let [first, second] = piece.cap(edge, dart);
        let mut path = first.to_path();
        path.extend(second.to_path().iter().skip(1));
        let id = format!("{}.{}.cap", piece.name, dart.name);
        Item::path(Layer::SeamLine, path, Line::seam()).named(id)
    })
}

/// Where a fold runs on beyond its edge, through the allowances at its ends.
fn fold_ends<'a>(edge: &Edge, folds: impl Iterator<Item = &'a Side>) -> Vec<Item> {
    let mut items = Vec::new();
    for fold in folds {
        let ends = [
            (fold.curve.start(), edge.start()),
            (edge.end(), fold.curve.end()),
        ];
        for (from, to) in ends
            .into_iter()
            .filter(|(from, to)| from.distance(*to) > 0.01)
        {
            items.push(Item::path(Layer::Grain, straight(from, to), fold_line(0.5)));
        }
    }
    items
}

/// Stretches that follow each other as one path; it closes where they do.
fn joined(sides: &[Side]) -> BezPath {
    let from = sides
        .windows(2)
        .position(|pair| !follows(&pair[0], &pair[1]))
        .map_or(0, |index| index + 1);
    let ordered: Vec<&Side> = sides[from..].iter().chain(&sides[..from]).collect();
    let mut path = BezPath::new();
    for (index, side) in ordered.iter().enumerate() {
        let goes_on = index > 0 && follows(ordered[index - 1], side);
        path.extend(side.curve.to_path().iter().skip(usize::from(goes_on)));
    }
    if let (0, Some(first), Some(last)) = (from, ordered.first(), ordered.last())
        && follows(last, first)
    {
        path.push(PathEl::ClosePath);
    }
    path
}

fn follows(one: &Side, next: &Side) -> bool {
    one.curve.end().distance(next.curve.start()) < 0.01
}

/// A straight path.
pub(crate) fn straight(from: Point, to: Point) -> BezPath {
    Curve::line(from, to).to_path()
}
