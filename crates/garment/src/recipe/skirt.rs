//! What a recipe says of its skirt: the cut, its length, and how full it is.
//!
//! `skirt "gored" gores=5 length="38 in" sweep="81 in"`. Invariants: a property that the cut has no use for is told, never passed
//! over; fullness is said in one way.

use document::{Entry, Finding, Value, check_properties, missing};
use geometry::Angle;

use super::Written;
use super::fields::Fields;
use super::steps;
use crate::block::figures;
use crate::block::skirt::{Fan, Full, Gores, LaidOut, PleatKind, Pleats, SkirtCut, Wrap};

/// The skirt of a recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct SkirtPart {
    /// How it is cut.
    pub cut: SkirtCut,
    /// How full it is.
    pub full: Full,
    /// Length at the centre from waist to hem, mm.
    pub length: f64,
    /// How its cloth lies when it is cut.
    pub laid: LaidOut,
}

/// A cut's word, and the properties that it has besides its length.
type Known = (&'static str, &'static [&'static str]);

const CUTS: [Known; 8] = [
    ("straight", &[]),
    ("a-line", &["sweep", "fullness", "laid"]),
    ("gathered", &["fullness", "sweep", "laid"]),
    (
        "gored",
        &[
            "gores",
            "centre-front",
            "front-width",
            "front-hem",
            "seams",
            "sweep",
            "fullness",
            "laid",
        ],
    ),
    ("circle", &["part", "angle", "sweep", "fullness", "laid"]),
    (
        "pleated",
        &[
            "as", "pleats", "depth", "laid-hem", "fullness", "sweep", "laid",
        ],
    ),
    (
        "wrapped",
        &["overlap", "facing", "sweep", "fullness", "laid"],
    ),
    ("fan", &["as", "at-waist", "sweep", "fullness", "laid"]),
];

/// Properties that each say how full a skirt is; one of them is enough.
const FULLNESS: [&str; 5] = ["fullness", "sweep", "part", "angle", "depth"];

/// Bounds of a hem all round, mm.
const SWEEP: std::ops::RangeInclusive<f64> = 500.0..=20_000.0;

/// Reads a skirt with its length.
pub(super) fn read(entry: &Entry, fields: &mut Fields<'_>) -> Option<Written<SkirtPart>> {
    let cut = read_cut(entry, fields);
    if entry.property("length").is_none() && cut.is_some() {
        let example = "skirt \"straight\" length=\"620 mm\"";
        fields.findings.push(missing(
            "property-missing",
            "length",
            entry.name_span(),
            example,
        ));
    }
    let (cut, full, laid) = cut?;
    let length = fields.length(entry, "length", &(150.0..=1600.0))?;
    let value = SkirtPart {
        cut,
        full,
        length,
        laid,
    };
    Some(Written {
        value,
        span: entry.span().clone(),
    })
}

/// Reads how a skirt is cut and how full it is; for a lining too, which takes its length from the shell.
pub(super) fn read_cut(
    entry: &Entry,
    fields: &mut Fields<'_>,
) -> Option<(SkirtCut, Full, LaidOut)> {
    let value = fields.keep(entry.argument("the cut of the skirt, such as \"a-line\""))?;
    let words: Vec<(&str, &Known)> = CUTS.iter().map(|known| (known.0, known)).collect();
    let known = fields.keep(value.choice(&words))?;
    properties(entry, known, fields);
    let cut = match known.0 {
        "a-line" => SkirtCut::Flared,
        "gathered" => SkirtCut::Gathered,
        "gored" => SkirtCut::Gored(gores(entry, fields)),
        "circle" => SkirtCut::Circle,
        "pleated" => SkirtCut::Pleated(pleats(entry, fields)),
        "wrapped" => SkirtCut::Wrapped(wrap(entry, fields)),
        "fan" => SkirtCut::Fan(fan(entry, fields)),
        _ => SkirtCut::Straight,
    };
    let laid = choice(
        entry,
        "laid",
        &[("folded", LaidOut::Folded), ("flat", LaidOut::Flat)],
        fields,
    );
    let full = full(entry, known.0, fields);
    Some((cut, full, laid.unwrap_or(LaidOut::Folded)))
}

/// One of a few words of a property.
fn choice<T: Clone>(
    entry: &Entry,
    name: &str,
    choices: &[(&str, T)],
    fields: &mut Fields<'_>,
) -> Option<T> {
    let value = entry.property(name)?;
    fields.keep(value.choice(choices))
}

fn full(entry: &Entry, cut: &str, fields: &mut Fields<'_>) -> Full {
    said_twice(entry, fields);
    if let Some(value) = entry.property("fullness") {
        return fullness(entry, value, cut, fields);
    }
    if let Some(sweep) = fields.length(entry, "sweep", &SWEEP) {
        return Full::Sweep(sweep);
    }
    part(entry, fields).map_or(Full::Usual, Full::Angle)
}

/// A number of times, or as full as the cloth allows.
fn fullness(entry: &Entry, value: &Value, cut: &str, fields: &mut Fields<'_>) -> Full {
    let counted = matches!(cut, "gathered" | "pleated");
    if !counted || value.text().is_ok() {
        let asked = fields.keep(value.choice(&[("cloth", Full::Cloth)]));
        return asked.unwrap_or(Full::Usual);
    }
    fields
        .number(entry, "fullness", &(1.1..=5.0))
        .map_or(Full::Usual, Full::Times)
}

/// The angle of a part of a circle.
fn part(entry: &Entry, fields: &mut Fields<'_>) -> Option<Angle> {
    if let Some(value) = entry.property("angle") {
        return fields.keep(value.angle());
    }
    let value = entry.property("part")?;
    let part = fields.keep(steps::number(value, fields.person))??;
    Some(Angle::from_degrees(360.0 * part))
}

fn gores(entry: &Entry, fields: &mut Fields<'_>) -> Gores {
    let count = fields.whole(entry, "gores", 4..=12).unwrap_or(6);
    let front_width = fields.number(entry, "front-width", &(0.3..=2.0));
    let front_hem = fields.length(entry, "front-hem", &(60.0..=4000.0));
    let on_fold = choice(
        entry,
        "centre-front",
        &[("fold", true), ("seam", false)],
        fields,
    );
    let of_front = front_width.is_some() || front_hem.is_some();
    let on_side_line = choice(
        entry,
        "seams",
        &[("even", false), ("side-line", true)],
        fields,
    );
    if let (Some(false), true) = (on_fold, of_front) {
        fields.findings.push(no_front_gore(entry));
    }
    if let (Some(true), Some(_)) = (on_side_line, front_width) {
        fields.findings.push(shared_twice(entry));
    }
    Gores {
        count,
        // An odd number has a gore in the middle on one side; it is the front.
        front_on_fold: on_fold.unwrap_or(count % 2 == 1 || of_front),
        front_width: front_width.unwrap_or(1.0),
        front_hem,
        on_side_line: on_side_line.unwrap_or(false),
    }
}

fn pleats(entry: &Entry, fields: &mut Fields<'_>) -> Pleats {
    let kinds = [
        ("knife", PleatKind::Knife),
        ("box", PleatKind::Box),
        ("inverted", PleatKind::Inverted),
    ];
    Pleats {
        kind: choice(entry, "as", &kinds, fields).unwrap_or(PleatKind::Knife),
        count: fields.whole(entry, "pleats", 2..=200),
        depth: fields.length(entry, "depth", &(4.0..=400.0)),
        laid_hem: fields.length(entry, "laid-hem", &SWEEP),
    }
}

fn wrap(entry: &Entry, fields: &mut Fields<'_>) -> Wrap {
    let mut length =
        |name: &str, bounds, usual| fields.length(entry, name, &bounds).unwrap_or(usual);
    Wrap {
        overlap: length("overlap", 60.0..=900.0, figures::WRAP_OVERLAP),
        facing: length("facing", 10.0..=200.0, figures::WRAP_FACING),
    }
}

fn fan(entry: &Entry, fields: &mut Fields<'_>) -> Fan {
    Fan {
        pleated: choice(entry, "as", &[("gathers", false), ("pleats", true)], fields)
            .unwrap_or(false),
        times: fields
            .number(entry, "at-waist", &(1.2..=5.0))
            .unwrap_or(figures::FAN_TIMES),
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

fn said_twice(entry: &Entry, fields: &mut Fields<'_>) {
    let given: Vec<_> = entry
        .properties()
        .iter()
        .filter(|(name, _, _)| FULLNESS.contains(&name.as_str()))
        .collect();
    if let [(first, _, _), (second, span, _), ..] = given.as_slice() {
        fields.findings.push(
            Finding::error(
                "fullness-said-twice",
                format!("How full the skirt is follows from its {first} already."),
            )
            .at_text(span, "says it again")
            .cure(format!("Keep “{first}” or “{second}”.")),
        );
    }
}

fn no_front_gore(entry: &Entry) -> Finding {
    Finding::error(
        "property-without-use",
        "With a seam at CF there is no front gore that could have its own width.",
    )
    .at_text(entry.span(), "has a seam at CF and a front gore")
    .cure("Write centre-front=\"fold\", or take front-width and front-hem away.")
}

fn shared_twice(entry: &Entry) -> Finding {
    Finding::error(
        "property-without-use",
        "Gores that follow the side line cannot have a front gore of its own width.",
    )
    .at_text(entry.span(), "shares the waist in two ways")
    .cure("Write seams=\"even\", or take front-width away; front-hem may stay.")
}
