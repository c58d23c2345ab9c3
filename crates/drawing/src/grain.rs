//! The grain line: a long double-headed arrow well inside the piece.
//!
//! Knows the ground and a direction. It proposes places, the likeliest first; which of them leaves the words most room is
//! found out by whoever places the words. Invariant: an arrow keeps clear of everything but the lines inside.

use geometry::curve::unit;
use geometry::{Angle, Point, Rect, Vec2};
use sheet::{Item, Layer, Line, arrow};

use crate::ground::{Ground, across, reading};
use crate::inner::moved;
use crate::lettering::Note;
use crate::view::{Gap, Heed, View};

/// Room beside an arrow, mm, the wished for and the least.
const MARGINS_MM: [f64; 2] = [9.0, 1.0];
/// Half the width of the band that an arrow takes, mm.
const HALF_BAND_MM: f64 = 3.0;
/// Share of the free chord that the arrow takes, and where along the chord its middle lies.
const STYLES: [(f64, f64); 3] = [(0.6, 0.5), (0.42, 0.26), (0.42, 0.74)];
/// Where across the piece arrows are tried.
const ACROSS: [f64; 11] = [
    0.5, 0.42, 0.58, 0.34, 0.66, 0.26, 0.74, 0.18, 0.82, 0.1, 0.9,
];
/// How many places of each style are proposed.
const PROPOSED: usize = 3;
/// Longest arrow, mm.
const LONGEST_MM: f64 = 600.0;
/// Shortest arrow, mm.
const SHORTEST_MM: f64 = 14.0;
/// Size of the words beside the arrow, mm.
const WORDS_MM: f64 = 4.0;

/// A place for the arrow.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Arrow {
    from: Point,
    to: Point,
    angle: Angle,
}

/// Places for the arrow, the likeliest first; none where the piece is too full.
pub(crate) fn places(ground: &Ground, grain: Angle) -> Vec<Arrow> {
    let view = ground.seen_along(grain);
    let tried = MARGINS_MM.iter().map(|margin| chords(&view, *margin));
    let mut chords = tried
        .reduce(|better, next| if better.is_empty() { next } else { better })
        .unwrap_or_default();
    chords.sort_by(|one, other| other.2.total_cmp(&one.2));
    let mut arrows = Vec::new();
    for (share, middle) in STYLES {
        arrows.extend(chords.iter().take(PROPOSED).map(|&(y, gap, _)| {
            let length = (gap.length() * share).clamp(SHORTEST_MM, LONGEST_MM);
            let at = gap.from + gap.length() * middle;
            Arrow {
                from: view.into_piece * Point::new(at - length / 2.0, y),
                to: view.into_piece * Point::new(at + length / 2.0, y),
                angle: grain,
            }
        }));
    }
    arrows
}

/// Free chords along the grain, each with its height in the view and its worth: long, and near the middle.
fn chords(view: &View, margin: f64) -> Vec<(f64, Gap, f64)> {
    let bounds = view.bounds();
    let mut chords = Vec::new();
    for share in ACROSS {
        let y = bounds.y0 + bounds.height() * share;
        for gap in view.gaps(
            y - HALF_BAND_MM,
            y + HALF_BAND_MM,
            (1.0, margin),
            Heed::NotCrossed,
        ) {
            if gap.length() > SHORTEST_MM {
                let worth = gap.length() * (1.0 - 0.5 * (share - 0.5_f64).abs());
                chords.push((y, gap, worth));
            }
        }
    }
    chords
}

impl Arrow {
    /// The arrow with its words, put on the ground.
    pub(crate) fn items(&self, piece: &str, ground: &mut Ground) -> Vec<Item> {
        let view = ground.seen_along(self.angle);
        let (from, to) = (view.from_piece * self.from, view.from_piece * self.to);
        let band = Rect::new(from.x, from.y - 2.4, to.x, to.y + 2.4);
        let path = arrow(self.from, self.to);
        let item = Item::path(Layer::Grain, path, Line::mark());
        let mut items = vec![item.named(format!("{piece}.grain"))];
        ground.add_box(self.angle, band);
        items.extend(self.name(ground));
        items
    }

    fn name(&self, ground: &mut Ground) -> Option<Item> {
        let text = said(self.angle);
        let note = Note {
            text: &text,
            size_mm: WORDS_MM,
        };
        let angle = reading(unit(self.angle));
        let length = self.from.distance(self.to);
        let off = across(angle) * (note.off() + 2.4);
        let mut places = Vec::new();
        for share in [0.5, 0.35, 0.65, 0.2, 0.8] {
            let middle = moved(self.from, self.angle, length * share);
            places.extend([(middle - off, angle), (middle + off, angle)]);
        }
        places.extend(self.beside(&note));
        note.at_first(ground, places).map(Item::text)
    }

    /// Places for words that are level, to the right and to the left of an arrow that is short or slants.
    fn beside(&self, note: &Note<'_>) -> [(Point, Angle); 2] {
        let half = (self.to.x - self.from.x).abs() / 2.0 + note.width() / 2.0 + 4.0;
        let middle = self.from.midpoint(self.to);
        [half, -half].map(|across| (middle + Vec2::new(across, 0.0), Angle::from_degrees(0.0)))
    }
}

/// The grain in words, with its angle where it does not run down the piece.
fn said(grain: Angle) -> String {
    let degrees = (grain.degrees() * 10.0).round() / 10.0;
    let degrees = degrees.rem_euclid(180.0);
    if degrees == 90.0 {
        "grain".to_owned()
    } else if degrees == 45.0 || degrees == 135.0 {
        format!("grain on the bias, {degrees}°")
    } else {
        format!("grain at {degrees}°")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn says_the_angle_where_it_is_not_straight_down() {
        let say = |degrees| said(Angle::from_degrees(degrees));
        assert_eq!(say(90.0), "grain");
        assert_eq!(say(-90.0), "grain");
        assert_eq!(say(0.0), "grain at 0°");
        assert_eq!(say(45.0), "grain on the bias, 45°");
        assert_eq!(say(62.5), "grain at 62.5°");
    }
}
