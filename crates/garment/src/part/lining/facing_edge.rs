//! A bagged lining ends where a facing ends: the copy of the shell is divided along the outer edge of the facing, and what lies
//! under the facing goes.
//!
//! Knows of a facing its place on the shell, its `outer` edges, and on which side of them it lies. Invariant: the new edge of the
//! lining follows the outer edge of the facing and is mated with it.

use document::{Finding, Mend, Place, Span};
use geometry::curve::closed_path;
use geometry::{Curve, Point, Tolerance, Vec2, curve};
use pattern::step::kit::divide::{Division, End, divide};
use pattern::step::kit::fill::joined;
use pattern::{EdgeKind, Layer, Lies, Mark, Pattern, Piece, name};

use super::inner::{Inner, Meet};

/// A facing may end so much within the shell's outline where it is cut smaller for the turn of cloth, mm.
const REACHES: f64 = 15.0;
/// What a facing lacks at the ends of its outer edge is eased in where it is no more than this, mm. †
const EASED_IN: f64 = 3.0;
/// Its side of the outer edge is looked up so far from it, mm.
const INSIDE: f64 = 1.0;
/// Words of the two parts, of which one is kept.
const WORDS: [&str; 2] = ["one", "other"];

/// A facing's outer edge in the coordinates of the shell piece.
struct Outer {
    facing: String,
    edge: String,
    line: Curve,
    /// A point of the facing beside it.
    inside: Point,
}

/// Takes from a copy of the shell all that lies under facings; hems are met otherwise.
pub(super) fn cut(inner: &mut Inner, shell: &Pattern, span: &Span) -> Result<(), Finding> {
    for outer in outers(shell, &inner.upon) {
        cut_along(inner, &outer, span)?;
    }
    Ok(())
}

/// The outer edges of the facings that lie on a shell piece.
fn outers(shell: &Pattern, upon: &str) -> Vec<Outer> {
    let lies = shell.makeup.lies.iter().filter(|lies| lies.upon == upon);
    lies.filter_map(|lies| Some((lies, shell.piece(&lies.piece)?)))
        .filter(|(_, piece)| piece.cut.layer == Layer::Facing && !piece.name.contains("hem"))
        .flat_map(|(lies, piece)| {
            let edges = piece.edges_of("outer");
            edges.filter_map(move |edge| outer(lies, piece, edge))
        })
        .collect()
}

fn outer(lies: &Lies, piece: &Piece, edge: &pattern::Edge) -> Option<Outer> {
    // A facing that is joined over a seam lies on each shell piece with its own part.
    let word = edge.name.strip_prefix("outer/");
    if word.is_some_and(|word| !name::answers_to(&lies.upon, name::root(word))) {
        return None;
    }
    let runs = edge.runs.iter().map(|run| run.transformed(lies.placed));
    let line = runs.reduce(|whole, run| joined(&whole, &run))?;
    let middle = edge.length() / 2.0;
    let (at, way) = edge.place_at(middle);
    let inside = lies.placed * (at + Vec2::new(-way.y, way.x) * INSIDE);
    Some(Outer {
        facing: piece.name.clone(),
        edge: edge.name.clone(),
        line,
        inside,
    })
}

/// A place where the outline is cut: number of the edge, length as sewn along it, length along the cutting line.
#[derive(Clone, Copy)]
struct Cut {
    edge: usize,
    along: f64,
    on_line: f64,
}

fn cut_along(inner: &mut Inner, outer: &Outer, span: &Span) -> Result<(), Finding> {
    let line = prolonged(&outer.line, REACHES);
    let cuts = cuts(&inner.piece, &line);
    let [first, .., last] = cuts.as_slice() else {
        return Ok(());
    };
    let seam = edge_name(outer, &inner.upon);
    let mut alone = Pattern {
        pieces: vec![inner.piece.clone()],
        ..Pattern::default()
    };
    let division = Division {
        piece: 0,
        from: End::Edge(first.edge, first.along),
        to: End::Edge(last.edge, last.along),
        line: line.stretch(first.on_line, last.on_line),
        words: WORDS.map(Into::into),
        seam: seam.clone(),
    };
    divide(&mut alone, &division).map_err(|finding| not_under(outer, inner, span, &finding))?;
    let under = |piece: &Piece| {
        let outline: Vec<Curve> = piece
            .edges
            .iter()
            .flat_map(|edge| edge.runs.clone())
            .collect();
        curve::contains(&closed_path(&outline), outer.inside)
    };
    let mut left = alone.pieces.into_iter().filter(|piece| !under(piece));
    let (Some(kept), None) = (left.next(), left.next()) else {
        return Err(beside(outer, inner, span));
    };
    let beyond = last.on_line - first.on_line - outer.line.length();
    let more = if beyond.abs() <= EASED_IN {
        beyond
    } else {
        0.0
    };
    take(
        inner,
        whole_names(kept, &inner.piece.name),
        outer,
        &seam,
        more,
    );
    Ok(())
}

