//! The front of the bodice: frame at the shoulder, volume below it, joined by the bust dart.
//!
//! The undarted side seam is drawn below the bust and its top is turned up about the dart's own point by the dart's angle;
//! the side seam equals the back's by construction and the armhole is a result.

use body::Measure;
use document::{Finding, Place};
use geometry::{Angle, Curve, Knot, Point, Vec2, curve, math, solve};
use pattern::{Cut, Dart, Edge, EdgeKind, InnerLine, Laid, Layer, Mark, Piece, Pressed};

use super::super::figures;
use super::super::person::Person;
use super::super::waistline::{DartPlan, Ends};
use super::armhole::Armhole;
use super::back::{self, Back, Trued};
use super::sides::{self, SideSeam, Widths};
use super::witness::Witnesses;
use super::{BodiceWish, BustDartAt};

/// Neck and shoulder of the front, the bust point and the waist level.
pub(super) struct Frame {
    side_neck: Point,
    shoulder: Point,
    shoulder_direction: Vec2,
    neckline: Curve,
    bust_point: Point,
    waist_level: f64,
    /// Front neck point below the side neck point, mm.
    pub(super) neck_depth: f64,
}

/// A drafted front.
pub(super) struct Front {
    pub(super) piece: Piece,
    /// By how much half the across line was shortened to leave the armhole a bottom, mm.
    pub(super) shortened: f64,
}

/// The side seam below the bust, and the dart that lifts its top.
#[derive(Clone, Copy)]
pub(super) struct SideLift {
    side: SideSeam,
    mouth: Point,
    point: Point,
    shoulder_level: f64,
}

fn shoulder_line(person: &Person<'_>) -> (Point, Vec2) {
    let width =
        person.of(Measure::NeckBase) * figures::NECK_WIDTH_SHARE - figures::FRONT_NECK_WIDTH_LESS;
    let slope =
        Angle::from_degrees(person.of(Measure::ShoulderSlope) + figures::SHOULDER_SLOPE_SHIFT);
    (Point::new(width, 0.0), curve::unit(slope))
}

fn bust_point(person: &Person<'_>) -> Point {
    let (side_neck, _) = shoulder_line(person);
    let x = person.of(Measure::BustPointWidth) / 2.0;
    let (across, along) = (side_neck.x - x, person.of(Measure::NeckToBustPoint));
    Point::new(x, (along * along - across * across).max(0.0).sqrt())
}

/// Bust level below the side neck point, mm.
pub(super) fn bust_level(person: &Person<'_>) -> f64 {
    bust_point(person).y
}

fn waist_level(person: &Person<'_>) -> f64 {
    bust_level(person) + person.of(Measure::FrontWaistLength) - person.of(Measure::NeckToBustPoint)
}

/// Level of the undarted underarm point for a length of side seam, mm.
pub(super) fn side_top(person: &Person<'_>, side_length: f64) -> f64 {
    waist_level(person) - side_length
}

/// How far a bust dart ends short of the bust point, mm: 25 + 0.3·(bust − under-bust − 100), from 20 to 70.
fn dart_end(person: &Person<'_>) -> f64 {
    let cup = person.of(Measure::Bust) - person.of(Measure::UnderBust);
    let [least, most] = figures::DART_END;
    (figures::DART_END_BASE + figures::DART_END_GROWTH * (cup - figures::DART_END_CUP))
        .clamp(least, most)
}

impl SideLift {
    /// The side seam and its dart for an underarm level, mm below the nape, with the dart at the side.
    pub(super) fn of(person: &Person<'_>, wish: &BodiceWish, depth: f64) -> Self {
        let length = person.of(Measure::BackWaistLength) - depth;
        let widths = sides::widths(person, wish);
        let (_, direction) = shoulder_line(person);
        let shoulder_level = direction.y * person.of(Measure::ShoulderLength);
        Self::drawn(person, length, &widths, widths.front_take, shoulder_level)
    }

