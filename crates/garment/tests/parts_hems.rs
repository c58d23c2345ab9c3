//! Hems, vents and allowances over a drawn population: every finish on every cut comes out clean and can be cut.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::Body;
use document::{Finding, Severity};
use garment::Garment;
use geometry::Curve;
use pattern::{Edge, EdgeKind, Hem, HemFinish, Layer, Pattern, Piece};

/// Words that a body's own contradictions earn it, whatever is derived from it.
const EXPLAINED: [&str; 6] = [
    "bust-witnesses-disagree",
    "armhole-and-armpit-disagree",
    "armhole-has-no-level",
    "armhole-without-bottom",
    // A straight skirt without a vent, a circle on narrow cloth: not what is tried here.
    "hem-too-narrow",
    "piece-wider-than-cloth",
];

const STRAIGHT: &str = "skirt \"straight\" length=\"600 mm\"; waistband";
const DRESS: &str = "ease { bust \"60 mm\"; waist \"40 mm\" }
 bodice { bust-dart \"side\" }
 sleeve ease=\"60 mm\" cap-ease=\"30 mm\" hem=\"260 mm\"
 skirt \"gathered\" fullness=2.1 length=\"700 mm\"";
const CUTS: [&str; 6] = [
    STRAIGHT,
    "skirt \"a-line\" length=\"600 mm\"; waistband",
    DRESS,
    "skirt \"circle\" part=\"1/2\" length=\"600 mm\"; waistband",
    "skirt \"gored\" gores=6 length=\"650 mm\" sweep=\"2000 mm\"; waistband",
    "skirt \"pleated\" length=\"600 mm\"; waistband",
];
const FINISHES: [&str; 4] = ["turned", "faced", "narrow", "bound"];

fn bodies(count: usize) -> Vec<Body> {
    let tapes = body::population::draw(count, 12);
    tapes.map(|tape| body::complete(&tape)).collect()
}

fn made(statements: &str, body: &Body) -> Result<Garment, Finding> {
    let recipe = common::recipe(&format!("garment \"Hemmed\" {{\n {statements}\n}}"));
    garment::make(&recipe, body)
}

/// A garment of which no check says more than a note.
fn clean(statements: &str, body: &Body) -> Pattern {
    let garment = made(statements, body).unwrap_or_else(|finding| panic!("{finding:#?}"));
    for finding in pattern::check::all(&garment.pattern) {
        let explained = finding.severity == Severity::Note || EXPLAINED.contains(&finding.code);
        assert!(explained, "{statements}: {finding:#?}");
    }
    for piece in &garment.pattern.pieces {
        piece
            .cutting_outline()
            .unwrap_or_else(|error| panic!("{statements}: {}: {error}", piece.name));
    }
    garment.pattern
}

fn of<'a>(pattern: &'a Pattern, hem: &Hem) -> (&'a Piece, &'a Edge) {
    let piece = pattern.piece(&hem.piece).expect("a hem names its piece");
    (piece, piece.edge(&hem.edge).expect("a hem names its edge"))
}

fn skirt(pattern: &Pattern) -> impl Iterator<Item = &Hem> {
    let hems = pattern.makeup.hems.iter();
    hems.filter(|hem| is_skirt(&hem.piece))
}

fn is_skirt(piece: &str) -> bool {
    piece.contains("skirt") || piece.contains("gore")
}

#[test]
fn every_finish_is_clean_on_every_cut_and_body() {
    for body in bodies(6) {
        for cut in CUTS {
            for finish in FINISHES {
                let pattern = clean(&format!("{cut}; hems {{ skirt \"{finish}\" }}"), &body);
                let hems: Vec<&Hem> = skirt(&pattern).collect();
                let shells = pattern
                    .pieces
                    .iter()
                    .filter(|piece| piece.cut.layer == Layer::Shell && is_skirt(&piece.name));
                let edges = shells.flat_map(|piece| &piece.edges);
                let edges = edges.filter(|edge| edge.kind == EdgeKind::Hem).count();
                assert_eq!(hems.len(), edges, "{cut} {finish}");
                assert!(hems.iter().all(|hem| hem.finish.word() == finish));
                let depth = hems[0].depth;
                assert!(hems.iter().all(|hem| (hem.depth - depth).abs() < 1e-9));
            }
        }
    }
}

