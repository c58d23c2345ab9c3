//! The block of words on a piece: set in lines, then put where it has room.
//!
//! Knows the ground, not the piece. Invariant: a block that was put on the ground lies inside the border, keeps
//! [`MARGINS_MM`] from everything, and none of its words is smaller than [`LEAST_MM`].

use geometry::{Angle, Point, Rect, Vec2};
use sheet::{Item, Weight, text_width, wrap};

use crate::ground::Ground;
use crate::lettering::{LEAST_MM, height, in_box};
use crate::view::{Heed, View};

/// How much larger the title is than the other words.
const TITLE: f64 = 1.6;
/// From one line to the next, in ems.
const LINE_HEIGHT: f64 = 1.3;
/// Widths of a block that are tried, in ems, the handiest first.
const WIDTHS: [f64; 8] = [22.0, 17.0, 28.0, 13.0, 36.0, 50.0, 75.0, 110.0];
/// Room beside a block and above and below it, mm, from the wished for to the least.
const MARGINS_MM: [(f64, f64); 4] = [(12.0, 12.0), (6.0, 6.0), (5.0, 1.5), (1.5, 1.5)];
/// Steps of size, mm.
const STEP_MM: f64 = 0.5;
/// What stands between two things said on one line.
const BETWEEN: &str = " · ";

/// What a piece says, set in blocks of several widths.
#[derive(Clone, Debug)]
pub(crate) struct Said {
    /// The handiest first, measured in ems.
    blocks: Vec<Block>,
}

/// Lines of words, measured in ems: all sizes are set alike.
#[derive(Clone, Debug)]
struct Block {
    lines: Vec<Line>,
    width: f64,
    height: f64,
}

#[derive(Clone, Debug)]
struct Line {
    text: String,
    weight: Weight,
    ems: f64,
    width: f64,
}

/// A block with its place.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    /// Size of all words but the title, mm.
    pub(crate) size_mm: f64,
    block: Block,
    view: View,
    at: Point,
}

impl Said {
    /// A title and sentences of one phrase or more; phrases are kept together where the width allows.
    pub(crate) fn new(title: &str, more: &[Vec<String>]) -> Self {
        let mut blocks: Vec<Block> = Vec::new();
        for width in WIDTHS {
            let block = Block::set(title, more, width);
            if !blocks.iter().any(|other| other.width == block.width) {
                blocks.push(block);
            }
        }
        Self { blocks }
    }

    /// Finds the place for the largest words, not above `most` and above `least`, as near as can be to a point.
    pub(crate) fn find(
        &self,
        ground: &Ground,
        most: f64,
        least: f64,
        near: Point,
    ) -> Option<Placed> {
        let views = [0.0, -90.0].map(|degrees| ground.seen_along(Angle::from_degrees(degrees)));
        let mut size_mm = most;
        while size_mm > least && size_mm >= LEAST_MM {
            for margin in MARGINS_MM {
                let found = views
                    .iter()
                    .find_map(|view| self.find_in(view, size_mm, margin, near));
                if found.is_some() {
                    return found;
                }
            }
            size_mm -= STEP_MM;
        }
        None
    }

    /// Sets the handiest block with its top left corner at a point, whatever lies there.
    pub(crate) fn set_at(&self, ground: &Ground, size_mm: f64, at: Point) -> Option<Placed> {
        let block = self.blocks.first()?.clone();
        let view = ground.seen_along(Angle::from_degrees(0.0));
        Some(Placed {
            size_mm,
            block,
            view,
            at,
        })
    }

    fn find_in(
        &self,
        view: &View,
        size_mm: f64,
        margin: (f64, f64),
        near: Point,
    ) -> Option<Placed> {
        let near = view.from_piece * near;
        self.blocks.iter().find_map(|block| {
            let size = Vec2::new(block.width, block.height) * size_mm;
            let at = place(size, view, margin, near)?;
            Some(Placed {
                size_mm,
                block: block.clone(),
                view: view.clone(),
                at,
            })
        })
    }
}

impl Block {
    /// Sets the words in lines of a width; sentences that fit share a line.
    fn set(title: &str, more: &[Vec<String>], width: f64) -> Self {
        let widest = width.max(TITLE * 6.0);
        let titles = wrap(title, TITLE, Weight::Bold, widest);
        let texts = more
            .iter()
            .fold(Vec::new(), |texts, sentence| set_on(texts, sentence, width));
        let titles = titles
            .into_iter()
            .map(|text| Line::new(text, Weight::Bold, TITLE));
        let lines: Vec<Line> = titles
            .chain(
                texts
                    .into_iter()
                    .map(|text| Line::new(text, Weight::Regular, 1.0)),
            )
            .collect();
        let width = lines.iter().map(|line| line.width).fold(0.0, f64::max);
        // The last line needs no room for another below it.
        let last = lines
            .last()
            .map_or(0.0, |line| height(line.ems) - line.ems * LINE_HEIGHT);
        let height = lines.iter().map(|line| line.ems * LINE_HEIGHT).sum::<f64>() + last;
        Self {
            lines,
            width,
            height,
        }
    }
}

