//! Girths of the closed pattern against body plus ease.
//!
//! **What it does.** Adds up all pieces at bust, waist and hip, darts closed and gathers drawn in.
//! **Why.** It is the first promise of a pattern that it goes round the body with the ease that was asked for.
//! **Example.** A waist of 712 mm for a body of 690 mm and an ease of 30 mm.
//! **What can go wrong.** Steps that give or take width change the ease at a level, and say so; they are not found here.

use document::{Allowed, Finding, Place, Quantity};

use super::cure::{self, Cure};
use super::{About, Check, GIRTH_LIMIT, seams};
use crate::piece::Layer;
use crate::seam::{Girth, Pattern};
use crate::step::{Arguments, Value};

pub(super) const CHECK: Check = Check {
    title: "Girths",
    manual: include_str!("girths.rs"),
    codes: &[("girth-off", "0.5 mm from body and ease")],
    about: About::Sewing,
    run: check,
};

fn check(pattern: &Pattern) -> Vec<Finding> {
    cure::with_cures(pattern, found(pattern), found_and_seams, cures)
}

/// A level that is right at the cost of a seam is no cure.
fn found_and_seams(pattern: &Pattern) -> Vec<Finding> {
    let mut all = found(pattern);
    all.extend(seams::found(pattern));
    all
}

fn found(pattern: &Pattern) -> Vec<Finding> {
    pattern
        .girths
        .iter()
        .filter_map(|girth| against_body(pattern, girth))
        .collect()
}

fn against_body(pattern: &Pattern, girth: &Girth) -> Option<Finding> {
    let (closed, wanted) = (pattern.girth(girth), girth.body + girth.ease);
    let off = closed - wanted;
    let far = off.abs() > GIRTH_LIMIT && (off < 0.0 || !girth.at_least);
    far.then(|| {
        Finding::error(
            "girth-off",
            format!(
                "the closed pattern measures {closed:.1} mm at the {}, {:.1} mm {} than body and ease",
                girth.level,
                off.abs(),
                if off > 0.0 { "more" } else { "less" }
            ),
        )
        .at(Place::Measure(girth.level.clone()))
        .measured(
            Quantity::mm(closed),
            Allowed::Between(Quantity::mm(wanted - GIRTH_LIMIT), Quantity::mm(wanted + GIRTH_LIMIT)),
        )
        .because("a pattern must go round the body with the ease that was asked for")
        .cure("take the side seams in or let them out, with the step “fit-girth”")
    })
}

/// All side seams of bodice and skirt move together, so that they still meet at the waist.
fn cures(pattern: &Pattern, finding: &Finding) -> Vec<Cure> {
    let Some(Place::Measure(level)) = finding.places.first() else {
        return Vec::new();
    };
    let sides = pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == Layer::Shell);
    let sides = sides.filter_map(|piece| Some((piece, piece.edge("side")?)));
    let level_of = Arguments::new().with("level", Value::Text(level.clone()));
    let arguments = sides.fold(level_of, |all, (piece, edge)| {
        all.named("edge", &piece.name, &edge.name)
    });
    let words = format!("moves all side seams until the {level} has its ease");
    vec![Cure::new("fit-girth", arguments, words)]
}
