//! Transfers a dart to another place on the outline.
//!
//! **What it does.** Cuts from the new place to the dart's point, closes the old dart and lets the cut open, by turning the
//! part of the piece that lies between the two about that point.
//! **When it is used.** To put the fullness of the bust where the style wants it: shoulder, armhole, neck, waist.
//! **Example.** A side dart of 20° becomes a shoulder dart of 20°; the closed piece is the same.
//! **What can go wrong.** The dart or edge is not there; the new place lies at a corner. The piece is then left as it was.
//!
//! Invariants: the angle at the point, the lengths of all edges as sewn and the closed outline stay as they were; the
//! centre line does not move.

use document::{Finding, Place};
use geometry::curve::{self, closed_path, contains};
use geometry::{Affine, Angle, Curve, Point};

use crate::piece::{Dart, EdgeKind, InnerLine, Mark, Piece};

/// Where a dart goes.
#[derive(Clone, Debug, PartialEq)]
pub enum Target {
    /// To a place on an edge, at a length as sewn from its first corner, mm.
    Edge {
        /// Name of the edge.
        edge: String,
        /// Length from its first corner, mm.
        along: f64,
    },
    /// Into another dart with the same point, which grows by its angle.
    Dart(String),
}

/// A gap in the outline: after run `run` of edge `edge`.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Gap {
    edge: usize,
    run: usize,
}

/// How near two points must be to be the same point of a pattern, mm.
const SAME_POINT: f64 = 0.01;

/// Transfers the dart of this name; see the module.
pub fn transfer_dart(piece: &Piece, dart: &str, target: &Target) -> Result<Piece, Finding> {
    let source = piece
        .dart(dart)
        .ok_or_else(|| no_such_dart(piece, dart))?
        .clone();
    let mut changed = piece.clone();
    let to = open_target(&mut changed, &source, target)?;
    let from =
        gap_of(&changed, &source.name).expect("the dart was found in the piece that was cloned");
    let turn = changed
        .legs(changed.dart(&source.name).expect("as above"))
        .turn();
    let (moved, by) = moved_part(&changed, from, to, turn);
    turn_part(&mut changed, &moved, source.point, by);
    close_gap(&mut changed, from, &source.name);
    Ok(changed)
}

fn gap_of(piece: &Piece, dart: &str) -> Option<Gap> {
    let dart = piece.dart(dart)?;
    Some(Gap {
        edge: piece.edge_index(&dart.edge)?,
        run: dart.gap,
    })
}

/// Makes sure that there is a dart at the target, of no width yet where it is new, and says where.
fn open_target(piece: &mut Piece, source: &Dart, target: &Target) -> Result<Gap, Finding> {
    match target {
        Target::Dart(name) => {
            let other = piece.dart(name).ok_or_else(|| no_such_dart(piece, name))?;
            if (other.point - source.point).hypot() > SAME_POINT {
                return Err(Finding::error(
                    "darts-end-apart",
                    format!(
                        "the darts {} and {name} of the {} do not end at the same point",
                        source.name, piece.name
                    ),
                )
                .at(Place::Piece(piece.name.clone()))
                .cure("let both end at the same point first, or transfer to a place on an edge"));
            }
            Ok(gap_of(piece, name).expect("the dart was just found"))
        }
        Target::Edge { edge, along } => split_edge(piece, source, edge, *along),
    }
}

fn split_edge(piece: &mut Piece, source: &Dart, edge: &str, along: f64) -> Result<Gap, Finding> {
    let index = piece
        .edge_index(edge)
        .ok_or_else(|| no_such_edge(piece, edge))?;
    let (run, rest) = run_at(&piece.edges[index].runs, along);
    let (before, after) = piece.edges[index].runs[run]
        .split_at(rest)
        .ok_or_else(|| at_corner(piece, edge, along))?;
    piece.edges[index].runs.splice(run..=run, [before, after]);
    for dart in piece
        .darts
        .iter_mut()
        .filter(|dart| dart.edge == edge && dart.gap >= run)
    {
        dart.gap += 1;
    }
    // The old dart's name is free once it is closed; until then the new one carries a mark that no recipe can write.
    let name = format!("{}\u{0}", source.name);
    piece.darts.push(Dart {
        name,
        edge: edge.into(),
        gap: run,
        ..source.clone()
    });
    Ok(Gap { edge: index, run })
}

