//! What a garment takes in the file.

use serde_json::{Value, json};

use super::number::number;
use crate::materials::figures::{SPOOL, WASTE};
use crate::materials::{ClothNeed, Fastening, Materials, Strip, TapeNeed, Thread};
use crate::piece::Layer;

pub(super) fn materials(materials: &Materials) -> Value {
    json!({
        "cloths": materials.cloths.iter().map(cloth).collect::<Vec<_>>(),
        "strips": materials.strips.iter().map(strip).collect::<Vec<_>>(),
        "tapes": materials.tapes.iter().map(tape).collect::<Vec<_>>(),
        "fastenings": materials.fastenings.iter().map(fastening).collect::<Vec<_>>(),
        "thread": thread(&materials.thread),
    })
}

fn cloth(cloth: &ClothNeed) -> Value {
    let layers: Vec<&str> = cloth.layers.iter().map(|one| Layer::word(*one)).collect();
    json!({
        "name": cloth.name,
        "layers": layers,
        "width_mm": cloth.width.map(number),
        "pieces": cloth.pieces,
        "area_mm2": number(cloth.area),
        "strips_mm2": number(cloth.strips),
        "least_length_mm": cloth.least_length().map(number),
        "weight_g": cloth.weight.map(number),
    })
}

fn strip(strip: &Strip) -> Value {
    json!({
        "edge": strip.edge,
        "count": strip.count,
        "along_mm": number(strip.along),
        "width_mm": number(strip.width),
        "length_mm": number(strip.length()),
    })
}

fn tape(tape: &TapeNeed) -> Value {
    let pieces = tape.pieces.iter().map(|one| {
        json!({
            "piece": one.piece,
            "along": one.along,
            "count": one.count,
            "length_mm": number(one.length),
            "why": one.why,
        })
    });
    json!({
        "width_mm": number(tape.width),
        "length_mm": number(tape.length()),
        "pieces": pieces.collect::<Vec<_>>(),
    })
}

fn fastening(fastening: &Fastening) -> Value {
    let count = fastening.count();
    match fastening {
        Fastening::Zip {
            invisible, length, ..
        } => {
            let what = if *invisible {
                "invisible-zip"
            } else {
                "lapped-zip"
            };
            json!({"what": what, "count": count, "length_mm": number(*length)})
        }
        Fastening::Buttons { diameter, .. } => {
            json!({"what": "buttons", "count": count, "diameter_mm": number(*diameter)})
        }
        Fastening::Hooks { .. } => json!({"what": "hooks", "count": count}),
    }
}

fn thread(thread: &Thread) -> Value {
    let rows = thread.rows.iter().map(|row| {
        json!({
            "what": row.what.word(),
            "stitch": row.what.stitch(),
            "length_mm": number(row.length),
            "thread_mm": number(row.thread),
        })
    });
    json!({
        "rows": rows.collect::<Vec<_>>(),
        "waste": number(WASTE),
        "total_mm": number(thread.total()),
        "spool_mm": number(SPOOL),
        "spools": thread.spools(),
    })
}
