//! Releases a dart: its width is gathered, laid in pleats or eased into the seam.
//!
//! **What it does.** The dart goes; the edge is drawn over its mouth; the seam there takes up so much more, and notches on
//! both sides say where.
//! **When it is used.** For softer shapes: gathers under a yoke or at a waist, an unpressed pleat instead of a dart.
//! **Example.** `release dart="front.waist-dart" as="gathers"`.
//! **What can go wrong.** There is no seam to hold the fullness; the dart is then released all the same, and the waist of the
//! pattern is as much wider.
//!
//! Invariants: the edge grows by the width of the dart, but for truing; the rest of the outline stays.

use document::Finding;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fullness::{Manner, joins, take_up};
use super::kit::gap::Gap;
use super::kit::true_up::{Keep, true_up};
use super::kit::{fill, notches};
use super::transfer::dart_line;
use crate::seam::{Pattern, Seam};

pub(super) const STEP: StepKind = StepKind {
    name: "release",
    group: Group::Darts,
    summary: "turns a dart into gathers, pleats or ease",
    manual: include_str!("release.rs"),
    parameters: &[
        Parameter::needed("dart", Kind::Dart, "dart that is released"),
        Parameter::usually(
            "as",
            Kind::Choice(&["gathers", "pleats", "ease"]),
            Usual::Word("gathers"),
            "how the seam takes it up",
        ),
        Parameter::usually(
            "over",
            Kind::Length(0.0, 400.0),
            Usual::Length(25.0),
            "how far gathers or ease reach beyond the mouth on either side",
        ),
    ],
    amount: None,
    apply: release,
};

fn release(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, dart) = arguments.dart(pattern, "dart")?;
    let word = arguments.word("as")?;
    let (manner, over) = match word {
        "pleats" => (Manner::Pleats, 0.0),
        "ease" => (Manner::Ease, arguments.mm("over")?),
        _ => (Manner::Gathers, arguments.mm("over")?),
    };
    let mut changed = pattern.clone();
    let piece = &mut changed.pieces[index];
    let line = dart_line(piece, dart);
    let (name, edge) = (piece.name.clone(), dart.edge.clone());
    let Some(gap) = Gap::of_dart(piece, &dart.name) else {
        return Err(arguments.blame(
            "dart",
            Finding::error("dart-not-there", "the dart is not there"),
        ));
    };
    piece.darts.retain(|other| other.name != dart.name);
    let joint = fill::bridge(piece, gap);
    let intake = joint.to - joint.from;
    let length = piece.edges[gap.edge].length();
    if !true_up(piece, gap.edge, &[joint], Keep::Length(length)) {
        true_up(piece, gap.edge, &[joint], Keep::Shape);
    }
    let ends = [(joint.from - over).max(0.0), (joint.to + over).min(length)];
    take_up(&mut changed, pattern, (&name, &edge), manner);
    mark(&mut changed, (&name, &edge), ends, intake, word);
    let words = format!(
        "released the {} of the {name}: {intake:.0} mm become {word} in the {edge}",
        dart.name
    );
    Ok(Done {
        lines: vec![TraceLine::new(&name, Trace::Pivot, line)],
        pattern: changed,
        words,
    })
}

/// Notches where the fullness begins and ends, on both sides of the seam.
fn mark(pattern: &mut Pattern, place: (&str, &str), ends: [f64; 2], intake: f64, name: &str) {
    for along in ends {
        notches::put(pattern, place, name, along, 1);
    }
    let seams: Vec<Seam> = pattern.seams.clone();
    for seam in seams.iter().filter(|seam| joins(seam, place.0, place.1)) {
        mark_other_side(pattern, seam, place, ends, (intake, name));
    }
}

fn mark_other_side(
    pattern: &mut Pattern,
    seam: &Seam,
    place: (&str, &str),
    ends: [f64; 2],
    (intake, name): (f64, &str),
) {
    for (own, other) in [(&seam.worked, &seam.held), (&seam.held, &seam.worked)] {
        let at = ends.map(|along| notches::on_side(pattern, own, place, along));
        let [Some(one), Some(two)] = at else {
            continue;
        };
        let (near, far) = (one.min(two), one.max(two) - intake);
        for at in [near, far.max(near)] {
            if let Some((piece, edge, along)) = notches::at_side(pattern, other, at) {
                notches::put(pattern, (&piece, &edge), name, along, 1);
            }
        }
        return;
    }
}
