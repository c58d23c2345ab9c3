//! The widths of a bodice: half width at the bust, suppression at the waist, and the side seam that joins the two.

use body::Measure;
use geometry::{Curve, Point, Vec2, math, solve};

use super::super::figures;
use super::super::person::Person;
use super::BodiceWish;
use super::back::Trued;

/// Widths of one half of the bodice, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct Widths {
    /// Front, centre line to side seam, at bust level.
    pub(super) front_bust: f64,
    /// Back, centre line to side seam, at bust level.
    pub(super) back_bust: f64,
    /// Front at the waist, darts closed.
    pub(super) front_waist: f64,
    /// Back at the waist, darts closed.
    pub(super) back_waist: f64,
    /// What the front's side seam takes at the waist; negative where it flares.
    pub(super) front_take: f64,
    /// What the back's side seam takes at the waist.
    pub(super) back_take: f64,
    /// What the front's waist darts take, about; 0 where there are none.
    pub(super) front_intake: f64,
    /// What the back's waist darts take, about.
    pub(super) back_intake: f64,
    /// What a shaped CB seam takes at the waist.
    pub(super) centre_back_take: f64,
}

/// Shares out the difference between bust line and waist.
pub(super) fn widths(person: &Person<'_>, wish: &BodiceWish) -> Widths {
    let (bust, upper) = (person.of(Measure::Bust), person.of(Measure::UpperChest));
    let quarter = upper / 4.0 + wish.ease.bust / 4.0;
    let front_bust = quarter + (bust - upper) / 2.0 + figures::SIDE_SEAM_SHIFT;
    let back_bust = quarter - figures::SIDE_SEAM_SHIFT;
    let half_waist = (person.of(Measure::Waist) + wish.ease.waist) / 2.0;
    let share = person.front_share(
        Measure::Waist,
        Measure::WaistFrontArc,
        figures::FRONT_SHARE_OF_WAIST,
    );
    let (front_waist, back_waist) = (half_waist * share, half_waist * (1.0 - share));
    let (front, back) = (front_bust - front_waist, back_bust - back_waist);
    let side = side_take(front, back);
    let centre = if wish.back_seam {
        centre_back_take(back - side)
    } else {
        0.0
    };
    let (front_take, front_intake) = shares(front, side);
    let (back_take, back_intake) = shares(back - centre, side);
    Widths {
        front_bust,
        back_bust,
        front_waist,
        back_waist,
        front_take,
        back_take,
        front_intake,
        back_intake,
        centre_back_take: centre,
    }
}

/// The side seam takes its share, what two darts a quarter cannot take, or all of it where one half has no need of darts.
fn side_take(front: f64, back: f64) -> f64 {
    let smaller = front.min(back);
    if smaller <= 0.0 {
        return smaller;
    }
    let share = (smaller * figures::SIDE_SHARE).min(figures::MOST_SIDE_TAKE);
    share
        .max(front.max(back) - figures::DARTS_A_QUARTER * figures::MOST_WAIST_DART)
        .min(smaller)
}

fn centre_back_take(rest: f64) -> f64 {
    (rest * figures::CENTRE_BACK_SHARE).clamp(0.0, figures::MOST_CENTRE_BACK_TAKE)
}

/// What the side seam takes and what is left for darts: worth a dart, or all of it in the side seam.
fn shares(suppression: f64, side: f64) -> (f64, f64) {
    let rest = suppression - side;
    if rest < figures::LEAST_WAIST_DART {
        (suppression, 0.0)
    } else {
        (side, rest)
    }
}

/// A straight side seam that passes a given width at bust level and takes in below it.
#[derive(Clone, Copy, Debug)]
pub(super) struct SideSeam {
    /// Underarm point.
    pub(super) top: Point,
    /// Waist point.
    pub(super) bottom: Point,
    /// Unit direction downwards.
    pub(super) direction: Vec2,
}

/// Draws the side seam from the level of its top, its length, how far below the top the bust level lies, the width at bust
/// level and what it takes at the waist. All mm.
pub(super) fn side_seam(
    top_level: f64,
    length: f64,
    bust_below: f64,
    width: f64,
    take: f64,
) -> SideSeam {
    let sin = (take / (length - bust_below)).clamp(-0.6, 0.6);
    let cos = (1.0 - sin * sin).sqrt();
    let top = Point::new(width + bust_below * sin / cos, top_level);
    let direction = Vec2::new(-sin, cos);
    SideSeam {
        top,
        bottom: top + direction * length,
        direction,
    }
}

/// What the side seam takes at the waist: as planned where darts bring the waist to its length, solved where there are none.
pub(super) fn exact_take(
    planned: f64,
    waist: f64,
    waist_for: impl Fn(f64) -> Option<Trued>,
) -> f64 {
    const REACH: f64 = 25.0;
    if waist_for(planned).is_none_or(|trued| !trued.darts.is_empty()) {
        return planned;
    }
    let off = |take: f64| {
        waist_for(take).map_or(f64::NAN, |trued| {
            trued.runs.iter().map(Curve::length).sum::<f64>() - waist
        })
    };
    solve::bracketed(planned - REACH, planned + REACH, 1e-6, off).unwrap_or(planned)
}

/// How far bust level lies below the underarm point along the front, mm, kept within the side seam's upper half.
pub(super) fn bust_below_underarm(bust_level: f64, top_level: f64, length: f64) -> f64 {
    (bust_level - top_level).clamp(0.0, length / 2.0)
}

/// How many waist darts share an intake, and what each takes, mm.
pub(super) fn shared(intake: f64, most: f64) -> (usize, f64) {
    if intake <= 0.0 {
        return (0, 0.0);
    }
    let count = (intake / most).ceil().max(1.0);
    (count as usize, intake / count)
}

/// Angle at the point of a dart by its intake and length: 2·asin(intake / 2r).
pub(super) fn dart_angle(intake: f64, length: f64) -> geometry::Angle {
    geometry::Angle::from_radians(2.0 * math::asin((intake / (2.0 * length)).clamp(0.0, 0.95)))
}
