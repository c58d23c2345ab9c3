//! Cuts a yoke off along an edge and closes the darts in it.
//!
//! **What it does.** Draws a line at a distance from the edge, its darts closed, and cuts the piece there. In the yoke the darts are
//! closed for good. A dart that ends within the yoke is drawn on to the line first; of one that ends below it, the rest stays
//! in the lower part. Both parts keep the names of the edges that they share, with `upper` and `lower`.
//! **When it is used.** A hip yoke without darts over a skirt; a yoke over gathers. Do front and back at the same depth.
//! **Example.** `yoke edge="skirt-front.waist" depth="90 mm"`, and the same for `skirt-back`.
//! **What can go wrong.** The edges beside it are shorter than the depth; a dart opens at them within it.
//!
//! Invariants: both sides of the new seam have one length; edge and sides keep their lengths as sewn; darts that stay keep
//! their angles.

use document::{Finding, Place as Spot};
use geometry::curve::{angle_between, closed_path, turn_about};
use geometry::{Affine, Curve, Knot, Point, Tolerance, Vec2};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::bow_to_length;
use super::kit::closed::Closed;
use super::kit::fill::{Joint, joined};
use super::kit::frame::{centre, told};
use super::kit::new_piece::{corners, seam_allowance, seam_name};
use super::kit::true_up::{Keep, true_up};
use super::kit::{dart_end, inner};
use crate::name::part_of;
use crate::piece::{Cut, Dart, Edge, EdgeKind, Laid, Mark, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

/// A dart that ends nearer to the line than this is drawn to it, mm.
const NEAR: f64 = 4.0;

pub(super) const STEP: StepKind = StepKind {
    name: "yoke",
    group: Group::Build,
    summary: "cuts a yoke off along an edge and closes its darts",
    manual: include_str!("yoke.rs"),
    parameters: &[
        Parameter::needed("edge", Kind::Edge, "edge along which it lies"),
        Parameter::needed("depth", Kind::Length(20.0, 600.0), "how deep it is"),
        Parameter::usually(
            "name",
            Kind::Text,
            Usual::Word("yoke"),
            "name of the seam, and of the part above it",
        ),
    ],
    amount: Some("depth"),
    apply: yoke,
};

fn yoke(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, edge) = arguments.edge(pattern, "edge")?;
    let (depth, name) = (arguments.mm("depth")?, arguments.word("name")?);
    let piece = &pattern.pieces[index];
    let parts =
        parts(piece, edge, depth, name).map_err(|finding| arguments.blame("depth", finding))?;
    let mut changed = pattern.clone();
    let [upper, lower] = [&parts.upper, &parts.lower].map(|part| part.name.clone());
    let line = parts.upper.edges[2].runs[0].clone();
    let seam = Seam {
        name: seam_name(pattern, &format!("{}-{name}", piece.name.replace('/', "-"))),
        held: vec![Stretch::backwards(&upper, name)],
        worked: vec![Stretch::forwards(&lower, name)],
        fullness: Fullness::None,
        runs_on: [false, false],
    };
    let words = format!(
        "cut a {name} {depth:.0} mm deep off the {}; {}",
        piece.name, parts.words
    );
    changed
        .pieces
        .splice(index..=index, [parts.upper, parts.lower]);
    changed.seams.push(seam);
    Ok(Done {
        lines: vec![TraceLine::new(&upper, Trace::Slash, line)],
        words,
        pattern: changed,
    })
}

/// The yoke, the rest, and what became of the darts.
struct Parts {
    upper: Piece,
    lower: Piece,
    words: String,
}

/// The piece where its edge's darts are closed: the edge, what lies beside it within the depth, and the line.
struct Drawn {
    edge: Curve,
    /// Before and after the edge, within the depth, as they run.
    beside: [Curve; 2],
    /// From the edge after to the edge before.
    line: Curve,
    moves: Vec<Affine>,
}

fn parts(piece: &Piece, edge: usize, depth: f64, name: &str) -> Result<Parts, Finding> {
    let mut ready = piece.clone();
    let first = drawn(&ready, edge, depth)?;
    let told = draw_darts_to(&mut ready, edge, &first);
    let drawn = drawn(&ready, edge, depth)?;
    let upper = upper(&ready, edge, &drawn, name);
    let lower = lower(&ready, edge, &drawn, (depth, name))?;
    Ok(Parts {
        upper,
        lower,
        words: told,
    })
}

