//! What lies behind a button stand: cloth folded back, or a facing of its own.
//!
//! **Folded back** the facing is the allowance of the finished edge; its ends are mirrored, so that they lie on the neckline's and
//! the hem's own allowances. **Separate** it is a strip along the edge, as wide all the way, that follows the neckline at its top and
//! the hem or the waist seam at its bottom.
//!
//! Invariants: a strip lies on its piece in that piece's own coordinates, its outline on the piece's but for its inner edge; strips
//! of bodice and skirt are sewn where the pieces are, their ends alike.

use document::{Finding, Mend, Place, Quantity};
use geometry::allowance::{Corner, Which};
use geometry::{Affine, Curve, Point, Vec2};
use pattern::{
    Cut, Edge, EdgeKind, Fullness, Laid, Layer, Lies, Pattern, Piece, Seam, Stretch, name,
};

use super::path::{Leg, Path};
use super::stand;
use crate::recipe::Written;
use crate::recipe::parts::{ButtonWish, Closed};

/// Word for the strip: `front-stand-facing`.
const WORD: &str = "stand-facing";
/// How far a folded facing's straight end may miss a curved neckline, mm; half of what hands trim there.
const MISSES: f64 = 3.0;
/// A facing reaches at least so far beyond the centre line, under the buttonholes, mm; common practice, no source.
const BEYOND_STAND: f64 = 30.0;

pub(super) fn derive(
    pattern: &mut Pattern,
    path: &Path,
    (wish, closed): (&ButtonWish, &Written<Closed>),
    stand: f64,
) -> Result<(), Finding> {
    let width = wish.facing.max(stand + BEYOND_STAND);
    if !wish.separate {
        for leg in &path.legs {
            fold_back(pattern, leg, width, closed);
        }
        return Ok(());
    }
    let mut strips = Vec::new();
    for leg in &path.legs {
        strips.push(strip(pattern, leg, width, closed)?);
    }
    for pair in strips.windows(2) {
        pattern.seams.push(sewn(&pair[0], &pair[1]));
    }
    for (strip, leg) in strips.into_iter().zip(&path.legs) {
        put(pattern, strip, leg);
    }
    Ok(())
}

fn fold_back(pattern: &mut Pattern, leg: &Leg, width: f64, closed: &Written<Closed>) {
    let Some(piece) = pattern.piece_mut(&leg.piece) else {
        return;
    };
    let Some(index) = piece.edge_index(&leg.edge) else {
        return;
    };
    let count = piece.edges.len();
    let missed = missed(piece, index, width);
    piece.edges[index].allowance = width;
    piece.edges[index].corner = Corner::Mirrored(Which::Before);
    piece.edges[(index + count - 1) % count].corner = Corner::Mirrored(Which::After);
    if missed > MISSES {
        let finding = falls_short(leg, missed, closed);
        pattern.findings.push(finding);
    }
}

/// How far the neckline leaves, within the facing's reach, the straight line in which it meets the edge, mm.
fn missed(piece: &Piece, edge: usize, width: f64) -> f64 {
    let count = piece.edges.len();
    let stand = &piece.edges[(edge + 1) % count];
    let neck = &piece.edges[(edge + 2) % count];
    let reach = (width - stand.length()).clamp(0.0, neck.runs[0].length());
    let place = neck.runs[0].point_at(reach);
    (place - stand.start()).cross(stand.start_direction()).abs()
}

/// The strip along a leg's edge.
fn strip(
    pattern: &Pattern,
    leg: &Leg,
    width: f64,
    closed: &Written<Closed>,
) -> Result<Piece, Finding> {
    let around = stand::edges(pattern, &leg.piece, &leg.edge);
    let (Some(piece), Some([first, edge, last])) = (pattern.piece(&leg.piece), around) else {
        return Err(no_room(leg, width, closed));
    };
    let refused = || no_room(leg, width, closed);
    let inward = inward(edge);
    let inner = Curve::line(edge.start() + inward * width, edge.end() + inward * width);
    let index = piece.edge_index(&edge.name).ok_or_else(refused)?;
    let after = followed(piece, index + 2, true, |run| {
        reached(run, &inner, width - last.length())
    });
    let before = followed(piece, index + piece.edges.len() - 2, false, |run| {
        reached(&run.reversed(), &inner, width - first.length())
    });
    let (top, bottom) = (after.ok_or_else(refused)?, before.ok_or_else(refused)?);
    let outer = edge.runs[0]
        .reversed()
        .transformed(Affine::translate(inward * width))
        .with_ends(top.end(), bottom.start());
    let sewn = |edge: &Edge, run: Curve| Edge {
        runs: vec![run],
        kind: match edge.kind {
            EdgeKind::Opening | EdgeKind::Finished => EdgeKind::Seam,
            other => other,
        },
        ..edge.clone()
    };
    let neighbour = |at: usize| &piece.edges[at % piece.edges.len()];
    Ok(Piece {
        name: name::derived(&piece.name, WORD),
        edges: vec![
            sewn(neighbour(index + piece.edges.len() - 2), bottom),
            sewn(first, first.runs[0].clone()),
            sewn(edge, edge.runs[0].clone()),
            sewn(last, last.runs[0].clone()),
            Edge {
                corner: Corner::Mitre,
                ..sewn(neighbour(index + 2), top)
            },
            Edge::new("outer", EdgeKind::Finished, outer),
        ],
        darts: Vec::new(),
        marks: Vec::new(),
        lines: piece
            .lines
            .iter()
            .filter(|line| line.name.starts_with("centre"))
            .cloned()
            .collect(),
        grain: piece.grain,
        cut: Cut {
            layer: Layer::Facing,
            count: piece.cut.count,
            laid: Laid::Pair,
        },
        peaked: piece.peaked.clone(),
        asked: None,
    })
}

