//! The layout drawing: how pieces lie on the cloth, to scale; at 1 : 10 a millimetre of paper is a centimetre of cloth.
//!
//! Knows lays, cloths and panels; no price and no file. Invariants: every copy of a lay stands in it with its number in the order
//! of cutting; no words lie on other words or across a cutting line; what has no room for its name has its number, and the list
//! below says what it is.

mod ground;
mod label;
mod piece;

use cloth::goods::Cloth;
use cloth::lay::{Lay, Part, Way};
use geometry::{Affine, Point, Rect};
use pattern::Pattern;
use sheet::{Colour, Drawing, Item, Panel, Turns, Words};

use crate::Labels;

/// How many times smaller than the cloth a lay is drawn where its paper allows it.
pub const LAY_SCALE: f64 = 10.0;
/// Room between the sections and round them, mm of paper.
const GAP: f64 = 8.0;
/// Size of words in headings and in the list below, mm.
const HEADING: f64 = 4.0;
const LISTED: f64 = 3.0;
/// The narrowest drawing, mm of paper, so that the list has room.
const NARROWEST: f64 = 150.0;

/// What is said above a lay.
#[derive(Clone, Debug, PartialEq)]
pub struct LayWords {
    /// "Black wool crepe, folded lengthwise".
    pub title: String,
    /// Lines below it: lengths, what it is bounded by.
    pub lines: Vec<String>,
    /// How many times smaller than the cloth it is drawn.
    pub scale: f64,
}

/// A lay as a panel. `order` lists its copies as they are cut.
pub fn lay_panel(
    pattern: &Pattern,
    cloth: &Cloth,
    lay: &Lay,
    order: &[usize],
    words: &LayWords,
) -> Panel {
    panel(Some(pattern), cloth, lay, order, words)
}

/// The same without the pieces: as large as the whole, and done at once.
pub fn lay_frame(cloth: &Cloth, lay: &Lay, order: &[usize], words: &LayWords) -> Panel {
    panel(None, cloth, lay, order, words)
}

fn panel(
    pattern: Option<&Pattern>,
    cloth: &Cloth,
    lay: &Lay,
    order: &[usize],
    words: &LayWords,
) -> Panel {
    let cloth = cloth.as_laid();
    let mut items = Vec::new();
    let wide = lay
        .sections
        .iter()
        .map(|section| section.length / words.scale + ground::SIDES)
        .fold(NARROWEST, f64::max);
    let mut below = heading(&mut items, words, wide);
    for section in 0..lay.sections.len() {
        below = one_section(
            pattern,
            &cloth,
            lay,
            order,
            (section, below, words.scale),
            &mut items,
        );
    }
    list(&mut items, lay, order, (below, wide), words.scale);
    Panel {
        id: format!("lay-{}", lay.way.word()),
        title: words.title.clone(),
        items,
        turns: Turns::Half,
    }
}

/// A lay as a drawing of its own.
pub fn lay_drawing(panel: Panel, labels: &Labels) -> Drawing {
    Drawing {
        title: labels.garment.clone(),
        subject: labels.body.clone(),
        version: labels.version.clone(),
        date: labels.date.clone(),
        language: "en".to_owned(),
        panels: vec![panel],
        plates: Vec::new(),
        lists: Vec::new(),
        legend: Vec::new(),
    }
}

fn heading(items: &mut Vec<Item>, words: &LayWords, wide: f64) -> f64 {
    let mut below = HEADING;
    let title = Words::new(Point::new(0.0, below), HEADING, &words.title).bold();
    items.push(Item::text(title));
    for line in &words.lines {
        for line in wrapped(line, wide) {
            below += LISTED * 1.5;
            let line = Words::new(Point::new(0.0, below), LISTED, line).coloured(Colour::QUIET);
            items.push(Item::text(line));
        }
    }
    below + GAP
}

/// Breaks a line between words, and never between a number and its unit.
fn wrapped(text: &str, wide: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    let mut rest: Vec<&str> = text.split(' ').collect();
    while !rest.is_empty() {
        let fits = |count: &usize| {
            let line = rest[..*count].join(" ");
            let is_whole = rest.get(*count).is_none_or(|next| !is_unit(next));
            is_whole && sheet::text_width(&line, LISTED, sheet::Weight::Regular) <= wide
        };
        let count = (1..=rest.len()).rev().find(fits).unwrap_or(rest.len());
        lines.push(rest.drain(..count).collect::<Vec<&str>>().join(" "));
    }
    lines
}

