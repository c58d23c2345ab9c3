//! Hooks and eyes: along an opening, above a zip, at the end of a waistband.
//!
//! Invariant: marks of hooks lie on the edge that they close.

use pattern::{Closure, Mark, Pattern};

use super::path::Path;
use super::{Slit, closing};
use crate::part::{Asked, figures};

/// Hooks along the whole opening, evenly, one at either end.
pub(super) fn along(pattern: &mut Pattern, path: &Path, slit: &Slit, spacing: f64) {
    let spaces = (slit.length() / spacing).ceil().max(1.0);
    let count = spaces as u32 + 1;
    let inset = figures::HOOK_INSET;
    let step = (slit.length() - 2.0 * inset) / spaces;
    for index in 0..count {
        path.notch(pattern, "hook", slit.from + inset + step * f64::from(index));
    }
    let hooks = closing(path, slit, Closure::Hooks { count }, 0.0, 0.0);
    pattern.makeup.closings.push(hooks);
}

/// What holds the top of a zip: one hook at an upper edge, one or two at the end of a waistband.
pub(super) fn above_zip(pattern: &mut Pattern, asked: &Asked<'_>, path: &Path, slit: &Slit) {
    if slit.from > 0.0 {
        return;
    }
    let band = asked.recipe.waistband.as_ref();
    let count = match band {
        Some(band) => on_band(pattern, band.value.height),
        None => 1,
    };
    let hooks = closing(path, slit, Closure::Hooks { count }, 0.0, 0.0);
    pattern.makeup.closings.push(pattern::Closing {
        opening: 0.0,
        ..hooks
    });
}

/// Marks the hooks of a band within its overlapping end, one below the other.
fn on_band(pattern: &mut Pattern, height: f64) -> u32 {
    let count = if height < figures::TWO_HOOKS_FROM {
        1
    } else {
        2
    };
    let Some(band) = pattern.piece_mut("waistband") else {
        return count;
    };
    let Some(start) = band.edge("start").map(pattern::Edge::start) else {
        return count;
    };
    for index in 0..count {
        // The outside half of a folded band lies next to the seam.
        let up = height * f64::from(index + 1) / f64::from(count + 1);
        band.marks.push(Mark::Point {
            name: if count == 1 {
                "hook".into()
            } else {
                format!("hook-{}", index + 1)
            },
            at: start + geometry::Vec2::new(figures::HOOK_INSET, -up),
        });
    }
    count
}