/// A hem of depth d on a sector of angle a is longer by a·d: derived; full circle, 50 mm: 314 mm.
#[test]
fn the_edge_of_what_is_turned_is_longer_by_angle_times_depth() {
    let body = common::body_of_bust(920.0);
    for (part, times) in [("1/1", 1.0), ("3/4", 0.75), ("1/2", 0.5), ("1/4", 0.25)] {
        let text = format!(
            "skirt \"circle\" part=\"{part}\" length=\"600 mm\"; waistband; allowances {{ hem \"50 mm\" }}"
        );
        let pattern = made(&text, &body)
            .unwrap_or_else(|finding| panic!("{finding:#?}"))
            .pattern;
        let all: f64 = skirt(&pattern)
            .map(|hem| hem.surplus * of(&pattern, hem).0.halves())
            .sum();
        let derived = times * 2.0 * std::f64::consts::PI * 50.0;
        assert!((all - derived).abs() < 0.1, "{part}: {all} {derived}");
        for hem in skirt(&pattern) {
            let (_, edge) = of(&pattern, hem);
            let cut = edge.runs[0]
                .offset(50.0, geometry::Tolerance::PATTERN)
                .expect("a round hem has an offset");
            let measured = cut.length() - edge.length();
            assert!((measured - hem.surplus).abs() < 0.05, "{measured}");
        }
    }
}

#[test]
fn a_hem_is_turned_as_deep_as_it_still_turns() {
    let body = common::body_of_bust(920.0);
    let full = "skirt \"circle\" part=\"1/1\" length=\"600 mm\"; waistband";
    let made = |more: &str| {
        made(&format!("{full}; {more}"), &body).unwrap_or_else(|finding| panic!("{finding:#?}"))
    };
    let codes = |garment: &Garment| -> Vec<&'static str> {
        garment
            .pattern
            .findings
            .iter()
            .map(|one| one.code)
            .collect()
    };
    let usual = made("");
    assert!(codes(&usual).contains(&"hem-reduced"));
    for hem in skirt(&usual.pattern) {
        let (_, edge) = of(&usual.pattern, hem);
        assert!(edge.allowance < 50.0 && edge.allowance >= 10.0);
        assert!(hem.surplus <= 0.04 * edge.length() + 1e-6);
    }
    let written = made("allowances { hem \"50 mm\" }");
    assert!(codes(&written).contains(&"hem-does-not-turn"));
    assert!(skirt(&written.pattern).all(|hem| hem.depth == 50.0));
    let finding = written
        .pattern
        .findings
        .iter()
        .find(|one| one.code == "hem-does-not-turn")
        .expect("it is told");
    assert_eq!(finding.severity, Severity::Warning);
    assert_eq!(finding.mends.len(), 3);
    for (finish, code) in [("faced", "hem-reduced"), ("narrow", "hem-reduced")] {
        let other = made(&format!("hems {{ skirt \"{finish}\" }}"));
        assert!(!codes(&other).contains(&code), "{finish}");
    }
    let straight = self::made(STRAIGHT, &body).expect("it can be made");
    assert!(skirt(&straight.pattern).all(|hem| hem.depth == 50.0));
}

