//! A patch pocket: its piece, drawn where it lies on the shell, and marks for its corners there.
//!
//! Invariant: top, sides and bottom are turned under along their own lines, so that the turned corners lie on one another.

use document::{Allowed, Finding, Place, Quantity};
use geometry::allowance::{Corner, Which};
use geometry::curve::{contains, enclosed_area, unit};
use geometry::{Affine, Curve, Point, Tolerance, Vec2};
use pattern::{Edge, EdgeKind, Layer, Lies, Mark, Pattern, Piece, name};

use super::{cut, darts_touched, points_of, within};
use crate::block::skirt::found;
use crate::part::figures;
use crate::recipe::parts::{Across, PatchShape, PatchWish, PocketSide};

/// Word for the piece: `skirt-front-pocket`.
const WORD: &str = "pocket";

/// The piece's own axes: how far down the grain, how far out from the centre.
struct Frame {
    down: Vec2,
    out: Vec2,
}

impl Frame {
    fn of(piece: &Piece) -> Self {
        let down = unit(piece.grain);
        let out = Vec2::new(down.y, -down.x);
        let middle = piece.outline_path().control_box().center();
        let centre = piece.edges_of("centre").next();
        let away = centre.map_or(out, |edge| middle - edge.start().midpoint(edge.end()));
        Self {
            down,
            out: if out.dot(away) < 0.0 { -out } else { out },
        }
    }

    fn level(&self, point: Point) -> f64 {
        point.to_vec2().dot(self.down)
    }

    fn reach(&self, point: Point) -> f64 {
        point.to_vec2().dot(self.out)
    }

    fn at(&self, reach: f64, level: f64) -> Point {
        (self.out * reach + self.down * level).to_point()
    }
}

/// Where it lies: inner and outer edge, top and lowest point, in the piece's axes.
struct Patch {
    inner: f64,
    outer: f64,
    top: f64,
    low: f64,
}

pub(super) fn derive(pattern: &mut Pattern, wish: &PatchWish) -> Result<(), Finding> {
    let named = pattern.pieces_of(&wish.piece.value).next();
    let Some(shell) = named.cloned() else {
        return Err(no_piece(pattern, wish));
    };
    let frame = Frame::of(&shell);
    let patch = placed(&shell, &frame, wish).ok_or_else(|| no_place(&shell, wish))?;
    let (edges, corners) = drawn(&patch, &frame, wish);
    let outline: Vec<Curve> = edges.iter().flat_map(|edge| edge.runs.clone()).collect();
    pattern.findings.extend(misfits(&shell, &outline, wish));
    mark(pattern, &shell.name, &corners, wish);
    let taken = pattern.pieces.iter().map(|piece| piece.name.as_str());
    let piece = Piece {
        name: name::free_name(&name::derived(&shell.name, WORD), taken),
        edges,
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        grain: shell.grain,
        cut: cut(Layer::Shell, wish.side),
        peaked: Vec::new(),
        asked: Some(wish.span.clone()),
    };
    pattern.makeup.lies.push(Lies {
        piece: piece.name.clone(),
        upon: shell.name,
        placed: Affine::IDENTITY,
    });
    pattern.pieces.push(piece);
    Ok(())
}

fn placed(shell: &Piece, frame: &Frame, wish: &PatchWish) -> Option<Patch> {
    let on_skirt = found::is_skirt(&shell.name);
    let usual = if on_skirt {
        figures::PATCH_ON_SKIRT
    } else {
        figures::PATCH_ON_BODICE
    };
    let width = wish.width.unwrap_or(usual[0]);
    let height = wish.height.unwrap_or(usual[1]);
    let from = level_from(shell, frame, on_skirt)?;
    let below = wish.below.unwrap_or(if on_skirt {
        figures::PATCH_BELOW_WAIST
    } else {
        0.0
    });
    let inner_at = |top: f64| inner(shell, frame, wish, [top, top + height, width]);
    let mut top = from + below;
    if wish.below.is_none() {
        // Where nobody says how low, darts are passed.
        let inner = inner_at(top)?;
        for dart in shell.darts_on("waist").filter(|_| on_skirt) {
            let reach = frame.reach(dart.point);
            if reach > inner - 5.0 && reach < inner + width + 5.0 {
                top = top.max(frame.level(dart.point) + figures::PATCH_CLEAR_OF_DART);
            }
        }
    }
    let inner = inner_at(top)?;
    Some(Patch {
        inner,
        outer: inner + width,
        top,
        low: top + height,
    })
}

