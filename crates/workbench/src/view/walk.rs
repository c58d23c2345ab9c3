//! Walking a seam: its two sides laid out step by step, with their lengths, their ease and the notches that meet.

use geometry::{Point, Tolerance};
use pattern::{Edge, Fullness, Mark, Pattern, Piece, Seam, Stretch};
use serde::Serialize;

use super::partners::edge_id;
use super::path;
use super::units::Units;
use crate::desk::Table;

/// Places along a side at which it is shown.
const PLACES: u32 = 40;

/// A seam that is walked, as JSON.
#[derive(Serialize)]
pub(crate) struct WalkView {
    seam: String,
    title: String,
    a: SideView,
    b: SideView,
    ease_shown: String,
    agrees: bool,
    path_a: Vec<[f64; 2]>,
    path_b: Vec<[f64; 2]>,
    notches: Vec<NotchView>,
}

#[derive(Serialize)]
struct SideView {
    piece: String,
    edge: String,
    edges: Vec<String>,
    title: String,
    length_shown: String,
}

/// A notch by the shares of both sides at which it stands.
#[derive(Serialize)]
struct NotchView {
    name: String,
    a: f64,
    b: f64,
}

/// One side: its edges in the order in which they are walked, each with its way.
type Side<'a> = Vec<(&'a Piece, &'a Edge, bool)>;

/// All seams with two sides, of the outside and between layers.
pub(crate) fn walks(pattern: &Pattern, table: &Table, units: Units) -> Vec<WalkView> {
    let seams = pattern.seams.iter().chain(&pattern.makeup.mates);
    seams
        .filter_map(|seam| walk(pattern, seam, table, units))
        .collect()
}

fn walk(pattern: &Pattern, seam: &Seam, table: &Table, units: Units) -> Option<WalkView> {
    let [a, b] = [&seam.held, &seam.worked].map(|stretches| side(pattern, stretches));
    let [long_a, long_b] = [length(&a), length(&b)];
    let (first_a, first_b) = (a.first()?, b.first()?);
    Some(WalkView {
        title: making::words::sentence(&format!("{} seam", drawing::spoken(&seam.name))),
        seam: seam.name.clone(),
        path_a: points(&a, long_a, table),
        path_b: points(&b, long_b, table),
        notches: notches((&a, long_a), (&b, long_b)),
        ease_shown: ease(seam.fullness, long_b - long_a, units),
        agrees: agrees(seam.fullness, long_a, long_b),
        a: view(first_a, &a, long_a, units),
        b: view(first_b, &b, long_b, units),
    })
}

fn side<'a>(pattern: &'a Pattern, stretches: &'a [Stretch]) -> Side<'a> {
    let of = |stretch: &'a Stretch| {
        let edges = pattern.edges_of(stretch).into_iter();
        edges.map(|(piece, edge)| (piece, edge, stretch.backwards))
    };
    stretches.iter().flat_map(of).collect()
}

fn length(side: &Side<'_>) -> f64 {
    side.iter().map(|(_, edge, _)| edge.length()).sum()
}

fn view(first: &(&Piece, &Edge, bool), side: &Side<'_>, long: f64, units: Units) -> SideView {
    let titles: Vec<String> = side
        .iter()
        .map(|(piece, edge, _)| format!("{} {}", piece.title(), drawing::spoken(&edge.name)))
        .collect();
    SideView {
        piece: first.0.name.clone(),
        edge: edge_id(&first.0.name, &first.1.name),
        edges: side
            .iter()
            .map(|(piece, edge, _)| edge_id(&piece.name, &edge.name))
            .collect(),
        title: making::words::listed(&titles),
        length_shown: units.length(long),
    }
}

/// Points along a side at equal shares of its length, on the drawing.
fn points(side: &Side<'_>, long: f64, table: &Table) -> Vec<[f64; 2]> {
    let shares = (0..=PLACES).map(|place| f64::from(place) / f64::from(PLACES));
    shares
        .filter_map(|share| place(side, share * long))
        .map(|(piece, at)| path::point(at + table.at(piece)))
        .collect()
}

/// The piece and the point after so much of a side.
fn place<'a>(side: &Side<'a>, along: f64) -> Option<(&'a str, Point)> {
    let mut rest = along;
    let last = side.len().checked_sub(1)?;
    for (index, (piece, edge, backwards)) in side.iter().enumerate() {
        let long = edge.length();
        if rest <= long || index == last {
            let on_edge = if *backwards { long - rest } else { rest };
            return Some((&piece.name, edge.place_at(on_edge.clamp(0.0, long)).0));
        }
        rest -= long;
    }
    None
}

/// The notches that stand on both sides under one name.
fn notches(a: (&Side<'_>, f64), b: (&Side<'_>, f64)) -> Vec<NotchView> {
    let others = notches_of(b.0, b.1);
    notches_of(a.0, a.1)
        .into_iter()
        .filter_map(|(name, a)| {
            let (_, b) = others.iter().find(|(other, _)| *other == name)?;
            Some(NotchView {
                name: making::words::spoken(&name),
                a: share(a),
                b: share(*b),
            })
        })
        .collect()
}

/// A share, fine enough for the longest seam.
fn share(share: f64) -> f64 {
    (share * 1e5).round() / 1e5
}

/// Name and share of each notch of a side.
fn notches_of(side: &Side<'_>, long: f64) -> Vec<(String, f64)> {
    let mut walked = 0.0;
    let mut found = Vec::new();
    for (piece, edge, backwards) in side {
        let length = edge.length();
        for mark in &piece.marks {
            if let Mark::Notch {
                name,
                edge: on,
                along,
                ..
            } = mark
                && *on == edge.name
            {
                let along = if *backwards { length - along } else { *along };
                found.push((name.clone(), (walked + along) / long.max(1e-9)));
            }
        }
        walked += length;
    }
    found
}

fn ease(fullness: Fullness, longer: f64, units: Units) -> String {
    match fullness {
        Fullness::None => format!("sewn flat; they differ by {}", units.length(longer.abs())),
        Fullness::Eased(mm) => format!("{} eased in", units.length(mm)),
        Fullness::Gathered(times) => format!("gathered from {times:.2} times its length"),
        Fullness::Pleated(mm) => format!("{} laid in pleats", units.length(mm)),
    }
}

/// Whether the longer side is as much longer as is meant.
fn agrees(fullness: Fullness, held: f64, worked: f64) -> bool {
    let meant = match fullness {
        Fullness::None => held,
        Fullness::Eased(mm) | Fullness::Pleated(mm) => held + mm,
        Fullness::Gathered(times) => held * times,
    };
    // Sides that are sewn flat are held to a millimetre by the checks; what is drawn apart by less cannot be cut apart.
    (worked - meant).abs() <= 1.0 + Tolerance::DRAWING.mm()
}
