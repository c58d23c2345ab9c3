//! Linings over a drawn population: every way on several cuts comes out clean, agrees with its shell and can be cut.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::Body;
use document::{Finding, Severity};
use garment::Garment;
use pattern::{EdgeKind, Fullness, Layer, LiningWay, Pattern};

/// Words that a body's own contradictions earn it, whatever is derived from it.
const EXPLAINED: [&str; 4] = [
    "bust-witnesses-disagree",
    "armhole-and-armpit-disagree",
    "armhole-has-no-level",
    "armhole-without-bottom",
];

/// Cuts to be lined: statements of a garment.
const SLEEVED: &str = "ease { bust \"60 mm\"; waist \"40 mm\" }
 bodice { bust-dart \"side\"; neckline \"v\" depth=\"60 mm\" width=\"15 mm\" }
 sleeve ease=\"60 mm\" cap-ease=\"30 mm\" hem=\"260 mm\"
 skirt \"gathered\" fullness=2.1 length=\"700 mm\"";
const SLEEVELESS: &str = "ease { bust \"60 mm\"; waist \"40 mm\" }
 opening \"none\"
 bodice { bust-dart \"waist\"; neckline \"round\" depth=\"20 mm\" width=\"20 mm\" back-depth=\"15 mm\" }
 skirt \"a-line\" length=\"650 mm\"";
const PRINCESS: &str = "ease { bust \"60 mm\"; waist \"40 mm\" }
 bodice { bust-dart \"shoulder\"; neckline \"round\" depth=\"25 mm\" width=\"20 mm\" }
 skirt \"straight\" length=\"640 mm\"
 steps { cut from=\"front.bust-dart\" through=\"front.bust-point\" to=\"front.waist-dart\" seam=\"princess-front\" }";
const SKIRT: &str = "skirt \"a-line\" length=\"600 mm\"; waistband";
const CUTS: [&str; 4] = [SLEEVED, SLEEVELESS, PRINCESS, SKIRT];

fn bodies(count: usize) -> Vec<Body> {
    let tapes = body::population::draw(count, 11);
    tapes.map(|tape| body::complete(&tape)).collect()
}

fn made(statements: &str, body: &Body) -> Result<Garment, Finding> {
    let recipe = common::recipe(&format!("garment \"Lined\" {{\n {statements}\n}}"));
    garment::make(&recipe, body)
}

/// The garment of a body that its plain draft can dress, looked at by all checks: what they say of the unlined cut as well is no
/// business of the lining.
fn clean(statements: &str, body: &Body) -> Pattern {
    let garment = made(statements, body).unwrap_or_else(|finding| panic!("{finding:#?}"));
    let unlined = statements.split("\n lining").next().unwrap_or_default();
    let unlined = made(unlined, body).map(|made| pattern::check::all(&made.pattern));
    let known: Vec<&str> = unlined
        .iter()
        .flatten()
        .map(|finding| finding.code)
        .collect();
    for finding in pattern::check::all(&garment.pattern) {
        let explained = finding.severity == Severity::Note
            || EXPLAINED.contains(&finding.code)
            || known.contains(&finding.code);
        assert!(explained, "{statements}: {finding:#?}");
    }
    garment.pattern
}

fn linings(pattern: &Pattern) -> impl Iterator<Item = &pattern::Piece> {
    let pieces = pattern.pieces.iter();
    pieces.filter(|piece| piece.cut.layer == Layer::Lining)
}

#[test]
fn every_way_is_clean_on_every_cut_and_body() {
    for body in bodies(10) {
        for cut in CUTS.iter().filter(|cut| made(cut, &body).is_ok()) {
            for way in ["mounted", "open", "bagged"] {
                let pattern = clean(&format!("{cut}\n lining \"{way}\""), &body);
                assert!(linings(&pattern).count() >= 2, "{way}: {cut}");
                for piece in linings(&pattern) {
                    assert!(piece.cutting_outline().is_ok(), "{way}: {}", piece.name);
                    assert!(pattern.makeup.is_derived(&piece.name), "{}", piece.name);
                }
                assert_eq!(
                    made(&format!("{cut}\n lining \"{way}\""), &body).map(|one| one.pattern),
                    Ok(pattern)
                );
            }
        }
    }
}

#[test]
fn a_mounted_lining_is_cut_as_its_shell() {
    for body in bodies(3) {
        let pattern = clean(&format!("{SLEEVED}\n lining \"mounted\""), &body);
        for piece in linings(&pattern) {
            let lies: Vec<_> = pattern.makeup.lies_of(&piece.name).collect();
            let shell = pattern
                .piece(&lies[0].upon)
                .expect("a lining lies on a shell piece");
            assert_eq!((&piece.edges, &piece.darts), (&shell.edges, &shell.darts));
            let sewn = piece
                .edges
                .iter()
                .filter(|edge| edge.kind != EdgeKind::Fold);
            let mates = pattern.makeup.mates.iter();
            let own = mates.filter(|mate| mate.worked[0].piece == piece.name);
            assert_eq!(own.count(), sewn.count(), "all round {}", piece.name);
        }
    }
}

#[test]
fn a_free_lining_hangs_shorter_and_a_sewn_one_lies_in_a_fold() {
    let body = common::body_of_bust(920.0);
    let side = |lines: &str| {
        let pattern = clean(&format!("{SLEEVED}\n lining \"open\" {{ {lines} }}"), &body);
        let edge = |piece: &str| {
            pattern
                .piece(piece)
                .and_then(|piece| piece.edge("side"))
                .map_or(0.0, pattern::Edge::length)
        };
        edge("skirt-front") - edge("skirt-front-lining")
    };
    assert!(
        (side("") - 25.0).abs() < 0.01,
        "25 mm, common practice, no source"
    );
    assert!((side("shorter \"60 mm\"") - 60.0).abs() < 0.01);
    // Up to the upper edge of a 50 mm hem, and 16 mm of fold.
    assert!((side("jump \"16 mm\"") - 34.0).abs() < 0.01);
}

#[test]
fn a_pleat_at_the_back_is_known_to_neck_and_waist() {
    for body in bodies(4) {
        for opening in ["opening \"none\"", "opening \"back\""] {
            let cut = format!("{opening}\n {SLEEVED}");
            if made(&cut, &body).is_err() {
                continue;
            }
            for (pleat, at_waist) in [("\"24 mm\"", 12.0), ("\"24 mm\" tapering=#true", 0.0)] {
                let pattern = clean(
                    &format!("{cut}\n lining \"open\" {{ pleat {pleat} }}"),
                    &body,
                );
                let more = |edge: &str| {
                    let name = format!("back-lining-{edge}");
                    let mate = pattern.makeup.mates.iter().find(|mate| mate.name == name);
                    match mate.expect("the back lies on the back").fullness {
                        Fullness::Pleated(more) => more,
                        _ => 0.0,
                    }
                };
                assert!(
                    (more("neckline") - 12.0).abs() < 0.3,
                    "{}",
                    more("neckline")
                );
                assert!((more("waist") - at_waist).abs() < 0.3, "{}", more("waist"));
            }
        }
    }
}

#[test]
fn a_lining_sleeve_rises_under_the_arm_and_has_its_own_ease() {
    for body in bodies(6) {
        if made(SLEEVED, &body).is_err() {
            continue;
        }
        let pattern = clean(
            &format!("{SLEEVED}\n lining \"open\" {{ sleeve cap-ease=\"10 mm\" raise=\"14 mm\" }}"),
            &body,
        );
        let ease: f64 = ["lining-armhole-front", "lining-armhole-back"]
            .iter()
            .map(|name| {
                let seam = pattern.seams.iter().find(|seam| seam.name == *name);
                let seam = seam.expect("the lining's sleeve is set in");
                pattern.side_length(&seam.worked) - pattern.side_length(&seam.held)
            })
            .sum();
        assert!((ease - 10.0).abs() < 0.01, "{ease}");
        let underarm = |name: &str| {
            let piece = pattern.piece(name).expect("there are sleeves");
            piece.edge("cap-front").map_or(0.0, |cap| cap.end().y)
        };
        assert!((underarm("sleeve") - underarm("sleeve-lining") - 14.0).abs() < 0.01);
    }
}

#[test]
fn what_a_way_costs_is_told() {
    let body = common::body_of_bust(920.0);
    let told = |way: &str| {
        let pattern = clean(&format!("{SLEEVED}\n lining \"{way}\""), &body);
        let hand: f64 = pattern.makeup.by_hand.iter().map(|one| one.length).sum();
        let quick: f64 = pattern
            .makeup
            .by_hand
            .iter()
            .map(|one| one.minutes(30.0))
            .sum();
        let lined = pattern.makeup.lined.clone().expect("it is lined");
        let code = format!("lining-{way}");
        assert!(pattern.findings.iter().any(|finding| finding.code == code));
        (lined, hand, quick)
    };
    let (open, hand, quick) = told("open");
    assert_eq!(
        (open.way, open.pieces, open.alterable),
        (LiningWay::Open, 8, true)
    );
    // 20–30 stitches a minute (Cooper 1968, from a time study of 1861) of 3 mm: a metre takes 11 to 17 minutes.
    assert!(
        (quick - hand / 90.0).abs() < 1e-9 && hand > 2500.0,
        "{hand} {quick}"
    );
    let (bagged, gap, _) = told("bagged");
    assert!(!bagged.alterable && gap < hand / 5.0);
    assert!(told("mounted").1 > hand, "basting goes all round");
}

#[test]
fn a_wish_that_makes_no_sense_is_told_where_it_stands() {
    let slip = |lines: &str| {
        let text = format!("garment \"Lined\" {{ {SKIRT}\n lining {lines} }}");
        let read = garment::recipe::read(&document::Source::new("test.kdl", text.as_str()));
        let findings = read.expect_err("it makes no sense");
        findings
            .iter()
            .map(|finding| finding.code)
            .collect::<Vec<_>>()
    };
    assert_eq!(
        slip("\"mounted\" { shorter \"20 mm\" }"),
        ["lining-line-without-use"]
    );
    assert_eq!(
        slip("\"open\" { shorter \"20 mm\"; jump \"10 mm\" }"),
        ["lining-hangs-or-jumps"]
    );
    assert_eq!(slip("\"loose\""), ["unknown-word"]);
    let pattern = made(
        &format!("{SKIRT}\n lining \"open\" {{ pleat \"20 mm\" }}"),
        &common::body_of_bust(900.0),
    );
    let pattern = pattern.expect("the pleat is left out").pattern;
    assert!(
        pattern
            .findings
            .iter()
            .any(|finding| finding.code == "pleat-without-back")
    );
}

/// Lining skirts of another cut than the shell's.
const OTHER_SKIRTS: [&str; 6] = [
    "skirt \"a-line\"",
    "skirt \"straight\"; slits \"200 mm\"",
    "skirt \"gathered\" fullness=1.3",
    "skirt \"circle\" part=\"1/4\"",
    "skirt \"gored\" gores=6",
    "skirt \"pleated\" as=\"knife\" pleats=12",
];

#[test]
fn a_lining_skirt_of_another_cut_meets_the_waist_as_sewn() {
    for body in bodies(4) {
        for cut in [SLEEVED, SLEEVELESS, SKIRT] {
            let Ok(plain) = made(cut, &body) else {
                continue;
            };
            for skirt in OTHER_SKIRTS {
                for more in ["", "; pleat \"20 mm\""] {
                    if cut == SKIRT && !more.is_empty() {
                        continue;
                    }
                    let wide = "cloths { lining \"lawn\" width=\"3 m\" }";
                    let text = format!("{wide}\n {cut}\n lining \"open\" {{ {skirt}{more} }}");
                    if made(&text, &body).is_err() {
                        continue;
                    }
                    let pattern = clean(&text, &body);
                    let mates = pattern.makeup.mates.iter();
                    let waist = mates.filter(|mate| mate.name == "lining-skirt-waist");
                    assert_eq!(waist.count(), 1, "{text}");
                    for piece in &plain.pattern.pieces {
                        assert_eq!(pattern.piece(&piece.name), Some(piece), "the shell stays");
                    }
                }
            }
        }
    }
}

#[test]
fn a_peaked_waist_is_undone_by_one_number() {
    for body in bodies(6) {
        for cut in [SLEEVED, SLEEVELESS, PRINCESS] {
            for way in ["open", "bagged"] {
                let lined = format!("{cut}\n lining \"{way}\"");
                let Ok(straight) = made(&lined, &body) else {
                    continue;
                };
                let undone = made(&format!("{lined}\n waist peak=\"0 mm\""), &body);
                assert_eq!(undone.expect("nothing is asked").pattern, straight.pattern);
                let peaked = clean(&format!("{lined}\n waist peak=\"35 mm\""), &body);
                let low = |pattern: &Pattern, piece: &str| {
                    let pieces = pattern.pieces_of(piece);
                    let ends = pieces.flat_map(|piece| piece.edges_of("centre"));
                    ends.map(|edge| edge.start().y.max(edge.end().y))
                        .fold(0.0, f64::max)
                };
                let drop = low(&peaked, "front") - low(&straight.pattern, "front");
                assert!((drop - 35.0).abs() < 0.3, "{drop}");
                let lining = low(&peaked, "front-lining") - low(&straight.pattern, "front-lining");
                assert!(lining.abs() < 1e-9, "the lining keeps its waist");
                let side = |pattern: &Pattern| {
                    let edges = pattern
                        .pieces_of("front")
                        .flat_map(|piece| piece.edges_of("side"));
                    edges.map(pattern::Edge::length).sum::<f64>()
                };
                assert!((side(&peaked) - side(&straight.pattern)).abs() < 1e-9);
                let waist = peaked
                    .seams
                    .iter()
                    .filter(|seam| seam.name.starts_with("waist"));
                let stretches: Vec<_> = waist.flat_map(|seam| seam.held.clone()).collect();
                assert!(stretches.iter().all(|one| one.piece != "front"));
                assert!(stretches.iter().any(|one| one.piece == "front-lining"));
            }
        }
    }
}

#[test]
fn a_peak_needs_a_lining_with_a_waist() {
    let body = common::body_of_bust(900.0);
    for (lining, code) in [
        ("", "peak-without-lining"),
        ("lining \"mounted\"", "peak-without-lining"),
    ] {
        let refused = made(
            &format!("{SLEEVELESS}\n {lining}\n waist peak=\"30 mm\""),
            &body,
        );
        let finding = refused.expect_err("there is no waist for it");
        assert_eq!(finding.code, code);
        assert_eq!(finding.mends.len(), 2, "line it otherwise, or no peak");
    }
    let refused = made(
        &format!("{SKIRT}\n lining \"open\"\n waist peak=\"30 mm\""),
        &body,
    );
    assert_eq!(
        refused.expect_err("a skirt has no bodice").code,
        "peak-without-waist"
    );
}

#[test]
fn darts_become_pleats_that_every_layer_knows() {
    for body in bodies(4) {
        for cut in [SLEEVED, SLEEVELESS, PRINCESS, SKIRT] {
            for more in ["", "\n waist peak=\"30 mm\""] {
                let skirt = if cut == SLEEVED {
                    "; skirt \"a-line\""
                } else {
                    ""
                };
                let text = format!("{cut}\n lining \"open\" {{ darts \"pleats\"{skirt} }}{more}");
                if made(cut, &body).is_err() || (cut == SKIRT && !more.is_empty()) {
                    continue;
                }
                let pattern = clean(&text, &body);
                let back = linings(&pattern).filter(|piece| piece.name.contains("back"));
                let left = back.flat_map(|piece| &piece.darts);
                assert_eq!(
                    left.filter(|dart| dart.edge.starts_with("waist")).count(),
                    0
                );
            }
        }
    }
}

#[test]
fn a_thick_mounting_tells_what_it_has_too_much() {
    let body = common::body_of_bust(920.0);
    let told = |cloths: &str| {
        let text = format!("{SLEEVELESS}\n lining \"mounted\"\n {cloths}");
        let pattern = made(&text, &body).expect("thick or thin").pattern;
        let code = "mounting-takes-turn-of-cloth";
        let mut findings = pattern.findings.into_iter();
        findings
            .find(|finding| finding.code == code)
            .and_then(|finding| finding.measured)
    };
    assert!(told("").is_none(), "crepe and lawn lie on each other");
    let thick = told(
        "cloths { shell \"coating\" thickness=\"2.5 mm\"; lining \"wadding\" thickness=\"1.5 mm\" }",
    );
    // Derived: 2π·(2.5 + 1.5)/2 mm of way, shared by four quarters.
    let each = thick.expect("it is felt").value;
    assert!((each - std::f64::consts::PI).abs() < 1e-9, "{each}");
}

/// Facings to which linings are bagged, with the cut on which they are tried.
const FACED: [(&str, &str); 7] = [
    (SLEEVED, "neck width=\"55 mm\""),
    (SLEEVED, "neck width=\"55 mm\" without-seam=\"shoulder\""),
    (SLEEVELESS, "neck width=\"50 mm\"; armhole width=\"45 mm\""),
    (
        SLEEVELESS,
        "neck width=\"50 mm\" without-seam=\"shoulder\"; armhole width=\"45 mm\" without-seam=\"side\"",
    ),
    (SLEEVELESS, "all-in-one width=\"50 mm\""),
    (PRINCESS, "all-in-one width=\"55 mm\""),
    (
        "skirt \"a-line\" length=\"600 mm\"",
        "waist width=\"50 mm\"",
    ),
];

#[test]
fn a_bagged_lining_and_its_facings_share_the_shell() {
    let mut tried = 0;
    for body in bodies(8) {
        for (cut, facing) in FACED {
            for more in ["", " { pleat \"20 mm\" }"] {
                let faced = format!("{cut}\n facings {{ {facing} }}");
                if made(&faced, &body).is_err() || (cut.starts_with("skirt") && !more.is_empty()) {
                    continue;
                }
                let text = format!("{faced}\n lining \"bagged\"{more}");
                if let Err(finding) = made(&text, &body) {
                    assert_eq!(finding.code, "lining-misses-facing", "{text}: {finding:#?}");
                    continue;
                }
                let made = made(&text, &body).expect("it was made").pattern;
                let facings_alone =
                    pattern::check::all(&self::made(&faced, &body).expect("faced").pattern);
                for finding in pattern::check::all(&made) {
                    let known = facings_alone.iter().any(|one| one.code == finding.code);
                    let explained = finding.severity == Severity::Note
                        || EXPLAINED.contains(&finding.code)
                        || known;
                    assert!(explained, "{text}: {finding:#?}");
                }
                let on_facing = made.makeup.mates.iter().filter(|mate| {
                    let mut sides = mate.held.iter().chain(&mate.worked);
                    sides.any(|one| one.edge.starts_with("outer"))
                });
                assert!(on_facing.count() >= 2, "{text}");
                tried += 1;
            }
        }
    }
    assert!(tried > 60, "{tried} were bagged");
}

#[test]
fn openings_pass_through_every_lining() {
    let body = common::body_of_bust(920.0);
    let openings = [
        ("back", "invisible-zip"),
        ("back", "lapped-zip"),
        ("front", "lapped-zip"),
        ("front", "buttons"),
        ("back", "buttons"),
        ("back", "hooks"),
    ];
    for (at, closed) in openings {
        let cut = SLEEVELESS.replace(
            "opening \"none\"",
            &format!("opening \"{at}\" closed=\"{closed}\""),
        );
        for way in ["mounted", "open", "bagged"] {
            let pattern = clean(&format!("{cut}\n lining \"{way}\""), &body);
            let end = |word: &str| {
                let piece = pattern.piece(&format!("skirt-{at}{word}"))?;
                piece.marks.iter().find_map(|mark| match mark {
                    pattern::Mark::Notch {
                        name, edge, along, ..
                    } if name == "opening-end" => Some(piece.edge(edge)?.place_at(*along).0.y),
                    _ => None,
                })
            };
            if let (Some(shell), Some(lining)) = (end(""), end("-lining")) {
                let lower = if way == "mounted" { 0.0 } else { 10.0 };
                assert!((lining - shell - lower).abs() < 0.01, "{at} {closed} {way}");
            }
            let holes = linings(&pattern).flat_map(|piece| &piece.lines);
            let holes = holes.filter(|line| line.name.starts_with("buttonhole"));
            assert!(
                way == "mounted" || holes.count() == 0,
                "{at} {closed} {way}"
            );
        }
    }
    let peaked = "opening \"front\" closed=\"buttons\"";
    let cut = SLEEVELESS.replace("opening \"none\"", peaked);
    let refused = made(
        &format!("{cut}\n lining \"open\"\n waist peak=\"30 mm\""),
        &body,
    );
    assert_eq!(
        refused.expect_err("a stand has no point").code,
        "peak-without-shape"
    );
}
