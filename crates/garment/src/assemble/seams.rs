//! The seams of a garment: which edges are sewn together, from where they are walked, and what is eased.

use pattern::{Edge, Fullness, Pattern, Seam, Stretch};

use super::waist_fullness;
use crate::block::figures;
use crate::recipe::{Recipe, SkirtStyle};

/// How many times the waist a skirt is wide before it is gathered; 1 where it is fitted.
pub(super) fn fullness(recipe: &Recipe) -> f64 {
    match recipe.skirt.as_ref().map(|skirt| skirt.value.cut) {
        Some(SkirtStyle::Gathered(times)) => times,
        _ => 1.0,
    }
}

/// All seams between the pieces that are there.
pub(super) fn of(pattern: &Pattern, recipe: &Recipe) -> Vec<Seam> {
    let mut seams = Vec::new();
    if pattern.piece("front").is_some() {
        seams.extend(bodice(pattern, recipe));
    }
    if pattern.piece("sleeve").is_some() {
        seams.extend(sleeve(recipe));
    }
    if pattern.piece("skirt-front").is_some() {
        seams.push(seam(
            "skirt-side",
            ["skirt-front", "side"],
            ["skirt-back", "side"],
            [true, true],
        ));
    }
    if pattern.piece("front").is_some() && pattern.piece("skirt-front").is_some() {
        for (name, bodice, skirt) in [
            ("waist-front", "front", "skirt-front"),
            ("waist-back", "back", "skirt-back"),
        ] {
            seams.push(Seam {
                name: name.into(),
                held: vec![Stretch::backwards(bodice, "waist")],
                worked: vec![Stretch::forwards(skirt, "waist")],
                fullness: waist_fullness(recipe),
                runs_on: [false, false],
            });
        }
    }
    if pattern.piece("waistband").is_some() {
        seams.push(waistband(recipe));
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

/// The waistband goes round from one edge of the opening at CB to the other.
fn waistband(recipe: &Recipe) -> Seam {
    let round = [
        ("skirt-back", false),
        ("skirt-front", true),
        ("skirt-front", false),
        ("skirt-back", true),
    ];
    let waist = |(piece, backwards): &(&str, bool)| {
        if *backwards {
            Stretch::backwards(piece, "waist")
        } else {
            Stretch::forwards(piece, "waist")
        }
    };
    let skirt: Vec<Stretch> = round.iter().map(waist).collect();
    Seam {
        name: "waistband".into(),
        held: vec![Stretch::forwards("waistband", "waist")],
        worked: skirt,
        fullness: waist_fullness(recipe),
        runs_on: [false, false],
    }
}
