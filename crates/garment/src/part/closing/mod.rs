//! Openings and what closes them: zips, buttons, hooks.
//!
//! **What it does.** Solves how long the opening must be for the body to pass, puts its end on both edges, gives the edges the
//! allowance or the stand that the closing needs, marks buttons, buttonholes and hooks, and tells what is to be bought.
//! **When it is used.** Where a recipe says what closes its opening.
//! **Example.** `opening "back" closed="invisible-zip"`, `opening "front" closed="buttons" button="18 mm"`.
//! **What can go wrong.** The length that is asked for does not let the hips or the head pass; a step has closed the seam in
//! which the garment should open.
//!
//! Knows the edges at which a garment may open, not how they were drafted. Invariant: the seams on both sides of an opening
//! walk as before.

mod buttons;
mod facing;
mod hooks;
mod passing;
mod path;
mod spread;
mod stand;
mod zip;

use document::{Allowed, Finding, Mend, Quantity, written_mm};
use pattern::{Closing, Closure, Pattern};

use super::Asked;
use super::figures;
use crate::block::skirt::found;
use crate::recipe::parts::{Closed, ClosingWish};
use crate::recipe::{Opening, Written};
use passing::Least;
use path::Path;

pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    let wish = &asked.recipe.parts.closing;
    let Some(closed) = &wish.closed else {
        return Ok(());
    };
    if asked.recipe.opening == Opening::Nowhere {
        return Ok(());
    }
    let path = Path::of(pattern, asked.recipe.opening);
    let has_skirt = found::pieces(pattern).next().is_some();
    if path.legs.is_empty() || has_skirt && !path.has_skirt() {
        return Err(nothing_opens(asked.recipe.opening, closed));
    }
    let slit = slit(pattern, asked, &path);
    if asked.recipe.opening == Opening::Side {
        let finding = passing::head(pattern, asked, closed);
        pattern.findings.extend(finding);
    }
    path.mark_ends(pattern, &slit);
    match &closed.value {
        Closed::InvisibleZip => zip::invisible(pattern, asked, &path, &slit),
        Closed::LappedZip => zip::lapped(pattern, asked, &path, &slit),
        Closed::Buttons(wish) => {
            return buttons::derive(pattern, asked, &path, &slit, (wish, closed));
        }
        Closed::Nothing => {}
        Closed::Hooks(spacing) => hooks::along(pattern, &path, &slit, *spacing),
    }
    Ok(())
}

/// The part of a path that parts when the garment is opened, mm from the path's top.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Slit {
    from: f64,
    to: f64,
    /// Whether it goes on to the path's end, so that nothing is sewn below it.
    whole: bool,
}

impl Slit {
    fn length(&self) -> f64 {
        self.to - self.from
    }
}

/// How long the opening is: as long as it must be, or as it was asked for; where that is too short, a finding says so.
fn slit(pattern: &mut Pattern, asked: &Asked<'_>, path: &Path) -> Slit {
    let wish = &asked.recipe.parts.closing;
    let from = from_the_top(asked, path);
    let least = passing::least(pattern, asked, path, from);
    if let Some(length) = &wish.length {
        let finding = too_short(length, &least, from, path);
        pattern.findings.extend(finding);
    }
    let has_stand =
        matches!(&wish.closed, Some(closed) if matches!(closed.value, Closed::Buttons(_)));
    let to = match &wish.length {
        Some(length) => from + length.value,
        // A stand goes on to the hem.
        None if has_stand => path.length(),
        // Whole half centimetres can be measured on cloth.
        None => (least.to / 5.0 - 1e-6).ceil() * 5.0,
    };
    let to_hem = path.length() - to < figures::LEAST_SEAM_BELOW;
    Slit {
        from,
        to: if to_hem { path.length() } else { to },
        whole: to_hem || has_stand,
    }
}

/// Below an armhole, where side and armhole seams cross, the side seam stays closed; elsewhere an opening begins at the top.
fn from_the_top(asked: &Asked<'_>, path: &Path) -> f64 {
    let usual = if asked.recipe.opening == Opening::Side && path.waist() > 0.0 {
        figures::SIDE_OPENING_BELOW_ARMHOLE
    } else {
        0.0
    };
    let wish: &ClosingWish = &asked.recipe.parts.closing;
    wish.from.unwrap_or(usual).min(path.length() / 2.0)
}

fn too_short(length: &Written<f64>, least: &Least, from: f64, path: &Path) -> Option<Finding> {
    let needed = least.to.min(path.length()) - from;
    let code = "opening-does-not-pass";
    let round_up = needed.ceil();
    (length.value < needed - 0.5).then(|| {
        Finding::error(
            code,
            format!("the opening of {:.0} mm does not let {} pass", length.value, least.what),
        )
        .at_text(&length.span, "too short")
        .measured(
            Quantity::mm(length.value),
            Allowed::AtLeast(Quantity::mm(round_up)),
        )
        .because("an opening gives twice its length to what passes it")
        .cure(format!("make it at least {round_up:.0} mm long, or take “length” away: it is then as long as it must be"))
        .mend(Mend::property("opening", "length", written_mm(round_up), "opens far enough"))
    })
}

fn nothing_opens(opening: Opening, closed: &Written<Closed>) -> Finding {
    let place = match opening {
        Opening::Back => "at CB",
        Opening::Front => "at CF",
        _ => "at the side",
    };
    Finding::error(
        "nothing-opens-there",
        format!("there is no seam {place} that opens"),
    )
    .at_text(&closed.span, "to be closed")
    .because("a step has joined it, laid it on the fold, or taken it away")
    .cure("let it open elsewhere, or take the step away")
}

/// A closing along a path, to be told in the materials.
fn closing(path: &Path, slit: &Slit, closure: Closure, length: f64, lap: f64) -> Closing {
    Closing {
        closure,
        along: path.stretches(),
        from: slit.from,
        opening: slit.length(),
        length,
        lap,
    }
}