/// From where heights are measured: the waist at the centre, or the bust line.
fn level_from(shell: &Piece, frame: &Frame, on_skirt: bool) -> Option<f64> {
    let waist = shell.edges_of("waist").next();
    let bust = shell.line("bust").and_then(|line| line.runs.first());
    let top_of = |edge: &Edge| frame.level(edge.start()).min(frame.level(edge.end()));
    if let (false, Some(run)) = (on_skirt, bust) {
        return Some(frame.level(run.start()));
    }
    let centre = shell.edges_of("centre").next();
    centre.or(waist).map(top_of)
}

/// Where its inner edge lies.
fn inner(
    shell: &Piece,
    frame: &Frame,
    wish: &PatchWish,
    [top, low, width]: [f64; 3],
) -> Option<f64> {
    let centre = shell.edges_of("centre").next();
    let from_side = |away: f64| {
        let side = [top, f64::midpoint(top, low), low].map(|level| side_at(shell, frame, level));
        let nearest = side.into_iter().flatten().fold(f64::INFINITY, f64::min);
        nearest.is_finite().then_some(nearest - away - width)
    };
    match wish.across {
        Across::FromSide(away) => from_side(away),
        Across::FromCentre(away) => Some(frame.reach(centre?.start()) + away),
        Across::Usual => match shell.point("bust-point") {
            Some(bust) => Some(frame.reach(bust) - width / 2.0),
            None => from_side(figures::PATCH_FROM_SIDE),
        },
    }
}

/// How far out the side lies at a level.
fn side_at(shell: &Piece, frame: &Frame, level: f64) -> Option<f64> {
    let through = frame.at(0.0, level);
    let runs = shell.edges_of("side").flat_map(|edge| &edge.runs);
    let met = runs.flat_map(|run| run.crossings_with_line(through, frame.out, Tolerance::PATTERN));
    met.map(|crossing| frame.reach(crossing.point))
        .min_by(f64::total_cmp)
}

/// Its edges clockwise, top first, and its corners.
fn drawn(patch: &Patch, frame: &Frame, wish: &PatchWish) -> (Vec<Edge>, Vec<Point>) {
    let at = |reach: f64, level: f64| frame.at(reach, level);
    let Patch {
        inner,
        outer,
        top,
        low,
    } = *patch;
    let (width, height) = (outer - inner, low - top);
    let (foot, bottoms, mut corners) = match wish.shape {
        PatchShape::Square => {
            let corners = vec![at(outer, low), at(inner, low)];
            (low, vec![Curve::line(corners[0], corners[1])], corners)
        }
        PatchShape::Pointed => {
            let foot = low - (figures::PATCH_POINT * width).min(height / 2.0);
            let tip = at(f64::midpoint(inner, outer), low);
            let ends = [at(outer, foot), at(inner, foot)];
            let lines = vec![Curve::line(ends[0], tip), Curve::line(tip, ends[1])];
            (foot, lines, vec![ends[0], tip, ends[1]])
        }
        PatchShape::Rounded => {
            let radius = figures::PATCH_RADIUS.min(width / 2.5).min(height / 2.0);
            let foot = low - radius;
            let ends = [at(outer, foot), at(inner, foot)];
            (foot, vec![rounded(patch, frame, radius)], ends.to_vec())
        }
    };
    let mut named = vec![
        ("top", Curve::line(at(inner, top), at(outer, top))),
        ("side", Curve::line(at(outer, top), at(outer, foot))),
    ];
    named.extend(["bottom", "bottom-2"].into_iter().zip(bottoms));
    named.push(("side-2", Curve::line(at(inner, foot), at(inner, top))));
    if enclosed_area(named.iter().map(|(_, curve)| curve)) < 0.0 {
        named.reverse();
        named.rotate_right(1);
        for (_, curve) in &mut named {
            *curve = curve.reversed();
        }
    }
    corners.extend([at(inner, top), at(outer, top)]);
    (turned(named, wish.hem), corners)
}

/// The lower edge with round corners, from the outer side to the inner one.
fn rounded(patch: &Patch, frame: &Frame, radius: f64) -> Curve {
    /// Handle of a cubic that is nearly a quarter of a circle, over its radius.
    const QUARTER: f64 = 0.552_284_75;
    let (inner, outer, low) = (patch.inner, patch.outer, patch.low);
    let at = |reach: f64, level: f64| frame.at(reach, level);
    let rest = radius * (1.0 - QUARTER);
    let first = Curve::cubic(
        at(outer, low - radius),
        at(outer, low - rest),
        at(outer - rest, low),
        at(outer - radius, low),
    );
    let last = Curve::cubic(
        at(inner + radius, low),
        at(inner + rest, low),
        at(inner, low - rest),
        at(inner, low - radius),
    );
    let middle = Curve::line(first.end(), last.start());
    let whole = first.then(&middle).and_then(|curve| curve.then(&last));
    whole.expect("each starts where the one before ends")
}

