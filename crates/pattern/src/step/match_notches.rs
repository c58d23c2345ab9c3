//! Brings the notches of a seam together again.
//!
//! **What it does.** Walks both sides of a seam and moves the notches of one side to where those of the same name lie on the
//! other; ease, gathers and pleats may lie before or behind them.
//! **When it is used.** After a seam was drawn anew or trued, or where notches were set on each side for themselves.
//! **Example.** `match-notches seam="skirt-side" piece="skirt-back"`.
//! **What can go wrong.** The edge is too short for the place; a notch that only one side has stays as it is.
//!
//! Invariant: no line moves; walked along the seam, notches of one name are met at once.

use document::{Finding, Place};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Usual};
use super::kit::find;
use crate::meeting::{Met, Pair, pairs, shift};
use crate::seam::{Pattern, Seam};

pub(super) const STEP: StepKind = StepKind {
    name: "match-notches",
    group: Group::Marks,
    summary: "brings the notches of a seam together again",
    manual: include_str!("match_notches.rs"),
    parameters: &[
        Parameter::needed("seam", Kind::Seam, "seam whose notches are to meet"),
        Parameter::usually(
            "piece",
            Kind::Piece,
            Usual::Nothing,
            "piece whose notches move; where none is named, those of the side that is eased or walked second",
        ),
        Parameter::usually(
            "notch",
            Kind::Text,
            Usual::Nothing,
            "name of the notch; all notches of the seam where none is named",
        ),
    ],
    amount: None,
    apply: match_notches,
};

/// What is no distance, mm.
const SAME: f64 = 1e-6;

fn match_notches(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let name = &arguments.name_of("seam")?.name;
    let seam = find::seam(pattern, name).map_err(|finding| arguments.blame("seam", finding))?;
    let piece = arguments.name_of("piece").ok();
    let piece = piece.map(|named| named.piece.as_str());
    let mut changed = pattern.clone();
    let mut moved = Vec::new();
    for pair in asked(pattern, seam, arguments)? {
        let (notch, by) = pair.movement(piece);
        if by.abs() > SAME {
            shift(&mut changed, notch, by);
            moved.push(format!("{} by {:.1} mm", notch.name, by.abs()));
        }
    }
    if let Some(apart) = still_apart(&changed, seam, arguments)? {
        return Err(arguments.blame("seam", no_room(seam, &apart)));
    }
    let words = if moved.is_empty() {
        format!("found all notches of the {name} seam together")
    } else {
        format!("moved along the {name} seam: {}", moved.join(", "))
    };
    Ok(Done {
        pattern: changed,
        lines: Vec::new(),
        words,
    })
}

/// The pairs of notches that are asked for: all, or those of a name.
fn asked(pattern: &Pattern, seam: &Seam, arguments: &Arguments) -> Result<Vec<Pair>, Finding> {
    let all = pairs(pattern, seam);
    let Ok(wanted) = arguments.word("notch") else {
        return Ok(all);
    };
    let names: Vec<String> = all.iter().map(|pair| pair.held.name.clone()).collect();
    let named = all.into_iter().filter(|pair| pair.held.name == wanted);
    let named: Vec<Pair> = named.collect();
    if named.is_empty() {
        let names: Vec<&str> = names.iter().map(String::as_str).collect();
        let finding = find::not_there(
            "notch-not-there",
            format!(
                "both sides of the {} seam have no notch called {wanted}",
                seam.name
            ),
            wanted,
            &names,
        );
        return Err(arguments.blame("notch", finding));
    }
    Ok(named)
}

fn still_apart(
    pattern: &Pattern,
    seam: &Seam,
    arguments: &Arguments,
) -> Result<Option<Met>, Finding> {
    let left = asked(pattern, seam, arguments)?.into_iter();
    let mut apart = left.filter(|pair| pair.movement(None).1.abs() > SAME);
    Ok(apart.next().map(|pair| pair.worked))
}

fn no_room(seam: &Seam, notch: &Met) -> Finding {
    Finding::error(
        "notch-beyond-edge",
        format!(
            "the {} of the {} is too short for the {} notch of the {} seam",
            notch.edge, notch.piece, notch.name, seam.name
        ),
    )
    .at(Place::Edge {
        piece: notch.piece.clone(),
        edge: notch.edge.clone(),
        at: Some(notch.at),
    })
    .cure("let the notch of the other piece move: name that piece")
}
