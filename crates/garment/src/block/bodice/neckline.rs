//! The neckline of the style: wider at the shoulder, deeper in front and behind, round or in a V.

use document::{Allowed, Finding, Place, Quantity};
use geometry::{Curve, Knot, Vec2, solve};
use pattern::{Edge, Piece};

/// How a neckline runs in front.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NecklineShape {
    /// Square to CF and to the shoulder, round between.
    Round,
    /// Straight from CF towards the shoulder, with a little bow at its end.
    V,
}

/// A neckline by how far it moves from the base of the neck, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Neckline {
    /// How it runs in front.
    pub shape: NecklineShape,
    /// Lower at CF.
    pub depth: f64,
    /// Wider at each shoulder, along the shoulder seam.
    pub width: f64,
    /// Lower at CB.
    pub back_depth: f64,
}

/// The least shoulder seam that a neckline must leave, mm.
const LEAST_SHOULDER: f64 = 25.0;
/// A neckline stays above the waist by at least this, mm.
const ABOVE_WAIST: f64 = 60.0;

/// Cuts the neckline into both pieces.
pub(super) fn cut(front: Piece, back: Piece, wish: &Neckline) -> Result<(Piece, Piece), Finding> {
    let shoulder = front.edge("shoulder").map_or(0.0, Edge::length);
    if wish.width < 0.0 || wish.width > shoulder - LEAST_SHOULDER {
        return Err(too_wide(wish.width, shoulder));
    }
    let share = wish.width / shoulder;
    let front = recut(front, share, wish.depth, wish.shape)?;
    let back = recut(back, share, wish.back_depth, NecklineShape::Round)?;
    Ok((front, back))
}

fn recut(mut piece: Piece, share: f64, depth: f64, shape: NecklineShape) -> Result<Piece, Finding> {
    if share == 0.0 && depth == 0.0 && shape == NecklineShape::Round {
        return Ok(piece);
    }
    let [neckline, shoulder, centre] = ["neckline", "shoulder", "centre"].map(|name| {
        piece
            .edge_index(name)
            .expect("a bodice has a neckline, a shoulder and a centre")
    });
    let shoulder_line = piece.edges[shoulder].runs[0].clone();
    let kept = shoulder_line.stretch(share * shoulder_line.length(), shoulder_line.length());
    let centre_line = centre_to_depth(&piece, centre, depth)?;
    let line = drawn(&centre_line, &kept, shape).ok_or_else(|| too_deep(&piece, depth))?;
    piece.edges[neckline].runs = vec![line];
    piece.edges[shoulder].runs = vec![kept];
    piece.edges[centre].runs = vec![centre_line];
    if shape == NecklineShape::V {
        piece.peaked.push("neckline".into());
    }
    Ok(piece)
}

/// The centre line, which runs up, cut at a depth below its top.
fn centre_to_depth(piece: &Piece, centre: usize, depth: f64) -> Result<Curve, Finding> {
    let line = &piece.edges[centre].runs[0];
    if depth == 0.0 {
        return Ok(line.clone());
    }
    let room = line.start().y - line.end().y - ABOVE_WAIST;
    if depth < 0.0 || depth > room {
        return Err(too_deep(piece, depth));
    }
    let level = line.end().y + depth;
    let along = solve::bracketed(0.0, line.length(), 1e-9, |along| {
        line.point_at(along).y - level
    });
    along
        .map(|along| line.stretch(0.0, along))
        .map_err(|_| too_deep(piece, depth))
}

fn drawn(centre: &Curve, shoulder: &Curve, shape: NecklineShape) -> Option<Curve> {
    let (from, to) = (centre.end(), shoulder.start());
    let (up, out) = (centre.end_direction(), shoulder.start_direction());
    let leaves = match shape {
        NecklineShape::Round => Vec2::new(-up.y, up.x),
        NecklineShape::V => to - from,
    };
    Curve::smooth(&[
        Knot::toward(from, leaves),
        Knot::toward(to, Vec2::new(out.y, -out.x)),
    ])
}

fn too_wide(width: f64, shoulder: f64) -> Finding {
    Finding::error(
        "neckline-wider-than-shoulder",
        format!(
            "a neckline {width:.0} mm wider leaves {:.0} mm of the shoulder seam",
            shoulder - width
        ),
    )
    .at(Place::Piece("front".into()))
    .measured(
        Quantity::mm(width),
        Allowed::Between(Quantity::mm(0.0), Quantity::mm(shoulder - LEAST_SHOULDER)),
    )
    .because("the shoulder seam carries the garment")
    .cure(format!(
        "choose a width of at most {:.0} mm",
        (shoulder - LEAST_SHOULDER).floor()
    ))
}

fn too_deep(piece: &Piece, depth: f64) -> Finding {
    let centre = piece
        .edge("centre")
        .map_or(0.0, |edge| (edge.start() - edge.end()).hypot());
    let most = (centre - ABOVE_WAIST).floor();
    Finding::error(
        "neckline-too-deep",
        format!(
            "a neckline {depth:.0} mm deeper in the {} reaches below the bodice",
            piece.name
        ),
    )
    .at(Place::Edge {
        piece: piece.name.clone(),
        edge: "neckline".into(),
        at: None,
    })
    .measured(
        Quantity::mm(depth),
        Allowed::Between(Quantity::mm(0.0), Quantity::mm(most)),
    )
    .because(format!("{ABOVE_WAIST:.0} mm above the waist must stay"))
    .cure(format!("choose a depth of at most {most:.0} mm"))
}
