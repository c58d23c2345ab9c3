//! What a recipe says of what closes its opening: properties of the line that says where it opens.
//!
//! `opening "back" closed="invisible-zip" length="520 mm"`, `opening "front" closed="buttons" button="18 mm"`

use document::{Entry, Finding, check_properties};

use crate::part::figures;
use crate::recipe::Opening;
use crate::recipe::Written;
use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of what closes the opening.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ClosingWish {
    /// What closes it, and where that is written; nothing where a recipe does not say.
    pub closed: Option<Written<Closed>>,
    /// How long it is, mm; as long as the body needs where `None`.
    pub length: Option<Written<f64>>,
    /// How far below the armhole it begins, for one in the side seam of a dress, mm.
    pub from: Option<f64>,
}

/// What closes an opening.
#[derive(Clone, Debug, PartialEq)]
pub enum Closed {
    /// A zip whose teeth are hidden by the seam.
    InvisibleZip,
    /// A zip under a lap.
    LappedZip,
    /// Buttons on a stand.
    Buttons(ButtonWish),
    /// Hooks and eyes so far apart, mm.
    Hooks(f64),
    /// Nothing: a slit.
    Nothing,
}

/// What is asked of buttons, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct ButtonWish {
    /// Diameter.
    pub diameter: f64,
    /// Whether they are round like a ball instead of flat.
    pub round: bool,
    /// How far they are apart at the most.
    pub spacing: f64,
    /// How far the edges reach over the centre line; as far as the button needs where `None`.
    pub stand: Option<Written<f64>>,
    /// How wide the facing behind the edge is.
    pub facing: f64,
    /// Whether the facing is a piece of its own instead of cloth that is folded back.
    pub separate: bool,
}

const CLOSED: [(&str, &[&str]); 5] = [
    ("invisible-zip", &["length", "from"]),
    ("lapped-zip", &["length", "from"]),
    (
        "buttons",
        &[
            "length",
            "button",
            "shape",
            "spacing",
            "stand",
            "facing",
            "facing-width",
        ],
    ),
    ("hooks", &["length", "from", "spacing"]),
    ("nothing", &["length", "from"]),
];

const PROPERTIES: [&str; 9] = [
    "closed",
    "length",
    "from",
    "button",
    "shape",
    "spacing",
    "stand",
    "facing",
    "facing-width",
];

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> ClosingWish {
    let Some(line) = layers.child("opening") else {
        return ClosingWish::default();
    };
    fields.findings.extend(check_properties(line, &PROPERTIES));
    let at = line
        .argument("")
        .and_then(|value| value.choice(&Opening::WORDS));
    let at = at.unwrap_or_default();
    let closed = closed(line, fields);
    let word = closed.as_ref().map(|(row, _)| *row);
    fields.findings.extend(unused(line, at, word));
    ClosingWish {
        closed: closed.map(|(_, closed)| closed),
        length: written(line, "length", &(30.0..=1800.0), fields),
        from: fields.length(line, "from", &(0.0..=200.0)),
    }
}

type Row = (&'static str, &'static [&'static str]);

fn closed(line: &Entry, fields: &mut Fields<'_>) -> Option<(Row, Written<Closed>)> {
    let value = line.property("closed")?;
    let row = fields.keep(value.choice(&CLOSED.map(|row| (row.0, row))))?;
    let closed = match row.0 {
        "invisible-zip" => Closed::InvisibleZip,
        "lapped-zip" => Closed::LappedZip,
        "buttons" => Closed::Buttons(buttons(line, fields)),
        "hooks" => Closed::Hooks(
            fields
                .length(line, "spacing", &(8.0..=80.0))
                .unwrap_or(figures::HOOK_SPACING),
        ),
        _ => Closed::Nothing,
    };
    let span = value.span().clone();
    Some((
        row,
        Written {
            value: closed,
            span,
        },
    ))
}

fn buttons(line: &Entry, fields: &mut Fields<'_>) -> ButtonWish {
    let mut word = |name: &str, choices: [(&str, bool); 2]| {
        let value = line.property(name)?;
        fields.keep(value.choice(&choices))
    };
    let round = word("shape", [("flat", false), ("round", true)]).unwrap_or(false);
    let separate = word("facing", [("folded", false), ("separate", true)]).unwrap_or(true);
    let mut length =
        |name: &str, bounds, usual| fields.length(line, name, &bounds).unwrap_or(usual);
    ButtonWish {
        diameter: length("button", 5.0..=60.0, figures::BUTTON),
        round,
        spacing: length("spacing", 20.0..=200.0, figures::BUTTON_SPACING),
        facing: length("facing-width", 25.0..=150.0, figures::STAND_FACING),
        stand: written(line, "stand", &(5.0..=80.0), fields),
        separate,
    }
}

fn written(
    line: &Entry,
    name: &str,
    bounds: &std::ops::RangeInclusive<f64>,
    fields: &mut Fields<'_>,
) -> Option<Written<f64>> {
    let span = line.property(name)?.span().clone();
    let value = fields.length(line, name, bounds)?;
    Some(Written { value, span })
}

/// Properties that have no use beside what closes the opening, or where it is.
fn unused(line: &Entry, at: Opening, closed: Option<Row>) -> Vec<Finding> {
    let used = |name: &str| match (at, closed) {
        (Opening::Nowhere, _) => false,
        (_, None) => name == "closed",
        (_, Some((_, allowed))) => {
            name == "closed" || allowed.contains(&name) && (name != "from" || at == Opening::Side)
        }
    };
    let why = match (at, closed) {
        (Opening::Nowhere, _) => "A garment that opens nowhere",
        (_, None) => "An opening of which is not said what closes it",
        (_, Some((word, _))) => match word {
            "buttons" => "An opening with buttons",
            "hooks" => "An opening with hooks",
            "nothing" => "An opening that nothing closes",
            _ => "An opening with a zip",
        },
    };
    line.properties()
        .iter()
        .filter(|(name, _, _)| PROPERTIES.contains(&name.as_str()) && !used(name))
        .map(|(name, span, _)| {
            let why = if name == "from" && at != Opening::Side && closed.is_some() {
                "An opening that begins at the upper edge"
            } else {
                why
            };
            Finding::error("property-without-use", format!("{why} has no {name}."))
                .at_text(span, "has no use here")
                .cure("Take it away, or choose another opening.")
        })
        .collect()
}
