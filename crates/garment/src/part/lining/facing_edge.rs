//! A bagged lining ends where a facing ends: of the copy of the shell, what lies under the facing goes.
//!
//! The facing is drawn with all darts closed; its outer edge is cut where darts cross it, and each part is turned back to where
//! the cloth lies when they are open. Knows of a facing its place on the shell, its mates and its `outer` edges. Invariants: the
//! new edge of the lining follows the outer edge of the facing and is mated with it; darts that reach beyond the facing go on in
//! the lining, with legs that stay alike.

use document::{Finding, Mend, Place, Span};
use geometry::curve::{closed_path, contains, turn_about};
use geometry::{Affine, Angle, Curve, Point, Tolerance};
use pattern::step::kit::fill::joined;
use pattern::step::kit::{inner, notches};
use pattern::{Dart, Edge, EdgeKind, Layer, Lies, Mark, Pattern, Piece, Seam, name};

use super::inner::{Inner, Meet};

/// A facing may end so much within the shell's outline where it is cut smaller for the turn of cloth, mm.
const REACHES: f64 = 15.0;
/// What a facing lacks at the ends of its outer edge is eased in where it is no more than this, mm. †
const EASED_IN: f64 = 3.0;

/// A facing behind a shell piece.
struct Behind<'a> {
    facing: &'a Piece,
    lies: &'a Lies,
    /// Its free edge on this piece.
    outer: &'a Edge,
}

/// Takes from a copy of the shell all that lies under facings; hems are met otherwise.
pub(super) fn cut(
    inner: &mut Inner,
    shell: &Pattern,
    seam: f64,
    span: &Span,
) -> Result<(), Finding> {
    let lies = shell.makeup.lies.iter();
    let own = lies.filter(|lies| lies.upon == inner.upon);
    let behind: Vec<Behind<'_>> = own.filter_map(|lies| behind(shell, lies)).collect();
    for facing in behind {
        let Some(range) = faced(inner, shell, facing.facing) else {
            continue;
        };
        let new = new_edge(&inner.piece, range, &facing)
            .ok_or_else(|| not_under(&facing, inner, span))?;
        take(inner, range, new, &facing, seam);
    }
    Ok(())
}

fn behind<'a>(shell: &'a Pattern, lies: &'a Lies) -> Option<Behind<'a>> {
    let facing = shell.piece(&lies.piece)?;
    if facing.cut.layer != Layer::Facing || facing.name.contains("hem") {
        return None;
    }
    // A facing that is joined over a seam lies on each side of the garment with its own part.
    let side = name::root(&lies.upon);
    let side = side.strip_prefix("skirt-").unwrap_or(side);
    let is_own = |edge: &&Edge| match edge.name.strip_prefix("outer/") {
        Some(word) => word == side,
        None => edge.name == "outer",
    };
    let outer = facing.edges.iter().find(is_own)?;
    Some(Behind {
        facing,
        lies,
        outer,
    })
}

/// The edges of a copy behind which a facing lies, with those between them: number of the first, and how many.
fn faced(inner: &Inner, shell: &Pattern, facing: &Piece) -> Option<(usize, usize)> {
    let is_faced = |edge: &Edge| {
        shell
            .makeup
            .mates
            .iter()
            .any(|mate| joins(mate, facing, &inner.upon, edge))
    };
    let count = inner.piece.edges.len();
    let own: Vec<usize> = (0..count)
        .filter(|&index| is_faced(&inner.piece.edges[index]))
        .collect();
    let reach = |from: usize| {
        let far = own.iter().map(|to| (to + count - from) % count).max();
        far.map(|far| (from, far + 1))
    };
    let ranges = own.iter().filter_map(|&from| reach(from));
    ranges.min_by_key(|(_, number)| *number)
}

fn joins(mate: &Seam, facing: &Piece, upon: &str, edge: &Edge) -> bool {
    let sides = || mate.held.iter().chain(&mate.worked);
    sides().any(|one| one.piece == facing.name)
        && sides().any(|one| one.piece == upon && edge.answers_to(&one.edge))
}

/// The edge that takes the place of the faced ones.
struct New {
    runs: Vec<Curve>,
    darts: Vec<Dart>,
    /// What it cuts off the edge before and the edge after it, mm.
    cuts: [f64; 2],
    /// By how much it is longer than the facing's, mm.
    more: f64,
}

