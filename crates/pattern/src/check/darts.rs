//! Darts: legs of equal length, an edge that runs smoothly over the closed dart, a point inside the piece.
//!
//! **What it does.** Measures both legs, closes the dart in thought and compares the directions in which its edge arrives and
//! leaves, and looks whether the stitching ends on cloth.
//! **Why.** Unequal legs twist the dart; an edge that is not trued with the dart folded shows a peak or a nick at the seam.
//! **Example.** A waist dart whose legs are 131.0 and 132.5 mm.
//! **What can go wrong.** A dart that is folded over a very curved edge is true only as it is pressed: the other way it is not.

use document::{Allowed, Finding, Place, Quantity};
use geometry::curve::{self, contains};

use super::cure::{self, Cure};
use super::{About, Check, LEG_LIMIT, SMOOTH_LIMIT};
use crate::piece::{Dart, Piece};
use crate::seam::Pattern;
use crate::step::Arguments;

pub(super) const CHECK: Check = Check {
    title: "Darts",
    manual: include_str!("darts.rs"),
    codes: &[
        ("dart-legs-differ", "0.1 mm"),
        ("dart-not-trued", "3°"),
        ("dart-point-outside", "a point inside the piece"),
    ],
    about: About::Sewing,
    run: check,
};

fn check(pattern: &Pattern) -> Vec<Finding> {
    cure::with_cures(pattern, found_all(pattern), found_all, cures)
}

fn found_all(pattern: &Pattern) -> Vec<Finding> {
    let darts = pattern
        .pieces
        .iter()
        .flat_map(|piece| piece.darts.iter().map(move |dart| (piece, dart)));
    darts
        .flat_map(|(piece, dart)| [legs(piece, dart), fold(piece, dart), point(piece, dart)])
        .flatten()
        .collect()
}

/// The dart drawn anew, its edge trued with it folded: to where it aims, to its own length, or shorter until it ends on cloth.
fn cures(pattern: &Pattern, finding: &Finding) -> Vec<Cure> {
    let darts = pattern
        .pieces
        .iter()
        .flat_map(|piece| piece.darts.iter().map(move |dart| (piece, dart)));
    let meant =
        darts.filter(|(piece, dart)| finding.places.iter().any(|at| *at == place(piece, dart)));
    meant
        .flat_map(|(piece, dart)| drawn_anew(piece, dart))
        .collect()
}

fn drawn_anew(piece: &Piece, dart: &Dart) -> Vec<Cure> {
    /// Shares of its length to which a dart is shortened that ends off its cloth.
    const SHORTER: [f64; 3] = [0.75, 0.5, 0.25];
    let names = || Arguments::new().named("dart", &piece.name, &dart.name);
    let anew = format!("draws the {} of the {} anew", dart.name, piece.name);
    let [before, after] = piece.legs(dart).lengths();
    let long = |share: f64| {
        let length = (10.0 * share * f64::midpoint(before, after)).round() / 10.0;
        Cure::new(
            "shorten-dart",
            names().length("length", length),
            format!("{anew} with legs of {length:.1} mm, its edge trued over it"),
        )
    };
    let aimed = Cure::new(
        "shorten-dart",
        names().length("before", 0.0),
        format!("{anew} to where it aims, its edge trued over it"),
    );
    let shorter = SHORTER.into_iter().map(long);
    [long(1.0), aimed].into_iter().chain(shorter).collect()
}

fn legs(piece: &Piece, dart: &Dart) -> Option<Finding> {
    let [before, after] = piece.legs(dart).lengths();
    let off = (before - after).abs();
    (off > LEG_LIMIT).then(|| {
        found(
            piece,
            dart,
            "dart-legs-differ",
            &format!("has legs of {before:.1} and {after:.1} mm"),
        )
        .measured(Quantity::mm(off), Allowed::AtMost(Quantity::mm(LEG_LIMIT)))
        .because("legs that differ twist the dart")
    })
}

fn fold(piece: &Piece, dart: &Dart) -> Option<Finding> {
    let edge = piece.edge(&dart.edge)?;
    let legs = piece.legs(dart);
    let before = edge.runs[dart.gap].end_direction();
    let after = edge.runs[dart.gap + 1].start_direction();
    let kink = (curve::angle_between(before, after).degrees() - legs.turn().degrees()).abs();
    (kink > SMOOTH_LIMIT).then(|| {
        found(
            piece,
            dart,
            "dart-not-trued",
            &format!(
                "leaves a corner of {kink:.1}° in the {} when closed",
                dart.edge
            ),
        )
        .measured(
            Quantity::degrees(kink),
            Allowed::AtMost(Quantity::degrees(SMOOTH_LIMIT)),
        )
        .because(
            "an edge that is not smooth over the folded dart shows a peak or a nick in the seam",
        )
    })
}

fn point(piece: &Piece, dart: &Dart) -> Option<Finding> {
    (!contains(&piece.outline_path(), dart.point)).then(|| {
        found(piece, dart, "dart-point-outside", "ends outside the piece")
            .because("the stitching of a dart must end on cloth")
    })
}

fn found(piece: &Piece, dart: &Dart, code: &'static str, what: &str) -> Finding {
    Finding::error(
        code,
        format!(
            "the {} of the {} {what}",
            dart.name.replace('-', " "),
            piece.title().to_lowercase()
        ),
    )
    .at(place(piece, dart))
    .cure("draw the dart anew with the step “shorten-dart”")
}

fn place(piece: &Piece, dart: &Dart) -> Place {
    Place::Edge {
        piece: piece.name.clone(),
        edge: dart.edge.clone(),
        at: Some((dart.point.x, dart.point.y)),
    }
}
