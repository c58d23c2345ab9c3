//! Gives a back that is round between the shoulder blades more length there, or takes it from an erect one.
//!
//! **What it does.** Cuts across the back from the centre line to the armhole and up to the shoulder. The part with the neck
//! goes up by the amount, the part with the shoulder point turns about the armhole's end of the cut, and a shoulder dart opens,
//! or grows, between them; its point lies between the shoulder blade and the cut. For an erect back the dart shrinks; where
//! there is none, the shoulder gives up its ease.
//! **When it is used.** The back neck stands off and the back rides up: round. Folds lie below the back neck: erect.
//! **Example.** `round-back by="10 mm"`: the centre back is 10 mm longer and a shoulder dart of about 7° opens.
//! **What can go wrong.** An erect back asks for more than dart or shoulder ease can give.
//!
//! Invariants: neckline, shoulder as sewn, armhole and everything below keep their lengths; the centre line grows by just the
//! amount and stays straight.

use document::{Allowed, Finding, Place as Spot, Quantity};
use geometry::{Affine, Curve, Point, math};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::{Ends, bend_edge, turned};
use super::kit::frame::{self, Frame, centre};
use super::kit::inner::Torn;
use super::kit::true_up::{Keep, true_up};
use super::kit::{Gap, Part, fill, find, gap, slash};
use crate::name::free_name;
use crate::piece::{Dart, Edge, Piece, Pressed};
use crate::seam::{Fullness, Pattern};

/// Where the shoulder blade lies on the way from the centre line to the armhole. Common practice, no source.
const BLADE: f64 = 0.55;
/// How far above the blade the dart ends, mm. Common practice, no source.
const SHORT: f64 = 15.0;
/// The part of the armhole, from the shoulder, at which the cut meets it: the across line of the block.
const LEVEL: f64 = 0.5;

const PARAMETERS: &[Parameter] = &[
    Parameter::usually("piece", Kind::Piece, Usual::Nothing, "back that is changed"),
    Parameter::needed("by", Kind::Length(0.0, 40.0), "how much at the centre line"),
    Parameter::usually(
        "level",
        Kind::Place,
        Usual::Nothing,
        "where the cut meets the armhole",
    ),
    Parameter::usually(
        "dart",
        Kind::Place,
        Usual::Nothing,
        "where a new dart opens at the shoulder",
    ),
];

