//! Draws half of a piece that is alike on both sides, to be cut on the fold.
//!
//! **What it does.** Finds the line in which the piece is its own mirror image, takes away the half at its left and makes the
//! line a fold. Edges, darts and seams of left and right are one again; a seam all round walks over the half twice.
//! **When it is used.** To lay out a piece on folded cloth, or to undo `mirror`.
//! **Example.** `cut-on-fold piece="skirt-front"`, after `mirror`; `cut-on-fold piece="waistband" middle="waistband.waist"`.
//! **What can go wrong.** The halves are not alike; the piece lies on a fold already.
//!
//! Invariants: nothing of the half that stays moves; area and girths are what they were; `mirror` gives the whole back.

use document::{Allowed, Finding, Place as Spot, Quantity};
use geometry::curve::mirror_in;
use geometry::{Affine, Curve, Point};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::gap::{self, runs_between};
use super::kit::new_piece::corners;
use super::kit::{Gap, Part as Region, SAME_POINT, inner, walk};
use crate::name::{Part, free_name};
use crate::piece::{Dart, Edge, EdgeKind, Laid, Mark, Piece};
use crate::seam::{Pattern, Stretch};

/// How far the halves may differ, mm: less than scissors can tell.
const ALIKE: f64 = 0.1;

pub(super) const STEP: StepKind = StepKind {
    name: "cut-on-fold",
    group: Group::Build,
    summary: "draws half of a piece that is alike on both sides",
    manual: include_str!("cut_on_fold.rs"),
    parameters: &[
        Parameter::needed("piece", Kind::Piece, "piece that is halved"),
        Parameter::usually(
            "middle",
            Kind::Edge,
            Usual::Nothing,
            "edge whose middle lies on the fold, where it has no left and right",
        ),
        Parameter::usually(
            "name",
            Kind::Text,
            Usual::Word("centre"),
            "name of the fold",
        ),
    ],
    amount: None,
    apply: fold,
};

/// What became of an edge of the whole: the edge of the half for which it is walked now.
#[derive(Clone, Debug)]
enum Became {
    Kept(String),
    Image(String),
    /// Cut by the fold; whether its first part stayed.
    Halved(String, bool),
}

fn fold(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let index = arguments.piece(pattern, "piece")?;
    let piece = &pattern.pieces[index];
    let blame = |finding| arguments.blame("piece", finding);
    if matches!(piece.cut.laid, Laid::OnFold(_)) {
        return Err(blame(refused(
            piece,
            "lies on a fold already",
            "take the step away",
        )));
    }
    let ends = ends(pattern, arguments, index)?;
    let halved = halve(piece, ends, arguments.word("name")?).map_err(blame)?;
    let line = halved.piece.edges[halved.piece.edges.len() - 1].runs[0].clone();
    let mut changed = pattern.clone();
    let name = piece.name.clone();
    changed.seams = walk::once(
        pattern
            .seams
            .iter()
            .map(|seam| {
                let mut seam = seam.clone();
                if walk::walks_on(&seam, piece) {
                    let side = |side: &[Stretch]| {
                        renamed(&walk::written_out(pattern, side), &name, &halved.became)
                    };
                    (seam.held, seam.worked) = (side(&seam.held), side(&seam.worked));
                }
                seam
            })
            .collect(),
    );
    changed.pieces[index] = halved.piece;
    Ok(Done {
        pattern: changed,
        lines: vec![TraceLine::new(&name, Trace::Slash, line)],
        words: format!("halved the {name}, to be cut on the fold"),
    })
}

/// Where the fold meets the outline: where left and right meet, or in the middle of an edge and square to it.
fn ends(
    pattern: &Pattern,
    arguments: &Arguments,
    index: usize,
) -> Result<[(usize, f64); 2], Finding> {
    let piece = &pattern.pieces[index];
    if arguments.has("middle") {
        let (owner, edge) = arguments.edge(pattern, "middle")?;
        if owner == index {
            return from_middle(piece, edge).map_err(|finding| arguments.blame("middle", finding));
        }
        let told = refused(
            piece,
            "is not the piece of this edge",
            "name an edge of the piece",
        );
        return Err(arguments.blame("middle", told));
    }
    let count = piece.edges.len();
    let corners: Vec<usize> = (0..count)
        .filter(|&edge| {
            let pair = [edge, (edge + 1) % count].map(|edge| side_of(&piece.edges[edge].name));
            matches!(pair, [Some((one, a)), Some((other, b))] if one == other && a != b)
        })
        .collect();
    if let [first, second] = corners[..] {
        return Ok([first, second].map(|edge| (edge, piece.edges[edge].length())));
    }
    let told = refused(
        piece,
        "has no two places where left and right meet",
        "name the edge whose middle lies on the fold (middle)",
    );
    Err(arguments.blame("piece", told))
}

fn from_middle(piece: &Piece, edge: usize) -> Result<[(usize, f64); 2], Finding> {
    let along = piece.edges[edge].length() / 2.0;
    let (point, way) = piece.edges[edge].place_at(along);
    let square = geometry::Vec2::new(-way.y, way.x);
    let [first, second] = super::kit::slash::across(piece, point, square)?;
    let far = if first.0 == edge { second } else { first };
    Ok([(edge, along), far])
}

