//! Levels of a garment to compare with the body, before and after its steps.
//!
//! Invariant: a step may give more or less room than the recipe's ease, and then says so where the body needs more.

use body::{Body, Measure};
use document::{Allowed, Finding, Place, Quantity};
use pattern::{Fullness, Girth, Pattern, Stretch};

use super::replay::Replay;
use crate::block::skirt::Skirt;
use crate::recipe::Recipe;

/// What is no change, mm.
const SAME: f64 = 0.05;

/// The levels of the drafted pieces.
pub(super) fn of(
    pattern: &Pattern,
    recipe: &Recipe,
    body: &Body,
    skirt: Option<&Skirt>,
) -> Vec<Girth> {
    let part = |piece: &str, name: &str| (piece.to_string(), name.to_string());
    let mut girths = Vec::new();
    let level = |level: &str, measure: Measure, ease: f64, parts: Vec<(String, String)>| Girth {
        level: level.into(),
        body: body.mm(measure),
        ease,
        parts,
        gathered: 1.0,
        at_least: false,
    };
    let waist_ease = recipe.ease.bodice.waist;
    if pattern.piece("front").is_some() {
        girths.push(level(
            "bust",
            Measure::Bust,
            recipe.ease.bodice.bust,
            vec![part("front", "bust"), part("back", "bust")],
        ));
        girths.push(level(
            "waist",
            Measure::Waist,
            waist_ease,
            vec![part("front", "waist"), part("back", "waist")],
        ));
    } else if let Some(skirt) = skirt {
        let parts = parts_of(skirt, "waist");
        let cut: f64 = pattern.side_length(&stretches(skirt));
        let is_flat = skirt
            .waist
            .iter()
            .all(|part| part.fullness == Fullness::None);
        girths.push(Girth {
            gathered: if is_flat {
                1.0
            } else {
                cut / skirt.half_waist(pattern)
            },
            ..level("waist", Measure::Waist, waist_ease + skirt.overlap, parts)
        });
    }
    if let Some((skirt, hip)) = skirt.and_then(|skirt| Some((skirt, skirt.hip?))) {
        let parts = parts_of(skirt, "hip");
        girths.push(Girth {
            gathered: hip.times,
            at_least: hip.at_least,
            ..level("hip", Measure::Hip, recipe.ease.hip + skirt.overlap, parts)
        });
    }
    girths
}

/// A line or edge of all pieces of a skirt.
fn parts_of(skirt: &Skirt, name: &str) -> Vec<(String, String)> {
    let pieces = skirt.pieces.iter();
    pieces
        .map(|piece| (piece.name.clone(), name.to_owned()))
        .collect()
}

fn stretches(skirt: &Skirt) -> Vec<Stretch> {
    let parts = skirt.waist.iter();
    parts.map(|part| part.stretch.clone()).collect()
}

/// Lets the levels follow the steps: what a step gave or took at a level is ease from then on.
pub(super) fn follow(pattern: &mut Pattern, block: &Pattern, replays: &[Replay]) {
    let mut girths = pattern.girths.clone();
    for girth in &mut girths {
        let Some(drafted) = block.girths.iter().find(|one| one.level == girth.level) else {
            continue;
        };
        // Some steps set the ease themselves; what a level has beyond body and ease counts for the others.
        let beyond =
            |pattern: &Pattern, girth: &Girth| pattern.girth(girth) - girth.body - girth.ease;
        // A step that fits a level makes it body and ease, whatever the draft had.
        let is_met = beyond(pattern, girth).abs() < SAME;
        let change = beyond(pattern, girth) - beyond(block, drafted);
        if !is_met && change.abs() >= SAME {
            girth.ease += change;
        }
        if girth.ease < -SAME && drafted.ease >= -SAME {
            pattern.findings.extend(tight(girth, replays));
        }
    }
    pattern.girths = girths;
}

/// A warning at the step after which the body has no room left.
fn tight(girth: &Girth, replays: &[Replay]) -> Option<Finding> {
    let room = |pattern: &Pattern| pattern.girth(girth) - girth.body;
    let step = replays
        .iter()
        .find(|replay| room(&replay.before) >= -SAME && room(replay.after()) < -SAME)?;
    let finding = Finding::warning(
        "tighter-than-body",
        format!(
            "the {} is {:.0} mm tighter than the body after the steps",
            girth.level, -girth.ease
        ),
    )
    .at_text(&step.step.span, "from this step on")
    .at(Place::Measure(girth.level.clone()));
    Some(
        finding
            .measured(
                Quantity::mm(girth.body + girth.ease),
                Allowed::AtLeast(Quantity::mm(girth.body)),
            )
            .because("woven cloth does not stretch over a body that is larger")
            .cure("give more width there, or take this step away"),
    )
}
