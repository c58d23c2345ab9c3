//! Thread, from the length of everything that is sewn and the stitch by which it is.
//!
//! Invariants: an edge is sewn once, however many layers it joins; what lies in a seam of the shell is sewn with that seam;
//! lengths are those of the whole garment.

use super::figures::{
    BASTING, BUTTON, BUTTONHOLE, BY_HAND, GATHERING_ROWS, HOOK, NARROW_HEM_ROWS, SPOOL, WASTE,
    ZIGZAG, lockstitch,
};
use super::{copies, sewn, strip};
use crate::makeup::{Closing, Closure, HemFinish, LiningWay, Stay};
use crate::piece::{Edge, EdgeKind, Layer, Piece};
use crate::seam::{Fullness, Pattern, Seam};

/// What is sewn, and how.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stitching {
    /// Seams, by machine.
    Seams,
    /// Darts, by machine.
    Darts,
    /// Facings and linings to the edges behind which they lie, by machine.
    Layers,
    /// Rows by which edges are gathered, by machine.
    Gathers,
    /// Rows that keep edges from stretching, by machine.
    Staystitching,
    /// Narrow hems and strips that bind, by machine.
    Hems,
    /// Zips, by machine.
    Zips,
    /// Buttonholes, by machine.
    Buttonholes,
    /// Raw edges of seams, by zigzag.
    Neatening,
    /// Hems, bindings and layers that are felled, by hand.
    Felling,
    /// Buttons and hooks, by hand.
    Fastenings,
}

impl Stitching {
    /// All of them, in the order in which they are shown.
    pub const ALL: [Self; 11] = [
        Self::Seams,
        Self::Darts,
        Self::Layers,
        Self::Gathers,
        Self::Staystitching,
        Self::Hems,
        Self::Zips,
        Self::Buttonholes,
        Self::Neatening,
        Self::Felling,
        Self::Fastenings,
    ];

    /// The word for it in files.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seams => "seams",
            Self::Darts => "darts",
            Self::Layers => "layers",
            Self::Gathers => "gathers",
            Self::Staystitching => "staystitching",
            Self::Hems => "hems",
            Self::Zips => "zips",
            Self::Buttonholes => "buttonholes",
            Self::Neatening => "neatening",
            Self::Felling => "felling",
            Self::Fastenings => "fastenings",
        }
    }

    /// By what it is sewn: `lockstitch` and `zigzag` (types 301 and 304 of ISO 4915), `hand`.
    pub const fn stitch(self) -> &'static str {
        match self {
            Self::Neatening | Self::Buttonholes => "zigzag",
            Self::Felling | Self::Fastenings => "hand",
            _ => "lockstitch",
        }
    }
}

/// All that is sewn in one way.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ThreadRow {
    /// What is sewn.
    pub what: Stitching,
    /// Its length, mm; 0 for buttons and hooks.
    pub length: f64,
    /// The thread that stays in the cloth, mm.
    pub thread: f64,
}

/// Thread for a garment.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Thread {
    /// What is sewn, without what the garment has nothing of.
    pub rows: Vec<ThreadRow>,
}

impl Thread {
    /// All of it with the waste, mm.
    pub fn total(&self) -> f64 {
        self.rows.iter().map(|row| row.thread).sum::<f64>() * (1.0 + WASTE)
    }

    /// Usual spools that hold it.
    pub fn spools(&self) -> u32 {
        (self.total() / SPOOL).ceil() as u32
    }
}

