//! Joins two pieces along the seam between them: the opposite of cutting.
//!
//! **What it does.** Lays the second piece on the first along their seam, turned over where it must be, and makes one piece of
//! both; parts of one edge are that edge again, and a gap that was a dart before a style line absorbed it is a dart again.
//! **When it is used.** To take a style line back; to do without a side seam where it is straight.
//! **Example.** `join seam="princess"`: `front/centre` and `front/side` are the `front` again.
//! **What can go wrong.** The edges differ in shape; one side is eased; the edge has darts; both pieces lie on a fold.
//!
//! Invariants: cutting and joining gives the piece back; areas add up; all other seams find their edges.

use document::{Finding, Place as Spot};
use geometry::curve::{angle_between, turn_about};
use geometry::{Affine, Curve, Point};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::corner::{self, Tip};
use super::kit::find;
use super::kit::place::SAME_POINT;
use super::kit::turn_over::{moved, turned_over};
use super::kit::weld::{Half, Welded, weld};
use crate::check::SMOOTH_LIMIT;
use crate::name::{answers_to, root};
use crate::piece::Piece;
use crate::seam::{Fullness, Pattern, Seam, Stretch};

pub(super) const STEP: StepKind = StepKind {
    name: "join",
    group: Group::Line,
    summary: "makes one piece of two along the seam between them",
    manual: include_str!("join.rs"),
    parameters: &[
        Parameter::needed("seam", Kind::Seam, "seam that goes"),
        Parameter::usually(
            "name",
            Kind::Text,
            Usual::Nothing,
            "name of the joined piece",
        ),
        Parameter::usually(
            "share",
            Kind::Number(0.0, 1.0),
            Usual::Number(0.5),
            "where along the seam the two are laid on each other, where they do not lie so already",
        ),
    ],
    amount: None,
    apply: join,
};

/// One side of the seam: numbers of piece and edge, and whether the edge runs against the walk.
#[derive(Clone, Copy)]
struct Side {
    piece: usize,
    edge: usize,
    backwards: bool,
}

fn join(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let name = &arguments.name_of("seam")?.name;
    let seam = find::seam(pattern, name).map_err(|finding| arguments.blame("seam", finding))?;
    let blamed = |finding| arguments.blame("seam", finding);
    let [held, worked] = sides(pattern, seam).map_err(blamed)?;
    let over = held.backwards == worked.backwards;
    let first = &pattern.pieces[held.piece];
    let second = beside(pattern, [held, worked], over, arguments.plain("share")?);
    let edge = if over {
        second.edges.len() - 1 - worked.edge
    } else {
        worked.edge
    };
    let own = Half {
        piece: first,
        edge: held.edge,
    };
    let other = Half {
        piece: &second,
        edge,
    };
    let joined_name = arguments
        .word("name")
        .map_or_else(|_| whole(pattern, [held, worked]), String::from);
    let mut welded = weld(own, other, &joined_name, name).map_err(blamed)?;
    free_parents(&mut welded, pattern, [held, worked]);
    let line = first.edges[held.edge].runs[0].clone();
    let words = told(pattern, [held, worked], &welded, name);
    let mut changed = put(pattern, seam, ([held, worked], over), welded);
    for end in [line.start(), line.end()] {
        run_on_again(&mut changed, &joined_name, end);
    }
    Ok(Done {
        lines: vec![TraceLine::new(&joined_name, Trace::Slash, line)],
        words,
        pattern: changed,
    })
}

/// Both sides of a seam that joins one edge to one edge of another piece, without fullness.
fn sides(pattern: &Pattern, seam: &Seam) -> Result<[Side; 2], Finding> {
    let one = |side: &[Stretch]| {
        let [stretch] = side else { return None };
        let [(owner, edge)] = pattern.edges_of(stretch)[..] else {
            return None;
        };
        Some(Side {
            piece: pattern
                .pieces
                .iter()
                .position(|piece| piece.name == owner.name)?,
            edge: owner.edge_index(&edge.name)?,
            backwards: stretch.backwards,
        })
    };
    let (Some(held), Some(worked)) = (one(&seam.held), one(&seam.worked)) else {
        return Err(refused(
            seam,
            "joins more than two edges",
            "join these edges one after the other",
        ));
    };
    if held.piece == worked.piece {
        return Err(refused(
            seam,
            "joins a piece to itself",
            "choose a seam between two pieces",
        ));
    }
    if seam.fullness != Fullness::None {
        return Err(refused(
            seam,
            "is eased, gathered or pleated",
            "take its fullness away first",
        ));
    }
    let darts = [held, worked].into_iter().any(|side| {
        let piece = &pattern.pieces[side.piece];
        piece.edges[side.edge].runs.len() != 1
    });
    if darts {
        return Err(refused(
            seam,
            "has darts in its edges",
            "transfer them to another edge first",
        ));
    }
    Ok([held, worked])
}

