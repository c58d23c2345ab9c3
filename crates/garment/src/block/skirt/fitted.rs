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

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};
use geometry::curve::turn_about;
use geometry::{Affine, Angle, Curve, Knot, Point, Vec2, math, solve};
use pattern::{Cut, Dart, Edge, EdgeKind, Fullness, InnerLine, Laid, Layer, Piece, Pressed};

use super::super::figures;
use super::super::person::Person;
use super::super::waistline::{self, DartPlan, Ends};
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

/// Side seam from the waist to the hip: leaves the hip along the flare, arrives at the waist straight from the hip curve.
fn hip_curve(half: &Half, shape: &Shape) -> Option<Curve> {
    let waist = Point::new(half.hip - half.side_take, -shape.rise);
    let hip = Point::new(half.hip, shape.hip_depth);
    Curve::smooth(&[Knot::free(waist), Knot::toward(hip, below_hip(shape))])
}

/// Direction of the side seam below the hip.
fn below_hip(shape: &Shape) -> Vec2 {
    Vec2::new(
        figures::SIDE_FLARE * shape.flare,
        shape.length - shape.hip_depth,
    )
}

fn ends(half: &Half, shape: &Shape) -> Ends {
    let down = hip_curve(half, shape).map_or(Vec2::new(0.0, 1.0), |curve| curve.start_direction());
    Ends {
        centre: Point::ORIGIN,
        centre_direction: Vec2::new(1.0, 0.0),
        side: Point::new(half.hip - half.side_take, -shape.rise),
        side_direction: Vec2::new(down.y, -down.x),
    }
}

/// Darts at even distances, or the first where the bodice's dart meets the waist.
fn plans(half: &Half, shape: &Shape) -> Vec<DartPlan> {
    let intake = half.hip - half.waist - half.side_take;
    if intake < LEAST_INTAKE {
        return Vec::new();
    }
    let count = (intake / figures::MOST_SKIRT_DART).ceil().max(1.0) as usize;
    let each = intake / count as f64;
    let length = half
        .dart_length
        .min(shape.hip_depth * figures::MOST_OF_HIP_DEPTH);
    let width = half.hip - half.side_take;
    let first = half
        .first_dart
        .map_or(width / (count as f64 + 1.0), |along| along + each / 2.0);
    let step = (width - first) / count as f64;
    (0..count)
        .map(|index| {
            let x = first + step * index as f64;
            // Darts farther out lie over a shallower part of the body.
            let depth = length * (1.0 - 0.12 * index as f64);
            DartPlan {
                name: if count == 1 {
                    "waist-dart".into()
                } else {
                    format!("waist-dart-{}", index + 1)
                },
                point: Point::new(x, depth - shape.rise * x / width),
                axis: Vec2::new(0.0, -1.0),
                angle: Angle::from_radians(2.0 * math::asin((each / (2.0 * depth)).min(0.9))),
            }
        })
        .collect()
}

/// Darts fitted to the waist and, where a bodice stands above, moved until the first meets the bodice's.
fn fitted_darts(half: &Half, shape: &Shape, ends: &Ends) -> Option<Vec<DartPlan>> {
    let mut plans = plans(half, shape);
    if plans.is_empty() {
        return Some(plans);
    }
    for _ in 0..6 {
        let fitted = waistline::fitted(ends, &plans, half.waist)?;
        let closed = waistline::closed(ends, &fitted);
        let off = match half.first_dart {
            Some(wanted) => wanted - waistline::mouths(&closed, &fitted)?[0],
            None => 0.0,
        };
        if off.abs() < 0.01 {
            return Some(fitted);
        }
        for plan in &mut plans {
            plan.point.x += off;
        }
    }
    None
}

/// The half's side take where no dart brings the waist to its length: solved.
fn settled(half: &Half, shape: &Shape) -> Half {
    const REACH: f64 = 25.0;
    if half.has_darts() {
        return half.clone();
    }
    let with = |side_take: f64| Half {
        side_take,
        ..half.clone()
    };
    let off = |take: f64| waistline::closed(&ends(&with(take), shape), &[]).length() - half.waist;
    let take = solve::bracketed(half.side_take - REACH, half.side_take + REACH, 1e-6, off);
    let take = take.unwrap_or(half.side_take);
    Half {
        side_take: take,
        waist: half.hip - take,
        ..half.clone()
    }
}