    fn drawn(
        person: &Person<'_>,
        length: f64,
        widths: &Widths,
        take: f64,
        shoulder_level: f64,
    ) -> Self {
        let bust_point = bust_point(person);
        let top = side_top(person, length);
        let below = sides::bust_below_underarm(bust_point.y, top, length);
        let side = sides::side_seam(top, length, below, widths.front_bust, take);
        let [least, most] = figures::SIDE_DART_PLACE.map(|share| share * length);
        let wanted = (bust_point.y + figures::SIDE_DART_SLANT - side.top.y) / side.direction.y;
        let mouth = side.top + side.direction * wanted.clamp(least, most);
        Self {
            side,
            mouth,
            point: short_of(bust_point, mouth, dart_end(person)),
            shoulder_level,
        }
    }

    /// Height of the front armhole, shoulder point to underarm, for an angle of the dart, mm.
    pub(super) fn armhole_height(&self, angle: Angle) -> f64 {
        (lift(self.point, angle) * self.side.top).y - self.shoulder_level
    }
}

/// The point at a distance from the bust point towards a dart's mouth, leaving the dart a length worth sewing.
fn short_of(bust_point: Point, mouth: Point, distance: f64) -> Point {
    let way = mouth - bust_point;
    let length = way.hypot();
    bust_point + way * (distance.min(length - figures::LEAST_DART_LENGTH).max(0.0) / length)
}

/// The turn that lifts the top of the side seam by an angle.
fn lift(point: Point, angle: Angle) -> geometry::Affine {
    curve::turn_about(point, Angle::from_radians(-angle.radians()))
}

/// Neck and shoulder; the neck depth is solved so that back and front neckline together equal half the neck base and ease.
pub(super) fn frame(person: &Person<'_>, wish: &BodiceWish, back: &Back) -> Result<Frame, Finding> {
    let (side_neck, shoulder_direction) = shoulder_line(person);
    let wanted = (person.of(Measure::NeckBase) + wish.ease.neck) / 2.0 - back.neckline;
    let [least, most] = figures::FRONT_NECK_DEPTH;
    let length = |depth: f64| {
        neckline(depth, side_neck, shoulder_direction).map_or(f64::NAN, |line| line.length())
    };
    let neck_depth = solve::bracketed(least, most, 1e-6, |depth| length(depth) - wanted)
        .map_err(|_| no_neck(person))?;
    Ok(Frame {
        side_neck,
        shoulder: side_neck + shoulder_direction * person.of(Measure::ShoulderLength),
        shoulder_direction,
        neckline: neckline(neck_depth, side_neck, shoulder_direction)
            .ok_or_else(|| no_neck(person))?,
        bust_point: bust_point(person),
        waist_level: waist_level(person),
        neck_depth,
    })
}

fn neckline(depth: f64, side_neck: Point, shoulder: Vec2) -> Option<Curve> {
    Curve::smooth(&[
        Knot::toward(Point::new(0.0, depth), Vec2::new(1.0, 0.0)),
        Knot::toward(side_neck, Vec2::new(shoulder.y, -shoulder.x)),
    ])
}

