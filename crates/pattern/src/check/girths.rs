//! Girths of the closed pattern against body plus ease.
//!
//! *Why*: it is the first promise of a pattern that it goes round the body with the ease that was asked for.

use document::{Allowed, Finding, Place, Quantity};

use super::GIRTH_LIMIT;
use crate::seam::{Girth, Pattern};

pub(super) fn check(pattern: &Pattern) -> Vec<Finding> {
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
    })
}
