//! The fitted skirt: darts after the body's own profile, a hip curve at the side, straight or flared below.
//!
//! **What it does.** Shares what hip and waist differ by among darts and side seams; a flare closes darts again.
//! **When it is used.** For a plain skirt, and as the ground for most styles.
//! **Example.** `skirt "a-line" sweep="160 cm" length="60 cm"`.
//! **What can go wrong.** A straight hem that is narrower than a step needs a vent; a length that ends above the hip.
//!
//! A flare closes darts, which opens the hem below their points, and swings the side seam out. Front and back turn by the same
//! angle, so that the grain runs alike on both sides of the side seam; the flare is solved so that the hem has the sweep that
//! was asked for.

mod drawn;
mod refused;
mod waist;

use body::Measure;
use document::Finding;
use geometry::{Angle, Vec2, math, solve};
use pattern::{Edge, Fullness, Piece};

use self::drawn::drawn;
use self::refused::cannot;
pub(super) use self::refused::{no_sweep, too_short};
use self::waist::{ends, fitted_darts, plans, settled};
use super::super::figures;
use super::super::person::Person;
use super::super::waistline;
use super::{DartsToMeet, Full, Hip, Skirt, SkirtWish};

/// One half of a skirt, front or back, before it is drawn. Lengths in mm.
#[derive(Clone, Debug)]
struct Half {
    name: &'static str,
    hip: f64,
    waist: f64,
    side_take: f64,
    dart_length: f64,
    first_dart: Option<f64>,
    back_seam: bool,
}

impl Half {
    fn has_darts(&self) -> bool {
        self.hip - self.waist - self.side_take > LEAST_INTAKE
    }
}

/// Less than this between hip and waist is no dart, mm.
const LEAST_INTAKE: f64 = 0.01;

/// What both halves share. Lengths in mm.
#[derive(Clone, Copy, Debug)]
struct Shape {
    hip_depth: f64,
    length: f64,
    /// By how much the waist rises towards the side.
    rise: f64,
    /// How much the skirt flares: at 1 the darts of the half with less of them are closed.
    flare: f64,
    /// Angle by which either half turns at a flare of 1, the least sum of dart angles of the two.
    turn: Angle,
}

pub(super) fn straight(
    person: &Person<'_>,
    wish: &SkirtWish,
    darts: DartsToMeet,
) -> Result<Skirt, Finding> {
    let halves = halves(person, wish, darts);
    let shape = shape(person, wish, &halves)?;
    let pieces = drawn(&halves, &shape, 0.0).ok_or_else(cannot)?;
    Ok(Skirt::of_halves(
        pieces,
        [Fullness::None; 2],
        Some(hip(false)),
    ))
}

pub(super) fn flared(
    person: &Person<'_>,
    wish: &SkirtWish,
    darts: DartsToMeet,
) -> Result<Skirt, Finding> {
    /// More than four times the flare of all darts closed is a circle, not a flare.
    const MOST_FLARE: f64 = 6.0;
    let halves = halves(person, wish, darts);
    let shape = shape(person, wish, &halves)?;
    let hip_girth = person.of(Measure::Hip) + wish.hip_ease;
    let sweep = match wish.full {
        Full::Sweep(sweep) => sweep,
        _ => figures::SWEEP_OVER_HIP * hip_girth,
    };
    let hem_at = |flare: f64| {
        drawn(&halves, &shape, flare)
            .map_or(f64::NAN, |[front, back]| 2.0 * (hem(&front) + hem(&back)))
    };
    let flare = solve::stepping(0.0, 0.5, MOST_FLARE, 1e-7, |flare| hem_at(flare) - sweep)
        .map_err(|missing| no_sweep(sweep, missing.low.1 + sweep, missing.high.1 + sweep))?;
    let pieces = drawn(&halves, &shape, flare).ok_or_else(cannot)?;
    Ok(Skirt::of_halves(
        pieces,
        [Fullness::None; 2],
        Some(hip(true)),
    ))
}

const fn hip(at_least: bool) -> Hip {
    Hip {
        times: 1.0,
        at_least,
    }
}

fn hem(piece: &Piece) -> f64 {
    piece.edge("hem").map_or(0.0, Edge::length)
}

