//! Two patterns laid over each other: the first grey, the second black.
//!
//! Pieces of one name lie with the corner of centre line and waist on each other, or another corner that both have, and with
//! their centre lines, or else their grain, in one direction. Invariant: a piece is moved and turned, never bent.

use geometry::curve::{angle_between, turn_about};
use geometry::{Affine, Point, Vec2};
use pattern::{Pattern, Piece};
use sheet::{Drawing, Layer, Panel, Turns};

use crate::change::{after_line, arrow, before_line, drawing, frame, sketch, title, words_size};
use crate::overview::side_by_side;

/// Lays one pattern over the other.
pub fn compare(one: &Pattern, other: &Pattern, names: [&str; 2], heading: &str) -> Drawing {
    let mut panels: Vec<Panel> = one
        .pieces
        .iter()
        .map(|piece| panel(Some(piece), other.piece(&piece.name)))
        .collect();
    let alone = other
        .pieces
        .iter()
        .filter(|piece| one.piece(&piece.name).is_none());
    panels.extend(alone.map(|piece| panel(None, Some(piece))));
    let mut items = side_by_side(&panels, heading).items;
    let size = words_size(&items);
    let keys = [(names[0], before_line()), (names[1], after_line())];
    frame(&mut items, heading, "", &keys, size);
    drawing(heading, items)
}

fn panel(one: Option<&Piece>, other: Option<&Piece>) -> Panel {
    let mut items = Vec::new();
    let shown = other.or(one);
    if let Some(piece) = one {
        items.extend(sketch(piece, &before_line(), Layer::Furniture));
    }
    if let Some(piece) = other {
        let laid = match one {
            Some(one) => moved(piece, overlay(piece, one)),
            None => piece.clone(),
        };
        items.extend(sketch(&laid, &after_line(), Layer::SeamLine));
        items.extend(arrow(&laid, &after_line(), Layer::SeamLine));
        items.extend(title(&laid, Affine::IDENTITY, 12.0));
    } else if let Some(piece) = one {
        items.extend(title(piece, Affine::IDENTITY, 12.0));
    }
    Panel {
        id: shown.map_or_else(String::new, |piece| piece.name.clone()),
        title: shown.map_or_else(String::new, Piece::title),
        items,
        turns: Turns::None,
    }
}

/// The move that lays a piece on another of the same name.
pub fn overlay(piece: &Piece, onto: &Piece) -> Affine {
    let (from, to) = anchors(piece, onto);
    let turn = angle_between(direction(piece), direction(onto));
    Affine::translate(to - from) * turn_about(from, turn)
}

/// The corner that is put on itself.
fn anchors(piece: &Piece, onto: &Piece) -> (Point, Point) {
    let corners = |piece: &Piece| piece.corners().collect::<Vec<_>>();
    let (mine, theirs) = (corners(piece), corners(onto));
    let is_waist = |name: &str| name.contains("centre") && name.contains("waist");
    let find = |wanted: &dyn Fn(&str) -> bool| {
        mine.iter()
            .filter(|(name, _)| wanted(name))
            .find_map(|(name, at)| {
                let (_, other) = theirs.iter().find(|(known, _)| known == name)?;
                Some((*at, *other))
            })
    };
    find(&is_waist)
        .or_else(|| find(&|_| true))
        .unwrap_or_else(|| (middle(piece), middle(onto)))
}

fn middle(piece: &Piece) -> Point {
    let outline = piece.seam_outline();
    geometry::outline::centroid(&outline).unwrap_or_default()
}

/// Down the centre line from its first corner to its last, or along the grain.
fn direction(piece: &Piece) -> Vec2 {
    match piece.edge("centre") {
        Some(edge) => edge.end() - edge.start(),
        None => geometry::curve::unit(piece.grain),
    }
}

/// A piece as it lies after a move.
pub fn moved(piece: &Piece, by: Affine) -> Piece {
    let mut piece = piece.clone();
    let turn = angle_between(
        Vec2::new(1.0, 0.0),
        (by * Point::new(1.0, 0.0)) - (by * Point::ORIGIN),
    );
    for edge in &mut piece.edges {
        for run in &mut edge.runs {
            *run = run.transformed(by);
        }
    }
    for dart in &mut piece.darts {
        dart.point = by * dart.point;
        dart.aim = by * dart.aim;
    }
    for mark in &mut piece.marks {
        if let pattern::Mark::Point { at, .. } = mark {
            *at = by * *at;
        }
    }
    for run in piece.lines.iter_mut().flat_map(|line| &mut line.runs) {
        *run = run.transformed(by);
    }
    piece.grain = geometry::Angle::from_radians(piece.grain.radians() + turn.radians());
    piece
}

#[cfg(test)]
mod tests {
    use super::*;
    use geometry::curve::turn_about;
    use geometry::{Angle, Curve};
    use pattern::{Cut, Edge, EdgeKind, Laid, Layer as Cloth};

    fn piece(corners: [(f64, f64); 4], names: [&str; 4]) -> Piece {
        let at = corners.map(Point::from);
        let edges = (0..4).map(|k| {
            Edge::new(
                names[k],
                EdgeKind::Seam,
                Curve::line(at[k], at[(k + 1) % 4]),
            )
        });
        Piece {
            name: "front".into(),
            edges: edges.collect(),
            darts: Vec::new(),
            marks: Vec::new(),
            lines: Vec::new(),
            grain: Angle::from_degrees(90.0),
            cut: Cut {
                layer: Cloth::Shell,
                count: 1,
                laid: Laid::Single,
            },
            peaked: Vec::new(),
            asked: None,
        }
    }

    fn farthest(one: &Piece, other: &Piece) -> f64 {
        let pairs = one.edges.iter().zip(&other.edges);
        pairs
            .map(|(one, other)| (one.start() - other.start()).hypot())
            .fold(0.0, f64::max)
    }

    /// However a piece lies on the table, it is laid on itself: by its centre line, or by its grain.
    #[test]
    fn a_piece_that_was_moved_is_laid_on_itself() {
        let corners = [(0.0, 0.0), (200.0, 10.0), (180.0, 300.0), (0.0, 310.0)];
        for names in [
            ["shoulder", "side", "waist", "centre"],
            ["cap", "underarm", "hem", "seam"],
        ] {
            let whole = piece(corners, names);
            let by = turn_about(Point::new(40.0, 70.0), Angle::from_degrees(33.0));
            let elsewhere = moved(&whole, Affine::translate((310.0, -42.0)) * by);
            assert!(farthest(&whole, &elsewhere) > 100.0);
            let laid = moved(&elsewhere, overlay(&elsewhere, &whole));
            assert!(farthest(&whole, &laid) < 1e-9, "{names:?}");
            assert!((laid.grain.degrees() - 90.0).abs() < 1e-9);
        }
    }

    #[test]
    fn centre_line_and_waist_lie_on_each_other() {
        let names = ["shoulder", "side", "waist", "centre"];
        let small = piece(
            [(0.0, 0.0), (200.0, 10.0), (180.0, 300.0), (0.0, 310.0)],
            names,
        );
        let large = piece(
            [(5.0, 0.0), (230.0, 10.0), (220.0, 340.0), (5.0, 350.0)],
            names,
        );
        let laid = moved(&large, overlay(&large, &small));
        let waist = |piece: &Piece| piece.edges[3].start();
        assert!((waist(&laid) - waist(&small)).hypot() < 1e-9);
        assert!((laid.edges[3].end().x - small.edges[3].end().x).abs() < 1e-9);
    }
}
