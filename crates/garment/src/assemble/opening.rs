//! Where a garment opens: the front as a pair where it opens in front, and the notch at the opening's end.
//!
//! Knows no zip and no button; those are parts. Invariant: a seam at the centre is drafted where the back opens, so that it can
//! be shaped; the front stays as it is drafted and only loses its fold.

use body::{Body, Measure};
use pattern::{Edge, EdgeKind, Laid, Mark, Pattern};

use crate::block::skirt::found::{self, On};
use crate::recipe::parts::Closed;
use crate::recipe::{Opening, Recipe};

/// What is left of the hip line by an opening that ends above it: a finger's width, mm; common practice, no source.
const ABOVE_HIP: f64 = 20.0;
/// An opening that ends nearer to the hem has no end, mm.
const LEAST_BELOW: f64 = 40.0;

/// Whether one end of a waistband reaches under the other; where there are buttons, their stands do.
pub(super) fn has_underlap(recipe: &Recipe) -> bool {
    let closed = recipe.parts.closing.closed.as_ref();
    let has_stands = closed.is_some_and(|closed| matches!(closed.value, Closed::Buttons(_)));
    recipe.opens() && !has_stands
}

/// Cuts every front that lay on the fold at CF as a pair that opens there.
pub(super) fn in_front(pattern: &mut Pattern) {
    for piece in &mut pattern.pieces {
        let is_front = |edge: &Edge| {
            piece.name == "front" && edge.name == "centre"
                || found::is_skirt(&piece.name) && found::on(piece, edge) == On::CentreFront
        };
        let centre = piece.edges.iter().position(is_front);
        let Some(centre) = centre.map(|index| &mut piece.edges[index]) else {
            continue;
        };
        if piece.cut.laid == Laid::OnFold(centre.name.clone()) {
            centre.kind = EdgeKind::Opening;
            piece.cut.laid = Laid::Pair;
            piece.cut.count *= 2;
        }
    }
}

/// The opening ends where the hips are passed: (hip − waist + 2 in)/2 at least (a trade magazine's worked example), or the hip
/// line less a finger's width where that is lower.
pub(super) fn place_end(pattern: &mut Pattern, opening: Opening, body: &Body) {
    let by_rule = (body.mm(Measure::Hip) - body.mm(Measure::Waist) + 50.8) / 2.0;
    let below_waist = by_rule.max(body.mm(Measure::WaistToHip) - ABOVE_HIP);
    let on = match opening {
        Opening::Back => On::CentreBack,
        Opening::Front => On::CentreFront,
        Opening::Side => On::Side,
        Opening::Nowhere => return,
    };
    let opens = |edge: &Edge| edge.kind == EdgeKind::Opening || on == On::Side;
    let ends: Vec<(String, Mark)> = found::edges(pattern, on)
        .into_iter()
        .filter(|(_, edge)| opens(edge) && below_waist < edge.length() - LEAST_BELOW)
        .map(|(piece, edge)| {
            let is_down = edge.end().y > edge.start().y;
            let along = if is_down {
                below_waist
            } else {
                edge.length() - below_waist
            };
            let mark = Mark::Notch {
                name: "opening-end".into(),
                edge: edge.name.clone(),
                along,
                strokes: 1,
            };
            (piece.name.clone(), mark)
        })
        .collect();
    for (piece, mark) in ends {
        if let Some(piece) = pattern.piece_mut(&piece) {
            piece.marks.push(mark);
        }
    }
}
