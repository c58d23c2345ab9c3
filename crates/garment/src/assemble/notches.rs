//! Notches that meet across seams: placed on both sides at once, so that they always do.

use body::{Body, Measure};
use pattern::{Fullness, Mark, Pattern, Seam, Stretch};

use crate::block::figures;
use crate::block::skirt::{self, Skirt};
use crate::recipe::Opening;

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
pub(super) fn place(
    pattern: &mut Pattern,
    body: &Body,
    (skirt, opening): (Option<&Skirt>, Opening),
) {
    for seam in pattern.seams.clone() {
        if skirt.is_some_and(|skirt| skirt.bunch.is_some()) && is_waist(&seam) {
            continue;
        }
        for (name, at, strokes) in wanted(pattern, &seam, body) {
            put(pattern, &seam, name, at, strokes);
        }
    }
    if let Some(skirt) = skirt {
        place_on_waistband(pattern, skirt, opening);
        place_bunch(pattern, skirt, opening);
    }
}

fn wanted(pattern: &Pattern, seam: &Seam, body: &Body) -> Vec<(&'static str, At, u8)> {
    let length = pattern.side_length(&seam.held);
    match seam.name.as_str() {
        // Off the middle, where a shoulder dart may open.
        "shoulder" => vec![("shoulder", At::Share(0.7), 1)],
        "side" => vec![("side", At::End(length * 0.2), 1)],
        name if name == "skirt-side" || name.starts_with("gore-") => {
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
        "sleeve-underarm" if length > 250.0 => vec![("elbow", At::Share(0.5), 1)],
        _ => Vec::new(),
    }
}

fn is_waist(seam: &Seam) -> bool {
    matches!(seam.name.as_str(), "waist-front" | "waist-back" | "waist")
}

/// Where fullness that is worked onto one stretch of the waist ends, on the skirt and on what it is sewn to.
fn place_bunch(pattern: &mut Pattern, skirt: &Skirt, opening: Opening) {
    let Some(bunch) = skirt.bunch else {
        return;
    };
    let stretch = skirt.waist[bunch.part].stretch.clone();
    put_on_side(pattern, &[turned(&stretch)], "gathers", bunch.cut, 1);
    let band = pattern.seams.iter().find(|seam| seam.name == "waistband");
    if let Some(band) = band.cloned() {
        let length = pattern.side_length(&band.held);
        let behind = match opening {
            Opening::Back | Opening::Nowhere => [bunch.finished, length - bunch.finished],
            Opening::Front => [-1.0, 1.0].map(|way| length / 2.0 + way * bunch.finished),
            Opening::Side => {
                let sides = skirt.before_side.unwrap_or_default();
                let front = skirt::finished(&skirt.waist[..sides], pattern);
                [-1.0, 1.0].map(|way| front + length / 2.0 + way * bunch.finished)
            }
        };
        for along in behind {
            put_on_side(pattern, &band.held, "gathers", along, 1);
        }
        return;
    }
    let held = pattern.seams.iter().find(|seam| seam.name == "waist-back");
    if let Some(held) = held.map(|seam| seam.held.clone()) {
        put_on_side(pattern, &held, "gathers", bunch.finished, 1);
    }
}

fn turned(stretch: &Stretch) -> Stretch {
    Stretch {
        backwards: !stretch.backwards,
        ..stretch.clone()
    }
}

/// The band meets the skirt at its side seams and at CF; where the skirt is wrapped, at CB and at both CF. One that opens in front
/// or at the side begins there.
fn place_on_waistband(pattern: &mut Pattern, skirt: &Skirt, opening: Opening) {
    let band = pattern.seams.iter().find(|seam| seam.name == "waistband");
    let Some(band) = band.cloned() else {
        return;
    };
    let half = skirt.half_waist(pattern);
    let cut = pattern.side_length(&band.worked) / 2.0;
    let lap = skirt.overlap / 2.0;
    // Lengths from CF on the band and on the skirt; where the skirt is wrapped, both begin at its front edge.
    let mut places = Vec::new();
    if let Some(parts) = skirt.before_side {
        let before = &skirt.waist[..parts];
        let edges: Vec<Stretch> = before.iter().map(|part| part.stretch.clone()).collect();
        let [on_band, on_skirt] = [
            skirt::finished(before, pattern),
            pattern.side_length(&edges),
        ];
        places.push(("side", on_band, on_skirt));
    }
    if opening == Opening::Side
        && lap == 0.0
        && let Some(&(_, on_band, on_skirt)) = places.first()
    {
        let from_side = [
            ("centre-front", on_band, on_skirt),
            ("side", 2.0 * on_band, 2.0 * on_skirt),
            ("centre-back", on_band + half, on_skirt + cut),
        ];
        for (name, on_band, on_skirt) in from_side {
            put_on_side(pattern, &band.held, name, on_band, 1);
            put_on_side(pattern, &band.worked, name, on_skirt, 1);
        }
        return;
    }
    let from_front = lap > 0.0 || opening == Opening::Front;
    if lap > 0.0 {
        places.push(("centre-front", lap, lap));
        places.sort_by(|a, b| a.1.total_cmp(&b.1));
    }
    let mirrored =
        |&(name, band, edge): &(_, f64, f64)| (name, 2.0 * half - band, 2.0 * cut - edge);
    let middle = (
        if from_front {
            "centre-back"
        } else {
            "centre-front"
        },
        half,
        cut,
    );
    let first: Vec<_> = if from_front {
        places
    } else {
        let from_back = |&(name, band, edge): &(_, f64, f64)| (name, half - band, cut - edge);
        places.iter().rev().map(from_back).collect()
    };
    let last: Vec<_> = first.iter().rev().map(mirrored).collect();
    for (name, on_band, on_skirt) in first.into_iter().chain([middle]).chain(last) {
        put_on_side(pattern, &band.held, name, on_band, 1);
        put_on_side(pattern, &band.worked, name, on_skirt, 1);
    }
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
