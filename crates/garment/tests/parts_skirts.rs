//! Skirts of every cut: beside figures from outside the project, and over a drawn population. Inches where the source has inches.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::{Body, Measure};
use document::{Finding, Severity};
use garment::block::skirt::found::{self, On};
use geometry::Curve;
use pattern::{Edge, EdgeKind, Fullness, Mark, Pattern, Piece};

const INCH: f64 = 25.4;

fn made(skirt: &str, more: &str, body: &Body) -> Result<Pattern, Finding> {
    let text = format!("garment \"Skirt\" {{\n skirt {skirt}\n {more}\n}}");
    garment::make(&common::recipe(&text), body).map(|garment| garment.pattern)
}

fn skirt(skirt: &str, more: &str, body: &Body) -> Pattern {
    made(skirt, more, body).unwrap_or_else(|finding| panic!("{skirt}: {finding:#?}"))
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    let names: Vec<&str> = pattern
        .pieces
        .iter()
        .map(|piece| piece.name.as_str())
        .collect();
    pattern
        .piece(name)
        .unwrap_or_else(|| panic!("no {name} among {names:?}"))
}

fn length(pattern: &Pattern, owner: &str, edge: &str) -> f64 {
    piece(pattern, owner)
        .edge(edge)
        .map_or(f64::NAN, Edge::length)
}

/// Length all round of an edge of the skirt, mm.
fn round(pattern: &Pattern, edge: &str) -> f64 {
    let of = |piece: &Piece| piece.edge(edge).map_or(0.0, Edge::length) * piece.halves();
    found::pieces(pattern).map(of).sum()
}

/// What cloth, grain, needle and step ask: cuts are drawn here as wide, as full and as long as they can be.
const BESIDE: [&str; 4] = [
    "piece-wider-than-cloth",
    "seam-too-thick",
    "hem-too-narrow",
    "grain-differs",
];

/// Errors and warnings of all checks, but for those.
fn wrong(pattern: &Pattern) -> Vec<String> {
    pattern::check::all(pattern)
        .iter()
        .filter(|finding| finding.severity > Severity::Note)
        .filter(|finding| !BESIDE.contains(&finding.code))
        .map(|finding| format!("{}: {}", finding.code, finding.message))
        .collect()
}

fn body_of(waist: f64, hip: f64) -> Body {
    common::body(&[(Measure::Waist, waist), (Measure::Hip, hip)])
}

const NO_EASE: &str = "ease { waist \"0 mm\"; hip \"0 mm\" }";

/// Radius of a waist, from the bend of its seam line in its middle.
fn radius(edge: &Edge) -> f64 {
    1.0 / edge.runs[0].curvature_at(edge.length() / 2.0).abs()
}

/// Derived (a sector of angle a with an arc W has the radius W/a, and the arc W + a·L at L farther out): W = 700 mm: full 111.4,
/// 3/4 148.5, half 222.8, 3/8 297.1, quarter 445.6.
#[test]
fn radii_and_hems_of_parts_of_a_circle() {
    for (part, share, published) in [
        ("1", 1.0, 111.4),
        ("3/4", 0.75, 148.5),
        ("1/2", 0.5, 222.8),
        ("3/8", 0.375, 297.1),
        ("1/4", 0.25, 445.6),
    ] {
        let text = format!("\"circle\" part=\"{part}\" length=\"600 mm\"");
        let pattern = skirt(&text, NO_EASE, &body_of(700.0, 800.0));
        let angle = share * 2.0 * std::f64::consts::PI;
        for name in ["skirt-front", "skirt-back"] {
            let waist = piece(&pattern, name).edge("waist").expect("it has a waist");
            assert!(
                (radius(waist) - published).abs() < 0.1,
                "{part} {name}: {}",
                radius(waist)
            );
        }
        assert!((round(&pattern, "waist") - 700.0).abs() < 0.01, "{part}");
        let hem = round(&pattern, "hem");
        assert!(
            (hem - (700.0 + angle * 600.0)).abs() < 0.1,
            "{part}: hem {hem}"
        );
        assert_eq!(wrong(&pattern), [""; 0], "{part}");
    }
}

