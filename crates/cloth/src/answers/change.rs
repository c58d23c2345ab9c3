//! What could be done otherwise with the same garment, and the garment with it done.
//!
//! Knows patterns and ways to lay. Invariants: a change alters nothing that is seen from outside but a seam more, and that it
//! says; every new edge has its allowance.

use document::Finding;
use pattern::step::kit::divide::corner;
use pattern::step::{Along, Arguments, Place, STEPS, Value};
use pattern::{EdgeKind, Fullness, Laid, Layer, Pattern, Piece, Seam, Stretch, name};

use crate::goods::Cloth;
use crate::lay::{STRIPS, Way, Wishes, strip_square};

/// How far the grain may be off where that is tried, degrees; common practice, no source.
pub const OFF_GRAIN: f64 = 3.0;
/// A piece so many times longer than it is wide is a band, which may be pieced in its middle.
const BAND: f64 = 2.5;
/// What a seam that pieces a facing is called.
const PIECING: &str = "piecing";

/// One thing that could be done otherwise.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// The cloth is folded in this way instead.
    Way(Way),
    /// A piece that lies on the fold is laid whole.
    OffFold {
        /// The piece.
        piece: String,
    },
    /// The grain of every piece may be off by so many degrees.
    Grain(f64),
    /// A piece on the fold gets a seam where the fold was, and is cut as a pair.
    SeamAtFold {
        /// The piece.
        piece: String,
    },
    /// A piece that is not seen is made of two, sewn together between two corners or in its middle.
    Pieced {
        /// The piece.
        piece: String,
        /// Where the seam begins and ends.
        ends: [Place; 2],
        /// Where that is, in words: "between its front and its back".
        spot: String,
    },
}

/// A garment and wishes with a change in them.
#[derive(Clone, Debug, PartialEq)]
pub struct Changed {
    /// The garment.
    pub pattern: Pattern,
    /// The wishes.
    pub wishes: Wishes,
}

/// What could be done otherwise with the pieces of some layers, beginning from a lay of one way.
///
/// `others` are the ways that are tried besides.
pub fn candidates(pattern: &Pattern, layers: &[Layer], way: Way, others: &[Way]) -> Vec<Change> {
    let mut changes: Vec<Change> = Vec::new();
    let ways = others.iter().filter(|other| **other != way);
    changes.extend(ways.map(|way| Change::Way(*way)));
    changes.push(Change::Grain(OFF_GRAIN));
    let pieces = pattern.pieces.iter();
    let pieces: Vec<&Piece> = pieces
        .filter(|piece| layers.contains(&piece.cut.layer) && piece.cut.count > 0)
        .collect();
    let is_folded = matches!(way, Way::Lengthwise | Way::Partly);
    for piece in &pieces {
        if matches!(piece.cut.laid, Laid::OnFold(_)) {
            let piece = piece.name.clone();
            if is_folded {
                changes.push(Change::OffFold {
                    piece: piece.clone(),
                });
            }
            changes.push(Change::SeamAtFold { piece });
        }
    }
    let has_strips = strip_square(&pattern::Materials::of(pattern).strips).is_some();
    if is_folded && has_strips && layers.contains(&Layer::Shell) {
        changes.push(Change::OffFold {
            piece: STRIPS.to_owned(),
        });
    }
    changes.extend(pieces.iter().filter_map(|piece| pieced(piece)));
    changes
}

/// Where a piece that is not seen can be pieced: where a seam was joined away, or in the middle of a band.
fn pieced(piece: &Piece) -> Option<Change> {
    let is_band = name::root(&piece.name) == "waistband";
    let is_hidden = matches!(piece.cut.layer, Layer::Facing | Layer::Interfacing);
    if !is_band && !is_hidden {
        return None;
    }
    at_joined_seam(piece).or_else(|| in_the_middle(piece))
}

/// Corners between parts of one edge: there the piece was joined, and there a seam is usual.
fn at_joined_seam(piece: &Piece) -> Option<Change> {
    let next = piece.edges.iter().cycle().skip(1);
    let joined: Vec<_> = piece
        .edges
        .iter()
        .zip(next)
        .filter(|(one, other)| {
            one.name != other.name
                && name::root(&one.name) == name::root(&other.name)
                && name::root(&one.name) != one.name
                && one.kind != EdgeKind::Fold
                && other.kind != EdgeKind::Fold
        })
        .collect();
    let (from, onto) = joined.split_first()?;
    let place = |(one, other): &(&pattern::Edge, &pattern::Edge)| {
        Place::corner(&piece.name, &one.name, &other.name)
    };
    let apart = |to: &&(&pattern::Edge, &pattern::Edge)| from.0.end().distance(to.0.end());
    let to = onto
        .iter()
        .filter(|(one, _)| name::root(&one.name) != name::root(&from.0.name))
        .min_by(|a, b| apart(a).total_cmp(&apart(b)))?;
    Some(Change::Pieced {
        piece: piece.name.clone(),
        ends: [place(from), place(to)],
        spot: between(from.0, from.1),
    })
}

/// "between its front and its back": the parts of an edge by their own words.
fn between(one: &pattern::Edge, other: &pattern::Edge) -> String {
    let words = [one, other].map(|edge| edge.name.rsplit('/').next().unwrap_or_default());
    format!("between its {} and its {}", words[0], words[1])
}