/// The shape whose rise gives a half a side seam of a length from waist to hip, mm.
fn with_side(half: &Half, shape: &Shape, length: f64) -> Shape {
    const REACH: f64 = 30.0;
    let at = |rise: f64| Shape { rise, ..*shape };
    let off = |rise: f64| {
        hip_curve(&settled(half, &at(rise)), &at(rise))
            .map_or(f64::NAN, |curve| curve.length() - length)
    };
    let rise = solve::bracketed(shape.rise - REACH, shape.rise + REACH, 1e-5, off);
    at(rise.unwrap_or(shape.rise))
}

fn drawn(halves: &[Half; 2], shape: &Shape, flare: f64) -> Option<[Piece; 2]> {
    let shape = Shape { flare, ..*shape };
    let [front, back] = halves;
    let (front_shape, back_shape) = even_sides(front, back, &shape);
    Some([piece(front, &front_shape)?, piece(back, &back_shape)?])
}

/// Shapes of both halves with side seams of one length: a half with darts keeps its own, the other's rises or sinks.
fn even_sides(front: &Half, back: &Half, shape: &Shape) -> (Shape, Shape) {
    let length = |half: &Half| {
        hip_curve(&settled(half, shape), shape).map_or(f64::NAN, |curve| curve.length())
    };
    if front.has_darts() {
        (*shape, with_side(back, shape, length(front)))
    } else {
        (with_side(front, shape, length(back)), *shape)
    }
}

fn piece(half: &Half, shape: &Shape) -> Option<Piece> {
    let half = settled(half, shape);
    let ends = ends(&half, shape);
    let darts = fitted_darts(&half, shape, &ends)?;
    let closed = waistline::closed(&ends, &darts);
    let share = closed_share(shape, &darts);
    let left: Vec<DartPlan> = partly_closed(&darts, share);
    let turns = flare_turns(&darts, share);
    let runs = waistline::opened(&closed, &darts)?;
    let runs: Vec<Curve> = runs
        .iter()
        .zip(&turns)
        .map(|(run, turn)| run.transformed(*turn))
        .collect();
    let side_turn = turns[darts.len()];
    let hip = Point::new(half.hip, shape.hip_depth);
    let side = hip_curve(&half, shape)?
        .then(&Curve::line(hip, hip + below_hip(shape)))?
        .transformed(side_turn);
    let hem = hem_line(shape, &darts, &turns, &side)?;
    let hip_line = hip_line(&half, shape, &darts, &turns);
    Some(assembled(
        &half,
        shape,
        (runs, &left, share),
        side,
        &hem,
        hip_line,
    ))
}

/// Share of each dart of a half that the flare closes: both halves turn by the same angle.
fn closed_share(shape: &Shape, darts: &[DartPlan]) -> f64 {
    let sum: f64 = darts.iter().map(|dart| dart.angle.radians()).sum();
    if sum < 1e-9 {
        return 0.0;
    }
    let share = shape.turn.radians() * shape.flare.min(1.0) / sum;
    // A dart that is closed but for a rounding error is closed.
    if share > 0.999 { 1.0 } else { share }
}

/// Darts that are left when a share of each is closed into flare; each moves with what lies before it.
fn partly_closed(darts: &[DartPlan], share: f64) -> Vec<DartPlan> {
    let turns = flare_turns(darts, share);
    let left = darts.iter().zip(&turns);
    left.map(|(dart, turn)| DartPlan {
        point: *turn * dart.point,
        ..dart.clone()
    })
    .collect()
}

/// Turns that close a share of each dart, for the part before the first, between them, and beyond the last.
fn flare_turns(darts: &[DartPlan], share: f64) -> Vec<Affine> {
    let mut turns = vec![Affine::IDENTITY];
    for dart in darts {
        let last = turns[turns.len() - 1];
        turns.push(
            last * turn_about(
                dart.point,
                Angle::from_radians(-dart.angle.radians() * share),
            ),
        );
    }
    turns
}

/// The hem from side to centre, square to both, through the middles of what the darts opened.
fn hem_line(shape: &Shape, darts: &[DartPlan], turns: &[Affine], side: &Curve) -> Option<Curve> {
    let down = side.end_direction();
    let mut knots = vec![Knot::toward(
        Point::new(0.0, shape.length),
        Vec2::new(1.0, 0.0),
    )];
    if shape.flare > 0.0 {
        for (index, dart) in darts.iter().enumerate() {
            let bottom = Point::new(dart.point.x, shape.length);
            knots.push(Knot::free(
                (turns[index] * bottom).midpoint(turns[index + 1] * bottom),
            ));
        }
    }
    knots.push(Knot::toward(side.end(), Vec2::new(down.y, -down.x)));
    Curve::smooth(&knots).map(|curve| curve.reversed())
}

