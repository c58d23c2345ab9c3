//! How much longer the edge of what is turned up is than the line of its hem, and how deep a hem still turns.
//!
//! Invariant: the surplus of a depth is the angle through which the hem turns, times the depth; nothing else counts.

use document::{Allowed, Finding, Mend, Place as Spot, Quantity, written_mm};
use geometry::curve::angle_between;
use geometry::{Angle, Curve};
use pattern::step::kit::closed::Closed;
use pattern::{Edge, Layer, Pattern, Piece};

use super::{Group, Place};
use crate::part::{Asked, figures};

/// The angle through which a hem turns, its darts closed: above zero where it is round, below where it is hollow.
pub(super) fn closed_turning(piece: &Piece, edge: &Edge) -> Angle {
    turning(&Closed::of(piece, edge).curve())
}

/// The angle through which a hem turns between its darts: what is turned up goes on beyond a dart as wide as it needs.
pub(super) fn open_turning(edge: &Edge) -> Angle {
    let runs = edge.runs.iter().map(|run| turning(run).radians());
    Angle::from_radians(runs.sum())
}

fn turning(curve: &Curve) -> Angle {
    let parts: Vec<Curve> = curve
        .segments()
        .iter()
        .filter_map(|segment| Curve::from_segments(vec![*segment]))
        .collect();
    let along = parts
        .iter()
        .map(|part| angle_between(part.start_direction(), part.end_direction()).radians());
    let between = parts
        .windows(2)
        .map(|pair| angle_between(pair[0].end_direction(), pair[1].start_direction()).radians());
    Angle::from_radians(along.chain(between).sum())
}

/// The deepest allowance at which the hem still turns in all its places, mm, in round numbers; none where it is straight.
pub(super) fn limit(places: &[Place]) -> Option<f64> {
    let own = places.iter().filter(|place| !place.is_written);
    let least = own
        .map(|place| deepest(place.length, place.turns))
        .fold(f64::INFINITY, f64::min);
    // No cloth is turned by a metre.
    (least < 1000.0).then(|| rounded_down(least))
}

/// An allowance, or as much of it as still turns at one hem, mm.
pub(crate) fn as_it_turns(edge: &Edge, allowance: f64) -> f64 {
    let deepest = deepest(edge.length(), open_turning(edge));
    if deepest < allowance {
        rounded_down(deepest)
    } else {
        allowance
    }
}

fn deepest(length: f64, turns: Angle) -> f64 {
    let turns = turns.radians();
    let share = if turns > 0.0 {
        figures::MOST_HEM_SURPLUS
    } else {
        figures::MOST_HEM_SHORTAGE
    };
    share * length / turns.abs().max(1e-9)
}

fn rounded_down(depth: f64) -> f64 {
    let step = if depth < 3.0 * figures::HEM_STEP {
        1.0
    } else {
        figures::HEM_STEP
    };
    (depth / step).floor() * step
}

/// Where the hem's allowance is written in the recipe, if it is.
pub(super) fn written<'a>(asked: &Asked<'a>, group: Group) -> Option<&'a document::Span> {
    let [hem, sleeve] = &asked.recipe.allowances.written_hems;
    match group {
        Group::Sleeve => sleeve.as_ref(),
        Group::Skirt | Group::Bodice => hem.as_ref(),
        Group::Lining => None,
    }
}

/// What is said of a hem that is too deep to turn: a note where it is reduced, a warning where its allowance is written.
pub(super) fn does_not_turn(
    pattern: &Pattern,
    asked: &Asked<'_>,
    group: Group,
    places: &[Place],
    (deep, limit): (f64, f64),
) -> Finding {
    let of_all = |depth: f64| -> f64 {
        let each = places
            .iter()
            .map(|place| place.turns.radians() * depth * pattern.pieces[place.piece].halves());
        each.sum()
    };
    let surplus = of_all(deep);
    let differs = if surplus >= 0.0 { "longer" } else { "shorter" };
    let word = group.word();
    let wished = group.wish(asked).and_then(|wish| wish.depth.as_ref());
    let written = written(asked, group).filter(|_| wished.is_none());
    let what = format!(
        "a hem of {deep:.0} mm at the {word} is {:.0} mm {differs} at its cut edge than at its line",
        surplus.abs()
    );
    let finding = match written {
        Some(span) => Finding::warning("hem-does-not-turn", what).at_text(span, "written here"),
        None => Finding::note(
            "hem-reduced",
            format!("{what}; it is turned by {limit:.0} mm instead"),
        ),
    };
    let finding = match wished {
        Some(depth) => finding.at_text(&depth.span, "asked for here"),
        None => finding,
    };
    let place = &pattern.pieces[places[0].piece];
    let finding = finding
        .at(Spot::Edge {
            piece: place.name.clone(),
            edge: place.edges[places[0].edge].name.clone(),
            at: None,
        })
        .measured(Quantity::mm(deep), Allowed::AtMost(Quantity::mm(limit)))
        .because("what is too long lies in folds inside, what is too short pulls, unless steam shrinks it")
        .cure("turn it less, face it with its own shape, or make it narrow")
        .mend(less(group, limit, written.is_some()));
    let finding = if group == Group::Lining {
        finding
    } else {
        finding.mend(Mend::value(
            &["hems", word],
            "\"faced\"",
            "faces the hem with a piece of its own shape",
        ))
    };
    finding.mend(Mend::value(
        &["hems", word],
        "\"narrow\"",
        "turns the hem twice, narrow",
    ))
}

fn less(group: Group, limit: f64, is_written: bool) -> Mend {
    let words = format!("turns the hem by {limit:.0} mm");
    if is_written {
        let line = if group == Group::Sleeve {
            "sleeve-hem"
        } else {
            "hem"
        };
        Mend::value(&["allowances", line], written_mm(limit), words)
    } else {
        let path = &["hems", group.word()];
        Mend::value(path, "\"turned\"", words).and(Mend::property(
            path,
            "depth",
            written_mm(limit),
            "",
        ))
    }
}

/// Thick cloth that is to be turned twice.
pub(super) fn too_thick(pattern: &Pattern, asked: &Asked<'_>, group: Group) -> Option<Finding> {
    let layer = if group == Group::Lining {
        Layer::Lining
    } else {
        Layer::Shell
    };
    let (wish, cloth) = (group.wish(asked)?, pattern.makeup.cloth(layer)?);
    (cloth.thickness > figures::THICKEST_NARROW_HEM).then(|| {
        let most = figures::THICKEST_NARROW_HEM;
        let path = &["hems", group.word()];
        Finding::warning(
            "cloth-too-thick-for-narrow-hem",
            format!("the {} is thick for a hem that is turned twice", cloth.name),
        )
        .at_text(&wish.finish.span, "asked for here")
        .measured(
            Quantity::mm(cloth.thickness),
            Allowed::AtMost(Quantity::mm(most)),
        )
        .because("three layers on each other stand off as a ridge")
        .cure("bind the hem, or turn it once")
        .mend(Mend::value(path, "\"bound\"", "binds the hem"))
        .mend(Mend::value(path, "\"turned\"", "turns the hem once"))
    })
}
