//! Words that flow down columns and from page to page.
//!
//! Knows columns and paragraphs only. Invariant: no word is lost; a heading never stands last in a column,
//! and short paragraphs are not broken.

use geometry::{Point, Rect, Vec2};

use crate::drawing::{Item, Words};
use crate::font::{self, Weight};
use crate::layer::Layer;

/// Distance of base lines, in ems.
const LEADING: f64 = 1.4;
/// Lines up to which a paragraph is kept together.
const SHORT: usize = 4;
/// How far the further lines of a paragraph are set in, mm.
const HANG_MM: f64 = 3.0;

/// A paragraph.
#[derive(Clone, Debug)]
pub(crate) struct Paragraph {
    weight: Weight,
    size: f64,
    before: f64,
    hang: f64,
    text: String,
}

impl Paragraph {
    /// A heading, with room above it.
    pub(crate) fn heading(text: impl Into<String>) -> Self {
        Self {
            weight: Weight::Bold,
            size: 4.2,
            before: 3.0,
            hang: 0.0,
            text: text.into(),
        }
    }

    /// A paragraph to read.
    pub(crate) fn line(text: impl Into<String>) -> Self {
        Self {
            weight: Weight::Regular,
            size: 3.2,
            before: 0.8,
            hang: 0.0,
            text: text.into(),
        }
    }

    /// A line of a list: what does not fit hangs in.
    pub(crate) fn entry(text: impl Into<String>) -> Self {
        Self {
            hang: HANG_MM,
            ..Self::line(text)
        }
    }

    const fn is_heading(&self) -> bool {
        matches!(self.weight, Weight::Bold)
    }
}

/// A column on a page.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Column {
    /// Index of the page.
    pub(crate) page: usize,
    /// Where it lies on the page, mm.
    pub(crate) area: Rect,
}

/// Sets paragraphs into columns; `column` gives the one of an index, as many as are asked for. Returns the items with
/// the index of their page, and where the last line ends.
pub(crate) fn set(
    paragraphs: &[Paragraph],
    column: impl Fn(usize) -> Column,
) -> (Vec<(usize, Item)>, f64) {
    let mut setter = Setter {
        index: 0,
        here: column(0),
        y: 0.0,
        items: Vec::new(),
        column,
    };
    setter.y = setter.here.area.y0;
    for paragraph in paragraphs {
        setter.paragraph(paragraph);
    }
    (setter.items, setter.y)
}

struct Setter<C> {
    index: usize,
    here: Column,
    y: f64,
    items: Vec<(usize, Item)>,
    column: C,
}

impl<C: Fn(usize) -> Column> Setter<C> {
    fn paragraph(&mut self, paragraph: &Paragraph) {
        let height = paragraph.size * LEADING;
        if self.y > self.here.area.y0 {
            self.y += paragraph.before;
        }
        let mut lines = self.wrapped(paragraph);
        let below_heading = if paragraph.is_heading() { 2.0 } else { 0.0 };
        let wanted = (lines.len() as f64 + below_heading) * height;
        if lines.len() <= SHORT && self.y + wanted > self.here.area.y1 {
            self.next_column();
            lines = self.wrapped(paragraph);
        }
        for (number, text) in lines.into_iter().enumerate() {
            if self.y + height > self.here.area.y1 {
                self.next_column();
            }
            let hang = if number == 0 { 0.0 } else { paragraph.hang };
            let at = Point::new(self.here.area.x0, self.y) + Vec2::new(hang, paragraph.size);
            let mut words = Words::new(at, paragraph.size, text);
            words.weight = paragraph.weight;
            self.items
                .push((self.here.page, Item::words(Layer::Furniture, words)));
            self.y += height;
        }
    }

    fn wrapped(&self, paragraph: &Paragraph) -> Vec<String> {
        let width = self.here.area.width() - paragraph.hang;
        font::wrap(&paragraph.text, paragraph.size, paragraph.weight, width)
    }

    fn next_column(&mut self) {
        self.index += 1;
        self.here = (self.column)(self.index);
        self.y = self.here.area.y0;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Shape;

    fn column(index: usize) -> Column {
        Column {
            page: index,
            area: Rect::new(0.0, 0.0, 60.0, 30.0),
        }
    }

    fn text(item: &Item) -> &str {
        match &item.shape {
            Shape::Text(words) => &words.text,
            Shape::Path { .. } => "",
        }
    }

    #[test]
    fn no_word_is_lost_between_columns() {
        let list: Vec<String> = (0..40)
            .map(|n| format!("piece number {n} is cut twice from the lining"))
            .collect();
        let paragraphs: Vec<Paragraph> = list.iter().map(Paragraph::entry).collect();
        let (items, _) = set(&paragraphs, column);
        let words: Vec<&str> = items.iter().map(|(_, item)| text(item)).collect();
        assert_eq!(words.join(" "), list.join(" "));
        assert!(
            items
                .iter()
                .all(|(_, item)| item.bounds().is_some_and(|b| b.y1 < 31.5))
        );
    }

    #[test]
    fn a_heading_goes_with_what_it_heads() {
        let paragraphs = [
            Paragraph::line("one"),
            Paragraph::line("two"),
            Paragraph::line("three"),
            Paragraph::line("four"),
            Paragraph::heading("Heading"),
            Paragraph::line("five"),
        ];
        let (items, _) = set(&paragraphs, column);
        let pages: Vec<usize> = items.iter().map(|(page, _)| *page).collect();
        assert_eq!(pages, [0, 0, 0, 0, 1, 1]);
    }
}
