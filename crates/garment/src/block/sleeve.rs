//! The set-in sleeve: its cap is solved so that front and back each fit their part of the armhole with the ease asked for.
//!
//! The crown lies at the origin, y runs down; the back lies at the left, the front at the right. Both halves of the cap share
//! one height; each finds the width for which it is as long as its armhole and ease.

use body::Measure;
use document::{Allowed, Finding, Place, Quantity};
use geometry::{Angle, Curve, Knot, Point, Vec2, solve};
use pattern::{Cut, Edge, EdgeKind, InnerLine, Laid, Layer, Piece};

use super::figures;
use super::person::Person;

/// The least length of an underarm seam, mm.
const LEAST_UNDERARM: f64 = 20.0;

/// What is asked of a sleeve, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct SleeveWish {
    /// Ease over the upper arm girth.
    pub ease: f64,
    /// Ease of the cap over the armhole.
    pub cap_ease: f64,
    /// Length from the shoulder point to the hem.
    pub length: f64,
    /// Girth at the hem; by the arm and ease where `None`.
    pub hem: Option<f64>,
}

/// Lengths of the armhole into which a sleeve is set, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Armhole {
    /// Front, from shoulder seam to side seam.
    pub front: f64,
    /// Back.
    pub back: f64,
}

/// Half a cap in its own frame: how far along the width and how far up the height it passes, between underarm and crown.
struct CapForm {
    low: [f64; 2],
    high: [f64; 2],
}

/// The front is hollowed more above the underarm and is rounder near the crown than the back. †
const FRONT: CapForm = CapForm {
    low: [0.70, 0.22],
    high: [0.36, 0.76],
};
const BACK: CapForm = CapForm {
    low: [0.74, 0.24],
    high: [0.38, 0.80],
};

/// Drafts the sleeve for an armhole.
pub fn draft(person: &Person<'_>, wish: &SleeveWish, armhole: Armhole) -> Result<Piece, Finding> {
    let width = person.of(Measure::UpperArm) + wish.ease;
    let wanted = with_ease(armhole, wish.cap_ease);
    let hem = |height: f64| {
        wish.hem
            .unwrap_or_else(|| hem_by_arm(person, wish, width, height))
    };
    let seam = |height: f64| {
        Vec2::new(
            (hem(height) - width) / 2.0,
            (wish.length - height).max(LEAST_UNDERARM),
        )
    };
    let height = cap_height(width, wanted, armhole, &seam)?;
    if wish.length - height < LEAST_UNDERARM {
        return Err(too_short(wish.length, height + LEAST_UNDERARM));
    }
    let cap = |form: &CapForm, length: f64| {
        half_of_length(form, height, seam(height), length).map(|(_, cap)| cap)
    };
    let (Some(front), Some(back)) = (cap(&FRONT, wanted.front), cap(&BACK, wanted.back)) else {
        return Err(too_wide(width, width));
    };
    let lines = levels(person, height, wish);
    Ok(piece(
        &mirrored(&back).reversed(),
        &front,
        seam(height),
        &lines,
    ))
}

/// Cap ease of the front half and of the back half, mm: a little more behind, where the arm moves forward. †
pub fn ease_by_half(ease: f64) -> [f64; 2] {
    [ease * 0.45, ease * 0.55]
}

fn with_ease(armhole: Armhole, ease: f64) -> Armhole {
    let [front, back] = ease_by_half(ease);
    Armhole {
        front: armhole.front + front,
        back: armhole.back + back,
    }
}

/// The height for which the two widths together are as wide as the sleeve.
fn cap_height(
    width: f64,
    wanted: Armhole,
    armhole: Armhole,
    seam: &dyn Fn(f64) -> Vec2,
) -> Result<f64, Finding> {
    let whole = armhole.front + armhole.back;
    let [least, most] = figures::CAP_HEIGHT.map(|share| share * whole);
    let width_at = |height: f64| {
        let half = |form, length| {
            half_of_length(form, height, seam(height), length).map_or(0.0, |(width, _)| width)
        };
        half(&FRONT, wanted.front) + half(&BACK, wanted.back)
    };
    solve::bracketed(least, most, 1e-6, |height| width_at(height) - width).map_err(|missing| {
        let (widest, narrowest) = (missing.low.1 + width, missing.high.1 + width);
        if width > widest {
            too_wide(width, widest)
        } else {
            too_narrow(width, narrowest)
        }
    })
}

/// The width at which half a cap of a height has a length, mm, and that half.
fn half_of_length(form: &CapForm, height: f64, seam: Vec2, length: f64) -> Option<(f64, Curve)> {
    let cap = |width: f64| half_cap(form, width, height, seam).map_or(f64::NAN, |cap| cap.length());
    let width = solve::bracketed(length * 0.05, length * 1.2, 1e-7, |width| {
        cap(width) - length
    })
    .ok()?;
    Some((width, half_cap(form, width, height, seam)?))
}

/// Half a cap from the crown at the origin to the underarm point, at the right; it ends square to the underarm seam, so that
/// it runs on over it.
fn half_cap(form: &CapForm, width: f64, height: f64, seam: Vec2) -> Option<Curve> {
    let at = |[along, up]: [f64; 2]| Point::new(width * along, height * (1.0 - up));
    Curve::smooth(&[
        Knot::toward(Point::ORIGIN, Vec2::new(1.0, 0.0)),
        Knot::free(at(form.high)),
        Knot::free(at(form.low)),
        Knot::toward(Point::new(width, height), Vec2::new(seam.y, -seam.x)),
    ])
}

