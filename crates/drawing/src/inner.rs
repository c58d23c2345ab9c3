//! Marks inside a piece: points as small crosses and lines as dots, each with its name.
//!
//! Invariant: a name that finds no free place beside its mark is left out; the mark never is.

use geometry::curve::unit;
use geometry::{Angle, BezPath, Point, Vec2};
use pattern::{InnerLine, Mark, Piece};
use sheet::{Colour, Item, Layer, Line};

use crate::ground::{Ground, across, reading};
use crate::lettering::Note;
use crate::outline::fold_line;
use crate::words::spoken;

/// Half the width of a cross, mm.
const CROSS_MM: f64 = 3.0;
/// The arms of a cross.
const ARMS: [Vec2; 2] = [Vec2::new(CROSS_MM, 0.0), Vec2::new(0.0, CROSS_MM)];
/// Half the length of the bars at the ends of a buttonhole, mm.
const BAR_MM: f64 = 2.0;
/// Size of the names, mm.
const NAME_MM: f64 = 3.6;
/// How far from the ends of a line its name begins, mm.
const FROM_END_MM: f64 = 6.0;

/// Draws points and lines.
pub(crate) fn marks(piece: &Piece, ground: &mut Ground) -> Vec<Item> {
    let mut items: Vec<Item> = piece
        .lines
        .iter()
        .map(|line| drawn_line(piece, line))
        .collect();
    for run in piece.lines.iter().flat_map(|line| &line.runs) {
        ground.add_line_inside(run, 0.2);
    }
    for (name, at) in points(piece) {
        items.push(cross(at).named(format!("{}.{name}", piece.name)));
        for half in ARMS {
            ground.add_straight(at - half, at + half, 0.3);
        }
    }
    items
}

/// Writes the names of points and lines.
pub(crate) fn names(piece: &Piece, ground: &mut Ground) -> Vec<Item> {
    let mut items = Vec::new();
    for (name, at) in points(piece) {
        items.extend(point_name(&spoken(name), at, ground));
    }
    for line in piece.lines.iter().filter(|line| !is_buttonhole(line)) {
        items.extend(line_name(line, ground));
    }
    items
}

fn points(piece: &Piece) -> impl Iterator<Item = (&str, Point)> {
    piece.marks.iter().filter_map(|mark| match mark {
        Mark::Point { name, at } => Some((name.as_str(), *at)),
        Mark::Notch { .. } => None,
    })
}

fn cross(at: Point) -> Item {
    let mut path = BezPath::new();
    for half in ARMS {
        path.move_to(at - half);
        path.line_to(at + half);
    }
    Item::path(Layer::Marks, path, Line::mark())
}

fn drawn_line(piece: &Piece, line: &InnerLine) -> Item {
    let mut path = BezPath::new();
    for run in &line.runs {
        path.extend(run.to_path());
        if is_buttonhole(line) {
            for (at, way) in [
                (run.start(), run.start_direction()),
                (run.end(), run.end_direction()),
            ] {
                let bar = Vec2::new(-way.y, way.x) * BAR_MM;
                path.move_to(at - bar);
                path.line_to(at + bar);
            }
        }
    }
    let drawn = if is_fold(line) {
        fold_line(0.3)
    } else if is_buttonhole(line) {
        Line::mark()
    } else {
        Line::dashed(0.25, &[0.8, 2.4])
    };
    Item::path(Layer::Marks, path, drawn.coloured(Colour::QUIET))
        .named(format!("{}.{}-line", piece.name, line.name))
}

/// A line along which the sewn piece is folded: the upper edge of a waistband, the outer folds of a pleat.
fn is_fold(line: &InnerLine) -> bool {
    line.name == "fold" || line.name.starts_with("pleat-") && line.name.contains("-fold")
}

/// A hole that is worked where the line lies; the button beside it has the name.
fn is_buttonhole(line: &InnerLine) -> bool {
    line.name.starts_with("buttonhole")
}

fn point_name(name: &str, at: Point, ground: &mut Ground) -> Option<Item> {
    let note = Note {
        text: name,
        size_mm: NAME_MM,
    };
    let beside = CROSS_MM + 1.5 + note.width() / 2.0;
    let off = note.off();
    let places = [
        Vec2::new(beside, 0.0),
        Vec2::new(-beside, 0.0),
        Vec2::new(beside, -off),
        Vec2::new(-beside, -off),
        Vec2::new(beside, off),
        Vec2::new(-beside, off),
        Vec2::new(0.0, -CROSS_MM - off),
        Vec2::new(0.0, CROSS_MM + off),
    ];
    let level = Angle::from_degrees(0.0);
    let words = note.at_first(ground, places.map(|place| (at + place, level)))?;
    Some(Item::text(words.coloured(Colour::QUIET)))
}

/// The name stands over its line or under it, near one of its ends.
fn line_name(line: &InnerLine, ground: &mut Ground) -> Option<Item> {
    let text = format!("{} line", spoken(&line.name));
    let note = Note {
        text: &text,
        size_mm: NAME_MM,
    };
    let mut places = Vec::new();
    for run in line.runs.iter().rev() {
        let (length, half) = (run.length(), note.width() / 2.0);
        let (near, far) = (FROM_END_MM + half, length - FROM_END_MM - half);
        if far < near {
            continue;
        }
        for along in [
            far,
            near,
            far - (far - near) * 0.25,
            near + (far - near) * 0.25,
        ] {
            let angle = reading(run.direction_at(along));
            for side in [-1.0, 1.0] {
                let off = across(angle) * (side * note.off());
                places.push((run.point_at(along) + off, angle));
            }
        }
    }
    let words = note.at_first(ground, places)?;
    Some(Item::text(words.coloured(Colour::QUIET)))
}

/// A point at a distance from another along an angle.
pub(crate) fn moved(from: Point, angle: Angle, along: f64) -> Point {
    from + unit(angle) * along
}