/// Drafts the front with its bust dart at the side, ready to be transferred to where it is wanted.
pub(super) fn draft(
    person: &Person<'_>,
    wish: &BodiceWish,
    back: &Back,
    frame: &Frame,
    witnesses: &Witnesses,
) -> Result<Front, Finding> {
    let widths = &back.widths;
    let lift_for = |take| SideLift::drawn(person, back.side_length, widths, take, frame.shoulder.y);
    let waist_for = |take| waist(frame, &lift_for(take).side, widths);
    let take = sides::exact_take(widths.front_take, widths.front_waist, waist_for);
    let mut dart = lift_for(take);
    let asked = Angle::from_degrees(witnesses.joined.degrees);
    let height = dart.armhole_height(asked);
    let angle = match mouth(person, wish, frame, &dart) {
        None => asked,
        Some(mouth) => {
            let about_bust = same_height(
                &SideLift {
                    point: frame.bust_point,
                    ..dart
                },
                height,
            )
            .unwrap_or(asked);
            dart.point = end_towards(person, wish, frame, mouth);
            shortened_to(about_bust, frame.bust_point, dart.point, mouth)
        }
    };
    let trued = waist_for(take).ok_or_else(|| cannot("waist", "waist"))?;
    let turn = lift(dart.point, angle);
    let armhole = Armhole {
        shoulder: frame.shoulder,
        shoulder_direction: frame.shoulder_direction,
        across: (person.of(Measure::AcrossFront) + wish.ease.across_front) / 2.0,
        levels: figures::ACROSS_FRONT_LEVEL,
        underarm: turn * dart.side.top,
        side_direction: (turn * dart.side.direction.to_point()) - (turn * Point::ORIGIN),
    };
    let (armhole, shortened) = armhole.with_bottom();
    let armhole = armhole
        .curve()
        .ok_or_else(|| cannot("armhole", "across-front"))?;
    let piece = piece(frame, &dart, turn, armhole, trued, widths.front_bust);
    Ok(Front { piece, shortened })
}

/// About where the bust dart opens when it is not wanted at the side.
fn mouth(person: &Person<'_>, wish: &BodiceWish, frame: &Frame, side: &SideLift) -> Option<Point> {
    match wish.bust_dart {
        BustDartAt::Side => None,
        BustDartAt::Waist => Some(Point::new(frame.bust_point.x, frame.waist_level)),
        BustDartAt::Shoulder => Some(frame.side_neck.midpoint(frame.shoulder)),
        BustDartAt::Neck => Some(frame.neckline.point_at(frame.neckline.length() / 2.0)),
        BustDartAt::Armhole => {
            let x = (person.of(Measure::AcrossFront) + wish.ease.across_front) / 2.0;
            Some(Point::new(
                x,
                f64::midpoint(frame.shoulder.y, side.side.top.y),
            ))
        }
    }
}

/// Where the bust dart ends when it opens at a mouth away from the side; one into the waist shares the waist dart's point.
fn end_towards(person: &Person<'_>, wish: &BodiceWish, frame: &Frame, mouth: Point) -> Point {
    match wish.bust_dart {
        BustDartAt::Waist => frame.bust_point + Vec2::new(0.0, figures::WAIST_DART_END),
        _ => short_of(frame.bust_point, mouth, dart_end(person)),
    }
}

/// A dart is moved about the bust point and then ended short of it with its mouth as wide as before: the angle at its end.
/// At the shoulder this gives the intake of published drafts, which turning about the end alone misses by a quarter.
fn shortened_to(about_bust: Angle, bust_point: Point, end: Point, mouth: Point) -> Angle {
    let half = (mouth - bust_point).hypot() * math::sin(about_bust.radians() / 2.0);
    Angle::from_radians(2.0 * math::asin((half / (mouth - end).hypot()).clamp(0.0, 0.9)))
}

/// The angle about the dart's point that lifts the underarm to the same armhole height, mm.
fn same_height(dart: &SideLift, height: f64) -> Option<Angle> {
    let off = |degrees: f64| dart.armhole_height(Angle::from_degrees(degrees)) - height;
    solve::bracketed(0.0, figures::MOST_BUST_DART + 10.0, 1e-7, off)
        .ok()
        .map(Angle::from_degrees)
}

fn waist(frame: &Frame, side: &SideSeam, widths: &Widths) -> Option<Trued> {
    let ends = Ends {
        centre: Point::new(0.0, frame.waist_level),
        centre_direction: Vec2::new(1.0, 0.0),
        side: side.bottom,
        side_direction: Vec2::new(side.direction.y, -side.direction.x),
    };
    let (count, each) = sides::shared(widths.front_intake, figures::MOST_WAIST_DART);
    let darts: Vec<DartPlan> = (0..count)
        .map(|index| waist_dart(frame, side, index, count, each))
        .collect();
    back::trued(&ends, &darts, widths.front_waist)
}