pub(super) const ROUND: StepKind = StepKind {
    name: "round-back",
    group: Group::Correction,
    summary: "gives a round back more length",
    manual: include_str!("round_back.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, 1.0),
};

pub(super) const ERECT: StepKind = StepKind {
    name: "erect-back",
    group: Group::Correction,
    summary: "takes length from an erect back",
    manual: include_str!("round_back.rs"),
    parameters: PARAMETERS,
    amount: Some("by"),
    apply: |pattern, arguments| apply(pattern, arguments, -1.0),
};

/// The lines of the cut: from the centre line to the armhole, and the place of the dart.
struct Lines {
    level: [(usize, f64); 2],
    shoulder: usize,
    dart: f64,
}

fn apply(pattern: &Pattern, arguments: &Arguments, sign: f64) -> Result<Done, Finding> {
    let by = arguments.mm("by")? * sign;
    let index = back(pattern, arguments)?;
    let piece = &pattern.pieces[index];
    let lines = lines(pattern, arguments, index)?;
    let mut changed = pattern.clone();
    let given = raise(&mut changed.pieces[index], &lines, by)
        .map_err(|finding| arguments.blame("by", finding))?;
    if given.eased > 0.0 {
        take_ease(&mut changed, (index, lines.shoulder), given.eased)
            .map_err(|finding| arguments.blame("by", finding))?;
    }
    let words = format!(
        "made the centre of the {} {:.0} mm {} at the shoulder blades; {}",
        piece.name,
        by.abs(),
        if by < 0.0 { "shorter" } else { "longer" },
        given.words
    );
    let traces = given
        .cuts
        .into_iter()
        .map(|cut| TraceLine::new(&piece.name, Trace::Slash, cut));
    Ok(Done {
        lines: traces.collect(),
        words,
        pattern: changed,
    })
}

fn back(pattern: &Pattern, arguments: &Arguments) -> Result<usize, Finding> {
    if arguments.has("piece") {
        return arguments.piece(pattern, "piece");
    }
    find::piece_index(pattern, "back").map_err(|finding| arguments.blame("piece", finding))
}

fn lines(pattern: &Pattern, arguments: &Arguments, index: usize) -> Result<Lines, Finding> {
    let piece = &pattern.pieces[index];
    let named = |name: &str| {
        frame::edge(pattern, index, name).map_err(|finding| arguments.blame("piece", finding))
    };
    let (shoulder, armhole) = (named("shoulder")?, named("armhole")?);
    let line = centre(piece).ok_or_else(|| arguments.blame("piece", no_centre(piece)))?;
    let at = if arguments.has("level") {
        arguments.seat(pattern, "level")?.along
    } else {
        piece.edges[armhole].length() * LEVEL
    };
    let frame = Frame::of(piece);
    let ends = slash::across(piece, piece.edges[armhole].place_at(at).0, frame.out)
        .map_err(|finding| arguments.blame("level", finding))?;
    let on_centre = ends.into_iter().find(|(edge, _)| *edge == line);
    let dart = if arguments.has("dart") {
        arguments.seat(pattern, "dart")?.along
    } else {
        existing(piece, shoulder).unwrap_or(piece.edges[shoulder].length() / 2.0)
    };
    Ok(Lines {
        level: [
            on_centre.ok_or_else(|| arguments.blame("level", no_centre(piece)))?,
            (armhole, at),
        ],
        shoulder,
        dart,
    })
}

/// Where a dart opens at the shoulder already.
fn existing(piece: &Piece, shoulder: usize) -> Option<f64> {
    let dart = piece.darts_on(&piece.edges[shoulder].name).next()?;
    Some(Gap::of_dart(piece, &dart.name)?.along(piece))
}

/// What came of it: the cuts, the ease that the shoulder gave up, and the dart in words.
struct Given {
    cuts: Vec<Curve>,
    eased: f64,
    words: String,
}

fn raise(piece: &mut Piece, lines: &Lines, by: f64) -> Result<Given, Finding> {
    let name = piece.edges[lines.shoulder].name.clone();
    let known = piece.darts_on(&name).next().map(|dart| dart.name.clone());
    let old_angle = known
        .as_ref()
        .and_then(|dart| piece.dart(dart))
        .map_or(0.0, |dart| piece.legs(dart).angle().degrees());
    let old = piece.edges[lines.level[1].0].clone();
    let mut held = Vec::new();
    let shoulder = match known.as_ref().and_then(|dart| Gap::of_dart(piece, dart)) {
        Some(gap) => gap,
        None => gap::open_inside(piece, lines.shoulder, lines.dart, &mut held)?,
    };
    held.push(shoulder);
    for (edge, along) in [lines.level[1], lines.level[0]] {
        let gap = gap::open_inside(piece, edge, along, &mut held)?;
        held.push(gap);
    }
    let [shoulder, armhole, line] = [held[0], held[1], held[2]];
    let (low, high) = (line.before(piece), armhole.before(piece));
    let blade = low.lerp(high, BLADE);
    let up = -Frame::of(piece).down;
    let top = shoulder.before(piece).midpoint(shoulder.after(piece));
    let cuts = vec![Curve::line(low, high), Curve::line(blade, top)];
    let inner = Part::between(
        piece,
        line,
        shoulder,
        vec![
            Curve::line(shoulder.before(piece), blade),
            Curve::line(blade, low),
        ],
    );
    let outer = Part::between(
        piece,
        shoulder,
        armhole,
        vec![
            Curve::line(high, blade),
            Curve::line(blade, shoulder.after(piece)),
        ],
    );
    let turn = turn_for(high, blade, by);
    inner.carry(piece, Affine::translate(up * by), Torn::Bridged);
    outer.carry(piece, turn, Torn::Bridged);
    let eased = dart(piece, shoulder, (known.as_deref(), blade + up * by))?;
    if !straighten(piece, [line, armhole], &old, turn) {
        return Err(too_much(piece));
    }
    let now = piece
        .darts_on(&name)
        .next()
        .map(|dart| (dart.name.clone(), piece.legs(dart).angle().degrees()));
    let words = match (now, known) {
        (Some((dart, angle)), _) => format!("{dart} {old_angle:.1}° → {angle:.1}°"),
        (None, Some(dart)) => format!("{dart} {old_angle:.1}° → closed"),
        (None, None) => format!("the shoulder gave up {eased:.1} mm of its ease"),
    };
    Ok(Given { cuts, eased, words })
}

/// The turn about the armhole's end of the cut by which the blade goes up by so much.
fn turn_for(high: Point, blade: Point, by: f64) -> Affine {
    let reach = (high - blade).hypot();
    // The blade lies at the left of the armhole or at its right: it goes up either way.
    let side = if blade.x < high.x { 1.0 } else { -1.0 };
    turned(high, side * math::asin((by / reach).clamp(-0.9, 0.9)))
}

/// Leaves a dart between the parts, or joins them where they lie over each other; by how much the shoulder became shorter.
fn dart(
    piece: &mut Piece,
    gap: Gap,
    (known, blade): (Option<&str>, Point),
) -> Result<f64, Finding> {
    let (before, after) = (gap.before(piece), gap.after(piece));
    let along = gap.curve(piece).end_direction();
    let open = (after - before).dot(along);
    let top = before.midpoint(after);
    let point = top.lerp(blade, 1.0 - SHORT / (top - blade).hypot().max(SHORT));
    if open > 1e-6 {
        let end = equal_legs(before, after, point);
        open_dart(piece, gap, known, (end, blade));
        true_shoulder(piece, gap);
        return Ok(0.0);
    }
    if let Some(name) = known {
        if open < -1.0 {
            return Err(dart_too_small(piece, name));
        }
        piece.darts.retain(|dart| dart.name != name);
    }
    let next = gap.next(piece);
    let edge = &mut piece.edges[gap.edge];
    edge.runs[gap.run] = edge.runs[gap.run].with_ends(edge.runs[gap.run].start(), top);
    edge.runs[next.run] = edge.runs[next.run].with_ends(top, edge.runs[next.run].end());
    let joint = fill::join(piece, gap);
    let length = piece.edges[gap.edge].length();
    true_up(piece, gap.edge, &[joint], Keep::Length(length));
    Ok(-open)
}

/// The dart that was there gets its new end; otherwise a new one is left in the gap.
fn open_dart(piece: &mut Piece, gap: Gap, known: Option<&str>, (point, aim): (Point, Point)) {
    let own = piece
        .darts
        .iter_mut()
        .find(|dart| Some(dart.name.as_str()) == known);
    if let Some(dart) = own {
        dart.point = point;
        return;
    }
    let taken = piece.darts.iter().map(|dart| dart.name.as_str());
    let dart = Dart {
        name: free_name("shoulder-dart", taken),
        edge: String::new(),
        gap: 0,
        point,
        aim,
        pressed: Pressed::Before,
    };
    fill::dart(piece, gap, dart);
}

/// The place nearest to a point from which both ends of a mouth are equally far.
fn equal_legs(before: Point, after: Point, near: Point) -> Point {
    let (middle, mouth) = (before.midpoint(after), after - before);
    let off = (near - middle).dot(mouth) / mouth.hypot2();
    near - mouth * off
}

/// A shoulder is one straight line when its dart is closed, or as even as it was.
fn true_shoulder(piece: &mut Piece, gap: Gap) {
    let length = piece.edges[gap.edge].length();
    let along = gap.along(piece);
    let joint = fill::Joint {
        edge: gap.edge,
        from: along,
        to: along,
    };
    if !true_up(piece, gap.edge, &[joint], Keep::Length(length)) {
        true_up(piece, gap.edge, &[joint], Keep::Shape);
    }
}

/// Fills the centre line, which stays straight, and draws the armhole evenly to where the shoulder point went.
fn straighten(piece: &mut Piece, [line, armhole]: [Gap; 2], old: &Edge, turn: Affine) -> bool {
    let opens = (line.after(piece) - line.before(piece)).dot(line.curve(piece).end_direction());
    if opens >= 0.0 {
        fill::bridge(piece, line);
    } else {
        cut_back(piece, line);
    }
    piece.edges[armhole.edge].runs.clone_from(&old.runs);
    let keep = Keep::Length(old.length());
    bend_edge(piece, armhole.edge, Ends::first(turn), keep)
}

/// Takes from the centre line what is folded away.
fn cut_back(piece: &mut Piece, gap: Gap) {
    let next = gap.next(piece);
    let before = gap.before(piece);
    let edge = &mut piece.edges[gap.edge];
    let after = edge.runs[next.run].clone();
    let nearest = after.nearest(before);
    let kept = after.stretch(nearest.along, after.length());
    edge.runs[next.run] = kept.with_ends(before, kept.end());
    let name = edge.name.clone();
    let from = gap.along(piece);
    super::kit::notches::shift(piece, &name, from, -nearest.along);
    fill::join(piece, gap);
}

/// The shoulder seam eases in so much less.
fn take_ease(
    pattern: &mut Pattern,
    (piece, edge): (usize, usize),
    less: f64,
) -> Result<(), Finding> {
    let owner = pattern.pieces[piece].clone();
    let edge = &owner.edges[edge].name;
    for seam in &mut pattern.seams {
        if !super::kit::fullness::joins(seam, &owner.name, edge) {
            continue;
        }
        let ease = match seam.fullness {
            Fullness::Eased(ease) => ease,
            _ => 0.0,
        };
        if ease < less - 1e-6 {
            return Err(no_ease(&owner, edge, ease, less));
        }
        seam.fullness = if ease - less < 1e-6 {
            Fullness::None
        } else {
            Fullness::Eased(ease - less)
        };
    }
    Ok(())
}

fn no_centre(piece: &Piece) -> Finding {
    let message = format!(
        "no line across the {} meets armhole and centre line",
        piece.name
    );
    Finding::error("line-misses-centre", message)
        .at(Spot::Piece(piece.name.clone()))
        .cure("name the back of a bodice, and a level on its armhole")
}

fn too_much(piece: &Piece) -> Finding {
    let message = format!("the armhole of the {} cannot follow so far", piece.name);
    Finding::error("armhole-cannot-bend", message)
        .at(Spot::Piece(piece.name.clone()))
        .cure("ask for less")
}

fn dart_too_small(piece: &Piece, dart: &str) -> Finding {
    let message = format!("the {dart} of the {} has not so much to give", piece.name);
    Finding::error("dart-would-vanish", message)
        .at(Spot::Piece(piece.name.clone()))
        .cure("ask for less")
}

fn no_ease(piece: &Piece, edge: &str, ease: f64, less: f64) -> Finding {
    let message = format!(
        "the {edge} of the {} has {ease:.1} mm of ease and would have to give {less:.1} mm",
        piece.name
    );
    Finding::error("shoulder-without-ease", message)
        .at(Spot::Piece(piece.name.clone()))
        .allowed(Allowed::AtMost(Quantity::mm(ease)).to_string())
        .because(
            "without a shoulder dart, the ease of the shoulder seam is all that shapes the back",
        )
        .cure("ask for less")
}
