//! Hems: the wearer can walk, climb stairs and sit.
//!
//! **What it does.** Lays the hem as a band round both legs at its height. The legs stand apart there by a share of the step, as
//! a triangle from hip to floor; the band needs twice that distance and the girth of a leg. For stairs the front thigh is
//! raised as far as a riser of 170 mm and a tread of 290 mm ask of two legs of two halves; for sitting the knees are a hand's
//! breadth and a half apart. A vent counts from its top: there the legs are closer together.
//! **Why.** A hem that is too narrow shortens the step, and on stairs it throws.
//! **Example.** A straight skirt to the ankle, 1.05 m round: a step of 66 cm needs 1.4 m there.
//! **What can go wrong.** It is a model of a band that rides up by no more than a finger's breadth gives. Skirts above the thigh, and those that wrap, are left
//! alone.
//!
//! Step: 66 cm (Murray, Kory & Sepic 1970, second-hand) or 0.433 of the stature (PMC2943048, table 2), whichever is less. Hip
//! joint 0.530, knee 0.285, ankle 0.039 of the stature: Drillis & Contini 1966, from memory. Girths of the leg as shares of the
//! hip, riser and tread, and how far apart knees are when sitting: common practice, no source.

use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};
use geometry::math;

use super::{About, Check};
use crate::makeup::Wearer;
use crate::piece::{Edge, EdgeKind, Layer, Piece};
use crate::seam::Pattern;

pub(super) const CHECK: Check = Check {
    title: "Walking",
    manual: include_str!("walking.rs"),
    codes: &[(
        "hem-too-narrow",
        "the legs in a step, on stairs and when sitting",
    )],
    about: About::Wearing,
    run: check,
};

/// Length of a step, mm.
const STEP: f64 = 660.0;
/// Length of a step as a share of the stature.
const STEP_OF_STATURE: f64 = 0.433;
/// Height of the hip joint as a share of the stature.
const HIP_JOINT: f64 = 0.530;
/// Height of the knee as a share of the stature.
const KNEE: f64 = 0.285;
/// Height of the ankle as a share of the stature.
const ANKLE: f64 = 0.039;
/// Height of a stair, mm.
const RISER: f64 = 170.0;
/// Depth of a stair, mm.
const TREAD: f64 = 290.0;
/// Middles of the knees apart when sitting, mm.
const SITTING: f64 = 150.0;
/// Girth of a leg as a share of the hip at hip joint, knee, calf and ankle.
const LEG: [f64; 4] = [0.58, 0.38, 0.37, 0.24];
/// Height of the calf as a share of the stature.
const CALF: f64 = 0.20;
/// What a hem gives by riding up a little, mm; common practice, no source.
const GIVES: f64 = 20.0;
/// A hem not farther below the hip joint than this lets everything pass, mm.
const SHORT: f64 = 60.0;

/// Legs of a wearer, mm.
struct Legs {
    /// Hip joint to floor.
    length: f64,
    /// From the waist to the hip joint.
    below_waist: f64,
    stature: f64,
    hip: f64,
}

impl Legs {
    fn of(wearer: &Wearer) -> Self {
        let waist = KNEE * wearer.stature + wearer.waist_to_knee;
        let length = HIP_JOINT * wearer.stature;
        Self {
            length,
            below_waist: (waist - length).max(0.0),
            stature: wearer.stature,
            hip: wearer.hip,
        }
    }

    /// Girth of a leg so far below the hip joint.
    fn girth(&self, below: f64) -> f64 {
        let heights = [HIP_JOINT, KNEE, CALF, ANKLE].map(|share| share * self.stature);
        let height = self.length - below;
        let part = (1..3).find(|&k| height > heights[k]).unwrap_or(3);
        let share = (heights[part - 1] - height) / (heights[part - 1] - heights[part]);
        let share = share.clamp(0.0, 1.0);
        self.hip * (LEG[part - 1] + share * (LEG[part] - LEG[part - 1]))
    }

    /// How far the legs stand apart so far below the hip joint in a step.
    fn walking(&self, below: f64) -> f64 {
        STEP.min(STEP_OF_STATURE * self.stature) * below / self.length
    }

    /// The same for the front leg on a stair and the other one straight below the hip.
    fn climbing(&self, below: f64) -> f64 {
        let leg = self.length - ANKLE * self.stature;
        let (forward, up) = (TREAD, leg - RISER);
        let reach = math::hypot(forward, up).min(leg);
        let raised = math::acos(reach / leg) + math::atan2(forward, up);
        let knee = 0.5 * leg;
        let at_knee = knee * math::sin(raised);
        if below <= knee {
            below * math::sin(raised)
        } else {
            at_knee + (forward - at_knee) * ((below - knee) / knee).min(1.0)
        }
    }

