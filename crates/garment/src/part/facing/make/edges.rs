//! The edges of a facing: their names, kinds and allowances, and which of its ends lie on the fold.
//!
//! Invariant: edges come clockwise: along the line, its last end, the outer edge, its first end.

use geometry::Curve;
use pattern::name::{free_name, part_of, root};
use pattern::{Edge, EdgeKind, Fraying, Layer, Part};

use super::super::band::Band;
use super::super::sewn::Section;
use super::{Drawing, Names};
use crate::part::figures;

impl Drawing<'_> {
    /// The edges clockwise: along the line, its last end, the outer edge, its first end.
    pub(super) fn edges(&self, band: Band) -> (Vec<Edge>, Names) {
        let ends = self.end_names();
        let mut edges: Vec<Edge> = Vec::new();
        let mut inner = Vec::new();
        let inner_shares = shares(band.inner.iter().map(|(_, curve)| curve.length()));
        for ((section, curve), part) in band.inner.into_iter().zip(inner_shares) {
            let shell = self.sewn.chunks[section.chunks[0]].foot.of(self.shell);
            let wanted = self.sided(&section.edge, &section.side);
            let name = free_name(&wanted, edges.iter().map(|edge| edge.name.as_str()));
            edges.push(Edge {
                allowance: shell.allowance,
                part: if self.several { part } else { Part::WHOLE },
                ..Edge::new(&name, EdgeKind::Seam, curve)
            });
            inner.push((section, name));
        }
        let [first, last] = band.ends;
        edges.push(self.end(1, &ends[1], last));
        let outer_shares = shares(band.outer.iter().map(|(_, curve)| curve.length()));
        for ((side, curve), part) in band.outer.iter().zip(outer_shares).rev() {
            edges.push(Edge {
                allowance: self.outer_allowance(),
                part,
                ..Edge::new(
                    self.sided("outer", side),
                    EdgeKind::Finished,
                    curve.reversed(),
                )
            });
        }
        edges.push(self.end(0, &ends[0], first.reversed()));
        let peaked = inner
            .iter()
            .filter(|(section, _)| self.is_peaked(section))
            .map(|(_, name)| name.clone());
        let peaked = peaked.collect();
        (
            edges,
            Names {
                inner,
                ends,
                peaked,
            },
        )
    }

    fn end_names(&self) -> [String; 2] {
        let [first, last] = [0, 1].map(|end| {
            let foot = self.sewn.borders[end].foot;
            let own = root(&foot.of(self.shell).name);
            (own, root(&foot.piece(self.shell).name))
        });
        if first.0 == last.0 {
            let one = self.sided(first.0, first.1);
            let other = free_name(&self.sided(last.0, last.1), [one.as_str()].into_iter());
            [one, other]
        } else {
            [first.0.into(), last.0.into()]
        }
    }

    /// The edge at an end of the line.
    fn end(&self, end: usize, name: &str, curve: Curve) -> Edge {
        let border = &self.sewn.borders[end];
        let shell = border.foot.of(self.shell);
        let (kind, allowance) = match shell.kind {
            EdgeKind::Fold if self.fold(end) => (EdgeKind::Fold, 0.0),
            EdgeKind::Fold => (EdgeKind::Seam, self.asked.recipe.allowances.seam),
            kind => (kind, shell.allowance),
        };
        Edge {
            allowance,
            ..Edge::new(name, kind, curve)
        }
    }

    fn is_peaked(&self, section: &Section) -> bool {
        let [from, to] = section.chunks;
        self.sewn.chunks[from..to].iter().any(|chunk| {
            let name = &chunk.foot.of(self.shell).name;
            chunk.foot.piece(self.shell).peaked.contains(name)
        })
    }

    fn outer_allowance(&self) -> f64 {
        let cloth = self.shell.makeup.cloth(Layer::Facing);
        let frays = cloth.map_or(Fraying::Some, |cloth| cloth.frays);
        let [little, some, much] = figures::FACING_OUTER;
        match frays {
            Fraying::Little => little,
            Fraying::Some => some,
            Fraying::Much => much,
        }
    }

    fn sided(&self, edge: &str, side: &str) -> String {
        if self.several {
            part_of(edge, side.strip_prefix("skirt-").unwrap_or(side))
        } else {
            edge.into()
        }
    }
}

/// Stretches of a whole by their lengths.
fn shares(lengths: impl Iterator<Item = f64>) -> Vec<Part> {
    let lengths: Vec<f64> = lengths.collect();
    let whole: f64 = lengths.iter().sum();
    let mut from = 0.0;
    let parts = lengths.iter().map(|length| {
        let to = from + length / whole;
        let part = Part { from, to };
        from = to;
        part
    });
    parts.collect()
}
