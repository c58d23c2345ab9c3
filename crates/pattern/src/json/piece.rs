//! A piece in the file: edges, cutting line, darts, notches, lines and points.

use geometry::Point;
use serde_json::{Value, json};

use super::number::{along, around, number, point, values};
use crate::piece::{Cut, Dart, Edge, InnerLine, Laid, Mark, Piece, Pressed};

pub(super) fn piece(piece: &Piece) -> Value {
    let notches = piece.marks.iter().filter_map(|mark| notch(piece, mark));
    json!({
        "name": piece.name,
        "title": piece.title(),
        "from": piece.cut.layer.word(),
        "cut": cut(&piece.cut),
        "grain_degrees": number(piece.grain.degrees()),
        "area_mm2": number(piece.area()),
        "edges": piece.edges.iter().map(edge).collect::<Vec<_>>(),
        "seam_line_mm": around(&piece.seam_outline()),
        "cut_line_mm": cut_line(piece),
        "darts": piece.darts.iter().map(|one| dart(piece, one)).collect::<Vec<_>>(),
        "notches": notches.collect::<Vec<_>>(),
        "lines": piece.lines.iter().map(line).collect::<Vec<_>>(),
        "points": piece.marks.iter().filter_map(marked_point).collect::<Vec<_>>(),
    })
}

fn cut(cut: &Cut) -> Value {
    let (laid, fold_edge) = match &cut.laid {
        Laid::OnFold(edge) => ("fold", Some(edge)),
        Laid::Pair => ("pair", None),
        Laid::Single => ("single", None),
    };
    json!({"count": cut.count, "laid": laid, "fold_edge": fold_edge})
}

/// The points of all runs, and from which to which point of the list each run goes.
fn edge(edge: &Edge) -> Value {
    let (mut points, mut runs): (Vec<Value>, Vec<[usize; 2]>) = (Vec::new(), Vec::new());
    for run in &edge.runs {
        let first = points.len();
        if let Value::Array(more) = values(&along(run)) {
            points.extend(more);
        }
        runs.push([first, points.len().saturating_sub(1)]);
    }
    json!({
        "name": edge.name,
        "kind": edge.kind.word(),
        "length_mm": number(edge.length()),
        "allowance_mm": number(edge.allowance),
        "points_mm": points,
        "runs": runs,
    })
}

/// Null where the allowances leave no cutting line; a finding says so.
fn cut_line(piece: &Piece) -> Value {
    piece
        .cutting_outline()
        .map_or(Value::Null, |outline| around(outline.curves()))
}

fn dart(piece: &Piece, dart: &Dart) -> Value {
    let legs = piece.legs(dart);
    let pressed = match dart.pressed {
        Pressed::Before => "before",
        Pressed::After => "after",
    };
    json!({
        "name": dart.name,
        "edge": dart.edge,
        "after_run": dart.gap,
        "point": at(legs.point),
        "legs": [at(legs.before), at(legs.after)],
        "intake_mm": number(legs.intake()),
        "angle_degrees": number(legs.angle().degrees()),
        "pressed": pressed,
    })
}

fn notch(piece: &Piece, mark: &Mark) -> Option<Value> {
    let Mark::Notch {
        name,
        edge,
        along,
        strokes,
    } = mark
    else {
        return None;
    };
    let (place, way) = piece.edge(edge)?.place_at(*along);
    // Outlines run clockwise on the table, so that what is outside lies to the left.
    let outward = point(way.y, -way.x);
    Some(json!({
        "name": name,
        "edge": edge,
        "along_mm": number(*along),
        "strokes": strokes,
        "at_mm": at(place),
        "toward": outward,
    }))
}

fn marked_point(mark: &Mark) -> Option<Value> {
    match mark {
        Mark::Point { name, at: place } => Some(json!({"name": name, "at_mm": at(*place)})),
        Mark::Notch { .. } => None,
    }
}

fn line(line: &InnerLine) -> Value {
    let runs = line.runs.iter().map(|run| values(&along(run)));
    json!({
        "name": line.name,
        "length_mm": number(line.length()),
        "runs_mm": runs.collect::<Vec<_>>(),
    })
}

fn at(place: Point) -> Value {
    point(place.x, place.y)
}