/// Derived: of a whole circle for a waist of 1140 mm, an allowance of 10 mm leaves a hole of radius 1140/2π − 10 = 171.4; adding it
/// is the common mistake.
#[test]
fn an_allowance_makes_the_hole_for_the_waist_smaller() {
    let more = format!("{NO_EASE}\n allowances {{ seam \"10 mm\" }}");
    let pattern = skirt(
        "\"circle\" length=\"600 mm\"",
        &more,
        &body_of(1140.0, 1200.0),
    );
    let outline = piece(&pattern, "skirt-front")
        .cutting_outline()
        .expect("it can be cut");
    let cut: &Curve = outline.cuts[0].line.as_ref().expect("the waist is cut");
    let radius = 1.0 / cut.curvature_at(cut.length() / 2.0).abs();
    assert!((radius - 171.4).abs() < 0.1, "cut at {radius:.2}");
}

/// Derived: a hem of depth d on a sector of angle a is longer than its sewing line by a·d: 314 mm for a whole circle and 50 mm.
#[test]
fn the_hem_of_a_circle_is_fuller_than_where_it_is_sewn() {
    let pattern = skirt(
        "\"circle\" length=\"600 mm\"",
        NO_EASE,
        &body_of(700.0, 900.0),
    );
    let fuller: f64 = found::hems(&pattern)
        .iter()
        .map(|hem| {
            let owner = piece(&pattern, &hem.piece);
            let edge = owner.edge(&hem.edge).expect("it is there");
            // 50 mm higher, the same arc about the same centre.
            let angle = edge.length() / radius(edge);
            owner.halves() * angle * 50.0
        })
        .sum();
    assert!((fuller - 314.16).abs() < 0.1, "{fuller:.2}");
}

/// The sweep that is asked for is what is drawn, and the part of a circle is told.
#[test]
fn a_circle_is_solved_for_its_sweep() {
    let pattern = skirt(
        "\"circle\" sweep=\"3 m\" length=\"650 mm\"",
        "",
        &body_of(720.0, 960.0),
    );
    assert!((round(&pattern, "hem") - 3000.0).abs() < 0.01);
    let told = pattern
        .findings
        .iter()
        .find(|one| one.code == "skirt-fullness-solved");
    let told = told.expect("the part is told");
    assert_eq!(told.severity, Severity::Note);
    assert!(
        told.message.contains("0.55 of a circle"),
        "{}",
        told.message
    );
    let narrow = made(
        "\"circle\" part=\"1/16\" length=\"650 mm\"",
        "",
        &body_of(720.0, 960.0),
    );
    assert_eq!(
        narrow.expect_err("it would not pass the hip").code,
        "skirt-circle-impossible"
    );
}

/// Bennett, *The Perfect Dressmaking System*, 1914, five-gore skirt, inches: waist 25, hip 40, front 38, sweep 81; each gore 5 at
/// the waist and 8 at the hip; front gore 10 at the hem, the other four 17 3/4 (the book prints 17 1/2, which makes 80).
#[test]
fn five_gores_of_bennett() {
    let body = body_of(25.0 * INCH, 40.0 * INCH);
    let text = "\"gored\" gores=5 front-hem=\"10 in\" sweep=\"81 in\" length=\"38 in\"";
    let pattern = skirt(text, NO_EASE, &body);
    let names: Vec<&str> = pattern
        .pieces
        .iter()
        .map(|piece| piece.name.as_str())
        .collect();
    assert_eq!(names, ["front-gore", "side-gore", "back-gore"]);
    let cut: Vec<u32> = pattern.pieces.iter().map(|piece| piece.cut.count).collect();
    assert_eq!(cut, [1, 2, 2]);
    for (name, halves, hem) in [
        ("front-gore", 2.0, 10.0),
        ("side-gore", 1.0, 17.75),
        ("back-gore", 1.0, 17.75),
    ] {
        let inches = |edge: &str| halves * length(&pattern, name, edge) / INCH;
        assert!(
            (inches("waist") - 5.0).abs() < 1e-4,
            "{name} waist {}",
            inches("waist")
        );
        let hip = halves
            * piece(&pattern, name)
                .line("hip")
                .map_or(0.0, pattern::InnerLine::length)
            / INCH;
        assert!((hip - 8.0).abs() < 1e-4, "{name} hip {hip}");
        assert!(
            (inches("hem") - hem).abs() < 1e-4,
            "{name} hem {}",
            inches("hem")
        );
    }
    assert!((length(&pattern, "front-gore", "centre") / INCH - 38.0).abs() < 1e-6);
    // His side is 39; the gores' seams are of one length, between his front of 38 and his back of 39 1/2.
    let side = length(&pattern, "side-gore", "front-edge") / INCH;
    assert!((38.0..=39.5).contains(&side), "seams {side}");
    assert_eq!(wrong(&pattern), [""; 0]);
}

