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
mod underarm;
mod witness;

use document::{Allowed, Finding, Place, Quantity};
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

/// Drafts the bodice block of a body and gives it its neckline and the place of its bust dart.
pub fn draft(person: &Person<'_>, wish: &BodiceWish) -> Result<Bodice, Finding> {
    let underarm = underarm::level(person, wish);
    let raise = if wish.sleeves {
        0.0
    } else {
        figures::SLEEVELESS_RAISE
    };
    let back = back::draft(person, wish, underarm.depth - raise)?;
    let frame = front::frame(person, wish, &back)?;
    let witnesses = witness::hear(person, wish, underarm.depth);
    let front = front::draft(person, wish, &back, &frame, &witnesses)?;
    let narrow = [
        ("front", "across-front", front.shortened),
        ("back", "across-back", back.shortened),
    ];
    let narrow = narrow
        .into_iter()
        .filter_map(|(piece, measure, by)| narrowed(piece, measure, by));
    let findings = underarm
        .finding
        .into_iter()
        .chain(witness::disagreement(&witnesses))
        .chain(narrow)
        .collect();
    let (front, back_piece) = neckline::cut(front.piece, back.piece, &wish.neckline)?;
    let front = dart_place::put(front, wish)?;
    Ok(Bodice {
        front,
        back: back_piece,
        witnesses,
        neck_depth: frame.neck_depth,
        findings,
    })
}

/// Says that an across line with its ease left no bottom to the armhole and was shortened, where that is more than a trifle.
fn narrowed(piece: &str, measure: &str, by: f64) -> Option<Finding> {
    let least = figures::LEAST_ARMHOLE_WIDTH;
    (by > 2.0).then(|| {
        Finding::warning(
            "armhole-without-bottom",
            format!("the {} with its ease leaves the armhole less than {least:.0} mm at the side; it is drawn {:.0} mm narrower", measure.replace('-', " "), 2.0 * by),
        )
        .at(Place::Edge { piece: piece.into(), edge: "armhole".into(), at: None })
        .at(Place::Measure(measure.into()))
        .measured(Quantity::mm(least - by), Allowed::AtLeast(Quantity::mm(least)))
        .because("an arm hangs in the bottom of the armhole, between the across line and the side seam")
        .cure(format!("take at least {:.0} mm off the ease there, give the bust more ease, or tape both again", (2.0 * by).ceil()))
    })
}
