//! Notches: short strokes from the cutting line inwards, square to it.
//!
//! Knows edges and allowances. Invariant: a stroke starts on the cutting line and, where there is an allowance, ends
//! before the seam line.

use geometry::{BezPath, Curve, Point, Tolerance, Vec2};
use pattern::{EdgeKind, Mark, Piece};
use sheet::{Colour, Item, Layer, Line};

use crate::ground::{Ground, inward, reading};
use crate::lettering::Note;
use crate::outline::{Cutting, Side, straight};

/// Distance between the strokes of one notch, mm.
const STEP_MM: f64 = 6.0;
/// Shortest and longest stroke, mm; a notch that is cut should weaken the allowance as little as it can.
const STROKE_MM: [f64; 2] = [3.0, 7.0];
/// Stroke where there is no allowance, mm.
const BARE_STROKE_MM: f64 = 5.0;

/// Strokes nearer than this, mm, would be taken for one notch of two strokes.
const NEAR_MM: f64 = 8.0;

/// Length of a stroke in an allowance, mm: it stops well before the seam line.
pub(crate) fn stroke_length(allowance: f64) -> f64 {
    if allowance <= 0.0 {
        return BARE_STROKE_MM;
    }
    let [least, most] = STROKE_MM;
    (allowance * 0.5).clamp(least, most).min(allowance * 0.8)
}

/// Size of the words beside a notch, mm.
const WORDS_MM: f64 = 3.6;
/// How far inside of the seam line they begin, mm.
const INSIDE_MM: f64 = 3.0;

/// Notches that do not meet another edge but tell where something begins or ends, and what is written beside them.
const TOLD: [(&str, &str); 5] = [
    ("opening-start", "opening begins"),
    ("opening-end", "opening ends"),
    ("seam-end", "open to here until the zip is in"),
    ("pocket-top", "pocket begins"),
    ("pocket-bottom", "pocket ends"),
];

/// Words beside the notches that tell something; on a side seam, what opens is told to be the left one.
pub(crate) fn words(piece: &Piece, ground: &mut Ground) -> Vec<Item> {
    let told = |mark: &Mark| {
        let Mark::Notch {
            name, edge, along, ..
        } = mark
        else {
            return None;
        };
        let (_, said) = TOLD.iter().find(|(told, _)| told == name)?;
        let edge = piece.edge(edge)?;
        let is_left_only = edge.kind == EdgeKind::Seam && !name.starts_with("pocket");
        let text = if is_left_only {
            format!("{said}, left side only")
        } else {
            (*said).to_owned()
        };
        beside(edge.place_at(*along), &text, ground)
    };
    piece.marks.iter().filter_map(told).collect()
}

/// Words that run inwards from a place on an edge, or along it above or below.
fn beside((place, way): (Point, Vec2), text: &str, ground: &mut Ground) -> Option<Item> {
    let note = Note {
        text,
        size_mm: WORDS_MM,
    };
    let (inwards, half) = (inward(way), note.width() / 2.0);
    let far = INSIDE_MM + half;
    let near = INSIDE_MM + note.off();
    let across = [0.0, note.off(), -note.off()]
        .map(|aside| (place + inwards * far + way * aside, reading(inwards)));
    let along = [half, -half].map(|aside| (place + inwards * near + way * aside, reading(way)));
    let words = note.at_first(ground, across.into_iter().chain(along))?;
    Some(Item::text(words.coloured(Colour::QUIET)))
}

/// A notch: one stroke or more, each from the cutting line inwards.
#[derive(Clone, Debug)]
pub(crate) struct Notch {
    id: String,
    pub(crate) strokes: Vec<[Point; 2]>,
}

/// All notches of a piece.
pub(crate) fn of(piece: &Piece, cutting: &Cutting) -> Vec<Notch> {
    let notch = |mark: &Mark| match mark {
        Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } => {
            let id = format!("{}.{edge}.{name}", piece.name);
            let strokes = strokes_at(piece, cutting, (edge, *along), *strokes)?;
            Some(Notch { id, strokes })
        }
        Mark::Point { .. } => None,
    };
    piece.marks.iter().filter_map(notch).collect()
}

impl Notch {
    /// The notch as it is drawn, put on the ground.
    pub(crate) fn item(&self, ground: &mut Ground) -> Item {
        let mut path = BezPath::new();
        for &[from, to] in &self.strokes {
            ground.add_straight(from, to, 0.3);
            path.extend(straight(from, to));
        }
        Item::path(Layer::Marks, path, Line::mark()).named(self.id.clone())
    }

    /// Whether one of its strokes starts so near to a point that another stroke there would blur it.
    pub(crate) fn is_near(&self, point: Point) -> bool {
        self.strokes
            .iter()
            .any(|stroke| stroke[0].distance(point) < NEAR_MM)
    }
}

fn strokes_at(
    piece: &Piece,
    cutting: &Cutting,
    (edge, along): (&str, f64),
    strokes: u8,
) -> Option<Vec<[Point; 2]>> {
    let index = piece.edge_index(edge)?;
    let edge = &piece.edges[index];
    let (place, direction) = edge.place_at(along);
    let (curve, along) =
        on_cutting_line(cutting, index, place, -inward(direction), edge.allowance)?;
    let stroke = |base| {
        let (from, way) = (curve.point_at(base), curve.direction_at(base));
        [from, from + inward(way) * stroke_length(edge.allowance)]
    };
    Some(bases(curve, along, strokes).map(stroke).collect())
}

/// The stretch of an edge's cutting line that lies outwards of a place on its seam line, and the length along it. Where
/// the corner is cut so that none lies there, the nearest place of that edge, or of any.
fn on_cutting_line(
    cutting: &Cutting,
    edge: usize,
    place: Point,
    out: Vec2,
    allowance: f64,
) -> Option<(&Curve, f64)> {
    // A hair inside, so that a seam line without allowance is met.
    let from = place - out * 0.01;
    let own = || cutting.sides.iter().filter(|side| side.edge == edge);
    let met = own().flat_map(|side| {
        let crossings = side.curve.crossings_with_ray(from, out, Tolerance::PATTERN);
        crossings
            .into_iter()
            .map(|crossing| (crossing.other_along, &side.curve, crossing.along))
    });
    met.filter(|(away, ..)| *away <= allowance * 2.0 + 1.0)
        .min_by(|one, other| one.0.total_cmp(&other.0))
        .map(|(_, curve, along)| (curve, along))
        .or_else(|| nearest_on(own(), place))
        .or_else(|| nearest_on(cutting.sides.iter(), place))
}

fn nearest_on<'a>(sides: impl Iterator<Item = &'a Side>, place: Point) -> Option<(&'a Curve, f64)> {
    let near = sides.map(|side| (side.curve.nearest(place), &side.curve));
    let nearest = near.min_by(|one, other| one.0.distance.total_cmp(&other.0.distance));
    nearest.map(|(near, curve)| (curve, near.along))
}

/// Where the strokes of a notch start, side by side about a place and all on the curve.
fn bases(curve: &Curve, along: f64, strokes: u8) -> impl Iterator<Item = f64> {
    let steps = f64::from(strokes.saturating_sub(1));
    let length = curve.length();
    let step = STEP_MM.min(length / steps.max(1.0));
    let first = (along - step * steps / 2.0).clamp(0.0, (length - step * steps).max(0.0));
    (0..strokes).map(move |stroke| first + step * f64::from(stroke))
}
