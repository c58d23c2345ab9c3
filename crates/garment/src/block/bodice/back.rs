//! The back of the bodice: nape at the origin, all of it frame.

use body::Measure;
use document::{Finding, Place};
use geometry::{Angle, Curve, Knot, Point, Vec2, curve, solve};
use pattern::{Cut, Dart, Edge, EdgeKind, InnerLine, Laid, Layer, Piece, Pressed};

use super::super::figures;
use super::super::person::Person;
use super::super::waistline::{self, DartPlan, Ends};
use super::armhole::Armhole;
use super::sides::{self, SideSeam, Widths};
use super::{BodiceWish, front};

/// The least length of a side seam, mm.
pub(super) const LEAST_SIDE: f64 = 60.0;

/// A drafted back and what the front needs of it.
pub(super) struct Back {
    pub(super) piece: Piece,
    /// Length of the neckline, mm.
    pub(super) neckline: f64,
    /// Length of the side seam, mm.
    pub(super) side_length: f64,
    pub(super) widths: Widths,
    /// By how much half the across line was shortened to leave the armhole a bottom, mm.
    pub(super) shortened: f64,
}

/// Neck, shoulder and the lines that depend on nothing else.
struct Frame {
    side_neck: Point,
    shoulder: Point,
    shoulder_direction: Vec2,
    neckline: Curve,
}

/// Height of the back armhole for an underarm level, mm, without drafting the rest.
pub(super) fn armhole_height(person: &Person<'_>, depth: f64) -> f64 {
    let (side_neck, direction) = shoulder_line(person);
    depth
        - (side_neck + direction * (person.of(Measure::ShoulderLength) + figures::SHOULDER_EASE)).y
}

/// Drafts the back for an underarm level, mm below the nape.
pub(super) fn draft(person: &Person<'_>, wish: &BodiceWish, depth: f64) -> Result<Back, Finding> {
    let frame = frame(person).ok_or_else(|| cannot("neckline", "neck-base"))?;
    let widths = sides::widths(person, wish);
    let waist_level = person.of(Measure::BackWaistLength);
    let side_length = waist_level - depth;
    if side_length < LEAST_SIDE {
        return Err(no_side(side_length));
    }
    let bust_below = sides::bust_below_underarm(
        front::bust_level(person),
        front::side_top(person, side_length),
        side_length,
    );
    let bust_level = depth + bust_below;
    let centre = centre_line(waist_level, depth, widths.centre_back_take);
    let at_bust = x_at_level(&centre, bust_level);
    let side_for = |take| {
        sides::side_seam(
            depth,
            side_length,
            bust_below,
            at_bust + widths.back_bust,
            take,
        )
    };
    let waist_for = |take| waist(&centre, &side_for(take), &widths, depth);
    let take = sides::exact_take(widths.back_take, widths.back_waist, waist_for);
    let side = side_for(take);
    let armhole = Armhole {
        shoulder: frame.shoulder,
        shoulder_direction: frame.shoulder_direction,
        across: (person.of(Measure::AcrossBack) + wish.ease.across_back) / 2.0,
        levels: figures::ACROSS_BACK_LEVEL,
        underarm: side.top,
        side_direction: side.direction,
    };
    let (armhole, shortened) = armhole.with_bottom();
    let armhole = armhole
        .curve()
        .ok_or_else(|| cannot("armhole", "across-back"))?;
    let Trued { runs: waist, darts } = waist_for(take).ok_or_else(|| cannot("waist", "waist"))?;
    let bust_line = Curve::line(
        Point::new(at_bust, bust_level),
        Point::new(at_bust + widths.back_bust, bust_level),
    );
    let piece = piece(
        &frame,
        armhole,
        &side,
        waist,
        &darts,
        &centre,
        bust_line,
        wish.back_seam,
    );
    let neckline = piece.edge("neckline").map_or(0.0, Edge::length);
    Ok(Back {
        piece,
        neckline,
        side_length,
        widths,
        shortened,
    })
}

fn shoulder_line(person: &Person<'_>) -> (Point, Vec2) {
    let neck = person.of(Measure::NeckBase);
    let width = neck * figures::NECK_WIDTH_SHARE - figures::BACK_NECK_WIDTH_LESS;
    let slope =
        Angle::from_degrees(person.of(Measure::ShoulderSlope) - figures::SHOULDER_SLOPE_SHIFT);
    (
        Point::new(width, -neck * figures::BACK_NECK_RISE_SHARE),
        curve::unit(slope),
    )
}

fn frame(person: &Person<'_>) -> Option<Frame> {
    let (side_neck, shoulder_direction) = shoulder_line(person);
    let shoulder = side_neck
        + shoulder_direction * (person.of(Measure::ShoulderLength) + figures::SHOULDER_EASE);
    let neckline = Curve::smooth(&[
        Knot::toward(Point::ORIGIN, Vec2::new(1.0, 0.0)),
        Knot::toward(
            side_neck,
            Vec2::new(shoulder_direction.y, -shoulder_direction.x),
        ),
    ])?;
    Some(Frame {
        side_neck,
        shoulder,
        shoulder_direction,
        neckline,
    })
}

/// CB from the nape to the waist: straight to half way down the armhole, then taking in.
fn centre_line(waist_level: f64, depth: f64, take: f64) -> Curve {
    let bottom = Point::new(take, waist_level);
    let straight = Curve::line(Point::ORIGIN, bottom);
    if take < 0.01 {
        return straight;
    }
    let turn = Point::new(0.0, depth / 2.0);
    let down = Vec2::new(0.0, 1.0);
    let lower = Curve::smooth(&[
        Knot::toward(turn, down),
        Knot::toward(bottom, (bottom - turn) + Vec2::new(take, 0.0)),
    ]);
    lower
        .and_then(|lower| Curve::line(Point::ORIGIN, turn).then(&lower))
        .unwrap_or(straight)
}

