//! From the text of a recipe to what it asks for; all slips of the pen are told at once.

use document::{Entry, Finding, check_properties, check_repeats, check_statements};

use super::fields::Fields;
use super::formula::Person;
use super::layers::{self, Layers};
use super::parts::Parts;
use super::{
    BodicePart, Ease, Recipe, STATEMENTS, SleevePart, WaistbandPart, Written, opening, skirt, steps,
};
use crate::block::bodice::{BodiceEase, BustDartAt, Neckline, NecklineShape};

/// A name must fit on a piece of paper pattern.
const LONGEST_NAME: usize = 80;

/// Reads the recipe of a garment whose files are open.
pub(super) fn read(
    garments: &[Entry],
    (beside, cloths): (&[Finding], &[pattern::Cloth]),
    person: Person<'_>,
) -> Result<Recipe, Vec<Finding>> {
    let mut fields = Fields::new(person, cloths);
    fields.findings.extend_from_slice(beside);
    fields.findings.extend(layers::without(garments));
    let recipe = recipe(&Layers::of(garments), &mut fields);
    match recipe {
        Some(recipe) if fields.findings.is_empty() => Ok(recipe),
        _ => Err(fields.findings),
    }
}

fn recipe(layers: &Layers<'_>, fields: &mut Fields<'_>) -> Option<Recipe> {
    let garment = layers.own();
    for layer in layers.all() {
        fields
            .findings
            .extend(check_statements(layer.children(), &STATEMENTS));
        fields.findings.extend(check_repeats(layer.children()));
        fields.findings.extend(check_properties(layer, &[]));
    }
    let name = name(garment, fields);
    let bodice = layers.block("bodice").map(|block| bodice(&block, fields));
    let skirt = layers
        .child("skirt")
        .and_then(|entry| skirt::read(entry, fields));
    if bodice.is_none() && layers.child("skirt").is_none() {
        fields.findings.push(nothing_to_make(garment));
    }
    let sleeve = layers.child("sleeve").map(|entry| sleeve(entry, fields));
    if let (Some(entry), None) = (layers.child("sleeve"), &bodice) {
        fields.findings.push(goes_with(entry, "a sleeve", "bodice"));
    }
    let waistband = layers
        .child("waistband")
        .map(|entry| waistband(entry, fields));
    if let (Some(entry), Some(_)) = (layers.child("waistband"), &bodice) {
        fields.findings.push(goes_without(entry));
    }
    // Version and date are those of this garment, never of what it stands on.
    let version = fields
        .text_line(garment.child("version"))
        .map_or_else(|| "1".into(), |version| version.value);
    let parts = super::parts::read(layers, fields);
    Some(Recipe {
        name: name?,
        version,
        date: fields
            .text_line(garment.child("date"))
            .map(|date| date.value),
        body: fields.text_line(layers.child("body")),
        opening: opening::read(layers, fields),
        ease: ease(layers, fields, bodice.is_some()),
        bodice,
        skirt,
        sleeve,
        waistband,
        allowances: super::allowances::read(layers, fields, shell(layers, &parts)),
        parts,
        steps: layers
            .block("steps")
            .map_or_else(Vec::new, |blocks| steps::read(&blocks, fields)),
    })
}

fn name(garment: &Entry, fields: &mut Fields<'_>) -> Option<String> {
    let value = fields.keep(garment.argument("the name of the garment in quotes"))?;
    let text = fields.keep(value.text())?;
    if text.chars().count() > LONGEST_NAME {
        fields.findings.push(name_too_long(value));
    }
    Some(text.into())
}

fn name_too_long(value: &document::Value) -> Finding {
    Finding::error(
        "name-too-long",
        format!("The name of the garment is longer than {LONGEST_NAME} letters."),
    )
    .at_text(&value.span().first_line(), "too long to stand on a piece")
    .allowed(format!("at most {LONGEST_NAME} letters"))
    .cure("Give it a shorter name; a comment behind // may tell more.")
}

fn ease(garment: &Layers<'_>, fields: &mut Fields<'_>, has_bodice: bool) -> Ease {
    let mut ease = Ease::WEARING;
    if !has_bodice {
        ease.bodice.waist = Ease::SKIRT_WAIST;
    }
    let Some(block) = garment.block("ease") else {
        return ease;
    };
    lines(
        &block,
        &[
            "bust",
            "waist",
            "hip",
            "across-back",
            "across-front",
            "neck",
        ],
        fields,
    );
    let mut line = |name: &str, most: f64, usual: f64| {
        fields
            .length_line(&block, name, &(-20.0..=most))
            .unwrap_or(usual)
    };
    let BodiceEase {
        bust,
        waist,
        across_back,
        across_front,
        neck,
    } = ease.bodice;
    Ease {
        bodice: BodiceEase {
            bust: line("bust", 400.0, bust),
            waist: line("waist", 400.0, waist),
            across_back: line("across-back", 120.0, across_back),
            across_front: line("across-front", 80.0, across_front),
            neck: line("neck", 40.0, neck),
        },
        hip: line("hip", 500.0, ease.hip),
    }
}

/// Every line of a block is known and stands once in each file.
pub(super) fn lines(block: &Layers<'_>, allowed: &[&str], fields: &mut Fields<'_>) {
    for layer in block.all() {
        fields
            .findings
            .extend(check_statements(layer.children(), allowed));
        fields.findings.extend(check_repeats(layer.children()));
    }
}

