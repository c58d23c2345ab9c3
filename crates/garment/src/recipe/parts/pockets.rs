//! What a recipe says of pockets: one line for each.
//!
//! `pockets { in-seam seam="skirt-side" below-waist="80 mm" opening="150 mm"; patch piece="skirt-front" shape="rounded" }`

use document::{Entry, Span, check_properties, check_statements, missing};

use crate::part::figures;
use crate::recipe::Written;
use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of pockets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PocketWishes {
    /// Pockets in seams.
    pub in_seam: Vec<InSeamWish>,
    /// Pockets on the outside.
    pub patches: Vec<PatchWish>,
}

/// On which side of the body a pocket is.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PocketSide {
    /// On both.
    #[default]
    Both,
    /// On the left only.
    Left,
    /// On the right only.
    Right,
}

/// What is asked of a pocket in a seam, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct InSeamWish {
    /// The seam.
    pub seam: Written<String>,
    /// Top of the opening below the waist seam.
    pub below_waist: Written<f64>,
    /// Length of the opening.
    pub opening: Written<f64>,
    /// How far the bag reaches inwards.
    pub width: f64,
    /// How far it hangs below the opening.
    pub depth: f64,
    /// Whether the half of the bag that shows when the hand goes in is cut of lining like the other.
    pub lined: bool,
    /// On which side it is.
    pub side: PocketSide,
    /// Its statement among those of its kind: `in-seam`, `in-seam#2`.
    pub statement: String,
    /// Where the line stands.
    pub span: Span,
}

/// How the lower edge of a patch pocket is shaped.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum PatchShape {
    /// Straight, with square corners.
    #[default]
    Square,
    /// To a point in the middle.
    Pointed,
    /// With round corners.
    Rounded,
}

/// What is asked of a patch pocket, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct PatchWish {
    /// The piece on which it is sewn.
    pub piece: Written<String>,
    /// Shape.
    pub shape: PatchShape,
    /// Width.
    pub width: Option<f64>,
    /// Height, to its lowest point.
    pub height: Option<f64>,
    /// Depth of the hem at its top.
    pub hem: f64,
    /// Its top below the waist; on a bodice, below the bust line.
    pub below: Option<f64>,
    /// From where it is measured across.
    pub across: Across,
    /// On which side it is.
    pub side: PocketSide,
    /// Where the line stands.
    pub span: Span,
}

/// Where a patch pocket lies across its piece, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Across {
    /// Its outer edge so far from the side.
    FromSide(f64),
    /// Its inner edge so far from the centre line.
    FromCentre(f64),
    /// Where it usually is: near the side on a skirt, under the bust point on a bodice.
    Usual,
}

const SIDES: [(&str, PocketSide); 3] = [
    ("both", PocketSide::Both),
    ("left", PocketSide::Left),
    ("right", PocketSide::Right),
];

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> PocketWishes {
    let mut wishes = PocketWishes::default();
    let Some(block) = layers.block("pockets") else {
        return wishes;
    };
    for line in block.all().flat_map(Entry::children) {
        match line.name() {
            "in-seam" => {
                let number = wishes.in_seam.len() + 1;
                wishes.in_seam.extend(in_seam(line, number, fields));
            }
            "patch" => wishes.patches.extend(patch(line, fields)),
            _ => fields.findings.extend(check_statements(
                std::slice::from_ref(line),
                &["in-seam", "patch"],
            )),
        }
    }
    wishes
}

fn in_seam(line: &Entry, number: usize, fields: &mut Fields<'_>) -> Option<InSeamWish> {
    fields.findings.extend(check_properties(
        line,
        &[
            "seam",
            "below-waist",
            "opening",
            "width",
            "depth",
            "bags",
            "side",
        ],
    ));
    let example = "in-seam seam=\"skirt-side\"";
    Some(InSeamWish {
        seam: named(line, "seam", example, fields)?,
        below_waist: written(
            line,
            "below-waist",
            20.0..=300.0,
            figures::POCKET_BELOW_WAIST,
            fields,
        ),
        opening: written(
            line,
            "opening",
            80.0..=300.0,
            figures::POCKET_OPENING,
            fields,
        ),
        width: fields
            .length(line, "width", &(80.0..=300.0))
            .unwrap_or(figures::POCKET_BAG_WIDTH),
        depth: fields
            .length(line, "depth", &(20.0..=300.0))
            .unwrap_or(figures::POCKET_BAG_DEPTH),
        statement: match number {
            1 => "in-seam".to_owned(),
            _ => format!("in-seam#{number}"),
        },
        lined: choice(line, "bags", &[("shell", false), ("lining", true)], fields),
        side: choice(line, "side", &SIDES, fields),
        span: line.span().clone(),
    })
}

fn patch(line: &Entry, fields: &mut Fields<'_>) -> Option<PatchWish> {
    fields.findings.extend(check_properties(
        line,
        &[
            "piece",
            "shape",
            "width",
            "height",
            "hem",
            "below-waist",
            "below-bust",
            "from-side",
            "from-centre",
            "side",
        ],
    ));
    let shapes = [
        ("square", PatchShape::Square),
        ("pointed", PatchShape::Pointed),
        ("rounded", PatchShape::Rounded),
    ];
    let mut length = |name: &str, bounds| fields.length(line, name, &bounds);
    let below = length("below-waist", 0.0..=600.0).or(length("below-bust", -150.0..=200.0));
    let across = match (
        length("from-side", 5.0..=600.0),
        length("from-centre", 5.0..=600.0),
    ) {
        (Some(side), _) => Across::FromSide(side),
        (None, Some(centre)) => Across::FromCentre(centre),
        (None, None) => Across::Usual,
    };
    let (width, height) = (
        length("width", 40.0..=400.0),
        length("height", 40.0..=500.0),
    );
    let hem = length("hem", 5.0..=80.0).unwrap_or(figures::PATCH_HEM);
    Some(PatchWish {
        piece: named(line, "piece", "patch piece=\"skirt-front\"", fields)?,
        shape: choice(line, "shape", &shapes, fields),
        width,
        height,
        hem,
        below,
        across,
        side: choice(line, "side", &SIDES, fields),
        span: line.span().clone(),
    })
}

fn named(
    line: &Entry,
    name: &str,
    example: &str,
    fields: &mut Fields<'_>,
) -> Option<Written<String>> {
    let Some(value) = line.property(name) else {
        let finding = missing("property-missing", name, line.name_span(), example);
        fields.findings.push(finding);
        return None;
    };
    let text = fields.keep(value.text())?.to_owned();
    Some(Written {
        value: text,
        span: value.span().clone(),
    })
}

/// A length, where it is written, or the usual one, where the line begins.
fn written(
    line: &Entry,
    name: &str,
    bounds: std::ops::RangeInclusive<f64>,
    usual: f64,
    fields: &mut Fields<'_>,
) -> Written<f64> {
    let span = line.property(name).map(document::Value::span);
    Written {
        value: fields.length(line, name, &bounds).unwrap_or(usual),
        span: span.unwrap_or(line.name_span()).clone(),
    }
}

fn choice<T: Copy + Default>(
    line: &Entry,
    name: &str,
    choices: &[(&str, T)],
    fields: &mut Fields<'_>,
) -> T {
    let value = line.property(name);
    value
        .and_then(|value| fields.keep(value.choice(choices)))
        .unwrap_or_default()
}
