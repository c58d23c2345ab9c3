//! Pieces whole on large paper: a sheet, or a length of roll.
//!
//! The first page bears a panel with the squares to measure and the list of what to cut, packed among the pieces. Where a
//! piece is larger than the paper, sheets of it are joined like tiles.

use geometry::{Point, Rect, Vec2};

use crate::cover::{self, GAP_MM};
use crate::drawing::{Drawing, Item, Line, Panel, Turns};
use crate::fault::Fault;
use crate::flow::{self, Column, Paragraph};
use crate::ink::{self, Turned};
use crate::layer::Layer;
use crate::layout::{self, Page};
use crate::marks::rectangle;
use crate::pack::{self, Spot};
use crate::paper::{Paper, PaperSize, Spread};
use crate::plate;
use crate::squares::{self, INCHES_MM, METRIC_MM};
use crate::tiles::Tiling;

/// Width of the column of words, mm.
const COLUMN_MM: f64 = 100.0;
/// Size in which plates are packed among the pieces, mm: that of an A4 page.
const PLATE_MM: Vec2 = Vec2::new(194.0, 281.0);
/// Orders of packing tried beyond the usual ones.
const SHUFFLES: usize = 24;

/// The pages of a drawing on large paper.
pub(crate) fn pages(drawing: &Drawing, paper: &Paper) -> Result<Vec<Page>, Fault> {
    let mut panels = vec![about(drawing)];
    panels.extend(drawing.plates.iter().map(|one| plate::panel(one, PLATE_MM)));
    panels.extend(drawing.panels.iter().cloned());
    let turned: Vec<Vec<Turned>> = panels.iter().map(ink::turned).collect();
    let (width, height) = paper.size.size_mm();
    let printed = Rect::new(0.0, 0.0, width, height).inset(-paper.margin_mm);
    let Some(spots) = best(&turned, printed.size().to_vec2()) else {
        return joined(drawing, paper);
    };
    let count = spots.iter().map(|spot| spot.page + 1).max().unwrap_or(0);
    Ok((0..count)
        .map(|index| page(index, &panels, &turned, &spots, paper))
        .collect())
}

/// Sheets that are joined, for pieces larger than one; their cover is an A3 page, which every copy shop has.
fn joined(drawing: &Drawing, paper: &Paper) -> Result<Vec<Page>, Fault> {
    let tiling = Tiling::of(&drawing.panels, paper)?;
    let of_cover = Paper {
        size: PaperSize::A3,
        ..*paper
    };
    let mut pages = cover::pages(drawing, &of_cover, &tiling);
    pages.extend(plate::pages(drawing, &of_cover));
    let front = pages.len();
    pages.extend(tiling.pages(&drawing.title, front));
    Ok(pages)
}

/// The packing with the fewest pages, then the least length of paper. The panel about the sheet always comes first.
fn best(turned: &[Vec<Turned>], page: Vec2) -> Option<Vec<Spot>> {
    let mut best: Option<((usize, f64), Vec<Spot>)> = None;
    for mut order in pack::orders(turned, SHUFFLES) {
        order.retain(|panel| *panel != 0);
        order.insert(0, 0);
        let spots = pack::on_pages(turned, &order, page)?;
        let pages = spots.iter().map(|spot| spot.page + 1).max().unwrap_or(0);
        let length = (0..pages).map(|page| pack::lowest(&spots, page)).sum();
        if best.as_ref().is_none_or(|(old, _)| (pages, length) < *old) {
            best = Some(((pages, length), spots));
        }
    }
    best.map(|(_, spots)| spots)
}

fn page(
    index: usize,
    panels: &[Panel],
    turned: &[Vec<Turned>],
    spots: &[Spot],
    paper: &Paper,
) -> Page {
    let (width_mm, tallest) = paper.size.size_mm();
    let margin = paper.margin_mm;
    let height_mm = match paper.size.spread() {
        // Cut to a whole millimetre below the last piece.
        Spread::Roll => (pack::lowest(spots, index) + 2.0 * margin).ceil(),
        Spread::Sheets | Spread::Tiles => tallest,
    };
    let printed = Rect::new(margin, margin, width_mm - margin, height_mm - margin);
    let window = Rect::from_origin_size(Point::ORIGIN, printed.size());
    let mut here: Vec<&Spot> = spots.iter().filter(|spot| spot.page == index).collect();
    here.sort_by_key(|spot| spot.panel);
    let put = |spot: &&Spot| layout::put(&panels[spot.panel], &turned[spot.panel][spot.turn], spot);
    let pieces = here.iter().map(put);
    Page {
        label: format!("sheet {}", index + 1),
        width_mm,
        height_mm,
        printed,
        shows: Some(window),
        groups: pieces
            .filter_map(|piece| piece.on_page(window, printed))
            .collect(),
    }
}

/// The panel that says what the sheet is and bears the squares to measure.
fn about(drawing: &Drawing) -> Panel {
    let width = METRIC_MM + INCHES_MM + COLUMN_MM + 2.0 * GAP_MM;
    let (mut items, below) = cover::header(drawing, Point::ORIGIN, width);
    let inch = Point::new(METRIC_MM + GAP_MM, below);
    items.extend(squares::metric(Point::new(0.0, below), &asking()));
    let (square, left_over) = squares::inches(inch, drawing);
    items.extend(square);
    let left = inch.x + INCHES_MM + GAP_MM;
    let area = Rect::new(left, below, left + COLUMN_MM, f64::INFINITY);
    let to_read = [cover::lists(drawing), left_over].concat();
    let (words, end) = flow::set(&to_read, |_| Column { page: 0, area });
    items.extend(words.into_iter().map(|(_, item)| item));
    let bottom = end.max(below + INCHES_MM);
    let frame = rectangle(Rect::new(0.0, 0.0, width, bottom).inflate(GAP_MM, GAP_MM));
    items.push(Item::path(Layer::Furniture, frame, Line::solid(0.25)));
    Panel {
        id: "about-this-sheet".to_owned(),
        title: "About this sheet".to_owned(),
        items,
        turns: Turns::None,
    }
}

fn asking() -> Vec<Paragraph> {
    vec![
        Paragraph::line("Ask for 100 %, without scaling and without “fit to page”."),
        Paragraph::line(
            "Measure both squares before you cut. If one is off, the sheet must be printed again.",
        ),
    ]
}
