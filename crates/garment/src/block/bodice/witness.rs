//! The two witnesses of the bust dart: what the girths say of its angle and what the lengths say.
//!
//! Each has a spread, from the tape's error and from what its rule leaves open; they are joined by their variances. When
//! they differ by more than two joint spreads, the measures contradict each other, and it is said which one to tape again.

use body::Measure;
use document::{Allowed, Finding, Place, Quantity, Unit};
use geometry::{Angle, math, solve};

use super::super::figures;
use super::super::person::Person;
use super::{BodiceWish, back, front};

/// What one witness says.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Witness {
    /// Angle of the bust dart, degrees.
    pub degrees: f64,
    /// Its standard deviation, degrees.
    pub spread: f64,
}

/// What both say, and what follows.
#[derive(Clone, Debug, PartialEq)]
pub struct Witnesses {
    /// By bust girth and upper chest girth.
    pub girths: Witness,
    /// By front and back lengths.
    pub lengths: Witness,
    /// Both joined by their variances.
    pub joined: Witness,
    /// How far they are apart, in joint standard deviations.
    pub apart: f64,
    /// The measure that would settle a contradiction, and how far it would have to be off, mm or degrees.
    pub suspect: Option<(Measure, f64)>,
}

/// Measures that either witness leans on.
const HEARD: [Measure; 10] = [
    Measure::Bust,
    Measure::UpperChest,
    Measure::NeckToBustPoint,
    Measure::FrontWaistLength,
    Measure::BackWaistLength,
    Measure::ScyeDepth,
    Measure::ShoulderSlope,
    Measure::ShoulderLength,
    Measure::BustPointWidth,
    Measure::NeckBase,
];

/// Hears both witnesses for an underarm level, mm below the nape.
pub(super) fn hear(person: &Person<'_>, wish: &BodiceWish, depth: f64) -> Witnesses {
    let girths = with_spread(person, &by_girths);
    let lengths = with_spread(person, &|person| by_lengths(person, wish, depth));
    let [g, l] = [girths, lengths].map(|witness| 1.0 / (witness.spread * witness.spread));
    let degrees = (g * girths.degrees + l * lengths.degrees) / (g + l);
    let joined = Witness {
        degrees: degrees.max(figures::LEAST_BUST_DART),
        spread: (1.0 / (g + l)).sqrt(),
    };
    let apart =
        (girths.degrees - lengths.degrees).abs() / math::hypot(girths.spread, lengths.spread);
    let suspect = suspect(person, wish, depth, girths.degrees - lengths.degrees);
    Witnesses {
        girths,
        lengths,
        joined,
        apart,
        suspect,
    }
}

/// α = 17.5° + 2·asin((B − U)/(4·150)), not under 3°.
fn by_girths(person: &Person<'_>) -> f64 {
    let extra =
        (person.of(Measure::Bust) - person.of(Measure::UpperChest)) / (4.0 * figures::DART_RADIUS);
    let degrees = figures::DART_OF_FLAT_BUST
        + Angle::from_radians(2.0 * math::asin(extra.clamp(-0.9, 0.9))).degrees();
    degrees.clamp(figures::LEAST_BUST_DART, figures::MOST_BUST_DART)
}

/// The angle for which the front armhole is 0.75 of the height of the back one.
fn by_lengths(person: &Person<'_>, wish: &BodiceWish, depth: f64) -> f64 {
    let wanted = figures::FRONT_OVER_BACK_ARMHOLE * back::armhole_height(person, depth);
    let lift = front::SideLift::of(person, wish, depth);
    let off = |degrees: f64| lift.armhole_height(Angle::from_degrees(degrees)) - wanted;
    match solve::bracketed(0.0, figures::MOST_BUST_DART, 1e-6, off) {
        Ok(degrees) => degrees,
        Err(missing) => missing.nearest(),
    }
}

/// A witness and its spread: the rule's own, and what the measures' spreads do to it.
fn with_spread(person: &Person<'_>, witness: &dyn Fn(&Person<'_>) -> f64) -> Witness {
    let degrees = witness(person);
    let mut variance = figures::WITNESS_SPREAD * figures::WITNESS_SPREAD;
    for measure in HEARD {
        let spread = person.spread(measure);
        let moved =
            witness(&person.nudged(measure, spread)) - witness(&person.nudged(measure, -spread));
        variance += (moved / 2.0) * (moved / 2.0);
    }
    Witness {
        degrees,
        spread: variance.sqrt(),
    }
}

/// The measure for which the smallest slip, in its own spreads, would bring the witnesses together.
fn suspect(
    person: &Person<'_>,
    wish: &BodiceWish,
    depth: f64,
    apart: f64,
) -> Option<(Measure, f64)> {
    let difference = |person: &Person<'_>| by_girths(person) - by_lengths(person, wish, depth);
    let mut best: Option<(f64, Measure, f64)> = None;
    for measure in HEARD {
        let spread = person.spread(measure);
        let slope = (difference(&person.nudged(measure, spread))
            - difference(&person.nudged(measure, -spread)))
            / 2.0;
        if slope.abs() < 1e-9 {
            continue;
        }
        let slips = -apart / slope;
        if best.is_none_or(|(least, _, _)| slips.abs() < least) {
            best = Some((slips.abs(), measure, slips * spread));
        }
    }
    best.map(|(_, measure, by)| (measure, by))
}

/// What to say where the witnesses contradict each other.
pub(super) fn disagreement(witnesses: &Witnesses) -> Option<Finding> {
    if witnesses.apart <= figures::WITNESSES_DISAGREE {
        return None;
    }
    let (girths, lengths) = (witnesses.girths.degrees, witnesses.lengths.degrees);
    let finding = Finding::warning(
        "bust-witnesses-disagree",
        format!(
            "girths ask for a bust dart of {girths:.0}°, lengths for {lengths:.0}°: {:.1} spreads apart",
            witnesses.apart
        ),
    )
    .measured(
        Quantity { value: witnesses.apart, unit: Unit::Deviations },
        Allowed::AtMost(Quantity { value: figures::WITNESSES_DISAGREE, unit: Unit::Deviations }),
    )
    .because("front length, bust and upper chest contradict each other; a rounded back or a low bust point can be the cause too");
    Some(match witnesses.suspect {
        Some((measure, by)) => finding.at(Place::Measure(measure.key().into())).cure(format!(
            "tape the {} again: {:.0} {} would bring both together; the draft goes by both meanwhile",
            measure.key().replace('-', " "),
            by.abs(),
            unit_words(measure, by)
        )),
        None => finding,
    })
}

fn unit_words(measure: Measure, by: f64) -> String {
    let unit = if measure == Measure::ShoulderSlope {
        "degrees"
    } else {
        "mm"
    };
    format!("{unit} {}", if by > 0.0 { "more" } else { "less" })
}