fn run_at(runs: &[Curve], along: f64) -> (usize, f64) {
    let mut rest = along;
    for (index, run) in runs.iter().enumerate() {
        let length = run.length();
        if rest < length || index + 1 == runs.len() {
            return (index, rest);
        }
        rest -= length;
    }
    (0, rest)
}

/// The runs that turn, and by how much, so that the first gap closes and the second opens.
fn moved_part(piece: &Piece, from: Gap, to: Gap, turn: Angle) -> (Vec<Gap>, Angle) {
    let after_dart = runs_between(piece, from, to);
    let before_dart = runs_between(piece, to, from);
    if holds_centre(piece, &after_dart) {
        (before_dart, turn)
    } else {
        (after_dart, Angle::from_radians(-turn.radians()))
    }
}

/// The runs that one meets going clockwise from one gap to another.
fn runs_between(piece: &Piece, from: Gap, to: Gap) -> Vec<Gap> {
    let all: Vec<Gap> = (0..piece.edges.len())
        .flat_map(|edge| (0..piece.edges[edge].runs.len()).map(move |run| Gap { edge, run }))
        .collect();
    let start = all
        .iter()
        .position(|gap| *gap == from)
        .map_or(0, |index| index + 1);
    let cyclic = all[start..].iter().chain(&all[..start]);
    let mut between = Vec::new();
    for gap in cyclic {
        between.push(*gap);
        if *gap == to {
            break;
        }
    }
    between
}

fn holds_centre(piece: &Piece, runs: &[Gap]) -> bool {
    runs.iter().any(|gap| {
        let edge = &piece.edges[gap.edge];
        edge.kind == EdgeKind::Fold || edge.answers_to("centre")
    })
}

fn turn_part(piece: &mut Piece, moved: &[Gap], about: Point, by: Angle) {
    let turn = curve::turn_about(about, by);
    let outline: Vec<Curve> = moved
        .iter()
        .map(|gap| piece.edges[gap.edge].runs[gap.run].clone())
        .collect();
    let inside = part_outline(&outline, about);
    turn_darts(piece, moved, turn);
    for mark in &mut piece.marks {
        if let Mark::Point { at, .. } = mark
            && contains(&inside, *at)
        {
            *at = turn * *at;
        }
    }
    for line in &mut piece.lines {
        *line = turned_line(line, &inside, turn);
    }
    for gap in moved {
        let run = &mut piece.edges[gap.edge].runs[gap.run];
        *run = run.transformed(turn);
    }
}

/// The moved part as a closed outline; darts inside it are bridged at their mouths.
fn part_outline(runs: &[Curve], pivot: Point) -> geometry::BezPath {
    let mut pieces = vec![Curve::line(pivot, runs[0].start())];
    for run in runs {
        let end = pieces[pieces.len() - 1].end();
        if (end - run.start()).hypot() > SAME_POINT {
            pieces.push(Curve::line(end, run.start()));
        }
        pieces.push(run.clone());
    }
    closed_path(&pieces)
}

/// Darts that open between two moved runs move with them.
fn turn_darts(piece: &mut Piece, moved: &[Gap], turn: Affine) {
    let inner = &moved[..moved.len() - 1];
    for index in 0..piece.darts.len() {
        let dart = &piece.darts[index];
        let edge = piece
            .edge_index(&dart.edge)
            .expect("a dart names an edge of its own piece");
        if inner.contains(&Gap {
            edge,
            run: dart.gap,
        }) && moved.contains(&Gap {
            edge,
            run: dart.gap + 1,
        }) {
            let dart = &mut piece.darts[index];
            dart.point = turn * dart.point;
            dart.aim = turn * dart.aim;
        }
    }
}

