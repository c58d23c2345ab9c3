//! Where interfacing lies behind a piece: a thin outline with the word, or a sentence where it lies behind all of it.
//!
//! Knows what lies on the piece, not why. Invariant: an outline is drawn only where it tells more than the piece's own.

use geometry::curve::enclosed_area;
use geometry::{Angle, Curve, Tolerance, Vec2, outline::roomiest};
use pattern::{Layer as Cloth, Pattern, Piece};
use sheet::{Colour, Item, Layer, Line};

use crate::ground::Ground;
use crate::lettering::Note;

/// Interfacing that covers so much of a piece lies behind all of it.
const WHOLE: f64 = 0.93;
/// Size of the word, mm.
const WORD_MM: f64 = 3.6;

/// The interfacing behind a piece.
#[derive(Clone, Debug, Default)]
pub(crate) struct Stiffened {
    /// Whether all of it is interfaced.
    pub(crate) wholly: bool,
    /// Outlines that cover a part of it, each with its name.
    parts: Vec<(String, Vec<Curve>)>,
}

impl Stiffened {
    /// What lies behind a piece of a pattern.
    pub(crate) fn of(pattern: &Pattern, piece: &Piece) -> Self {
        let mut found = Self::default();
        let area = piece.area();
        let lies = pattern.makeup.lies.iter();
        for lies in lies.filter(|lies| lies.upon == piece.name) {
            let Some(behind) = pattern.piece(&lies.piece) else {
                continue;
            };
            if behind.cut.layer != Cloth::Interfacing {
                continue;
            }
            let outline = behind.seam_outline();
            if enclosed_area(&outline) >= area * WHOLE {
                found.wholly = true;
            } else {
                let placed = outline.iter().map(|curve| curve.transformed(lies.placed));
                found.parts.push((behind.name.clone(), placed.collect()));
            }
        }
        found
    }

    /// The outlines, which words then keep clear of.
    pub(crate) fn outlines(&self, piece: &Piece, ground: &mut Ground) -> Vec<Item> {
        let drawn = |(name, outline): &(String, Vec<Curve>)| {
            for curve in outline {
                ground.add_line_inside(curve, 0.2);
            }
            let path = geometry::curve::closed_path(outline);
            let line = Line::dashed(0.25, &[0.3, 1.2]).coloured(Colour::QUIET);
            Item::path(Layer::Marks, path, line).named(format!("{}.{name}", piece.name))
        };
        self.parts.iter().map(drawn).collect()
    }

    /// The word in the roomiest place of each outline, or near it.
    pub(crate) fn words(&self, ground: &mut Ground) -> Vec<Item> {
        let note = Note {
            text: "interfacing",
            size_mm: WORD_MM,
        };
        let tolerance = Tolerance::from_mm(2.0).unwrap_or(Tolerance::DRAWING);
        let mut items = Vec::new();
        for (_, outline) in &self.parts {
            let Some(room) = roomiest(outline, tolerance) else {
                continue;
            };
            let level = Angle::from_degrees(0.0);
            let upright = Angle::from_degrees(-90.0);
            let near = [0.0, -8.0, 8.0, -16.0, 16.0].map(|y| room.point + Vec2::new(0.0, y));
            let places = near.iter().flat_map(|at| [(*at, level), (*at, upright)]);
            let words = note.at_first(ground, places);
            items.extend(words.map(|words| Item::text(words.coloured(Colour::QUIET))));
        }
        items
    }
}