/// Where a line that runs down crosses a level.
pub(super) fn x_at_level(line: &Curve, level: f64) -> f64 {
    let along = solve::bracketed(0.0, line.length(), 1e-6, |along| {
        line.point_at(along).y - level
    });
    along.map_or(line.end().x, |along| line.point_at(along).x)
}

/// The waist from side to centre, trued, and its darts.
fn waist(centre: &Curve, side: &SideSeam, widths: &Widths, depth: f64) -> Option<Trued> {
    let down = centre.end_direction();
    let ends = Ends {
        centre: centre.end(),
        centre_direction: Vec2::new(down.y, -down.x),
        side: side.bottom,
        side_direction: Vec2::new(side.direction.y, -side.direction.x),
    };
    let (count, each) = sides::shared(widths.back_intake, figures::MOST_WAIST_DART);
    let top = depth + figures::BACK_DART_END;
    let darts: Vec<DartPlan> = (0..count)
        .map(|index| {
            // One dart stands at half the back waist, more of them at even distances.
            let x = centre.end().x
                + (side.bottom.x - centre.end().x) * (index as f64 + 1.0) / (count as f64 + 1.0);
            DartPlan {
                name: numbered("waist-dart", index, count),
                point: Point::new(x, top),
                axis: Vec2::new(0.0, 1.0),
                angle: sides::dart_angle(each, centre.end().y - top),
            }
        })
        .collect();
    trued(&ends, &darts, widths.back_waist)
}

/// A waistline from side to centre, and the darts with the angles that make it as long as it must be.
pub(super) struct Trued {
    pub(super) runs: Vec<Curve>,
    pub(super) darts: Vec<DartPlan>,
}

/// Trues a waistline to a length, mm; without darts its length is what its ends make it.
pub(super) fn trued(ends: &Ends, darts: &[DartPlan], length: f64) -> Option<Trued> {
    if darts.is_empty() {
        return Some(Trued {
            runs: vec![waistline::closed(ends, darts).reversed()],
            darts: Vec::new(),
        });
    }
    let darts = waistline::fitted(ends, darts, length)?;
    let runs = waistline::opened(&waistline::closed(ends, &darts), &darts)?;
    Some(Trued {
        runs: waistline::backwards(&runs),
        darts,
    })
}

pub(super) fn numbered(name: &str, index: usize, count: usize) -> String {
    if count == 1 {
        name.into()
    } else {
        format!("{name}-{}", index + 1)
    }
}

/// Darts of a waist that runs from side to centre: the last planned comes first.
pub(super) fn waist_darts(darts: &[DartPlan], aims: impl Fn(&DartPlan) -> Point) -> Vec<Dart> {
    let backwards = darts.iter().rev().enumerate();
    backwards
        .map(|(gap, plan)| Dart {
            name: plan.name.clone(),
            edge: "waist".into(),
            gap,
            point: plan.point,
            aim: aims(plan),
            pressed: Pressed::After,
        })
        .collect()
}

#[expect(clippy::too_many_arguments, reason = "each is one line of the drawing")]
fn piece(
    frame: &Frame,
    armhole: Curve,
    side: &SideSeam,
    waist: Vec<Curve>,
    darts: &[DartPlan],
    centre: &Curve,
    bust_line: Curve,
    back_seam: bool,
) -> Piece {
    let seam = |name: &str, run| Edge::new(name, EdgeKind::Seam, run);
    let mut waist_edge = seam("waist", waist[0].clone());
    waist_edge.runs = waist;
    let kind = if back_seam {
        EdgeKind::Opening
    } else {
        EdgeKind::Fold
    };
    Piece {
        name: "back".into(),
        edges: vec![
            Edge::new("neckline", EdgeKind::Finished, frame.neckline.clone()),
            seam("shoulder", Curve::line(frame.side_neck, frame.shoulder)),
            Edge::new("armhole", EdgeKind::Seam, armhole),
            seam("side", Curve::line(side.top, side.bottom)),
            waist_edge,
            Edge::new("centre", kind, centre.reversed()),
        ],
        darts: waist_darts(darts, |plan| plan.point),
        marks: Vec::new(),
        lines: vec![InnerLine {
            name: "bust".into(),
            runs: vec![bust_line],
        }],
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: Layer::Shell,
            count: if back_seam { 2 } else { 1 },
            laid: if back_seam {
                Laid::Pair
            } else {
                Laid::OnFold("centre".into())
            },
        },
        peaked: Vec::new(),
        asked: None,
    }
}

fn cannot(what: &str, measure: &str) -> Finding {
    Finding::error(
        "back-cannot-be-drawn",
        format!("the {what} of the back cannot be drawn from these measures"),
    )
    .at(Place::Measure(measure.into()))
    .cure(format!("tape the {} again", measure.replace('-', " ")))
}

fn no_side(length: f64) -> Finding {
    Finding::error(
        "no-side-seam",
        format!("the side seam would be {length:.0} mm long"),
    )
    .at(Place::Measure("back-waist-length".into()))
    .at(Place::Measure("scye-depth".into()))
    .allowed(format!(
        "at least {LEAST_SIDE:.0} mm between the underarm and the waist"
    ))
    .cure("tape the back waist length and the scye depth again")
}
