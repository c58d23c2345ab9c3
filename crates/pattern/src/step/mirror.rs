//! Draws the whole of a piece that was drawn as a half.
//!
//! **What it does.** Adds the mirror image of the piece beyond its fold or centre line, which goes. Edges, darts and points are
//! called left and right, as the wearer has them, and answer to their old names together; seams, notches and girths follow,
//! with a seam for each side.
//! **When it is used.** Before anything that is not alike on both sides: a high hip, a draped front, a wrap. Where the cloth is
//! laid out single.
//! **Example.** `mirror piece="skirt-front"`: `side` becomes `side/left` and `side/right`.
//! **What can go wrong.** The piece has no fold or centre line; that line is curved, sewn, or opens.
//!
//! Invariants: nothing of the half that was drawn moves; area and girths are what they were for both halves; `cut-on-fold`
//! gives the half back.

use document::{Finding, Place as Spot};
use geometry::curve::mirror_in;
use geometry::{Affine, Curve};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::frame::{Frame, centre};
use super::kit::new_piece::corners;
use super::kit::{fill, find, inner, walk};
use crate::name::{Part, answers_to, part_of, root};
use crate::piece::{Dart, Edge, EdgeKind, InnerLine, Laid, Mark, Piece, Pressed};
use crate::seam::{Pattern, Seam, Stretch};

/// How far a centre line may be from straight, mm: less than scissors can tell.
const STRAIGHT: f64 = 0.05;

pub(super) const STEP: StepKind = StepKind {
    name: "mirror",
    group: Group::Build,
    summary: "draws the whole of a piece that was drawn as a half",
    manual: include_str!("mirror.rs"),
    parameters: &[
        Parameter::needed("piece", Kind::Piece, "pieces that are mirrored").many(),
        Parameter::usually(
            "at",
            Kind::Edge,
            Usual::Nothing,
            "straight edge in which it is mirrored, where it has no fold",
        ),
        Parameter::usually(
            "drawn",
            Kind::Choice(&["left", "right"]),
            Usual::Nothing,
            "the wearer's side that was drawn; by the name of the piece where it is not said",
        ),
    ],
    amount: None,
    apply: mirror,
};