/// Any number of gores shares waist and hip evenly and gives the sweep; a seam stands at the side line where the number puts one.
#[test]
fn any_number_of_gores() {
    let body = body_of(720.0, 980.0);
    for gores in 4..=12 {
        let text = format!("\"gored\" gores={gores} sweep=\"2400 mm\" length=\"700 mm\"");
        let pattern = skirt(&text, "waistband", &body);
        assert_eq!(wrong(&pattern), [""; 0], "{gores}");
        let cut: u32 = found::pieces(&pattern).map(|piece| piece.cut.count).sum();
        assert_eq!(cut, gores, "every gore is cut once");
        assert!((round(&pattern, "waist") - 735.0).abs() < 0.01, "{gores}");
        assert!((round(&pattern, "hem") - 2400.0).abs() < 0.01, "{gores}");
        let at_side = !found::edges(&pattern, On::Side).is_empty();
        assert_eq!(at_side, gores % 4 == 0, "{gores}");
        assert_eq!(found::edges(&pattern, On::CentreBack).len(), 1, "{gores}");
    }
    let missing = made(
        "\"gored\" gores=5 seams=\"side-line\" length=\"700 mm\"",
        "",
        &body,
    );
    assert_eq!(
        missing.expect_err("five have none").code,
        "gores-miss-side-line"
    );
}

/// Derived: knife pleats of three times the finished width, 720 mm in 18 pleats of 40 mm, take 2160 mm of cloth.
#[test]
fn knife_pleats_take_three_times_the_width() {
    let text = "\"pleated\" as=\"knife\" pleats=18 fullness=3 length=\"600 mm\"";
    let pattern = skirt(text, NO_EASE, &body_of(600.0, 720.0));
    assert!((round(&pattern, "hem") - 2160.0).abs() < 1e-6);
    let front = piece(&pattern, "skirt-front");
    let at_hip = |name: &str| {
        let run = &front.line(name).unwrap_or_else(|| panic!("no {name}")).runs[0];
        run.end().x
    };
    // Strip of 40, take-up of 80: from one placement to the next fold.
    assert!((at_hip("pleat-2-fold") - at_hip("pleat-1-placement") - 40.0).abs() < 1e-6);
    assert!((at_hip("pleat-1-placement") - at_hip("pleat-1-fold") - 80.0).abs() < 1e-6);
}