fn bodice(block: &Layers<'_>, fields: &mut Fields<'_>) -> Written<BodicePart> {
    lines(block, &["bust-dart", "neckline"], fields);
    for layer in block.all() {
        fields.findings.extend(check_properties(layer, &[]));
    }
    let part = BodicePart {
        bust_dart: bust_dart(block, fields),
        neckline: neckline(block, fields),
    };
    Written {
        value: part,
        span: block.own().name_span().clone(),
    }
}

const BUST_DARTS: [(&str, BustDartAt); 5] = [
    ("side", BustDartAt::Side),
    ("armhole", BustDartAt::Armhole),
    ("shoulder", BustDartAt::Shoulder),
    ("neck", BustDartAt::Neck),
    ("waist", BustDartAt::Waist),
];

fn bust_dart(bodice: &Layers<'_>, fields: &mut Fields<'_>) -> Written<BustDartAt> {
    let usual = Written {
        value: BustDartAt::Side,
        span: bodice.own().name_span().clone(),
    };
    let Some(line) = bodice.child("bust-dart") else {
        return usual;
    };
    let Some(value) = fields.keep(line.argument("a place such as \"side\"")) else {
        return usual;
    };
    let place = fields
        .keep(value.choice(&BUST_DARTS))
        .unwrap_or(BustDartAt::Side);
    Written {
        value: place,
        span: value.span().clone(),
    }
}

fn neckline(bodice: &Layers<'_>, fields: &mut Fields<'_>) -> Written<Neckline> {
    let plain = Neckline {
        shape: NecklineShape::Round,
        depth: 0.0,
        width: 0.0,
        back_depth: 0.0,
    };
    let Some(line) = bodice.child("neckline") else {
        return Written {
            value: plain,
            span: bodice.own().name_span().clone(),
        };
    };
    fields
        .findings
        .extend(check_properties(line, &["depth", "width", "back-depth"]));
    let value = fields
        .keep(line.optional_argument("\"round\" or \"v\""))
        .flatten();
    let shape = value.and_then(|value| {
        fields.keep(value.choice(&[("round", NecklineShape::Round), ("v", NecklineShape::V)]))
    });
    let value = Neckline {
        shape: shape.unwrap_or(NecklineShape::Round),
        depth: fields.length(line, "depth", &(0.0..=500.0)).unwrap_or(0.0),
        width: fields.length(line, "width", &(0.0..=200.0)).unwrap_or(0.0),
        back_depth: fields
            .length(line, "back-depth", &(0.0..=400.0))
            .unwrap_or(0.0),
    };
    Written {
        value,
        span: line.span().clone(),
    }
}

fn sleeve(entry: &Entry, fields: &mut Fields<'_>) -> Written<SleevePart> {
    fields.findings.extend(check_properties(
        entry,
        &["length", "ease", "cap-ease", "hem"],
    ));
    let cap_span = entry
        .property("cap-ease")
        .map_or(entry.name_span(), |value| value.span())
        .clone();
    // Width: upper arm and 2 in; cap ease 1–1 1/2 in: Armstrong, *Patternmaking for Fashion Design*, 2nd ed., p. 68.
    let part = SleevePart {
        length: fields.length(entry, "length", &(60.0..=900.0)),
        ease: fields.length(entry, "ease", &(0.0..=300.0)).unwrap_or(50.0),
        cap_ease: Written {
            value: fields
                .length(entry, "cap-ease", &(0.0..=80.0))
                .unwrap_or(28.0),
            span: cap_span,
        },
        hem: fields.length(entry, "hem", &(120.0..=900.0)),
    };
    Written {
        value: part,
        span: entry.span().clone(),
    }
}

fn waistband(entry: &Entry, fields: &mut Fields<'_>) -> Written<WaistbandPart> {
    fields
        .findings
        .extend(check_properties(entry, &["height", "underlap"]));
    let part = WaistbandPart {
        height: fields
            .length(entry, "height", &(10.0..=150.0))
            .unwrap_or(35.0),
        underlap: fields
            .length(entry, "underlap", &(0.0..=120.0))
            .unwrap_or(30.0),
    };
    Written {
        value: part,
        span: entry.span().clone(),
    }
}

/// The shell's cloth, where something is said of it.
fn shell<'a>(garment: &Layers<'_>, parts: &'a Parts) -> Option<&'a pattern::Cloth> {
    garment.block("cloths")?.child("shell")?;
    let mut cloths = parts.cloths.iter();
    cloths.find(|cloth| cloth.layer == pattern::Layer::Shell)
}

fn nothing_to_make(garment: &Entry) -> Finding {
    Finding::error(
        "nothing-to-make",
        "The garment has neither a bodice nor a skirt.",
    )
    .at_text(garment.name_span(), "nothing to draft")
    .allowed("“bodice”, “skirt” or both")
    .cure("Add, for example: skirt \"a-line\" length=\"620 mm\"")
}

fn goes_with(entry: &Entry, what: &str, needs: &str) -> Finding {
    Finding::error(
        "part-without-partner",
        format!("There is {what} and no {needs} to set it into."),
    )
    .at_text(entry.name_span(), format!("needs a {needs}"))
    .cure(format!("Add “{needs}”, or take this away."))
}

fn goes_without(entry: &Entry) -> Finding {
    Finding::error(
        "part-without-place",
        "A garment with a bodice has no place for a waistband.",
    )
    .at_text(entry.name_span(), "only for a skirt on its own")
    .cure("Take it away, or take the bodice away.")
}
