//! The level at which the armhole ends: two witnesses again, the armpit's level and the armscye girth.
//!
//! The armpit says how deep the hole must be so that the arm moves, the girth how long it must be so that it goes round. Both
//! are joined by their variances; where the girth was taped, the armhole stays within its bounds over it.

use body::Measure;
use document::{Allowed, Finding, Place, Quantity, Unit};
use geometry::{math, solve};
use pattern::{Edge, Piece};

use super::super::figures;
use super::super::person::Person;
use super::{BodiceWish, back, front, witness};

/// How far from the armpit's level the underarm is looked for, mm.
const REACH: f64 = 70.0;

/// Where the armhole ends, and what was noticed.
pub(super) struct Underarm {
    /// Below the nape, mm.
    pub(super) depth: f64,
    pub(super) finding: Option<Finding>,
}

/// Level of the underarm point of a garment with sleeves.
pub(super) fn level(person: &Person<'_>, wish: &BodiceWish) -> Underarm {
    let by_armpit = person.of(Measure::ScyeDepth) + figures::UNDERARM_DROP;
    let [least, most] = figures::ARMHOLE_OVER_ARMSCYE;
    let taped = person.taped(Measure::Armscye);
    let (Some(low), Some(high)) = (
        level_for(person, wish, by_armpit, least),
        level_for(person, wish, by_armpit, most),
    ) else {
        return Underarm {
            depth: by_armpit,
            finding: taped.then(|| no_level(person)),
        };
    };
    let by_armscye = f64::midpoint(low, high);
    let spreads = spreads(person);
    let joined = joined([by_armpit, by_armscye], spreads);
    let depth = if taped {
        joined.clamp(low, high)
    } else {
        joined
    };
    let (apart, allowed) = (by_armscye - by_armpit, allowed_apart(spreads));
    let contradict = taped && person.taped(Measure::ScyeDepth) && apart.abs() > allowed;
    Underarm {
        depth,
        finding: contradict.then(|| disagreement(apart, allowed)),
    }
}

/// Spreads of the level by the armpit and of the level by the armscye girth, mm.
fn spreads(person: &Person<'_>) -> [f64; 2] {
    let armpit = math::hypot(
        person.spread(Measure::ScyeDepth),
        figures::ARMPIT_RULE_SPREAD,
    );
    let armscye = person.spread(Measure::Armscye) * figures::DEPTH_PER_ARMHOLE;
    [armpit, math::hypot(armscye, figures::ARMSCYE_RULE_SPREAD)]
}

/// Both levels joined by their variances.
fn joined(levels: [f64; 2], spreads: [f64; 2]) -> f64 {
    let [a, b] = spreads.map(|spread| 1.0 / (spread * spread));
    (a * levels[0] + b * levels[1]) / (a + b)
}

/// How far apart the two levels may lie, mm: two joint spreads.
fn allowed_apart(spreads: [f64; 2]) -> f64 {
    (2.0 * math::hypot(spreads[0], spreads[1])).max(figures::UNDERARM_DISAGREES)
}

/// The level for which the finished armhole is so many times the armscye girth; `None` where none within reach is.
fn level_for(person: &Person<'_>, wish: &BodiceWish, near: f64, times: f64) -> Option<f64> {
    const STEP: f64 = 14.0;
    let wanted = times * person.of(Measure::Armscye);
    let off =
        |depth: f64| armhole_length(person, wish, depth).map_or(f64::NAN, |length| length - wanted);
    // The armhole grows with its depth: the sign at the start says which way to go.
    let step = if off(near) > 0.0 { -STEP } else { STEP };
    solve::stepping(near, step, REACH, 0.01, off).ok()
}

fn armhole_length(person: &Person<'_>, wish: &BodiceWish, depth: f64) -> Result<f64, Finding> {
    let back = back::draft(person, wish, depth)?;
    let frame = front::frame(person, wish, &back)?;
    let front = front::draft(
        person,
        wish,
        &back,
        &frame,
        &witness::hear(person, wish, depth),
    )?;
    let length = |piece: &Piece| piece.edge("armhole").map_or(0.0, Edge::length);
    Ok(length(&front.piece) + length(&back.piece))
}

fn no_level(person: &Person<'_>) -> Finding {
    let armscye = person.of(Measure::Armscye);
    let [least, most] = figures::ARMHOLE_OVER_ARMSCYE;
    let ratio = |value| Quantity {
        value,
        unit: Unit::Ratio,
    };
    Finding::warning(
        "armhole-has-no-level",
        format!("no armhole within {REACH:.0} mm of the armpit level is as long as the armscye girth of {armscye:.0} mm asks"),
    )
    .at(Place::Measure("armscye".into()))
    .allowed(Allowed::Between(ratio(least), ratio(most)).to_string())
    .because("the armhole must be as long as the arm is round where it joins the body")
    .cure("tape the armscye girth and the scye depth again; the draft follows the scye depth meanwhile")
}

fn disagreement(apart: f64, allowed: f64) -> Finding {
    let way = if apart > 0.0 { "lower" } else { "higher" };
    Finding::warning(
        "armhole-and-armpit-disagree",
        format!("the armscye girth puts the underarm {:.0} mm {way} than the scye depth does", apart.abs()),
    )
    .at(Place::Measure("armscye".into()))
    .at(Place::Measure("scye-depth".into()))
    .measured(Quantity::mm(apart.abs()), Allowed::AtMost(Quantity::mm(allowed)))
    .because("an armhole that is too low lifts the whole bodice with the arm, one that is too high cuts in")
    .cure("tape both again; the draft keeps the armhole within its bounds over the armscye girth")
}