fn is_unit(word: &str) -> bool {
    let bare = word.trim_end_matches([',', '.', ':', ';']);
    matches!(bare, "m" | "cm" | "mm" | "%" | "°")
}

fn one_section(
    pattern: Option<&Pattern>,
    cloth: &Cloth,
    lay: &Lay,
    order: &[usize],
    (index, below, scale): (usize, f64, f64),
    items: &mut Vec<Item>,
) -> f64 {
    let section = &lay.sections[index];
    let mut top = below;
    if lay.sections.len() > 1 {
        let text = format!("Section {}: {}", index + 1, section.way.title());
        let at = Point::new(0.0, top + LISTED);
        items.push(Item::text(Words::new(at, LISTED, text).bold()));
        top += LISTED * 2.0;
    }
    top += ground::ABOVE + cloth.selvedge / scale;
    let onto = Affine::translate((ground::LEFT, top)) * Affine::scale(1.0 / scale);
    items.extend(ground::items(cloth, lay, index, onto));
    let here = order
        .iter()
        .enumerate()
        .filter(|(_, at)| lay.copies[**at].section == index);
    for (number, &at) in here {
        let copy = &lay.copies[at];
        let drawn = pattern.map(|pattern| piece::items(pattern, copy, number + 1, onto, cloth));
        items.extend(drawn.into_iter().flatten());
    }
    top + (section.width + cloth.selvedge) / scale + ground::BELOW + GAP
}

/// What each number is, in columns.
fn list(items: &mut Vec<Item>, lay: &Lay, order: &[usize], (top, wide): (f64, f64), scale: f64) {
    let rows: Vec<String> = order
        .iter()
        .enumerate()
        .map(|(number, &at)| format!("{}  {}", number + 1, piece::said(&lay.copies[at])))
        .collect();
    let longest = rows
        .iter()
        .map(|row| sheet::text_width(row, LISTED, sheet::Weight::Regular))
        .fold(1.0, f64::max);
    let columns = ((wide / (longest + GAP)).floor() as usize).clamp(1, rows.len().max(1));
    let high = rows.len().div_ceil(columns);
    let first = Point::new(0.0, top + LISTED);
    let heading = Words::new(first, LISTED, "In the order in which they are cut:").bold();
    items.push(Item::text(heading));
    for (index, row) in rows.into_iter().enumerate() {
        let (column, line) = (index / high, index % high);
        let at = Point::new(
            column as f64 * (longest + GAP),
            first.y + (line + 1) as f64 * LISTED * 1.5,
        );
        items.push(Item::text(Words::new(at, LISTED, row)));
    }
    let last = first.y + (high as f64 + 2.0) * LISTED * 1.5;
    for (index, line) in legend(lay, scale).into_iter().enumerate() {
        let at = Point::new(0.0, last + index as f64 * LISTED * 1.5);
        items.push(Item::text(
            Words::new(at, LISTED, line).coloured(Colour::QUIET),
        ));
    }
}

/// What the shades and signs mean that this lay has.
fn legend(lay: &Lay, scale: f64) -> Vec<String> {
    let mut said = vec![format!(
        "Scale 1 : {scale}; numbers along the cloth are centimetres. Arrows lie along the lengthwise grain."
    )];
    if lay.copies.iter().any(|copy| copy.face_down) {
        said.push("Grey: the paper piece lies face down.".to_owned());
    }
    if lay.copies.iter().any(|copy| copy.part == Part::Both) && lay.way != Way::Open {
        said.push("Folded right sides together: a pair is cut through both layers.".to_owned());
    }
    said
}

/// A rectangle of cloth on paper.
fn rectangle(onto: Affine, low: Point, high: Point) -> geometry::BezPath {
    let corners = Rect::from_points(onto * low, onto * high);
    let mut path = geometry::BezPath::new();
    path.move_to(corners.origin());
    path.line_to((corners.x1, corners.y0));
    path.line_to((corners.x1, corners.y1));
    path.line_to((corners.x0, corners.y1));
    path.close_path();
    path
}