    /// What a band needs at a height, for each of what is done: mm.
    fn needs(&self, below: f64) -> [(&'static str, f64); 3] {
        let round = |apart: f64| 2.0 * apart + self.girth(below);
        [
            ("walk", round(self.walking(below))),
            ("climb stairs", round(self.climbing(below))),
            ("sit", round(SITTING.min(below))),
        ]
    }
}

/// The hem of a skirt, mm.
struct Hem<'a> {
    pieces: Vec<(&'a Piece, &'a Edge)>,
    girth: f64,
    below_waist: f64,
}

fn check(pattern: &Pattern) -> Vec<Finding> {
    let Some(wearer) = &pattern.makeup.wearer else {
        return Vec::new();
    };
    let Some(hem) = hem(pattern) else {
        return Vec::new();
    };
    let legs = Legs::of(wearer);
    let vent = pattern.makeup.vents.iter().map(|vent| vent.height);
    let vent = vent.fold(0.0, f64::max);
    let below = hem.below_waist - vent - legs.below_waist;
    if below <= SHORT {
        return Vec::new();
    }
    let room = girth_above_hem(pattern, &hem, wearer, vent);
    let needs = legs.needs(below);
    let (what, needed) =
        needs.into_iter().fold(
            ("walk", 0.0),
            |most, one| if one.1 > most.1 { one } else { most },
        );
    let short: Vec<&str> = needs
        .iter()
        .filter(|(_, needed)| room + GIVES < *needed)
        .map(|(what, _)| *what)
        .collect();
    if short.is_empty() {
        return Vec::new();
    }
    let vent = vented(pattern, &hem, &legs, wearer);
    let finding = narrow(&hem, room, (what, needed), &short);
    vec![
        finding
            .mend_with(vent)
            .mend_with(flared(&hem, needed - room)),
    ]
}

/// The hem of the skirt, unless it opens where it wraps or there is none.
fn hem(pattern: &Pattern) -> Option<Hem<'_>> {
    let skirts: Vec<&Piece> = pattern
        .pieces
        .iter()
        .filter(|piece| {
            piece.name.starts_with("skirt")
                && piece.cut.layer == Layer::Shell
                && !pattern.makeup.is_derived(&piece.name)
        })
        .collect();
    // A free edge over most of the length is where it wraps; a shorter one is a vent.
    let wraps = |piece: &&Piece| {
        let hem = piece.edges_of("hem").next();
        let long = 0.6 * hem.map_or(0.0, |hem| length(piece, hem));
        let mut edges = piece.edges.iter();
        edges.any(|edge| {
            edge.kind == EdgeKind::Finished && !edge.answers_to("hem") && edge.length() > long
        })
    };
    if skirts.iter().any(wraps) {
        return None;
    }
    let pieces: Vec<(&Piece, &Edge)> = skirts
        .into_iter()
        .flat_map(|piece| piece.edges_of("hem").map(move |edge| (piece, edge)))
        .collect();
    let girth = pieces
        .iter()
        .map(|(piece, edge)| edge.length() * piece.halves())
        .sum();
    let below_waist = pieces
        .iter()
        .map(|(piece, edge)| length(piece, edge))
        .fold(0.0, f64::max);
    (!pieces.is_empty() && below_waist > 0.0).then_some(Hem {
        pieces,
        girth,
        below_waist,
    })
}

/// From the middle of the waist to that of the hem, mm.
fn length(piece: &Piece, hem: &Edge) -> f64 {
    let middle = |edge: &Edge| edge.place_at(0.5 * edge.length()).0;
    let down = middle(hem);
    piece
        .edges_of("waist")
        .map(|waist| (down - middle(waist)).hypot())
        .fold(0.0, f64::max)
}

/// How far the skirt goes round at the top of a vent: between hip line and hem it widens evenly.
fn girth_above_hem(pattern: &Pattern, hem: &Hem<'_>, wearer: &Wearer, above: f64) -> f64 {
    let hip = pattern.girths.iter().find(|girth| girth.level == "hip");
    let (Some(hip), true) = (hip, above > 0.0) else {
        return hem.girth;
    };
    let at_hip = pattern.girth(hip) * hip.gathered;
    let between = (hem.below_waist - wearer.waist_to_hip).max(1.0);
    hem.girth + (at_hip - hem.girth) * (above / between).min(1.0)
}

