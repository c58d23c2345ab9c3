//! The list itself, in the order in which a garment is thought of: from the body's ease to the hems.

use super::Measure::{Count, Length, Ratio, Word};
use super::Reading::{self, Open};
use super::Slot::{Property, Value};
use super::{Measure, Number, Slot};
use crate::block::bodice::{BustDartAt, NecklineShape};
use crate::block::skirt::{Full, SkirtCut};
use crate::recipe::parts::{FacingAt, HemWish};
use crate::recipe::{Opening, Recipe};

const fn number(
    id: &'static str,
    (path, slot): (&'static [&'static str], Slot),
    (group, label): (&'static str, &'static str),
    measure: Measure,
    reading: fn(&Recipe) -> Option<Reading>,
) -> Number {
    Number {
        id,
        path,
        slot,
        label,
        group,
        measure,
        reading,
    }
}

#[allow(
    clippy::unnecessary_wraps,
    reason = "every reading of the list is one that a recipe may have no place for"
)]
fn known(value: f64) -> Option<Reading> {
    Some(Reading::Number(value))
}

#[allow(clippy::unnecessary_wraps, reason = "as above")]
fn known_or_open(value: Option<f64>) -> Option<Reading> {
    Some(value.map_or(Open, Reading::Number))
}

const EASE: &str = "Ease";
const NECK: &str = "Neckline and dart";
const SLEEVE: &str = "Sleeve";
const SKIRT: &str = "Skirt";
const BAND: &str = "Waistband and opening";
const ALLOWANCES: &str = "Allowances";
const PARTS: &str = "Facings, lining and hems";
const HEM_MOST: f64 = 200.0;