/// A faced run, by what it is moved when all darts before it are closed, and the dart behind it.
struct Run<'a> {
    curve: &'a Curve,
    moved: Affine,
    dart: Option<&'a Dart>,
}

/// The faced runs clockwise.
fn runs(piece: &Piece, (first, number): (usize, usize)) -> Vec<Run<'_>> {
    let mut moved = Affine::IDENTITY;
    let mut all = Vec::new();
    for index in first..first + number {
        let edge = &piece.edges[index % piece.edges.len()];
        for (gap, curve) in edge.runs.iter().enumerate() {
            let dart = piece.darts_on(&edge.name).find(|dart| dart.gap == gap);
            all.push(Run { curve, moved, dart });
            if let Some(dart) = dart {
                let turn = piece.legs(dart).turn().radians();
                moved *= turn_about(dart.point, Angle::from_radians(-turn));
            }
        }
    }
    all
}

/// Draws the edge along the outer edge of a facing. `None` where that does not cross what it has to.
fn new_edge(piece: &Piece, range: (usize, usize), behind: &Behind<'_>) -> Option<New> {
    let runs = runs(piece, range);
    // The facing lies in the coordinates of the longest run.
    let longest = runs
        .iter()
        .max_by(|a, b| a.curve.length().total_cmp(&b.curve.length()))?;
    let onto = longest.moved * behind.lies.placed;
    let outer = behind.outer.runs.iter().map(|run| run.transformed(onto));
    let outer = outer.reduce(|whole, run| joined(&whole, &run))?;
    // On a piece that it reaches across a seam the facing lies turned over.
    let outer = if onto.determinant() > 0.0 {
        outer.reversed()
    } else {
        outer
    };
    let line = prolonged(&outer, REACHES);
    let count = piece.edges.len();
    let before = &piece.edges[(range.0 + count - 1) % count];
    let after = &piece.edges[(range.0 + range.1) % count];
    let start = crossing(&before.runs.last()?.reversed(), &line)?;
    let last = runs.last()?.moved;
    let end = crossing(&after.runs[0].transformed(last), &line)?;
    let mut new = New {
        runs: Vec::new(),
        darts: Vec::new(),
        cuts: [start.0, end.0],
        more: 0.0,
    };
    let mut from = start.1;
    let mut moved = Affine::IDENTITY;
    for run in runs.iter().filter(|run| run.dart.is_some()) {
        let dart = run.dart?;
        let leg = Curve::line(run.moved * run.curve.end(), run.moved * dart.point);
        let (_, to) = crossing(&leg, &line)?;
        if to <= from {
            return None;
        }
        new.runs
            .push(line.stretch(from, to).transformed(run.moved.inverse()));
        new.darts.push(dart.clone());
        from = to;
        moved = run.moved * turned(piece, dart);
    }
    if end.1 <= from {
        return None;
    }
    new.runs
        .push(line.stretch(from, end.1).transformed(moved.inverse()));
    let beyond = end.1 - start.1 - outer.length();
    new.more = if beyond.abs() <= EASED_IN {
        beyond
    } else {
        0.0
    };
    Some(new)
}

/// The turn that closes a dart.
fn turned(piece: &Piece, dart: &Dart) -> Affine {
    let turn = piece.legs(dart).turn().radians();
    turn_about(dart.point, Angle::from_radians(-turn))
}

/// Where a line that begins at the faced edge first meets the outer edge: how far along either, mm.
fn crossing(line: &Curve, outer: &Curve) -> Option<(f64, f64)> {
    let found = line.crossings(outer, Tolerance::PATTERN);
    let first = found.first()?;
    Some((first.along, first.other_along))
}

fn prolonged(curve: &Curve, by: f64) -> Curve {
    let head = curve.start() - curve.start_direction() * by;
    let tail = curve.end() + curve.end_direction() * by;
    let whole = joined(&Curve::line(head, curve.start()), curve);
    joined(&whole, &Curve::line(curve.end(), tail))
}

