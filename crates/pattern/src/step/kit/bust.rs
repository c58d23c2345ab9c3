//! Volume for the bust: the front below the bust dart goes out, the dart grows, the waist is drawn in again.
//!
//! The part between the bust dart and the armhole (*upper*) turns by the angle that the darts gain in all; the part between
//! the bust dart and the waist (*lower*) goes out by the width. Invariants: side, armhole and waist keep their lengths as
//! sewn; neckline, shoulder and centre line stay bit for bit; both legs of the dart are of one length.

use document::{Finding, Place as Spot};
use geometry::curve::angle_between;
use geometry::{Affine, Curve, Point, Tolerance, Vec2, solve};

use super::bend::{self, Ends, turned};
use super::bust_waist::{self, Change, LEAST_ANGLE, NO_ANGLE, Refused, turn_of};
use super::frame::Frame;
use super::gap::{self, Gap};
use super::true_up::Keep;
use super::{fill, find};
use crate::name::free_name;
use crate::piece::{Dart, Edge, Mark, Piece, Pressed};

/// A bust dart keeps this length at least, mm; the block's own bound.
const LEAST_LENGTH: f64 = 45.0;
/// How far short of the bust point a bust dart ends: its growth with the girth, and its bounds, mm; the block's own rule.
const END_GROWTH: f64 = 0.3;
const END_BOUNDS: [f64; 2] = [20.0, 70.0];
/// A waist dart ends so far below the bust point, mm; the block's own figure.
const WAIST_DART_END: f64 = 25.0;
/// How far aside of the bust point a waist dart may lie and still be the one below it, mm.
const BELOW: f64 = 30.0;
/// A side dart that has to be made anew slants down by so much, mm; the block's own figure.
const SLANT: f64 = 18.0;
/// Between which parts of the side seam below the underarm it opens; the block's own figures.
const SIDE_PLACE: [f64; 2] = [0.34, 0.72];

/// Where the volume goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Into {
    /// All of it into the side dart.
    Side,
    /// All of it into the waist dart.
    Waist,
    /// Width into the waist dart, length into the side dart.
    Both,
}

/// What is asked.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Volume {
    /// Width at the bust level of the half, mm.
    pub by: f64,
    /// What the darts gain beside what the width needs, radians.
    pub turn: f64,
    /// Where it goes.
    pub into: Into,
}

/// Numbers of the edges and names of the darts that are changed.
struct Parts {
    armhole: usize,
    side: usize,
    waist: usize,
    bust_dart: String,
    waist_dart: Option<String>,
    point: Point,
}

/// Gives a front its volume; `side_dart` opens at the side seam, or is made there where there is none.
pub fn give(piece: &mut Piece, side_dart: Option<&str>, volume: Volume) -> Result<(), Finding> {
    let point = piece
        .point("bust-point")
        .ok_or_else(|| no_bust_point(piece))?;
    let frame = Frame::of(piece);
    let mut parts = parts(piece, side_dart, point)?;
    parts.waist_dart = match volume.into {
        Into::Side => below(piece, &parts, frame),
        Into::Waist | Into::Both => Some(dart_below(piece, &parts, frame)?),
    };
    let before = piece.clone();
    let dart = before
        .dart(&parts.bust_dart)
        .ok_or_else(|| no_bust_point(piece))?;
    let lower = lower_move(&before, &parts, frame, volume).ok_or_else(|| too_much(piece))?;
    let angle = before.legs(dart).turn().radians();
    let gained = match volume.into {
        Into::Waist => 0.0,
        Into::Both => volume.turn,
        Into::Side => volume.turn + turn_of(lower),
    };
    let left = angle + gained;
    if gained != 0.0 && left.abs() > NO_ANGLE && left < LEAST_ANGLE.to_radians() {
        return Err(vanishes(piece, &parts.bust_dart));
    }
    let mouth = lower * before.legs(dart).after;
    let end = dart_point(&before.legs(dart), dart, (point, mouth), volume.by);
    let upper = turned(end, -left) * lower * turned(dart.point, angle);
    move_side(piece, &parts, (upper, lower), end);
    draw_armhole(piece, &parts, upper)?;
    let change = Change {
        edge: parts.waist,
        dart: parts.waist_dart.as_deref(),
        foot: lower,
        solved: volume.into != Into::Side,
    };
    bust_waist::draw(piece, &before, change).map_err(|why| match why {
        Refused::NoCurve => too_much(piece),
        Refused::Vanishes => vanishes(piece, change.dart.unwrap_or("waist dart")),
    })?;
    move_inside(piece, &before, &parts, (frame, volume.by), (upper, lower));
    let darts = [Some(&parts.bust_dart), parts.waist_dart.as_ref()];
    for dart in darts.into_iter().flatten() {
        close_if_empty(piece, dart);
    }
    meet(piece, &parts);
    Ok(())
}

