//! Checks that a pattern can be sewn: each looks at the whole pattern and returns what it found.
//!
//! A check never changes a pattern. Each has its limit from the table of truing limits below, and its own words.

mod darts;
mod girths;
mod outlines;
mod seams;
mod smoothness;

use document::Finding;

use crate::seam::Pattern;

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

/// All findings of all checks, and those that the drafting made, errors first.
pub fn all(pattern: &Pattern) -> Vec<Finding> {
    let mut findings = pattern.findings.clone();
    findings.extend(outlines::check(pattern));
    findings.extend(seams::check(pattern));
    findings.extend(darts::check(pattern));
    findings.extend(smoothness::check(pattern));
    findings.extend(girths::check(pattern));
    findings.sort_by_key(|finding| std::cmp::Reverse(finding.severity));
    findings
}
