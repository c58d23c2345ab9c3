//! The first page: what this is, squares to measure, the map of the sheets, how to join them, what to cut.
//!
//! Made for upright paper from 200 mm of width on. Invariant: both squares lie on the first page; words that find no room
//! there go on to further pages.

use geometry::{Point, Rect, Vec2};

use crate::drawing::{Colour, Drawing, Item, Line, Words};
use crate::flow::{self, Column, Paragraph};
use crate::font::{self, Weight};
use crate::layer::Layer;
use crate::layout::{Group, Page};
use crate::paper::Paper;
use crate::tiles::Tiling;
use crate::{map, marks, squares};

/// Room between things, mm.
pub(crate) const GAP_MM: f64 = 6.0;

/// The cover of a tiled drawing, and further pages where its words need them.
pub(crate) fn pages(drawing: &Drawing, paper: &Paper, tiling: &Tiling) -> Vec<Page> {
    let (width, height) = paper.size.size_mm();
    let area = Rect::new(0.0, 0.0, width, height).inset(-paper.margin_mm);
    let (mut items, below) = header(drawing, area.origin(), area.width());
    let mm = Point::new(area.x0, below);
    let inch = mm + Vec2::new(0.0, squares::METRIC_MM + GAP_MM);
    items.extend(squares::metric(mm, &joining(paper, tiling)));
    let (square, left_over) = squares::inches(inch, drawing);
    items.extend(square);
    let right = Rect::new(
        area.x0 + squares::INCHES_MM + GAP_MM,
        below,
        area.x1,
        area.y1,
    );
    let map_area = Rect::new(
        right.x0,
        right.y0,
        right.x1,
        right.y0 + right.height() * 0.5,
    );
    let (drawn, map_bottom) = map::items(tiling, map_area);
    items.extend(drawn);
    let list = Rect::new(right.x0, map_bottom + GAP_MM, right.x1, right.y1);
    let under = Rect::new(
        area.x0,
        inch.y + squares::INCHES_MM + GAP_MM,
        right.x0 - GAP_MM,
        area.y1,
    );
    let to_read = [lists(drawing), left_over].concat();
    let (words, _) = flow::set(&to_read, |index| column(index, &[list, under], area));
    let count = words.iter().map(|(page, _)| *page).max().unwrap_or(0) + 1;
    let mut pages: Vec<Page> = (0..count)
        .map(|index| blank(index, width, height, area))
        .collect();
    pages[0].groups[0].items = items;
    for (page, item) in words {
        pages[page].groups[0].items.push(item);
    }
    pages
}

/// Title, subject, version and date; returns where the room below begins.
pub(crate) fn header(drawing: &Drawing, at: Point, width: f64) -> (Vec<Item>, f64) {
    let size = fitting(&drawing.title, 9.0, Weight::Bold, width);
    let mut y = at.y + size;
    let mut items = vec![furniture(
        Words::new(Point::new(at.x, y), size, drawing.title.as_str()).bold(),
    )];
    let date = drawing.date.clone().unwrap_or_default();
    let version = [drawing.version.as_str(), date.as_str()];
    let version: Vec<&str> = version
        .into_iter()
        .filter(|part| !part.is_empty())
        .collect();
    for text in [drawing.subject.clone(), version.join(" · ")] {
        if !text.is_empty() {
            y += 5.6;
            let size = fitting(&text, 3.6, Weight::Regular, width);
            let words = Words::new(Point::new(at.x, y), size, text);
            items.push(furniture(words.coloured(Colour::QUIET)));
        }
    }
    let rule = marks::line(Point::new(at.x, y + 4.0), Point::new(at.x + width, y + 4.0));
    items.push(Item::path(Layer::Furniture, rule, Line::solid(0.35)));
    (items, y + 4.0 + GAP_MM)
}

/// What to cut and what to buy.
pub(crate) fn lists(drawing: &Drawing) -> Vec<Paragraph> {
    let lists = drawing.lists.iter();
    lists
        .flat_map(|list| part(&list.title, &list.lines))
        .collect()
}

/// What else must be known.
pub(crate) fn to_know(drawing: &Drawing) -> Vec<Paragraph> {
    part("To know", &drawing.legend)
}

fn part(title: &str, lines: &[String]) -> Vec<Paragraph> {
    let heading = (!lines.is_empty()).then(|| Paragraph::heading(title));
    let entries = lines.iter().map(Paragraph::entry);
    heading.into_iter().chain(entries).collect()
}

fn joining(paper: &Paper, tiling: &Tiling) -> Vec<Paragraph> {
    let count = tiling.tiles().count();
    vec![
        Paragraph::line(format!(
            "Print at 100 % (“actual size”), on one side. If a square is off, set the printer right and print this \
             page again before the {count} others."
        )),
        Paragraph::heading("To join the sheets"),
        Paragraph::entry("1 Lay them out as the map shows: letters are rows, numbers are columns."),
        Paragraph::entry(
            "2 Trim each sheet along the solid lines with scissors on its left and upper edge.",
        ),
        Paragraph::entry(format!(
            "3 Lay the trimmed edge on the dashed line of the sheet before it; the strip is {} mm wide. Half diamonds \
             of one number meet.",
            paper.overlap_mm
        )),
        Paragraph::entry(
            "4 Glue the sheets of each row, then row to row. Places that are blank on the map stay open.",
        ),
        Paragraph::line(
            "Trim with a ruler that guards the fingers; put blades away from children.",
        ),
    ]
}

/// The columns of words: first those of the cover, then two on each further page.
fn column(index: usize, first: &[Rect], area: Rect) -> Column {
    if let Some(area) = first.get(index) {
        return Column {
            page: 0,
            area: *area,
        };
    }
    let further = index - first.len();
    let width = (area.width() - GAP_MM) / 2.0;
    let left = area.x0 + (further % 2) as f64 * (width + GAP_MM);
    Column {
        page: 1 + further / 2,
        area: Rect::new(left, area.y0, left + width, area.y1),
    }
}

fn blank(index: usize, width_mm: f64, height_mm: f64, printed: Rect) -> Page {
    let label = if index == 0 {
        "cover".to_owned()
    } else {
        format!("cover {}", index + 1)
    };
    Page {
        label,
        width_mm,
        height_mm,
        printed,
        shows: None,
        groups: vec![Group {
            id: None,
            clip: None,
            items: Vec::new(),
        }],
    }
}

/// The size in which words fit a width, at most `most`.
pub(crate) fn fitting(text: &str, most: f64, weight: Weight, width: f64) -> f64 {
    let natural = font::text_width(text, most, weight);
    if natural > width {
        (most * width / natural).max(1.0)
    } else {
        most
    }
}

pub(crate) fn furniture(words: Words) -> Item {
    Item::words(Layer::Furniture, words)
}