/// The hip line; where the flare opens it below the darts it goes straight on over the gap.
fn hip_line(half: &Half, shape: &Shape, darts: &[DartPlan], turns: &[Affine]) -> InnerLine {
    let level = |x: f64| Point::new(x, shape.hip_depth);
    let mut cuts: Vec<f64> = vec![0.0];
    if shape.flare > 0.0 {
        cuts.extend(darts.iter().map(|dart| dart.point.x));
    }
    cuts.push(half.hip);
    let ends: Vec<Point> = cuts
        .windows(2)
        .zip(turns)
        .flat_map(|(pair, turn)| [*turn * level(pair[0]), *turn * level(pair[1])])
        .collect();
    InnerLine {
        name: "hip".into(),
        runs: Curve::polyline(&ends).into_iter().collect(),
    }
}

fn assembled(
    half: &Half,
    shape: &Shape,
    (runs, darts, share): (Vec<Curve>, &[DartPlan], f64),
    side: Curve,
    hem: &Curve,
    hip_line: InnerLine,
) -> Piece {
    let mut waist = Edge::new("waist", EdgeKind::Seam, runs[0].clone());
    let closed_fully = share >= 1.0;
    waist.runs = if closed_fully { joined(runs) } else { runs };
    let aims = darts.iter().enumerate().map(|(gap, plan)| Dart {
        name: plan.name.clone(),
        edge: "waist".into(),
        gap,
        point: plan.point,
        aim: plan.point,
        pressed: Pressed::Before,
    });
    let darts = if closed_fully {
        Vec::new()
    } else {
        aims.collect()
    };
    let centre = if half.back_seam {
        EdgeKind::Opening
    } else {
        EdgeKind::Fold
    };
    let bottom = Point::new(0.0, shape.length);
    Piece {
        name: half.name.into(),
        edges: vec![
            waist,
            Edge::new("side", EdgeKind::Seam, side),
            Edge::new("hem", EdgeKind::Hem, hem.with_ends(hem.start(), bottom)),
            Edge::new("centre", centre, Curve::line(bottom, Point::ORIGIN)),
        ],
        darts,
        marks: Vec::new(),
        lines: vec![hip_line],
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: if half.back_seam { 2 } else { 1 },
            laid: if half.back_seam {
                Laid::Pair
            } else {
                Laid::OnFold("centre".into())
            },
        },
        peaked: Vec::new(),
        asked: None,
    }
}

/// One run of those that meet when their darts are closed for good.
fn joined(runs: Vec<Curve>) -> Vec<Curve> {
    let mut runs = runs.into_iter();
    let first = runs.next();
    let whole = first.map(|first| {
        runs.fold(first, |whole, run| {
            let run = run.with_ends(whole.end(), run.end());
            whole
                .then(&run)
                .expect("the run starts where the one before ends")
        })
    });
    whole.into_iter().collect()
}

fn cannot() -> Finding {
    Finding::error(
        "skirt-cannot-be-drawn",
        "the waist of the skirt cannot be drawn from these measures",
    )
    .at(Place::Measure("waist".into()))
    .at(Place::Measure("hip".into()))
    .cure("tape the waist, the hip and the waist to hip again")
}

pub(super) fn too_short(length: f64, least: f64) -> Finding {
    Finding::error(
        "skirt-too-short",
        format!("a fitted skirt of {length:.0} mm ends above or at the hip"),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(
        Quantity::mm(length),
        Allowed::AtLeast(Quantity::mm(least.ceil())),
    )
    .because("it is fitted down to the hip line and needs a hem below it")
    .mend(Mend::property(
        &["skirt"],
        "length",
        written_mm(least.ceil()),
        "makes the skirt long enough for its cut",
    ))
}

pub(super) fn no_sweep(sweep: f64, least: f64, most: f64) -> Finding {
    let finding = Finding::error(
        "skirt-sweep-impossible",
        format!("a hem of {sweep:.0} mm cannot be cut with this flare"),
    )
    .at(Place::Piece("skirt-front".into()))
    .because("the straight skirt is the narrowest, and too wide a flare is no longer one");
    if !least.is_finite() {
        return finding;
    }
    let least = least.ceil();
    let (allowed, nearest) = if most.is_finite() {
        let most = most.floor();
        let allowed = Allowed::Between(Quantity::mm(least), Quantity::mm(most));
        (allowed, if sweep < least { least } else { most })
    } else {
        (Allowed::AtLeast(Quantity::mm(least)), least)
    };
    finding
        .measured(Quantity::mm(sweep), allowed)
        .mend(Mend::property(
            &["skirt"],
            "sweep",
            written_mm(nearest),
            "takes the nearest hem that can be cut",
        ))
}