/// The second piece where it lies beside the first, turned over where it must be.
fn beside(pattern: &Pattern, [held, worked]: [Side; 2], over: bool, share: f64) -> Piece {
    const TOUCHING: f64 = 0.01;
    let (first, second) = (&pattern.pieces[held.piece], &pattern.pieces[worked.piece]);
    let walked = |piece: &Piece, side: Side| {
        let run = &piece.edges[side.edge].runs[0];
        if side.backwards {
            run.reversed()
        } else {
            run.clone()
        }
    };
    let line = walked(first, held);
    if !over && touches(&line, &walked(second, worked), TOUCHING) {
        return second.clone();
    }
    let turned = if over {
        turned_over(second)
    } else {
        second.clone()
    };
    let edge = if over {
        turned.edges.len() - 1 - worked.edge
    } else {
        worked.edge
    };
    let own = &turned.edges[edge].runs[0];
    let own = if worked.backwards == over {
        own.clone()
    } else {
        own.reversed()
    };
    moved(&turned, laid_on(&own, &line, share))
}

/// Whether two lines lie on each other somewhere and run the same way there.
fn touches(one: &Curve, other: &Curve, within: f64) -> bool {
    const SAMPLES: u32 = 100;
    let lengths = [one.length(), other.length()];
    (0..=SAMPLES).any(|step| {
        let share = f64::from(step) / f64::from(SAMPLES);
        let [a, b] = [(one, lengths[0]), (other, lengths[1])]
            .map(|(curve, length)| curve.point_at(length * share));
        (a - b).hypot() < within
    })
}

/// The move that lays one line on another at a share of both.
fn laid_on(own: &Curve, line: &Curve, share: f64) -> Affine {
    let place = |curve: &Curve| {
        let along = curve.length() * share;
        (curve.point_at(along), curve.direction_at(along))
    };
    let ((from, way), (onto, aim)) = (place(own), place(line));
    Affine::translate(onto - from) * turn_about(from, angle_between(way, aim))
}

/// What both pieces were cut from, where nothing else of it is left; otherwise the name of the first.
fn whole(pattern: &Pattern, [held, worked]: [Side; 2]) -> String {
    let [one, other] = [held, worked].map(|side| pattern.pieces[side.piece].name.as_str());
    let parents = [one, other].map(|name| name.rsplit_once('/').map(|(parent, _)| parent));
    let [Some(parent), Some(second)] = parents else {
        return one.into();
    };
    if parent == second && pattern.pieces_of(parent).count() == 2 {
        parent.into()
    } else {
        one.into()
    }
}

/// An edge that is whole in this piece but goes on in another part of it keeps the name of its first part.
fn free_parents(welded: &mut Welded, pattern: &Pattern, sides: [Side; 2]) {
    let own = sides.map(|side| side.piece);
    let whole = root(&pattern.pieces[own[0]].name).to_string();
    let others: Vec<&Piece> = pattern
        .pieces
        .iter()
        .enumerate()
        .filter(|(index, piece)| !own.contains(index) && answers_to(&piece.name, &whole))
        .map(|(_, piece)| piece)
        .collect();
    for index in 0..welded.piece.edges.len() {
        let name = welded.piece.edges[index].name.clone();
        let goes_on = others
            .iter()
            .any(|piece| piece.edges.iter().any(|edge| edge.answers_to(&name)));
        let old = welded.names[0]
            .iter()
            .find(|(old, new)| *new == name && old != new);
        if let (true, Some((old, _))) = (goes_on, old.cloned()) {
            rename(welded, &name, &old);
        }
    }
}

fn rename(welded: &mut Welded, from: &str, to: &str) {
    let piece = &mut welded.piece;
    for edge in piece.edges.iter_mut().filter(|edge| edge.name == from) {
        edge.name = to.into();
    }
    for dart in piece.darts.iter_mut().filter(|dart| dart.edge == from) {
        dart.edge = to.into();
    }
    for mark in &mut piece.marks {
        if let crate::Mark::Notch { edge, .. } = mark
            && edge == from
        {
            *edge = to.into();
        }
    }
    for (_, new) in welded.names.iter_mut().flatten() {
        if new == from {
            *new = to.into();
        }
    }
}

/// The pattern with the joined piece in place of the two, and seams and girths that name its edges.
fn put(
    pattern: &Pattern,
    gone: &Seam,
    (sides, over): ([Side; 2], bool),
    welded: Welded,
) -> Pattern {
    let owners = sides.map(|side| pattern.pieces[side.piece].name.clone());
    let names = Names {
        owners,
        over,
        joined: welded.piece.name.clone(),
        edges: welded.names,
    };
    let mut changed = pattern.clone();
    changed.pieces[sides[0].piece] = welded.piece;
    changed.pieces.remove(sides[1].piece);
    changed.seams.retain(|seam| seam.name != gone.name);
    let mut seams = std::mem::take(&mut changed.seams);
    for seam in &mut seams {
        seam.held = names.side(pattern, &changed, &seam.held);
        seam.worked = names.side(pattern, &changed, &seam.worked);
    }
    changed.seams = seams;
    let mut girths = std::mem::take(&mut changed.girths);
    for girth in &mut girths {
        girth.parts = names.parts(&changed, &girth.parts);
    }
    changed.girths = girths;
    changed
}

