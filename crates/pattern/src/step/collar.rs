//! Makes a collar for a neckline, and the seam that joins it.
//!
//! **What it does.** Draws half a collar, to be cut on the fold, as long as the half neckline as sewn. A *stand* is a band that rises
//! towards the front, so that it lies close to the neck. A *flat* collar is drawn over back and front laid together at the
//! shoulder, overlapping there by a little so that it rolls.
//! **When it is used.** Name the necklines in order from CB to CF.
//! **Example.** `collar edge="back.neckline, front.neckline" kind="flat" height="70 mm"`.
//! **What can go wrong.** The neckline is sewn already; a flat collar is so high that it folds over itself.
//!
//! Invariants: the collar's neckline is as long as the garment's; it meets CB square; nothing that was drawn moves.

use document::{Finding, Place as Spot};
use geometry::curve::{angle_between, mirror_in, turn_about, unit};
use geometry::{Affine, Angle, Curve, Knot, Point, Vec2, solve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fill::joined;
use super::kit::new_piece::{self, corners, piece_name, seam_allowance, seam_name};
use super::kit::{find, notches, walk};
use crate::piece::{Cut, Edge, EdgeKind, Laid, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const STEP: StepKind = StepKind {
    name: "collar",
    group: Group::Build,
    summary: "makes a collar for a neckline",
    manual: include_str!("collar.rs"),
    parameters: &[
        Parameter::needed("edge", Kind::Edge, "necklines in order from CB to CF").many(),
        Parameter::usually(
            "kind",
            Kind::Choice(&["stand", "flat"]),
            Usual::Word("stand"),
            "how it lies",
        ),
        Parameter::needed(
            "height",
            Kind::Length(10.0, 200.0),
            "how high or wide it is",
        ),
        Parameter::usually(
            "rise",
            Kind::Length(0.0, 60.0),
            Usual::Length(15.0),
            "how far a stand rises towards CF",
        ),
        Parameter::usually(
            "overlap",
            Kind::Length(0.0, 60.0),
            Usual::Length(12.0),
            "how far the shoulders overlap under a flat collar, at their outer ends",
        ),
        Parameter::usually(
            "name",
            Kind::Text,
            Usual::Word("collar"),
            "name of the piece",
        ),
    ],
    amount: Some("height"),
    apply: collar,
};

fn collar(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let necks = necks(pattern, arguments)?;
    let height = arguments.mm("height")?;
    let path: Vec<Stretch> = necks.iter().map(|neck| neck.stretch.clone()).collect();
    let length = pattern.side_length(&path);
    let blame = |finding| arguments.blame("edge", finding);
    let lines = if arguments.word("kind")? == "flat" {
        flat(pattern, &necks, arguments.mm("overlap")?, height).map_err(blame)?
    } else {
        stand(length, arguments.mm("rise")?, height).ok_or_else(|| blame(cannot()))?
    };
    let first = &pattern.pieces[necks[0].piece];
    let name = piece_name(pattern, arguments.word("name")?);
    let piece = piece(&name, lines, first);
    let mut changed = pattern.clone();
    for neck in &necks {
        new_piece::sew(&mut changed.pieces[neck.piece], neck.edge);
    }
    let outer = piece.edges[2].runs[0].clone();
    changed.pieces.push(piece);
    let seam = Seam {
        name: seam_name(pattern, &name),
        held: path,
        worked: vec![Stretch::forwards(&name, "neckline")],
        fullness: Fullness::None,
        runs_on: [false, false],
    };
    mark_shoulder(&mut changed, &seam, &name);
    changed.seams.push(seam);
    let words = format!(
        "made a {} {name} {height:.0} mm high for a neckline of {length:.1} mm in each half",
        arguments.word("kind")?
    );
    Ok(Done {
        lines: vec![TraceLine::new(&name, Trace::Redrawn, outer)],
        words,
        pattern: changed,
    })
}

/// A neckline: numbers of its piece and edge, and how it is walked from CB.
struct Neck {
    piece: usize,
    edge: usize,
    stretch: Stretch,
}

/// The first is walked from its centre line, each further one from where the one before ended.
fn necks(pattern: &Pattern, arguments: &Arguments) -> Result<Vec<Neck>, Finding> {
    let mut found: Vec<Neck> = Vec::new();
    for named in arguments.names_of("edge") {
        let blame = |finding| arguments.blame("edge", finding);
        let (piece, edge) = find::edge(pattern, named).map_err(blame)?;
        let owner = &pattern.pieces[piece];
        let count = owner.edges.len();
        let name = owner.edges[edge].name.clone();
        if walk::is_sewn(pattern, &owner.name, &name) {
            return Err(blame(sewn(owner, &name)));
        }
        let centre = super::kit::frame::centre(owner);
        let ends_at_centre = centre == Some((edge + 1) % count);
        let stretch = Stretch {
            piece: owner.name.clone(),
            edge: name,
            backwards: ends_at_centre == found.is_empty(),
        };
        found.push(Neck {
            piece,
            edge,
            stretch,
        });
    }
    Ok(found)
}

/// The lines of half a collar: along the neck from CB to CF, up the front, and the outer edge back to CB.
struct Lines {
    neck: Curve,
    outer: Curve,
}

/// A band that lies straight at CB and rises evenly towards CF.
fn stand(length: f64, rise: f64, height: f64) -> Option<Lines> {
    let neck_of = |width: f64| {
        let end = Point::new(width, -rise);
        // The end of an arc that starts level leaves it at twice the angle of its chord.
        let chord = angle_between(Vec2::new(1.0, 0.0), end.to_vec2()).radians();
        let arrives = unit(Angle::from_radians(2.0 * chord));
        Curve::smooth(&[
            Knot::toward(Point::ORIGIN, Vec2::new(1.0, 0.0)),
            Knot::toward(end, arrives),
        ])
    };
    let off = |width: f64| neck_of(width).map_or(f64::NAN, |neck| neck.length() - length);
    let width = solve::bracketed(length * 0.5, length, 1e-9, off).or_else(|missing| {
        // A stand without rise is as long as it is wide.
        if rise < 1e-9 {
            Ok(length)
        } else {
            Err(missing)
        }
    });
    let neck = neck_of(width.ok()?)?;
    let outer = beside(&neck, -height)?;
    Some(Lines { neck, outer })
}

/// A curve at a distance on the right of another, as it runs; each place square to it.
fn beside(curve: &Curve, distance: f64) -> Option<Curve> {
    const STEP: f64 = 10.0;
    let length = curve.length();
    let count = (length / STEP).ceil().clamp(6.0, 60.0) as usize;
    let knots: Vec<Knot> = (0..=count)
        .map(|index| {
            let along = length * index as f64 / count as f64;
            let way = curve.direction_at(along);
            Knot::toward(
                curve.point_at(along) + Vec2::new(-way.y, way.x) * distance,
                way,
            )
        })
        .collect();
    Curve::smooth(&knots)
}

/// Back and front laid together at the shoulder, the shoulder's outer ends over each other by so much.
fn flat(pattern: &Pattern, necks: &[Neck], overlap: f64, height: f64) -> Result<Lines, Finding> {
    let [back, front] = necks else {
        return Err(not_two());
    };
    let own = walked(pattern, back)?;
    let other = walked(pattern, front)?;
    let [back_shoulder, front_shoulder] = [shoulder(pattern, back)?, shoulder(pattern, front)?];
    let neck = own.end();
    // The front is turned over along its shoulder, as it lies when the seam is open.
    let onto = angle_between(front_shoulder, back_shoulder);
    let laid = Affine::translate(neck - other.start()) * turn_about(other.start(), onto);
    let turned = mirror_in(neck, neck + back_shoulder) * laid;
    let length = back_shoulder.hypot().min(front_shoulder.hypot());
    let side = if back_shoulder.cross(-own.end_direction()) >= 0.0 {
        -1.0
    } else {
        1.0
    };
    let over = turn_about(neck, Angle::from_radians(-side * overlap / length));
    let front = other.transformed(over * turned);
    let front = front.with_ends(neck, front.end());
    let rough = joined(&own, &front);
    let sum = own.length() + other.length();
    let whole = smooth_over(&rough, own.length(), sum).ok_or_else(cannot)?;
    let right = if whole_turns_right(&own) { 1.0 } else { -1.0 };
    let outer = beside(&whole, height * right).ok_or_else(cannot)?;
    Ok(Lines { neck: whole, outer })
}

/// On which side of its neckline a back lies: at its right, as it is walked from CB outwards.
fn whole_turns_right(neck: &Curve) -> bool {
    let (out, way) = (neck.end() - neck.start(), neck.start_direction());
    way.dot(out) > 0.0 && out.x >= 0.0
}

fn walked(pattern: &Pattern, neck: &Neck) -> Result<Curve, Finding> {
    let edge = &pattern.pieces[neck.piece].edges[neck.edge];
    match &edge.runs[..] {
        [run] if neck.stretch.backwards => Ok(run.reversed()),
        [run] => Ok(run.clone()),
        _ => Err(
            Finding::error("dart-at-neckline", "a dart opens at the neckline")
                .cure("transfer the dart first"),
        ),
    }
}

/// The shoulder of a piece, from the neck outwards.
fn shoulder(pattern: &Pattern, neck: &Neck) -> Result<Vec2, Finding> {
    let piece = &pattern.pieces[neck.piece];
    let count = piece.edges.len();
    let beside = [(neck.edge + count - 1) % count, (neck.edge + 1) % count];
    let found = beside
        .into_iter()
        .find(|&edge| piece.edges[edge].answers_to("shoulder"));
    let edge = found.ok_or_else(not_two)?;
    let owner = &piece.edges[edge];
    let outwards = edge == beside[1];
    Ok(if outwards {
        owner.end() - owner.start()
    } else {
        owner.start() - owner.end()
    })
}

/// One even curve over the shoulder, with the length of both necklines.
fn smooth_over(rough: &Curve, at: f64, length: f64) -> Option<Curve> {
    const NEAR: f64 = 25.0;
    let near = NEAR.min(at / 2.0).min((length - at) / 2.0);
    let knots = |aside: f64| {
        let place = |along: f64| Knot::toward(rough.point_at(along), rough.direction_at(along));
        let before = rough.direction_at(at - 1e-3);
        let way = before + rough.direction_at(at + 1e-3);
        let square = Vec2::new(-way.y, way.x) / way.hypot();
        [
            place(at - near),
            Knot::toward(rough.point_at(at) + square * aside, way),
            place(at + near),
        ]
    };
    let whole = |aside: f64| {
        let middle = Curve::smooth(&knots(aside))?;
        let head = rough.stretch(0.0, at - near);
        let tail = rough.stretch(at + near, rough.length());
        Some(joined(&joined(&head, &middle), &tail))
    };
    let off = |aside: f64| whole(aside).map_or(f64::NAN, |curve| curve.length() - length);
    if off(0.0).abs() < 1e-9 {
        return whole(0.0);
    }
    let ways = [0.25, -0.25].map(|step| solve::stepping(0.0, step, 10.0, 1e-9, off).ok());
    let least = ways
        .into_iter()
        .flatten()
        .min_by(|a, b| a.abs().total_cmp(&b.abs()))?;
    whole(least)
}

fn piece(name: &str, lines: Lines, first: &Piece) -> Piece {
    let Lines { neck, outer } = lines;
    let allowance = seam_allowance(first);
    let (from, to) = (neck.start(), neck.end());
    let (outer_from, outer_to) = (outer.start(), outer.end());
    // From CB along the neckline, down the front and back along the outer edge.
    let front = Curve::line(to, outer_to);
    let fold = Curve::line(outer_from, from);
    let edge = |name: &str, kind, run| Edge {
        allowance: if kind == EdgeKind::Fold {
            0.0
        } else {
            allowance
        },
        ..Edge::new(name, kind, run)
    };
    let mut piece = Piece {
        name: name.into(),
        edges: vec![
            edge("neckline", EdgeKind::Seam, neck),
            edge("front", EdgeKind::Seam, front),
            edge("outside", EdgeKind::Seam, outer.reversed()),
            edge("centre", EdgeKind::Fold, fold),
        ],
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        grain: Angle::from_degrees(90.0),
        cut: Cut {
            layer: first.cut.layer,
            count: 1,
            laid: Laid::OnFold("centre".into()),
        },
        peaked: Vec::new(),
        asked: None,
    };
    if geometry::curve::enclosed_area(piece.edges.iter().flat_map(|edge| &edge.runs)) < 0.0 {
        // A stand is turned over: its neckline lies above it then.
        let flip = Affine::FLIP_Y;
        for run in piece.edges.iter_mut().flat_map(|edge| &mut edge.runs) {
            *run = run.transformed(flip);
        }
    }
    corners(&mut piece);
    piece
}

/// A notch where the shoulder seam meets the collar.
fn mark_shoulder(pattern: &mut Pattern, seam: &Seam, name: &str) {
    let mut passed = 0.0;
    let lengths: Vec<f64> = seam
        .held
        .iter()
        .map(|stretch| pattern.side_length(std::slice::from_ref(stretch)))
        .collect();
    for length in &lengths[..lengths.len() - 1] {
        passed += length;
        notches::put(pattern, (name, "neckline"), "shoulder", passed, 1);
    }
}

fn sewn(piece: &Piece, edge: &str) -> Finding {
    Finding::error(
        "edge-is-sewn",
        format!(
            "the {edge} of the {} is sewn to another edge already",
            piece.name
        ),
    )
    .at(Spot::Edge {
        piece: piece.name.clone(),
        edge: edge.into(),
        at: None,
    })
    .cure("name the necklines of the garment")
}

fn not_two() -> Finding {
    Finding::error(
        "necklines-not-two",
        "a flat collar is drawn over one back and one front that meet at the shoulder",
    )
    .cure("name the neckline of the back, then that of the front")
}

fn cannot() -> Finding {
    Finding::error(
        "collar-cannot-be-drawn",
        "no collar of this shape is as long as the neckline",
    )
    .cure("let it rise or overlap less")
}
