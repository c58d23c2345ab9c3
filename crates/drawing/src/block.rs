//! The block of words on a piece: set in lines, then put where it has room.
//!
//! Knows the ground, not the piece. Invariant: a block that was put on the ground lies inside the border, keeps
//! [`MARGINS_MM`] from everything, and none of its words is smaller than [`LEAST_MM`].

use geometry::{Angle, Point, Rect};
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
/// Width of words that stand beside their piece, mm.
const BESIDE_MM: f64 = 60.0;
/// Steps of size, mm.
const STEP_MM: f64 = 0.5;
/// What stands between two things said on one line.
const BETWEEN: &str = " · ";

/// What a block says.
#[derive(Clone, Debug)]
pub(crate) struct Said {
    pub(crate) title: String,
    /// Sentences of one phrase or more; phrases are kept together where the width allows.
    pub(crate) more: Vec<Vec<String>>,
}

/// A block with its place.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    /// Size of all words but the title, mm.
    pub(crate) size_mm: f64,
    lines: Vec<Line>,
    view: View,
    at: Point,
}

#[derive(Clone, Debug)]
struct Line {
    text: String,
    size_mm: f64,
    weight: Weight,
}

struct Block {
    lines: Vec<Line>,
    width: f64,
    height: f64,
}

impl Said {
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

    /// Sets the block with its top left corner at a point, whatever lies there.
    pub(crate) fn set_at(&self, ground: &Ground, size_mm: f64, at: Point) -> Placed {
        let block = self.set(size_mm, BESIDE_MM);
        let view = ground.seen_along(Angle::from_degrees(0.0));
        Placed {
            size_mm,
            lines: block.lines,
            view,
            at,
        }
    }

    fn find_in(
        &self,
        view: &View,
        size_mm: f64,
        margin: (f64, f64),
        near: Point,
    ) -> Option<Placed> {
        let near = view.from_piece * near;
        let mut tried: Vec<f64> = Vec::new();
        WIDTHS.iter().find_map(|ems| {
            let block = self.set(size_mm, ems * size_mm);
            let is_new = !tried.contains(&block.width);
            tried.push(block.width);
            let at = is_new.then(|| block.place(view, margin, near)).flatten()?;
            Some(Placed {
                size_mm,
                lines: block.lines,
                view: view.clone(),
                at,
            })
        })
    }

    /// Sets the words in lines of a width; sentences that fit share a line.
    fn set(&self, size_mm: f64, width: f64) -> Block {
        let title_size = size_mm * TITLE;
        let line = |size_mm, weight| {
            move |text| Line {
                text,
                size_mm,
                weight,
            }
        };
        let title = wrap(
            &self.title,
            title_size,
            Weight::Bold,
            width.max(title_size * 6.0),
        );
        let mut lines: Vec<Line> = title
            .into_iter()
            .map(line(title_size, Weight::Bold))
            .collect();
        let texts = self.more.iter().fold(Vec::new(), |texts, sentence| {
            set_on(texts, sentence, size_mm, width)
        });
        lines.extend(texts.into_iter().map(line(size_mm, Weight::Regular)));
        Block::of(lines)
    }
}

/// Sets a sentence: after what stands on the last line where all of it fits, else from a line of its own, breaking
/// between phrases.
fn set_on(mut texts: Vec<String>, sentence: &[String], size_mm: f64, width: f64) -> Vec<String> {
    let fits = |text: &str| text_width(text, size_mm, Weight::Regular) <= width;
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
            texts.extend(wrap(&line, size_mm, Weight::Regular, width));
            line = format!("{phrase}{comma}");
        } else {
            line = longer;
        }
    }
    texts.extend(wrap(&line, size_mm, Weight::Regular, width));
    texts
}

impl Block {
    fn of(lines: Vec<Line>) -> Self {
        let width = lines.iter().map(Line::width).fold(0.0, f64::max);
        let last = lines.last().map_or(0.0, |line| {
            height(line.size_mm) - line.size_mm * LINE_HEIGHT
        });
        let height = lines
            .iter()
            .map(|line| line.size_mm * LINE_HEIGHT)
            .sum::<f64>()
            + last;
        Self {
            lines,
            width,
            height,
        }
    }

    /// The free place nearest to a point, by its top left corner.
    fn place(&self, view: &View, margin: (f64, f64), near: Point) -> Option<Point> {
        let bounds = view.bounds();
        let room = bounds.height() - self.height;
        if room < 0.0 || bounds.width() < self.width {
            return None;
        }
        let steps = (room / (self.height / 4.0).clamp(1.0, 12.0))
            .ceil()
            .max(2.0);
        let mut best: Option<(f64, Point)> = None;
        for step in 0..=steps as usize {
            let top = bounds.y0 + room * step as f64 / steps;
            let down = top + self.height / 2.0 - near.y;
            if best.is_some_and(|(least, _)| down * down >= least) {
                continue;
            }
            for gap in view.gaps(top, top + self.height, margin, Heed::All) {
                if gap.length() < self.width {
                    continue;
                }
                let half = self.width / 2.0;
                let middle = near.x.clamp(gap.from + half, gap.to - half);
                let off = (middle - near.x) * (middle - near.x) + down * down;
                if best.is_none_or(|(least, _)| off < least) {
                    best = Some((off, Point::new(middle - half, top)));
                }
            }
        }
        best.map(|(_, at)| at)
    }
}

impl Line {
    fn width(&self) -> f64 {
        text_width(&self.text, self.size_mm, self.weight)
    }
}

impl Placed {
    /// The words, put on the ground.
    pub(crate) fn items(self, ground: &mut Ground) -> Vec<Item> {
        let mut items = Vec::with_capacity(self.lines.len());
        let mut top = self.at;
        for line in &self.lines {
            let area = Rect::from_origin_size(top, (line.width(), height(line.size_mm)));
            ground.add_box(self.view.angle, area);
            let mut words = in_box(&self.view, area, line.size_mm, &line.text);
            words.weight = line.weight;
            items.push(Item::text(words));
            top.y += line.size_mm * LINE_HEIGHT;
        }
        items
    }
}
