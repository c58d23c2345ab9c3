//! From the outline of a band to a piece: names, kinds, allowances, grain, notches, mates and seams.
//!
//! Invariants: a facing's edges are called as the shell's behind which they lie, its free edge `outer`; where it goes over both
//! sides of the garment each edge says which; it lies in the coordinates of the piece at the middle of the body.

use document::Finding;
use geometry::{Affine, Curve};
use pattern::name::{answers_to, derived, free_name, part_of, root};
use pattern::step::kit::new_piece::corners;
use pattern::{
    Cut, Edge, EdgeKind, Fraying, Fullness, Laid, Layer, Lies, Mark, Part, Pattern, Piece, Seam,
    Stretch,
};

use super::band::Band;
use super::sewn::{Border, Section, Sewn};
use super::walk::Foot;
use crate::part::{Asked, figures};
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

    /// The edges clockwise: along the line, its last end, the outer edge, its first end.
    fn edges(&self, band: Band) -> (Vec<Edge>, Names) {
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

    fn sided(&self, edge: &str, side: &str) -> String {
        if self.several {
            part_of(edge, side.strip_prefix("skirt-").unwrap_or(side))
        } else {
            edge.into()
        }
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

    /// Edges along the line that are not faced but sewn to another facing, such as the shoulder between neck and armhole.
    fn sewn_between(&self, name: &str, names: &[(Section, String)]) -> Vec<(Foot, Stretch)> {
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

    fn faced(&self) -> Vec<(String, String)> {
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
    fn mates(&self, piece: &Piece, names: &[(Section, String)]) -> Vec<Seam> {
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
    fn notches(&self, piece: &mut Piece, names: &[(Section, String)]) -> Vec<(String, Mark)> {
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
    fn lies(&self, name: &str) -> Vec<Lies> {
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

/// Adds facings with their seams to a pattern, and makes the shell's edges ones that are sewn.
pub(super) fn add(pattern: &mut Pattern, made: &[Made], wish: &FacingWish) {
    let seams = seams(pattern, made, wish);
    pattern.seams.extend(seams);
    for one in made {
        for (piece, edge) in &one.faced {
            let owner = pattern.piece_mut(piece);
            let edge = owner.and_then(|owner| owner.edges.iter_mut().find(|own| own.name == *edge));
            if let Some(edge) = edge {
                edge.kind = EdgeKind::Seam;
            }
        }
        for (piece, mark) in &one.notches {
            if let Some(piece) = pattern.piece_mut(piece) {
                piece.marks.push(mark.clone());
            }
        }
        pattern.pieces.push(one.piece.clone());
        pattern.makeup.mates.extend_from_slice(&one.mates);
        pattern.makeup.lies.extend_from_slice(&one.lies);
        pattern.findings.extend_from_slice(&one.findings);
    }
}

/// Seams between facings whose ends lie on the two sides of a seam of the shell.
fn seams(pattern: &Pattern, made: &[Made], wish: &FacingWish) -> Vec<Seam> {
    let ends: Vec<(&Made, &Foot, &Stretch)> = made
        .iter()
        .flat_map(|one| {
            one.ends
                .iter()
                .map(move |(foot, stretch)| (one, foot, stretch))
        })
        .collect();
    let mut found = Vec::new();
    for (index, (own, foot, stretch)) in ends.iter().enumerate() {
        for (other, far, its) in &ends[index + 1..] {
            let both = [*foot, *far].map(|foot| (foot.piece(pattern), foot.of(pattern)));
            let Some(shell) = pattern.seams.iter().find(|seam| joins(seam, both)) else {
                continue;
            };
            let length = |made: &Made, stretch: &Stretch| {
                made.piece.edge(&stretch.edge).map_or(0.0, Edge::length)
            };
            let longer = length(other, its) - length(own, stretch);
            let (held, worked) = if longer >= 0.0 {
                (stretch, its)
            } else {
                (its, stretch)
            };
            found.push(Seam {
                name: format!("{}-{}", wish.at.word(), root(&stretch.edge)),
                held: vec![(*held).clone()],
                worked: vec![(*worked).clone()],
                fullness: if longer.abs() < 0.1 {
                    Fullness::None
                } else {
                    Fullness::Eased(longer.abs())
                },
                runs_on: [
                    shell.runs_on == [true, true],
                    shell.runs_on == [true, true] || !is_between(other, its),
                ],
            });
        }
    }
    found
}

/// Whether an edge of a facing lies between two faced edges, and not between one and the outer edge.
fn is_between(made: &Made, stretch: &Stretch) -> bool {
    made.ends[..2]
        .iter()
        .all(|(_, end)| end.edge != stretch.edge)
}

fn joins(seam: &Seam, [one, other]: [(&Piece, &Edge); 2]) -> bool {
    let on = |side: &[Stretch], (piece, edge): (&Piece, &Edge)| {
        side.iter().any(|stretch| {
            answers_to(&piece.name, &stretch.piece) && answers_to(&edge.name, &stretch.edge)
        })
    };
    on(&seam.held, one) && on(&seam.worked, other) || on(&seam.held, other) && on(&seam.worked, one)
}
