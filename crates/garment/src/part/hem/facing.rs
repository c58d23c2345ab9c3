//! The facing of a hem: a band of the shell's own shape, from where the shell still shows inside up to its depth.
//!
//! Its lower edge lies above the hem by the overhang; the shell is turned up by as much, so that its stitching line is longer (on a
//! round hem) than the facing's by what it must be eased. Invariants: a facing lies on its shell as it is drawn, with the darts of
//! the hem closed; its edges are called after those beside which they lie.

use geometry::curve::{angle_between, enclosed_area};
use geometry::simple::is_simple;
use geometry::{Affine, Curve, Tolerance};
use pattern::step::kit::closed::Closed;
use pattern::{
    Cut, Edge, EdgeKind, Fullness, Laid, Layer, Lies, Pattern, Piece, Seam, Stretch, name,
};

use super::Place;
use super::surplus::closed_turning;
use crate::part::figures;

/// Two edges that turn from one into the other by more than this are not one border, degrees.
const CORNER: f64 = 45.0;

/// A facing that was made: its piece, and the shell's edges beside which its ends lie with the names that these have here.
pub(super) struct Facing {
    shell: String,
    name: String,
    ends: [(String, String); 2],
}

/// What stands beside a hem, walked upwards from it.
struct Border {
    edge: usize,
    curve: Curve,
}

impl Border {
    /// The edges that follow one way round, as far as they go on without a corner or a dart.
    fn of(piece: &Piece, hem: usize, onwards: bool, moved: Affine) -> Self {
        let count = piece.edges.len();
        let step = |edge: usize| (edge + if onwards { 1 } else { count - 1 }) % count;
        let run = |edge: usize| {
            let runs = &piece.edges[edge].runs;
            let run = if onwards {
                runs[0].clone()
            } else {
                runs[runs.len() - 1].reversed()
            };
            run.transformed(moved)
        };
        let first = step(hem);
        let (mut at, mut curve) = (first, run(first));
        while piece.edges[at].runs.len() == 1 && step(at) != hem {
            at = step(at);
            let next = run(at);
            let turn = angle_between(curve.end_direction(), next.start_direction());
            let longer = curve.then(&next.with_ends(curve.end(), next.end()));
            match longer {
                Some(longer) if turn.degrees().abs() < CORNER => curve = longer,
                _ => break,
            }
        }
        Self { edge: first, curve }
    }
}

/// Makes the facing of one hem; the most that it may be deep where it has no room.
pub(super) fn make(pattern: &mut Pattern, place: &Place, depth: f64) -> Result<Facing, f64> {
    let shell = pattern.pieces[place.piece].clone();
    let hem = shell.edges[place.edge].clone();
    let closed = Closed::of(&shell, &hem);
    let line = closed.curve();
    let last = closed.moves[closed.moves.len() - 1];
    let borders = [
        Border::of(&shell, place.edge, false, Affine::IDENTITY),
        Border::of(&shell, place.edge, true, last),
    ];
    let most = most(&shell, &hem, &borders);
    if depth > most {
        return Err(most);
    }
    let lower = beside(&line, figures::HEM_OVERHANG, &borders).ok_or(0.0)?;
    let upper = beside(&line, depth, &borders).ok_or(0.0)?;
    let end = |which: usize| {
        let border = &borders[which].curve;
        border
            .stretch(lower.along[which], upper.along[which])
            .with_ends(lower.end(which), upper.end(which))
    };
    let ends = [end(0), end(1)];
    let outline = [
        &lower.curve,
        &ends[1],
        &upper.curve.reversed(),
        &ends[0].reversed(),
    ];
    if enclosed_area(outline) <= 0.0 || !is_simple(outline) {
        return Err(0.0);
    }
    let [before, after] = [0, 1].map(|which| shell.edges[borders[which].edge].clone());
    let first = name::root(&after.name).to_owned();
    let second = name::free_name(name::root(&before.name), std::iter::once(first.as_str()));
    let edges = vec![
        sewn("hem", figures::HEM_FACING_SEAM, lower.curve),
        beside_shell(&first, &after, ends[1].clone()),
        Edge {
            kind: EdgeKind::Finished,
            allowance: figures::HEM_FACING_TURN,
            ..sewn("outer", 0.0, upper.curve.reversed())
        },
        beside_shell(&second, &before, ends[0].reversed()),
    ];
    let name = name::derived(&shell.name, "hem-facing");
    let laid = match &shell.cut.laid {
        Laid::OnFold(fold) if *fold == after.name => Laid::OnFold(first.clone()),
        Laid::OnFold(fold) if *fold == before.name => Laid::OnFold(second.clone()),
        Laid::OnFold(_) => Laid::Pair,
        other => other.clone(),
    };
    pattern.pieces.push(Piece {
        name: name.clone(),
        edges,
        darts: Vec::new(),
        marks: Vec::new(),
        lines: Vec::new(),
        grain: shell.grain,
        cut: Cut {
            layer: Layer::Facing,
            count: if laid == Laid::Pair {
                2
            } else {
                shell.cut.count
            },
            laid,
        },
        peaked: Vec::new(),
        asked: None,
    });
    pattern.makeup.lies.push(Lies {
        piece: name.clone(),
        upon: shell.name.clone(),
        placed: Affine::IDENTITY,
    });
    pattern.makeup.mates.push(mate(&shell, &hem, &name));
    Ok(Facing {
        shell: shell.name.clone(),
        name,
        ends: [(before.name, second), (after.name, first)],
    })
}

