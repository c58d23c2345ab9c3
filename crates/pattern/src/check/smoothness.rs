//! Edges that run on: neckline over the shoulder seam, armhole over shoulder and side seam, waist and hem over each seam,
//! and right angles where an edge meets a centre line.
//!
//! **What it does.** Adds the corners of both pieces at the ends of every seam across which an edge runs on: together they make
//! a straight line. At a centre line, which is mirrored, an edge must stand at a right angle unless it is meant to be peaked.
//! **Why.** A corner that is drawn into one piece shows as a peak or a dip where two pieces meet.
//! **Example.** A hem that dips by 5° at the side seam.
//! **What can go wrong.** A peak that is meant, such as a V neckline, must be named as one.

use document::{Allowed, Finding, Place, Quantity};
use geometry::{Vec2, curve};

use super::cure::{self, Cure};
use super::{About, Check, SMOOTH_LIMIT, SQUARE_LIMIT};
use crate::piece::{Edge, EdgeKind, Layer, Piece};
use crate::seam::{Pattern, Seam, Stretch};
use crate::step::Arguments;

pub(super) const CHECK: Check = Check {
    title: "Smooth edges",
    manual: include_str!("smoothness.rs"),
    codes: &[("seam-not-smooth", "3°"), ("centre-not-square", "1°")],
    about: About::Sewing,
    run: check,
};

fn check(pattern: &Pattern) -> Vec<Finding> {
    cure::with_cures(pattern, found(pattern), found, cures)
}

pub(super) fn found(pattern: &Pattern) -> Vec<Finding> {
    let mut findings = Vec::new();
    for seam in &pattern.seams {
        findings.extend(across(pattern, seam, End::Start));
        findings.extend(across(pattern, seam, End::Last));
    }
    for piece in &pattern.pieces {
        findings.extend(square_corners(piece));
    }
    findings
}

#[derive(Clone, Copy, PartialEq)]
enum End {
    Start,
    Last,
}

/// Interior angle, in degrees, at the corner of a piece where an edge begins or ends.
fn corner_angle(piece: &Piece, edge: &Edge, at_end: bool) -> Option<f64> {
    let index = piece.edge_index(&edge.name)?;
    let count = piece.edges.len();
    let (into, out) = if at_end {
        (
            edge.end_direction(),
            piece.edges[(index + 1) % count].start_direction(),
        )
    } else {
        (
            piece.edges[(index + count - 1) % count].end_direction(),
            edge.start_direction(),
        )
    };
    Some(interior_angle(into, out))
}

/// Interior angle of a clockwise outline that arrives and leaves in two directions.
fn interior_angle(into: Vec2, out: Vec2) -> f64 {
    180.0 - curve::angle_between(into, out).degrees()
}

fn side_angle(pattern: &Pattern, side: &[Stretch], end: End) -> Option<f64> {
    let (piece, edge, at_end) = end_of(pattern, side, end)?;
    corner_angle(piece, edge, at_end)
}

/// The edge at an end of a side, and whether its last corner lies there.
fn end_of<'a>(
    pattern: &'a Pattern,
    side: &'a [Stretch],
    end: End,
) -> Option<(&'a Piece, &'a Edge, bool)> {
    let stretch = if end == End::Start {
        side.first()?
    } else {
        side.last()?
    };
    let edges = pattern.edges_of(stretch);
    let &(piece, edge) = if end == End::Start {
        edges.first()?
    } else {
        edges.last()?
    };
    Some((piece, edge, (end == End::Last) != stretch.backwards))
}

fn across(pattern: &Pattern, seam: &Seam, end: End) -> Option<Finding> {
    if !seam.runs_on[usize::from(end == End::Last)] {
        return None;
    }
    let (held, worked) = (
        side_angle(pattern, &seam.held, end)?,
        side_angle(pattern, &seam.worked, end)?,
    );
    let corner = held + worked - 180.0;
    let which = if end == End::Start { "start" } else { "end" };
    (corner.abs() > SMOOTH_LIMIT).then(|| {
        let shape = if corner > 0.0 { "a peak" } else { "a dip" };
        Finding::error(
            "seam-not-smooth",
            format!(
                "the edges beside the {} seam make {shape} of {:.1}° at its {which}",
                seam.name,
                corner.abs()
            ),
        )
        .at(Place::Seam(seam.name.clone()))
        .measured(
            Quantity::degrees(corner.abs()),
            Allowed::AtMost(Quantity::degrees(SMOOTH_LIMIT)),
        )
        .because("an edge that runs on over a seam must be one smooth line when it is sewn")
        .cure("draw the edges beside the seam smooth, with the step “smooth”")
    })
}

