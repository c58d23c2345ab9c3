//! Notches: those of one name on both sides of a seam meet when it is sewn.
//!
//! **What it does.** Walks both sides from the same end to every notch that both have. Where one side is longer by named ease,
//! gathers or pleats, its notch may lie farther along by any part of them, since the ease lies before or behind the notch.
//! **Why.** Notches are what holds two long edges together; where they do not meet, the seam is sewn shifted.
//! **Example.** A hip notch 203 mm below the waist in front and 205 mm in the back.
//! **What can go wrong.** A notch that only one side has says something else, such as where an opening ends, and is left alone.
//!
//! Knows names and lengths, no strokes.

use document::{Allowed, Finding, Place, Quantity};

use super::cure::{self, Cure};
use super::{About, Check, NOTCH_LIMIT};
use crate::meeting::{Met, Pair, pairs};
use crate::seam::{Pattern, Seam};
use crate::step::{Arguments, Named, Value};

pub(super) const CHECK: Check = Check {
    title: "Notches",
    manual: include_str!("notches.rs"),
    codes: &[("notches-do-not-meet", "0.5 mm beyond the named ease")],
    about: About::Sewing,
    run: check,
};

fn check(pattern: &Pattern) -> Vec<Finding> {
    cure::with_cures(pattern, found(pattern), found, cures)
}

fn found(pattern: &Pattern) -> Vec<Finding> {
    pattern
        .seams
        .iter()
        .flat_map(|seam| {
            let pairs = pairs(pattern, seam).into_iter();
            pairs.filter_map(|pair| apart(seam, &pair))
        })
        .collect()
}

fn apart(seam: &Seam, pair: &Pair) -> Option<Finding> {
    let (least, most) = pair.allowed;
    let along = pair.worked.along;
    let off = (least - along).max(along - most);
    let place = |notch: &Met| Place::Edge {
        piece: notch.piece.clone(),
        edge: notch.edge.clone(),
        at: Some(notch.at),
    };
    (off > NOTCH_LIMIT).then(|| {
        Finding::warning(
            "notches-do-not-meet",
            format!(
                "the {} notches of the {} seam are {off:.1} mm apart",
                pair.held.name, seam.name
            ),
        )
        .at(place(&pair.worked))
        .at(place(&pair.held))
        .measured(
            Quantity::mm(along),
            Allowed::Between(
                Quantity::mm(least - NOTCH_LIMIT),
                Quantity::mm(most + NOTCH_LIMIT),
            ),
        )
        .because("notches that do not meet shift the seam")
        .cure("set the notch on one side where the other has it, with the step “match-notches”")
    })
}

/// The notches of either piece may move to those of the other.
fn cures(pattern: &Pattern, finding: &Finding) -> Vec<Cure> {
    let apart = pattern.seams.iter().find_map(|seam| {
        let mut all = pairs(pattern, seam).into_iter();
        let pair =
            all.find(|pair| apart(seam, pair).is_some_and(|one| one.places == finding.places))?;
        Some((seam, pair))
    });
    let Some((seam, pair)) = apart else {
        return Vec::new();
    };
    let moves = |moved: &Met, to: &Met| {
        let arguments = Arguments::new()
            .named("seam", "", &seam.name)
            .with("piece", Value::Named(Named::piece(&moved.piece)))
            .with("notch", Value::Text(moved.name.clone()));
        let words = format!(
            "moves the {} notch of the {} to where that of the {} lies",
            moved.name, moved.piece, to.piece
        );
        Cure::new("match-notches", arguments, words)
    };
    let both = [
        moves(&pair.worked, &pair.held),
        moves(&pair.held, &pair.worked),
    ];
    both.into()
}