/// A line whose runs turn with the part in which their middles lie; runs that cross its border are cut there.
fn turned_line(line: &InnerLine, inside: &geometry::BezPath, turn: Affine) -> InnerLine {
    let mut runs = Vec::new();
    for run in &line.runs {
        for part in cut_at_border(run, inside) {
            let turns = contains(inside, part.point_at(part.length() / 2.0));
            runs.push(if turns { part.transformed(turn) } else { part });
        }
    }
    InnerLine {
        name: line.name.clone(),
        runs,
    }
}

/// Cuts a run where it enters or leaves a closed path, found by halving between samples.
fn cut_at_border(run: &Curve, inside: &geometry::BezPath) -> Vec<Curve> {
    const SAMPLES: u32 = 64;
    let length = run.length();
    // Ends often lie on the border itself, where inside and outside are a matter of rounding: look just within.
    let place = |step: u32| {
        (length * f64::from(step) / f64::from(SAMPLES)).clamp(SAME_POINT, length - SAME_POINT)
    };
    let is_inside = |along: f64| contains(inside, run.point_at(along));
    let mut cuts = vec![0.0];
    for step in 0..SAMPLES {
        let (mut low, mut high) = (place(step), place(step + 1));
        let before = is_inside(low);
        if before != is_inside(high) {
            while high - low > 1e-6 {
                let middle = f64::midpoint(low, high);
                if is_inside(middle) == before {
                    low = middle
                } else {
                    high = middle
                }
            }
            cuts.push(f64::midpoint(low, high));
        }
    }
    cuts.push(length);
    cuts.windows(2)
        .filter(|pair| pair[1] - pair[0] > SAME_POINT)
        .map(|pair| run.stretch(pair[0], pair[1]))
        .collect()
}

/// Joins the two runs at a closed dart, forgets the dart, and gives its name to the new one.
fn close_gap(piece: &mut Piece, gap: Gap, dart: &str) {
    let edge = &mut piece.edges[gap.edge];
    let after = edge.runs.remove(gap.run + 1);
    let before = &edge.runs[gap.run];
    let after = after.with_ends(before.end(), after.end());
    edge.runs[gap.run] = before
        .then(&after)
        .expect("the run after starts where the run before ends");
    let edge_name = edge.name.clone();
    piece.darts.retain(|other| other.name != dart);
    for other in &mut piece.darts {
        if other.edge == edge_name && other.gap > gap.run {
            other.gap -= 1;
        }
        if other.name.ends_with('\u{0}') {
            other.name.pop();
        }
    }
}

fn no_such_dart(piece: &Piece, dart: &str) -> Finding {
    let names: Vec<&str> = piece.darts.iter().map(|dart| dart.name.as_str()).collect();
    Finding::error(
        "dart-not-there",
        format!("the {} has no dart called {dart}", piece.name),
    )
    .at(Place::Piece(piece.name.clone()))
    .allowed(format!("one of: {}", names.join(", ")))
}

fn no_such_edge(piece: &Piece, edge: &str) -> Finding {
    let names: Vec<&str> = piece.edges.iter().map(|edge| edge.name.as_str()).collect();
    Finding::error(
        "edge-not-there",
        format!("the {} has no edge called {edge}", piece.name),
    )
    .at(Place::Piece(piece.name.clone()))
    .allowed(format!("one of: {}", names.join(", ")))
}

fn at_corner(piece: &Piece, edge: &str, along: f64) -> Finding {
    Finding::error(
        "dart-at-corner",
        format!("a dart cannot open at the corner of the {edge} ({along:.0} mm along it)"),
    )
    .at(Place::Edge {
        piece: piece.name.clone(),
        edge: edge.into(),
        at: None,
    })
    .cure("choose a place between the two corners of the edge")
}