fn narrow(hem: &Hem<'_>, room: f64, (what, needed): (&str, f64), short: &[&str]) -> Finding {
    let list = match short {
        [one] => (*one).to_owned(),
        [first @ .., last] => format!("{} or {last}", first.join(", ")),
        [] => String::new(),
    };
    let (piece, edge) = hem.pieces[0];
    Finding::warning(
        "hem-too-narrow",
        format!(
            "the hem is {room:.0} mm round, and to {what} the legs need {needed:.0} mm {:.0} mm below the waist",
            hem.below_waist
        ),
    )
    .at(Place::Edge {
        piece: piece.name.clone(),
        edge: edge.name.clone(),
        at: None,
    })
    .measured(Quantity::mm(room), Allowed::AtLeast(Quantity::mm(needed)))
    .because(format!("a hem that is too narrow to {list} shortens the step, and throws on stairs"))
    .cure("flare the hem, shorten the skirt, or leave a vent")
}

/// The lowest vent or slit that lets everything pass, in whole centimetres: in the seam at CB or, where the back lies on the fold,
/// in the side seams; none where it would have to reach over half of the skirt, or where there is one already.
fn vented(pattern: &Pattern, hem: &Hem<'_>, legs: &Legs, wearer: &Wearer) -> Option<Mend> {
    if !pattern.makeup.vents.is_empty() {
        return None;
    }
    let passes = |height: f64| {
        let below = hem.below_waist - height - legs.below_waist;
        let room = girth_above_hem(pattern, hem, wearer, height) + GIVES;
        below <= SHORT || legs.needs(below).iter().all(|(_, needed)| room >= *needed)
    };
    let heights = (1..).map(|cm| f64::from(cm) * 10.0);
    let height = heights
        .take_while(|height| *height <= 0.5 * hem.below_waist)
        .find(|height| passes(*height))?;
    let at_back = hem.pieces.iter().any(|(piece, _)| {
        let mut centre = piece.edges_of("centre");
        piece.name == "skirt-back" && centre.any(|edge| edge.kind != EdgeKind::Fold)
    });
    let (line, words) = if at_back {
        (
            format!(
                "vent seam=\"centre-back\" height={} width=\"40 mm\"",
                written_mm(height)
            ),
            format!("leaves a vent of {height:.0} mm at CB"),
        )
    } else {
        (
            format!("slit seam=\"skirt-side\" height={}", written_mm(height)),
            format!("leaves a slit of {height:.0} mm in each side seam"),
        )
    };
    Some(Mend::line("vents", line, words))
}

/// Steps that flare every piece by its share of what is missing.
fn flared(hem: &Hem<'_>, missing: f64) -> Option<Mend> {
    let halves: f64 = hem.pieces.iter().map(|(piece, _)| piece.halves()).sum();
    let by = (missing / halves).ceil() + 1.0;
    let words = format!("flares the hem by {:.0} mm all round", by * halves);
    let steps = hem
        .pieces
        .iter()
        .filter(|(piece, _)| piece.edges_of("waist").next().is_some());
    let mut mends = steps.map(|(piece, edge)| {
        Mend::line(
            "steps",
            format!(
                "flare hem=\"{0}.{1}\" from=\"{0}.waist\" by={2}",
                piece.name,
                edge.name,
                written_mm(by)
            ),
            words.clone(),
        )
    });
    let first = mends.next()?;
    Some(mends.fold(first, Mend::and))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn legs() -> Legs {
        Legs::of(&Wearer {
            head: 575.0,
            shoulders: 970.0,
            waist: 700.0,
            hip: 980.0,
            waist_to_hip: 200.0,
            waist_to_knee: 580.0,
            stature: 1650.0,
        })
    }

    /// Derived: at the floor the legs are a whole step apart; half way down, half a step.
    #[test]
    fn the_step_is_a_triangle() {
        let legs = legs();
        assert!((legs.walking(legs.length) - 660.0).abs() < 1e-9);
        assert!((legs.walking(legs.length / 2.0) - 330.0).abs() < 1e-9);
    }

    /// Derived by hand for legs of 810 mm: reach √(640² + 290²) = 703 mm, so that the thigh is raised by acos(703/810) = 29.8°
    /// and atan(290/640) = 24.4°.
    #[test]
    fn a_stair_raises_the_thigh() {
        let legs = legs();
        let forward = legs.climbing(100.0) / 100.0;
        assert!((forward - math::sin((29.8_f64 + 24.4).to_radians())).abs() < 2e-3);
    }

    #[test]
    fn a_long_narrow_hem_is_too_narrow_to_walk_and_a_short_one_is_not() {
        let legs = legs();
        let worst = |below: f64| {
            legs.needs(below)
                .map(|one| one.1)
                .into_iter()
                .fold(0.0, f64::max)
        };
        // Derived by hand: 2 · 660 · 700 / 874.5 = 1057 mm apart, and a leg of 287 mm a little above the ankle.
        assert!((worst(700.0) - 1344.0).abs() < 2.0);
        assert!(worst(150.0) < 850.0);
    }
}
