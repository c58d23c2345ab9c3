//! What differs between two patterns, in words: only what differs, each with how it was, how it is and by how much.
//!
//! Knows no step and no file. Everything is found by name. Invariant: what is told differs by more than can be drawn.

use crate::words::listed;
use drawing::{moved, overlay};
use geometry::Tolerance;
use geometry::curve::enclosed_area;
use pattern::{Cut, Dart, Edge, Fullness, Mark, Pattern, Piece, Seam};

/// Lengths that differ by less are the same, mm.
const LENGTH: f64 = 0.05;
/// Angles that differ by less are the same, degrees.
const ANGLE: f64 = 0.05;
/// Areas that differ by less are the same, cm².
const AREA: f64 = 0.05;
/// Steps of a walk along an edge to see how far it moved.
const WALK: u32 = 48;

/// What is told.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Difference {
    /// Whole sentences: pieces that came or went, how a piece is cut, seams.
    pub said: Vec<String>,
    /// Rows of a table: what, before, after, by how much, how far it moved.
    pub rows: Vec<Vec<String>>,
}

impl Difference {
    /// Whether the two are the same.
    pub fn is_nothing(&self) -> bool {
        self.said.is_empty() && self.rows.is_empty()
    }
}

/// How two patterns are looked at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Look {
    /// Before and after a step: pieces lie where they are.
    Step,
    /// Two garments: pieces are laid over each other, and it is told how far edges moved.
    Overlaid,
}

/// What differs between one pattern and another.
pub fn difference(one: &Pattern, other: &Pattern, look: Look) -> Difference {
    let mut all = Difference::default();
    pieces_alone(one, other, look, &mut all.said);
    for piece in &other.pieces {
        match one.piece(&piece.name) {
            Some(old) if old != piece => of_piece(old, piece, look, &mut all),
            Some(_) => {}
            None => new_piece(piece, &mut all),
        }
    }
    for girth in &other.girths {
        let old = one.girths.iter().find(|old| old.level == girth.level);
        let (now, was) = (other.girth(girth), old.map(|old| one.girth(old)));
        let what = format!("girth at the {}", girth.level);
        all.rows
            .extend(was.and_then(|was| length_row(what, was, now)));
    }
    seams(one, other, &mut all.said);
    all
}

fn pieces_alone(one: &Pattern, other: &Pattern, look: Look, said: &mut Vec<String>) {
    let only = |here: &Pattern, there: &Pattern| {
        let alone = here
            .pieces
            .iter()
            .filter(|piece| there.piece(&piece.name).is_none());
        alone.map(|piece| plain(&piece.name)).collect::<Vec<_>>()
    };
    let [gone, new] = match look {
        Look::Step => ["gone", "new"],
        Look::Overlaid => ["only in the first", "only in the second"],
    };
    for (names, word) in [(only(one, other), gone), (only(other, one), new)] {
        said.extend(names.iter().map(|name| format!("the {name} is {word}")));
    }
}

fn new_piece(piece: &Piece, all: &mut Difference) {
    let name = plain(&piece.name);
    for edge in &piece.edges {
        all.rows.push(row(
            format!("{name}: {}", plain(&edge.name)),
            [String::new(), mm(edge.length())],
        ));
    }
    for dart in &piece.darts {
        new_dart(&name, piece, dart, all);
    }
    let area = square_cm(piece);
    all.rows.push(row(
        format!("{name}: area"),
        [String::new(), format!("{area:.1} cm²")],
    ));
}

fn of_piece(old: &Piece, new: &Piece, look: Look, all: &mut Difference) {
    let name = plain(&new.name);
    let laid = match look {
        Look::Overlaid => moved(new, overlay(new, old)),
        Look::Step => new.clone(),
    };
    edges(&name, old, &laid, look, all);
    darts(&name, old, &laid, all);
    let (was, now) = (square_cm(old), square_cm(new));
    if (now - was).abs() >= AREA {
        let mut row = row(
            format!("{name}: area"),
            [format!("{was:.1} cm²"), format!("{now:.1} cm²")],
        );
        row.push(format!("{:+.1}", now - was));
        all.rows.push(row);
    }
    let turned = geometry::curve::angle_between(
        geometry::curve::unit(old.grain),
        geometry::curve::unit(laid.grain),
    );
    if turned.degrees().abs() >= ANGLE {
        all.said.push(format!(
            "the grain of the {name} is turned by {:.1}°",
            turned.degrees().abs()
        ));
    }
    if old.cut != new.cut {
        all.said.push(format!(
            "the {name} is cut {}, no longer {}",
            cut(&new.cut),
            cut(&old.cut)
        ));
    }
    notches(&name, old, new, &mut all.said);
}

