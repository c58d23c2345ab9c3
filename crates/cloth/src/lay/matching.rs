//! Stripes and plaids through seams: which point of each piece lies on a main bar.
//!
//! Bars that run across the cloth meet at seams that run along the grain: at a notch of both sides, or where the seam ends, both
//! sides have the same place in the repeat. From piece to piece that settles all pieces that such seams join. Bars along the
//! cloth have a main one on every centre line. A patch lies as the cloth behind it does. This is common practice; sources are
//! named in docs/lay.md. Knows patterns, no cloth. Invariant: places are in the grain frames of the pieces as [`super::kind`]
//! makes them, before origins are moved.

use geometry::{Affine, Point};
use pattern::{Edge, EdgeKind, Mark, Pattern, Piece, Seam, Stretch};

use super::kind::Kind;

/// How far bars may be off and still meet, mm: the width of a thread or two.
const MATCHED: f64 = 0.4;

/// A place where two pieces show the same place of the repeat.
#[derive(Clone, Debug, PartialEq)]
pub struct Meeting {
    /// The seam, or the patch.
    pub name: String,
    /// What it is matched at: the name of a notch, or "its lower end".
    pub at: String,
    /// The pieces, and where on each, in the coordinates of its drawing.
    pub sides: [(String, Point); 2],
    /// Whether bars along the cloth meet as well.
    pub across: bool,
}

/// What is asked of the matching.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Matching {
    /// Whether sleeves are matched to the bodice at the front notch of the armhole.
    pub sleeves: bool,
    /// The notch at which seams are matched where they have it; the lowest of both sides otherwise.
    pub level: Option<String>,
}

/// Where the pieces hold the repeat.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Held {
    /// For each kind, what lies on a main bar: x for bars across the cloth, y for bars along it, in its grain frame.
    pub(super) origins: Vec<[Option<f64>; 2]>,
}

/// The places at which seams and patches are matched.
pub fn meetings(pattern: &Pattern, names: &[&str], wishes: &Matching) -> Vec<Meeting> {
    let is_here = |name: &str| names.contains(&name);
    let seams = pattern
        .seams
        .iter()
        .filter_map(|seam| seam_meeting(pattern, seam, wishes));
    let patches = pattern.makeup.lies.iter().filter_map(|lies| {
        let (patch, upon) = (pattern.piece(&lies.piece)?, pattern.piece(&lies.upon)?);
        (patch.cut.layer == upon.cut.layer && patch.cut.layer == pattern::Layer::Shell).then(|| {
            let at = patch.edges.first().map_or(Point::ORIGIN, Edge::start);
            Meeting {
                name: patch.title(),
                at: "all of it".to_owned(),
                sides: [
                    (upon.name.clone(), lies.placed * at),
                    (patch.name.clone(), at),
                ],
                across: true,
            }
        })
    });
    let mut meetings: Vec<Meeting> = seams.collect();
    // A pocket bag behind a seam is not seen: only what is sewn on all round is a patch.
    meetings.extend(patches.filter(|one| is_patch(pattern, &one.sides[1].0)));
    meetings.retain(|one| one.sides.iter().all(|(piece, _)| is_here(piece)));
    meetings
}

/// Whether a derived piece of the shell is sewn on top, joined to nothing by a seam.
fn is_patch(pattern: &Pattern, name: &str) -> bool {
    let sides = |seam: &Seam| {
        seam.held
            .iter()
            .chain(&seam.worked)
            .any(|one| one.piece == name)
    };
    !pattern.seams.iter().any(sides)
}

fn seam_meeting(pattern: &Pattern, seam: &Seam, wishes: &Matching) -> Option<Meeting> {
    let is_armhole = seam.name.starts_with("armhole");
    if is_armhole && !(wishes.sleeves && seam.name == "armhole-front") {
        return None;
    }
    let [held, worked] = [places(pattern, &seam.held), places(pattern, &seam.worked)];
    let mut found: Vec<(&Place, &Place)> = Vec::new();
    for here in &held {
        let there = worked.iter().find(|there| there.name == here.name);
        found.extend(there.map(|there| (here, there)));
    }
    if !is_armhole {
        found.retain(|(here, there)| here.along_grain && there.along_grain);
    }
    let wished = found
        .iter()
        .find(|(here, _)| wishes.level.as_deref() == Some(here.name.as_str()) && !here.is_end);
    let lowest = |ends: bool| {
        let of_kind = found.iter().filter(move |(here, _)| here.is_end == ends);
        of_kind.max_by(|a, b| a.0.level.total_cmp(&b.0.level))
    };
    let (here, there) = *wished.or_else(|| lowest(false)).or_else(|| lowest(true))?;
    Some(Meeting {
        name: seam.name.clone(),
        at: if here.is_end {
            "its lower end".to_owned()
        } else {
            here.name.clone()
        },
        sides: [
            (here.piece.clone(), here.at),
            (there.piece.clone(), there.at),
        ],
        across: false,
    })
}

/// A place on one side of a seam.
struct Place {
    name: String,
    is_end: bool,
    piece: String,
    at: Point,
    /// How far down the grain of its piece it lies.
    level: f64,
    /// Whether the edge runs rather along the grain than across it.
    along_grain: bool,
}