/// Where a line crosses the outline of a piece, along the line.
fn cuts(piece: &Piece, line: &Curve) -> Vec<Cut> {
    let mut found: Vec<Cut> = Vec::new();
    for (index, edge) in piece.edges.iter().enumerate() {
        let mut before = 0.0;
        for run in &edge.runs {
            let crossings = run.crossings(line, Tolerance::PATTERN).into_iter();
            found.extend(crossings.map(|crossing| Cut {
                edge: index,
                along: before + crossing.along,
                on_line: crossing.other_along,
            }));
            before += run.length();
        }
    }
    found.sort_by(|a, b| a.on_line.total_cmp(&b.on_line));
    found
}

fn prolonged(curve: &Curve, by: f64) -> Curve {
    let head = curve.start() - curve.start_direction() * by;
    let tail = curve.end() + curve.end_direction() * by;
    let whole = joined(&Curve::line(head, curve.start()), curve);
    joined(&whole, &Curve::line(curve.end(), tail))
}

/// The new edge is called after the facing: `neck-facing`, whatever piece it lies on.
fn edge_name(outer: &Outer, upon: &str) -> String {
    let root = name::root(&outer.facing);
    let prefix = format!("{}-", name::root(upon));
    root.strip_prefix(&prefix).unwrap_or(root).to_owned()
}

/// Gives a part the name of the whole, and parts of edges that were cut the names of the whole edges.
fn whole_names(mut piece: Piece, whole: &str) -> Piece {
    piece.name = whole.into();
    let names: Vec<String> = piece.edges.iter().map(|edge| edge.name.clone()).collect();
    for old in names {
        let Some((root, _)) = old
            .rsplit_once('/')
            .filter(|(_, word)| WORDS.contains(word))
        else {
            continue;
        };
        if piece.edge(root).is_some() {
            continue;
        }
        for edge in piece.edges.iter_mut().filter(|edge| edge.name == old) {
            edge.name = root.into();
        }
        for dart in piece.darts.iter_mut().filter(|dart| dart.edge == old) {
            dart.edge = root.into();
        }
        for mark in &mut piece.marks {
            if let Mark::Notch { edge, .. } = mark
                && *edge == old
            {
                *edge = root.into();
            }
        }
    }
    piece
}

/// Puts the kept part in the place of the whole copy.
fn take(inner: &mut Inner, kept: Piece, outer: &Outer, seam: &str, more: f64) {
    let lengths = |name: &str| Some((inner.piece.edge(name)?.length(), kept.edge(name)?.length()));
    let mut meets: Vec<Meet> = Vec::new();
    for meet in &inner.meets {
        let Some((old, new)) = lengths(&meet.edge) else {
            continue;
        };
        let mut meet = meet.clone();
        if (old - new).abs() > 1e-6 {
            meet.more = None;
        }
        meets.push(meet);
    }
    let edge = kept.edges.iter().find(|edge| {
        name::answers_to(&edge.name, seam) || edge.name.starts_with(&format!("{seam}-"))
    });
    if let Some(edge) = edge.filter(|edge| edge.kind == EdgeKind::Seam) {
        meets.push(Meet {
            edge: edge.name.clone(),
            on: (outer.facing.clone(), outer.edge.clone()),
            more: Some(more),
            pleated: false,
            mates: true,
        });
    }
    inner.meets = meets;
    inner.piece = kept;
}

fn not_under(outer: &Outer, inner: &Inner, span: &Span, why: &Finding) -> Finding {
    Finding::error(
        "lining-crosses-facing",
        format!(
            "the lining of the {} cannot end at the {}: {}",
            inner.upon,
            outer.facing.replace('-', " "),
            why.message.trim_end_matches('.').to_lowercase()
        ),
    )
    .at_text(span, "bagged here")
    .at(Place::Piece(outer.facing.clone()))
    .because("a bagged lining is sewn to the outer edge of the facing")
    .cure(
        "transfer the dart to another edge, make the facing narrower, or line the garment \"open\"",
    )
    .mend(Mend::value(
        "lining",
        "\"open\"",
        "fells a full lining over the facing instead",
    ))
}

fn beside(outer: &Outer, inner: &Inner, span: &Span) -> Finding {
    let why = Finding::error(
        "facing-beside",
        "the facing does not lie on one side of its outer edge",
    );
    not_under(outer, inner, span, &why)
}