#[test]
fn a_facing_has_the_shape_of_its_hem() {
    for body in bodies(3) {
        for cut in CUTS {
            let pattern = clean(
                &format!("{cut}; hems {{ skirt \"faced\" depth=\"70 mm\" }}"),
                &body,
            );
            for hem in skirt(&pattern) {
                let (shell, edge) = of(&pattern, hem);
                let name = pattern::name::derived(&shell.name, "hem-facing");
                let facing = pattern.piece(&name).expect("a faced hem has a facing");
                assert_eq!(facing.cut.layer, Layer::Facing);
                assert_eq!(facing.halves(), shell.halves());
                // Stitched 6 mm from the edge, far edge turned 6 mm, shell overhangs 13 mm: common practice, no source.
                let allowance = |name: &str| facing.edge(name).expect("it is there").allowance;
                assert_eq!((allowance("hem"), allowance("outer")), (6.0, 6.0));
                assert_eq!(edge.allowance, 13.0 + 6.0);
                let beside = |name: &str, distance: f64| {
                    let line: &Curve = &facing.edge(name).expect("it is there").runs[0];
                    for step in 0..=20 {
                        let point = line.point_at(line.length() * f64::from(step) / 20.0);
                        let off = edge.runs[0].nearest(point).distance - distance;
                        assert!(off.abs() < 0.6, "{cut} {name}: {off}");
                    }
                };
                beside("hem", 13.0);
                beside("outer", 70.0);
            }
            let mates = pattern.makeup.mates.iter();
            let mates = mates
                .filter(|mate| mate.name.ends_with("hem-facing-hem"))
                .count();
            assert_eq!(mates, skirt(&pattern).count(), "{cut}");
        }
    }
}

#[test]
fn sleeves_bodices_and_linings_are_hemmed_too() {
    for body in bodies(3) {
        for finish in FINISHES {
            let pattern = clean(&format!("{DRESS}; hems {{ sleeve \"{finish}\" }}"), &body);
            let hems = &pattern.makeup.hems;
            let sleeve = hems.iter().find(|hem| hem.piece == "sleeve");
            assert_eq!(sleeve.map(|hem| hem.finish.word()), Some(finish));
            let bodice = "bodice { bust-dart \"side\" }";
            let pattern = clean(
                &format!("{bodice}; hems {{ bodice \"{finish}\" depth=\"30 mm\" }}")
                    .replace("\"narrow\" depth=\"30 mm\"", "\"narrow\"")
                    .replace("\"faced\" depth=\"30 mm\"", "\"faced\" depth=\"45 mm\""),
                &body,
            );
            let hems = pattern.makeup.hems.iter().filter(|hem| hem.edge == "waist");
            assert_eq!(hems.count(), 2, "front and back");
        }
        let lined = format!(
            "{STRAIGHT}; lining \"open\" {{ shorter \"25 mm\" }}; hems {{ lining \"narrow\" depth=\"8 mm\" }}"
        );
        let pattern = clean(&lined, &body);
        let own = pattern
            .makeup
            .hems
            .iter()
            .filter(|hem| hem.piece.contains("lining"));
        let own: Vec<(HemFinish, f64)> = own.map(|hem| (hem.finish, hem.depth)).collect();
        assert_eq!(own, vec![(HemFinish::Narrow, 8.0); 2]);
    }
}

#[test]
fn a_strip_goes_round_the_whole_hem() {
    let body = common::body_of_bust(920.0);
    let pattern = clean(
        "skirt \"circle\" part=\"1/2\" length=\"600 mm\"; waistband; hems { skirt \"bound\" depth=\"8 mm\" }",
        &body,
    );
    let (mut strips, mut round) = (0.0, 0.0);
    for hem in skirt(&pattern) {
        let (piece, edge) = of(&pattern, hem);
        let strip = hem.strip.expect("a bound hem has a strip");
        assert_eq!((strip.width, edge.allowance), (32.0, 0.0));
        strips += strip.length;
        round += edge.length() * piece.halves();
    }
    assert!((strips - round).abs() < 1e-6);
    // Half a circle of radius waist/π + length; the waist's own length is the draft's.
    let waist: f64 = pattern
        .pieces_of("skirt-front")
        .chain(pattern.pieces_of("skirt-back"))
        .map(|piece| piece.edges_of("waist").map(Edge::length).sum::<f64>() * piece.halves())
        .sum();
    let derived = waist + std::f64::consts::PI * 600.0;
    assert!((round - derived).abs() < 1.0, "{round} {derived}");
}

