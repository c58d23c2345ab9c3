//! What a garment is made up with in the file: layers on each other, cloths, stays, closings, hems.

use serde_json::{Value, json};

use super::number::number;
use super::seam::{seam, side};
use crate::makeup::{
    Closing, Closure, Cloth, Fraying, HandSewn, Hem, Lies, Lined, Stay, Stayed, Vent,
};
use crate::seam::Pattern;

pub(super) fn makeup(pattern: &Pattern) -> Value {
    let makeup = &pattern.makeup;
    json!({
        "mates": makeup.mates.iter().map(|one| seam(pattern, one)).collect::<Vec<_>>(),
        "lies": makeup.lies.iter().map(lies).collect::<Vec<_>>(),
        "cloths": makeup.cloths.iter().map(cloth).collect::<Vec<_>>(),
        "stayed": makeup.stayed.iter().map(stayed).collect::<Vec<_>>(),
        "closings": makeup.closings.iter().map(|one| closing(pattern, one)).collect::<Vec<_>>(),
        "vents": makeup.vents.iter().map(vent).collect::<Vec<_>>(),
        "lined": makeup.lined.as_ref().map(lined),
        "by_hand": makeup.by_hand.iter().map(hand_sewn).collect::<Vec<_>>(),
        "hems": makeup.hems.iter().map(hem).collect::<Vec<_>>(),
    })
}

fn lies(lies: &Lies) -> Value {
    let placed = lies.placed.as_coeffs().map(exact);
    json!({"piece": lies.piece, "upon": lies.upon, "placed": placed})
}

/// Nine digits: a turn that was rounded to 0.001 would put the far end of a piece a millimetre off.
fn exact(value: f64) -> Value {
    json!((value * 1e9).round() / 1e9 + 0.0)
}

fn cloth(cloth: &Cloth) -> Value {
    let frays = match cloth.frays {
        Fraying::Little => "little",
        Fraying::Some => "some",
        Fraying::Much => "much",
    };
    json!({
        "layer": cloth.layer.word(),
        "name": cloth.name,
        "width_mm": number(cloth.width),
        "thickness_mm": number(cloth.thickness),
        "weight_g_per_m2": number(cloth.weight),
        "frays": frays,
    })
}

fn stayed(stayed: &Stayed) -> Value {
    let (by, width) = match stayed.stay {
        Stay::Tape(width) => ("tape", number(width)),
        Stay::Staystitching => ("staystitching", Value::Null),
    };
    json!({
        "by": by,
        "tape_mm": width,
        "piece": stayed.piece,
        "along": stayed.along,
        "length_mm": number(stayed.length),
        "why": stayed.why,
    })
}

fn closing(pattern: &Pattern, closing: &Closing) -> Value {
    let mut value = json!({
        "by": closing.closure.word(),
        "along": side(pattern, &closing.along),
        "from_mm": number(closing.from),
        "opening_mm": number(closing.opening),
        "lap_mm": number(closing.lap),
        "length_mm": number(closing.length),
    });
    match closing.closure {
        Closure::Buttons {
            count,
            diameter,
            hole,
        } => {
            value["count"] = json!(count);
            value["diameter_mm"] = number(diameter);
            value["hole_mm"] = number(hole);
        }
        Closure::Hooks { count } => value["count"] = json!(count),
        Closure::InvisibleZip | Closure::LappedZip => {}
    }
    value
}

fn vent(vent: &Vent) -> Value {
    json!({
        "seam": vent.seam,
        "height_mm": number(vent.height),
        "width_mm": number(vent.width),
    })
}

fn lined(lined: &Lined) -> Value {
    json!({"way": lined.way.word(), "pieces": lined.pieces, "alterable": lined.alterable})
}

fn hand_sewn(one: &HandSewn) -> Value {
    json!({"what": one.what, "length_mm": number(one.length), "stitch_mm": number(one.stitch)})
}

fn hem(hem: &Hem) -> Value {
    json!({
        "piece": hem.piece,
        "edge": hem.edge,
        "finish": hem.finish.word(),
        "depth_mm": number(hem.depth),
        "surplus_mm": number(hem.surplus),
        "strip": hem.strip.map(|strip| {
            json!({"width_mm": number(strip.width), "length_mm": number(strip.length)})
        }),
    })
}
