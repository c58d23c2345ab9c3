//! What a recipe says of vents and slits: one line for each.
//!
//! `vents { vent seam="centre-back" height="180 mm" width="40 mm"; slit seam="skirt-side" height="150 mm" }`

use document::{Entry, check_properties, check_statements, missing};

use crate::part::figures;
use crate::recipe::Written;
use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// A vent or a slit.
#[derive(Clone, Debug, PartialEq)]
pub struct VentWish {
    /// The seam that ends above it, or `centre-back` or `centre-front`.
    pub seam: Written<String>,
    /// How high it opens above the hem, mm.
    pub height: Written<f64>,
    /// How far its sides lie over each other, mm; 0 for a slit.
    pub width: f64,
}

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> Vec<VentWish> {
    let Some(block) = layers.block("vents") else {
        return Vec::new();
    };
    let mut wishes = Vec::new();
    for layer in block.all() {
        let lines = layer.children();
        fields
            .findings
            .extend(check_statements(lines, &["vent", "slit"]));
        wishes.extend(lines.iter().filter_map(|line| vent(line, fields)));
    }
    wishes
}

fn vent(line: &Entry, fields: &mut Fields<'_>) -> Option<VentWish> {
    let is_slit = line.name() == "slit";
    let allowed: &[&str] = if is_slit {
        &["seam", "height"]
    } else {
        &["seam", "height", "width"]
    };
    fields.findings.extend(check_properties(line, allowed));
    for (name, example) in [
        ("seam", "seam=\"centre-back\""),
        ("height", "height=\"180 mm\""),
    ] {
        if line.property(name).is_none() {
            let finding = missing("property-missing", name, line.name_span(), example);
            fields.findings.push(finding);
        }
    }
    let (seam, height) = (line.property("seam")?, line.property("height")?);
    let width = if is_slit {
        0.0
    } else {
        fields
            .length(line, "width", &(15.0..=150.0))
            .unwrap_or(figures::VENT_WIDTH)
    };
    Some(VentWish {
        seam: Written {
            value: fields.keep(seam.text())?.into(),
            span: seam.span().clone(),
        },
        height: Written {
            value: fields.length(line, "height", &(30.0..=1000.0))?,
            span: height.span().clone(),
        },
        width,
    })
}
