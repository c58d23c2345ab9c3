//! Panels side by side in rows, for a picture of the whole.
//!
//! Knows boxes of ink. Invariant: panels keep their order and scale, and no two of their boxes meet.

use geometry::{Affine, Rect, Vec2};
use sheet::{Item, Panel, Shape, Turns};

/// Room between panels, mm.
const GAP_MM: f64 = 30.0;
/// Width of a row over the side of a square of the panels' area.
const WIDTH: f64 = 1.5;

/// One panel that holds all panels, side by side in rows.
pub(crate) fn side_by_side(panels: &[Panel], title: &str) -> Panel {
    in_rows_of(WIDTH, panels, title)
}

/// The same with rows of another width, over the side of a square of the panels' area.
pub(crate) fn in_rows_of(width: f64, panels: &[Panel], title: &str) -> Panel {
    let boxes: Vec<Rect> = panels
        .iter()
        .map(|panel| panel.bounds().unwrap_or_default())
        .collect();
    let shifts = in_rows(&boxes, width);
    let moved = panels.iter().zip(shifts).flat_map(|(panel, shift)| {
        let items = panel.items.iter();
        items.map(move |item| shifted(item, shift))
    });
    Panel {
        id: "overview".to_owned(),
        title: title.to_owned(),
        items: moved.collect(),
        turns: Turns::None,
    }
}

/// How far each box is moved; boxes of one row stand on one line.
fn in_rows(boxes: &[Rect], width: f64) -> Vec<Vec2> {
    let area: f64 = boxes
        .iter()
        .map(|one| (one.width() + GAP_MM) * (one.height() + GAP_MM))
        .sum();
    let widest = boxes.iter().map(Rect::width).fold(0.0, f64::max);
    let width = widest.max(area.sqrt() * width);
    let (mut shifts, mut row): (Vec<Vec2>, Vec<Rect>) = (Vec::new(), Vec::new());
    let (mut left, mut top) = (0.0, 0.0);
    for one in boxes {
        if left + one.width() > width && !row.is_empty() {
            top += end_row(&mut row, &mut shifts, top);
            left = 0.0;
        }
        row.push(*one + (Vec2::new(left, 0.0) - Vec2::new(one.x0, 0.0)));
        shifts.push(Vec2::new(left - one.x0, 0.0));
        left += one.width() + GAP_MM;
    }
    end_row(&mut row, &mut shifts, top);
    shifts
}

/// Sets the last row on its line; returns how much height it takes.
fn end_row(row: &mut Vec<Rect>, shifts: &mut [Vec2], top: f64) -> f64 {
    let highest = row.iter().map(Rect::height).fold(0.0, f64::max);
    let first = shifts.len() - row.len();
    for (shift, one) in shifts[first..].iter_mut().zip(row.drain(..)) {
        shift.y = top + highest - one.y1;
    }
    highest + GAP_MM
}

fn shifted(item: &Item, by: Vec2) -> Item {
    let mut item = item.clone();
    match &mut item.shape {
        Shape::Path { path, .. } => path.apply_affine(Affine::translate(by)),
        Shape::Text(words) => words.at += by,
    }
    item
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn boxes_keep_apart_and_in_order() {
        let sizes = [
            (300.0, 450.0),
            (280.0, 460.0),
            (900.0, 1100.0),
            (350.0, 600.0),
            (800.0, 70.0),
        ];
        let boxes: Vec<Rect> = sizes
            .iter()
            .map(|size| Rect::from_origin_size((-20.0, 35.0), *size))
            .collect();
        let moved: Vec<Rect> = boxes
            .iter()
            .zip(in_rows(&boxes, WIDTH))
            .map(|(one, by)| *one + by)
            .collect();
        for (index, one) in moved.iter().enumerate() {
            for other in &moved[..index] {
                assert!(
                    !one.inflate(GAP_MM * 0.49, GAP_MM * 0.49)
                        .overlaps(other.inflate(GAP_MM * 0.49, GAP_MM * 0.49)),
                    "{one:?} {other:?}"
                );
                assert!(
                    other.y1 < one.y0 || other.x1 < one.x0,
                    "{other:?} comes before {one:?}"
                );
            }
        }
    }
}
