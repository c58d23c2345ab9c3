//! Answers for other programs: what was found, and the lay that proves it, in the form of all lays.
//!
//! Invariant: numbers are millimetres, degrees or the number's own unit.

use cloth::answers::Change;
use cloth::lay::Wishes;
use geometry::Tolerance;
use geometry::allowance::CuttingOutline;
use pattern::{Laid as Lies, Pattern, Piece};
use serde_json::{Value, json};

use super::most::{Most, Outcome, Why};
use super::{Doing, Fits, Saved, laid, words};
use crate::lays::{self, Goods, Laid};

/// What would save cloth.
pub fn savings_json(pattern: &Pattern, goods: &Goods, saved: &Saved) -> Value {
    let from = saved.from.iter().map(|from| {
        let savings = from.savings.iter().map(|one| {
            let proof = laid(&one.pattern, goods, one.lay.clone());
            json!({
                "words": words::saving_words(pattern, one),
                "saved": one.saved,
                "give_or_take": one.give_or_take,
                "proof": proof.map(|proof| self::proof(&one.pattern, &proof, &one.wishes)),
            })
        });
        json!({
            "way": from.without.best.way.word(),
            "length": from.without.best.length,
            "spread": from.without.spread,
            "tried": from.tried,
            "stopped": from.stopped,
            "savings": savings.collect::<Vec<Value>>(),
        })
    });
    json!({
        "format": "notchbook-savings-1",
        "cloth": goods.cloth.name,
        "from": from.collect::<Vec<Value>>(),
    })
}

/// How much of a number a cloth allows.
pub fn most_json(goods: &Goods, wishes: &Wishes, most: &Most) -> Value {
    json!({
        "format": "notchbook-most-1",
        "number": most.number,
        "now": most.now,
        "room": finite(most.room),
        "most": most.found.as_ref().map(|found| found.value),
        "next": most.missed.as_ref().map(|missed| json!({
            "value": missed.value,
            "why": why(&missed.why),
        })),
        "words": words::most_text(goods, most),
        "stopped": most.stopped,
        "tried": most.probes.iter().map(|probe| json!({
            "value": probe.value,
            "length": match &probe.outcome {
                Outcome::Fits(length) => Some(*length),
                Outcome::Misses(Why::TooLong(length)) => *length,
                Outcome::Misses(_) => None,
            },
            "why": match &probe.outcome {
                Outcome::Fits(_) => None,
                Outcome::Misses(reason) => Some(why(reason)),
            },
        })).collect::<Vec<_>>(),
        "proof": most.found.as_ref().map(|found| proof(&found.pattern, &found.laid, wishes)),
    })
}

/// Whether it fits, and what would make it fit.
pub fn fits_json(pattern: &Pattern, goods: &Goods, wishes: &Wishes, fits: &Fits) -> Value {
    let remedies = fits.remedies.iter().map(|remedy| {
        let doings = remedy.doings.iter().map(|doing| match doing {
            Doing::Change(change) => json!({"change": words::change_words(pattern, change)}),
            Doing::Number { id, from, to, .. } => json!({"number": id, "from": from, "to": to}),
        });
        json!({
            "doings": doings.collect::<Vec<Value>>(),
            "proof": proof(&remedy.pattern, &remedy.laid, &with_changes(wishes, &remedy.doings)),
        })
    });
    json!({
        "format": "notchbook-fits-1",
        "fits": fits.yes.is_some(),
        "room": finite(fits.room),
        "shortest": fits.shortest,
        "bound": fits.impossible,
        "words": words::fits_text(pattern, goods, fits),
        "proof": fits.yes.as_ref().map(|laid| proof(pattern, laid, wishes)),
        "remedies": remedies.collect::<Vec<Value>>(),
        "stopped": fits.stopped,
    })
}

/// The wishes with what the doings of a remedy change in a proof: how far off the grain pieces may lie.
fn with_changes(wishes: &Wishes, doings: &[Doing]) -> Wishes {
    let mut wishes = wishes.clone();
    for doing in doings {
        if let Doing::Change(Change::Grain(degrees)) = doing {
            wishes.grain_tolerance = wishes.grain_tolerance.max(*degrees);
        }
    }
    wishes
}

/// The lay, the pieces as they are cut for it, and how far off the grain they may lie.
fn proof(pattern: &Pattern, laid: &Laid, wishes: &Wishes) -> Value {
    let layers = &laid.goods.layers;
    let pieces = pattern.pieces.iter();
    let pieces = pieces.filter(|piece| layers.contains(&piece.cut.layer));
    json!({
        "grain_tolerance": wishes.grain_tolerance,
        "pieces": pieces.map(piece).collect::<Vec<Value>>(),
        "lays": lays::json(pattern, std::slice::from_ref(laid), &wishes.matching, 0),
    })
}

fn piece(piece: &Piece) -> Value {
    let outline = piece.cutting_outline().ok();
    let curves = outline.iter().flat_map(CuttingOutline::curves);
    let points = curves.flat_map(|curve| curve.flattened(Tolerance::DRAWING));
    let (laid, fold) = match &piece.cut.laid {
        Lies::OnFold(edge) => ("fold", piece.edge(edge)),
        Lies::Pair => ("pair", None),
        Lies::Single => ("single", None),
    };
    json!({
        "name": piece.name,
        "from": piece.cut.layer.word(),
        "grain_degrees": piece.grain.degrees(),
        "cut": {"count": piece.cut.count, "laid": laid},
        "fold_mm": fold.map(|edge| [edge.start(), edge.end()].map(|end| [end.x, end.y])),
        "cut_line_mm": points.map(|point| [point.x, point.y]).collect::<Vec<_>>(),
    })
}

fn why(why: &Why) -> Value {
    match why {
        Why::TooLong(_) => json!("too-long"),
        Why::Impossible(bound) => json!({"no-lay-below": bound}),
        Why::Refused(findings) => {
            json!({"refused": findings.iter().map(|one| one.code).collect::<Vec<_>>()})
        }
    }
}

/// JSON has no infinity.
fn finite(value: f64) -> Option<f64> {
    value.is_finite().then_some(value)
}
