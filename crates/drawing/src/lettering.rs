//! Lines of words as boxes, and small words beside a place.
//!
//! Knows the height of letters and what lies on the ground, not what the words say. Invariant: words that are returned
//! have been put on the ground, so that no others come to lie on them.

use geometry::{Angle, Point, Rect, Vec2};
use sheet::{Anchor, Weight, Words, text_width};

use crate::ground::Ground;
use crate::view::View;

/// Top of the tallest letters above the base line, in ems; a test holds it to what the sheet draws.
pub(crate) const ASCENT: f64 = 0.95;
/// Bottom of the deepest letters below the base line, in ems.
pub(crate) const DESCENT: f64 = 0.27;
/// The smallest words on a piece, mm.
pub(crate) const LEAST_MM: f64 = 3.0;
/// Room round small words, mm.
const MARGIN_MM: f64 = 0.6;

/// Small words that name something.
#[derive(Clone, Debug)]
pub(crate) struct Note<'a> {
    pub(crate) text: &'a str,
    pub(crate) size_mm: f64,
}

/// Height of a line of words, mm.
pub(crate) fn height(size_mm: f64) -> f64 {
    size_mm * (ASCENT + DESCENT)
}

impl Note<'_> {
    /// Width, mm.
    pub(crate) fn width(&self) -> f64 {
        text_width(self.text, self.size_mm, Weight::Regular)
    }

    /// Writes the note centred at a point, turned by an angle, if it is free there.
    pub(crate) fn at(&self, ground: &mut Ground, centre: Point, angle: Angle) -> Option<Words> {
        let view = ground.seen_along(angle);
        let area = self.area(&view, centre);
        view.is_free(area).then(|| {
            ground.add_box(angle, area);
            in_box(&view, area.inset(-MARGIN_MM), self.size_mm, self.text)
        })
    }

    /// Writes the note at the first of some places that is free.
    pub(crate) fn at_first(
        &self,
        ground: &mut Ground,
        places: impl IntoIterator<Item = (Point, Angle)>,
    ) -> Option<Words> {
        places
            .into_iter()
            .find_map(|(centre, angle)| self.at(ground, centre, angle))
    }

    /// Distance from a line to the middle of the note when it stands beside the line, mm.
    pub(crate) fn off(&self) -> f64 {
        height(self.size_mm) / 2.0 + 1.2
    }

    fn area(&self, view: &View, centre: Point) -> Rect {
        let size = (self.width(), height(self.size_mm));
        Rect::from_center_size(view.from_piece * centre, size).inflate(MARGIN_MM, MARGIN_MM)
    }
}

/// Words that fill a box in the axes of a view.
pub(crate) fn in_box(view: &View, area: Rect, size_mm: f64, text: &str) -> Words {
    let base = Point::new(area.x0, area.y0) + Vec2::new(0.0, size_mm * ASCENT);
    Words::new(view.into_piece * base, size_mm, text)
        .anchored(Anchor::Start)
        .turned(view.angle.degrees())
}

#[cfg(test)]
mod tests {
    use super::*;
    use sheet::Item;

    #[test]
    fn letters_are_as_high_as_the_sheet_draws_them() {
        let words = Words::new(Point::ORIGIN, 1.0, "x");
        let bounds = Item::text(words).bounds().expect("the words have ink");
        assert_eq!((bounds.y0, bounds.y1), (-ASCENT, DESCENT));
    }

    #[test]
    fn a_note_keeps_off_another() {
        let mut ground = Ground::default();
        let note = Note {
            text: "bust point",
            size_mm: 3.0,
        };
        let level = Angle::from_degrees(0.0);
        assert!(note.at(&mut ground, Point::ORIGIN, level).is_some());
        assert!(note.at(&mut ground, Point::new(5.0, 2.0), level).is_none());
        assert!(note.at(&mut ground, Point::new(0.0, 9.0), level).is_some());
    }
}
