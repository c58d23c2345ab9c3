//! A lining piece while it is made: a copy of its shell piece, and what each of its edges is to the shell's.
//!
//! Knows no way of lining. Invariant: `meets` says of every edge that has a fellow on the shell by how much it is meant to
//! differ from it, so that what is derived can be walked against the shell.

use document::Span;
use geometry::Affine;
use pattern::makeup::Lies;
use pattern::{Edge, EdgeKind, Fullness, Layer, Pattern, Piece, Seam, Stretch, name};

use crate::block::skirt::found::is_skirt;

/// Differences of length that are none, mm.
const EVEN: f64 = 0.01;

/// The pieces above the waist that a lining follows, by the root of their name; bands, collars and cuffs have none.
const LINED: [&str; 3] = ["front", "back", "sleeve"];

/// A piece and its edge, by their names.
type On = (String, String);
/// An edge of a lining piece.
type Own<'a> = (&'a Inner, &'a Meet);

/// What an edge of the lining is to an edge of the shell.
#[derive(Clone, Debug)]
pub(super) struct Meet {
    /// Edge of the lining piece.
    pub(super) edge: String,
    /// Piece and edge of the shell, or of what lies between.
    pub(super) on: On,
    /// By how much the lining's is longer, mm; nothing where only a part of the edge is left.
    pub(super) more: Option<f64>,
    /// Whether what it is longer by is laid in a pleat.
    pub(super) pleated: bool,
    /// Whether the two lie on each other when the garment is made up.
    pub(super) mates: bool,
}

/// A lining piece and its shell piece.
#[derive(Clone, Debug)]
pub(super) struct Inner {
    /// The lining piece.
    pub(super) piece: Piece,
    /// Name of the shell piece.
    pub(super) upon: String,
    /// What its edges are to the shell's.
    pub(super) meets: Vec<Meet>,
}

impl Inner {
    /// The lining piece that is cut as its shell piece.
    pub(super) fn copy(shell: &Piece, asked: &Span) -> Self {
        let mut piece = shell.clone();
        piece.name = name::derived(&shell.name, "lining");
        piece.cut.layer = Layer::Lining;
        piece.asked = Some(asked.clone());
        let sewn = shell
            .edges
            .iter()
            .filter(|edge| edge.kind != EdgeKind::Fold);
        let meets = sewn.map(|edge| Meet {
            edge: edge.name.clone(),
            on: (shell.name.clone(), edge.name.clone()),
            more: Some(0.0),
            pleated: false,
            mates: true,
        });
        Self {
            meets: meets.collect(),
            upon: shell.name.clone(),
            piece,
        }
    }

    /// A lining piece of another cut, which meets the shell's skirt only as a whole.
    pub(super) const fn alone(piece: Piece, upon: String) -> Self {
        Self {
            piece,
            upon,
            meets: Vec::new(),
        }
    }

    /// What an edge is to the shell's, by the edge's number.
    pub(super) fn meet_mut(&mut self, edge: usize) -> Option<&mut Meet> {
        let name = &self.piece.edges[edge].name;
        self.meets.iter_mut().find(|meet| meet.edge == *name)
    }

    /// Notes that an edge became longer than meant before by so much.
    pub(super) fn lengthened(&mut self, edge: usize, by: f64, pleated: bool) {
        if let Some(meet) = self.meet_mut(edge) {
            meet.more = meet.more.map(|more| more + by);
            meet.pleated |= pleated;
        }
    }

    /// Numbers of the edges that answer to a name.
    pub(super) fn edges(&self, root: &str) -> Vec<usize> {
        let edges = self.piece.edges.iter().enumerate();
        edges
            .filter(|(_, edge)| edge.answers_to(root))
            .map(|(index, _)| index)
            .collect()
    }

    /// Where it lies: derived pieces keep the coordinates of their shell piece.
    pub(super) fn lies(&self) -> Lies {
        Lies {
            piece: self.piece.name.clone(),
            upon: self.upon.clone(),
            placed: Affine::IDENTITY,
        }
    }
}

/// The mates of all edges that lie on the shell's or on a facing; edges that lie on one edge together share one.
pub(super) fn mates(inners: &[Inner]) -> Vec<Seam> {
    let mut groups: Vec<(&On, Vec<Own<'_>>)> = Vec::new();
    for inner in inners {
        for meet in inner.meets.iter().filter(|meet| meet.mates) {
            match groups.iter_mut().find(|(on, _)| **on == meet.on) {
                Some((_, group)) => group.push((inner, meet)),
                None => groups.push((&meet.on, vec![(inner, meet)])),
            }
        }
    }
    let mates = groups.iter().map(|(on, group)| mate(on, group));
    mates.flatten().collect()
}

fn mate((piece, edge): &On, group: &[Own<'_>]) -> Option<Seam> {
    let more = group.iter().map(|(_, meet)| meet.more);
    let more: f64 = more.sum::<Option<f64>>()?;
    let pleated = group.iter().any(|(_, meet)| meet.pleated);
    let own = group
        .iter()
        .map(|(inner, meet)| Stretch::forwards(&inner.piece.name, &meet.edge));
    let own: Vec<Stretch> = own.collect();
    let other = vec![Stretch::forwards(piece, edge)];
    let (first, meet) = group.first()?;
    let (held, worked) = if more < 0.0 {
        (own, other)
    } else {
        (other, own)
    };
    Some(Seam {
        name: format!("{}-{}", first.piece.name, meet.edge).replace('/', "-"),
        held,
        worked,
        fullness: fullness(more.abs(), pleated),
        runs_on: [false, false],
    })
}

/// How a side that is longer by so much is made to fit.
pub(super) fn fullness(more: f64, pleated: bool) -> Fullness {
    match (more.abs() < EVEN, pleated) {
        (true, _) => Fullness::None,
        (false, true) => Fullness::Pleated(more),
        (false, false) => Fullness::Eased(more),
    }
}

/// The shell pieces that are lined.
pub(super) fn lined(pattern: &Pattern) -> impl Iterator<Item = &Piece> {
    pattern.pieces.iter().filter(|piece| {
        let root = name::root(&piece.name);
        let is_body = LINED.contains(&root) || is_skirt(root);
        is_body && piece.cut.layer == Layer::Shell && !pattern.makeup.is_derived(&piece.name)
    })
}

/// Length of an edge in the whole garment, mm.
pub(super) fn in_garment(piece: &Piece, edge: &Edge) -> f64 {
    edge.length() * piece.halves()
}