fn parts(piece: &mut Piece, dart: Option<&str>, point: Point) -> Result<Parts, Finding> {
    let count = piece.edges.len();
    let armhole = named(piece, &["armhole"])?;
    let side = named(piece, &["side"])?;
    let waist = named(piece, &["waist", "hem"])?;
    if (armhole + 1) % count != side || (side + 1) % count != waist {
        return Err(not_a_half(piece));
    }
    let bust_dart = match dart {
        Some(name) => name.into(),
        None => empty_side_dart(piece, side, point)?,
    };
    Ok(Parts {
        armhole,
        side,
        waist,
        bust_dart,
        waist_dart: None,
        point,
    })
}

fn named(piece: &Piece, names: &[&str]) -> Result<usize, Finding> {
    let found = names.iter().find_map(|name| {
        let mut edges = piece.edges_of(name);
        let first = edges.next()?;
        piece
            .edge_index(&first.name)
            .filter(|_| edges.next().is_none())
    });
    found.ok_or_else(|| {
        let known: Vec<&str> = piece.edges.iter().map(|edge| edge.name.as_str()).collect();
        let message = format!(
            "the {} has no {} in one part",
            piece.name,
            names.join(" or ")
        );
        find::not_there("edge-not-there", message, names[0], &known)
            .at(Spot::Piece(piece.name.clone()))
            .cure("give the bust its volume before the piece is cut")
    })
}

/// A dart without angle at the side, to be opened.
fn empty_side_dart(piece: &mut Piece, side: usize, point: Point) -> Result<String, Finding> {
    let frame = Frame::of(piece);
    let along = side_mouth(&piece.edges[side], point, frame);
    let mouth = piece.edges[side].place_at(along).0;
    let way = mouth - point;
    let end = point + way * (END_BOUNDS[0] / way.hypot()).min(1.0);
    empty_dart(piece, "bust-dart", (side, along), (end, point))
}

/// Straight out and a little down from the bust point, within the middle of the side.
fn side_mouth(side: &Edge, point: Point, frame: Frame) -> f64 {
    let [least, most] = SIDE_PLACE.map(|share| share * side.length());
    let along = towards(side, point, frame.out * 120.0 + frame.down * SLANT);
    along.unwrap_or(least).clamp(least, most)
}

fn empty_dart(
    piece: &mut Piece,
    name: &str,
    (edge, along): (usize, f64),
    (point, aim): (Point, Point),
) -> Result<String, Finding> {
    let gap = gap::open_inside(piece, edge, along, &mut [])?;
    let taken = piece.darts.iter().map(|dart| dart.name.as_str());
    let name = free_name(name, taken);
    let dart = Dart {
        name: name.clone(),
        edge: String::new(),
        gap: 0,
        point,
        aim,
        pressed: Pressed::After,
    };
    fill::dart(piece, gap, dart);
    Ok(name)
}

/// Length along an edge at which a ray meets it.
fn towards(edge: &Edge, from: Point, way: Vec2) -> Option<f64> {
    let mut before = 0.0;
    for run in &edge.runs {
        let crossings = run.crossings_with_ray(from, way, Tolerance::PATTERN);
        if let Some(crossing) = crossings.first() {
            return Some(before + crossing.along);
        }
        before += run.length();
    }
    None
}

