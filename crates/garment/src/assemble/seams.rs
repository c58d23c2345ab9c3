//! The seams of a garment: which edges are sewn together, from where they are walked, and what is eased.

use pattern::{Edge, Fullness, Pattern, Seam, Stretch};

use crate::block::figures;
use crate::block::skirt::{self, Skirt, WaistPart};
use crate::recipe::{Opening, Recipe};

/// All seams between the pieces that are there.
pub(super) fn of(pattern: &Pattern, recipe: &Recipe, skirt: Option<&Skirt>) -> Vec<Seam> {
    let mut seams = Vec::new();
    if pattern.piece("front").is_some() {
        seams.extend(bodice(pattern, recipe));
    }
    if pattern.piece("sleeve").is_some() {
        seams.extend(sleeve(recipe));
    }
    if let Some(skirt) = skirt {
        seams.extend(skirt.seams.clone());
        if pattern.piece("front").is_some() {
            seams.extend(waist(pattern, skirt));
        }
        if pattern.piece("waistband").is_some() {
            seams.push(waistband(pattern, skirt, recipe.opening));
        }
    }
    seams
}

fn seam(name: &str, held: [&str; 2], worked: [&str; 2], runs_on: [bool; 2]) -> Seam {
    Seam {
        name: name.into(),
        held: vec![Stretch::forwards(held[0], held[1])],
        worked: vec![Stretch::forwards(worked[0], worked[1])],
        fullness: Fullness::None,
        runs_on,
    }
}

fn bodice(pattern: &Pattern, recipe: &Recipe) -> [Seam; 2] {
    // Of the ease over the whole shoulder seam, a wider neckline takes its share away.
    let cut_off = recipe
        .bodice
        .as_ref()
        .map_or(0.0, |bodice| bodice.value.neckline.value.width);
    let length = pattern
        .piece("front")
        .and_then(|piece| piece.edge("shoulder"))
        .map_or(0.0, Edge::length);
    let ease = figures::SHOULDER_EASE * length / (length + cut_off);
    let shoulder = seam(
        "shoulder",
        ["front", "shoulder"],
        ["back", "shoulder"],
        [true, true],
    );
    [
        Seam {
            fullness: Fullness::Eased(ease),
            ..shoulder
        },
        seam("side", ["front", "side"], ["back", "side"], [true, true]),
    ]
}

fn sleeve(recipe: &Recipe) -> Vec<Seam> {
    let ease = recipe
        .sleeve
        .as_ref()
        .map_or(0.0, |sleeve| sleeve.value.cap_ease.value);
    let [front, back] = crate::block::sleeve::ease_by_half(ease);
    let armhole = |name: &str, piece: &str, cap: Stretch, ease| Seam {
        name: name.into(),
        held: vec![Stretch::forwards(piece, "armhole")],
        worked: vec![cap],
        fullness: Fullness::Eased(ease),
        runs_on: [false, false],
    };
    vec![
        armhole(
            "armhole-front",
            "front",
            Stretch::forwards("sleeve", "cap-front"),
            front,
        ),
        armhole(
            "armhole-back",
            "back",
            Stretch::backwards("sleeve", "cap-back"),
            back,
        ),
        Seam {
            name: "sleeve-underarm".into(),
            held: vec![Stretch::forwards("sleeve", "underarm-front")],
            worked: vec![Stretch::backwards("sleeve", "underarm-back")],
            fullness: Fullness::None,
            runs_on: [true, true],
        },
    ]
}

/// The seams between bodice and skirt: front and back apart where the skirt has a seam at the side line, one from CF to CB where a
/// gore passes it.
fn waist(pattern: &Pattern, skirt: &Skirt) -> Vec<Seam> {
    let front = Stretch::backwards("front", "waist");
    let joined = |name: &str, held: Vec<Stretch>, parts: &[WaistPart]| Seam {
        name: name.into(),
        held,
        worked: parts.iter().map(|part| part.stretch.clone()).collect(),
        fullness: skirt::fullness(parts, pattern),
        runs_on: [false, false],
    };
    let Some(side) = skirt.before_side else {
        let held = vec![front, Stretch::forwards("back", "waist")];
        return vec![joined("waist", held, &skirt.waist)];
    };
    let (before, behind) = skirt.waist.split_at(side);
    // Both halves are walked from their centre line.
    let from_centre: Vec<WaistPart> = behind.iter().rev().map(turned).collect();
    let back = Stretch::backwards("back", "waist");
    vec![
        joined("waist-front", vec![front], before),
        joined("waist-back", vec![back], &from_centre),
    ]
}

fn turned(part: &WaistPart) -> WaistPart {
    let mut part = part.clone();
    part.stretch.backwards = !part.stretch.backwards;
    part
}

/// The waistband goes round from one edge of the opening to the other: from CB, CF or the side, or from the front edge of a wrapped
/// skirt.
fn waistband(pattern: &Pattern, skirt: &Skirt, opening: Opening) -> Seam {
    let back_to_front = skirt.waist.iter().rev().map(turned);
    let front_to_back = skirt.waist.iter().cloned();
    let round: Vec<WaistPart> = match (opening, skirt.before_side) {
        _ if skirt.overlap > 0.0 => front_to_back.chain(back_to_front).collect(),
        (Opening::Front, _) => front_to_back.chain(back_to_front).collect(),
        (Opening::Side, Some(side)) => {
            let side_to_front = skirt.waist[..side].iter().rev().map(turned);
            let back_to_side = skirt.waist[side..].iter().rev().map(turned);
            side_to_front
                .chain(front_to_back)
                .chain(back_to_side)
                .collect()
        }
        _ => back_to_front.chain(front_to_back).collect(),
    };
    Seam {
        name: "waistband".into(),
        held: vec![Stretch::forwards("waistband", "waist")],
        worked: round.iter().map(|part| part.stretch.clone()).collect(),
        fullness: skirt::fullness(&round, pattern),
        runs_on: [false, false],
    }
}