/// Conover, *A Complete Course in Dressmaking* vol. 5, 1921, pleated skirt: half width 44, waist 28, hip 40, half hem 27 1/2; the
/// pleats of one half take up 30 at the waist, 24 at the hip and 16 1/2 at the hem; seven of the eight 3 1/8 each at the hip.
#[test]
fn pleats_of_conover() {
    let text =
        "\"pleated\" as=\"knife\" pleats=16 sweep=\"88 in\" laid-hem=\"55 in\" length=\"38 in\"";
    let pattern = skirt(text, NO_EASE, &body_of(28.0 * INCH, 40.0 * INCH));
    assert!((round(&pattern, "waist") / 2.0 / INCH - 44.0).abs() < 1e-9);
    let seam_takes: f64 = ["skirt-front", "skirt-back"]
        .iter()
        .map(|name| take_up(piece(&pattern, name), |run| run.start().x))
        .sum();
    assert!(
        (seam_takes / INCH - 30.0).abs() < 1e-6,
        "waist {}",
        seam_takes / INCH
    );
    let hem_takes: f64 = ["skirt-front", "skirt-back"]
        .iter()
        .map(|name| take_up(piece(&pattern, name), |run| run.end().x))
        .sum();
    assert!(
        (hem_takes / INCH - 16.5).abs() < 1e-6,
        "hem {}",
        hem_takes / INCH
    );
    let depth = common_hip_depth(&pattern);
    let hip_takes: f64 = ["skirt-front", "skirt-back"]
        .iter()
        .map(|name| take_up(piece(&pattern, name), |run| at_level(run, depth)))
        .sum();
    assert!(
        (hip_takes / INCH - 24.0).abs() < 1e-3,
        "hip {}",
        hip_takes / INCH
    );
    // His first pleat is shallower, 2 1/8; eight alike take 3 each where his other seven take 3 1/8.
    let each = hip_takes / INCH / 8.0;
    assert!((each - 3.125).abs() < 0.13, "each {each}");
}

fn common_hip_depth(pattern: &Pattern) -> f64 {
    piece(pattern, "skirt-front")
        .line("hip")
        .map_or(f64::NAN, |line| line.runs[0].start().y)
}

/// x of a line where it passes a level.
fn at_level(run: &Curve, y: f64) -> f64 {
    geometry::solve::bracketed(0.0, run.length(), 1e-7, |along| run.point_at(along).y - y)
        .map_or(f64::NAN, |along| run.point_at(along).x)
}

/// What the knife pleats of a piece take up at a level, mm.
fn take_up(piece: &Piece, x: impl Fn(&Curve) -> f64) -> f64 {
    let fold = |line: &&pattern::InnerLine| line.name.ends_with("-fold");
    let takes = piece.lines.iter().filter(fold).map(|fold| {
        let partner = fold.name.replace("-fold", "-placement");
        let placement = piece
            .line(&partner)
            .unwrap_or_else(|| panic!("no {partner}"));
        (x(&placement.runs[0]) - x(&fold.runs[0])).abs()
    });
    takes.sum()
}

/// Waist and hip both fit, whatever the pleats, and notches stand where the folds meet waist and hem.
#[test]
fn pleats_fit_waist_and_hip() {
    let body = body_of(740.0, 1010.0);
    for kind in ["knife", "box", "inverted"] {
        let pattern = skirt(
            &format!("\"pleated\" as=\"{kind}\" length=\"620 mm\""),
            "waistband",
            &body,
        );
        assert_eq!(wrong(&pattern), [""; 0], "{kind}");
        let band = pattern.seams.iter().find(|seam| seam.name == "waistband");
        assert!(matches!(
            band.map(|band| band.fullness),
            Some(Fullness::Pleated(_))
        ));
        let front = piece(&pattern, "skirt-front");
        let folds = front
            .lines
            .iter()
            .filter(|line| line.name.starts_with("pleat-"))
            .count();
        let notches = |on: &str| {
            let found = front.marks.iter().filter(|mark| {
                matches!(mark, Mark::Notch { name, edge, .. } if edge == on && name.starts_with("pleat-"))
            });
            found.count()
        };
        assert!(folds > 0, "{kind}");
        assert_eq!([notches("waist"), notches("hem")], [folds, folds], "{kind}");
    }
    let odd = made("\"pleated\" pleats=7 length=\"620 mm\"", "", &body);
    assert_eq!(odd.expect_err("halves are alike").code, "pleats-not-even");
}

