//! The skirt in all its cuts: straight, flared, gathered; gored, from a circle, pleated, wrapped, as a fan.
//!
//! x runs out from the centre line, y down from the waist at the centre. Each piece is the half that lies to the right of its
//! centre line on the table; a gore that has no centre line is drawn whole, its front edge at the left. Invariants: whatever is
//! drawn, the parts of [`Skirt::waist`] go from CF to CB and measure the body's waist and ease when their fullness is taken up;
//! what cannot be cut is told with the numbers that can.

mod circle;
mod cloth;
mod fan;
mod fitted;
pub mod found;
mod gathered;
mod gored;
mod panel;
mod pleated;
mod wrapped;

use document::Finding;
use geometry::Angle;
use pattern::{Fullness, Pattern, Piece, Seam, Stretch, name};

use super::person::Person;

pub use cloth::{LaidOut, Room};
pub use fan::Fan;
pub use gored::Gores;
pub use pleated::{PleatKind, Pleats};
pub use wrapped::{Wrap, needs_own_waist};

/// How a skirt is cut.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SkirtCut {
    /// Fitted to the hip, straight below.
    Straight,
    /// Fitted at the waist, flared to its hem.
    Flared,
    /// Straight widths gathered onto the waist.
    Gathered,
    /// Gores.
    Gored(Gores),
    /// A circle or a part of one.
    Circle,
    /// Straight widths laid in pleats.
    Pleated(Pleats),
    /// Fitted, its fronts lying over each other.
    Wrapped(Wrap),
    /// Smooth in front, full at CB.
    Fan(Fan),
}

/// How full a skirt is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Full {
    /// As that cut usually is.
    Usual,
    /// So many times the length onto which it is gathered or pleated.
    Times(f64),
    /// To a hem of so many mm all round.
    Sweep(f64),
    /// From so much of a circle.
    Angle(Angle),
    /// As full as the width of the cloth allows.
    Cloth,
}

/// What is asked of a skirt, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct SkirtWish {
    /// How it is cut.
    pub cut: SkirtCut,
    /// How full it is.
    pub full: Full,
    /// Ease at the waist, over the whole girth.
    pub waist_ease: f64,
    /// Ease at the hip, over the whole girth.
    pub hip_ease: f64,
    /// Length at the centre, from the waist to the hem.
    pub length: f64,
    /// Whether there is a seam at CB or a fold.
    pub back_seam: bool,
    /// The cloth, for a skirt that is as full as it allows.
    pub room: Option<Room>,
}

/// Where the first dart of a bodice meets the waist: lengths from the centre line along the closed waist, mm, front and back.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct DartsToMeet {
    /// In front.
    pub front: Option<f64>,
    /// Behind.
    pub back: Option<f64>,
}

/// A stretch of the waist of a skirt, walked from CF towards CB.
#[derive(Clone, Debug, PartialEq)]
pub struct WaistPart {
    /// The edge.
    pub stretch: Stretch,
    /// What it has more than the waist that it is sewn to.
    pub fullness: Fullness,
}

impl WaistPart {
    /// Its length once its fullness is taken up, from its length as cut, mm.
    pub fn finished(&self, length: f64) -> f64 {
        match self.fullness {
            Fullness::None => length,
            Fullness::Gathered(times) => length / times,
            Fullness::Eased(more) | Fullness::Pleated(more) => length - more,
        }
    }
}

/// How a skirt goes round the hip.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Hip {
    /// How many times as long as it lies its hip line is: 1 but for pleats.
    pub times: f64,
    /// Whether more than body and ease is meant.
    pub at_least: bool,
}

/// Fullness that is worked onto one stretch of a part of the waist, from its centre line on, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bunch {
    /// Number of the part of the waist.
    pub part: usize,
    /// The stretch as cut.
    pub cut: f64,
    /// The stretch as sewn.
    pub finished: f64,
}

/// A drafted skirt.
#[derive(Clone, Debug)]
pub struct Skirt {
    /// Its pieces, from CF to CB.
    pub pieces: Vec<Piece>,
    /// The seams between them, from CF to CB, walked from the waist.
    pub seams: Vec<Seam>,
    /// Half of its waist, from CF to CB.
    pub waist: Vec<WaistPart>,
    /// How many parts of the waist lie before the side line, where a seam stands on it.
    pub before_side: Option<usize>,
    /// How it goes round the hip; nothing where it does not follow it.
    pub hip: Option<Hip>,
    /// How far the front edges lie over each other, mm.
    pub overlap: f64,
    /// Where its fullness is not shared evenly by a part of the waist.
    pub bunch: Option<Bunch>,
    /// What was solved or noticed.
    pub findings: Vec<Finding>,
}

