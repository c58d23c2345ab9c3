//! Buttons and buttonholes on stands: where each sits, how long a hole is, how far the edges reach over each other.
//!
//! Invariants: every button sits on the centre line; its hole begins a little beyond it, where the button pulls, and ends within
//! the piece; both halves of a pair have the marks, and each uses its own.

use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};
use geometry::{Curve, Point, Vec2};
use pattern::{Closing, Closure, InnerLine, Mark, Pattern};

use super::path::Path;
use super::spread::{self, Wanted};
use super::stand::{self, Centre};
use super::{Slit, closing, facing};
use crate::part::{Asked, figures};
use crate::recipe::parts::{ButtonWish, Closed, FacingAt};
use crate::recipe::{Opening, Written};

/// The least overlap beyond the centre line, mm: half the button and 1/4 in. Source: Watson, *Textiles and Clothing*, 1907.
pub(super) fn least_stand(diameter: f64) -> f64 {
    diameter / 2.0 + figures::BUTTON_STAND_BEYOND
}

/// Length of a buttonhole, mm: the diameter and 1/8 in for a flat button, 1 1/4 times the diameter for a round one. Source: the
/// same.
pub(super) fn hole(diameter: f64, round: bool) -> f64 {
    if round {
        diameter * figures::BUTTONHOLE_OVER_ROUND
    } else {
        diameter + figures::BUTTONHOLE_OVER_FLAT
    }
}

pub(super) fn derive(
    pattern: &mut Pattern,
    asked: &Asked<'_>,
    path: &Path,
    slit: &Slit,
    (wish, closed): (&ButtonWish, &Written<Closed>),
) -> Result<(), Finding> {
    if asked.recipe.opening == Opening::Side {
        return Err(no_stand_at_the_side(closed));
    }
    let least = least_stand(wish.diameter);
    let width = wish
        .stand
        .as_ref()
        .map_or(least.ceil(), |stand| stand.value);
    stand::extend(pattern, path, width, closed)?;
    let centres = stand::centres(pattern, path);
    let narrowest = centres
        .iter()
        .map(Centre::width)
        .fold(f64::INFINITY, f64::min);
    pattern
        .findings
        .extend(narrow(wish, closed, narrowest, least));
    let places = spread::places(&wanted(pattern, wish, path, &centres, slit));
    let mut count = 0;
    for place in &places {
        count += 1;
        mark(pattern, &centres, *place, (wish, count));
    }
    if path.waist() == 0.0 {
        count += on_band(pattern, wish, count);
    }
    let buttons = Closure::Buttons {
        count,
        diameter: wish.diameter,
        hole: hole(wish.diameter, wish.round),
    };
    let buttons: Closing = closing(path, slit, buttons, 0.0, 2.0 * narrowest);
    pattern.makeup.closings.push(buttons);
    for leg in &path.legs {
        stand::allow(pattern, leg, asked.recipe.allowances.seam);
    }
    pattern.findings.extend(two_facings(asked, path, closed));
    facing::derive(pattern, path, (wish, closed), narrowest)
}

/// What the buttons have to respect: the first lies as far below the neck edge as its centre lies within the finished edge.
fn wanted(
    pattern: &Pattern,
    wish: &ButtonWish,
    path: &Path,
    centres: &[Centre],
    slit: &Slit,
) -> Wanted {
    let least = least_stand(wish.diameter);
    let whole: f64 = centres.iter().map(|centre| centre.line.length()).sum();
    let above_hem = if path.has_skirt() {
        figures::BUTTON_ABOVE_HEM
    } else {
        figures::BUTTON_ABOVE_WAIST_HEM
    };
    let has_band = path.waist() == 0.0 && pattern.piece("waistband").is_some();
    let end = slit.to.min(whole - above_hem);
    Wanted {
        // The band's own button is the first of a skirt.
        top: if has_band {
            wish.spacing.min(end / 2.0)
        } else {
            least
        },
        bust: bust(pattern, centres),
        // Clear of the waist seam, in which no hole can be worked.
        waist: (path.waist() > 0.0 && path.has_skirt()).then(|| path.waist() - least),
        end,
        spacing: wish.spacing,
    }
}

/// How far down the centre line the bust line lies.
fn bust(pattern: &Pattern, centres: &[Centre]) -> Option<f64> {
    let mut above = 0.0;
    for centre in centres {
        let line = pattern.piece(&centre.piece)?.line("bust");
        if let Some(run) = line.and_then(|line| line.runs.first()) {
            return Some(above + centre.line.nearest(run.start()).along);
        }
        above += centre.line.length();
    }
    None
}

