//! What a recipe says of interfacing, tapes and staystitching.
//!
//! `interfacing { behind "neck-facing" "waistband"; waistband "half"; cut "with-allowance"; tape width="10 mm" off-grain="20°" }`

use document::{Entry, check_properties};

use crate::part::figures;
use crate::recipe::Written;
use crate::recipe::fields::{Bounds, Fields};
use crate::recipe::layers::Layers;

/// Widths of a tape that can be asked for, mm.
const TAPES: Bounds = 3.0..=40.0;
/// Angles off the grain from which an edge can be held, degrees.
const ANGLES: Bounds = 1.0..=45.0;

/// What is asked of interfacing, tapes and staystitching.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InterfacingWish {
    /// How, if any is asked for.
    pub asked: Option<Interfacing>,
}

/// How a garment is stiffened and its edges are held.
#[derive(Clone, Debug, PartialEq)]
pub struct Interfacing {
    /// Behind which pieces; behind all facings, waistband and stands where none is named.
    pub behind: Vec<Written<String>>,
    /// Whether a band that is folded is stiffened on its outer half only.
    pub half_band: bool,
    /// Whether it is cut with the allowances of its piece instead of within the seam line.
    pub with_allowance: bool,
    /// Width of stay tape, mm.
    pub tape: f64,
    /// From which angle off the grain an edge is held, degrees.
    pub off_grain: f64,
}

impl InterfacingWish {
    /// Whether interfacing lies behind derived pieces of a name such as `neck-facing`.
    pub(crate) fn lies_behind(&self, word: &str) -> bool {
        self.asked.as_ref().is_some_and(|asked| {
            asked.behind.is_empty() || asked.behind.iter().any(|name| is_meant(word, &name.value))
        })
    }
}

/// Whether a piece, or the word at the end of its name, is what was named: `front-neck-facing` is a `neck-facing`.
pub(crate) fn is_meant(piece: &str, named: &str) -> bool {
    let root = pattern::name::root(piece);
    let ends = |word: &str| {
        root.strip_suffix(word)
            .is_some_and(|rest| rest.is_empty() || rest.ends_with('-'))
    };
    pattern::name::answers_to(piece, named) || ends(named)
}

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> InterfacingWish {
    let Some(block) = layers.block("interfacing") else {
        return InterfacingWish::default();
    };
    crate::recipe::read::lines(&block, &["behind", "waistband", "cut", "tape"], fields);
    let behind = block
        .child("behind")
        .map_or_else(Vec::new, |line| names(line, fields));
    let mut chosen = |name: &str, choices: [(&str, bool); 2]| {
        let value = fields.keep(block.child(name)?.argument(choices[0].0))?;
        fields.keep(value.choice(&choices))
    };
    let half_band = chosen("waistband", [("half", true), ("whole", false)]).unwrap_or(false);
    let within = [("with-allowance", true), ("within", false)];
    let with_allowance = chosen("cut", within).unwrap_or(false);
    let (tape, off_grain) = stays(block.child("tape"), fields);
    InterfacingWish {
        asked: Some(Interfacing {
            behind,
            half_band,
            with_allowance,
            tape,
            off_grain,
        }),
    }
}

fn names(line: &Entry, fields: &mut Fields<'_>) -> Vec<Written<String>> {
    fields.findings.extend(check_properties(line, &[]));
    if line.arguments().is_empty() {
        fields.findings.extend(
            line.argument("the name of a piece, such as \"neck-facing\"")
                .err(),
        );
    }
    let texts = line.arguments().iter();
    texts
        .filter_map(|value| {
            let text = fields.keep(value.text())?;
            Some(Written {
                value: text.into(),
                span: value.span().clone(),
            })
        })
        .collect()
}

/// Width of the tape and the angle from which it is used.
fn stays(line: Option<&Entry>, fields: &mut Fields<'_>) -> (f64, f64) {
    let usual = (figures::STAY_TAPE, figures::OFF_GRAIN);
    let Some(line) = line else {
        return usual;
    };
    fields
        .findings
        .extend(check_properties(line, &["width", "off-grain"]));
    let width = fields.length(line, "width", &TAPES).unwrap_or(usual.0);
    let angle = line
        .property("off-grain")
        .and_then(|value| fields.keep(value.angle()))
        .map(geometry::Angle::degrees)
        .filter(|angle| ANGLES.contains(angle));
    (width, angle.unwrap_or(usual.1))
}
