//! A skirt as full as its cloth allows: the fullest of its cut whose every piece fits across the cloth.
//!
//! **What it does.** Solves the sweep or fullness at which the widest piece just fits.
//! **When it is used.** When the cloth is there already.
//! **Example.** `skirt "circle" fullness="cloth" laid="flat" length="60 cm"`.
//! **What can go wrong.** Cloth too narrow for the narrowest skirt of that cut.
//!
//! Knows a cut only by drafting it with one sweep or fullness after the other. A piece lies with its grain along the cloth; on a
//! folded cloth it has half the width, on a flat one a piece that is drawn as half of a whole needs room for both halves.
//! Invariant: what comes out fits, by its cutting lines, and half a millimetre more would not, or is the fullest there is.

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity, Unit};
use geometry::curve::turn_about;
use geometry::{Angle, Point, Rect};
use pattern::{Corner, EdgeKind, Laid, Piece};

use super::super::figures;
use super::super::person::Person;
use super::{DartsToMeet, Full, Skirt, SkirtCut, SkirtWish, drafted};
use crate::part::hem::as_it_turns;

/// How cloth lies when it is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LaidOut {
    /// Selvedge on selvedge.
    Folded,
    /// In one layer.
    Flat,
}

/// The cloth of a skirt, and what its pieces have beyond their seam lines, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Width between the selvedges.
    pub width: f64,
    /// How it lies.
    pub laid: LaidOut,
    /// Allowance of seams.
    pub seam: f64,
    /// Allowance of CB with its opening.
    pub opening: f64,
    /// Allowance of the hem.
    pub hem: f64,
    /// Whether the hem is turned up by less where it flares.
    pub hem_gives: bool,
}

/// From where and in which steps the fullest is looked for, and how far.
struct Search {
    least: f64,
    step: f64,
    most: f64,
    full: fn(f64) -> Full,
}

pub(super) fn fullest(
    person: &Person<'_>,
    wish: &SkirtWish,
    darts: DartsToMeet,
) -> Result<Skirt, Finding> {
    let Some(room) = wish.room else {
        return Err(no_cloth());
    };
    let search = search(person, wish);
    let at = |amount: f64| {
        let wish = SkirtWish {
            full: (search.full)(amount),
            ..wish.clone()
        };
        drafted(person, &wish, darts)
    };
    let spare = |amount: f64| at(amount).map_or(f64::NAN, |skirt| spare(&skirt, &room));
    // What a cut refuses at its least is no fault of the cloth.
    let narrowest = at(search.least)?;
    let missing = -self::spare(&narrowest, &room);
    if missing > 0.0 {
        let flat = Room {
            laid: LaidOut::Flat,
            ..room
        };
        let finding = too_narrow(&room, missing);
        let fits_flat = self::spare(&narrowest, &flat) >= 0.0;
        return Err(if fits_flat {
            finding.mend(Mend::property(
                &["skirt"],
                "laid",
                "\"flat\"",
                "lays the cloth flat, so that it has its whole width",
            ))
        } else {
            finding
        });
    }
    let (amount, by_cloth) = most(&search, spare);
    let mut skirt = at(amount)?;
    skirt.findings.retain(|finding| finding.code != SOLVED);
    skirt
        .findings
        .push(solved(&skirt, amount, wish, by_cloth, &room));
    Ok(skirt)
}

/// The greatest amount for which there is room to spare, and whether the cloth is what ends it.
fn most(search: &Search, spare: impl Fn(f64) -> f64) -> (f64, bool) {
    let mut fits = search.least;
    let mut fails = None;
    while fails.is_none() && fits < search.most {
        let next = (fits + search.step).min(search.most);
        if spare(next) >= 0.0 {
            fits = next;
        } else {
            fails = Some(next);
        }
    }
    let Some(mut over) = fails else {
        return (fits, false);
    };
    let by_cloth = spare(over).is_finite();
    while over - fits > search.step / 4096.0 {
        let middle = f64::midpoint(fits, over);
        if spare(middle) >= 0.0 {
            fits = middle;
        } else {
            over = middle;
        }
    }
    (fits, by_cloth || spare(over).is_finite())
}