fn drawn(piece: &Piece, edge: usize, depth: f64) -> Result<Drawn, Finding> {
    let count = piece.edges.len();
    let [before, after] = [(edge + count - 1) % count, (edge + 1) % count];
    let closed = Closed::of(piece, &piece.edges[edge]);
    // The centre line stays where it is.
    let fixed = if centre(piece) == Some(after) {
        closed.moves[closed.moves.len() - 1]
    } else {
        Affine::IDENTITY
    };
    let moves: Vec<Affine> = closed
        .moves
        .iter()
        .map(|by| fixed.inverse() * *by)
        .collect();
    let last = moves.len() - 1;
    let whole = closed.curve().transformed(moves[0]);
    let near = |index: usize, at_end: bool| beside(piece, index, depth, at_end);
    let before = near(before, true)?.transformed(moves[0]);
    let after = near(after, false)?.transformed(moves[last]);
    let line = line(&whole, &before, &after, depth).ok_or_else(|| too_deep(piece, edge, depth))?;
    Ok(Drawn {
        edge: whole,
        beside: [before, after],
        line,
        moves,
    })
}

/// The last or first stretch of an edge, as long as the yoke is deep.
fn beside(piece: &Piece, edge: usize, depth: f64, at_end: bool) -> Result<Curve, Finding> {
    let owner = &piece.edges[edge];
    let run = if at_end {
        &owner.runs[owner.runs.len() - 1]
    } else {
        &owner.runs[0]
    };
    let length = run.length();
    if length <= depth {
        return Err(too_deep(piece, edge, depth));
    }
    Ok(if at_end {
        run.stretch(length - depth, length)
    } else {
        run.stretch(0.0, depth)
    })
}

/// The line at the depth from the edge, from the edge after it to the edge before it; it meets both at the angles at which the
/// edge does.
fn line(edge: &Curve, before: &Curve, after: &Curve, depth: f64) -> Option<Curve> {
    let length = edge.length();
    let count = (length / 25.0).ceil().clamp(3.0, 24.0) as usize;
    let turn = |from: Vec2, to: Vec2, way: Vec2| {
        let by = turn_about(Point::ORIGIN, angle_between(from, to));
        by * way.to_point() - by * Point::ORIGIN
    };
    let first = turn(
        before.end_direction(),
        before.start_direction(),
        edge.start_direction(),
    );
    let last = turn(
        after.start_direction(),
        after.end_direction(),
        edge.end_direction(),
    );
    let mut knots = vec![Knot::toward(before.start(), first)];
    for index in 1..count {
        let along = length * index as f64 / count as f64;
        let way = edge.direction_at(along);
        knots.push(Knot::free(
            edge.point_at(along) + Vec2::new(-way.y, way.x) * depth,
        ));
    }
    knots.push(Knot::toward(after.end(), last));
    Curve::smooth(&knots).map(|curve| curve.reversed())
}

/// Draws darts that end within the yoke on to its line, and those that end just below it back to it; in words.
fn draw_darts_to(piece: &mut Piece, edge: usize, drawn: &Drawn) -> String {
    let name = piece.edges[edge].name.clone();
    let darts: Vec<Dart> = piece.darts_on(&name).cloned().collect();
    let mut told = Vec::new();
    for dart in &darts {
        let legs = piece.legs(dart);
        let middle = legs.before.midpoint(legs.after);
        let Some(crossing) = on_line(drawn, dart, legs.point - middle, middle) else {
            continue;
        };
        let beyond = (dart.point - middle).hypot() - (crossing - middle).hypot();
        if beyond < NEAR {
            dart_end::draw_to(piece, &dart.name, crossing);
            told.push(format!("the {} closes in it", dart.name));
        } else {
            told.push(format!("{beyond:.0} mm of the {} stay below it", dart.name));
        }
    }
    if told.is_empty() {
        "no dart opens at it".into()
    } else {
        told.join(", ")
    }
}

/// Where the middle line of a dart meets the line, in the open piece: as far down as one of its legs does.
fn on_line(drawn: &Drawn, dart: &Dart, way: Vec2, middle: Point) -> Option<Point> {
    let by = drawn.moves[dart.gap];
    let from = by * middle;
    let ray = (by * (middle + way)) - from;
    let crossings = drawn.line.crossings_with_ray(from, ray, Tolerance::PATTERN);
    let far = crossings
        .first()
        .map(|crossing| (crossing.point - from).hypot())?;
    Some(middle + way / way.hypot() * far)
}

