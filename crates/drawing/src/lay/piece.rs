//! A copy of a piece on the drawing of a lay: its cutting line, its grain, its number and name.
//!
//! Invariant: what is drawn is the piece's own cutting line in its place, not the polygon of the search.

use cloth::goods::Cloth;
use cloth::lay::{Part, Placed, STRIPS};
use geometry::curve::mirror_in;
use geometry::{Affine, BezPath, Point};
use pattern::{Laid, Pattern};
use sheet::{Colour, Item, Layer, Line, Words};

use super::label::{self, Label};

/// A paper piece that lies face up.
const FACE_UP: Colour = Colour::WHITE;
/// One that lies face down.
const FACE_DOWN: Colour = Colour(226, 226, 226);

pub(super) fn items(
    pattern: &Pattern,
    copy: &Placed,
    number: usize,
    onto: Affine,
    cloth: &Cloth,
) -> Vec<Item> {
    let id = format!("{}-{}", copy.piece.replace('/', "-"), number);
    let rings: Vec<BezPath> = outlines(pattern, copy)
        .into_iter()
        .map(|path| onto * path)
        .collect();
    let fill = if copy.face_down { FACE_DOWN } else { FACE_UP };
    let mut items = Vec::new();
    for path in &rings {
        items.push(Item::filled(Layer::Shell, path.clone(), fill));
    }
    // A piece that is laid whole has no line along its middle.
    let outer = match rings.len() {
        1 => rings[0].clone(),
        _ => onto * ring_path(&copy.ring),
    };
    let line = Line::solid(0.35);
    items.push(Item::path(Layer::CuttingLine, outer, line).named(id.clone()));
    let ring: Vec<Point> = copy.ring.iter().map(|point| onto * *point).collect();
    let (labelled, arrow) = label::label(&ring, number, copy, grain(pattern, copy, onto));
    if let Some([from, to]) = arrow {
        let path = pointed(from, to, !cloth.direction.is_one_way());
        items.push(Item::path(Layer::Grain, path, Line::solid(0.25)).named(format!("{id}.grain")));
    }
    items.extend(labelled.iter().map(words));
    items
}

fn words(label: &Label) -> Item {
    let words = Words::new(label.at, label.size, &label.text).turned(label.degrees);
    Item::text(if label.bold { words.bold() } else { words })
}

/// The cutting line, and its mirror image where the piece is laid whole, on the cloth.
fn outlines(pattern: &Pattern, copy: &Placed) -> Vec<BezPath> {
    let drawn = pattern.piece(&copy.piece).and_then(|piece| {
        let path = piece.cutting_outline().ok()?.to_path();
        Some((piece, path))
    });
    let Some((piece, path)) = drawn else {
        return vec![ring_path(&copy.ring)];
    };
    let mut all = vec![copy.into * path.clone()];
    if let (Part::Whole, Laid::OnFold(name)) = (copy.part, &piece.cut.laid)
        && let Some(edge) = piece.edge(name)
    {
        let mirror = mirror_in(edge.start(), edge.end());
        all.push(copy.into * (mirror * path));
    }
    all
}

fn ring_path(ring: &[Point]) -> BezPath {
    let mut path = BezPath::new();
    for (index, point) in ring.iter().enumerate() {
        if index == 0 {
            path.move_to(*point);
        } else {
            path.line_to(*point);
        }
    }
    path.close_path();
    path
}

/// The direction of the lengthwise grain on paper, down the piece as it is drawn.
fn grain(pattern: &Pattern, copy: &Placed, onto: Affine) -> geometry::Vec2 {
    let angle = pattern.piece(&copy.piece).map(|piece| piece.grain);
    let along = angle.map_or(geometry::Vec2::new(1.0, 0.0), geometry::curve::unit);
    let way = onto * copy.into * along.to_point() - onto * copy.into * Point::ORIGIN;
    way / way.hypot().max(1e-12)
}

/// An arrow with a head at its end, and at its beginning too where both ways are alike.
fn pointed(from: Point, to: Point, both: bool) -> BezPath {
    let length = from.distance(to).max(1e-12);
    let way = (to - from) / length;
    let side = geometry::Vec2::new(-way.y, way.x);
    let head = (length / 4.0).min(1.8);
    let mut path = BezPath::new();
    path.move_to(from);
    path.line_to(to);
    let ends = [(to, -way), (from, way)];
    for (tip, back) in ends.into_iter().take(if both { 2 } else { 1 }) {
        path.move_to(tip + back * head + side * head * 0.4);
        path.line_to(tip);
        path.line_to(tip + back * head - side * head * 0.4);
    }
    path
}

/// "Sleeve, one of a pair, face down".
pub(super) fn said(copy: &Placed) -> String {
    if copy.piece == STRIPS {
        return format!("{}: a square, cut in one spiral", copy.title);
    }
    let how = match copy.part {
        Part::OnFold => "on the fold",
        Part::Both => "a pair, both layers",
        Part::AsDrawn | Part::Mirrored => "one of a pair",
        Part::Whole => "opened out",
        Part::Single => "one",
    };
    let face = if copy.face_down { ", face down" } else { "" };
    format!("{}: {how}{face}", copy.title)
}
