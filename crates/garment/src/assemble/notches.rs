//! Notches that meet across seams: placed on both sides at once, so that they always do.

use body::{Body, Measure};
use pattern::{Fullness, Mark, Pattern, Seam, Stretch};

use crate::block::figures;

/// Where on a seam a notch stands.
#[derive(Clone, Copy, Debug, PartialEq)]
enum At {
    /// So many mm from where the seam is walked from; on both sides, for stretches without fullness.
    Start(f64),
    /// So many mm from where the walk ends; on both sides.
    End(f64),
    /// At a share of each side's length, for stretches that are eased or gathered evenly.
    Share(f64),
}

/// Places the notches of all seams that have any.
pub(super) fn place(pattern: &mut Pattern, body: &Body) {
    for seam in pattern.seams.clone() {
        for (name, at, strokes) in wanted(pattern, &seam, body) {
            put(pattern, &seam, name, at, strokes);
        }
    }
    place_on_opening(pattern, body);
}

fn wanted(pattern: &Pattern, seam: &Seam, body: &Body) -> Vec<(&'static str, At, u8)> {
    let length = pattern.side_length(&seam.held);
    match seam.name.as_str() {
        // Off the middle, where a shoulder dart may open.
        "shoulder" => vec![("shoulder", At::Share(0.7), 1)],
        "side" => vec![("side", At::End(length * 0.2), 1)],
        "skirt-side" => {
            let hip = body.mm(Measure::WaistToHip);
            if hip < length - 60.0 {
                vec![("hip", At::Start(hip), 1)]
            } else {
                Vec::new()
            }
        }
        "armhole-front" => vec![
            (
                "armhole-front",
                At::End(length * figures::ARMHOLE_NOTCH[0]),
                1,
            ),
            ("crown", At::Start(0.0), 1),
        ],
        "armhole-back" => vec![(
            "armhole-back",
            At::End(length * figures::ARMHOLE_NOTCH[1]),
            2,
        )],
        "waist-front" | "waist-back" if matches!(seam.fullness, Fullness::Gathered(_)) => {
            vec![("gathers", At::Share(0.5), 1)]
        }
        "waistband" => vec![
            ("side", At::Share(side_share(pattern)), 1),
            ("centre-front", At::Share(0.5), 1),
            ("side", At::Share(1.0 - side_share(pattern)), 1),
        ],
        "sleeve-underarm" if length > 250.0 => vec![("elbow", At::Share(0.5), 1)],
        _ => Vec::new(),
    }
}

/// How far round the waist the first side seam stands.
fn side_share(pattern: &Pattern) -> f64 {
    let waist = |name: &str| pattern.side_length(&[Stretch::forwards(name, "waist")]);
    let (front, back) = (waist("skirt-front"), waist("skirt-back"));
    back / (2.0 * (front + back))
}

fn put(pattern: &mut Pattern, seam: &Seam, name: &str, at: At, strokes: u8) {
    for side in [&seam.held, &seam.worked] {
        let length = pattern.side_length(side);
        let along = match at {
            At::Start(along) => along,
            At::End(along) => length - along,
            At::Share(share) => length * share,
        };
        put_on_side(pattern, side, name, along, strokes);
    }
}

/// Puts a mark on the edge that lies at a length along one side of a seam.
fn put_on_side(pattern: &mut Pattern, side: &[Stretch], name: &str, along: f64, strokes: u8) {
    let mut rest = along;
    for stretch in side {
        let edges: Vec<(String, f64)> = pattern
            .edges_of(stretch)
            .iter()
            .map(|(_, edge)| (edge.name.clone(), edge.length()))
            .collect();
        for (edge, length) in edges {
            if rest > length + 1e-6 {
                rest -= length;
                continue;
            }
            let along = if stretch.backwards {
                length - rest
            } else {
                rest
            };
            let mark = Mark::Notch {
                name: name.into(),
                edge,
                along,
                strokes,
            };
            if let Some(piece) = pattern.piece_mut(&stretch.piece)
                && !piece.marks.contains(&mark)
            {
                piece.marks.push(mark);
            }
            return;
        }
    }
}

/// The opening at CB ends where the hips are passed: (hip − waist + 2 in)/2 at least (a trade magazine's worked example), or
/// the hip line less a finger's width where that is lower.
fn place_on_opening(pattern: &mut Pattern, body: &Body) {
    let by_rule = (body.mm(Measure::Hip) - body.mm(Measure::Waist) + 50.8) / 2.0;
    let below_waist = by_rule.max(body.mm(Measure::WaistToHip) - 20.0);
    let Some(back) = pattern.piece_mut("skirt-back") else {
        return;
    };
    let Some(centre) = back.edge("centre") else {
        return;
    };
    let length = centre.length();
    if centre.kind == pattern::EdgeKind::Opening && below_waist < length - 40.0 {
        // The centre edge runs from hem to waist.
        back.marks.push(Mark::Notch {
            name: "opening-end".into(),
            edge: "centre".into(),
            along: length - below_waist,
            strokes: 1,
        });
    }
}