/// The dart of the waist that lies below the bust point.
fn below(piece: &Piece, parts: &Parts, frame: Frame) -> Option<String> {
    let aside = |dart: &&Dart| (dart.point - parts.point).dot(frame.out).abs();
    piece
        .darts_on(&piece.edges[parts.waist].name)
        .filter(|dart| aside(dart) < BELOW)
        .min_by(|a, b| aside(a).total_cmp(&aside(b)))
        .map(|dart| dart.name.clone())
}

fn dart_below(piece: &mut Piece, parts: &Parts, frame: Frame) -> Result<String, Finding> {
    if let Some(name) = below(piece, parts, frame) {
        return Ok(name);
    }
    let along = towards(&piece.edges[parts.waist], parts.point, frame.down)
        .ok_or_else(|| not_a_half(piece))?;
    let end = parts.point + frame.down * WAIST_DART_END;
    empty_dart(
        piece,
        "waist-dart",
        (parts.waist, along),
        (end, parts.point),
    )
}

/// How the lower part moves: out by the width, then turned back to the old waist, or on into the waist dart.
fn lower_move(piece: &Piece, parts: &Parts, frame: Frame, volume: Volume) -> Option<Affine> {
    let out = Affine::translate(frame.out * volume.by);
    // Half way, so that the same amount less turns everything back.
    let pivot = parts.point + frame.out * (volume.by / 2.0);
    match volume.into {
        Into::Both => Some(out),
        Into::Waist => Some(turned(pivot, -volume.turn) * out),
        Into::Side => {
            let depth = frame.level(piece.edges[parts.waist].end()) - frame.level(parts.point);
            let foot = parts.point + frame.down * depth;
            let off = |turn: f64| (turned(pivot, turn) * out * foot - foot).dot(frame.out);
            let turn = solve::bracketed(-0.7, 0.7, 1e-12, off).ok()?;
            Some(turned(pivot, turn) * out)
        }
    }
}

/// Where the bust dart ends: at its old angle to the lower leg, farther from the bust point for a larger bust.
fn dart_point(
    legs: &crate::piece::Legs,
    dart: &Dart,
    (point, mouth): (Point, Point),
    by: f64,
) -> Point {
    let old = dart.point - point;
    let far = old.hypot();
    let room = ((mouth - point).hypot() - LEAST_LENGTH).max(0.0);
    let [least, most] = [END_BOUNDS[0].min(far), END_BOUNDS[1].max(far)];
    let wanted = if far < 1.0 {
        far
    } else {
        (far + 2.0 * by * END_GROWTH).clamp(least, most).min(room)
    };
    if far < 1e-9 {
        return point;
    }
    let aside = angle_between(legs.after - point, old).radians();
    let way = (mouth - point) / (mouth - point).hypot();
    point + (turned(Point::ORIGIN, aside) * (way * wanted).to_point()).to_vec2()
}

fn move_side(piece: &mut Piece, parts: &Parts, (upper, lower): (Affine, Affine), end: Point) {
    let Some(gap) = Gap::of_dart(piece, &parts.bust_dart) else {
        return;
    };
    let name = piece.edges[parts.side].name.clone();
    for (index, run) in piece.edges[parts.side].runs.iter_mut().enumerate() {
        *run = run.transformed(if index <= gap.run { upper } else { lower });
    }
    for dart in piece.darts.iter_mut().filter(|dart| dart.edge == name) {
        let by = if dart.gap < gap.run { upper } else { lower };
        if dart.name == parts.bust_dart {
            dart.point = end;
        } else {
            dart.point = by * dart.point;
            dart.aim = by * dart.aim;
        }
    }
}

fn draw_armhole(piece: &mut Piece, parts: &Parts, upper: Affine) -> Result<(), Finding> {
    let length = piece.edges[parts.armhole].length();
    if bend::bend_edge(
        piece,
        parts.armhole,
        Ends::last(upper),
        Keep::Length(length),
    ) {
        Ok(())
    } else {
        Err(too_much(piece))
    }
}