/// All numbers.
pub const NUMBERS: &[Number] = &[
    number(
        "ease.bust",
        (&["ease", "bust"], Value),
        (EASE, "Ease at the bust"),
        Length(-20.0, 400.0),
        |r| r.bodice.as_ref().and_then(|_| known(r.ease.bodice.bust)),
    ),
    number(
        "ease.waist",
        (&["ease", "waist"], Value),
        (EASE, "Ease at the waist"),
        Length(-20.0, 400.0),
        |r| known(r.ease.bodice.waist),
    ),
    number(
        "ease.hip",
        (&["ease", "hip"], Value),
        (EASE, "Ease at the hip"),
        Length(-20.0, 500.0),
        |r| r.skirt.as_ref().and_then(|_| known(r.ease.hip)),
    ),
    number(
        "ease.across-back",
        (&["ease", "across-back"], Value),
        (EASE, "Ease across the back"),
        Length(-20.0, 120.0),
        |r| {
            r.bodice
                .as_ref()
                .and_then(|_| known(r.ease.bodice.across_back))
        },
    ),
    number(
        "ease.across-front",
        (&["ease", "across-front"], Value),
        (EASE, "Ease across the front"),
        Length(-20.0, 80.0),
        |r| {
            r.bodice
                .as_ref()
                .and_then(|_| known(r.ease.bodice.across_front))
        },
    ),
    number(
        "ease.neck",
        (&["ease", "neck"], Value),
        (EASE, "Ease at the neck"),
        Length(-20.0, 40.0),
        |r| r.bodice.as_ref().and_then(|_| known(r.ease.bodice.neck)),
    ),
    number(
        "neckline.shape",
        (&["bodice", "neckline"], Value),
        (NECK, "Shape of the neckline"),
        Word(&["round", "v"]),
        |r| {
            r.bodice.as_ref().map(|bodice| {
                Reading::Word(match bodice.value.neckline.value.shape {
                    NecklineShape::Round => "round",
                    NecklineShape::V => "v",
                })
            })
        },
    ),
    number(
        "neckline.depth",
        (&["bodice", "neckline"], Property("depth")),
        (NECK, "Neck depth"),
        Length(0.0, 500.0),
        |r| {
            r.bodice
                .as_ref()
                .and_then(|bodice| known(bodice.value.neckline.value.depth))
        },
    ),
    number(
        "neckline.width",
        (&["bodice", "neckline"], Property("width")),
        (NECK, "Neck width"),
        Length(0.0, 200.0),
        |r| {
            r.bodice
                .as_ref()
                .and_then(|bodice| known(bodice.value.neckline.value.width))
        },
    ),
    number(
        "neckline.back-depth",
        (&["bodice", "neckline"], Property("back-depth")),
        (NECK, "Neck depth at the back"),
        Length(0.0, 400.0),
        |r| {
            r.bodice
                .as_ref()
                .and_then(|bodice| known(bodice.value.neckline.value.back_depth))
        },
    ),
    number(
        "bodice.bust-dart",
        (&["bodice", "bust-dart"], Value),
        (NECK, "Bust dart opens at"),
        Word(&["side", "armhole", "shoulder", "neck", "waist"]),
        |r| {
            r.bodice.as_ref().map(|bodice| {
                Reading::Word(match bodice.value.bust_dart.value {
                    BustDartAt::Side => "side",
                    BustDartAt::Armhole => "armhole",
                    BustDartAt::Shoulder => "shoulder",
                    BustDartAt::Neck => "neck",
                    BustDartAt::Waist => "waist",
                })
            })
        },
    ),
    number(
        "sleeve.length",
        (&["sleeve"], Property("length")),
        (SLEEVE, "Sleeve length"),
        Length(60.0, 900.0),
        |r| {
            r.sleeve
                .as_ref()
                .and_then(|sleeve| known_or_open(sleeve.value.length))
        },
    ),
    number(
        "sleeve.ease",
        (&["sleeve"], Property("ease")),
        (SLEEVE, "Ease over the upper arm"),
        Length(0.0, 300.0),
        |r| {
            r.sleeve
                .as_ref()
                .and_then(|sleeve| known(sleeve.value.ease))
        },
    ),
    number(
        "sleeve.cap-ease",
        (&["sleeve"], Property("cap-ease")),
        (SLEEVE, "Cap ease"),
        Length(0.0, 80.0),
        |r| {
            r.sleeve
                .as_ref()
                .and_then(|sleeve| known(sleeve.value.cap_ease.value))
        },
    ),
    number(
        "sleeve.hem",
        (&["sleeve"], Property("hem")),
        (SLEEVE, "Sleeve hem, all round"),
        Length(120.0, 900.0),
        |r| {
            r.sleeve
                .as_ref()
                .and_then(|sleeve| known_or_open(sleeve.value.hem))
        },
    ),
    number(
        "skirt.length",
        (&["skirt"], Property("length")),
        (SKIRT, "Skirt length"),
        Length(150.0, 1600.0),
        |r| r.skirt.as_ref().and_then(|skirt| known(skirt.value.length)),
    ),
    number(
        "skirt.fullness",
        (&["skirt"], Property("fullness")),
        (SKIRT, "Fullness, times the waist"),
        Ratio(1.1, 5.0),
        |r| {
            let skirt = &r.skirt.as_ref()?.value;
            match (skirt.cut, skirt.full) {
                (SkirtCut::Gathered | SkirtCut::Pleated(_), Full::Times(times)) => known(times),
                (SkirtCut::Gathered | SkirtCut::Pleated(_), Full::Usual) => Some(Open),
                _ => None,
            }
        },
    ),
    number(
        "skirt.sweep",
        (&["skirt"], Property("sweep")),
        (SKIRT, "Sweep of the hem, all round"),
        Length(500.0, 20_000.0),
        |r| {
            let skirt = &r.skirt.as_ref()?.value;
            match (skirt.cut, skirt.full) {
                (SkirtCut::Straight, _) => None,
                (_, Full::Sweep(sweep)) => known(sweep),
                (SkirtCut::Gathered, _) => None,
                (_, Full::Usual) => Some(Open),
                _ => None,
            }
        },
    ),
    number(
        "skirt.gores",
        (&["skirt"], Property("gores")),
        (SKIRT, "Number of gores"),
        Count(4, 12),
        |r| match r.skirt.as_ref()?.value.cut {
            SkirtCut::Gored(gores) => known(f64::from(gores.count)),
            _ => None,
        },
    ),
    number(
        "skirt.overlap",
        (&["skirt"], Property("overlap")),
        (SKIRT, "Overlap of the wrap"),
        Length(60.0, 900.0),
        |r| match r.skirt.as_ref()?.value.cut {
            SkirtCut::Wrapped(wrap) => known(wrap.overlap),
            _ => None,
        },
    ),
    number(
        "opening",
        (&["opening"], Value),
        (BAND, "It opens at"),
        Word(&["back", "front", "side", "none"]),
        |r| {
            Some(Reading::Word(match r.opening {
                Opening::Back => "back",
                Opening::Front => "front",
                Opening::Side => "side",
                Opening::Nowhere => "none",
            }))
        },
    ),
    number(
        "waistband.height",
        (&["waistband"], Property("height")),
        (BAND, "Height of the waistband"),
        Length(10.0, 150.0),
        |r| {
            r.waistband
                .as_ref()
                .and_then(|band| known(band.value.height))
        },
    ),
    number(
        "waistband.underlap",
        (&["waistband"], Property("underlap")),
        (BAND, "Underlap of the waistband"),
        Length(0.0, 120.0),
        |r| {
            r.waistband
                .as_ref()
                .and_then(|band| known(band.value.underlap))
        },
    ),
    number(
        "facings.neck",
        (&["facings", "neck"], Property("width")),
        (PARTS, "Width of the neck facing"),
        Length(15.0, 400.0),
        |r| facing(r, FacingAt::Neck),
    ),
    number(
        "facings.all-in-one",
        (&["facings", "all-in-one"], Property("width")),
        (PARTS, "Width of the all-in-one facing"),
        Length(15.0, 400.0),
        |r| facing(r, FacingAt::AllInOne),
    ),
    number(
        "pocket.below-waist",
        (&["pockets", "in-seam"], Property("below-waist")),
        (PARTS, "Pocket below the waist"),
        Length(20.0, 300.0),
        |r| {
            r.parts
                .pockets
                .in_seam
                .first()
                .and_then(|pocket| known(pocket.below_waist.value))
        },
    ),
    number(
        "pocket.opening",
        (&["pockets", "in-seam"], Property("opening")),
        (PARTS, "Opening of the pocket"),
        Length(80.0, 300.0),
        |r| {
            r.parts
                .pockets
                .in_seam
                .first()
                .and_then(|pocket| known(pocket.opening.value))
        },
    ),
    number(
        "vent.height",
        (&["vents", "vent"], Property("height")),
        (PARTS, "Height of the vent"),
        Length(30.0, 1000.0),
        |r| {
            r.parts
                .vents
                .first()
                .filter(|vent| vent.width > 0.0)
                .and_then(|vent| known(vent.height.value))
        },
    ),
    number(
        "lining.shorter",
        (&["lining", "shorter"], Value),
        (PARTS, "Lining shorter than the shell"),
        Length(0.0, 400.0),
        |r| {
            let lining = r.parts.lining.as_ref()?;
            known_or_open(lining.value.shorter.as_ref().map(|shorter| shorter.value))
        },
    ),
    number(
        "hems.skirt",
        (&["hems", "skirt"], Property("depth")),
        (PARTS, "Depth of the skirt hem"),
        Length(5.0, HEM_MOST),
        |r| turned(r.parts.hems.skirt.as_ref()?),
    ),
    number(
        "hems.sleeve",
        (&["hems", "sleeve"], Property("depth")),
        (PARTS, "Depth of the sleeve hem"),
        Length(5.0, HEM_MOST),
        |r| turned(r.parts.hems.sleeve.as_ref()?),
    ),
    number(
        "allowances.seam",
        (&["allowances", "seam"], Value),
        (ALLOWANCES, "Seams"),
        Length(0.0, 60.0),
        |r| known(r.allowances.seam),
    ),
    number(
        "allowances.opening",
        (&["allowances", "opening"], Value),
        (ALLOWANCES, "The opening"),
        Length(0.0, 60.0),
        |r| known(r.allowances.opening),
    ),
    number(
        "allowances.finished-edge",
        (&["allowances", "finished-edge"], Value),
        (ALLOWANCES, "Faced and bound edges"),
        Length(0.0, 40.0),
        |r| known(r.allowances.finished),
    ),
    number(
        "allowances.armhole",
        (&["allowances", "armhole"], Value),
        (ALLOWANCES, "Armholes and caps"),
        Length(0.0, 40.0),
        |r| r.sleeve.as_ref().and_then(|_| known(r.allowances.armhole)),
    ),
    number(
        "allowances.hem",
        (&["allowances", "hem"], Value),
        (ALLOWANCES, "Hem"),
        Length(0.0, HEM_MOST),
        |r| known(r.allowances.hem),
    ),
    number(
        "allowances.sleeve-hem",
        (&["allowances", "sleeve-hem"], Value),
        (ALLOWANCES, "Hem of the sleeve"),
        Length(0.0, 100.0),
        |r| {
            r.sleeve
                .as_ref()
                .and_then(|_| known(r.allowances.sleeve_hem))
        },
    ),
];

fn facing(recipe: &Recipe, at: FacingAt) -> Option<Reading> {
    let mut wishes = recipe.parts.facings.wishes.iter();
    known(wishes.find(|wish| wish.at == at)?.width)
}

/// The depth of a hem that is turned up; what is faced, bound or rolled has other bounds.
fn turned(hem: &HemWish) -> Option<Reading> {
    let depth = hem
        .depth
        .as_ref()
        .map_or(Open, |depth| Reading::Number(depth.value));
    (hem.finish.value == pattern::HemFinish::Turned).then_some(depth)
}