/// A skirt as full as its cloth allows fits across it, and one a little fuller does not.
#[test]
fn as_full_as_the_cloth_allows() {
    let body = body_of(720.0, 980.0);
    let cloth = |mm: f64| format!("waistband\n cloths {{ shell \"linen\" width=\"{mm} mm\" }}");
    for (cut, laid) in [
        ("circle", "folded"),
        ("circle", "flat"),
        ("a-line", "folded"),
        ("gored", "folded"),
        ("gored", "flat"),
        ("gathered", "flat"),
        ("fan", "flat"),
    ] {
        let text = format!("\"{cut}\" fullness=\"cloth\" laid=\"{laid}\" length=\"600 mm\"");
        let pattern = skirt(&text, &cloth(1400.0), &body);
        let what = format!("{cut} {laid}");
        assert_eq!(wrong(&pattern), [""; 0], "{what}");
        let told = pattern
            .findings
            .iter()
            .find(|one| one.code == "skirt-fullness-solved");
        assert!(told.is_some_and(|told| told.measured.is_some()), "{what}");
        let widest = found::pieces(&pattern)
            .map(|piece| across(piece, laid == "folded"))
            .fold(0.0, f64::max);
        assert!(widest <= 1400.0, "{what}: {widest}");
        assert!(
            widest > 1390.0 || told.is_some_and(|told| told.message.contains("goes")),
            "{what}: {widest}"
        );
    }
    let narrow = made(
        "\"circle\" fullness=\"cloth\" length=\"600 mm\"",
        &cloth(420.0),
        &body,
    );
    assert_eq!(
        narrow.expect_err("half of it is too narrow").code,
        "cloth-too-narrow"
    );
}

/// Width of cloth that a piece takes with its grain along it, mm.
fn across(piece: &Piece, folded: bool) -> f64 {
    let outline = piece.cutting_outline().expect("it can be cut");
    let turn = geometry::curve::turn_about(
        geometry::Point::ORIGIN,
        geometry::Angle::from_degrees(90.0 - piece.grain.degrees()),
    );
    let boxes = outline
        .curves()
        .map(|curve| curve.transformed(turn).bounds());
    let width = boxes
        .reduce(|a, b| a.union(b))
        .map_or(0.0, |all| all.width());
    let doubled = folded || matches!(piece.cut.laid, pattern::Laid::OnFold(_));
    width * if doubled { 2.0 } else { 1.0 }
}

/// A skirt on its own ends in a band or a facing; without either a note says so, and gores can be faced.
#[test]
fn a_waist_is_banded_or_faced() {
    let body = body_of(720.0, 980.0);
    let told = |more: &str| {
        let pattern = skirt("\"gored\" gores=5 length=\"700 mm\"", more, &body);
        assert_eq!(wrong(&pattern), [""; 0], "{more}");
        let findings = pattern::check::all(&pattern);
        findings.iter().any(|one| one.code == "waist-left-raw")
    };
    assert!(told(""));
    assert!(!told("waistband"));
    assert!(!told("facings { waist width=\"50 mm\" }"));
}

/// Both fronts of a wrapped skirt reach half the overlap beyond CF, and its waistband is so much longer.
#[test]
fn a_wrapped_skirt_laps_over_itself() {
    let body = body_of(720.0, 980.0);
    let text = "\"wrapped\" overlap=\"240 mm\" facing=\"50 mm\" length=\"600 mm\"";
    let pattern = skirt(text, "waistband", &body);
    assert_eq!(wrong(&pattern), [""; 0]);
    let front = piece(&pattern, "skirt-front");
    assert_eq!(front.cut.count, 2);
    let centre = front.edge("front-edge").expect("it has a front edge");
    assert_eq!((centre.kind, centre.allowance), (EdgeKind::Finished, 50.0));
    assert!((centre.end().x + 120.0).abs() < 1e-9);
    assert!((round(&pattern, "waist") - (735.0 + 240.0)).abs() < 0.01);
    assert!((length(&pattern, "waistband", "waist") - 975.0).abs() < 0.01);
    let dress = "garment \"D\" { bodice; skirt \"wrapped\" length=\"600 mm\" }";
    let refused = garment::make(&common::recipe(dress), &body);
    assert_eq!(
        refused.expect_err("the bodice has no lap").code,
        "skirt-wrap-needs-own-waist"
    );
}

