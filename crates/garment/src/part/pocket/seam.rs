//! A pocket in a seam: marks on both edges, two halves of a bag, a tape that holds it and one that keeps its mouth.
//!
//! Invariant: the bag hangs from its tape, not from the seam in which it opens.

use document::{Allowed, Finding, Mend, Place, Quantity, Severity, written_mm};
use geometry::{Affine, Curve, Point, Tolerance, Vec2, curve};
use pattern::{
    Edge, Fullness, Layer, Lies, Mark, Pattern, Piece, Seam, Stay, Stayed, Stretch, name,
};

use super::bag::Bag;
use super::{cut, darts_touched, points_of, side_words};
use crate::block::skirt::found;
use crate::part::figures;
use crate::recipe::Written;
use crate::recipe::parts::{InSeamWish, PocketSide};

/// Words for the two halves: `skirt-front-pocket-bag`, `skirt-front-pocket-back`.
const HALVES: [&str; 2] = ["pocket-bag", "pocket-back"];

/// Where the pocket opens: the piece in front and its edge.
struct Mouth {
    piece: String,
    edge: String,
    /// Length along the edge to the top of the opening.
    top: f64,
}

pub(super) fn derive(pattern: &mut Pattern, wish: &InSeamWish) -> Result<(), Finding> {
    let seam = pattern
        .seams
        .iter()
        .find(|seam| seam.name == wish.seam.value)
        .cloned()
        .ok_or_else(|| no_seam(pattern, &wish.seam))?;
    let top = wish.below_waist.value;
    let places = [
        ("pocket-top", top),
        ("pocket-bottom", top + wish.opening.value),
    ];
    let mut mouth = None;
    for side in [&seam.held, &seam.worked] {
        for (name, along) in places {
            let spot = mark(pattern, side, name, along).ok_or_else(|| no_room(wish))?;
            if name == "pocket-top" && !spot.1 {
                mouth.get_or_insert(spot.0);
            } else if let Some(found) = &mouth
                && name == "pocket-bottom"
                && found.piece == spot.0.piece
                && found.edge != spot.0.edge
            {
                return Err(no_room(wish));
            }
        }
    }
    let mouth = mouth.ok_or_else(|| no_waist(wish))?;
    pattern.findings.extend(heights(wish));
    hang(pattern, wish, &mouth)
}

/// Puts a notch so far along one side of a seam; where it came to stand, and whether that edge is walked backwards.
fn mark(pattern: &mut Pattern, side: &[Stretch], name: &str, along: f64) -> Option<(Mouth, bool)> {
    let mut rest = along;
    for stretch in side {
        let edges: Vec<(String, String, f64)> = pattern
            .edges_of(stretch)
            .into_iter()
            .filter(|(piece, _)| found::is_skirt(&piece.name))
            .map(|(piece, edge)| (piece.name.clone(), edge.name.clone(), edge.length()))
            .collect();
        for (piece, edge, length) in edges {
            if rest > length {
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
                edge: edge.clone(),
                along,
                strokes: 1,
            };
            pattern.piece_mut(&piece)?.marks.push(mark);
            let mouth = Mouth {
                piece,
                edge,
                top: along,
            };
            return Some((mouth, stretch.backwards));
        }
    }
    None
}

/// Cuts both halves of the bag behind the piece in front, and tapes bag and mouth.
fn hang(pattern: &mut Pattern, wish: &InSeamWish, mouth: &Mouth) -> Result<(), Finding> {
    let (Some(piece), Some(edge)) = (
        pattern.piece(&mouth.piece).cloned(),
        pattern
            .piece(&mouth.piece)
            .and_then(|piece| piece.edge(&mouth.edge))
            .cloned(),
    ) else {
        return Err(no_waist(wish));
    };
    let bag = bag(&piece, &edge, mouth.top, wish);
    let sides = bag.sides(&piece);
    let misfits = misfits(&piece, &sides, &bag, wish);
    pattern.findings.extend(misfits);
    let layers = [
        Layer::Lining,
        if wish.lined {
            Layer::Lining
        } else {
            Layer::Shell
        },
    ];
    let turned = wish.side == PocketSide::Right;
    let placed = if turned {
        Affine::FLIP_X
    } else {
        Affine::IDENTITY
    };
    for (word, layer) in HALVES.into_iter().zip(layers) {
        let half = Piece {
            name: name::derived(&piece.name, word),
            edges: bag.edges(&piece, figures::BAG_ALLOWANCE, turned),
            darts: Vec::new(),
            marks: Vec::new(),
            lines: Vec::new(),
            grain: piece.grain,
            cut: cut(layer, wish.side),
            peaked: Vec::new(),
            asked: Some(wish.span.clone()),
        };
        pattern.makeup.lies.push(Lies {
            piece: half.name.clone(),
            upon: piece.name.clone(),
            placed,
        });
        pattern.pieces.push(half);
    }
    pattern.seams.push(sewn(&piece.name));
    tape(pattern, &piece, &edge, (&bag, mouth, wish));
    Ok(())
}

