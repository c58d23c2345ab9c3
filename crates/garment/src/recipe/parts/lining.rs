//! What a recipe says of the lining.
//!
//! `lining "open" { shorter "25 mm"; pleat "20 mm"; jump "20 mm"; hem "20 mm"; sleeve cap-ease="12 mm" raise="12 mm" }`

use document::{Entry, Finding, check_properties};
use pattern::LiningWay;

use crate::block::skirt::{Full, LaidOut, SkirtCut};
use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;
use crate::recipe::read::lines;
use crate::recipe::{Written, skirt};

/// What is asked of the lining, mm; what is left open follows from the garment.
#[derive(Clone, Debug, PartialEq)]
pub struct LiningWish {
    /// How it is joined to the shell.
    pub way: LiningWay,
    /// How much shorter than the shell it hangs.
    pub shorter: Option<Written<f64>>,
    /// By how much more than its finished length it is sewn to the hem of the shell, where it is.
    pub jump: Option<Written<f64>>,
    /// Its own hem allowance where it hangs free.
    pub hem: Option<f64>,
    /// Ease pleat at CB.
    pub pleat: Option<Written<Pleat>>,
    /// Whether its waist, shoulder and neck darts are laid in pleats.
    pub soft_darts: bool,
    /// Its skirt, where that is of another cut than the shell's.
    pub skirt: Option<Written<LiningSkirt>>,
    /// How far its side seams are left open from the hem up.
    pub slits: Option<Written<f64>>,
    /// Ease of its sleeve cap.
    pub cap_ease: Option<f64>,
    /// How much higher than the shell's its sleeve ends under the arm.
    pub raise: Option<f64>,
}

/// A lining skirt of another cut; its length follows the shell's.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LiningSkirt {
    /// How it is cut.
    pub cut: SkirtCut,
    /// How full it is.
    pub full: Full,
    /// How its cloth lies when it is cut.
    pub laid: LaidOut,
}

/// A pleat at CB that lets the back move.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pleat {
    /// Extra width at the neck over the whole back, mm.
    pub width: f64,
    /// Whether it runs out to nothing at the waist.
    pub tapering: bool,
}

const WAYS: [(&str, LiningWay); 3] = [
    ("bagged", LiningWay::Bagged),
    ("mounted", LiningWay::Mounted),
    ("open", LiningWay::Open),
];

/// The lines of a lining; a mounted one can have none of them.
const LINES: [&str; 8] = [
    "shorter", "jump", "hem", "pleat", "darts", "skirt", "slits", "sleeve",
];

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> Option<Written<LiningWish>> {
    let own = layers.child("lining")?;
    let block = layers.block("lining")?;
    lines(&block, &LINES, fields);
    for layer in block.all() {
        fields.findings.extend(check_properties(layer, &[]));
    }
    let way = way(own, fields)?;
    if way == LiningWay::Mounted {
        fields.findings.extend(of_mounted(&block));
    }
    let sleeve = block.child("sleeve");
    if let Some(sleeve) = sleeve {
        fields
            .findings
            .extend(check_properties(sleeve, &["cap-ease", "raise"]));
    }
    let mut of_sleeve = |name: &str, most: f64| {
        sleeve.and_then(|sleeve| fields.length(sleeve, name, &(0.0..=most)))
    };
    let (cap_ease, raise) = (of_sleeve("cap-ease", 60.0), of_sleeve("raise", 40.0));
    let wish = LiningWish {
        way,
        shorter: length(&block, "shorter", 0.0..=400.0, fields),
        jump: length(&block, "jump", 0.0..=80.0, fields),
        hem: fields.length_line(&block, "hem", &(0.0..=100.0)),
        pleat: pleat(&block, fields),
        soft_darts: soft_darts(&block, fields),
        skirt: block
            .child("skirt")
            .and_then(|line| own_skirt(line, fields)),
        slits: length(&block, "slits", 20.0..=900.0, fields),
        cap_ease,
        raise,
    };
    if let (Some(shorter), Some(_)) = (&wish.shorter, &wish.jump) {
        fields.findings.push(hangs_or_jumps(shorter));
    }
    Some(Written {
        value: wish,
        span: own.span().clone(),
    })
}

fn way(line: &Entry, fields: &mut Fields<'_>) -> Option<LiningWay> {
    let value = fields.keep(line.argument("\"bagged\", \"mounted\" or \"open\""))?;
    fields.keep(value.choice(&WAYS))
}

fn length(
    block: &Layers<'_>,
    name: &str,
    bounds: std::ops::RangeInclusive<f64>,
    fields: &mut Fields<'_>,
) -> Option<Written<f64>> {
    let line = block.child(name)?;
    fields.findings.extend(check_properties(line, &[]));
    let value = fields.length_line(block, name, &bounds)?;
    Some(Written {
        value,
        span: line.span().clone(),
    })
}

fn pleat(block: &Layers<'_>, fields: &mut Fields<'_>) -> Option<Written<Pleat>> {
    let line = block.child("pleat")?;
    fields
        .findings
        .extend(check_properties(line, &["tapering"]));
    let width = fields.length_line(block, "pleat", &(0.0..=120.0))?;
    let tapering = line
        .property("tapering")
        .and_then(|value| fields.keep(value.truth()))
        .unwrap_or(false);
    Some(Written {
        value: Pleat { width, tapering },
        span: line.span().clone(),
    })
}

fn soft_darts(block: &Layers<'_>, fields: &mut Fields<'_>) -> bool {
    let Some(line) = block.child("darts") else {
        return false;
    };
    let value = fields.keep(line.argument("\"sewn\" or \"pleats\""));
    let word =
        value.and_then(|value| fields.keep(value.choice(&[("sewn", false), ("pleats", true)])));
    word.unwrap_or(false)
}

fn own_skirt(line: &Entry, fields: &mut Fields<'_>) -> Option<Written<LiningSkirt>> {
    let long = line
        .properties()
        .iter()
        .find(|(name, _, _)| name == "length");
    if let Some((_, span, _)) = long {
        fields.findings.push(
            Finding::error(
                "property-without-use",
                "The length of a lining follows from its shell.",
            )
            .at_text(span, "has no use here")
            .cure("Take it away, and write “shorter” for how much shorter it hangs."),
        );
    }
    let (cut, full, laid) = skirt::read_cut(line, fields)?;
    Some(Written {
        value: LiningSkirt { cut, full, laid },
        span: line.span().clone(),
    })
}

/// A mounted lining is cut as the shell and has nothing of its own.
fn of_mounted(block: &Layers<'_>) -> Vec<Finding> {
    let own = LINES.iter().filter_map(|name| block.child(name));
    own.map(|line| {
        Finding::error(
            "lining-line-without-use",
            format!("A mounted lining has no “{}” of its own.", line.name()),
        )
        .at_text(line.span(), "has no use here")
        .because("a mounted lining is cut as the shell and sewn with it as one")
        .cure("Take the line away, or line the garment \"open\" or \"bagged\".")
    })
    .collect()
}

fn hangs_or_jumps(shorter: &Written<f64>) -> Finding {
    Finding::error(
        "lining-hangs-or-jumps",
        "The lining cannot both hang free and be sewn to the hem.",
    )
    .at_text(&shorter.span, "hangs free")
    .allowed("either “shorter”, for a lining that hangs free, or “jump”, for one that is sewn to the hem")
    .cure("Take one of the two lines away.")
}