/// The two words for the halves: for the drawn one and for its image.
type Words = [&'static str; 2];

fn mirror(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let mut changed = pattern.clone();
    let mut lines = Vec::new();
    let mut names = Vec::new();
    for named in arguments.names_of("piece") {
        let blame = |finding| arguments.blame("piece", finding);
        let index = find::piece_index(&changed, &named.piece).map_err(blame)?;
        let edge = axis(&changed, arguments, index)?;
        let words = words(&changed.pieces[index], arguments.word("drawn").ok());
        let line = changed.pieces[index].edges[edge].runs[0].clone();
        changed = mirrored(&changed, index, edge, words);
        names.push(changed.pieces[index].name.clone());
        lines.push(TraceLine::new(&named.piece, Trace::Slash, line));
    }
    let words = format!("mirrored the {}, to be cut single", names.join(" and the "));
    Ok(Done {
        pattern: changed,
        lines,
        words,
    })
}

fn axis(pattern: &Pattern, arguments: &Arguments, index: usize) -> Result<usize, Finding> {
    let piece = &pattern.pieces[index];
    let edge = if arguments.has("at") {
        let (owner, edge) = arguments.edge(pattern, "at")?;
        if owner != index {
            let told = refused(
                piece,
                "is not the piece of this edge",
                "name an edge of the piece",
            );
            return Err(arguments.blame("at", told));
        }
        edge
    } else {
        centre(piece).ok_or_else(|| {
            arguments.blame(
                "piece",
                refused(
                    piece,
                    "has no fold or centre line",
                    "name the edge in which it is mirrored (at)",
                ),
            )
        })?
    };
    let owner = &piece.edges[edge];
    let blame = |what: &str, cure: &str| Err(arguments.blame("piece", refused(piece, what, cure)));
    if !is_straight(owner) {
        return blame(
            "has a centre line that is not straight",
            "redraw it straight first",
        );
    }
    if owner.kind == EdgeKind::Opening {
        return blame(
            "opens at its centre line",
            "close it first: a piece that opens there is cut as a pair",
        );
    }
    if walk::is_sewn(pattern, &piece.name, &owner.name) {
        return blame("is sewn at its centre line", "join the seam first");
    }
    Ok(edge)
}

fn is_straight(edge: &Edge) -> bool {
    let [run] = &edge.runs[..] else { return false };
    let chord = Curve::line(run.start(), run.end());
    let places = (1..20).map(|step| run.point_at(run.length() * f64::from(step) / 20.0));
    places
        .into_iter()
        .all(|point| chord.nearest(point).distance < STRAIGHT)
}

/// Pieces are drawn as they are seen from outside: what lies at the right of a front is worn at the left.
fn words(piece: &Piece, given: Option<&str>) -> Words {
    let is_back = root(&piece.name).split('-').any(|word| word == "back");
    let at_right = Frame::of(piece).out.x >= 0.0;
    match given {
        Some("left") => ["left", "right"],
        Some(_) => ["right", "left"],
        None if is_back == at_right => ["right", "left"],
        None => ["left", "right"],
    }
}

fn mirrored(pattern: &Pattern, index: usize, axis: usize, words: Words) -> Pattern {
    let piece = &pattern.pieces[index];
    let line = &piece.edges[axis].runs[0];
    let flip = mirror_in(line.start(), line.end());
    let mut changed = pattern.clone();
    changed.pieces[index] = whole(piece, axis, flip, words);
    changed.seams = pattern
        .seams
        .iter()
        .flat_map(|seam| seams(pattern, seam, piece, words))
        .collect();
    changed
}

fn whole(piece: &Piece, axis: usize, flip: Affine, words: Words) -> Piece {
    let count = piece.edges.len();
    let own: Vec<&Edge> = (1..count)
        .map(|step| &piece.edges[(axis + step) % count])
        .collect();
    let last = own.len() - 1;
    // The image of the first edge comes before it, that of the last after it; so are the parts of what was one edge.
    let image_first = |index: usize| index == 0 && last > 0;
    let drawn = own.iter().enumerate().map(|(index, edge)| Edge {
        name: part_of(&edge.name, words[0]),
        part: half(edge.part, image_first(index)),
        ..(*edge).clone()
    });
    let image = own.iter().enumerate().rev().map(|(index, edge)| Edge {
        name: part_of(&edge.name, words[1]),
        part: half(edge.part, !image_first(index)),
        runs: edge
            .runs
            .iter()
            .rev()
            .map(|run| run.transformed(flip).reversed())
            .collect(),
        ..(*edge).clone()
    });
    let mut whole = Piece {
        edges: drawn.chain(image).collect(),
        darts: piece
            .darts
            .iter()
            .flat_map(|dart| darts(piece, dart, flip, words))
            .collect(),
        marks: piece
            .marks
            .iter()
            .flat_map(|mark| marks(piece, mark, flip, words))
            .collect(),
        lines: piece.lines.iter().map(|line| both(line, flip)).collect(),
        peaked: piece
            .peaked
            .iter()
            .flat_map(|name| words.map(|word| part_of(name, word)))
            .collect(),
        ..piece.clone()
    };
    if let Laid::Pair = whole.cut.laid {
        whole.cut.count = (whole.cut.count / 2).max(1);
    }
    whole.cut.laid = Laid::Single;
    close(&mut whole, own.len());
    corners(&mut whole);
    fill::sort_darts(&mut whole);
    whole
}

fn half(part: Part, second: bool) -> Part {
    part.cut_at(0.5)[usize::from(second)]
}

/// The image begins and ends just where the half ends and begins.
fn close(piece: &mut Piece, drawn: usize) {
    let (end, start) = (piece.edges[drawn - 1].end(), piece.edges[0].start());
    let first = &mut piece.edges[drawn].runs[0];
    *first = first.with_ends(end, first.end());
    let count = piece.edges.len();
    let runs = &mut piece.edges[count - 1].runs;
    let last = runs.len() - 1;
    runs[last] = runs[last].with_ends(runs[last].start(), start);
}

fn darts(piece: &Piece, dart: &Dart, flip: Affine, words: Words) -> [Dart; 2] {
    let runs = piece.edge(&dart.edge).map_or(2, |edge| edge.runs.len());
    let named = |word: &str| Dart {
        name: part_of(&dart.name, word),
        edge: part_of(&dart.edge, word),
        ..dart.clone()
    };
    let image = Dart {
        gap: runs.saturating_sub(2 + dart.gap),
        point: flip * dart.point,
        aim: flip * dart.aim,
        pressed: match dart.pressed {
            Pressed::Before => Pressed::After,
            Pressed::After => Pressed::Before,
        },
        ..named(words[1])
    };
    [named(words[0]), image]
}

fn marks(piece: &Piece, mark: &Mark, flip: Affine, words: Words) -> [Mark; 2] {
    match mark {
        Mark::Point { name, at } => {
            [(words[0], *at), (words[1], flip * *at)].map(|(word, at)| Mark::Point {
                name: part_of(name, word),
                at,
            })
        }
        Mark::Notch {
            name,
            edge,
            along,
            strokes,
        } => {
            let length = piece.edge(edge).map_or(0.0, Edge::length);
            [(words[0], *along), (words[1], length - along)].map(|(word, along)| Mark::Notch {
                name: name.clone(),
                edge: part_of(edge, word),
                along,
                strokes: *strokes,
            })
        }
    }
}

/// A line goes on beyond the axis, from the outside of the image to the outside of the half.
fn both(line: &InnerLine, flip: Affine) -> InnerLine {
    let image = line
        .runs
        .iter()
        .rev()
        .map(|run| run.transformed(flip).reversed());
    inner::rejoined(&InnerLine {
        name: line.name.clone(),
        runs: image.chain(line.runs.iter().cloned()).collect(),
    })
}

/// A seam with the halves' own names: one for each side, unless its other side says which is meant or it goes all round.
fn seams(pattern: &Pattern, seam: &Seam, piece: &Piece, words: Words) -> Vec<Seam> {
    if !walk::walks_on(seam, piece) {
        return vec![seam.clone()];
    }
    let sides = [&seam.held, &seam.worked].map(|side| walk::written_out(pattern, side));
    let is_own = |stretch: &&Stretch| stretch.piece == piece.name;
    if !sides.iter().flatten().any(|stretch| is_own(&stretch)) {
        return vec![seam.clone()];
    }
    let with = |sides: [Vec<Stretch>; 2], name: String| {
        let [held, worked] = sides;
        Seam {
            name,
            held,
            worked,
            ..seam.clone()
        }
    };
    if sides.iter().any(|side| goes_round(side, piece)) {
        return vec![with(
            sides.map(|side| round(side, piece, words)),
            seam.name.clone(),
        )];
    }
    let meant = sides
        .iter()
        .flatten()
        .filter(|stretch| !is_own(stretch))
        .find_map(|stretch| side_word(&stretch.edge));
    let of = |which: usize| sides.clone().map(|side| halves(side, piece, words, which));
    match meant {
        Some(word) => vec![with(of(usize::from(word != words[0])), seam.name.clone())],
        None => vec![
            with(of(0), seam.name.clone()),
            with(of(1), part_of(&seam.name, words[1])),
        ],
    }
}

/// The side that is meant by the name of a part.
fn side_word(edge: &str) -> Option<&str> {
    let last = edge.rsplit('/').next()?;
    ["left", "right"].contains(&last).then_some(last)
}

/// The stretches of one half; the image of an edge runs the other way.
fn halves(side: Vec<Stretch>, piece: &Piece, words: Words, which: usize) -> Vec<Stretch> {
    let own = |stretch: Stretch| {
        if stretch.piece != piece.name || !has(piece, &stretch.edge) {
            return stretch;
        }
        let named = Stretch {
            edge: part_of(&stretch.edge, words[which]),
            ..stretch
        };
        if which == 0 {
            named
        } else {
            walk::turned(named)
        }
    };
    side.into_iter().map(own).collect()
}

fn has(piece: &Piece, edge: &str) -> bool {
    piece.edges.iter().any(|own| answers_to(&own.name, edge))
}

/// Whether a side walks over some edge of the piece twice.
fn goes_round(side: &[Stretch], piece: &Piece) -> bool {
    let own: Vec<&str> = side
        .iter()
        .filter(|one| one.piece == piece.name)
        .map(|one| one.edge.as_str())
        .collect();
    own.iter()
        .enumerate()
        .any(|(index, edge)| own[..index].contains(edge))
}

/// A side that goes all round: first over one half, then over the other.
fn round(side: Vec<Stretch>, piece: &Piece, words: Words) -> Vec<Stretch> {
    let mut seen: Vec<String> = Vec::new();
    let mut all = Vec::new();
    for stretch in side {
        if stretch.piece != piece.name {
            all.push(stretch);
            continue;
        }
        let which = usize::from(seen.contains(&stretch.edge));
        seen.push(stretch.edge.clone());
        all.extend(halves(vec![stretch], piece, words, which));
    }
    all
}

fn refused(piece: &Piece, what: &str, cure: &str) -> Finding {
    Finding::error(
        "piece-cannot-be-mirrored",
        format!("the {} {what}", piece.name),
    )
    .at(Spot::Piece(piece.name.clone()))
    .because("a piece is mirrored in a straight line on which nothing is sewn")
    .cure(cure)
}