/// The middle of the two longest edges of a band.
fn in_the_middle(piece: &Piece) -> Option<Change> {
    if matches!(piece.cut.laid, Laid::OnFold(_)) {
        // Its middle is the fold.
        return None;
    }
    let mut edges: Vec<&pattern::Edge> = piece.edges.iter().collect();
    edges.sort_by(|a, b| b.length().total_cmp(&a.length()));
    let [one, other, rest @ ..] = edges.as_slice() else {
        return None;
    };
    let across = rest.iter().map(|edge| edge.length()).fold(0.0, f64::max);
    let is_band = other.length() > BAND * across && one.length() < 2.0 * other.length();
    let middle = |edge: &pattern::Edge| Place::on_edge(&piece.name, &edge.name, Along::Share(0.5));
    is_band.then(|| Change::Pieced {
        piece: piece.name.clone(),
        ends: [middle(one), middle(other)],
        spot: "in the middle".to_owned(),
    })
}

impl Change {
    /// The garment and the wishes with this done; a finding where it cannot be.
    pub fn applied(&self, pattern: &Pattern, wishes: &Wishes) -> Result<Changed, Finding> {
        let (mut pattern, mut wishes) = (pattern.clone(), wishes.clone());
        match self {
            Self::Way(way) => wishes.ways = vec![*way],
            Self::OffFold { piece } => wishes.whole.push(piece.clone()),
            Self::Grain(degrees) => wishes.grain_tolerance = wishes.grain_tolerance.max(*degrees),
            Self::SeamAtFold { piece } => seam_at_fold(&mut pattern, piece)?,
            Self::Pieced { piece, ends, .. } => pattern = cut_in_two(&pattern, piece, ends)?,
        }
        Ok(Changed { pattern, wishes })
    }

    /// Whether the cloth forbids it whatever the pieces are.
    pub fn is_forbidden(&self, cloth: &Cloth) -> bool {
        // Stripes and plaids show a grain that is off.
        matches!(self, Self::Grain(_)) && cloth.repeats.any()
    }
}

/// Cuts a piece in two; its parts get the allowance of its seams along the new one.
fn cut_in_two(pattern: &Pattern, piece: &str, ends: &[Place; 2]) -> Result<Pattern, Finding> {
    let step = STEPS.iter().find(|step| step.name == "cut");
    let step = step.expect("there is a step that cuts");
    let [from, to] = ends.clone();
    let arguments = Arguments::new()
        .at("from", from)
        .at("to", to)
        .with("seam", Value::Text(PIECING.to_owned()));
    let mut pattern = step.run(pattern, &arguments)?.pattern;
    let allowance = usual_allowance(&pattern);
    for part in &mut pattern.pieces {
        if name::root(&part.name) != name::root(piece) {
            continue;
        }
        let edges = part.edges.iter_mut();
        let new = edges.filter(|edge| edge.answers_to(PIECING) && edge.allowance == 0.0);
        new.for_each(|edge| edge.allowance = allowance);
    }
    Ok(pattern)
}

/// Makes a seam of the edge on the fold, and a pair of the piece.
fn seam_at_fold(pattern: &mut Pattern, name: &str) -> Result<(), Finding> {
    let allowance = usual_allowance(pattern);
    let piece = pattern.piece_mut(name).ok_or_else(|| not_on_fold(name))?;
    let Laid::OnFold(fold) = piece.cut.laid.clone() else {
        return Err(not_on_fold(name));
    };
    let index = piece.edge_index(&fold).ok_or_else(|| not_on_fold(name))?;
    let count = piece.edges.len();
    piece.edges[index].kind = EdgeKind::Seam;
    piece.edges[index].allowance = allowance;
    for at in [(index + count - 1) % count, index] {
        let (this, next) = (piece.edges[at].kind, piece.edges[(at + 1) % count].kind);
        piece.edges[at].corner = corner(this, next);
    }
    piece.cut.laid = Laid::Pair;
    piece.cut.count *= 2;
    let taken: Vec<String> = pattern.seams.iter().map(|seam| seam.name.clone()).collect();
    let wanted = format!("{}-middle", name::root(name));
    pattern.seams.push(Seam {
        name: name::free_name(&wanted, taken.iter().map(String::as_str)),
        held: vec![Stretch::forwards(name, &fold)],
        worked: vec![Stretch::forwards(name, &fold)],
        fullness: Fullness::None,
        runs_on: [true, true],
    });
    Ok(())
}

/// The allowance that most seams of a pattern have, mm.
fn usual_allowance(pattern: &Pattern) -> f64 {
    let pieces = pattern.pieces.iter();
    let edges = pieces.flat_map(|piece| &piece.edges);
    let mut all: Vec<f64> = edges
        .filter(|edge| edge.kind == EdgeKind::Seam && edge.allowance > 0.0)
        .map(|edge| edge.allowance)
        .collect();
    all.sort_by(f64::total_cmp);
    let runs = all.chunk_by(|a, b| a == b);
    runs.max_by_key(|run| run.len()).map_or(0.0, |run| run[0])
}

fn not_on_fold(name: &str) -> Finding {
    Finding::error(
        "piece-not-on-fold",
        format!(
            "the {} does not lie on the fold",
            name.replace(['-', '/'], " ")
        ),
    )
    .allowed("a piece that is cut on the fold")
    .cure("name another piece")
}
