//! The fold on which a piece is laid, and the words CF and CB along the centre.
//!
//! Knows edges by name. Invariant: the mark of a fold lies inside the piece with its arrow heads on the fold.

use geometry::{Curve, Point, Rect, Vec2};
use pattern::{Edge, Laid, Piece};
use sheet::{Item, Layer, Line, Words, fold_mark};

use crate::ground::{Ground, inward, reading};
use crate::lettering::{LEAST_MM, Note, height};
use crate::view::{Gap, Heed, View};

/// Depths of the mark of a fold, mm, the one with room for larger words first.
const INSETS_MM: [f64; 3] = [11.0, 8.0, 5.5];
/// Longest mark of a fold, mm.
const LONGEST_MM: f64 = 320.0;
/// Shortest mark of a fold that is worth drawing, mm.
const SHORTEST_MM: f64 = 16.0;
/// Largest words along the centre, mm.
const WORDS_MM: f64 = 5.0;
/// How far a fold may stray from a straight line, mm.
const STRAIGHT_MM: f64 = 0.1;

/// Draws the mark of the fold and writes what stands at the centre.
pub(crate) fn items(piece: &Piece, ground: &mut Ground) -> Vec<Item> {
    let folded = match &piece.cut.laid {
        Laid::OnFold(name) => piece.edge(name),
        Laid::Pair | Laid::Single => None,
    };
    let mut items = Vec::new();
    if let Some(edge) = folded {
        items.extend(fold(piece, edge, ground));
    }
    let short = centre_word(piece).filter(|_| !is_extended(piece));
    for edge in piece.edges_of("centre").take(1) {
        let is_said = folded.is_some_and(|folded| folded.name == edge.name);
        if let (false, Some(short)) = (is_said, short) {
            items.extend(beside(edge, short, ground).map(Item::text));
        }
    }
    items
}

/// Whether the edge lies beyond the centre, which is then a line inside with its own name.
fn is_extended(piece: &Piece) -> bool {
    ["centre", "centre-line"]
        .iter()
        .any(|name| piece.line(name).is_some())
}

/// CF or CB, where a piece is a front or a back.
fn centre_word(piece: &Piece) -> Option<&'static str> {
    let is = |word: &str| piece.name.split(['-', '/']).any(|part| part == word);
    match (is("front"), is("back")) {
        (true, false) => Some("CF"),
        (false, true) => Some("CB"),
        _ => None,
    }
}

/// The mark of a fold with its word inside, in the longest free stretch along the edge.
fn fold(piece: &Piece, edge: &Edge, ground: &mut Ground) -> Vec<Item> {
    let Some((curve, view)) = straight_edge(edge, ground) else {
        return Vec::new();
    };
    let Some((inset, place)) = fold_place(&curve, &view) else {
        return Vec::new();
    };
    let level = (view.from_piece * curve.start()).y;
    let point = |x: f64, y: f64| view.into_piece * Point::new(x, y);
    // The mark is drawn on the left of its way, so it runs against the edge.
    let (from, to) = (point(place.to, level), point(place.from, level));
    let mark = Item::path(Layer::Grain, fold_mark(from, to, inset), Line::mark());
    let mut items = vec![mark.named(format!("{}.on-the-fold", piece.name))];
    let is_centre = edge.answers_to("centre");
    let text = match centre_word(piece).filter(|_| is_centre) {
        Some(short) => format!("{short} · fold"),
        None => "fold".to_owned(),
    };
    let size_mm = (inset * 0.5).clamp(LEAST_MM, WORDS_MM);
    let note = Note {
        text: &text,
        size_mm,
    };
    let middle = point(place.middle(), level + inset / 2.0);
    if note.width() + 8.0 <= place.length() {
        let words = note.at(ground, middle, reading(curve.start_direction()));
        items.extend(words.map(Item::text));
    }
    let area = Rect::new(
        place.from - 2.5,
        level + 0.5,
        place.to + 2.5,
        level + inset + 0.3,
    );
    ground.add_box(view.angle, area);
    items
}

fn straight_edge(edge: &Edge, ground: &Ground) -> Option<(Curve, View)> {
    let (start, end) = (edge.start(), edge.end());
    let bends = edge
        .runs
        .iter()
        .any(|run| run.length() - (run.end() - run.start()).hypot() > STRAIGHT_MM);
    let way = end - start;
    if bends || edge.runs.len() > 1 || way.hypot() < SHORTEST_MM {
        return None;
    }
    let angle = geometry::Angle::from_radians(geometry::math::atan2(way.y, way.x));
    Some((edge.runs[0].clone(), ground.seen_along(angle)))
}

/// How deep the mark of a fold is and from where to where it runs; across the lines inside only where it must.
fn fold_place(curve: &Curve, view: &View) -> Option<(f64, Gap)> {
    let start = view.from_piece * curve.start();
    let end = start.x + curve.length();
    let within = |gap: Gap| Gap {
        from: gap.from.max(start.x),
        to: gap.to.min(end),
    };
    for heed in [Heed::All, Heed::NotCrossed] {
        for inset in INSETS_MM {
            let gaps = view.gaps(start.y + 1.0, start.y + inset + 1.0, (2.0, 0.5), heed);
            let longest = gaps
                .into_iter()
                .map(within)
                .filter(|gap| gap.length() * 0.7 >= SHORTEST_MM)
                .max_by(|one, other| one.length().total_cmp(&other.length()));
            if let Some(gap) = longest {
                let half = (gap.length() * 0.35).min(LONGEST_MM / 2.0);
                let middle = gap.middle();
                return Some((
                    inset,
                    Gap {
                        from: middle - half,
                        to: middle + half,
                    },
                ));
            }
        }
    }
    None
}

/// Words along the inside of an edge.
fn beside(edge: &Edge, text: &str, ground: &mut Ground) -> Option<Words> {
    let note = Note {
        text,
        size_mm: WORDS_MM,
    };
    let off = height(WORDS_MM) / 2.0 + 2.0;
    let length = edge.length();
    let places = [0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8].map(|share| {
        let (place, way): (Point, Vec2) = edge.place_at(length * share);
        (place + inward(way) * off, reading(way))
    });
    note.at_first(ground, places)
}
