//! From the outline of a band to a piece: names, kinds, allowances, grain, notches, mates and seams.
//!
//! Invariants: a facing's edges are called as the shell's behind which they lie, its free edge `outer`; where it goes over both
//! sides of the garment each edge says which; it lies in the coordinates of the piece at the middle of the body.

mod added;
mod edges;
mod meets;

use document::Finding;
use geometry::Affine;
use pattern::name::{derived, root};
use pattern::step::kit::new_piece::corners;
use pattern::{Cut, EdgeKind, Laid, Layer, Lies, Mark, Pattern, Piece, Seam, Stretch};

pub(super) use self::added::add;
use super::band::Band;
use super::sewn::{Border, Section, Sewn};
use super::walk::Foot;
use crate::part::Asked;
use crate::recipe::parts::{Centre, FacingWish};

/// A facing that is ready to be added.
pub(super) struct Made {
    pub(super) piece: Piece,
    pub(super) findings: Vec<Finding>,
    /// How wide it is, mm.
    pub(super) width: f64,
    /// How many sides of the garment it goes over.
    pub(super) sides: usize,
    mates: Vec<Seam>,
    lies: Vec<Lies>,
    /// Where it is sewn to others: the shell's edge at which it ends, and its own edge, walked from the faced edge inwards or
    /// as the shell's edge.
    ends: Vec<(Foot, Stretch)>,
    /// Edges of the shell that are sewn now.
    faced: Vec<(String, String)>,
    /// Notches of the shell that its own match.
    notches: Vec<(String, Mark)>,
}

impl Made {
    pub(super) fn new(
        shell: &Pattern,
        sewn: &Sewn,
        (band, width): (Band, f64),
        wish: &FacingWish,
        asked: &Asked<'_>,
    ) -> Self {
        let sections = sewn.sections(shell);
        let mut sides: Vec<&str> = sections
            .iter()
            .map(|section| section.side.as_str())
            .collect();
        sides.dedup();
        let drawing = Drawing {
            shell,
            sewn,
            wish,
            asked,
            several: sides.len() > 1,
        };
        let name = drawing.name();
        let (edges, names) = drawing.edges(band);
        let [first, last] = [0, 1].map(|end| drawing.fold(end));
        let ends = [&names.ends[0], &names.ends[1]];
        let laid = match (first, last) {
            (true, _) => Laid::OnFold(ends[0].clone()),
            (_, true) => Laid::OnFold(ends[1].clone()),
            _ => Laid::Pair,
        };
        let own = sewn.chunks[0].foot.piece(shell);
        let (count, laid) = match (&own.cut.laid, laid) {
            (_, fold @ Laid::OnFold(_)) => (1, fold),
            (Laid::Single, _) => (own.cut.count, Laid::Single),
            (_, pair) => (2, pair),
        };
        let mut piece = Piece {
            name: name.clone(),
            edges,
            darts: Vec::new(),
            marks: Vec::new(),
            lines: Vec::new(),
            grain: drawing.grain(),
            cut: Cut {
                layer: Layer::Facing,
                count,
                laid,
            },
            peaked: names.peaked,
            asked: Some(wish.span.clone()),
        };
        corners(&mut piece);
        let mates = drawing.mates(&piece, &names.inner);
        let notches = drawing.notches(&mut piece, &names.inner);
        let mut ends = vec![
            (
                sewn.borders[0].foot,
                Stretch::backwards(&name, &names.ends[0]),
            ),
            (
                sewn.borders[1].foot,
                Stretch::forwards(&name, &names.ends[1]),
            ),
        ];
        ends.extend(drawing.sewn_between(&name, &names.inner));
        Self {
            width,
            sides: sides.len(),
            mates,
            lies: drawing.lies(&name),
            ends,
            faced: drawing.faced(),
            notches,
            findings: Vec::new(),
            piece,
        }
    }
}

/// What is needed while a facing is made.
struct Drawing<'a> {
    shell: &'a Pattern,
    sewn: &'a Sewn,
    wish: &'a FacingWish,
    asked: &'a Asked<'a>,
    /// Whether it goes over both sides of the garment.
    several: bool,
}

/// Names of a facing's edges.
struct Names {
    /// Of those along the line, with their sections.
    inner: Vec<(Section, String)>,
    /// Of those at its ends.
    ends: [String; 2],
    peaked: Vec<String>,
}

impl Drawing<'_> {
    /// After the garment's side; after the piece where the side has several facings that do not hang together.
    fn name(&self) -> String {
        let word = self.wish.at.word();
        if self.several {
            return word.into();
        }
        let own = self.sewn.chunks[0].foot.piece(self.shell);
        let side = root(&own.name);
        let faced = self.wish.at.faced()[0];
        let all = super::walk::feet_on(self.shell, side, faced);
        let is_in = |foot: &Foot| {
            let mut chunks = self.sewn.chunks.iter();
            chunks.any(|chunk| (chunk.foot.piece, chunk.foot.edge) == (foot.piece, foot.edge))
        };
        if all.iter().all(is_in) {
            return derived(side, word);
        }
        let edge = &self.sewn.chunks[0].foot.of(self.shell).name;
        let names = own.name.strip_prefix(side).filter(|part| !part.is_empty());
        let part = names.or_else(|| edge.strip_prefix(root(edge)));
        format!("{}{}", derived(side, word), part.unwrap_or_default())
    }

    /// Whether an end lies on the fold: where the shell does, unless it is pieced there, or the other end does already.
    fn fold(&self, end: usize) -> bool {
        let is_fold = |border: &Border| border.foot.of(self.shell).kind == EdgeKind::Fold;
        let pieced = |border: &Border| {
            let back = root(&border.foot.piece(self.shell).name).contains("back");
            let at = if back { Centre::Back } else { Centre::Front };
            self.wish.piece_at == Some(at)
        };
        let folds = |border: &Border| is_fold(border) && !pieced(border);
        let [first, last] = &self.sewn.borders;
        if end == 0 {
            folds(first)
        } else {
            folds(last) && !folds(first)
        }
    }

    /// The grain of the piece in whose coordinates it lies.
    fn grain(&self) -> geometry::Angle {
        let lies = |placed: Affine| {
            let c = placed.as_coeffs();
            (c[0] - 1.0).abs() + c[1].abs() + c[2].abs() + (c[3] - 1.0).abs() < 1e-9
        };
        let own = self.sewn.chunks.iter().find(|chunk| lies(chunk.placed));
        own.unwrap_or(&self.sewn.chunks[0])
            .foot
            .piece(self.shell)
            .grain
    }

    fn faced_sections(&self) -> impl Fn(&Section) -> bool {
        let at = self.wish.at;
        move |section| at.faces(&section.edge)
    }
}