const VENTED: [&str; 4] = [
    "vent seam=\"centre-back\" height=\"180 mm\" width=\"40 mm\"",
    "vent seam=\"skirt-side\" height=\"150 mm\" width=\"30 mm\"",
    "slit seam=\"skirt-side\" height=\"200 mm\"",
    "slit seam=\"centre-back\" height=\"200 mm\"; vent seam=\"skirt-side\" height=\"120 mm\"",
];

#[test]
fn vents_open_seams_and_leave_the_rest() {
    for body in bodies(5) {
        for vents in VENTED {
            for more in [
                "",
                "hems { skirt \"faced\" }",
                "lining \"bagged\"",
                "lining \"open\"",
            ] {
                let plain = clean(&format!("{STRAIGHT}\n{more}"), &body);
                let pattern = clean(&format!("{STRAIGHT}\n{more}\nvents {{ {vents} }}"), &body);
                assert_eq!(pattern.makeup.vents.len(), vents.split(';').count());
                for name in ["skirt-front", "skirt-back"] {
                    let [own, old] =
                        [&pattern, &plain].map(|pattern| pattern.piece(name).expect("it is there"));
                    assert_eq!(
                        own.edge("hem").map(|edge| &edge.runs),
                        old.edge("hem").map(|edge| &edge.runs)
                    );
                }
                let length = |pattern: &Pattern| {
                    let seam = pattern.seams.iter().find(|seam| seam.name == "skirt-side");
                    pattern.side_length(&seam.expect("it is there").held)
                };
                let vent = pattern
                    .makeup
                    .vents
                    .iter()
                    .find(|vent| vent.seam == "skirt-side");
                let height = vent.map_or(0.0, |vent| vent.height);
                assert!((length(&plain) - length(&pattern) - height).abs() < 1e-6);
            }
        }
    }
}

#[test]
fn a_vent_is_as_wide_as_asked_and_slants_at_its_top() {
    let body = common::body_of_bust(920.0);
    let pattern = clean(&format!("{STRAIGHT}; vents {{ {} }}", VENTED[0]), &body);
    let back = pattern.piece("skirt-back").expect("it is there");
    let edge = |name: &str| &back.edge(name).expect("a vent has it").runs[0];
    let fold = &back.line("vent-fold").expect("a vent is folded").runs[0];
    assert!((fold.length() - 180.0).abs() < 1e-6);
    for step in 0..=10 {
        let point = edge("vent").point_at(edge("vent").length() * f64::from(step) / 10.0);
        assert!((fold.nearest(point).distance - 40.0).abs() < 0.01);
    }
    assert!((edge("vent").length() - 140.0).abs() < 1.0);
    assert!((edge("vent-top").length() - 40.0 * 2f64.sqrt()).abs() < 1.0);
}

#[test]
fn what_cannot_be_opened_or_hemmed_says_why() {
    let body = common::body_of_bust(920.0);
    for (statements, code) in [
        (
            format!("opening \"none\"; {STRAIGHT}; vents {{ {} }}", VENTED[0]),
            "vent-without-seam",
        ),
        (
            format!("{STRAIGHT}; vents {{ slit seam=\"skirt-sides\" height=\"100 mm\" }}"),
            "seam-not-there",
        ),
        (
            format!("{STRAIGHT}; vents {{ slit seam=\"waistband\" height=\"100 mm\" }}"),
            "vent-without-hem",
        ),
        (
            format!("{STRAIGHT}; vents {{ slit seam=\"skirt-side\" height=\"590 mm\" }}"),
            "vent-too-high",
        ),
        (
            format!("{STRAIGHT}; hems {{ sleeve \"narrow\" }}"),
            "nothing-to-hem",
        ),
        (
            format!("{STRAIGHT}; hems {{ lining \"narrow\" }}"),
            "nothing-to-hem",
        ),
        (
            "bodice; hems { bodice \"faced\" depth=\"200 mm\" }".into(),
            "hem-facing-without-room",
        ),
        (
            format!("{STRAIGHT}; allowances {{ edge \"skirt-front.sied\" \"20 mm\" }}"),
            "edge-not-there",
        ),
        (
            format!("{STRAIGHT}; allowances {{ edge \"skirt-frnt.side\" \"20 mm\" }}"),
            "piece-not-there",
        ),
        (
            format!("{STRAIGHT}; allowances {{ edge \"skirt-front.centre\" \"20 mm\" }}"),
            "allowance-on-fold",
        ),
    ] {
        let finding = made(&statements, &body).expect_err(&statements);
        assert_eq!(finding.code, code, "{statements}");
        assert!(
            finding
                .places
                .iter()
                .any(|place| matches!(place, document::Place::Text { .. })),
            "{finding:#?}"
        );
    }
}

