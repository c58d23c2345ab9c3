//! The bodice block: *frame plus volume*.
//!
//! The frame — neck, shoulders, armholes, back — follows the skeleton and is drawn from the upper chest; the volume of the
//! bust is added as the angle of one dart that the frame does not feel. A full-bust adjustment is then no special case: it is
//! the same formula with a larger bust.
//!
//! x runs out from the centre line, y down; each piece is the half that lies to the right of its centre line on the table.

mod armhole;
mod back;
mod dart_place;
mod front;
mod neckline;
mod sides;
mod witness;

use body::Measure;
use document::{Finding, Place, Quantity};
use geometry::solve;
use pattern::Piece;

pub use neckline::{Neckline, NecklineShape};
pub use witness::{Witness, Witnesses};

use super::figures;
use super::person::Person;

/// Ease, in mm: over the whole girth, or over the whole width of back or front.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct BodiceEase {
    /// At the bust, over the whole girth.
    pub bust: f64,
    /// At the waist, over the whole girth.
    pub waist: f64,
    /// Across the back, from armhole to armhole.
    pub across_back: f64,
    /// Across the front, from armhole to armhole.
    pub across_front: f64,
    /// Over the neck base girth.
    pub neck: f64,
}

/// The edge from which the bust dart opens.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum BustDartAt {
    /// The side seam.
    Side,
    /// The armhole.
    Armhole,
    /// The shoulder seam.
    Shoulder,
    /// The neckline.
    Neck,
    /// The waist, together with the waist dart.
    Waist,
}

/// What is asked of a bodice.
#[derive(Clone, Debug, PartialEq)]
pub struct BodiceWish {
    /// Ease by place.
    pub ease: BodiceEase,
    /// Whether there is a seam at CB, which may be shaped, or a fold.
    pub back_seam: bool,
    /// Whether a sleeve will be set in.
    pub sleeves: bool,
    /// Where the bust dart opens.
    pub bust_dart: BustDartAt,
    /// The neckline.
    pub neckline: Neckline,
}

/// A drafted bodice.
#[derive(Clone, Debug)]
pub struct Bodice {
    /// Half of the front.
    pub front: Piece,
    /// Half of the back.
    pub back: Piece,
    /// What the two witnesses of the bust dart said.
    pub witnesses: Witnesses,
    /// Height of the front neckline of the block below its side neck point, mm, before any styling.
    pub neck_depth: f64,
    /// What was noticed.
    pub findings: Vec<Finding>,
}

/// The level at which the armhole ends, and what it made of the measures.
struct Underarm {
    depth: f64,
    finding: Option<Finding>,
}

/// Drafts the bodice block of a body and gives it its neckline and the place of its bust dart.
pub fn draft(person: &Person<'_>, wish: &BodiceWish) -> Result<Bodice, Finding> {
    let underarm = underarm_level(person, wish)?;
    let back = back::draft(person, wish, underarm.depth)?;
    let frame = front::frame(person, wish, &back)?;
    let witnesses = witness::hear(person, wish, underarm.depth);
    let front = front::draft(person, wish, &back, &frame, &witnesses)?;
    let (front, back_piece) = neckline::cut(front, back.piece, &wish.neckline)?;
    let front = dart_place::put(front, wish)?;
    let findings = underarm.finding.into_iter().chain(witness::disagreement(&witnesses)).collect();
    Ok(Bodice { front, back: back_piece, witnesses, neck_depth: frame.neck_depth, findings })
}

/// Level of the underarm point below the nape, mm, from the armpit level and, where it was taped, the armscye girth.
fn underarm_level(person: &Person<'_>, wish: &BodiceWish) -> Result<Underarm, Finding> {
    let raise = if wish.sleeves { 0.0 } else { figures::SLEEVELESS_RAISE };
    let by_armpit = person.of(Measure::ScyeDepth) + figures::UNDERARM_DROP;
    if !person.taped(Measure::Armscye) {
        return Ok(Underarm { depth: by_armpit - raise, finding: None });
    }
    let by_armscye = level_for_armscye(person, wish, by_armpit)?;
    let apart = by_armscye - by_armpit;
    let both = person.taped(Measure::ScyeDepth) && apart.abs() > figures::UNDERARM_DISAGREES;
    Ok(Underarm { depth: by_armscye - raise, finding: both.then(|| armholes_disagree(apart)) })
}

/// The level nearest to the armpit's for which the finished armhole is within its bounds over the armscye girth.
fn level_for_armscye(person: &Person<'_>, wish: &BodiceWish, by_armpit: f64) -> Result<f64, Finding> {
    const REACH: f64 = 70.0;
    let armscye = person.of(Measure::Armscye);
    let over = |depth: f64| armhole_length(person, wish, depth).map_or(f64::NAN, |length| length / armscye);
    let [least, most] = figures::ARMHOLE_OVER_ARMSCYE;
    let now = over(by_armpit);
    if (least..=most).contains(&now) {
        return Ok(by_armpit);
    }
    let wanted = if now < least { least } else { most };
    solve::bracketed(by_armpit - REACH, by_armpit + REACH, 1e-4, |depth| over(depth) - wanted).map_err(|missing| {
        Finding::error(
            "armhole-has-no-level",
            format!("no armhole within {REACH:.0} mm of the armpit level is as long as the armscye girth of {armscye:.0} mm asks"),
        )
        .at(Place::Measure("armscye".into()))
        .measured(
            Quantity { value: missing.low.1 + wanted, unit: document::Unit::Ratio },
            document::Allowed::Words(format!("an armhole of {least:.2} to {most:.2} times the armscye girth")),
        )
        .cure("tape the armscye girth and the scye depth again")
    })
}

fn armhole_length(person: &Person<'_>, wish: &BodiceWish, depth: f64) -> Result<f64, Finding> {
    let back = back::draft(person, wish, depth)?;
    let frame = front::frame(person, wish, &back)?;
    let witnesses = witness::hear(person, wish, depth);
    let front = front::draft(person, wish, &back, &frame, &witnesses)?;
    let length = |piece: &Piece| piece.edge("armhole").map_or(0.0, pattern::Edge::length);
    Ok(length(&front) + length(&back.piece))
}

fn armholes_disagree(apart: f64) -> Finding {
    let way = if apart > 0.0 { "lower" } else { "higher" };
    Finding::warning(
        "armhole-and-armpit-disagree",
        format!("the armscye girth puts the underarm {:.0} mm {way} than the scye depth does", apart.abs()),
    )
    .at(Place::Measure("armscye".into()))
    .at(Place::Measure("scye-depth".into()))
    .measured(Quantity::mm(apart.abs()), document::Allowed::AtMost(Quantity::mm(figures::UNDERARM_DISAGREES)))
    .because("an armhole that is too low lifts the whole bodice with the arm, one that is too high cuts in")
    .cure("tape both again; the draft follows the armscye girth")
}