/// Seams whose edges are smooth again at a corner that the two pieces had shared run on there again.
fn run_on_again(pattern: &mut Pattern, name: &str, at: Point) {
    let Some(piece) = pattern.pieces.iter().position(|piece| piece.name == name) else {
        return;
    };
    let edges = &pattern.pieces[piece].edges;
    let corner = edges
        .iter()
        .position(|edge| (edge.end() - at).hypot() < SAME_POINT);
    let Some(edge) = corner else { return };
    let tip = Tip {
        piece,
        edge,
        at_end: true,
    };
    for other in corner::meeting(pattern, tip) {
        let sum = tip.angle(pattern).degrees() + other.tip.angle(pattern).degrees();
        if (sum - 180.0).abs() < SMOOTH_LIMIT {
            pattern.seams[other.seam].runs_on[usize::from(other.last)] = true;
        }
    }
}

/// What the edges of two pieces are called since they are one.
struct Names {
    owners: [String; 2],
    /// Whether the second was turned over.
    over: bool,
    joined: String,
    edges: [Vec<(String, String)>; 2],
}

impl Names {
    /// A side of a seam; stretches that still mean the same are left as they are.
    fn side(&self, before: &Pattern, after: &Pattern, side: &[Stretch]) -> Vec<Stretch> {
        let mut all: Vec<Stretch> = Vec::new();
        for stretch in side {
            let mut own: Vec<Stretch> = Vec::new();
            for (piece, edge) in before.edges_of(stretch) {
                let now = self.stretch(&piece.name, &edge.name, stretch.backwards);
                if own.last() != Some(&now) {
                    own.push(now);
                }
            }
            if Self::is_same(after, stretch, &own) {
                own = vec![stretch.clone()];
            }
            all.extend(own);
        }
        all
    }

    fn is_same(after: &Pattern, stretch: &Stretch, own: &[Stretch]) -> bool {
        let edges = after.edges_of(stretch);
        let meant = edges
            .iter()
            .map(|(piece, edge)| (&piece.name, &edge.name, stretch.backwards));
        meant.eq(own.iter().map(|one| (&one.piece, &one.edge, one.backwards)))
    }

    fn stretch(&self, piece: &str, edge: &str, backwards: bool) -> Stretch {
        let which = self.owners.iter().position(|owner| owner == piece);
        match which.and_then(|which| Some((which, self.edge(which, edge)?))) {
            Some((which, new)) => Stretch {
                piece: self.joined.clone(),
                edge: new.into(),
                backwards: backwards != (self.over && which == 1),
            },
            None => Stretch {
                piece: piece.into(),
                edge: edge.into(),
                backwards,
            },
        }
    }

    fn edge(&self, which: usize, old: &str) -> Option<&str> {
        let found = self.edges[which].iter().find(|(name, _)| name == old)?;
        Some(&found.1)
    }

    /// Parts of a girth, each once.
    fn parts(&self, after: &Pattern, parts: &[(String, String)]) -> Vec<(String, String)> {
        let mut all: Vec<(String, String)> = Vec::new();
        for (piece, part) in parts {
            let which = self.owners.iter().position(|owner| owner == piece);
            let now = match which {
                Some(which) if after.piece(piece).is_none() || which == 1 => (
                    self.joined.clone(),
                    self.edge(which, part).unwrap_or(part).into(),
                ),
                _ => (piece.clone(), part.clone()),
            };
            if !all.contains(&now) {
                all.push(now);
            }
        }
        all
    }
}

fn told(pattern: &Pattern, sides: [Side; 2], welded: &Welded, seam: &str) -> String {
    let [one, other] = sides.map(|side| pattern.pieces[side.piece].name.as_str());
    let darts = if welded.darts.is_empty() {
        String::new()
    } else {
        format!("; the edges leave the {}", welded.darts.join(" and the "))
    };
    format!(
        "joined {one} and {other} along the {seam} seam into {}{darts}",
        welded.piece.name
    )
}

fn refused(seam: &Seam, what: &str, cure: &str) -> Finding {
    Finding::error(
        "seam-cannot-be-joined",
        format!("the {} seam {what}", seam.name),
    )
    .at(Spot::Seam(seam.name.clone()))
    .allowed("a flat seam between one edge and one edge of another piece")
    .cure(cure)
}