impl Line {
    fn new(text: String, weight: Weight, ems: f64) -> Self {
        let width = text_width(&text, ems, weight);
        Self {
            text,
            weight,
            ems,
            width,
        }
    }
}

/// Sets a sentence: after what stands on the last line where all of it fits, else from a line of its own, breaking
/// between phrases.
fn set_on(mut texts: Vec<String>, sentence: &[String], width: f64) -> Vec<String> {
    let fits = |text: &str| text_width(text, 1.0, Weight::Regular) <= width;
    let whole = sentence.join(", ");
    let joined = texts.last().map(|last| format!("{last}{BETWEEN}{whole}"));
    if let (Some(joined), Some(last)) = (joined.filter(|text| fits(text)), texts.last_mut()) {
        *last = joined;
        return texts;
    }
    let mut line = String::new();
    for (index, phrase) in sentence.iter().enumerate() {
        let comma = if index + 1 < sentence.len() { "," } else { "" };
        let longer = format!("{line} {phrase}{comma}");
        if line.is_empty() || !fits(&longer) {
            texts.extend(broken(&line, width));
            line = format!("{phrase}{comma}");
        } else {
            line = longer;
        }
    }
    texts.extend(broken(&line, width));
    texts
}

/// Breaks words into lines of a width; a number keeps its unit.
fn broken(text: &str, width: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let longer = lines.last().map(|line| format!("{line} {word}"));
        let fits = |text: &str| text_width(text, 1.0, Weight::Regular) <= width;
        match (longer, lines.last_mut()) {
            (Some(longer), Some(line))
                if line.ends_with(|last: char| last.is_ascii_digit()) || fits(&longer) =>
            {
                *line = longer;
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

/// The free place for a box nearest to a point, by its top left corner.
fn place(size: Vec2, view: &View, margin: (f64, f64), near: Point) -> Option<Point> {
    let bounds = view.bounds();
    let (top, room) = (
        bounds.y0 + margin.1,
        bounds.height() - size.y - 2.0 * margin.1,
    );
    if room < 0.0 || bounds.width() < size.x + 2.0 * margin.0 {
        return None;
    }
    let steps = (room / (size.y / 4.0).clamp(1.0, 12.0)).ceil().max(2.0);
    let mut best: Option<(f64, Point)> = None;
    for step in 0..=steps as usize {
        let top = top + room * step as f64 / steps;
        let down = top + size.y / 2.0 - near.y;
        if best.is_some_and(|(least, _)| down * down >= least) {
            continue;
        }
        for gap in view.gaps(top, top + size.y, margin, Heed::All) {
            if gap.length() < size.x {
                continue;
            }
            let half = size.x / 2.0;
            let middle = near.x.clamp(gap.from + half, gap.to - half);
            let off = (middle - near.x) * (middle - near.x) + down * down;
            if best.is_none_or(|(least, _)| off < least) {
                best = Some((off, Point::new(middle - half, top)));
            }
        }
    }
    best.map(|(_, at)| at)
}

impl Placed {
    /// The words, put on the ground.
    pub(crate) fn items(self, ground: &mut Ground) -> Vec<Item> {
        let mut items = Vec::with_capacity(self.block.lines.len());
        let mut top = self.at;
        for line in &self.block.lines {
            let size_mm = line.ems * self.size_mm;
            let area = Rect::from_origin_size(top, (line.width * self.size_mm, height(size_mm)));
            ground.add_box(self.view.angle, area);
            let mut words = in_box(&self.view, area, size_mm, &line.text);
            words.weight = line.weight;
            items.push(Item::text(words));
            top.y += size_mm * LINE_HEIGHT;
        }
        items
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lines_break_between_phrases_and_keep_units() {
        let allowance = [
            "allowance: 15 mm",
            "cap back and cap front 12 mm",
            "hem 30 mm",
        ]
        .map(String::from);
        let said = |width| set_on(vec!["cut 2".to_owned()], &allowance, width).join("|");
        assert_eq!(
            said(60.0),
            "cut 2 · allowance: 15 mm, cap back and cap front 12 mm, hem 30 mm"
        );
        assert_eq!(
            said(18.0),
            "cut 2|allowance: 15 mm,|cap back and cap front 12 mm,|hem 30 mm"
        );
        assert_eq!(
            said(10.0),
            "cut 2|allowance: 15 mm,|cap back and cap|front 12 mm,|hem 30 mm"
        );
    }
}
