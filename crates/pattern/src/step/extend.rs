//! Adds an extension beyond an edge: a button stand, an overlap, an underlap.
//!
//! **What it does.** Moves the edge out by the width; where it was stays as a line inside, and the ends of the extension are edges
//! of their own, straight and as the neighbours are finished. A piece that lay on the fold is cut as a pair. Extensions of two
//! pieces that are sewn together at their ends get a seam there.
//! **When it is used.** For buttons down the front or back, a wrap, a placket. The width of a button stand is at least half a
//! button and a little beyond the centre line.
//! **Example.** `extend edge="front.centre, skirt-front.centre" by="20 mm"`.
//! **What can go wrong.** The edge is sewn to another one; a dart opens at it.
//!
//! Invariants: the edge keeps its name and its angles to its neighbours; all other edges stay bit for bit; all seams walk as
//! before.

use document::{Finding, Place as Spot};
use geometry::curve::angle_between;
use geometry::{Affine, Curve, Vec2};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::bend::{Ends as Moves, bent};
use super::kit::new_piece::{corners, seam_name};
use super::kit::true_up::Keep;
use super::kit::{find, walk};
use crate::name::{free_name, part_of};
use crate::piece::{Edge, EdgeKind, InnerLine, Laid, Piece};
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const STEP: StepKind = StepKind {
    name: "extend",
    group: Group::Build,
    summary: "adds a button stand or an overlap beyond an edge",
    manual: include_str!("extend.rs"),
    parameters: &[
        Parameter::needed("edge", Kind::Edge, "edges beyond which it lies").many(),
        Parameter::needed("by", Kind::Length(5.0, 400.0), "how wide it is"),
        Parameter::usually("name", Kind::Text, Usual::Word("stand"), "name of its ends"),
    ],
    amount: None,
    apply: extend,
};

/// Where an extension lies: its piece and the edges of its ends, with the neighbours that they prolong.
struct Ends {
    piece: String,
    /// Neighbour and end: before the edge, and after it.
    pairs: [(String, String); 2],
}