/// Edges with what is turned under: a hem at the top, a little elsewhere.
fn turned(named: Vec<(&str, Curve)>, hem: f64) -> Vec<Edge> {
    let last = named.len() - 1;
    let edges = named.into_iter().enumerate();
    edges
        .map(|(index, (name, curve))| {
            let is_top = name == "top";
            let kind = if is_top {
                EdgeKind::Hem
            } else {
                EdgeKind::Seam
            };
            let corner = match index {
                0 => Corner::Mirrored(Which::Before),
                index if index == last => Corner::Mirrored(Which::After),
                _ => Corner::Mitre,
            };
            Edge {
                allowance: if is_top { hem } else { figures::PATCH_TURNED },
                corner,
                ..Edge::new(name, kind, curve)
            }
        })
        .collect()
}

/// Marks the corners on the shell; on one side only, the name says which.
fn mark(pattern: &mut Pattern, shell: &str, corners: &[Point], wish: &PatchWish) {
    let word = match wish.side {
        PocketSide::Both => "pocket",
        PocketSide::Left => "left-pocket",
        PocketSide::Right => "right-pocket",
    };
    let Some(shell) = pattern.piece_mut(shell) else {
        return;
    };
    let is_old = |mark: &&Mark| matches!(mark, Mark::Point { name, .. } if name.starts_with(word));
    let first = shell.marks.iter().filter(is_old).count() + 1;
    for (index, at) in corners.iter().enumerate() {
        shell.marks.push(Mark::Point {
            name: format!("{word}-{}", first + index),
            at: *at,
        });
    }
}

fn misfits(shell: &Piece, outline: &[Curve], wish: &PatchWish) -> Vec<Finding> {
    let mut findings = Vec::new();
    let path = within(shell);
    let points = points_of(outline);
    let outside = points.iter().filter(|point| !contains(&path, **point));
    let runs = shell.edges.iter().flat_map(|edge| &edge.runs);
    let over = outside
        .map(|point| {
            let near = runs.clone().map(|run| run.nearest(*point).distance);
            near.fold(f64::INFINITY, f64::min)
        })
        .fold(0.0, f64::max);
    if over > 0.1 {
        findings.push(
            lies_badly(
                Finding::error(
                    "patch-off-piece",
                    format!(
                        "the patch pocket hangs {over:.0} mm over the edge of the {}",
                        shell.title().to_lowercase()
                    ),
                ),
                shell,
                wish,
                "a patch is sewn to one piece before its seams are closed",
                "make it smaller, or set it farther in or higher",
            )
            .measured(Quantity::mm(over), Allowed::AtMost(Quantity::mm(0.0))),
        );
    }
    for dart in darts_touched(shell, outline) {
        findings.push(lies_badly(
            Finding::warning(
                "patch-over-dart",
                format!(
                    "the patch pocket lies over the {} of the {}",
                    dart.replace('-', " "),
                    shell.title().to_lowercase()
                ),
            ),
            shell,
            wish,
            "the dart takes away cloth between the marks of its corners, and makes a ridge under it",
            "set it lower or farther to one side: below-waist=\"120 mm\"",
        ));
    }
    findings
}

fn lies_badly(finding: Finding, shell: &Piece, wish: &PatchWish, why: &str, cure: &str) -> Finding {
    finding
        .at_text(&wish.span, "this pocket")
        .at(Place::Piece(shell.name.clone()))
        .because(why)
        .cure(cure)
}

fn no_piece(pattern: &Pattern, wish: &PatchWish) -> Finding {
    let pieces = pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == Layer::Shell && !pattern.makeup.is_derived(&piece.name));
    let names: Vec<&str> = pieces.map(|piece| piece.name.as_str()).collect();
    document::unknown(
        "piece-not-there",
        &wish.piece.value,
        &wish.piece.span,
        &names,
    )
}

fn no_place(shell: &Piece, wish: &PatchWish) -> Finding {
    Finding::error(
        "patch-without-place",
        format!(
            "the {} has no side or centre from which the pocket could be measured",
            shell.title().to_lowercase()
        ),
    )
    .at_text(&wish.span, "this pocket")
    .at(Place::Piece(shell.name.clone()))
    .allowed("from-side on a piece with a side, from-centre on one with a centre line")
    .cure("measure it from the other, or sew it to another piece")
}