/// A button, and the hole that it goes through, so far below the top.
fn mark(
    pattern: &mut Pattern,
    centres: &[Centre],
    from_top: f64,
    (wish, number): (&ButtonWish, u32),
) {
    let mut rest = from_top;
    for (index, centre) in centres.iter().enumerate() {
        let length = centre.line.length();
        if rest > length && index + 1 < centres.len() {
            rest -= length;
            continue;
        }
        let (at, out) = centre.at(rest);
        if let Some(piece) = pattern.piece_mut(&centre.piece) {
            piece.marks.push(button(number, at));
            piece.lines.push(buttonhole(number, (at, out), wish));
        }
        return;
    }
}

fn button(number: u32, at: Point) -> Mark {
    Mark::Point {
        name: format!("button-{number}"),
        at,
    }
}

/// The hole for a button at a place, from a little beyond it, towards the finished edge, into the piece.
fn buttonhole(number: u32, (at, out): (Point, Vec2), wish: &ButtonWish) -> InnerLine {
    let beyond = figures::BUTTONHOLE_BEYOND;
    let within = hole(wish.diameter, wish.round) - beyond;
    InnerLine {
        name: format!("buttonhole-{number}"),
        runs: vec![Curve::line(at + out * beyond, at - out * within)],
    }
}

/// The button of a waistband, half way up its outside: the hole at one end, the button at the other.
fn on_band(pattern: &mut Pattern, wish: &ButtonWish, count: u32) -> u32 {
    let Some(band) = pattern.piece("waistband") else {
        return 0;
    };
    let (Some(fold), Some(waist)) = (band.line("fold"), band.edge("waist")) else {
        return 0;
    };
    let up = (fold.runs[0].start().y - waist.start().y) / 2.0;
    let up = Vec2::new(0.0, up);
    let (over, under) = (waist.end() + up, waist.start() + up);
    let number = count + 1;
    if let Some(band) = pattern.piece_mut("waistband") {
        band.lines
            .push(buttonhole(number, (over, Vec2::new(-1.0, 0.0)), wish));
        band.marks.push(button(number, under));
    }
    1
}

fn narrow(wish: &ButtonWish, closed: &Written<Closed>, width: f64, least: f64) -> Option<Finding> {
    let span = wish
        .stand
        .as_ref()
        .map_or(&closed.span, |stand| &stand.span);
    (width < least - 0.05).then(|| {
        Finding::error(
            "button-stand-narrow",
            format!(
                "a stand of {width:.1} mm is too narrow for buttons of {:.0} mm",
                wish.diameter
            ),
        )
        .at_text(span, "too narrow")
        .measured(Quantity::mm(width), Allowed::AtLeast(Quantity::mm(least)))
        .because("half the button and 1/4 in must lie within the finished edge, or the button peeps out beyond it")
        .cure(format!(
            "make the stand {:.0} mm wide, or take smaller buttons",
            least.ceil()
        ))
        .mend(Mend::property(
            "opening",
            "stand",
            written_mm(least.ceil()),
            "makes the stand as wide as the button needs",
        ))
    })
}

/// A neck facing runs on to the finished edge, where the stand's own facing lies already.
fn two_facings(asked: &Asked<'_>, path: &Path, closed: &Written<Closed>) -> Option<Finding> {
    let at_neck = |at: FacingAt| matches!(at, FacingAt::Neck | FacingAt::AllInOne);
    let facings = &asked.recipe.parts.facings.wishes;
    let has_both = path.waist() > 0.0 && facings.iter().any(|facing| at_neck(facing.at));
    has_both.then(|| {
        Finding::note(
            "facings-overlap",
            "the facing of the neck and the facing of the stand lie over each other beside the opening",
        )
        .at_text(&closed.span, "its stand has a facing")
        .because("two layers of facing in one corner are thick under the first button")
        .cure("join both on paper where they overlap and cut them as one, or cut the neck's back to the edge of the stand's and a seam allowance")
    })
}

fn no_stand_at_the_side(closed: &Written<Closed>) -> Finding {
    Finding::error(
        "closing-without-place",
        "a side seam has no stand for buttons",
    )
    .at_text(&closed.span, "not in a side seam")
    .at(Place::Seam("side".into()))
    .because("the pattern is alike on both sides, and only the left one opens")
    .cure("close the side with a zip or hooks, or let the garment open in front or at the back")
}

#[cfg(test)]
mod tests {
    use super::*;

    const INCH: f64 = 25.4;

    #[test]
    fn holes_and_overlap_are_those_of_the_book() {
        // Watson, Textiles and Clothing, 1907: a flat button of 3/4 in takes a hole of 7/8 in and an overlap of 5/8 in; a ball of
        // 1/2 in a hole of 5/8 in.
        assert!((hole(0.75 * INCH, false) - 0.875 * INCH).abs() < 1e-6);
        assert!((hole(0.5 * INCH, true) - 0.625 * INCH).abs() < 1e-6);
        assert!((least_stand(0.75 * INCH) - 0.625 * INCH).abs() < 1e-6);
    }
}
