//! Puts the bust dart where the style wants it, by transferring it about its own point.

use document::Finding;
use geometry::Curve;
use pattern::step::{Target, transfer_dart};
use pattern::{Edge, Piece};

use super::{BodiceWish, BustDartAt};

/// The front with its bust dart at the place that is wanted.
pub(super) fn put(front: Piece, wish: &BodiceWish) -> Result<Piece, Finding> {
    let target = match wish.bust_dart {
        BustDartAt::Side => return Ok(front),
        BustDartAt::Shoulder => halfway(&front, "shoulder"),
        BustDartAt::Neck => halfway(&front, "neckline"),
        BustDartAt::Armhole => halfway(&front, "armhole"),
        BustDartAt::Waist => into_waist(&front),
    };
    let moved = transfer_dart(&front, "bust-dart", &target)?;
    Ok(pressed(moved))
}

fn halfway(front: &Piece, edge: &str) -> Target {
    Target::Edge {
        edge: edge.into(),
        along: front.edge(edge).map_or(0.0, Edge::length) / 2.0,
    }
}

/// Into the waist dart below the bust point, or straight down from it where there is none.
fn into_waist(front: &Piece) -> Target {
    let bust_dart = front.dart("bust-dart");
    let below = front
        .darts_on("waist")
        .find(|dart| bust_dart.is_some_and(|bust| (bust.point - dart.point).hypot() < 0.01));
    if let Some(dart) = below {
        return Target::Dart(dart.name.clone());
    }
    let waist = front.edge("waist").map(|edge| &edge.runs[0]);
    let along = waist
        .zip(bust_dart)
        .map_or(0.0, |(waist, dart)| straight_below(waist, dart.point.x));
    Target::Edge {
        edge: "waist".into(),
        along,
    }
}

fn straight_below(waist: &Curve, x: f64) -> f64 {
    let length = waist.length();
    geometry::solve::bracketed(0.0, length, 1e-6, |along| waist.point_at(along).x - x)
        .unwrap_or(length / 2.0)
}

/// Shoulder and neck darts are pressed towards the centre, which comes before them on the outline; the others down.
fn pressed(mut front: Piece) -> Piece {
    for dart in front
        .darts
        .iter_mut()
        .filter(|dart| dart.name == "bust-dart")
    {
        dart.pressed = match dart.edge.as_str() {
            "shoulder" | "neckline" => pattern::Pressed::Before,
            _ => pattern::Pressed::After,
        };
    }
    front
}
