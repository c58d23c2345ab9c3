//! Straight widths gathered onto the waist.
//!
//! **What it does.** Cuts front and back as straight widths, so many times their share of the waist.
//! **When it is used.** For light cloth, and where every scrap is to be used.
//! **Example.** `skirt "gathered" fullness=2.2 length="70 cm"`.
//! **What can go wrong.** Thick cloth that is gathered much makes a waist that stands off.

use body::Measure;
use document::{Allowed, Finding, Place, Quantity, Unit};
use geometry::{Angle, Curve, Point};
use pattern::{Cut, Edge, EdgeKind, Fullness, Laid, Layer, Piece};

use super::super::figures;
use super::super::person::Person;
use super::{Full, Skirt, SkirtWish};

/// Fullness that can be gathered onto a waist: less is ease, more does not lie in any seam. Common practice, no source.
pub(super) const FULLNESS: [f64; 2] = [1.1, 5.0];

pub(super) fn draft(person: &Person<'_>, wish: &SkirtWish) -> Result<Skirt, Finding> {
    let waist = person.of(Measure::Waist) + wish.waist_ease;
    let fullness = match wish.full {
        Full::Times(times) => times,
        Full::Sweep(sweep) => sweep / waist,
        Full::Usual | Full::Angle(_) | Full::Cloth => figures::GATHERED,
    };
    if !(FULLNESS[0]..=FULLNESS[1]).contains(&fullness) {
        return Err(impossible(fullness));
    }
    let half = waist / 2.0;
    let share = person.front_share(
        Measure::Waist,
        Measure::WaistFrontArc,
        figures::FRONT_SHARE_OF_WAIST,
    );
    let front = width("skirt-front", half * share * fullness, wish.length, false);
    let behind = half * (1.0 - share) * fullness;
    let back = width("skirt-back", behind, wish.length, wish.back_seam);
    let gathered = [Fullness::Gathered(fullness); 2];
    let mut skirt = Skirt::of_halves([front, back], gathered, None);
    if matches!(wish.full, Full::Sweep(_)) {
        skirt.findings.push(solved(fullness));
    }
    Ok(skirt)
}

fn solved(fullness: f64) -> Finding {
    Finding::note(
        "skirt-fullness-solved",
        format!("this hem is {fullness:.2} times the waist"),
    )
    .at(Place::Piece("skirt-front".into()))
}

/// A straight width, its waist at the top.
fn width(name: &str, width: f64, length: f64, seam: bool) -> Piece {
    let corners =
        [(0.0, 0.0), (width, 0.0), (width, length), (0.0, length)].map(|(x, y)| Point::new(x, y));
    let side = |from: usize, to: usize| Curve::line(corners[from], corners[to]);
    let centre = if seam {
        EdgeKind::Opening
    } else {
        EdgeKind::Fold
    };
    Piece {
        name: name.into(),
        edges: vec![
            Edge::new("waist", EdgeKind::Seam, side(0, 1)),
            Edge::new("side", EdgeKind::Seam, side(1, 2)),
            Edge::new("hem", EdgeKind::Hem, side(2, 3)),
            Edge::new("centre", centre, side(3, 0)),
        ],
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: if seam { 2 } else { 1 },
            laid: if seam {
                Laid::Pair
            } else {
                Laid::OnFold("centre".into())
            },
        },
        peaked: Vec::new(),
        asked: None,
    }
}

fn impossible(fullness: f64) -> Finding {
    let ratio = |value| Quantity {
        value,
        unit: Unit::Ratio,
    };
    Finding::error(
        "skirt-fullness-impossible",
        format!("a skirt cannot be gathered from {fullness:.2} times its waist"),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(
        ratio(fullness),
        Allowed::Between(ratio(FULLNESS[0]), ratio(FULLNESS[1])),
    )
    .because("less is ease and not gathers, more does not lie in the waist seam")
}
