//! Eases the longer side of a seam onto the shorter one.
//!
//! **What it does.** Walks both sides and names what one has more than the other as the seam's ease; a seam that gathers or
//! pleats does so more or less. No line moves.
//! **When it is used.** Where a difference is meant: a back shoulder over the shoulder blade, a cap, a side that is shaped over
//! the bust.
//! **Example.** `ease-in seam="side"`.
//! **What can go wrong.** More than a twelfth of the shorter side does not shrink in under steam and lies in folds: true the
//! seam, or gather it.
//!
//! Invariant: all edges stay bit for bit; the seam walks.

use document::{Allowed, Finding, Place, Quantity};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind};
use super::kit::{find, fullness, partner};
use crate::seam::{Fullness, Pattern};

/// The most that woven cloth eases in, as a share of the shorter side; common practice, no source.
const MOST: f64 = 1.0 / 12.0;

pub(super) const STEP: StepKind = StepKind {
    name: "ease-in",
    group: Group::Line,
    summary: "eases the longer side of a seam onto the shorter one",
    manual: include_str!("ease_in.rs"),
    parameters: &[Parameter::needed(
        "seam",
        Kind::Seam,
        "seam that takes up the ease",
    )],
    amount: None,
    apply: ease_in,
};

fn ease_in(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let name = &arguments.name_of("seam")?.name;
    let seam = find::seam(pattern, name).map_err(|finding| arguments.blame("seam", finding))?;
    let [held, worked] = [&seam.held, &seam.worked].map(|side| pattern.side_length(side));
    let (short, long) = (held.min(worked), held.max(worked));
    let is_flat = matches!(seam.fullness, Fullness::None | Fullness::Eased(_));
    if is_flat && long - short > MOST * short {
        return Err(arguments.blame("seam", too_full(name, long - short, MOST * short)));
    }
    let mut changed = pattern.clone();
    let index = changed.seams.iter().position(|one| one.name == *name);
    let index = index.ok_or_else(|| arguments.blame("seam", is_layer(name)))?;
    fullness::ease_difference(&mut changed, index);
    Ok(Done {
        lines: Vec::new(),
        words: format!("the {name} seam {}", partner::asks(&changed, name)),
        pattern: changed,
    })
}

fn is_layer(name: &str) -> Finding {
    Finding::error(
        "layer-not-eased",
        format!("{name} is where a layer lies on another, not a seam"),
    )
    .at(Place::Seam(name.into()))
    .allowed("a seam")
    .cure("true the layer instead, with the step “true-seam”")
}

fn too_full(seam: &str, more: f64, most: f64) -> Finding {
    Finding::error(
        "too-much-to-ease",
        format!("one side of the {seam} seam is {more:.1} mm longer than the other"),
    )
    .at(Place::Seam(seam.into()))
    .measured(Quantity::mm(more), Allowed::AtMost(Quantity::mm(most)))
    .because("woven cloth that has so much to ease in lies in folds")
    .cure("make both sides alike with the step “true-seam”, or spread one of them and gather it")
}
