//! `pattern.json`: a pattern as other programs read it. The format is written down in `docs/pattern-json.md`.
//!
//! Knows no file and no body: what the body says comes as plain numbers. Invariants: the same pattern gives the same
//! bytes; numbers are rounded to 0.001, and none is −0; members are added to the format but never change their meaning
//! under the same name of the format.

mod finding;
mod makeup;
mod materials;
mod number;
mod piece;
mod seam;
mod text;

use document::Finding;
use serde_json::{Value, json};

use crate::materials::Materials;
use crate::seam::Pattern;
use number::number;

pub use finding::findings as findings_value;
pub use number::rounded;
pub use text::text;

/// Name of the format, with its version.
pub const FORMAT: &str = "notchbook-pattern-1";

/// What stands in the file besides pattern and findings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct About {
    /// Name of the garment.
    pub garment: String,
    /// Its version.
    pub version: String,
    /// Its date, as `2026-11-24`.
    pub date: Option<String>,
    /// Name of the body for which it was drafted.
    pub body: String,
    /// What was heard about the bust dart, where there is one.
    pub bust_dart: Option<BustDart>,
}

/// What the two witnesses of the bust dart say, and what follows from both.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BustDart {
    /// By bust girth and upper chest girth.
    pub girths: Spread,
    /// By front and back lengths.
    pub lengths: Spread,
    /// Both joined.
    pub joined: Spread,
    /// How far the two are apart, in joint standard deviations.
    pub apart: f64,
}

/// An angle and its standard deviation, degrees.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Spread {
    /// The angle.
    pub degrees: f64,
    /// Its standard deviation.
    pub spread: f64,
}

/// The text of `pattern.json`.
pub fn pattern_json(pattern: &Pattern, findings: &[Finding], about: &About) -> String {
    text(&json!({
        "format": FORMAT,
        "garment": about.garment,
        "version": about.version,
        "date": about.date,
        "body": about.body,
        "pieces": pattern.pieces.iter().map(piece::piece).collect::<Vec<_>>(),
        "seams": pattern.seams.iter().map(|one| seam::seam(pattern, one)).collect::<Vec<_>>(),
        "girths_mm": pattern.girths.iter().map(|one| seam::girth(pattern, one)).collect::<Vec<_>>(),
        "makeup": makeup::makeup(pattern),
        "materials": materials::materials(&Materials::of(pattern)),
        "bust_dart": about.bust_dart.map(bust_dart),
        "findings": findings_value(findings),
    }))
}

fn bust_dart(heard: BustDart) -> Value {
    let spread =
        |one: Spread| json!({"degrees": number(one.degrees), "spread": number(one.spread)});
    json!({
        "by_girths": spread(heard.girths),
        "by_lengths": spread(heard.lengths),
        "joined": spread(heard.joined),
        "apart": number(heard.apart),
    })
}

#[cfg(test)]
mod tests;
