//! The skirt from a circle or a part of one: waist and hem are arcs about one centre, the cloth runs out between them.
//!
//! **What it does.** Cuts front and back as sectors of one ring, as much of a circle as is wished or as a hem needs.
//! **When it is used.** For a skirt without darts that is smooth at the waist and falls in even folds.
//! **Example.** `skirt "circle" sweep="3 m" length="60 cm"`.
//! **What can go wrong.** Too small a part does not pass over the hip; where the cloth runs on the bias the hem drops and is
//! levelled after it has hung.
//!
//! Geometry: a waist of W cut from a sector of angle a has the radius W/a, the hem is W + a·L. The waist here is the seam line;
//! the allowance lies inside it, so that the hole that is cut is smaller by the allowance of its own accord. Invariant: front and
//! back share one centre, their angles as their shares of the waist.

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity, Unit, written_mm};
use geometry::{Curve, Point};
use pattern::{Fullness, Laid, Piece};

use super::super::figures;
use super::super::person::Person;
use super::panel::{Named, Panel, SIDE, arc, centre, line};
use super::{Full, Hip, Skirt, SkirtWish};

const CIRCLE: f64 = 2.0 * std::f64::consts::PI;

/// What all parts share, mm.
struct Ring {
    radius: f64,
    length: f64,
    hip_depth: f64,
}

pub(super) fn draft(person: &Person<'_>, wish: &SkirtWish) -> Result<Skirt, Finding> {
    let waist = person.of(Measure::Waist) + wish.waist_ease;
    let hip = person.of(Measure::Hip) + wish.hip_ease;
    let hip_depth = person.of(Measure::WaistToHip);
    let angle = match wish.full {
        Full::Angle(angle) => angle.radians(),
        Full::Sweep(sweep) => (sweep - waist) / wish.length,
        _ => CIRCLE,
    };
    // A skirt that ends above the hip need not pass over it.
    let least = if wish.length > hip_depth {
        (hip - waist) / hip_depth
    } else {
        0.0
    };
    let most = (figures::MOST_CIRCLES * CIRCLE).min(waist / figures::LEAST_WAIST_RADIUS);
    if !(least - 1e-9..=most + 1e-9).contains(&angle) {
        return Err(impossible(angle, [least, most], waist, wish));
    }
    let share = person.front_share(
        Measure::Waist,
        Measure::WaistFrontArc,
        figures::FRONT_SHARE_OF_WAIST,
    );
    let ring = Ring {
        radius: waist / angle,
        length: wish.length,
        hip_depth,
    };
    let (fold, on_fold) = centre(false);
    let (behind, laid) = centre(wish.back_seam);
    let front = ring.part("skirt-front", angle * share / 2.0, (fold, on_fold));
    let back = ring.part("skirt-back", angle * (1.0 - share) / 2.0, (behind, laid));
    let hip = (wish.length > hip_depth).then_some(Hip {
        times: 1.0,
        at_least: true,
    });
    let mut skirt = Skirt::of_halves([front, back], [Fullness::None; 2], hip);
    if matches!(wish.full, Full::Sweep(_)) {
        skirt.findings.push(solved(angle, waist, wish.length));
    }
    Ok(skirt)
}

impl Ring {
    /// A sector on one side of its centre line.
    fn part(&self, name: &str, angle: f64, (edge, laid): (Named, Laid)) -> Piece {
        let at = |below: f64| arc(Point::new(0.0, below), angle, (self.radius + below) * angle);
        let (waist, hem) = (at(0.0), at(self.length));
        let crosses_hip = self.hip_depth < self.length;
        Panel {
            name: name.into(),
            right: Curve::line(waist.end(), hem.end()),
            waist,
            hem: hem.reversed(),
            beside: [SIDE, edge],
            lines: crosses_hip
                .then(|| line("hip", at(self.hip_depth)))
                .into_iter()
                .collect(),
            laid,
        }
        .half()
    }
}

/// The part of a circle, for a person: 0.75.
fn part(angle: f64) -> Quantity {
    Quantity {
        value: angle / CIRCLE,
        unit: Unit::Ratio,
    }
}

fn solved(angle: f64, waist: f64, length: f64) -> Finding {
    Finding::note(
        "skirt-fullness-solved",
        format!(
            "a hem of {:.0} mm takes {:.2} of a circle, with a waist radius of {:.0} mm",
            waist + angle * length,
            angle / CIRCLE,
            waist / angle
        ),
    )
    .at(Place::Piece("skirt-front".into()))
}

fn impossible(angle: f64, [least, most]: [f64; 2], waist: f64, wish: &SkirtWish) -> Finding {
    let sweep = |angle: f64| waist + angle * wish.length;
    let finding = Finding::error(
        "skirt-circle-impossible",
        format!(
            "a skirt cannot be cut from {:.2} of a circle with a hem of {:.0} mm here",
            angle / CIRCLE,
            sweep(angle)
        ),
    )
    .at(Place::Piece("skirt-front".into()));
    let finding = if angle < least {
        finding
            .because("it would be narrower than the hip and could not be drawn over it")
            .cure(format!(
                "ask for at least {:.2} of a circle, or a hem of {:.0} mm",
                least / CIRCLE + 0.005,
                sweep(least).ceil()
            ))
    } else {
        finding
            .because(
                "the hole for the waist would be too small to be sewn, or the parts would meet",
            )
            .cure("take less of a circle, or gather more than one circle onto the waist")
    };
    let nearest = if angle < least {
        sweep(least).ceil()
    } else {
        sweep(most).floor()
    };
    let finding = finding.measured(part(angle), Allowed::Between(part(least), part(most)));
    // What was said by a part or an angle is not said again by a sweep.
    if matches!(wish.full, Full::Sweep(_)) {
        let words = "takes the nearest hem that a circle gives here";
        finding.mend(Mend::property(
            &["skirt"],
            "sweep",
            written_mm(nearest),
            words,
        ))
    } else {
        finding
    }
}