fn edges(name: &str, old: &Piece, new: &Piece, look: Look, all: &mut Difference) {
    let mut elsewhere: Vec<(String, f64)> = Vec::new();
    for edge in &new.edges {
        let what = format!("{name}: {}", plain(&edge.name));
        let Some(was) = old.edge(&edge.name) else {
            all.rows.push(row(what, [String::new(), mm(edge.length())]));
            continue;
        };
        let far = farthest(was, edge);
        match (length_row(what.clone(), was.length(), edge.length()), look) {
            (Some(row), Look::Step) => all.rows.push(row),
            (None, Look::Step) if far >= LENGTH => elsewhere.push((plain(&edge.name), far)),
            (None, Look::Overlaid) if far >= LENGTH => {
                let same = row(what, [mm(was.length()), mm(edge.length())]);
                all.rows.push(with_far(same, far));
            }
            (Some(row), Look::Overlaid) => all.rows.push(with_far(row, far)),
            (None, _) => {}
        }
        if was.kind != edge.kind {
            all.said.push(format!(
                "the {} of the {name} is a {} edge now, no longer a {} edge",
                plain(&edge.name),
                edge.kind.word(),
                was.kind.word()
            ));
        }
    }
    all.said.extend(moved_edges(name, &elsewhere));
    let gone = old
        .edges
        .iter()
        .filter(|edge| new.edge(&edge.name).is_none());
    all.rows.extend(gone.map(|edge| {
        row(
            format!("{name}: {}", plain(&edge.name)),
            [mm(edge.length()), "gone".into()],
        )
    }));
}

fn with_far(mut row: Vec<String>, far: f64) -> Vec<String> {
    row.resize(4, String::new());
    row.push(format!("moved by up to {far:.1} mm"));
    row
}

/// Edges of a piece that lie elsewhere, or have another shape, at the same length.
fn moved_edges(name: &str, edges: &[(String, f64)]) -> Option<String> {
    let names: Vec<String> = edges.iter().map(|(name, _)| name.clone()).collect();
    let far = edges.iter().map(|(_, far)| *far).fold(0.0, f64::max);
    (!names.is_empty()).then(|| {
        format!(
            "on the {name}, {} moved by up to {far:.1} mm and {} as long as before",
            listed(&names),
            if names.len() == 1 { "is" } else { "are" }
        )
    })
}

fn darts(name: &str, old: &Piece, new: &Piece, all: &mut Difference) {
    for dart in &old.darts {
        let what = format!("{name}: {}", plain(&dart.name));
        let was = measured(old, dart);
        match new.dart(&dart.name) {
            None => all.rows.push(row(what, [was[0].1.clone(), "gone".into()])),
            Some(now) => {
                if dart.edge != now.edge {
                    all.said.push(format!(
                        "the {} of the {name} opens at the {} now, no longer at the {}",
                        plain(&dart.name),
                        plain(&now.edge),
                        plain(&dart.edge)
                    ));
                }
                let pairs = was.iter().zip(measured(new, now));
                all.rows
                    .extend(pairs.filter_map(|(was, now)| dart_row(&what, was, &now)));
            }
        }
    }
    for dart in &new.darts {
        if old.dart(&dart.name).is_none() {
            new_dart(name, new, dart, all);
        }
    }
}

fn new_dart(name: &str, piece: &Piece, dart: &Dart, all: &mut Difference) {
    let what = format!("{name}: {} at the {}", plain(&dart.name), plain(&dart.edge));
    let [angle, width, _] = measured(piece, dart);
    all.rows.push(row(what.clone(), [String::new(), angle.1]));
    all.rows
        .push(row(format!("{what}, width"), [String::new(), width.1]));
}

/// Angle, width and length of a dart.
fn measured(piece: &Piece, dart: &Dart) -> [Measured; 3] {
    let legs = piece.legs(dart);
    let (angle, width, long) = (legs.angle().degrees(), legs.intake(), legs.lengths()[0]);
    [
        ("", format!("{angle:.1}°"), angle, ANGLE),
        (", width", mm(width), width, LENGTH),
        (", length", mm(long), long, LENGTH),
    ]
}

