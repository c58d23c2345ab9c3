//! One piece as the page draws it: shapes with kinds, and a sentence for whoever cannot see them.
//!
//! Invariant: the same piece gives the same letters and so the same hash.

use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash as _, Hasher as _};

use document::Finding;
use geometry::{Point, Rect, Vec2};
use pattern::{EdgeKind, Laid, Piece};
use serde::Serialize;
use sheet::{Item, Layer, Shape as Drawing};

use super::partners::edge_id;
use super::path;
use super::units::Units;

/// Size of CF and CB, mm.
const CENTRE_WORDS: f64 = 18.0;

/// Seams by edges, as [`super::partners::seam_of_edges`] finds them.
pub(crate) type Seams = BTreeMap<String, String>;

/// A piece with its letters.
pub(crate) struct Drawn {
    piece: Piece,
    units: Units,
    seams: Vec<Option<String>>,
    /// The box of what is drawn, in the piece's own millimetres.
    pub(crate) bounds: Rect,
    /// Hash of [`Drawn::letters`].
    pub(crate) hash: String,
    /// JSON of everything but name, place and hash, without the braces.
    pub(crate) letters: String,
}

/// A shape of a piece.
#[derive(Serialize)]
pub(crate) struct Shape {
    pub(crate) id: String,
    pub(crate) kind: &'static str,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) d: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) text: Option<Text>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) edge: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) seam: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pub(crate) layer: Option<&'static str>,
}

/// Words of a piece.
#[derive(Serialize)]
pub(crate) struct Text {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) size: f64,
    pub(crate) anchor: &'static str,
    pub(crate) turn: f64,
    pub(crate) words: String,
}

impl Shape {
    pub(crate) fn path(id: impl Into<String>, kind: &'static str, d: String) -> Self {
        Self {
            id: id.into(),
            kind,
            d: Some(d),
            text: None,
            edge: None,
            seam: None,
            layer: None,
        }
    }

    pub(crate) fn words(id: impl Into<String>, kind: &'static str, text: Text) -> Self {
        Self {
            d: None,
            text: Some(text),
            ..Self::path(id, kind, String::new())
        }
    }
}

impl Drawn {
    /// Draws a piece; where it has no cutting line, what can be drawn of it.
    pub(crate) fn of(piece: &Piece, seams: &Seams, units: Units) -> (Self, Option<Finding>) {
        let (shapes, finding) = shapes(piece, seams);
        let bounds = bounds(piece);
        let mut drawn = Self {
            piece: piece.clone(),
            units,
            seams: seams_of(piece, seams),
            bounds,
            hash: String::new(),
            letters: letters(&piece.title(), bounds, &words(piece, units), &shapes),
        };
        drawn.hash = hash(&drawn.letters);
        (drawn, finding)
    }

    /// Whether this is the piece as it would be drawn now.
    pub(crate) fn still(&self, piece: &Piece, seams: &Seams, units: Units) -> bool {
        self.units == units && self.piece == *piece && self.seams == seams_of(piece, seams)
    }
}

fn seams_of(piece: &Piece, seams: &Seams) -> Vec<Option<String>> {
    let edges = piece.edges.iter();
    edges
        .map(|edge| seams.get(&edge_id(&piece.name, &edge.name)).cloned())
        .collect()
}

/// The JSON of a piece without its name, place and hash, and without braces.
pub(crate) fn letters(title: &str, bounds: Rect, words: &str, shapes: &[Shape]) -> String {
    #[derive(Serialize)]
    struct Body<'a> {
        title: &'a str,
        r#box: [f64; 4],
        words: &'a str,
        shapes: &'a [Shape],
    }
    let body = Body {
        title,
        r#box: as_box(bounds),
        words,
        shapes,
    };
    let json =
        serde_json::to_string(&body).expect("texts and finite numbers can be written as JSON");
    json[1..json.len() - 1].to_owned()
}

pub(crate) fn hash(letters: &str) -> String {
    let mut hasher = DefaultHasher::new();
    letters.hash(&mut hasher);
    format!("{:016x}", hasher.finish())
}

/// x, y, width and height.
pub(crate) fn as_box(bounds: Rect) -> [f64; 4] {
    [bounds.x0, bounds.y0, bounds.width(), bounds.height()].map(path::rounded)
}

/// The box of a piece with its allowances.
fn bounds(piece: &Piece) -> Rect {
    let widest = piece
        .edges
        .iter()
        .map(|edge| edge.allowance)
        .fold(0.0, f64::max);
    let curves = || piece.edges.iter().flat_map(|edge| &edge.runs);
    let seam = curves()
        .map(geometry::Curve::bounds)
        .reduce(|all, one| all.union(one))
        .unwrap_or_default();
    seam.inflate(widest, widest)
}

fn shapes(piece: &Piece, seams: &Seams) -> (Vec<Shape>, Option<Finding>) {
    let (items, finding) = match drawing::lines(piece) {
        Ok(items) => (items, None),
        Err(finding) => (Vec::new(), Some(finding)),
    };
    let mut shapes = vec![Shape::path(
        format!("{}.ground", piece.name),
        "ground",
        path::letters(&piece.outline_path()),
    )];
    let mut before = "";
    for (number, item) in items.iter().enumerate() {
        let shape = shape(piece, item, number, before, seams);
        before = shape.kind;
        shapes.push(shape);
    }
    if items.is_empty() {
        shapes.push(Shape::path(
            format!("{}.outline", piece.name),
            "outline",
            path::letters(&piece.outline_path()),
        ));
    }
    shapes.extend(labels(piece, &items));
    (shapes, finding)
}

