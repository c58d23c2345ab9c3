//! Combines two darts into one.
//!
//! **What it does.** Closes a dart and lets another one, that ends at the same point, take its angle. A dart that ends
//! elsewhere is first drawn to the other's point, its mouth as it is.
//! **When it is used.** To gather all shaping in one place, before it is moved or cut away as a whole.
//! **Example.** `combine dart="front.bust-dart" into="front.waist-dart"`.
//! **What can go wrong.** The two darts lie on different pieces; the joint dart would be so wide that it crosses the outline.
//!
//! Invariants: the joint dart has the sum of both angles about the common point.

use document::{Finding, Place as Spot};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine};
use super::kit::dart_end;
use super::kit::place::SAME_POINT;
use super::transfer::{Target, dart_line, swing};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "combine",
    group: Group::Darts,
    summary: "closes one dart into another",
    manual: include_str!("combine.rs"),
    parameters: &[
        Parameter::needed("dart", Kind::Dart, "dart that is closed"),
        Parameter::needed("into", Kind::Dart, "dart that takes its angle"),
    ],
    amount: None,
    apply: combine,
};

fn combine(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, dart) = arguments.dart(pattern, "dart")?;
    let (other, into) = arguments.dart(pattern, "into")?;
    if index != other || dart.name == into.name {
        let finding = Finding::error(
            "darts-not-together",
            "two darts of one piece can be combined",
        )
        .at(Spot::Piece(pattern.pieces[index].name.clone()))
        .cure("name two darts of the same piece");
        return Err(arguments.blame("into", finding));
    }
    let mut piece = pattern.pieces[index].clone();
    if (dart.point - into.point).hypot() > SAME_POINT {
        dart_end::draw_to(&mut piece, &dart.name, into.point);
    }
    let target = Target::Dart(into.name.clone());
    let changed = swing(&piece, &dart.name, &target, 1.0, None)
        .map_err(|finding| arguments.blame("dart", finding))?;
    let joint = changed.dart(&into.name);
    let degrees = joint.map_or(0.0, |dart| changed.legs(dart).angle().degrees());
    let words = format!(
        "combined the {} of the {} with its {}, which has {degrees:.1}° now",
        dart.name, piece.name, into.name
    );
    let closed = dart_line(&piece, piece.dart(&dart.name).unwrap_or(dart));
    let lines = vec![TraceLine::new(&piece.name, Trace::Pivot, closed)];
    let mut pattern = pattern.clone();
    pattern.pieces[index] = changed;
    Ok(Done {
        pattern,
        lines,
        words,
    })
}