fn halves(person: &Person<'_>, wish: &SkirtWish, darts: DartsToMeet) -> [Half; 2] {
    let half_hip = (person.of(Measure::Hip) + wish.hip_ease) / 2.0;
    let half_waist = (person.of(Measure::Waist) + wish.waist_ease) / 2.0;
    let hip_share = person.front_share(
        Measure::Hip,
        Measure::HipFrontArc,
        figures::FRONT_SHARE_OF_HIP,
    );
    let waist_share = person.front_share(
        Measure::Waist,
        Measure::WaistFrontArc,
        figures::FRONT_SHARE_OF_WAIST,
    );
    let [front, back] = [
        (hip_share, waist_share),
        (1.0 - hip_share, 1.0 - waist_share),
    ]
    .map(|(hip, waist)| (half_hip * hip, half_waist * waist));
    let take = side_take(front.0 - front.1, back.0 - back.1);
    let half = |name, (hip, waist): (f64, f64), dart_length, first_dart, back_seam| Half {
        name,
        hip,
        waist,
        side_take: if hip - waist - take < figures::LEAST_WAIST_DART {
            hip - waist
        } else {
            take
        },
        dart_length,
        first_dart,
        back_seam,
    };
    [
        half(
            "skirt-front",
            front,
            figures::FRONT_SKIRT_DART,
            darts.front,
            false,
        ),
        half(
            "skirt-back",
            back,
            figures::BACK_SKIRT_DART,
            darts.back,
            wish.back_seam,
        ),
    ]
}

/// What each side seam takes at the waist: its share, what two darts a quarter cannot take, or all of it where one half has
/// no need of darts.
fn side_take(front: f64, back: f64) -> f64 {
    let smaller = front.min(back);
    if smaller <= figures::LEAST_WAIST_DART {
        return smaller;
    }
    let share = (smaller * figures::SKIRT_SIDE_SHARE).min(figures::MOST_SIDE_TAKE);
    share
        .max(front.max(back) - figures::DARTS_A_QUARTER * figures::MOST_SKIRT_DART)
        .min(smaller)
}

fn shape(person: &Person<'_>, wish: &SkirtWish, halves: &[Half; 2]) -> Result<Shape, Finding> {
    let hip_depth = person.of(Measure::WaistToHip);
    let least = hip_depth + 60.0;
    if wish.length < least {
        return Err(too_short(wish.length, least));
    }
    let flat = Shape {
        hip_depth,
        length: wish.length,
        rise: 0.0,
        flare: 0.0,
        turn: Angle::default(),
    };
    let shape = Shape {
        rise: rise(halves, &flat),
        ..flat
    };
    let turn = halves
        .iter()
        .filter_map(|half| dart_turn(half, &shape))
        .fold(f64::INFINITY, f64::min);
    Ok(Shape {
        turn: Angle::from_radians(if turn.is_finite() { turn } else { 0.0 }),
        ..shape
    })
}

/// Sum of the dart angles of a half, radians.
fn dart_turn(half: &Half, shape: &Shape) -> Option<f64> {
    let half = settled(half, shape);
    let darts = fitted_darts(&half, shape, &ends(&half, shape))?;
    Some(darts.iter().map(|dart| dart.angle.radians()).sum())
}

/// By how much the waist must rise at the side for the closed waistline to be an even curve: its chord then makes the same
/// angle with both its ends. Front and back share one rise, so that their side seams agree.
fn rise(halves: &[Half; 2], flat: &Shape) -> f64 {
    const MOST: f64 = 40.0;
    let uneven = |rise: f64| -> f64 {
        halves
            .iter()
            .map(|half| unevenness(half, &Shape { rise, ..*flat }))
            .sum()
    };
    solve::bracketed(0.0, MOST, 1e-4, uneven).unwrap_or_else(|missing| missing.nearest())
}

fn unevenness(half: &Half, shape: &Shape) -> f64 {
    let (ends, darts) = (ends(half, shape), plans(half, shape));
    let closed = waistline::closed(&ends, &darts);
    let chord = closed.end() - closed.start();
    let angle = |direction: Vec2| math::atan2(direction.y, direction.x);
    angle(closed.end_direction()) - 2.0 * angle(chord)
}
