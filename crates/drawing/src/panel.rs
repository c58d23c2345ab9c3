//! A piece as a panel: its lines first, then its marks, then the arrow and the words where there is still room.
//!
//! Invariant: what is drawn later keeps clear of what was drawn before; every id is there once.

use document::Finding;
use geometry::curve::enclosed_area;
use geometry::{Curve, Point, Tolerance, Vec2, outline::roomiest};
use pattern::Piece;
use sheet::{Item, Panel, Turns};

use crate::block::{Placed, Said};
use crate::ground::Ground;
use crate::lettering::LEAST_MM;
use crate::outline::Cutting;
use crate::stiffened::Stiffened;
use crate::{Labels, centre, darts, edges, grain, inner, notches, outline, words};

/// Words on a piece, mm: the least for a piece that has room, and the largest.
const WORDS_MM: [f64; 2] = [4.5, 7.0];
/// A piece whose area is the square of so many times its words' size has words of that size.
const SIDE_IN_EMS: f64 = 60.0;

pub(crate) fn panel(piece: &Piece, behind: &Stiffened, labels: &Labels) -> Result<Panel, Finding> {
    let cutting = Cutting::of(piece)?;
    let seam_line = piece.seam_outline();
    let mut ground = Ground::bordered(&seam_line);
    for side in cutting.all() {
        ground.add_curve(&side.curve, 0.25);
    }
    let notches = notches::of(piece, &cutting);
    let mut items: Vec<Item> = notches
        .iter()
        .map(|notch| notch.item(&mut ground))
        .collect();
    items.extend(darts::items(piece, &cutting, &notches, &mut ground));
    items.extend(inner::marks(piece, &mut ground));
    items.extend(behind.outlines(piece, &mut ground));
    items.extend(centre::items(piece, &mut ground));
    items.extend(notches::words(piece, &mut ground));
    items.extend(inner::names(piece, &mut ground));
    items.extend(behind.words(&mut ground));
    // The arrow comes first of its layer, so that a key to the lines shows it.
    let mut all = arrow_and_words(piece, behind.wholly, labels, &seam_line, &mut ground);
    all.append(&mut items);
    all.extend(outline::items(piece, &cutting));
    all.extend(edges::items(piece, &mut ground));
    name_once(&mut all);
    Ok(Panel {
        id: piece.name.clone(),
        title: piece.title(),
        items: all,
        turns: Turns::Any,
    })
}

/// The arrow of the grain where it leaves the words most room, and the words.
fn arrow_and_words(
    piece: &Piece,
    interfaced: bool,
    labels: &Labels,
    seam_line: &[Curve],
    ground: &mut Ground,
) -> Vec<Item> {
    let near = middle(seam_line);
    let most = words_size(seam_line);
    let arrows = grain::places(ground, piece.grain);
    for more in shorter_and_shorter(piece, interfaced, labels) {
        let said = Said::new(&words::title(piece), &more);
        let mut best: Option<(Placed, Ground, Vec<Item>)> = None;
        for arrow in &arrows {
            let mut with_arrow = ground.clone();
            let drawn = arrow.items(&piece.name, &mut with_arrow);
            let least = best.as_ref().map_or(0.0, |(placed, ..)| placed.size_mm);
            if let Some(placed) = said.find(&with_arrow, most, least, near) {
                best = Some((placed, with_arrow, drawn));
            }
            if best
                .as_ref()
                .is_some_and(|(placed, ..)| placed.size_mm >= most)
            {
                break;
            }
        }
        if let Some((placed, with_arrow, mut items)) = best {
            *ground = with_arrow;
            items.extend(placed.items(ground));
            return items;
        }
    }
    let mut items = arrows
        .first()
        .map_or_else(Vec::new, |arrow| arrow.items(&piece.name, ground));
    items.extend(words_beside(piece, interfaced, labels, ground));
    items
}

/// The middle of the roomiest place.
fn middle(seam_line: &[Curve]) -> Point {
    let tolerance = Tolerance::from_mm(2.0).unwrap_or(Tolerance::DRAWING);
    roomiest(seam_line, tolerance).map_or(Point::ORIGIN, |room| room.point)
}

/// Larger words on larger pieces, in whole half millimetres.
fn words_size(seam_line: &[Curve]) -> f64 {
    let [least, most] = WORDS_MM;
    let size = enclosed_area(seam_line).max(0.0).sqrt() / SIDE_IN_EMS;
    (size * 2.0).round().clamp(least * 2.0, most * 2.0) / 2.0
}

/// Everything there is to say, then less and less for pieces that have no room for it.
fn shorter_and_shorter(piece: &Piece, interfaced: bool, labels: &Labels) -> [Vec<Vec<String>>; 4] {
    let cut = words::cut(&piece.cut);
    let one = |text: &str| vec![text.to_owned()];
    let behind = if interfaced {
        "interfacing behind all of it"
    } else {
        ""
    };
    let mut full = vec![
        one(&labels.garment),
        one(&labels.version),
        one(&labels.body),
        one(&cut),
        one(behind),
        words::allowances(piece),
        one(labels.date.as_deref().unwrap_or_default()),
    ];
    full.retain(|sentence| sentence.iter().any(|phrase| !phrase.is_empty()));
    [
        full,
        vec![one(&labels.garment), one(&cut)],
        vec![one(&cut)],
        Vec::new(),
    ]
}

/// Words below a piece that has no room for any: better there than nowhere.
fn words_beside(
    piece: &Piece,
    interfaced: bool,
    labels: &Labels,
    ground: &mut Ground,
) -> Vec<Item> {
    let bounds = piece.outline_path().control_box();
    let widest = piece
        .edges
        .iter()
        .map(|edge| edge.allowance)
        .fold(0.0, f64::max);
    let at = Point::new(bounds.x0, bounds.y1) + Vec2::new(0.0, widest * 1.5 + 3.0);
    let [full, ..] = shorter_and_shorter(piece, interfaced, labels);
    let placed = Said::new(&words::title(piece), &full).set_at(ground, LEAST_MM, at);
    placed.map_or_else(Vec::new, |placed| placed.items(ground))
}

/// Gives a number to every id that is there already.
fn name_once(items: &mut [Item]) {
    let mut seen: Vec<String> = Vec::new();
    for id in items.iter_mut().filter_map(|item| item.id.as_mut()) {
        let wanted = id.clone();
        let mut number = 2;
        while seen.contains(id) {
            *id = format!("{wanted}-{number}");
            number += 1;
        }
        seen.push(id.clone());
    }
}