/// Thread of a pattern.
pub(super) fn thread(pattern: &Pattern) -> Thread {
    let mut tally = Tally {
        pattern,
        rows: Vec::new(),
    };
    for seam in &pattern.seams {
        tally.seam(seam);
    }
    for mate in &pattern.makeup.mates {
        tally.mate(mate);
    }
    for piece in &pattern.pieces {
        tally.piece(piece);
    }
    for closing in &pattern.makeup.closings {
        tally.closing(closing);
    }
    for stayed in &pattern.makeup.stayed {
        if let (Stay::Staystitching, Some(piece)) = (stayed.stay, pattern.piece(&stayed.piece)) {
            tally.machine(
                Stitching::Staystitching,
                stayed.length * copies(piece),
                &[piece.cut.layer],
            );
        }
    }
    for one in &pattern.makeup.by_hand {
        if one.stitch < BASTING {
            tally.add(Stitching::Felling, one.length, one.length * BY_HAND);
        }
    }
    tally.rows.sort_by_key(|row| row.what);
    tally.rows.retain(|row| row.thread > 0.0);
    Thread { rows: tally.rows }
}

struct Tally<'a> {
    pattern: &'a Pattern,
    rows: Vec<ThreadRow>,
}

impl Tally<'_> {
    fn seam(&mut self, seam: &Seam) {
        let times = sewn::times(self.pattern, seam);
        let length = self.pattern.side_length(&seam.held) * times;
        self.machine(Stitching::Seams, length, &sewn::layers(self.pattern, seam));
        if let Fullness::Gathered(_) = seam.fullness {
            let worked = self.pattern.side_length(&seam.worked) * times;
            let layer = sewn::layers(self.pattern, seam).last().copied();
            self.machine(
                Stitching::Gathers,
                worked * GATHERING_ROWS,
                layer.as_slice(),
            );
        }
    }

    /// A layer behind another is sewn to its edge, unless that edge is sewn to something else: there it is caught in the seam.
    /// Interfacing is stuck or caught, a mounted lining basted; what is felled by hand is told by itself.
    fn mate(&mut self, mate: &Seam) {
        let layers = sewn::layers(self.pattern, mate);
        let way = self.pattern.makeup.lined.as_ref().map(|lined| lined.way);
        let by_hand = matches!(way, Some(LiningWay::Mounted | LiningWay::Open));
        let is_apart = layers.contains(&Layer::Interfacing)
            || layers.contains(&Layer::Lining) && by_hand
            || sewn::is_sewn_outside(self.pattern, mate);
        if !is_apart {
            let length = self.pattern.side_length(&mate.held) * sewn::times(self.pattern, mate);
            self.machine(Stitching::Layers, length, &layers);
        }
    }

    /// Darts, hems, and edges that are sewn to themselves or to their mirror image.
    fn piece(&mut self, piece: &Piece) {
        let (copies, layer) = (copies(piece), piece.cut.layer);
        if layer == Layer::Interfacing {
            return;
        }
        for dart in &piece.darts {
            let [leg, _] = piece.legs(dart).lengths();
            self.machine(Stitching::Darts, leg * copies, &[layer; 2]);
        }
        for edge in &piece.edges {
            self.edge(piece, edge, copies);
        }
    }

    fn edge(&mut self, piece: &Piece, edge: &Edge, copies: f64) {
        let (length, layer) = (edge.length() * copies, piece.cut.layer);
        let in_seam = sewn::is_in(self.pattern, &self.pattern.seams, piece, edge);
        let in_mate = sewn::is_in(self.pattern, &self.pattern.makeup.mates, piece, edge);
        match edge.kind {
            EdgeKind::Seam | EdgeKind::Opening if !in_seam && !in_mate => {
                // Two edges make one seam; one that is there once is folded onto itself or felled down. A patch is sewn on
                // all round.
                let is_patch = layer == Layer::Shell && self.pattern.makeup.is_derived(&piece.name);
                let own = if copies > 1.0 && !is_patch {
                    length / 2.0
                } else {
                    length
                };
                self.machine(Stitching::Seams, own, &[layer; 2]);
            }
            EdgeKind::Hem | EdgeKind::Finished => self.own_finish(piece, edge, length, in_mate),
            EdgeKind::Fold | EdgeKind::Seam | EdgeKind::Opening => {}
        }
        let is_raw = match edge.kind {
            EdgeKind::Seam | EdgeKind::Opening => in_seam || !in_mate,
            EdgeKind::Finished => layer == Layer::Facing && !in_mate,
            EdgeKind::Fold | EdgeKind::Hem => false,
        };
        if is_raw && edge.allowance > 0.0 && sewn::needs_neatening(self.pattern, piece, edge) {
            self.add(Stitching::Neatening, length, length * ZIGZAG);
        }
    }

    /// Whether an edge is sewn to another one of the same layer.
    fn is_seam(&self, piece: &Piece, edge: &Edge) -> bool {
        let pattern = self.pattern;
        let is_alone = !sewn::is_in(pattern, &pattern.makeup.mates, piece, edge);
        sewn::is_in(pattern, &pattern.seams, piece, edge)
            || is_alone && matches!(edge.kind, EdgeKind::Seam | EdgeKind::Opening)
    }

    fn own_finish(&mut self, piece: &Piece, edge: &Edge, length: f64, in_mate: bool) {
        let finish = strip::hem(self.pattern, piece, edge).map(|hem| hem.finish);
        let layer = piece.cut.layer;
        if strip::is_bound(self.pattern, piece, edge) {
            self.machine(Stitching::Hems, length, &[layer; 2]);
            self.add(Stitching::Felling, length, length * BY_HAND);
        } else if finish == Some(HemFinish::Narrow) {
            self.machine(Stitching::Hems, length * NARROW_HEM_ROWS, &[layer; 3]);
        } else if edge.kind == EdgeKind::Hem
            && (finish.is_some() || !in_mate)
            && !self.is_told_by_hand(piece)
        {
            self.add(Stitching::Felling, length, length * BY_HAND);
        }
    }

    /// Whether what is felled of a piece is told by itself: of a lining it is.
    fn is_told_by_hand(&self, piece: &Piece) -> bool {
        piece.cut.layer == Layer::Lining && self.pattern.makeup.lined.is_some()
    }

    fn closing(&mut self, closing: &Closing) {
        // What opens was counted among the seams.
        let pattern = self.pattern;
        let edges = closing.along.iter().flat_map(|one| pattern.edges_of(one));
        let counted = edges.filter(|(piece, edge)| self.is_seam(piece, edge));
        let sewn: f64 = counted.map(|(_, edge)| edge.length()).sum();
        self.machine(
            Stitching::Seams,
            -closing.opening.min(sewn),
            &[Layer::Shell; 2],
        );
        match closing.closure {
            Closure::InvisibleZip | Closure::LappedZip => {
                self.machine(Stitching::Zips, 2.0 * closing.opening, &[Layer::Shell; 2]);
            }
            Closure::Buttons { count, hole, .. } => {
                let count = f64::from(count);
                self.add(
                    Stitching::Buttonholes,
                    count * hole,
                    count * hole * BUTTONHOLE,
                );
                self.add(Stitching::Fastenings, 0.0, count * BUTTON);
            }
            Closure::Hooks { count } => {
                self.add(Stitching::Fastenings, 0.0, f64::from(count) * HOOK);
            }
        }
    }
}

impl Tally<'_> {
    fn add(&mut self, what: Stitching, length: f64, thread: f64) {
        match self.rows.iter_mut().find(|row| row.what == what) {
            Some(row) => {
                row.length += length;
                row.thread += thread;
            }
            None => self.rows.push(ThreadRow {
                what,
                length,
                thread,
            }),
        }
    }

    /// Adds lockstitches through the layers that lie on each other.
    fn machine(&mut self, what: Stitching, length: f64, layers: &[Layer]) {
        let cloth = |layer: &Layer| self.pattern.makeup.cloth(*layer);
        let thickness = layers
            .iter()
            .filter_map(cloth)
            .map(|cloth| cloth.thickness)
            .sum();
        self.add(what, length, length * lockstitch(thickness));
    }
}