/// The name without its side, and the side.
fn side_of(name: &str) -> Option<(&str, &str)> {
    let (whole, word) = name.rsplit_once('/')?;
    ["left", "right"].contains(&word).then_some((whole, word))
}

/// The half that stays, and what became of the edges of the whole.
struct Halved {
    piece: Piece,
    became: Vec<(String, Became)>,
}

fn halve(piece: &Piece, ends: [(usize, f64); 2], name: &str) -> Result<Halved, Finding> {
    let mut whole = piece.clone();
    let mut held = Vec::new();
    let first = gap::open(&mut whole, ends[0].0, ends[0].1, &mut held)?;
    held.push(first);
    let second = gap::open(&mut whole, ends[1].0, ends[1].1, &mut held)?;
    let first = held[0];
    let axis = [first.before(&whole), second.before(&whole)];
    if (axis[0] - axis[1]).hypot() < 1.0 {
        return Err(refused(
            piece,
            "has no length along this fold",
            "choose another edge",
        ));
    }
    let at_right = |from: Gap, to: Gap| {
        let runs = runs_between(&whole, from, to);
        let sum: f64 = runs
            .iter()
            .map(|gap| {
                gap.curve(&whole)
                    .point_at(gap.curve(&whole).length() / 2.0)
                    .x
            })
            .sum();
        sum / runs.len().max(1) as f64
    };
    let (from, to) = if at_right(first, second) >= at_right(second, first) {
        (first, second)
    } else {
        (second, first)
    };
    let flip = mirror_in(axis[0], axis[1]);
    alike(
        &whole,
        &runs_between(&whole, from, to),
        &runs_between(&whole, to, from),
        flip,
    )?;
    Ok(drawn(piece, &whole, (from, to), name))
}

/// Both halves must be each other's image, run by run from the same end of the fold.
fn alike(piece: &Piece, kept: &[Gap], gone: &[Gap], flip: Affine) -> Result<(), Finding> {
    let images: Vec<Curve> = gone
        .iter()
        .rev()
        .map(|gap| gap.curve(piece).transformed(flip).reversed())
        .collect();
    let runs: Vec<&Curve> = kept.iter().map(|gap| gap.curve(piece)).collect();
    let apart = |(one, other): (&&Curve, &Curve)| {
        let places = (0..=20).map(|step| f64::from(step) / 20.0);
        let pairs = places.map(|share| {
            one.point_at(one.length() * share) - other.point_at(other.length() * share)
        });
        pairs.map(geometry::Vec2::hypot).fold(0.0, f64::max)
    };
    let most = runs.iter().zip(&images).map(apart).fold(0.0, f64::max);
    if runs.len() == images.len() && most <= ALIKE {
        return Ok(());
    }
    Err(refused(
        piece,
        "is not alike on both sides",
        "make both sides alike first, or leave the piece whole",
    )
    .measured(Quantity::mm(most), Allowed::AtMost(Quantity::mm(ALIKE))))
}

fn drawn(old: &Piece, whole: &Piece, (from, to): (Gap, Gap), fold: &str) -> Halved {
    let kept = runs_between(whole, from, to);
    let gone = runs_between(whole, to, from);
    let region = Region::between(
        whole,
        from,
        to,
        vec![Curve::line(to.before(whole), from.before(whole))],
    );
    let mut piece = Piece {
        edges: Vec::new(),
        darts: Vec::new(),
        marks: Vec::new(),
        lines: inner::inside(whole, region.path()),
        peaked: Vec::new(),
        ..old.clone()
    };
    let (mut became, mut spans) = (Vec::new(), Vec::new());
    for stretch in stretches(&kept) {
        let name = take(&mut piece, whole, stretch, (&mut became, &mut spans));
        if whole.peaked.contains(&whole.edges[stretch.0].name) {
            piece.peaked.push(name);
        }
    }
    images(whole, [&kept, &gone], &mut became);
    piece.marks = marks(
        whole,
        &spans,
        (&region, [from, to].map(|gap| gap.before(whole))),
    );
    let (start, end) = (to.before(whole), from.before(whole));
    let name = free_name(fold, piece.edges.iter().map(|edge| edge.name.as_str()));
    piece.edges.push(Edge::new(
        name.clone(),
        EdgeKind::Fold,
        Curve::line(start, end),
    ));
    piece.cut.laid = Laid::OnFold(name);
    corners(&mut piece);
    Halved { piece, became }
}

/// The runs by edges: number of the edge, first and last run.
fn stretches(runs: &[Gap]) -> Vec<(usize, usize, usize)> {
    let mut found: Vec<(usize, usize, usize)> = Vec::new();
    for run in runs {
        match found.last_mut() {
            Some(last) if last.0 == run.edge && last.2 + 1 == run.run => last.2 = run.run,
            _ => found.push((run.edge, run.run, run.run)),
        }
    }
    found
}