/// How deep a facing may be: below the point of every dart, and within what stands beside it.
fn most(shell: &Piece, hem: &Edge, borders: &[Border; 2]) -> f64 {
    let darts = shell.darts_on(&hem.name).map(|dart| {
        let [before, after] = shell.legs(dart).lengths();
        before.min(after)
    });
    let sides = borders.iter().map(|border| border.curve.length());
    darts.chain(sides).fold(f64::INFINITY, f64::min) - figures::HEM_FACING_ROOM
}

/// A line above the hem, from border to border, and how far up these it stands.
struct Line {
    curve: Curve,
    along: [f64; 2],
}

impl Line {
    fn end(&self, which: usize) -> geometry::Point {
        if which == 0 {
            self.curve.start()
        } else {
            self.curve.end()
        }
    }
}

fn beside(hem: &Curve, distance: f64, borders: &[Border; 2]) -> Option<Line> {
    let inside = hem.offset(-distance, Tolerance::PATTERN)?;
    let reach = 3.0 * distance;
    let back = Curve::line(
        inside.start() - inside.start_direction() * reach,
        inside.start(),
    );
    let on = Curve::line(inside.end(), inside.end() + inside.end_direction() * reach);
    let whole = back.then(&inside)?.then(&on)?;
    let meet = |border: &Border| {
        let found = whole.crossings(&border.curve, Tolerance::PATTERN);
        found
            .into_iter()
            .min_by(|a, b| a.other_along.total_cmp(&b.other_along))
    };
    let (start, end) = (meet(&borders[0])?, meet(&borders[1])?);
    (start.along < end.along).then(|| Line {
        curve: whole.stretch(start.along, end.along),
        along: [start.other_along, end.other_along],
    })
}

fn sewn(name: &str, allowance: f64, curve: Curve) -> Edge {
    Edge {
        allowance,
        ..Edge::new(name, EdgeKind::Seam, curve)
    }
}

/// An end of the facing, sewn or folded as the shell's edge beside it.
fn beside_shell(name: &str, shell: &Edge, curve: Curve) -> Edge {
    let kind = match shell.kind {
        EdgeKind::Fold => EdgeKind::Fold,
        _ => EdgeKind::Seam,
    };
    Edge {
        allowance: shell.allowance,
        ..Edge::new(name, kind, curve)
    }
}

/// The shell's hem against the facing's: as much longer as the overhang makes it on the angle through which the hem turns.
fn mate(shell: &Piece, hem: &Edge, facing: &str) -> Seam {
    let ease = closed_turning(shell, hem).radians() * figures::HEM_OVERHANG;
    let [on_shell, on_facing] = [
        Stretch::forwards(&shell.name, &hem.name),
        Stretch::forwards(facing, "hem"),
    ];
    let (held, worked) = if ease >= 0.0 {
        (on_facing, on_shell)
    } else {
        (on_shell, on_facing)
    };
    Seam {
        name: format!("{facing}-hem"),
        held: vec![held],
        worked: vec![worked],
        fullness: Fullness::Eased(ease.abs()),
        runs_on: [false, false],
    }
}

/// Sews facings to each other where their shells are.
pub(super) fn join(pattern: &mut Pattern, facings: &[Facing]) {
    let mut seams = Vec::new();
    for seam in &pattern.seams {
        let side = |stretches: &[Stretch]| on_facings(pattern, facings, stretches);
        if let (Some(held), Some(worked)) = (side(&seam.held), side(&seam.worked)) {
            seams.push(Seam {
                name: name::derived(&seam.name, "hem-facing"),
                held: vec![held],
                worked: vec![worked],
                fullness: Fullness::None,
                runs_on: [false, false],
            });
        }
    }
    pattern.seams.extend(seams);
}

/// The end of a facing that lies beside one of these edges.
fn on_facings(pattern: &Pattern, facings: &[Facing], stretches: &[Stretch]) -> Option<Stretch> {
    stretches.iter().find_map(|stretch| {
        let edges = pattern.edges_of(stretch);
        edges.into_iter().find_map(|(piece, edge)| {
            let own = facings.iter().filter(|facing| facing.shell == piece.name);
            let mut ends = own.flat_map(|facing| facing.ends.iter().map(move |end| (facing, end)));
            let (facing, (_, own)) = ends.find(|(_, (shell, _))| *shell == edge.name)?;
            Some(Stretch {
                piece: facing.name.clone(),
                edge: own.clone(),
                backwards: stretch.backwards,
            })
        })
    })
}
