//! The two faces of the papers, and how wide words are in them.
//!
//! Words are set letter by letter, without kerning, in the same way by every exporter that embeds the font.

use std::sync::LazyLock;

use geometry::Rect;
use ttf_parser::{Face, GlyphId};

/// Name of the font family, as an SVG asks for it.
pub(crate) const FAMILY: &str = "Andika";
/// Top of the tallest letters above the base line, in ems; room for an accent on a capital.
pub(crate) const ASCENT: f64 = 0.95;
/// Bottom of the deepest letters below the base line, in ems.
pub(crate) const DESCENT: f64 = 0.27;

/// How heavy letters are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Weight {
    /// For reading.
    #[default]
    Regular,
    /// For names and headings.
    Bold,
}

impl Weight {
    /// Both weights, lighter first.
    pub(crate) const ALL: [Self; 2] = [Self::Regular, Self::Bold];

    /// The font file.
    pub(crate) const fn file(self) -> &'static [u8] {
        match self {
            Self::Regular => include_bytes!("../fonts/Andika-Regular.ttf"),
            Self::Bold => include_bytes!("../fonts/Andika-Bold.ttf"),
        }
    }

    /// The parsed font.
    pub(crate) fn face(self) -> &'static Face<'static> {
        static REGULAR: LazyLock<Face<'static>> = LazyLock::new(|| parse(Weight::Regular));
        static BOLD: LazyLock<Face<'static>> = LazyLock::new(|| parse(Weight::Bold));
        match self {
            Self::Regular => &REGULAR,
            Self::Bold => &BOLD,
        }
    }
}

fn parse(weight: Weight) -> Face<'static> {
    Face::parse(weight.file(), 0).expect("the font is part of the program and a test parses it")
}

/// The glyph of a letter; the empty box where the font has none.
pub(crate) fn glyph(weight: Weight, letter: char) -> GlyphId {
    weight.face().glyph_index(letter).unwrap_or(GlyphId(0))
}

/// Advance of a glyph, in ems.
pub(crate) fn advance(weight: Weight, glyph: GlyphId) -> f64 {
    let face = weight.face();
    f64::from(face.glyph_hor_advance(glyph).unwrap_or(0)) / f64::from(face.units_per_em())
}

/// The box of a glyph's outline from its point on the base line, y down, in ems; `None` for a space.
pub(crate) fn glyph_box(weight: Weight, glyph: GlyphId) -> Option<Rect> {
    let face = weight.face();
    let ems = |units: i16| f64::from(units) / f64::from(face.units_per_em());
    let outline = face.glyph_bounding_box(glyph)?;
    Some(Rect::new(
        ems(outline.x_min),
        -ems(outline.y_max),
        ems(outline.x_max),
        -ems(outline.y_min),
    ))
}

/// Width of a line of words, mm, where the em is `size_mm` high.
pub fn text_width(text: &str, size_mm: f64, weight: Weight) -> f64 {
    let ems: f64 = text
        .chars()
        .map(|letter| advance(weight, glyph(weight, letter)))
        .sum();
    ems * size_mm
}

/// Breaks words into lines not wider than `width_mm`; a single word that is wider keeps a line of its own.
pub fn wrap(text: &str, size_mm: f64, weight: Weight, width_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        match lines.last_mut() {
            Some(line)
                if text_width(line, size_mm, weight)
                    + text_width(" ", size_mm, weight)
                    + text_width(word, size_mm, weight)
                    <= width_mm =>
            {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn has_the_signs_of_the_trade() {
        for weight in Weight::ALL {
            for letter in "AzåéßŁ½¼⅛⅜⅝⅞′″°±×→–—·“”’".chars() {
                assert_ne!(glyph(weight, letter), GlyphId(0), "{letter} {weight:?}");
            }
        }
    }

    #[test]
    fn lines_hold_within_the_width_and_lose_no_word() {
        let text = "Lay the trimmed edge of the next sheet on the line and let the numbers meet";
        let lines = wrap(text, 3.0, Weight::Regular, 40.0);
        assert!(lines.len() > 2);
        assert_eq!(lines.join(" "), text);
        for line in lines {
            assert!(text_width(&line, 3.0, Weight::Regular) <= 40.0, "{line}");
        }
    }
}