fn extend(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (by, name) = (arguments.mm("by")?, arguments.word("name")?);
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut ends = Vec::new();
    for named in arguments.names_of("edge") {
        let blame = |finding| arguments.blame("edge", finding);
        let (index, edge) = find::edge(&changed, named).map_err(blame)?;
        let piece = &changed.pieces[index];
        let owner = &piece.edges[edge];
        if walk::is_sewn(&changed, &piece.name, &owner.name) {
            return Err(blame(refused(
                piece,
                edge,
                "is sewn to another edge",
                "name an edge that is open or on the fold",
            )));
        }
        if owner.runs.len() > 1 {
            return Err(blame(refused(
                piece,
                edge,
                "has a dart in it",
                "transfer the dart first",
            )));
        }
        let piece = &mut changed.pieces[index];
        lines.push(TraceLine::new(
            &piece.name,
            Trace::Moved,
            piece.edges[edge].runs[0].clone(),
        ));
        ends.push(widen(piece, edge, by, name));
    }
    let more = seams(&changed, &ends, name);
    changed.seams.extend(more);
    let where_: Vec<String> = arguments
        .names_of("edge")
        .iter()
        .map(|named| format!("{} of the {}", named.name, named.piece))
        .collect();
    let words = format!("added {by:.0} mm beyond the {}", where_.join(" and the "));
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn widen(piece: &mut Piece, edge: usize, by: f64, name: &str) -> Ends {
    let count = piece.edges.len();
    let [before, after] = [(edge + count - 1) % count, (edge + 1) % count];
    let old = piece.edges[edge].clone();
    let run = old.runs[0].clone();
    let neighbours = [before, after].map(|index| piece.edges[index].clone());
    let ways = [
        neighbours[0].end_direction(),
        -neighbours[1].start_direction(),
    ];
    let new = moved_out(&run, ways, by);
    let mut taken: Vec<String> = piece.edges.iter().map(|edge| edge.name.clone()).collect();
    let mut end = |neighbour: &Edge, line: Curve| {
        let wanted = format!("{name}-{}", neighbour.name.replace('/', "-"));
        let free = free_name(&wanted, taken.iter().map(String::as_str));
        taken.push(free.clone());
        Edge {
            kind: if neighbour.kind == EdgeKind::Seam {
                EdgeKind::Finished
            } else {
                neighbour.kind
            },
            allowance: neighbour.allowance,
            ..Edge::new(free, neighbour.kind, line)
        }
    };
    let first = end(&neighbours[0], Curve::line(run.start(), new.start()));
    let last = end(&neighbours[1], Curve::line(new.end(), run.end()));
    let pairs = [
        (neighbours[0].name.clone(), first.name.clone()),
        (neighbours[1].name.clone(), last.name.clone()),
    ];
    let open = Edge {
        runs: vec![new],
        kind: if old.kind == EdgeKind::Fold {
            EdgeKind::Finished
        } else {
            old.kind
        },
        allowance: neighbours
            .iter()
            .map(|edge| edge.allowance)
            .fold(old.allowance, f64::max),
        ..old.clone()
    };
    piece.edges.splice(edge..=edge, [first, open, last]);
    let taken = piece.lines.iter().map(|line| line.name.as_str());
    let line = free_name(&format!("{}-line", old.name.replace('/', "-")), taken);
    piece.lines.push(InnerLine {
        name: line,
        runs: vec![run],
    });
    if piece.cut.laid == Laid::OnFold(old.name) {
        piece.cut.laid = Laid::Pair;
        piece.cut.count *= 2;
    }
    corners(piece);
    Ends {
        piece: piece.name.clone(),
        pairs,
    }
}

/// The edge as it lies beyond: its ends prolong the neighbours, or lie square to the edge where those come aslant.
fn moved_out(run: &Curve, ways: [Vec2; 2], by: f64) -> Curve {
    const ASLANT: f64 = 15.0;
    let chord = run.end() - run.start();
    let square = Vec2::new(chord.y, -chord.x) / chord.hypot();
    let [start, end] = ways.map(|way| {
        let is_aslant = angle_between(square, way).degrees().abs() > ASLANT;
        let out = if is_aslant {
            square
        } else {
            way / way.dot(square)
        };
        Affine::translate(out * by)
    });
    bent(run, Moves { start, end }, Keep::Shape)
        .unwrap_or_else(|| run.transformed(Affine::translate(square * by)))
}

/// Seams between the ends of two extensions whose neighbours are sewn together.
fn seams(pattern: &Pattern, ends: &[Ends], name: &str) -> Vec<Seam> {
    let mut found = Vec::new();
    for (index, one) in ends.iter().enumerate() {
        for other in &ends[index + 1..] {
            for (near, own) in &one.pairs {
                for (far, its) in &other.pairs {
                    let both = [
                        (one.piece.as_str(), near.as_str()),
                        (other.piece.as_str(), far.as_str()),
                    ];
                    if let Some(seam) = pattern
                        .seams
                        .iter()
                        .find(|seam| joins_both(pattern, seam, both))
                    {
                        found.push(Seam {
                            name: seam_name(pattern, &part_of(&seam.name, name)),
                            held: vec![Stretch::forwards(&one.piece, own)],
                            worked: vec![Stretch::backwards(&other.piece, its)],
                            fullness: Fullness::None,
                            runs_on: [false, false],
                        });
                    }
                }
            }
        }
    }
    found
}

fn joins_both(pattern: &Pattern, seam: &Seam, both: [(&str, &str); 2]) -> bool {
    let sides = [&seam.held, &seam.worked].map(|side| walk::written_out(pattern, side));
    let on = |side: &[Stretch], (piece, edge): (&str, &str)| {
        side.iter()
            .any(|one| one.piece == piece && one.edge == edge)
    };
    let [one, other] = both;
    on(&sides[0], one) && on(&sides[1], other) || on(&sides[0], other) && on(&sides[1], one)
}

fn refused(piece: &Piece, edge: usize, what: &str, cure: &str) -> Finding {
    let name = &piece.edges[edge].name;
    Finding::error(
        "edge-cannot-be-extended",
        format!("the {name} of the {} {what}", piece.name),
    )
    .at(Spot::Edge {
        piece: piece.name.clone(),
        edge: name.clone(),
        at: None,
    })
    .cure(cure)
}
