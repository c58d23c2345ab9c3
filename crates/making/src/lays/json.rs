//! Lays for other programs: every copy's transform, outline and section, the bars of the cloth, lengths.
//!
//! Invariant: numbers are millimetres and degrees; a copy's outline is its own cutting line brought to its place.

use cloth::goods::Bars;
use cloth::lay::{Lay, Matching, Part, Placed, Section, meetings};
use geometry::{Affine, Curve, Point, Tolerance};
use pattern::{Laid as Lies, Pattern};
use serde_json::{Value, json};

use super::{Goods, Laid, Shown, words};

/// Name of the form, with its version.
const FORMAT: &str = "notchbook-lay-1";

/// The lays of some cloths as JSON.
pub fn json(pattern: &Pattern, laid: &[Laid], matching: &Matching, seed: u64) -> Value {
    let cloths = laid.iter().map(|one| cloth(pattern, one, matching));
    json!({
        "format": FORMAT,
        "seed": seed,
        "cloths": cloths.collect::<Vec<Value>>(),
    })
}

fn cloth(pattern: &Pattern, laid: &Laid, matching: &Matching) -> Value {
    let Goods { cloth, layers } = &laid.goods;
    let washed = cloth.as_laid();
    let bars = |bars: Option<Bars>| bars.map(|one| json!({"every": one.every, "from": one.from}));
    let names: Vec<&str> = pattern
        .pieces
        .iter()
        .filter(|piece| layers.contains(&piece.cut.layer))
        .map(|piece| piece.name.as_str())
        .collect();
    let meetings = if washed.repeats.any() {
        meetings(pattern, &names, matching)
    } else {
        Vec::new()
    };
    let lays = laid
        .lays
        .iter()
        .map(|shown| lay(pattern, &laid.goods, shown));
    json!({
        "name": cloth.name,
        "layers": layers.iter().map(|layer| layer.word()).collect::<Vec<_>>(),
        "as_laid": {
            "width": washed.width,
            "selvedge": washed.selvedge,
            "length": washed.length,
            "one_way": washed.direction.is_one_way(),
            "along": bars(washed.repeats.along),
            "across": bars(washed.repeats.across),
            "uneven": washed.repeats.uneven,
            "flaws": washed.flaws.iter().map(|flaw| ring(&flaw.outline)).collect::<Vec<_>>(),
            "outline": washed.outline.as_deref().map(ring),
        },
        "meetings": meetings.iter().map(|one| json!({
            "name": one.name,
            "at": one.at,
            "sides": one.sides.iter().map(|(piece, point)| json!({
                "piece": piece, "point": [point.x, point.y],
            })).collect::<Vec<_>>(),
            "across": one.across,
        })).collect::<Vec<_>>(),
        "evaluations": laid.evaluations,
        "lays": lays.collect::<Vec<Value>>(),
        "findings": laid.findings.iter().map(|one| json!({
            "code": one.code, "message": one.message,
        })).collect::<Vec<_>>(),
    })
}

fn lay(pattern: &Pattern, goods: &Goods, shown: &Shown) -> Value {
    let (lay, answer): (&Lay, _) = (&shown.lay, &shown.answer);
    json!({
        "way": lay.way.word(),
        "title": words::title(goods, lay.way),
        "length": lay.length,
        "to_buy": answer.to_buy,
        "cost": answer.cost,
        "left": answer.left,
        "waste": answer.waste,
        "bounds": {
            "area": answer.bounds.area,
            "longest": answer.bounds.longest,
            "folds": answer.bounds.folds,
        },
        "order": answer.order,
        "words": super::buy_words(goods, shown),
        "sections": lay.sections.iter().map(section).collect::<Vec<Value>>(),
        "copies": lay.copies.iter().map(|one| copy(pattern, one)).collect::<Vec<Value>>(),
    })
}

fn section(section: &Section) -> Value {
    json!({
        "way": section.way.word(),
        "from": section.from,
        "edge": section.edge,
        "length": section.length,
        "width": section.width,
        "double": section.double,
    })
}

fn copy(pattern: &Pattern, copy: &Placed) -> Value {
    let outlines = outlines(pattern, copy);
    json!({
        "piece": copy.piece,
        "title": copy.title,
        "copy": copy.copy,
        "part": copy.part.word(),
        "section": copy.section,
        "degrees": copy.degrees,
        "face_down": copy.face_down,
        "upside_down": copy.is_upside_down(),
        "place": [copy.place.x, copy.place.y],
        "into": copy.into.as_coeffs(),
        "outlines": outlines.iter().map(|one| ring(one)).collect::<Vec<Value>>(),
    })
}

/// The cutting line where it lies, and its mirror image where the piece is laid whole.
fn outlines(pattern: &Pattern, copy: &Placed) -> Vec<Vec<Point>> {
    let drawn = pattern.piece(&copy.piece).and_then(|piece| {
        let outline = piece.cutting_outline().ok()?;
        let points: Vec<Point> = outline.curves().flat_map(fine).collect();
        Some((piece, points))
    });
    let Some((piece, points)) = drawn else {
        return vec![copy.ring.clone()];
    };
    let put = |by: Affine| {
        points
            .iter()
            .map(|point| by * *point)
            .collect::<Vec<Point>>()
    };
    let mut all = vec![put(copy.into)];
    if let (Part::Whole, Lies::OnFold(name)) = (copy.part, &piece.cut.laid)
        && let Some(edge) = piece.edge(name)
    {
        let mirror = geometry::curve::mirror_in(edge.start(), edge.end());
        all.push(put(copy.into * mirror));
    }
    all
}

fn fine(curve: &Curve) -> Vec<Point> {
    curve.flattened(Tolerance::DRAWING)
}

fn ring(ring: &[Point]) -> Value {
    ring.iter().map(|point| json!([point.x, point.y])).collect()
}