fn shape(piece: &Piece, item: &Item, number: usize, before: &str, seams: &Seams) -> Shape {
    let d = match &item.shape {
        Drawing::Path { path, .. } => path::letters(path),
        Drawing::Text(_) => String::new(),
    };
    let own = item
        .id
        .as_deref()
        .and_then(|id| id.strip_prefix(piece.name.as_str())?.strip_prefix('.'));
    let edge = own.and_then(|own| piece.edge(own));
    let kind = kind(piece, item.layer, own, edge.map(|edge| edge.kind), before);
    let id = item
        .id
        .clone()
        .unwrap_or_else(|| format!("{}.{number}", piece.name));
    let edge = edge.map(|edge| edge_id(&piece.name, &edge.name));
    let seam = edge.as_ref().and_then(|edge| seams.get(edge).cloned());
    Shape {
        edge,
        seam,
        ..Shape::path(id, kind, d)
    }
}

/// What a line is, by its layer on paper and its name there.
fn kind(
    piece: &Piece,
    layer: Layer,
    own: Option<&str>,
    edge: Option<EdgeKind>,
    before: &str,
) -> &'static str {
    match (layer, own) {
        (Layer::CuttingLine, _) => "cutting",
        (Layer::SeamLine, _) if edge == Some(EdgeKind::Hem) => "hem",
        (Layer::SeamLine, _) => "seam",
        (Layer::Grain, Some("grain")) => "grain",
        (Layer::Grain, _) => "fold",
        (_, Some(own)) if piece.dart(own).is_some() => "dart",
        (_, Some(own)) if own.starts_with("centre") && own.ends_with("-line") => "centre-line",
        (_, Some(own)) if own.ends_with("-line") || piece.point(own).is_some() => "mark",
        (_, Some(_)) => "notch",
        // Behind the legs of a dart come the circle at its point and its fold.
        (_, None) if before == "dart" => "dart-point",
        (_, None) if before == "dart-point" => "dart",
        (_, None) => "mark",
    }
}

/// The name of a piece and how often it is cut, where there is room, and CF or CB along its centre.
fn labels(piece: &Piece, items: &[Item]) -> Vec<Shape> {
    let lines = [piece.title(), drawing::how_often(&piece.cut)];
    let placed = super::label::place(piece, items, lines).into_iter();
    let mut labels: Vec<Shape> = placed
        .enumerate()
        .map(|(line, one)| label(piece, &format!("label-{line}"), one.at, one.size, one.words))
        .collect();
    labels.extend(centre_label(piece));
    labels
}

/// CF or CB inside of the centre edge.
fn centre_label(piece: &Piece) -> Option<Shape> {
    let is = |word: &str| piece.name.split(['-', '/']).any(|part| part == word);
    let words = match (is("front"), is("back")) {
        (true, false) => "CF",
        (false, true) => "CB",
        _ => return None,
    };
    let edge = piece.edges_of("centre").next()?;
    let (at, way) = edge.place_at(edge.length() * 0.25);
    let size = CENTRE_WORDS;
    // An outline runs clockwise on the table: its inside lies to the right of the way.
    let inside = at + Vec2::new(-way.y, way.x) * size * 1.2;
    let words = match piece.cut.laid {
        Laid::OnFold(_) => format!("{words} fold"),
        Laid::Pair | Laid::Single => words.to_owned(),
    };
    let turn = geometry::math::atan2(way.y, way.x).to_degrees();
    let upright = if turn > 90.0 || turn <= -90.0 {
        turn + 180.0
    } else {
        turn
    };
    let mut shape = label(piece, "centre-label", inside, size, words);
    if let Some(text) = &mut shape.text {
        text.turn = path::rounded(upright);
    }
    Some(shape)
}

fn label(piece: &Piece, id: &str, at: Point, size: f64, words: String) -> Shape {
    let text = Text {
        x: path::rounded(at.x),
        y: path::rounded(at.y),
        size: path::rounded(size),
        anchor: "middle",
        turn: 0.0,
        words,
    };
    Shape::words(format!("{}.{id}", piece.name), "label", text)
}

/// A sentence that says what the piece is, how it is cut, how large it is and what is round it.
fn words(piece: &Piece, units: Units) -> String {
    let outline = piece.outline_path().control_box();
    let edges: Vec<String> = piece
        .edges
        .iter()
        .map(|edge| {
            format!(
                "{} {}",
                drawing::spoken(&edge.name),
                units.rough(edge.length())
            )
        })
        .collect();
    let darts: Vec<String> = piece
        .darts
        .iter()
        .map(|dart| {
            let legs = piece.legs(dart);
            let [length, _] = legs.lengths();
            format!(
                "{} {} wide and {} long",
                drawing::spoken(&dart.name),
                units.rough(legs.intake()),
                units.rough(length)
            )
        })
        .collect();
    let darts = if darts.is_empty() {
        String::new()
    } else {
        format!(" Darts: {}.", making::words::listed(&darts))
    };
    format!(
        "{}, {} from {}, {} wide and {} long without allowances, {}. Edges in order: {}.{darts}",
        piece.title(),
        drawing::how_often(&piece.cut),
        piece.cut.layer.word(),
        units.rough(outline.width()),
        units.rough(outline.height()),
        grain(piece),
        making::words::listed(&edges)
    )
}

fn grain(piece: &Piece) -> String {
    let degrees = piece.grain.degrees().rem_euclid(180.0).round();
    if degrees == 90.0 {
        "grain down the piece".to_owned()
    } else {
        format!("grain at {degrees}° to its width")
    }
}