/// The new edge is called after the facing: `neck-facing`, whatever piece it lies on.
fn edge_name(facing: &str, upon: &str) -> String {
    let root = name::root(facing);
    let prefix = format!("{}-", name::root(upon));
    root.strip_prefix(&prefix).unwrap_or(root).to_owned()
}

/// Puts the new edge in the place of the faced ones.
fn take(inner: &mut Inner, range: (usize, usize), new: New, behind: &Behind<'_>, seam: f64) {
    let whole = inner.piece.clone();
    let piece = &mut inner.piece;
    let count = piece.edges.len();
    piece.edges.rotate_left(range.0 % count);
    let gone: Vec<String> = piece.edges.drain(..range.1).map(|edge| edge.name).collect();
    let called = edge_name(&behind.facing.name, &inner.upon);
    let called = name::free_name(&called, piece.edges.iter().map(|edge| edge.name.as_str()));
    let corners = [new.runs[0].start(), new.runs[new.runs.len() - 1].end()];
    let mut edge = Edge::new(&called, EdgeKind::Seam, new.runs[0].clone());
    edge.runs = new.runs;
    edge.allowance = seam;
    let beside = cut_beside(piece, new.cuts, corners);
    piece.edges.insert(0, edge);
    piece.darts.retain(|dart| !gone.contains(&dart.edge));
    piece
        .darts
        .extend(new.darts.into_iter().enumerate().map(|(gap, dart)| Dart {
            edge: called.clone(),
            gap,
            ..dart
        }));
    piece.peaked.retain(|name| !gone.contains(name));
    clear(piece, &whole, &gone);
    inner.meets.retain(|meet| !gone.contains(&meet.edge));
    for meet in inner
        .meets
        .iter_mut()
        .filter(|meet| beside.contains(&meet.edge))
    {
        meet.more = None;
    }
    inner.meets.push(Meet {
        edge: called,
        on: (behind.facing.name.clone(), behind.outer.name.clone()),
        more: Some(new.more),
        pleated: false,
        mates: true,
    });
}

/// Cuts the last edge and the first one back to the corners of a new one between them; tells their names.
fn cut_beside(piece: &mut Piece, cuts: [f64; 2], [start, end]: [Point; 2]) -> [String; 2] {
    let last = piece.edges.len() - 1;
    let before = &mut piece.edges[last];
    let run = before.runs.len() - 1;
    let line = before.runs[run].reversed();
    let line = line.stretch(cuts[0], line.length()).reversed();
    before.runs[run] = line.with_ends(line.start(), start);
    let left = before.length();
    let names = [before.name.clone(), piece.edges[0].name.clone()];
    let after = &mut piece.edges[0];
    let line = after.runs[0].stretch(cuts[1], after.runs[0].length());
    after.runs[0] = line.with_ends(end, line.end());
    notches::change(piece, &names[1], |along| along - cuts[1]);
    piece.marks.retain(|mark| match mark {
        Mark::Notch { edge, along, .. } => {
            !(*edge == names[0] && *along > left || *edge == names[1] && *along < 0.0)
        }
        Mark::Point { .. } => true,
    });
    names
}

/// Marks and lines that lay under the facing go with it.
fn clear(piece: &mut Piece, whole: &Piece, gone: &[String]) {
    let outline: Vec<Curve> = piece.seam_outline();
    let path = closed_path(&outline);
    piece.lines = inner::inside(whole, &path);
    piece.marks.retain(|mark| match mark {
        Mark::Notch { edge, .. } => !gone.contains(edge),
        Mark::Point { at, .. } => contains(&path, *at),
    });
}

fn not_under(behind: &Behind<'_>, inner: &Inner, span: &Span) -> Finding {
    let facing = &behind.facing.name;
    Finding::error(
        "lining-misses-facing",
        format!(
            "the lining of the {} cannot end at the {}",
            inner.upon.replace(['-', '/'], " "),
            facing.replace(['-', '/'], " ")
        ),
    )
    .at_text(span, "bagged here")
    .at(Place::Piece(facing.clone()))
    .because("a bagged lining is sewn to the outer edge of the facing, which has to cross every dart and both edges beside it")
    .cure("make the facing narrower, transfer a dart that ends under it, or line the garment \"open\"")
    .mend(Mend::value(
        "lining",
        "\"open\"",
        "fells a full lining over the facing instead",
    ))
}
