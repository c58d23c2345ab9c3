//! Darts of a lining that are not sewn but laid in pleats at their mouths: quicker, and softer over the body.
//!
//! Only darts that open at the waist, the shoulder or the neckline: a bust dart at the side or the armhole has nothing that would
//! hold a pleat flat. Where the skirt hangs on the waist of the lining's front, the darts there are sewn. Invariant: each edge grows by the width of its darts, which seams and mates know as pleated.

use document::Finding;
use pattern::step::{self, Arguments};
use pattern::{Edge, Fullness, Layer, Mark, Pattern, Stretch, name};

/// Edges whose darts can be laid in pleats.
const SOFT: [&str; 3] = ["waist", "shoulder", "neckline"];
/// How the fullness is taken up, and the name that its notches get from the step.
const PLEATS: &str = "pleats";

/// Lays the darts of all lining pieces in pleats, but for those on which a skirt hangs.
pub(super) fn lay(pattern: &mut Pattern, skirt_hangs: bool) -> Result<(), Finding> {
    let release = step::find("release").expect("there is a step that releases darts");
    let darts: Vec<(String, String, String)> = pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == Layer::Lining)
        .flat_map(|piece| piece.darts.iter().map(move |dart| (piece, dart)))
        .filter(|(_, dart)| SOFT.contains(&name::root(&dart.edge)))
        .filter(|(piece, dart)| {
            let carries =
                name::root(&piece.name) == "front-lining" && dart.edge.starts_with("waist");
            !(skirt_hangs && carries)
        })
        .map(|(piece, dart)| (piece.name.clone(), dart.edge.clone(), dart.name.clone()))
        .collect();
    for (piece, edge, dart) in darts {
        let length = |pattern: &Pattern| {
            let owner = pattern.piece(&piece).and_then(|piece| piece.edge(&edge));
            owner.map_or(0.0, Edge::length)
        };
        let before = length(pattern);
        let arguments = Arguments::new()
            .named("dart", &piece, &dart)
            .choice("as", PLEATS);
        *pattern = release.run(pattern, &arguments)?.pattern;
        let more = length(pattern) - before;
        know(pattern, (&piece, &edge), more);
        mark(pattern, &piece, &dart);
    }
    Ok(())
}

/// The notches of a pleat stand on its own edge only, under its own name: across the seam there may be another pleat, of another
/// width.
fn mark(pattern: &mut Pattern, piece: &str, dart: &str) {
    let own = format!("{}-{dart}-pleat", name::root(piece));
    let is_new = |mark: &Mark| matches!(mark, Mark::Notch { name, .. } if name == PLEATS);
    for owner in &mut pattern.pieces {
        if owner.name == piece {
            for mark in owner.marks.iter_mut().filter(|mark| is_new(mark)) {
                if let Mark::Notch { name, .. } = mark {
                    name.clone_from(&own);
                }
            }
        } else if owner.cut.layer == Layer::Lining {
            owner.marks.retain(|mark| !is_new(mark));
        }
    }
}

/// Lets the mates of an edge know that it grew.
fn know(pattern: &mut Pattern, (piece, edge): (&str, &str), more: f64) {
    let is_it = |side: &[Stretch]| {
        let mut sides = side.iter();
        sides.any(|one| one.piece == piece && one.edge == edge)
    };
    let mut mates = std::mem::take(&mut pattern.makeup.mates);
    for mate in &mut mates {
        let (of_held, of_worked) = match (is_it(&mate.held), is_it(&mate.worked)) {
            (true, _) => (more, 0.0),
            (_, true) => (0.0, more),
            _ => continue,
        };
        let whole = match mate.fullness {
            Fullness::Eased(known) | Fullness::Pleated(known) => known + of_worked - of_held,
            Fullness::None => of_worked - of_held,
            Fullness::Gathered(times) => {
                let held = pattern.side_length(&mate.held);
                let before = held - of_held;
                mate.fullness = Fullness::Gathered((times * before + of_worked) / held);
                continue;
            }
        };
        if whole < 0.0 {
            std::mem::swap(&mut mate.held, &mut mate.worked);
        }
        mate.fullness = Fullness::Pleated(whole.abs());
    }
    pattern.makeup.mates = mates;
}