fn upper(piece: &Piece, edge: usize, drawn: &Drawn, name: &str) -> Piece {
    let count = piece.edges.len();
    let [before, after] = [(edge + count - 1) % count, (edge + 1) % count];
    let owner = &piece.edges[edge];
    let shares = |index: usize, run: &Curve| run.length() / piece.edges[index].length();
    let part = |index: usize, run: Curve, at_end: bool| {
        let whole = &piece.edges[index];
        let share = shares(index, &run);
        let part = if at_end {
            whole.part.cut_at(1.0 - share)[1]
        } else {
            whole.part.cut_at(share)[0]
        };
        Edge {
            name: part_of(&whole.name, "upper"),
            runs: vec![run],
            part,
            ..whole.clone()
        }
    };
    let top = Edge {
        runs: vec![drawn.edge.clone()],
        ..owner.clone()
    };
    let seam = Edge {
        allowance: seam_allowance(piece),
        ..Edge::new(name, EdgeKind::Seam, drawn.line.clone())
    };
    let [left, right] = drawn.beside.clone();
    let edges = vec![
        top,
        part(after, right, false),
        seam,
        part(before, left, true),
    ];
    let names = [before, after].map(|index| piece.edges[index].name.clone());
    let mut upper = Piece {
        name: part_of(&piece.name, name),
        edges,
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        cut: cut(piece, &names, "upper"),
        ..piece.clone()
    };
    upper.marks = upper_marks(piece, edge, drawn, &names);
    meet(&mut upper);
    corners(&mut upper);
    upper
}

/// Notches of the edge and of what lies beside it within the yoke, and points inside where no dart moved them.
fn upper_marks(piece: &Piece, edge: usize, drawn: &Drawn, names: &[String; 2]) -> Vec<Mark> {
    let own = &piece.edges[edge].name;
    let depth = drawn.beside[0].length();
    let whole = piece.edge(&names[0]).map_or(0.0, Edge::length);
    let renamed = |name: &String, strokes: u8, edge: String, along: f64| Mark::Notch {
        name: name.clone(),
        edge,
        along,
        strokes,
    };
    let marks = piece.marks.iter().filter_map(|mark| {
        let Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } = mark
        else {
            return None;
        };
        if edge == own {
            return Some(mark.clone());
        }
        if *edge == names[0] && *along >= whole - depth {
            return Some(renamed(
                name,
                *strokes,
                part_of(edge, "upper"),
                along - whole + depth,
            ));
        }
        (*edge == names[1] && *along <= depth)
            .then(|| renamed(name, *strokes, part_of(edge, "upper"), *along))
    });
    marks.collect()
}

fn lower(
    piece: &Piece,
    edge: usize,
    drawn: &Drawn,
    (depth, name): (f64, &str),
) -> Result<Piece, Finding> {
    let count = piece.edges.len();
    let [before, after] = [(edge + count - 1) % count, (edge + 1) % count];
    let names = [before, after].map(|index| piece.edges[index].name.clone());
    let mut lower = Piece {
        name: part_of(&piece.name, "lower"),
        cut: cut(piece, &names, "lower"),
        ..piece.clone()
    };
    cut_beside(&mut lower, [before, after], depth);
    let darts: Vec<Dart> = piece.darts_on(&piece.edges[edge].name).cloned().collect();
    let line = drawn.line.reversed();
    let (runs, kept, joints) =
        opened(piece, &darts, drawn, &line).ok_or_else(|| too_deep(piece, edge, depth))?;
    lower
        .darts
        .retain(|dart| dart.edge != piece.edges[edge].name);
    for (gap, dart) in kept.into_iter().enumerate() {
        lower.darts.push(Dart {
            edge: name.into(),
            gap,
            ..dart
        });
    }
    lower.edges[edge] = Edge {
        allowance: seam_allowance(piece),
        runs,
        ..Edge::new(name, EdgeKind::Seam, line)
    };
    lower.marks.retain(
        |mark| !matches!(mark, Mark::Notch { edge: on, .. } if *on == piece.edges[edge].name),
    );
    let length = lower.edges[edge].length();
    meet(&mut lower);
    let joints: Vec<Joint> = joints
        .into_iter()
        .map(|at| Joint {
            edge,
            from: at,
            to: at,
        })
        .collect();
    let kept = true_up(&mut lower, edge, &joints, Keep::Length(length))
        || true_up(&mut lower, edge, &joints, Keep::Shape)
            && bow_to_length(&mut lower, edge, length);
    if !kept {
        return Err(too_deep(piece, edge, depth));
    }
    let outline = closed_path(lower.edges.iter().flat_map(|edge| &edge.runs));
    lower.lines = inner::inside(piece, &outline);
    super::kit::fill::sort_darts(&mut lower);
    corners(&mut lower);
    Ok(lower)
}