/// Unit direction from the finished edge into the piece.
fn inward(edge: &Edge) -> Vec2 {
    let chord = edge.end() - edge.start();
    Vec2::new(-chord.y, chord.x) / chord.hypot()
}

/// The part of an edge beside the stand that the strip takes: its run from the stand up to the inner edge.
fn followed(
    piece: &Piece,
    index: usize,
    forwards: bool,
    reach: impl Fn(&Curve) -> Option<f64>,
) -> Option<Curve> {
    let edge = &piece.edges[index % piece.edges.len()];
    let run = if forwards {
        edge.runs.first()?
    } else {
        edge.runs.last()?
    };
    let along = reach(run)?;
    let length = run.length();
    let kept = if forwards {
        run.stretch(0.0, along)
    } else {
        run.stretch(length - along, length)
    };
    (along < length - 1.0 && along > 1.0).then_some(kept)
}

/// How far along a run that leaves the stand the inner edge is met. A run that leaves it nearly square is walked, so that the
/// strips of bodice and skirt have ends alike.
fn reached(run: &Curve, inner: &Curve, width: f64) -> Option<f64> {
    let way = inner.end() - inner.start();
    let way = way / way.hypot();
    let square = Vec2::new(-way.y, way.x);
    let walked = run.point_at(width.clamp(0.0, run.length()));
    let gone = (walked - run.start()).dot(square).abs();
    if gone > width - 0.5 {
        return Some(width);
    }
    let far = 4.0 * (run.length() + width);
    let from: Point = inner.start() - way * far;
    let crossings = run.crossings_with_ray(from, way, geometry::Tolerance::PATTERN);
    crossings.first().map(|crossing| crossing.along)
}

/// The seam of two strips where bodice and skirt meet.
fn sewn(bodice: &Piece, skirt: &Piece) -> Seam {
    Seam {
        name: format!("{WORD}-waist"),
        held: vec![
            Stretch::backwards(&bodice.name, &bodice.edges[1].name),
            Stretch::backwards(&bodice.name, &bodice.edges[0].name),
        ],
        worked: vec![
            Stretch::forwards(&skirt.name, &skirt.edges[3].name),
            Stretch::forwards(&skirt.name, &skirt.edges[4].name),
        ],
        fullness: Fullness::None,
        runs_on: [false, false],
    }
}

fn put(pattern: &mut Pattern, strip: Piece, leg: &Leg) {
    for (index, edge) in strip.edges.iter().enumerate().skip(1).take(3) {
        let words = ["foot", "edge", "top"];
        pattern.makeup.mates.push(Seam {
            name: format!("{}-{}", strip.name, words[index - 1]),
            held: vec![Stretch::forwards(&leg.piece, &edge.name)],
            worked: vec![Stretch::forwards(&strip.name, &edge.name)],
            fullness: Fullness::None,
            runs_on: [false, false],
        });
    }
    pattern.makeup.lies.push(Lies {
        piece: strip.name.clone(),
        upon: leg.piece.clone(),
        placed: Affine::IDENTITY,
    });
    pattern.pieces.push(strip);
}

fn no_room(leg: &Leg, width: f64, closed: &Written<Closed>) -> Finding {
    Finding::error(
        "stand-facing-without-room",
        format!(
            "the {} has no room for a facing {width:.0} mm wide behind its stand",
            leg.piece.replace(['-', '/'], " ")
        ),
    )
    .at_text(&closed.span, "its facing")
    .at(Place::Piece(leg.piece.clone()))
    .because("a dart or the end of the neckline or of the hem lies nearer to the edge")
    .cure("make it narrower: facing-width=\"45 mm\"")
}

fn falls_short(leg: &Leg, missed: f64, closed: &Written<Closed>) -> Finding {
    Finding::warning(
        "folded-facing-misses-neckline",
        format!(
            "the facing that is folded back misses the neckline by {missed:.0} mm at its inner end"
        ),
    )
    .at_text(&closed.span, "its facing")
    .at(Place::Piece(leg.piece.clone()))
    .measured(
        Quantity::mm(missed),
        document::Allowed::AtMost(Quantity::mm(MISSES)),
    )
    .because("cloth that is folded back along the edge ends straight, and the neckline curves away")
    .cure("let the facing be a piece of its own: facing=\"separate\"")
    .mend(Mend::property(
        "opening",
        "facing",
        "\"separate\"",
        "cuts the facing as a piece of its own",
    ))
}
