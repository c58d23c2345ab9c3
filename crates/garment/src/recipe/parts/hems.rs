//! What a recipe says of how hems are finished.
//!
//! `hems { skirt "faced" depth="60 mm"; sleeve "narrow"; lining "narrow"; bodice "bound" }`

use document::{Entry, check_properties};
use pattern::HemFinish;

use crate::recipe::Written;
use crate::recipe::fields::{Bounds, Fields};
use crate::recipe::layers::Layers;

/// What is asked of how hems are finished.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HemWishes {
    /// Of the skirt.
    pub skirt: Option<HemWish>,
    /// Of the sleeve.
    pub sleeve: Option<HemWish>,
    /// Of the lining, where it hangs free.
    pub lining: Option<HemWish>,
    /// Of a bodice without a skirt.
    pub bodice: Option<HemWish>,
}

/// How a hem is finished.
#[derive(Clone, Debug, PartialEq)]
pub struct HemWish {
    /// How, and where that is written.
    pub finish: Written<HemFinish>,
    /// How deep it is when finished, mm; by its finish where `None`.
    pub depth: Option<Written<f64>>,
}

const FINISHES: [(&str, HemFinish); 4] = [
    ("turned", HemFinish::Turned),
    ("faced", HemFinish::Faced),
    ("narrow", HemFinish::Narrow),
    ("bound", HemFinish::Bound),
];
/// A lining is not worth a facing.
const LINING_FINISHES: [(&str, HemFinish); 3] = [FINISHES[0], FINISHES[2], FINISHES[3]];

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> HemWishes {
    let Some(block) = layers.block("hems") else {
        return HemWishes::default();
    };
    let names = ["skirt", "sleeve", "lining", "bodice"];
    crate::recipe::read::lines(&block, &names, fields);
    let mut wish = |name: &str, finishes: &[(&str, HemFinish)]| {
        let line = block.child(name)?;
        hem(line, finishes, fields)
    };
    HemWishes {
        skirt: wish("skirt", &FINISHES),
        sleeve: wish("sleeve", &FINISHES),
        lining: wish("lining", &LINING_FINISHES),
        bodice: wish("bodice", &FINISHES),
    }
}

fn hem(line: &Entry, finishes: &[(&str, HemFinish)], fields: &mut Fields<'_>) -> Option<HemWish> {
    fields.findings.extend(check_properties(line, &["depth"]));
    let value = fields.keep(line.argument("a finish such as \"turned\""))?;
    let finish = fields.keep(value.choice(finishes))?;
    let depth = fields.length(line, "depth", &bounds(finish));
    let written = line.property("depth").zip(depth);
    Some(HemWish {
        finish: Written {
            value: finish,
            span: value.span().clone(),
        },
        depth: written.map(|(value, depth)| Written {
            value: depth,
            span: value.span().clone(),
        }),
    })
}

/// What hands can turn, face and bind.
const fn bounds(finish: HemFinish) -> Bounds {
    match finish {
        HemFinish::Turned => 5.0..=200.0,
        HemFinish::Faced => 30.0..=300.0,
        HemFinish::Narrow => 2.0..=20.0,
        HemFinish::Bound => 3.0..=30.0,
    }
}
