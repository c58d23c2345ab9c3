//! What a recipe says of its cloths: one line for each layer.
//!
//! `cloths { shell "wool crepe" width="150 cm" thickness="0.57 mm" weight=235 frays="some"; lining file="cloths/lawn.kdl" … }`
//!
//! Where a line names the file of a cloth, that file says everything that the line does not say itself; who opens files hands
//! in what it says.

use document::{Entry, Finding, check_properties};
use pattern::{Cloth, Fraying, Layer};

use crate::recipe::Written;
use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What each layer usually is: wool suiting 235 g/m² of 0.57 mm (Penava et al. 2014, second-hand), lawn 70 g/m² (trade pages),
/// cotton 150 g/m² of 0.32 mm (Penava et al. 2014, second-hand); the others: common practice, no source.
const USUAL: [(&str, Layer, &str, f64, f64); 4] = [
    ("shell", Layer::Shell, "cloth of the outside", 0.57, 235.0),
    ("lining", Layer::Lining, "lining", 0.20, 70.0),
    ("facing", Layer::Facing, "cloth of the facings", 0.32, 150.0),
    ("interfacing", Layer::Interfacing, "interfacing", 0.25, 60.0),
];

/// Usable width where none is given, mm; common practice, no source.
const USUAL_WIDTH: f64 = 1400.0;

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> Vec<Cloth> {
    let block = layers.block("cloths");
    if let Some(block) = &block {
        crate::recipe::read::lines(block, &USUAL.map(|row| row.0), fields);
    }
    USUAL
        .iter()
        .map(|row| {
            let line = block.as_ref().and_then(|block| block.child(row.0));
            cloth(row, line, fields)
        })
        .collect()
}

fn cloth(
    &(_, layer, name, thickness, weight): &(&str, Layer, &str, f64, f64),
    line: Option<&Entry>,
    fields: &mut Fields<'_>,
) -> Cloth {
    let mut cloth = Cloth {
        layer,
        name: name.into(),
        width: USUAL_WIDTH,
        thickness,
        weight,
        frays: Fraying::Some,
    };
    let Some(line) = line else {
        return cloth;
    };
    fields.findings.extend(check_properties(
        line,
        &["file", "width", "thickness", "weight", "frays"],
    ));
    let file = line.property("file");
    if let Some(file) = file {
        fields.keep(file.text().map(|_| ()));
        let known = fields.cloths.iter().find(|known| known.layer == layer);
        cloth = known.cloned().unwrap_or(cloth);
    }
    if (file.is_none() || !line.arguments().is_empty())
        && let Some(name) = fields.text_line(Some(line))
    {
        cloth.name = name.value;
    }
    let mut length =
        |name: &str, bounds, usual| fields.length(line, name, &bounds).unwrap_or(usual);
    cloth.width = length("width", 200.0..=4000.0, cloth.width);
    cloth.thickness = length("thickness", 0.02..=15.0, cloth.thickness);
    cloth.weight = fields
        .number(line, "weight", &(5.0..=2000.0))
        .unwrap_or(cloth.weight);
    cloth.frays = frays(line, cloth.frays, fields);
    cloth
}

/// The files of cloths that the lines name.
pub(in crate::recipe) fn files(layers: &Layers<'_>) -> Vec<(Layer, Written<String>)> {
    let Some(block) = layers.block("cloths") else {
        return Vec::new();
    };
    let named = USUAL.iter().filter_map(|&(name, layer, ..)| {
        let file = block.child(name)?.property("file")?;
        let written = Written {
            value: file.text().ok()?.to_owned(),
            span: file.span().clone(),
        };
        Some((layer, written))
    });
    named.collect()
}

fn frays(line: &Entry, usual: Fraying, fields: &mut Fields<'_>) -> Fraying {
    let choices = [
        ("little", Fraying::Little),
        ("some", Fraying::Some),
        ("much", Fraying::Much),
    ];
    let read = line
        .property("frays")
        .map(|value| -> Result<Fraying, Finding> { value.choice(&choices) });
    read.and_then(|read| fields.keep(read)).unwrap_or(usual)
}