fn mirrored(cap: &Curve) -> Curve {
    cap.mirrored(Point::ORIGIN, Point::new(0.0, 1.0))
}

/// Hem girth: wrist, elbow or upper arm with the same ease, whichever lies at that length.
fn hem_by_arm(person: &Person<'_>, wish: &SleeveWish, width: f64, height: f64) -> f64 {
    let (elbow_at, wrist_at) = (
        person.of(Measure::ShoulderToElbow),
        person.of(Measure::ArmLength),
    );
    let [elbow, wrist] =
        [Measure::Elbow, Measure::Wrist].map(|measure| person.of(measure) + wish.ease);
    let between = |from: (f64, f64), to: (f64, f64)| {
        let part = ((wish.length - from.0) / (to.0 - from.0)).clamp(0.0, 1.0);
        from.1 + (to.1 - from.1) * part
    };
    let arm = if wish.length < elbow_at {
        between((height, width), (elbow_at, elbow))
    } else {
        between((elbow_at, elbow), (wrist_at, wrist))
    };
    arm.min(width)
}

/// Levels that are drawn on the sleeve, below the crown, mm: upper arm and, where the sleeve reaches it, elbow.
fn levels(person: &Person<'_>, height: f64, wish: &SleeveWish) -> Vec<(&'static str, f64)> {
    let elbow = person.of(Measure::ShoulderToElbow);
    let mut levels = vec![("upper-arm", height)];
    if elbow > height + 20.0 && elbow < wish.length - 20.0 {
        levels.push(("elbow", elbow));
    }
    levels
}

fn piece(back_cap: &Curve, front_cap: &Curve, underarm: Vec2, levels: &[(&str, f64)]) -> Piece {
    let (back, front) = (back_cap.start(), front_cap.end());
    let (hem_front, hem_back) = (front + underarm, back + Vec2::new(-underarm.x, underarm.y));
    let hem = trued_hem(hem_front, hem_back, underarm);
    let line = |&(name, level): &(&str, f64)| {
        let part = (level - front.y) / underarm.y;
        let run = Curve::line(back.lerp(hem_back, part), front.lerp(hem_front, part));
        InnerLine {
            name: name.into(),
            runs: vec![run],
        }
    };
    let lines = levels.iter().map(line).collect();
    let seam = |name: &str, run| Edge::new(name, EdgeKind::Seam, run);
    Piece {
        name: "sleeve".into(),
        edges: vec![
            seam("cap-back", back_cap.clone()),
            seam("cap-front", front_cap.clone()),
            seam("underarm-front", Curve::line(front, hem_front)),
            Edge::new("hem", EdgeKind::Hem, hem),
            seam("underarm-back", Curve::line(hem_back, back)),
        ],
        darts: Vec::new(),
        marks: Vec::new(),
        lines,
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: 2,
            laid: Laid::Pair,
        },
        peaked: Vec::new(),
        asked: None,
    }
}

/// The hem from front to back, its ends square to the underarm seams so that it runs on over them.
fn trued_hem(front: Point, back: Point, underarm: Vec2) -> Curve {
    let knots = [
        Knot::toward(front, Vec2::new(-underarm.y, underarm.x)),
        Knot::toward(back, Vec2::new(-underarm.y, -underarm.x)),
    ];
    Curve::smooth(&knots).unwrap_or_else(|| Curve::line(front, back))
}

fn too_wide(width: f64, widest: f64) -> Finding {
    Finding::error(
        "sleeve-wider-than-armhole",
        format!("a sleeve {width:.0} mm wide has no cap that fits this armhole; {widest:.0} mm is the widest"),
    )
    .at(Place::Piece("sleeve".into()))
    .measured(Quantity::mm(width), Allowed::AtMost(Quantity::mm(widest.floor())))
    .because("the cap would be flatter than an arm can hang in")
    .cure(format!("take {:.0} mm off the sleeve's ease, or give the cap more ease or the bodice a deeper armhole", (width - widest).ceil()))
}

fn too_narrow(width: f64, narrowest: f64) -> Finding {
    Finding::error(
        "sleeve-narrower-than-armhole",
        format!("a sleeve {width:.0} mm wide has no cap that fits this armhole; {narrowest:.0} mm is the narrowest"),
    )
    .at(Place::Piece("sleeve".into()))
    .measured(Quantity::mm(width), Allowed::AtLeast(Quantity::mm(narrowest.ceil())))
    .because("the cap would stand higher than the shoulder is wide")
    .cure(format!("give the sleeve {:.0} mm more ease", (narrowest - width).ceil()))
}

fn too_short(length: f64, least: f64) -> Finding {
    Finding::error(
        "sleeve-too-short",
        format!("a sleeve of {length:.0} mm ends within its own cap"),
    )
    .at(Place::Piece("sleeve".into()))
    .measured(
        Quantity::mm(length),
        Allowed::AtLeast(Quantity::mm(least.ceil())),
    )
    .cure(format!(
        "make the sleeve at least {:.0} mm long",
        least.ceil()
    ))
}