fn bag(piece: &Piece, edge: &Edge, top: f64, wish: &InSeamWish) -> Bag {
    let down = curve::unit(piece.grain);
    let (_, way) = edge.place_at(top);
    let inward = Vec2::new(-way.y, way.x);
    let across = Vec2::new(-down.y, down.x);
    let across = across * across.dot(inward).signum();
    let beyond = figures::BAG_BEYOND_OPENING;
    Bag {
        edge: edge.runs[0].clone(),
        span: [
            (top - beyond).max(5.0),
            (top + wish.opening.value + beyond).min(edge.runs[0].length() - 5.0),
        ],
        depth: wish.depth,
        width: wish.width,
        down,
        across,
    }
}

/// Both halves are sewn to each other round the bag.
fn sewn(piece: &str) -> Seam {
    let [front, back] = HALVES.map(|word| name::derived(piece, word));
    let round =
        |piece: &str| ["bottom", "inside", "top"].map(|edge| Stretch::forwards(piece, edge));
    Seam {
        name: format!("{}-pocket-bag", piece.replace('/', "-")),
        held: round(&front).to_vec(),
        worked: round(&back).to_vec(),
        fullness: Fullness::None,
        runs_on: [false, false],
    }
}

/// A tape from the bag's top into the waist seam, one along the front of the mouth, and a word that the first is not forgotten.
fn tape(
    pattern: &mut Pattern,
    piece: &Piece,
    edge: &Edge,
    (bag, mouth, wish): (&Bag, &Mouth, &InSeamWish),
) {
    let [_, _, _, top] = bag.sides(piece);
    let up = to_waist(piece, top.point_at(top.length() / 2.0), -bag.down);
    let length = up.unwrap_or(mouth.top) + 2.0 * figures::TAPE_CAUGHT;
    let count = side_words(wish.side);
    pattern.makeup.stayed.push(Stayed {
        stay: Stay::Tape(figures::POCKET_TAPE),
        piece: name::derived(&piece.name, HALVES[0]),
        along: "top".into(),
        length,
        why: format!("holds the pocket bag{count} in the waist seam"),
    });
    pattern.makeup.stayed.push(Stayed {
        stay: Stay::Tape(figures::POCKET_TAPE),
        piece: piece.name.clone(),
        along: edge.name.clone(),
        length: wish.opening.value + 2.0 * figures::TAPE_CAUGHT,
        why: format!("mouth of the pocket{count}"),
    });
    let finding = Finding::new(
        "pocket-tape-in-waist-seam",
        Severity::Note,
        format!(
            "the tape that holds the pocket bag behind the {} is caught in the waist seam",
            piece.title().to_lowercase()
        ),
    )
    .at(Place::Seam(wish.seam.value.clone()))
    .at_text(&wish.span, "this pocket")
    .measured(
        Quantity::mm(length),
        Allowed::Words("as long as from the bag to the seam".into()),
    )
    .because("a bag that hangs from its side seam pulls it out of shape, and the tape cannot be caught once the waist is sewn")
    .cure("pin the tape to the waist before the waist seam is closed");
    pattern.findings.push(finding);
}

/// How far above a place the waist lies, mm.
fn to_waist(piece: &Piece, from: Point, up: Vec2) -> Option<f64> {
    let waist = piece.edges_of("waist").flat_map(|edge| &edge.runs);
    let met = waist.flat_map(|run| run.crossings_with_ray(from, up, Tolerance::PATTERN));
    met.map(|crossing| crossing.other_along)
        .filter(|away| *away > 0.0)
        .min_by(f64::total_cmp)
}

/// What is wrong with where the bag hangs.
fn misfits(piece: &Piece, sides: &[Curve; 4], bag: &Bag, wish: &InSeamWish) -> Vec<Finding> {
    let points = points_of(sides);
    let mut findings = Vec::new();
    let least = |name: &str, way: Vec2| {
        let edges = piece.edges.iter().filter(|edge| edge.answers_to(name));
        let away = edges.flat_map(|edge| &edge.runs).flat_map(|run| {
            let rays = points.iter().filter_map(|point| {
                let crossings = run.crossings_with_line(*point, way, Tolerance::PATTERN);
                crossings.first().map(|one| one.other_along)
            });
            rays.collect::<Vec<f64>>()
        });
        away.fold(f64::INFINITY, f64::min)
    };
    let to_centre = least("centre", bag.across);
    let clear = figures::BAG_CLEAR_OF_CENTRE;
    if to_centre < clear {
        let fits = (bag.width - clear + to_centre).floor();
        findings.push(
            hangs(
                "pocket-bag-past-centre",
                wish,
                (
                    &piece.name,
                    "comes too near to CF, where the other one hangs",
                    to_centre,
                    clear,
                ),
                format!("make it narrower: width=\"{fits:.0} mm\""),
            )
            .mend(mend(wish, "width", fits)),
        );
    }
    let hem_allowance = piece
        .edges_of("hem")
        .map(|edge| edge.allowance)
        .fold(0.0, f64::max);
    let (to_hem, clear) = (
        least("hem", bag.down),
        hem_allowance + figures::BAG_CLEAR_OF_HEM,
    );
    if to_hem < clear {
        let fits = (bag.depth - clear + to_hem).floor();
        findings.push(
            hangs(
                "pocket-bag-below-hem",
                wish,
                (&piece.name, "hangs into the hem", to_hem, clear),
                format!("make it less deep: depth=\"{fits:.0} mm\""),
            )
            .mend(mend(wish, "depth", fits)),
        );
    }
    for dart in darts_touched(piece, sides) {
        findings.push(hangs(
            "pocket-bag-under-dart",
            wish,
            (
                &piece.name,
                &format!("lies under its {}", dart.replace('-', " ")),
                0.0,
                figures::BAG_CLEAR_OF_DART,
            ),
            "set the pocket lower, or make the bag narrower".into(),
        ));
    }
    findings
}