impl Skirt {
    /// A skirt of a front and a back that meet at the side.
    fn of_halves([front, back]: [Piece; 2], fullness: [Fullness; 2], hip: Option<Hip>) -> Self {
        let [in_front, behind] = fullness;
        let part = |stretch, fullness| WaistPart { stretch, fullness };
        Self {
            seams: vec![Seam {
                name: "skirt-side".into(),
                held: vec![Stretch::forwards(&front.name, "side")],
                worked: vec![Stretch::forwards(&back.name, "side")],
                fullness: Fullness::None,
                runs_on: [true, true],
            }],
            waist: vec![
                part(Stretch::forwards(&front.name, "waist"), in_front),
                part(Stretch::backwards(&back.name, "waist"), behind),
            ],
            before_side: Some(1),
            pieces: vec![front, back],
            hip,
            overlap: 0.0,
            bunch: None,
            findings: Vec::new(),
        }
    }

    /// The same skirt as a layer behind another one: `skirt-front` becomes `skirt-front-lining`, its seam `skirt-side`
    /// `lining-skirt-side`.
    #[must_use]
    pub fn derived(mut self, word: &str) -> Self {
        for piece in &mut self.pieces {
            piece.name = name::derived(&piece.name, word);
        }
        for seam in &mut self.seams {
            seam.name = format!("{word}-{}", seam.name);
            for stretch in seam.held.iter_mut().chain(&mut seam.worked) {
                stretch.piece = name::derived(&stretch.piece, word);
            }
        }
        for part in &mut self.waist {
            part.stretch.piece = name::derived(&part.stretch.piece, word);
        }
        self
    }

    /// Length of half of its waist once all fullness is taken up, mm; as its pieces are in a pattern.
    pub fn half_waist(&self, pattern: &Pattern) -> f64 {
        finished(&self.waist, pattern)
    }
}

/// Length of parts of a waist once their fullness is taken up, mm.
pub fn finished(parts: &[WaistPart], pattern: &Pattern) -> f64 {
    let length = |part: &WaistPart| pattern.side_length(std::slice::from_ref(&part.stretch));
    parts.iter().map(|part| part.finished(length(part))).sum()
}

/// What parts of a waist together have more than what they are sewn to.
pub fn fullness(parts: &[WaistPart], pattern: &Pattern) -> Fullness {
    let Some(first) = parts.first() else {
        return Fullness::None;
    };
    if !matches!(first.fullness, Fullness::Pleated(_))
        && parts.iter().all(|part| part.fullness == first.fullness)
    {
        return first.fullness;
    }
    let stretches: Vec<Stretch> = parts.iter().map(|part| part.stretch.clone()).collect();
    let (cut, finished) = (pattern.side_length(&stretches), finished(parts, pattern));
    let gathered = |part: &WaistPart| matches!(part.fullness, Fullness::Gathered(_));
    if parts.iter().any(gathered) {
        Fullness::Gathered(cut / finished)
    } else {
        Fullness::Pleated(cut - finished)
    }
}

/// Drafts a skirt, its darts where those of the bodice meet the waist.
pub fn draft(person: &Person<'_>, wish: &SkirtWish, darts: DartsToMeet) -> Result<Skirt, Finding> {
    if wish.full == Full::Cloth {
        cloth::fullest(person, wish, darts)
    } else {
        drafted(person, wish, darts)
    }
}

/// A skirt whose fullness is known.
fn drafted(person: &Person<'_>, wish: &SkirtWish, darts: DartsToMeet) -> Result<Skirt, Finding> {
    match &wish.cut {
        SkirtCut::Straight => fitted::straight(person, wish, darts),
        SkirtCut::Flared => fitted::flared(person, wish, darts),
        SkirtCut::Gathered => gathered::draft(person, wish),
        SkirtCut::Gored(gores) => gored::draft(person, wish, gores),
        SkirtCut::Circle => circle::draft(person, wish),
        SkirtCut::Pleated(pleats) => pleated::draft(person, wish, pleats),
        SkirtCut::Wrapped(wrap) => wrapped::draft(person, wish, wrap),
        SkirtCut::Fan(fan) => fan::draft(person, wish, darts, fan),
    }
}