/// What is measured, in words, as a number, and by how much it must differ to be told.
type Measured = (&'static str, String, f64, f64);

fn dart_row(what: &str, was: &Measured, now: &Measured) -> Option<Vec<String>> {
    let by = now.2 - was.2;
    (by.abs() >= was.3).then(|| {
        let mut row = row(format!("{what}{}", was.0), [was.1.clone(), now.1.clone()]);
        row.push(format!("{by:+.1}"));
        row
    })
}

fn notches(name: &str, old: &Piece, new: &Piece, said: &mut Vec<String>) {
    let count = |piece: &Piece| {
        let notches = piece
            .marks
            .iter()
            .filter(|mark| matches!(mark, Mark::Notch { .. }));
        notches.count()
    };
    let (was, now) = (count(old), count(new));
    if was != now {
        said.push(format!("the {name} has {now} notches, no longer {was}"));
    }
}

fn seams(one: &Pattern, other: &Pattern, said: &mut Vec<String>) {
    let find = |pattern: &Pattern, name: &str| -> Option<Seam> {
        pattern.seams.iter().find(|seam| seam.name == name).cloned()
    };
    for seam in &other.seams {
        match find(one, &seam.name) {
            None => said.push(format!("the {} seam is new", plain(&seam.name))),
            Some(old) if !same_fullness(old.fullness, seam.fullness) => said.push(format!(
                "the {} seam is {}, no longer {}",
                plain(&seam.name),
                fullness(seam.fullness),
                fullness(old.fullness)
            )),
            Some(_) => {}
        }
    }
    for seam in &one.seams {
        if find(other, &seam.name).is_none() {
            said.push(format!("the {} seam is gone", plain(&seam.name)));
        }
    }
}

fn same_fullness(one: Fullness, other: Fullness) -> bool {
    match (one, other) {
        (Fullness::Eased(a), Fullness::Eased(b)) | (Fullness::Pleated(a), Fullness::Pleated(b)) => {
            (a - b).abs() < LENGTH
        }
        (Fullness::Gathered(a), Fullness::Gathered(b)) => (a - b).abs() < 0.005,
        (one, other) => one == other,
    }
}

fn fullness(fullness: Fullness) -> String {
    match fullness {
        Fullness::None => "sewn flat".into(),
        Fullness::Eased(mm) => format!("eased by {mm:.1} mm"),
        Fullness::Gathered(times) => format!("gathered from {times:.2} times its length"),
        Fullness::Pleated(mm) => format!("laid in pleats of {mm:.1} mm"),
    }
}

fn cut(cut: &Cut) -> String {
    match &cut.laid {
        pattern::Laid::OnFold(edge) => format!("with its {} on the fold", plain(edge)),
        pattern::Laid::Pair => "as a pair".into(),
        pattern::Laid::Single => "once".into(),
    }
}

/// How far, at most, a place on an edge is from the nearest place of the other edge, mm.
fn farthest(one: &Edge, other: &Edge) -> f64 {
    let near = |edge: &Edge, point| {
        let runs = edge.runs.iter().map(|run| run.nearest(point).distance);
        runs.fold(f64::INFINITY, f64::min)
    };
    let walk = |from: &Edge, to: &Edge| {
        let length = from.length();
        let places = (0..=WALK).map(|step| length * f64::from(step) / f64::from(WALK));
        places
            .map(|along| near(to, from.place_at(along).0))
            .fold(0.0, f64::max)
    };
    let far = walk(one, other).max(walk(other, one));
    if far < Tolerance::PATTERN.mm() {
        0.0
    } else {
        far
    }
}

fn length_row(what: String, was: f64, now: f64) -> Option<Vec<String>> {
    ((now - was).abs() >= LENGTH).then(|| {
        let mut row = row(what, [mm(was), mm(now)]);
        row.push(format!("{:+.1}", now - was));
        row
    })
}

fn row(what: String, [was, now]: [String; 2]) -> Vec<String> {
    vec![what, was, now]
}

fn mm(length: f64) -> String {
    format!("{length:.1} mm")
}

fn square_cm(piece: &Piece) -> f64 {
    enclosed_area(&piece.seam_outline()) / 100.0
}

fn plain(name: &str) -> String {
    name.replace('-', " ")
}