fn hangs(
    code: &'static str,
    wish: &InSeamWish,
    (piece, what, measured, least): (&str, &str, f64, f64),
    cure: String,
) -> Finding {
    Finding::warning(
        code,
        format!(
            "the pocket bag behind the {} {what}",
            piece.replace(['-', '/'], " ")
        ),
    )
    .at_text(&wish.span, "this pocket")
    .at(Place::Piece(piece.into()))
    .measured(
        Quantity::mm(measured),
        Allowed::AtLeast(Quantity::mm(least)),
    )
    .because("what lies over another layer or is caught in it shows outside")
    .cure(cure)
}

/// Openings that are too high, too low or too small for a hand.
fn heights(wish: &InSeamWish) -> Vec<Finding> {
    let rows = [
        (
            "pocket-height",
            "the top of the pocket lies",
            (
                "below-waist",
                &wish.below_waist,
                figures::POCKET_BELOW_WAIST,
            ),
            figures::POCKET_TOP,
            "the hand goes in with the elbow bent; 75 to 90 mm are comfortable",
        ),
        (
            "pocket-opening-size",
            "the opening of the pocket is",
            ("opening", &wish.opening, figures::POCKET_OPENING),
            figures::POCKET_MOUTH,
            "a hand must pass, and a longer one gapes",
        ),
    ];
    let told = rows.into_iter().filter(|row| {
        let [least, most] = row.3;
        !(least..=most).contains(&row.2.1.value)
    });
    told.map(|(code, what, (name, value, usual), [least, most], why)| {
        Finding::warning(code, format!("{what} {:.0} mm", value.value))
            .at_text(&value.span, "for a hand")
            .measured(
                Quantity::mm(value.value),
                Allowed::Between(Quantity::mm(least), Quantity::mm(most)),
            )
            .because(why)
            .cure(format!("write between {least:.0} and {most:.0} mm"))
            .mend(mend(wish, name, usual))
    })
    .collect()
}

fn mend(wish: &InSeamWish, name: &str, mm: f64) -> Mend {
    let statement = ["pockets", wish.statement.as_str()];
    let words = format!(
        "sets {} of the pocket to {mm:.0} mm",
        name.replace('-', " ")
    );
    Mend::property(&statement, name, written_mm(mm), words)
}

fn no_seam(pattern: &Pattern, seam: &Written<String>) -> Finding {
    let is_meant = |seam: &&Seam| {
        let first = seam.held.first();
        first.is_some_and(|one| found::is_skirt(&one.piece) && !one.edge.starts_with("waist"))
    };
    let seams = pattern.seams.iter().filter(is_meant);
    let seams: Vec<&str> = seams.map(|seam| seam.name.as_str()).collect();
    let finding = document::unknown("seam-not-there", &seam.value, &seam.span, &seams);
    finding.cure("Name a seam of the skirt that runs down from the waist.")
}

fn no_room(wish: &InSeamWish) -> Finding {
    Finding::error(
        "pocket-without-room",
        format!(
            "the {} seam has no room for an opening from {:.0} to {:.0} mm below the waist",
            wish.seam.value,
            wish.below_waist.value,
            wish.below_waist.value + wish.opening.value
        ),
    )
    .at_text(&wish.span, "this pocket")
    .at(Place::Seam(wish.seam.value.clone()))
    .because("the seam ends before it, or a step has cut it there")
    .cure("set the pocket higher, make its opening shorter, or name another seam")
}

fn no_waist(wish: &InSeamWish) -> Finding {
    Finding::error(
        "pocket-seam-not-upright",
        format!(
            "the {} seam does not run down from the waist of a skirt",
            wish.seam.value
        ),
    )
    .at_text(&wish.seam.span, "not a seam for a pocket")
    .allowed("a seam of the skirt that begins at the waist, such as skirt-side")
    .cure("name another seam")
}