#[test]
fn allowances_follow_the_cloth_and_what_is_written() {
    let body = common::body_of_bust(920.0);
    let edges = |more: &str| {
        let pattern = made(&format!("{DRESS}\n{more}"), &body)
            .unwrap_or_else(|finding| panic!("{finding:#?}"))
            .pattern;
        let of = |piece: &str, edge: &str| {
            let piece = pattern.piece(piece).expect("it is there");
            piece.edge(edge).expect("it is there").allowance
        };
        [
            of("front", "side"),
            of("back", "side"),
            of("front", "armhole"),
            of("front", "neckline"),
            of("skirt-back", "centre"),
            of("skirt-front", "hem"),
            of("sleeve", "hem"),
        ]
    };
    // 5/8 in is 15.9 mm and by common practice 15; hem 2 in: Butterick 1911.
    let usual = [15.0, 15.0, 12.0, 10.0, 20.0, 50.0, 30.0];
    assert_eq!(edges(""), usual);
    assert_eq!(edges("cloths { lining \"lawn\" }"), usual);
    let suiting = "cloths { shell \"suiting\" thickness=\"0.57 mm\" weight=235 }";
    assert_eq!(edges(suiting), usual);
    let loose = "cloths { shell \"loose weave\" thickness=\"0.5 mm\" weight=150 frays=\"much\" }";
    assert_eq!(edges(loose), [20.0, 20.0, 15.0, 12.0, 25.0, 50.0, 30.0]);
    // Turn of cloth π/2 × 2.4 mm = 3.8 mm, derived.
    let coating = "cloths { shell \"coating\" thickness=\"2.4 mm\" weight=500 frays=\"little\" }";
    assert_eq!(edges(coating), [20.0, 20.0, 15.0, 16.0, 25.0, 64.0, 44.0]);
    let written = format!(
        "{coating}; allowances {{ seam \"10 mm\"; edge \"front.side\" \"22 mm\"; edge \"skirt-front.hem\" \"70 mm\" }}"
    );
    assert_eq!(edges(&written), [22.0, 10.0, 15.0, 16.0, 25.0, 70.0, 44.0]);
}

/// Edges that a style cuts, and pieces that a part makes, have the allowance that is written for them as well.
#[test]
fn written_allowances_reach_what_was_cut_and_what_is_derived() {
    let body = common::body_of_bust(920.0);
    let text = "bodice { bust-dart \"side\" }
 skirt \"straight\" length=\"600 mm\"
 steps { cut from=\"front.bust-dart\" through=\"front.bust-point\" to=\"front.waist-dart\" seam=\"princess\" }
 hems { skirt \"faced\" }
 allowances { edge \"front.side\" \"25 mm\"; edge \"front.princess\" \"18 mm\"; edge \"skirt-front-hem-facing.outer\" \"9 mm\" }";
    let pattern = clean(text, &body);
    let all = |piece: &str, edge: &str| -> Vec<f64> {
        let pieces = pattern.pieces_of(piece);
        let edges = pieces.flat_map(|piece| piece.edges_of(edge).collect::<Vec<_>>());
        edges.map(|edge| edge.allowance).collect()
    };
    assert_eq!(all("front", "side"), [25.0, 25.0]);
    assert_eq!(all("front", "princess"), [18.0, 18.0]);
    assert_eq!(all("skirt-front-hem-facing", "outer"), [9.0]);
}