/// Notches and ends of a side, in the order in which it is walked.
fn places(pattern: &Pattern, side: &[Stretch]) -> Vec<Place> {
    let mut found = Vec::new();
    let edges: Vec<(&Piece, &Edge, bool)> = side
        .iter()
        .flat_map(|one| {
            let edges = pattern.edges_of(one).into_iter();
            edges.map(|(piece, edge)| (piece, edge, one.backwards))
        })
        .collect();
    for (index, &(piece, edge, backwards)) in edges.iter().enumerate() {
        let place = |name: &str, is_end: bool, at: Point| Place {
            name: name.to_owned(),
            is_end,
            piece: piece.name.clone(),
            at,
            level: (upright(piece) * at).x,
            along_grain: runs_along(piece, edge),
        };
        let (first, last) = if backwards {
            (edge.end(), edge.start())
        } else {
            (edge.start(), edge.end())
        };
        if index == 0 {
            found.push(place("start", true, first));
        }
        for mark in &piece.marks {
            if let Mark::Notch {
                name,
                edge: on,
                along,
                ..
            } = mark
                && *on == edge.name
            {
                found.push(place(name, false, edge.place_at(*along).0));
            }
        }
        if index + 1 == edges.len() {
            found.push(place("end", true, last));
        }
    }
    found
}

fn upright(piece: &Piece) -> Affine {
    Affine::rotate(-piece.grain.radians())
}

fn runs_along(piece: &Piece, edge: &Edge) -> bool {
    let way = upright(piece) * (edge.end() - edge.start()).to_point();
    way.x.abs() > way.y.abs()
}

/// From the meetings to the origins: each group of pieces that meet has the first meeting of its first piece on a main bar.
pub(super) fn held(pattern: &Pattern, kinds: &[Kind], meetings: &[Meeting]) -> Held {
    let mut origins: Vec<[Option<f64>; 2]> = kinds
        .iter()
        .map(|kind| [None, centre(pattern, kind)])
        .collect();
    let at = |name: &str| kinds.iter().position(|kind| kind.name == name);
    let links: Vec<([usize; 2], [Point; 2], bool)> = meetings
        .iter()
        .filter_map(|one| {
            let [(a, from), (b, to)] = &one.sides;
            let (a, b) = (at(a)?, at(b)?);
            let points = [kinds[a].frame * *from, kinds[b].frame * *to];
            Some(([a, b], points, one.across))
        })
        .collect();
    for &([root, _], [point, _], _) in &links {
        if origins[root][0].is_none() {
            origins[root][0] = Some(point.x);
        }
        // As many rounds as there are links reach every piece of the group.
        for _ in 0..links.len() {
            for &([a, b], [from, to], across) in &links {
                spread(&mut origins, [a, b], [from.x, to.x], 0);
                if across {
                    spread(&mut origins, [a, b], [from.y, to.y], 1);
                }
            }
        }
    }
    Held { origins }
}

/// The meetings that hold, and for each of the others how far its bars are off whatever is done: seams that close a round.
pub(super) fn sorted(
    kinds: &[Kind],
    held: &Held,
    meetings: Vec<Meeting>,
    every: [Option<f64>; 2],
) -> (Vec<Meeting>, Vec<(Meeting, f64)>) {
    let (mut kept, mut lost) = (Vec::new(), Vec::new());
    for meeting in meetings {
        let by = residue(kinds, held, &meeting, every);
        if by > MATCHED {
            lost.push((meeting, by));
        } else {
            kept.push(meeting);
        }
    }
    (kept, lost)
}

/// How far the bars of a meeting are off, mm.
fn residue(kinds: &[Kind], held: &Held, meeting: &Meeting, every: [Option<f64>; 2]) -> f64 {
    let side = |(name, point): &(String, Point)| {
        let at = kinds.iter().position(|kind| kind.name == *name)?;
        let place = kinds[at].frame * *point;
        let [x, y] = held.origins[at];
        Some([x.map(|x| place.x - x), y.map(|y| place.y - y)])
    };
    let [Some(one), Some(other)] = [&meeting.sides[0], &meeting.sides[1]].map(side) else {
        return 0.0;
    };
    let axes = if meeting.across { 2 } else { 1 };
    let off = |axis: usize| {
        let rest = (one[axis]? - other[axis]?).rem_euclid(every[axis]?);
        Some(rest.min(every[axis]? - rest))
    };
    (0..axes).filter_map(off).fold(0.0, f64::max)
}

/// Settles one piece of a link by the other.
fn spread(origins: &mut [[Option<f64>; 2]], pieces: [usize; 2], at: [f64; 2], axis: usize) {
    let [a, b] = pieces;
    match (origins[a][axis], origins[b][axis]) {
        (Some(known), None) => origins[b][axis] = Some(at[1] - (at[0] - known)),
        (None, Some(known)) => origins[a][axis] = Some(at[0] - (at[1] - known)),
        _ => {}
    }
}

/// Where the centre line of a piece lies across its grain: its fold, or its centre edge where that runs along the grain.
fn centre(pattern: &Pattern, kind: &Kind) -> Option<f64> {
    let piece = pattern.piece(&kind.name)?;
    let edge = piece.edges.iter().find(|edge| {
        edge.kind == EdgeKind::Fold || edge.answers_to("centre") || edge.name == "centre"
    })?;
    let [from, to] = [edge.start(), edge.end()].map(|end| kind.frame * end);
    let way = to - from;
    (way.y.abs() < 0.02 * way.x.abs()).then_some(0.5 * (from.y + to.y))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_piece_settles_the_next() {
        let mut origins = vec![[Some(100.0), None], [None, None], [None, None]];
        spread(&mut origins, [0, 1], [130.0, 20.0], 0);
        assert_eq!(origins[1][0], Some(-10.0));
        spread(&mut origins, [2, 1], [7.0, 0.0], 0);
        assert_eq!(origins[2][0], Some(-3.0));
    }
}