fn search(person: &Person<'_>, wish: &SkirtWish) -> Search {
    let hip = person.of(Measure::Hip) + wish.hip_ease;
    let waist = person.of(Measure::Waist) + wish.waist_ease;
    let sweep = |least: f64, most: f64| Search {
        least,
        step: hip / 4.0,
        most,
        full: Full::Sweep,
    };
    let times = |[least, most]: [f64; 2]| Search {
        least,
        step: 0.25,
        most,
        full: Full::Times,
    };
    match wish.cut {
        SkirtCut::Gathered => times(super::gathered::FULLNESS),
        SkirtCut::Pleated(_) => times(figures::PLEATED),
        SkirtCut::Circle => {
            let least =
                waist + (hip - waist).max(0.0) * wish.length / person.of(Measure::WaistToHip);
            // A whole circle and no more, however wide the cloth.
            let circle = waist + 2.0 * std::f64::consts::PI * wish.length;
            sweep(least * (1.0 + 1e-9), circle)
        }
        SkirtCut::Fan(_) => sweep(figures::FAN_SWEEP * hip, 12.0 * hip),
        SkirtCut::Gored(_) => sweep(hip * (1.0 + 1e-9), 12.0 * hip),
        SkirtCut::Straight | SkirtCut::Flared | SkirtCut::Wrapped(_) => {
            sweep(hip * figures::LEAST_FLARE, 8.0 * hip)
        }
    }
}

/// Room across the cloth that the widest piece leaves, mm; less than nothing where it does not fit.
fn spare(skirt: &Skirt, room: &Room) -> f64 {
    let spares = skirt.pieces.iter().map(|piece| {
        let needed = across(piece, room).unwrap_or(f64::INFINITY);
        let on_fold = matches!(piece.cut.laid, Laid::OnFold(_));
        match room.laid {
            LaidOut::Folded => room.width / 2.0 - needed,
            LaidOut::Flat if on_fold => room.width - 2.0 * needed,
            LaidOut::Flat => room.width - needed,
        }
    });
    spares.fold(f64::INFINITY, f64::min)
}

/// How wide a piece is across its grain with its allowances, mm; from the fold for one that lies on it.
fn across(piece: &Piece, room: &Room) -> Option<f64> {
    let mut piece = piece.clone();
    for edge in &mut piece.edges {
        edge.allowance = match edge.kind {
            EdgeKind::Fold => 0.0,
            EdgeKind::Opening => room.opening,
            EdgeKind::Hem if room.hem_gives => as_it_turns(edge, room.hem),
            EdgeKind::Hem => room.hem,
            EdgeKind::Finished => edge.allowance,
            EdgeKind::Seam => room.seam,
        };
        edge.corner = Corner::Mitre;
    }
    let off = Angle::from_radians(Angle::from_degrees(90.0).radians() - piece.grain.radians());
    let upright = turn_about(Point::ORIGIN, off);
    let outline = piece.cutting_outline().ok()?;
    let boxes = outline
        .curves()
        .map(|curve| curve.transformed(upright).bounds());
    boxes.reduce(|a: Rect, b| a.union(b)).map(|all| all.width())
}

/// Code of the note that tells a solved number.
const SOLVED: &str = "skirt-fullness-solved";

fn solved(skirt: &Skirt, amount: f64, wish: &SkirtWish, by_cloth: bool, room: &Room) -> Finding {
    let width = room.width;
    let why = if by_cloth {
        format!("as full as a cloth of {width:.0} mm allows")
    } else {
        format!("as full as this cut goes, which a cloth of {width:.0} mm has room for")
    };
    let hem: f64 = skirt
        .pieces
        .iter()
        .map(|piece| piece.edge("hem").map_or(0.0, pattern::Edge::length) * piece.halves())
        .sum();
    let (words, number) = match wish.cut {
        SkirtCut::Gathered => (
            format!("{amount:.2} times the waist"),
            Quantity {
                value: amount,
                unit: Unit::Ratio,
            },
        ),
        SkirtCut::Pleated(_) => (
            format!("{amount:.2} times the hip"),
            Quantity {
                value: amount,
                unit: Unit::Ratio,
            },
        ),
        _ => (format!("a hem of {hem:.0} mm"), Quantity::mm(hem)),
    };
    let mut finding = Finding::note(SOLVED, format!("the skirt is {why}: {words}"))
        .at(Place::Piece(skirt.pieces[0].name.clone()));
    finding.measured = Some(number);
    finding
}

fn too_narrow(room: &Room, missing: f64) -> Finding {
    let whole = match room.laid {
        LaidOut::Folded => 2.0 * missing,
        LaidOut::Flat => missing,
    };
    Finding::error(
        "cloth-too-narrow",
        format!(
            "not even the narrowest skirt of this cut fits across a cloth of {:.0} mm",
            room.width
        ),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(
        Quantity::mm(room.width),
        Allowed::AtLeast(Quantity::mm((room.width + whole).ceil())),
    )
    .because("a piece lies with its grain along the cloth and has only its width")
    .cure("take a wider cloth, lay it flat instead of folded, or choose more gores")
}

fn no_cloth() -> Finding {
    Finding::error(
        "cloth-not-known",
        "how full a skirt its cloth allows cannot be said without the cloth's width",
    )
    .at(Place::Piece("skirt-front".into()))
    .cure("write the cloth's width: cloths { shell \"…\" width=\"140 cm\" }")
}