/// The first waist dart lies below the bust point; more share the way to the side seam and end lower.
fn waist_dart(frame: &Frame, side: &SideSeam, index: usize, count: usize, intake: f64) -> DartPlan {
    let step = (side.bottom.x - frame.bust_point.x) / count as f64;
    let down = figures::WAIST_DART_END * (1.0 + index as f64);
    let point = frame.bust_point + Vec2::new(step * index as f64, down);
    let length = (frame.waist_level - point.y).max(20.0);
    let name = back::numbered("waist-dart", index, count);
    DartPlan {
        name,
        point,
        axis: Vec2::new(0.0, 1.0),
        angle: sides::dart_angle(intake, length),
    }
}

/// The bust line, in two runs where the dart's line crosses it.
fn bust_line(frame: &Frame, dart: &SideLift, turn: geometry::Affine, width: f64) -> InnerLine {
    let level = frame
        .bust_point
        .y
        .clamp(dart.side.top.y, dart.side.bottom.y);
    let (from, to) = (dart.point, dart.mouth);
    let cut = if from.y < level && to.y > level {
        from.x + (to.x - from.x) * (level - from.y) / (to.y - from.y)
    } else {
        from.x
    };
    let (centre, cut, side) = (
        Point::new(0.0, level),
        Point::new(cut, level),
        Point::new(width, level),
    );
    InnerLine {
        name: "bust".into(),
        runs: vec![
            Curve::line(centre, cut),
            Curve::line(cut, side).transformed(turn),
        ],
    }
}

fn piece(
    frame: &Frame,
    dart: &SideLift,
    turn: geometry::Affine,
    armhole: Curve,
    trued: Trued,
    width: f64,
) -> Piece {
    let seam = |name: &str, run| Edge::new(name, EdgeKind::Seam, run);
    let (top, mouth) = (turn * dart.side.top, turn * dart.mouth);
    let mut side = seam("side", Curve::line(top, mouth));
    side.runs.push(Curve::line(dart.mouth, dart.side.bottom));
    let mut waist = seam("waist", trued.runs[0].clone());
    waist.runs = trued.runs;
    let neck = frame.neckline.start();
    let bust_dart = Dart {
        name: "bust-dart".into(),
        edge: "side".into(),
        gap: 0,
        point: dart.point,
        aim: frame.bust_point,
        pressed: Pressed::After,
    };
    let mut darts = vec![bust_dart];
    darts.extend(back::waist_darts(&trued.darts, |plan| {
        if plan.point.x == frame.bust_point.x {
            frame.bust_point
        } else {
            plan.point
        }
    }));
    Piece {
        name: "front".into(),
        edges: vec![
            Edge::new("neckline", EdgeKind::Finished, frame.neckline.clone()),
            seam("shoulder", Curve::line(frame.side_neck, frame.shoulder)),
            Edge::new("armhole", EdgeKind::Seam, armhole),
            side,
            waist,
            Edge::new(
                "centre",
                EdgeKind::Fold,
                Curve::line(Point::new(0.0, frame.waist_level), neck),
            ),
        ],
        darts,
        marks: vec![Mark::Point {
            name: "bust-point".into(),
            at: frame.bust_point,
        }],
        lines: vec![bust_line(frame, dart, turn, width)],
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: 1,
            laid: Laid::OnFold("centre".into()),
        },
        peaked: Vec::new(),
        asked: None,
    }
}

fn cannot(what: &str, measure: &str) -> Finding {
    Finding::error(
        "front-cannot-be-drawn",
        format!("the {what} of the front cannot be drawn from these measures"),
    )
    .at(Place::Measure(measure.into()))
    .cure(format!("tape the {} again", measure.replace('-', " ")))
}

fn no_neck(person: &Person<'_>) -> Finding {
    Finding::error(
        "no-neckline",
        format!(
            "no front neckline goes round a neck base of {:.0} mm",
            person.of(Measure::NeckBase)
        ),
    )
    .at(Place::Measure("neck-base".into()))
    .cure("tape the neck base again, over the nape, the sides of the neck and the pit of the neck")
}
