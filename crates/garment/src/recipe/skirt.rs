//! What a recipe says of its skirt: the cut, its length, and how full it is.
//!
//! `skirt "a-line" length="26 in" sweep="64 in"`. Invariant: a property that the cut has no use for is told, never passed over.

use document::{Entry, Finding, check_properties, missing};

use super::Written;
use super::fields::Fields;
use crate::block::skirt::{Full, SkirtCut};

/// The skirt of a recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct SkirtPart {
    /// How it is cut.
    pub cut: SkirtCut,
    /// How full it is.
    pub full: Full,
    /// Length at the centre from waist to hem, mm.
    pub length: f64,
}

/// A cut's word, and the properties that it has besides its length.
type Known = (&'static str, &'static [&'static str]);

const CUTS: [Known; 3] = [
    ("straight", &[]),
    ("a-line", &["sweep"]),
    ("gathered", &["fullness", "sweep"]),
];

/// Bounds of a hem all round, mm.
const SWEEP: std::ops::RangeInclusive<f64> = 500.0..=20_000.0;

/// Reads a skirt with its length.
pub(super) fn read(entry: &Entry, fields: &mut Fields<'_>) -> Option<Written<SkirtPart>> {
    let (cut, full) = read_cut(entry, fields)?;
    if entry.property("length").is_none() {
        let example = "skirt \"straight\" length=\"620 mm\"";
        fields.findings.push(missing(
            "property-missing",
            "length",
            entry.name_span(),
            example,
        ));
    }
    let length = fields.length(entry, "length", &(150.0..=1600.0))?;
    Some(Written {
        value: SkirtPart { cut, full, length },
        span: entry.span().clone(),
    })
}

/// Reads how a skirt is cut and how full it is; for a lining too, which takes its length from the shell.
pub(super) fn read_cut(entry: &Entry, fields: &mut Fields<'_>) -> Option<(SkirtCut, Full)> {
    let value = fields.keep(entry.argument("the cut of the skirt, such as \"a-line\""))?;
    let words: Vec<(&str, &Known)> = CUTS.iter().map(|known| (known.0, known)).collect();
    let known = fields.keep(value.choice(&words))?;
    properties(entry, known, fields);
    let cut = match known.0 {
        "a-line" => SkirtCut::Flared,
        "gathered" => SkirtCut::Gathered,
        _ => SkirtCut::Straight,
    };
    Some((cut, full(entry, fields)))
}

fn full(entry: &Entry, fields: &mut Fields<'_>) -> Full {
    let times = fields.number(entry, "fullness", &(1.1..=5.0));
    let sweep = fields.length(entry, "sweep", &SWEEP);
    match (times, sweep) {
        (Some(times), _) => Full::Times(times),
        (None, Some(sweep)) => Full::Sweep(sweep),
        (None, None) => Full::Usual,
    }
}

/// Every property is one of some cut, and of this one.
fn properties(entry: &Entry, (word, own): &Known, fields: &mut Fields<'_>) {
    let mut all = vec!["length"];
    for name in CUTS.iter().flat_map(|(_, names)| *names) {
        if !all.contains(name) {
            all.push(name);
        }
    }
    fields.findings.extend(check_properties(entry, &all));
    let useless = entry.properties().iter().filter(|(name, _, _)| {
        all.contains(&name.as_str()) && name != "length" && !own.contains(&name.as_str())
    });
    for (name, span, _) in useless {
        let finding = Finding::error(
            "property-without-use",
            format!("A \"{word}\" skirt has no {name}."),
        );
        fields.findings.push(
            finding
                .at_text(span, "has no use here")
                .cure("Take it away, or choose another cut."),
        );
    }
}
