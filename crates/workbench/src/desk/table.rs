//! Where the pieces of a garment lie on the page: in rows, in the order of the pattern, none over another.
//!
//! Invariant: a piece stays where it lies while something is dragged; only a whole look at the garment lays them anew.

use std::collections::BTreeMap;

use geometry::{Rect, Vec2};

/// Room between pieces, mm.
const GAP: f64 = 70.0;
/// Room round everything, mm.
const MARGIN: f64 = 40.0;
/// Widths of a row that are tried, over the side of a square of the pieces' area.
const WIDTHS: [f64; 7] = [0.8, 1.0, 1.2, 1.4, 1.6, 1.9, 2.3];
/// Height of a sheet over its width that is wished for: a drawing stands beside words on a wide screen.
const SHAPE: f64 = 1.2;

/// Where pieces lie.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Table {
    at: BTreeMap<String, Vec2>,
    whole: Rect,
}

impl Table {
    /// Lays pieces, each with the box of what is drawn of it, in rows of the width that fills a sheet best.
    pub(crate) fn laid(pieces: &[(&str, Rect)]) -> Self {
        let area: f64 = pieces
            .iter()
            .map(|(_, one)| (one.width() + GAP) * (one.height() + GAP))
            .sum();
        let widest = pieces
            .iter()
            .map(|(_, one)| one.width())
            .fold(0.0, f64::max);
        let size = |table: &Self| table.whole.width().max(table.whole.height() * SHAPE);
        let tables = WIDTHS.map(|width| Self::in_rows(pieces, widest.max(area.sqrt() * width)));
        let best = tables
            .into_iter()
            .min_by(|one, other| size(one).total_cmp(&size(other)));
        best.unwrap_or_default()
    }

    fn in_rows(pieces: &[(&str, Rect)], width: f64) -> Self {
        let mut table = Self::default();
        let mut row: Vec<(&str, Rect)> = Vec::new();
        let mut top = 0.0;
        for (name, one) in pieces {
            let taken: f64 = row.iter().map(|(_, one)| one.width() + GAP).sum();
            if taken + one.width() > width && !row.is_empty() {
                top = table.end_row(&mut row, top);
            }
            row.push((name, *one));
        }
        table.end_row(&mut row, top);
        table.whole = table.whole.inflate(MARGIN, MARGIN);
        table
    }

    /// Sets the pieces of a row with their tops on one line; returns where the next row begins.
    fn end_row(&mut self, row: &mut Vec<(&str, Rect)>, top: f64) -> f64 {
        let highest = row.iter().map(|(_, one)| one.height()).fold(0.0, f64::max);
        let mut left = 0.0;
        for (name, one) in row.drain(..) {
            let at = Vec2::new(left - one.x0, top - one.y0);
            self.add(name, at, one);
            left += one.width() + GAP;
        }
        top + highest + GAP
    }

    fn add(&mut self, name: &str, at: Vec2, bounds: Rect) {
        let lies = bounds + at;
        self.whole = if self.at.is_empty() {
            lies
        } else {
            self.whole.union(lies)
        };
        self.at.insert(name.to_owned(), at);
    }

    /// Where a piece lies; at the origin where it is not known.
    pub(crate) fn at(&self, piece: &str) -> Vec2 {
        self.at.get(piece).copied().unwrap_or_default()
    }

    /// Puts pieces that have no place yet to the right of all others.
    pub(crate) fn make_room(&mut self, pieces: &[(&str, Rect)]) {
        for (name, one) in pieces {
            if !self.at.contains_key(*name) {
                let inner = self.whole.inset(-MARGIN);
                let at = Vec2::new(inner.x1 + GAP - one.x0, inner.y0 - one.y0);
                self.whole = inner;
                self.add(name, at, *one);
                self.whole = self.whole.inflate(MARGIN, MARGIN);
            }
        }
    }

    /// The box of everything.
    pub(crate) const fn whole(&self) -> Rect {
        self.whole
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn pieces_keep_apart_and_later_ones_find_room() {
        let boxes = [
            (300.0, 450.0),
            (280.0, 460.0),
            (900.0, 1100.0),
            (80.0, 70.0),
        ];
        let boxes = boxes.map(|size| Rect::from_origin_size((-20.0, 35.0), size));
        let names = ["a", "b", "c", "d"];
        let pieces: Vec<(&str, Rect)> = names.into_iter().zip(boxes).collect();
        let mut table = Table::laid(&pieces[..3]);
        let before = table.at("b");
        table.make_room(&pieces);
        assert_eq!(table.at("b"), before);
        let lie: Vec<Rect> = pieces
            .iter()
            .map(|(name, one)| *one + table.at(name))
            .collect();
        for (index, one) in lie.iter().enumerate() {
            assert!(table.whole().union(*one) == table.whole());
            for other in &lie[..index] {
                assert!(one.intersect(*other).area() == 0.0, "{one:?} {other:?}");
            }
        }
    }
}
