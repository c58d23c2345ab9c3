//! What a facing meets on the shell: the edges that it faces, notches on both, and where it lies.
//!
//! Invariant: a mate walks the shell's edges as the facing's line does, and the longer of both is eased.

use geometry::{Affine, Curve};
use pattern::name::root;
use pattern::{Edge, Fullness, Lies, Mark, Piece, Seam, Stretch};

use super::super::sewn::Section;
use super::super::walk::Foot;
use super::Drawing;
use crate::part::figures;

impl Drawing<'_> {
    /// Edges along the line that are not faced but sewn to another facing, such as the shoulder between neck and armhole.
    pub(super) fn sewn_between(
        &self,
        name: &str,
        names: &[(Section, String)],
    ) -> Vec<(Foot, Stretch)> {
        let is_faced = self.faced_sections();
        let own = names.iter().filter(|(section, _)| !is_faced(section));
        own.map(|(section, edge)| {
            let foot = self.sewn.chunks[section.chunks[0]].foot;
            let stretch = Stretch {
                piece: name.into(),
                edge: edge.clone(),
                backwards: foot.backwards,
            };
            (foot, stretch)
        })
        .collect()
    }

    pub(super) fn faced(&self) -> Vec<(String, String)> {
        let is_faced = self.faced_sections();
        let sections = self.sewn.sections(self.shell);
        let own = sections.iter().filter(|section| is_faced(section));
        own.flat_map(|section| &self.sewn.chunks[section.chunks[0]..section.chunks[1]])
            .map(|chunk| {
                let foot = chunk.foot;
                (
                    foot.piece(self.shell).name.clone(),
                    foot.of(self.shell).name.clone(),
                )
            })
            .collect()
    }

    /// The shell's edge against the facing's; the longer of them is eased.
    pub(super) fn mates(&self, piece: &Piece, names: &[(Section, String)]) -> Vec<Seam> {
        let is_faced = self.faced_sections();
        let own = names.iter().filter(|(section, _)| is_faced(section));
        own.map(|(section, name)| {
            let shell = self.stretches(section);
            let facing = vec![Stretch::forwards(&piece.name, name)];
            let longer =
                piece.edge(name).map_or(0.0, Edge::length) - self.shell.side_length(&shell);
            let fullness = Fullness::Eased(longer.abs());
            let (held, worked) = if longer >= 0.0 {
                (shell, facing)
            } else {
                (facing, shell)
            };
            Seam {
                name: format!("{}-{}", piece.name, name.replace('/', "-")),
                held,
                worked,
                fullness,
                runs_on: [false, false],
            }
        })
        .collect()
    }

    /// The shell's edges of a section as they are walked.
    fn stretches(&self, section: &Section) -> Vec<Stretch> {
        let mut stretches: Vec<Stretch> = Vec::new();
        for chunk in &self.sewn.chunks[section.chunks[0]..section.chunks[1]] {
            let (piece, edge) = (chunk.foot.piece(self.shell), chunk.foot.of(self.shell));
            let stretch = Stretch {
                piece: piece.name.clone(),
                edge: edge.name.clone(),
                backwards: chunk.foot.backwards,
            };
            if stretches.last() != Some(&stretch) {
                stretches.push(stretch);
            }
        }
        stretches
    }

    /// Copies the shell's notches; where a long edge has none, its middle is notched on both: once in front, twice behind.
    pub(super) fn notches(
        &self,
        piece: &mut Piece,
        names: &[(Section, String)],
    ) -> Vec<(String, Mark)> {
        let is_faced = self.faced_sections();
        let mut added = Vec::new();
        for (section, name) in names.iter().filter(|(section, _)| is_faced(section)) {
            let Some(edge) = piece.edge(name) else {
                continue;
            };
            let line = edge.runs[0].clone();
            let notch = |called: &str, at: geometry::Point, strokes: u8| Mark::Notch {
                name: called.into(),
                edge: name.clone(),
                along: line.nearest(at).along,
                strokes,
            };
            let own = self.own_notches(section);
            let mut marks: Vec<Mark> = own
                .iter()
                .map(|(called, at, strokes)| notch(called, *at, *strokes))
                .collect();
            let whole = self.sewn.line(section.chunks);
            if own.is_empty() && whole.length() > figures::FACING_NOTCH_OVER {
                let strokes = if section.side.contains("back") { 2 } else { 1 };
                let at = whole.length() / 2.0;
                let called = self.wish.at.word();
                marks.push(notch(called, whole.point_at(at), strokes));
                added.extend(self.on_shell(section, at, called, strokes));
            }
            piece.marks.extend(marks);
        }
        added
    }

    /// Notches of the shell's edges, and places where a seam or a dart of the shell meets them.
    fn own_notches(&self, section: &Section) -> Vec<(String, geometry::Point, u8)> {
        let [from, to] = section.chunks;
        let chunks = &self.sewn.chunks[from..to];
        let mut found = Vec::new();
        for (index, chunk) in chunks.iter().enumerate() {
            if index > 0 {
                found.push((
                    self.joint(&chunks[index - 1].foot, &chunk.foot),
                    chunk.curve.start(),
                    1,
                ));
            }
            let edge = chunk.foot.of(self.shell);
            let first = index == 0 || chunks[index - 1].foot != chunk.foot;
            if !first {
                continue;
            }
            let runs: Vec<Curve> = chunks[index..]
                .iter()
                .take_while(|other| other.foot == chunk.foot)
                .map(|other| other.curve.clone())
                .collect();
            let length = edge.length();
            for mark in &chunk.foot.piece(self.shell).marks {
                let Mark::Notch {
                    name,
                    edge: on,
                    along,
                    strokes,
                } = mark
                else {
                    continue;
                };
                if *on == edge.name {
                    let along = if chunk.foot.backwards {
                        length - along
                    } else {
                        *along
                    };
                    found.push((name.clone(), point_on(&runs, along), *strokes));
                }
            }
        }
        found
    }

    /// What stands between two chunks: a dart of one edge or a seam between two pieces.
    fn joint(&self, before: &Foot, after: &Foot) -> String {
        if before == after {
            return "dart".into();
        }
        let near = before.next(self.shell).of(self.shell);
        root(&near.name).into()
    }

    /// A notch on the shell's edge at a length along a section.
    fn on_shell(
        &self,
        section: &Section,
        at: f64,
        name: &str,
        strokes: u8,
    ) -> Option<(String, Mark)> {
        let side = self.stretches(section);
        let (piece, edge, along) = pattern::step::kit::notches::at_side(self.shell, &side, at)?;
        Some((
            piece,
            Mark::Notch {
                name: name.into(),
                edge,
                along,
                strokes,
            },
        ))
    }

    /// One for every piece of the shell that it lies on, by its longest run.
    pub(super) fn lies(&self, name: &str) -> Vec<Lies> {
        let mut lies: Vec<(usize, f64, Affine)> = Vec::new();
        for chunk in &self.sewn.chunks {
            let length = chunk.curve.length();
            match lies.iter_mut().find(|one| one.0 == chunk.foot.piece) {
                Some(one) if one.1 >= length => {}
                Some(one) => (one.1, one.2) = (length, chunk.placed),
                None => lies.push((chunk.foot.piece, length, chunk.placed)),
            }
        }
        lies.into_iter()
            .map(|(piece, _, placed)| Lies {
                piece: name.into(),
                upon: self.shell.pieces[piece].name.clone(),
                placed: placed.inverse(),
            })
            .collect()
    }
}

/// The point at a length along runs that follow each other.
fn point_on(runs: &[Curve], along: f64) -> geometry::Point {
    let mut rest = along;
    for run in runs {
        let length = run.length();
        if rest <= length {
            return run.point_at(rest);
        }
        rest -= length;
    }
    runs[runs.len() - 1].end()
}