/// Lines and points inside go with the part on which they lie; lines across the bust point are prolonged there.
fn move_inside(
    piece: &mut Piece,
    before: &Piece,
    parts: &Parts,
    (frame, by): (Frame, f64),
    (upper, lower): (Affine, Affine),
) {
    let Some(dart) = before.dart(&parts.bust_dart) else {
        return;
    };
    let legs = before.legs(dart);
    let axis = legs.before.midpoint(legs.after) - parts.point;
    let beyond = |at: Point| frame.across(at) > frame.across(parts.point) + 1e-6;
    let part = |at: Point| {
        if axis.cross(at - parts.point) < 0.0 {
            upper
        } else {
            lower
        }
    };
    for mark in &mut piece.marks {
        if let Mark::Point { at, .. } = mark
            && beyond(*at)
        {
            *at = part(*at) * *at;
        }
    }
    for line in &mut piece.lines {
        for run in &mut line.runs {
            if beyond(run.start()) && beyond(run.end()) {
                *run = run.transformed(part(run.point_at(run.length() / 2.0)));
            } else if beyond(run.end()) {
                *run = prolonged(run, parts.point, frame, by);
            }
        }
    }
}

/// A line that crosses the grain line of the bust point goes out beyond it by the width.
fn prolonged(run: &Curve, point: Point, frame: Frame, by: f64) -> Curve {
    let across = run.crossings_with_line(point, frame.down, Tolerance::PATTERN);
    let out = Affine::translate(frame.out * by);
    let Some((head, tail)) = across.first().and_then(|cut| run.split_at(cut.along)) else {
        return run.clone();
    };
    let tail = tail.transformed(out);
    if (tail.start() - head.end()).dot(head.end_direction()) < 0.0 {
        return Curve::line(run.start(), tail.end());
    }
    fill::joined(
        &fill::joined(&head, &Curve::line(head.end(), tail.start())),
        &tail,
    )
}

/// A dart that has no angle goes.
fn close_if_empty(piece: &mut Piece, name: &str) {
    let Some(gap) = Gap::of_dart(piece, name) else {
        return;
    };
    let empty = piece
        .dart(name)
        .is_some_and(|dart| piece.legs(dart).intake() < 1e-3);
    if empty {
        piece.darts.retain(|dart| dart.name != name);
        fill::join(piece, gap);
    }
}

/// The corners of the side are put exactly on each other.
fn meet(piece: &mut Piece, parts: &Parts) {
    let (top, foot) = (
        piece.edges[parts.side].start(),
        piece.edges[parts.side].end(),
    );
    let (armhole, waist) = (
        piece.edges[parts.armhole].start(),
        piece.edges[parts.waist].end(),
    );
    bend::set_ends(piece, parts.armhole, armhole, top);
    bend::set_ends(piece, parts.waist, foot, waist);
}

fn no_bust_point(piece: &Piece) -> Finding {
    let message = format!("the {} has no bust point", piece.name);
    find::not_there("bust-point-not-there", message, "bust-point", &[])
        .at(Spot::Piece(piece.name.clone()))
        .cure("name the front of a bodice")
}

fn not_a_half(piece: &Piece) -> Finding {
    Finding::error(
        "piece-not-half-front",
        format!(
            "the {} is not the half of a front with armhole, side and waist after each other",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("give the bust its volume before the piece is cut or mirrored")
}

fn too_much(piece: &Piece) -> Finding {
    Finding::error(
        "bust-cannot-change-so-far",
        format!(
            "the {} cannot be drawn with so much more or less for the bust",
            piece.name
        ),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less")
}

fn vanishes(piece: &Piece, dart: &str) -> Finding {
    Finding::error(
        "dart-would-vanish",
        format!("the {dart} of the {} has not so much to give", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure("ask for less, or take it from another dart")
}

/// Whether a dart aims at the bust point from elsewhere than the waist.
pub fn is_bust_dart(piece: &Piece, dart: &Dart) -> bool {
    let aims = piece
        .point("bust-point")
        .is_some_and(|point| (dart.aim - point).hypot() < 1.0);
    aims && !crate::name::answers_to(&dart.edge, "waist")
}

/// Where a dart may open at the side: straight out and a little down from the bust point.
pub fn side_place(piece: &Piece) -> Option<(String, f64)> {
    let frame = Frame::of(piece);
    let point = piece.point("bust-point")?;
    let side = piece.edges_of("side").next()?;
    Some((side.name.clone(), side_mouth(side, point, frame)))
}
