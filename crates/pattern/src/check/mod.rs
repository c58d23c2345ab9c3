//! Checks that a pattern can be sewn and worn: each looks at the whole pattern and returns what it found.
//!
//! A check is one file. Its module text has the house form (*What it does · Why · Example · What can go wrong*), from which the
//! reference of findings is made; it ends in one constant that stands in [`CHECKS`]. A check never changes a pattern. Each
//! has its limit from the table of truing limits below, and its own words.

mod bulk;
mod cloth_width;
mod cure;
mod darts;
mod girths;
mod grain;
mod notches;
mod opening;
mod outlines;
mod room;
mod seams;
mod smoothness;
mod waist_darts;
mod walking;

use document::Finding;

use crate::seam::Pattern;

pub use bulk::{HAND_LIMIT, MACHINE_LIMIT};

/// Both sides of a seam, walked, less the ease that was asked for: mm. Half of what a hand at a machine can hold; common
/// practice, no source.
pub const SEAM_LIMIT: f64 = 0.5;
/// Facing or lining against the layer on which it lies, less the ease that is meant: mm. Layers give a little where seams do not;
/// common practice, no source.
pub const LAYER_LIMIT: f64 = 1.0;
/// Dart legs, mm: they are drawn as one turned about the point, so any difference is a slip.
pub const LEG_LIMIT: f64 = 0.1;
/// Edges that run on across a seam or over a closed dart, degrees; common practice, no source.
pub const SMOOTH_LIMIT: f64 = 3.0;
/// Right angle where an edge meets a centre line, degrees: 1° there is a peak or dip of 2° in the whole piece.
pub const SQUARE_LIMIT: f64 = 1.0;
/// Girth of the closed pattern against body plus ease, mm.
pub const GIRTH_LIMIT: f64 = 0.5;
/// Notches that meet across a seam, mm: as both sides of the seam.
pub const NOTCH_LIMIT: f64 = 0.5;
/// Grain on one side of a seam against that on the other, degrees; common practice, no source.
pub const GRAIN_LIMIT: f64 = 10.0;
/// Darts above the waist seam against those below it, mm; common practice, no source.
pub const WAIST_DART_LIMIT: f64 = 3.0;

/// A check and what is written of it.
pub struct Check {
    /// What it looks at, in a few words.
    pub title: &'static str,
    /// The source file of the check, whose module text has the house form.
    pub manual: &'static str,
    /// What it finds: the code, and within which limit all is well.
    pub codes: &'static [(&'static str, &'static str)],
    /// Whether it asks if the pieces go together, or if the garment can be worn and made up by hand, machine and cloth.
    pub about: About,
    run: fn(&Pattern) -> Vec<Finding>,
}

/// What a check is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// Whether the pieces go together when they are sewn.
    Sewing,
    /// Whether the wearer, the cloth and the needle get on with it.
    Wearing,
}

/// All checks in the order in which they are done.
pub const CHECKS: [&Check; 13] = [
    &outlines::CHECK,
    &room::CHECK,
    &cloth_width::CHECK,
    &seams::CHECK,
    &notches::CHECK,
    &darts::CHECK,
    &waist_darts::CHECK,
    &smoothness::CHECK,
    &girths::CHECK,
    &grain::CHECK,
    &opening::CHECK,
    &walking::CHECK,
    &bulk::CHECK,
];

impl Check {
    /// What it finds in a pattern.
    pub fn findings(&self, pattern: &Pattern) -> Vec<Finding> {
        (self.run)(pattern)
    }
}

/// All findings of all checks, and those that the drafting made, errors first.
pub fn all(pattern: &Pattern) -> Vec<Finding> {
    done(pattern, &CHECKS)
}

/// The same of those checks only that ask whether the pieces go together.
pub fn of_sewing(pattern: &Pattern) -> Vec<Finding> {
    let sewing = CHECKS
        .into_iter()
        .filter(|check| check.about == About::Sewing);
    done(pattern, &sewing.collect::<Vec<_>>())
}

fn done(pattern: &Pattern, checks: &[&Check]) -> Vec<Finding> {
    let mut findings = pattern.findings.clone();
    for check in checks {
        for found in check.findings(pattern) {
            // What the drafting said of a place in the recipe says more than the check that comes to the same.
            if !pattern
                .findings
                .iter()
                .any(|known| known.code == found.code)
            {
                findings.push(found);
            }
        }
    }
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    findings
}