/// A fan is smooth in front: all its fullness is behind.
#[test]
fn a_fan_is_full_behind() {
    let body = body_of(720.0, 980.0);
    for fullness in ["gathers", "pleats"] {
        let text = format!("\"fan\" as=\"{fullness}\" sweep=\"3 m\" length=\"900 mm\"");
        let pattern = skirt(&text, "waistband", &body);
        assert_eq!(wrong(&pattern), [""; 0], "{fullness}");
        assert!(
            (round(&pattern, "hem") - 3000.0).abs() < 0.05,
            "{fullness}: {}",
            round(&pattern, "hem")
        );
        assert!(
            length(&pattern, "skirt-back", "hem") > 1.5 * length(&pattern, "skirt-front", "hem")
        );
        assert!((length(&pattern, "waistband", "waist") - 735.0).abs() < 0.01);
    }
}

/// Recipes over which the population is tried: every cut, on its own and under a bodice.
const CUTS: [&str; 14] = [
    "\"circle\" length=\"600 mm\"",
    "\"circle\" part=\"1/2\" length=\"650 mm\"",
    "\"circle\" sweep=\"3200 mm\" length=\"600 mm\"",
    "\"gored\" gores=5 length=\"750 mm\"",
    "\"gored\" gores=5 front-width=0.8 length=\"750 mm\"",
    "\"gored\" gores=6 seams=\"side-line\" centre-front=\"fold\" length=\"700 mm\"",
    "\"gored\" gores=8 seams=\"side-line\" length=\"700 mm\"",
    "\"gored\" gores=11 sweep=\"2900 mm\" length=\"700 mm\"",
    "\"pleated\" length=\"620 mm\"",
    "\"pleated\" as=\"box\" length=\"620 mm\"",
    "\"pleated\" as=\"inverted\" depth=\"50 mm\" length=\"620 mm\"",
    "\"fan\" length=\"900 mm\"",
    "\"fan\" as=\"pleats\" length=\"900 mm\"",
    "\"gathered\" sweep=\"2600 mm\" length=\"700 mm\"",
];

/// Every cut on its own and, where that can be, under a bodice.
fn recipes() -> Vec<(String, garment::Recipe)> {
    let both = CUTS.iter().flat_map(|cut| {
        let alone = format!("garment \"S\" {{ skirt {cut}; waistband }}");
        let dress = format!("garment \"D\" {{ bodice; skirt {cut} }}");
        [alone, dress]
    });
    let wrapped =
        "garment \"S\" { skirt \"wrapped\" overlap=\"200 mm\" length=\"600 mm\"; waistband }";
    both.chain([wrapped.to_owned()])
        .map(|text| (text.clone(), common::recipe(&text)))
        .collect()
}

/// What a body's own contradictions earn its bodice is no business of the skirt; nor where the bodice puts its waist darts, which a
/// mend brings together (`checks_mend.rs`).
fn of_bodice(wrong: &str) -> bool {
    ["bust-", "armhole-", "waist-darts-apart"]
        .iter()
        .any(|word| wrong.starts_with(word))
}

fn every_cut_is_clean(tapes: impl Iterator<Item = body::Tape>) {
    let recipes = recipes();
    for tape in tapes {
        let body = body::complete(&tape);
        for (text, recipe) in &recipes {
            let garment = garment::make(recipe, &body)
                .unwrap_or_else(|finding| panic!("{}, {text}: {finding:#?}", tape.name()));
            let mut wrong = wrong(&garment.pattern);
            wrong.retain(|one| !of_bodice(one));
            assert!(wrong.is_empty(), "{}, {text}: {wrong:#?}", tape.name());
        }
    }
}

#[test]
fn every_cut_over_a_drawn_population() {
    every_cut_is_clean(body::population::draw(60, 4));
}

/// Every fiftieth woman of the survey.
#[test]
fn every_cut_over_the_survey() {
    let path = concat!(
        env!("CARGO_MANIFEST_DIR"),
        "/../../../shared/data/ansur2_female_tape.csv"
    );
    let Ok(text) = std::fs::read_to_string(path) else {
        common::skipped("every_cut_over_the_survey: the survey's rows are not beside the project");
        return;
    };
    every_cut_is_clean(common::survey(&text).into_iter().step_by(50));
}