/// The edges made smooth: at a centre line one, over a seam both by half, or one of them alone.
fn cures(pattern: &Pattern, finding: &Finding) -> Vec<Cure> {
    let smooth = |edges: &[(String, String)]| {
        let arguments = edges.iter().fold(Arguments::new(), |all, (piece, edge)| {
            all.named("edge", piece, edge)
        });
        let names = edges
            .iter()
            .map(|(piece, edge)| format!("the {edge} of the {piece}"));
        let names: Vec<String> = names.collect();
        let words = format!("draws {} smooth at the ends", names.join(" and "));
        Cure::new("smooth", arguments, words)
    };
    match finding.places.first() {
        Some(Place::Edge { piece, edge, .. }) => vec![smooth(&[(piece.clone(), edge.clone())])],
        Some(Place::Seam(name)) => {
            let seam = pattern.seams.iter().find(|seam| seam.name == *name);
            let ends = [End::Start, End::Last].into_iter();
            let beside = ends.filter_map(|end| beside_both(pattern, seam?, end));
            let each = |edges: [(String, String); 2]| {
                let [one, other] = &edges;
                [
                    smooth(&edges),
                    smooth(std::slice::from_ref(one)),
                    smooth(std::slice::from_ref(other)),
                ]
            };
            beside.flat_map(each).collect()
        }
        _ => Vec::new(),
    }
}

/// The edges that run on over an end of a seam, held side first, where they do not make one line there.
fn beside_both(pattern: &Pattern, seam: &Seam, end: End) -> Option<[(String, String); 2]> {
    across(pattern, seam, end)?;
    Some([
        beside(pattern, &seam.held, end)?,
        beside(pattern, &seam.worked, end)?,
    ])
}

fn beside(pattern: &Pattern, side: &[Stretch], end: End) -> Option<(String, String)> {
    let (piece, edge, at_end) = end_of(pattern, side, end)?;
    let index = piece.edge_index(&edge.name)?;
    let count = piece.edges.len();
    let other = if at_end { index + 1 } else { index + count - 1 } % count;
    Some((piece.name.clone(), piece.edges[other].name.clone()))
}

/// Corners at a centre line, which is mirrored: anything but a right angle shows twice. Interfacing ends short of an opening at
/// the centre, where its edges have turned a little already; it is neither seen nor sewn there.
fn square_corners(piece: &Piece) -> Vec<Finding> {
    let is_inside = piece.cut.layer == Layer::Interfacing;
    let centres = piece
        .edges
        .iter()
        .filter(|edge| edge.kind == EdgeKind::Fold || edge.answers_to("centre") && !is_inside);
    let corners = centres.flat_map(|edge| [(edge, false), (edge, true)]);
    corners
        .filter_map(|(edge, at_end)| square_corner(piece, edge, at_end))
        .collect()
}

fn square_corner(piece: &Piece, edge: &Edge, at_end: bool) -> Option<Finding> {
    let index = piece.edge_index(&edge.name)?;
    let count = piece.edges.len();
    let neighbour = &piece.edges[if at_end {
        (index + 1) % count
    } else {
        (index + count - 1) % count
    }];
    if piece.peaked.contains(&neighbour.name) {
        return None;
    }
    let off = corner_angle(piece, edge, at_end)? - 90.0;
    let at = if at_end { edge.end() } else { edge.start() };
    (off.abs() > SQUARE_LIMIT).then(|| {
        Finding::error(
            "centre-not-square",
            format!(
                "the {} of the {} meets the centre line {:.1}° off the square",
                neighbour.name,
                piece.title().to_lowercase(),
                off.abs()
            ),
        )
        .at(Place::Edge {
            piece: piece.name.clone(),
            edge: neighbour.name.clone(),
            at: Some((at.x, at.y)),
        })
        .measured(
            Quantity::degrees(off.abs()),
            Allowed::AtMost(Quantity::degrees(SQUARE_LIMIT)),
        )
        .because("the mirror image doubles what is off the square: a peak or a dip at the centre")
        .cure("draw the edge square to the centre line, with the step “smooth”, or declare a peak with “redraw”")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::piece::{Cut, Laid};
    use geometry::{Angle, Curve, Point};

    /// A piece whose neckline meets its centre line 2° off the square.
    fn sloping(layer: Layer, centre: EdgeKind) -> Piece {
        let rise = 100.0 * Angle::from_degrees(2.0).tan();
        let corners = [(0.0, 0.0), (100.0, rise), (100.0, 80.0), (0.0, 80.0)].map(Point::from);
        let edges = [
            ("neckline", EdgeKind::Seam),
            ("shoulder", EdgeKind::Seam),
            ("outer", EdgeKind::Finished),
            ("centre", centre),
        ];
        let edges = edges.iter().enumerate().map(|(side, (name, kind))| {
            let run = Curve::line(corners[side], corners[(side + 1) % 4]);
            Edge::new(*name, *kind, run)
        });
        Piece {
            name: "neck".into(),
            edges: edges.collect(),
            darts: Vec::new(),
            marks: Vec::new(),
            lines: Vec::new(),
            grain: Angle::from_degrees(90.0),
            cut: Cut {
                layer,
                count: 2,
                laid: Laid::Pair,
            },
            peaked: Vec::new(),
            asked: None,
        }
    }

    #[test]
    fn a_centre_is_square_where_it_is_seen_or_folded() {
        let found = |layer, centre| square_corners(&sloping(layer, centre)).len();
        assert_eq!(found(Layer::Facing, EdgeKind::Opening), 1);
        assert_eq!(found(Layer::Interfacing, EdgeKind::Fold), 1);
        assert_eq!(found(Layer::Interfacing, EdgeKind::Opening), 0);
    }
}