/// Cuts the depth off the edges beside the yoke.
fn cut_beside(piece: &mut Piece, [before, after]: [usize; 2], depth: f64) {
    let owner = &mut piece.edges[before];
    let (name, whole) = (owner.name.clone(), owner.length());
    let last = owner.runs.len() - 1;
    let length = owner.runs[last].length();
    owner.runs[last] = owner.runs[last].stretch(0.0, length - depth);
    owner.part = owner.part.cut_at(1.0 - depth / whole)[0];
    owner.name = part_of(&name, "lower");
    rename(piece, &name, 0.0, whole - depth);
    let owner = &mut piece.edges[after];
    let (name, whole) = (owner.name.clone(), owner.length());
    let length = owner.runs[0].length();
    owner.runs[0] = owner.runs[0].stretch(depth, length);
    owner.part = owner.part.cut_at(depth / whole)[1];
    owner.name = part_of(&name, "lower");
    rename(piece, &name, depth, whole);
}

/// Darts and notches of an edge go to its lower part; notches above it go.
fn rename(piece: &mut Piece, name: &str, from: f64, to: f64) {
    let new = part_of(name, "lower");
    for dart in piece.darts.iter_mut().filter(|dart| dart.edge == name) {
        dart.edge.clone_from(&new);
    }
    piece.marks.retain(|mark| match mark {
        Mark::Notch { edge, along, .. } => edge != name || *along >= from && *along <= to,
        Mark::Point { .. } => true,
    });
    for mark in &mut piece.marks {
        if let Mark::Notch { edge, along, .. } = mark
            && edge == name
        {
            edge.clone_from(&new);
            *along -= from;
        }
    }
    for peaked in piece.peaked.iter_mut().filter(|peaked| *peaked == name) {
        peaked.clone_from(&new);
    }
}

/// The line where the darts are open: runs from the edge before to the edge after, the darts that stay between them, and
/// where runs without a dart meet.
fn opened(
    piece: &Piece,
    darts: &[Dart],
    drawn: &Drawn,
    line: &Curve,
) -> Option<(Vec<Curve>, Vec<Dart>, Vec<f64>)> {
    let mut cuts = vec![0.0];
    for dart in darts {
        let legs = piece.legs(dart);
        let by = drawn.moves[dart.gap];
        let (from, to) = (by * legs.before, by * legs.point);
        let crossings = line.crossings_with_ray(from, to - from, Tolerance::PATTERN);
        let nearest = line.nearest(to).along;
        cuts.push(crossings.first().map_or(nearest, |crossing| crossing.along));
    }
    cuts.push(line.length());
    let stretches: Vec<Curve> = cuts
        .windows(2)
        .zip(&drawn.moves)
        .map(|(pair, by)| {
            (pair[1] - pair[0] > 1e-6)
                .then(|| line.stretch(pair[0], pair[1]).transformed(by.inverse()))
        })
        .collect::<Option<_>>()?;
    let mut runs: Vec<Curve> = Vec::new();
    let (mut kept, mut joints) = (Vec::new(), Vec::new());
    for (index, stretch) in stretches.into_iter().enumerate() {
        let Some(last) = runs.pop() else {
            runs.push(stretch);
            continue;
        };
        let dart = &darts[index - 1];
        if (last.end() - stretch.start()).hypot() > 0.2 {
            kept.push(dart.clone());
            runs.extend([last, stretch]);
        } else {
            joints.push(cuts[index]);
            runs.push(joined(&last, &stretch));
        }
    }
    Some((runs, kept, joints))
}

/// A part without the fold is cut as a pair.
fn cut(piece: &Piece, beside: &[String; 2], word: &str) -> Cut {
    match &piece.cut.laid {
        Laid::OnFold(fold) if beside.contains(fold) => Cut {
            laid: Laid::OnFold(part_of(fold, word)),
            ..piece.cut.clone()
        },
        Laid::OnFold(_) if word == "upper" => Cut {
            laid: Laid::Pair,
            count: piece.cut.count * 2,
            ..piece.cut.clone()
        },
        _ => piece.cut.clone(),
    }
}

/// The corners are put exactly on each other.
fn meet(piece: &mut Piece) {
    let count = piece.edges.len();
    for index in 0..count {
        let end = piece.edges[index].end();
        let next = &mut piece.edges[(index + 1) % count].runs[0];
        if next.start() != end {
            *next = next.with_ends(end, next.end());
        }
    }
}

fn too_deep(piece: &Piece, edge: usize, depth: f64) -> Finding {
    let name = &piece.edges[edge].name;
    let what = format!(
        "the {name} of the {} has no room for a yoke {depth:.0} mm deep",
        piece.name
    );
    let told = told("yoke-too-deep", piece, name, what);
    told.at(Spot::Piece(piece.name.clone()))
        .cure("make the yoke less deep, or transfer the dart beside it")
}