/// Gives the half a stretch of an edge with its darts and notches; its new name.
fn take(
    piece: &mut Piece,
    whole: &Piece,
    (index, first, last): (usize, usize, usize),
    (became, spans): (&mut Vec<(String, Became)>, &mut Vec<Span>),
) -> String {
    let edge = &whole.edges[index];
    let name = side_of(&edge.name)
        .map_or(edge.name.as_str(), |(name, _)| name)
        .to_string();
    let is_whole = first == 0 && last + 1 == edge.runs.len();
    became.push((
        edge.name.clone(),
        if is_whole {
            Became::Kept(name.clone())
        } else {
            Became::Halved(name.clone(), first == 0)
        },
    ));
    let before: f64 = edge.runs[..first].iter().map(Curve::length).sum();
    let own: f64 = edge.runs[first..=last].iter().map(Curve::length).sum();
    for dart in whole
        .darts_on(&edge.name)
        .filter(|dart| dart.gap >= first && dart.gap < last)
    {
        let own = side_of(&dart.name).map_or(dart.name.as_str(), |(name, _)| name);
        piece.darts.push(Dart {
            name: own.into(),
            edge: name.clone(),
            gap: dart.gap - first,
            ..dart.clone()
        });
    }
    spans.push(Span {
        old: edge.name.clone(),
        new: name.clone(),
        from: before,
        to: before + own,
    });
    piece.edges.push(Edge {
        name: name.clone(),
        runs: edge.runs[first..=last].to_vec(),
        part: both_parts(whole, edge),
        ..edge.clone()
    });
    name
}

/// The part of the root that an edge and the same edge of the other side make up together.
fn both_parts(whole: &Piece, edge: &Edge) -> Part {
    let same = |other: &&Edge| match (side_of(&other.name), side_of(&edge.name)) {
        (Some((one, _)), Some((name, _))) => one == name,
        _ => other.name == edge.name,
    };
    let pair = whole.edges.iter().filter(same);
    pair.fold(edge.part, |all, part| Part {
        from: all.from.min(part.part.from),
        to: all.to.max(part.part.to),
    })
}

/// Edges of the half that went are walked on the half that stayed.
fn images(whole: &Piece, [kept, gone]: [&[Gap]; 2], became: &mut Vec<(String, Became)>) {
    let pairs: Vec<(usize, usize)> = kept
        .iter()
        .zip(gone.iter().rev())
        .map(|(own, image)| (image.edge, own.edge))
        .collect();
    for (image, own) in pairs {
        let (image, own) = (&whole.edges[image].name, &whole.edges[own].name);
        if became.iter().any(|(name, _)| name == image) {
            continue;
        }
        let name = side_of(own).map_or(own.as_str(), |(name, _)| name);
        became.push((image.clone(), Became::Image(name.into())));
    }
}

/// A stretch of an edge that stayed: its names, and where it lay on the whole edge, mm.
struct Span {
    old: String,
    new: String,
    from: f64,
    to: f64,
}

/// Notches on what stayed, and points inside the half or on its fold, without their sides.
fn marks(whole: &Piece, spans: &[Span], (region, axis): (&Region, [Point; 2])) -> Vec<Mark> {
    let fold = Curve::line(axis[0], axis[1]);
    let stays = |at: Point| region.holds(at) || fold.nearest(at).distance < SAME_POINT;
    let on = |edge: &str, along: f64| {
        let within = |span: &&Span| {
            span.old == edge && along >= span.from - SAME_POINT && along <= span.to + SAME_POINT
        };
        spans.iter().find(within)
    };
    let own = whole.marks.iter().filter_map(|mark| match mark {
        Mark::Point { name, at } => stays(*at).then(|| Mark::Point {
            name: side_of(name).map_or(name.as_str(), |(name, _)| name).into(),
            at: *at,
        }),
        Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } => on(edge, *along).map(|span| Mark::Notch {
            name: name.clone(),
            edge: span.new.clone(),
            along: along - span.from,
            strokes: *strokes,
        }),
    });
    own.collect()
}

/// A side with the names of the half.
fn renamed(side: &[Stretch], piece: &str, became: &[(String, Became)]) -> Vec<Stretch> {
    let one = |stretch: &Stretch| {
        let found = became
            .iter()
            .find(|(name, _)| stretch.piece == piece && *name == stretch.edge);
        let named = |edge: &str, backwards: bool| Stretch {
            piece: piece.into(),
            edge: edge.into(),
            backwards,
        };
        match found.map(|(_, became)| became) {
            None => vec![stretch.clone()],
            Some(Became::Kept(edge)) => vec![named(edge, stretch.backwards)],
            Some(Became::Image(edge)) => vec![named(edge, !stretch.backwards)],
            Some(Became::Halved(edge, first)) => vec![named(edge, !first), named(edge, *first)],
        }
    };
    side.iter().flat_map(one).collect()
}

fn refused(piece: &Piece, what: &str, cure: &str) -> Finding {
    Finding::error(
        "piece-cannot-be-halved",
        format!("the {} {what}", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .cure(cure)
}
