//! Every check of the table of truing has a garment that trips it; where a recipe can cure it, the mend that it offers does.
//!
//! What a recipe cannot bring about, since the draft and the steps forbid it, is brought about in the pattern itself.

mod common;

use body::Body;
use common::{body_of_bust, recipe};
use document::mend::apply;
use document::{Finding, Severity, Source};
use garment::make;
use geometry::Curve;
use pattern::check::{CHECKS, all};
use pattern::{Edge, EdgeKind, Fullness, Mark, Pattern, Seam, Stretch};

fn body() -> Body {
    body_of_bust(900.0)
}

fn pattern(text: &str) -> Pattern {
    make(&recipe(text), &body())
        .unwrap_or_else(|finding| panic!("{text}\n{finding:#?}"))
        .pattern
}

fn found(text: &str, code: &str) -> Vec<Finding> {
    let findings = all(&pattern(text));
    findings
        .into_iter()
        .filter(|one| one.code == code)
        .collect()
}

/// The first finding of a code, after its mend of a number (from 0) has been written into the recipe as the program does, is gone.
fn trips_and_mends(text: &str, code: &str, number: usize) -> String {
    let mut now = text.to_owned();
    // Each of several pieces may have the same finding; one mend after the other clears them.
    for _ in 0..8 {
        let findings = found(&now, code);
        let Some(finding) = findings.first() else {
            assert_ne!(now, text, "{code} is tripped");
            return now;
        };
        let mend = finding
            .mends
            .get(number)
            .unwrap_or_else(|| panic!("{code} has a mend {number}: {finding:#?}"));
        now = apply(&Source::new("test.kdl", now), &[], &mend.changes)
            .unwrap_or_else(|finding| panic!("{finding:#?}"));
    }
    panic!("{code} is not cleared: {now}\n{:#?}", found(&now, code));
}

const SKIRT: &str = "garment \"Skirt\" { skirt \"straight\" length=\"600 mm\"; waistband }";

#[test]
fn a_grain_is_copied_across_the_seam() {
    let text = "garment \"Skirt\" {\n    skirt \"straight\" length=\"600 mm\"\n    steps {\n        grain piece=\"skirt-back\" angle=\"30 deg\" // swings\n    }\n}\n";
    for number in [0, 1] {
        let mended = trips_and_mends(text, "grain-differs", number);
        assert!(mended.contains("// swings\n        grain piece=\"skirt-"));
    }
}

#[test]
fn a_garment_that_lets_no_head_pass_opens_at_the_back() {
    let text = "garment \"Top\" { opening \"none\"; bodice { neckline \"round\" }; skirt \"straight\" length=\"500 mm\" }";
    trips_and_mends(text, "opening-does-not-pass", 0);
    let loose = "garment \"Top\" { opening \"none\"; ease { waist \"360 mm\" }; bodice { neckline \"round\" depth=\"90 mm\" width=\"40 mm\" back-depth=\"30 mm\" } }";
    assert_eq!(found(loose, "opening-does-not-pass"), []);
    let short = "garment \"Dress\" { opening \"back\" closed=\"invisible-zip\" length=\"60 mm\"; bodice; skirt \"straight\" length=\"500 mm\" }";
    trips_and_mends(short, "opening-does-not-pass", 0);
    let skirt = "garment \"Skirt\" { opening \"none\"; skirt \"straight\" length=\"600 mm\" }";
    trips_and_mends(skirt, "opening-does-not-pass", 0);
}

#[test]
fn a_long_narrow_skirt_is_flared_until_one_can_walk() {
    let long = SKIRT.replace("600", "950");
    for number in [0, 1] {
        trips_and_mends(&long, "hem-too-narrow", number);
    }
    let whole = long.replace("{ skirt", "{ opening \"side\"; skirt");
    let mended = trips_and_mends(&whole, "hem-too-narrow", 0);
    assert!(mended.contains("slit seam=\"skirt-side\""), "{mended}");
    assert_eq!(found(SKIRT, "hem-too-narrow"), []);
}

/// With a vent that reaches as high as the hem of the short skirt, the long one lets walk as that one does.
#[test]
fn a_vent_lets_one_walk() {
    let mut long = pattern(&SKIRT.replace("600", "850"));
    let trips = |pattern: &Pattern| all(pattern).iter().any(|one| one.code == "hem-too-narrow");
    assert!(trips(&long));
    long.makeup.vents.push(pattern::Vent {
        seam: "centre-back".into(),
        height: 260.0,
        width: 0.0,
    });
    assert!(!trips(&long));
}

#[test]
fn a_piece_wider_than_its_cloth_takes_a_wider_one() {
    let text = "garment \"Skirt\" {\n    skirt \"straight\" length=\"600 mm\"\n    cloths {\n        shell \"linen\" width=\"40 cm\"\n    }\n}\n";
    let mended = trips_and_mends(text, "piece-wider-than-cloth", 0);
    assert!(mended.contains("shell \"linen\" width=\""));
}

#[test]
fn thick_cloth_gives_way_to_thinner() {
    let coat = "garment \"Coat dress\" { bodice; skirt \"gathered\" fullness=2.0 length=\"600 mm\"; cloths { shell \"coating\" thickness=\"2.6 mm\" } }";
    trips_and_mends(coat, "seam-too-thick", 0);
    trips_and_mends(coat, "hem-too-thick", 0);
}

#[test]
fn darts_at_the_waist_are_brought_together() {
    let plain = "garment \"Dress\" { bodice; skirt \"straight\" length=\"600 mm\" }";
    assert_eq!(found(plain, "waist-darts-apart"), []);
    let block = pattern(plain);
    let skirt = block.piece("skirt-front").expect("it has a skirt");
    let waist = skirt.edge("waist").expect("a skirt has a waist");
    let dart = &skirt.darts[0];
    let before: f64 = waist.runs[..=dart.gap].iter().map(Curve::length).sum();
    let aside = 100.0 * (before + 8.0) / waist.length();
    let step = format!(
        "steps {{ transfer dart=\"skirt-front.{}\" to=\"skirt-front.waist at {aside:.1} % from start\" }}",
        dart.name
    );
    let text = plain.replace(" }", &format!("\n    {step}\n}}"));
    trips_and_mends(&text, "waist-darts-apart", 0);
}

/// A slit of 10 mm has room for two allowances of 5 mm (derived), and the mends are those of its piece.
#[test]
fn allowances_shrink_until_they_fit() {
    let corners = [
        (0.0, 0.0),
        (45.0, 0.0),
        (45.0, 80.0),
        (55.0, 80.0),
        (55.0, 0.0),
        (100.0, 0.0),
        (100.0, 190.0),
        (0.0, 190.0),
    ]
    .map(|(x, y)| geometry::Point::new(x, y));
    let slit = |allowance: f64| {
        let mut piece = dress().pieces[0].clone();
        (piece.name, piece.darts, piece.marks, piece.lines) =
            ("slit".into(), Vec::new(), Vec::new(), Vec::new());
        let sides = (0..8).map(|k| Curve::line(corners[k], corners[(k + 1) % 8]));
        piece.edges = (0..8)
            .zip(sides)
            .map(|(k, side)| Edge {
                allowance,
                ..Edge::new(format!("side-{k}"), EdgeKind::Seam, side)
            })
            .collect();
        piece.cut.laid = pattern::Laid::Single;
        Pattern {
            pieces: vec![piece],
            ..Pattern::default()
        }
    };
    let code = "allowance-does-not-fit";
    let trips = |allowance: f64| {
        all(&slit(allowance))
            .into_iter()
            .find(|one| one.code == code)
    };
    let finding = trips(15.0).expect("two allowances of 15 mm do not fit into 10 mm");
    let Some(document::Allowed::AtMost(works)) = finding.allowed else {
        panic!("{finding:#?}");
    };
    assert!((4.7..=5.0).contains(&works.value), "{works}");
    assert_eq!(trips(works.value), None);
    assert_eq!(finding.mends[0].changes.len(), 8);
}

/// A pattern of a dress, to be spoilt.
fn dress() -> Pattern {
    pattern("garment \"Dress\" { bodice; sleeve; skirt \"straight\" length=\"600 mm\" }")
}

type Spoil = fn(&mut Pattern);

/// What the draft forbids: each spoils one thing, and its check sees it.
const SPOILT: &[(&str, Spoil)] = &[
    ("corner-open", |pattern| {
        let edge = &mut pattern.pieces[0].edges[0];
        let (start, end) = (edge.start(), edge.end());
        edge.runs = vec![Curve::line(start, end + geometry::Vec2::new(0.0, 3.0))];
    }),
    ("outline-inside-out", |pattern| {
        let piece = &mut pattern.pieces[0];
        piece.darts.clear();
        piece.edges.reverse();
        for edge in &mut piece.edges {
            let (start, end) = (edge.start(), edge.end());
            edge.runs = vec![Curve::line(end, start)];
        }
    }),
    ("outline-crosses", |pattern| {
        let piece = &mut pattern.pieces[0];
        let centre = piece.seam_outline()[0].start();
        let edge = &mut piece.edges[1];
        let (start, end) = (edge.start(), edge.end());
        let far = centre + (centre - start) * 3.0;
        edge.runs = vec![Curve::polyline(&[start, far, end]).expect("three points")];
    }),
    ("seam-without-edge", |pattern| {
        pattern.seams[0].held[0].edge = "sleeve-head".into();
    }),
    ("seam-lengths-differ", |pattern| {
        pattern.seams[0].fullness = Fullness::Eased(40.0);
    }),
    ("layers-differ", |pattern| {
        pattern.makeup.mates.push(Seam {
            name: "lining".into(),
            held: vec![Stretch::forwards("front", "side")],
            worked: vec![Stretch::forwards("skirt-front", "side")],
            fullness: Fullness::None,
            runs_on: [false, false],
        });
    }),
    ("notches-do-not-meet", |pattern| {
        let skirt = pattern.piece_mut("skirt-back").expect("it has a skirt");
        for mark in &mut skirt.marks {
            if let Mark::Notch { name, along, .. } = mark
                && name == "hip"
            {
                *along += 0.6;
            }
        }
    }),
    ("dart-legs-differ", |pattern| {
        let skirt = pattern.piece_mut("skirt-front").expect("it has a skirt");
        skirt.darts[0].point.x += 3.0;
    }),
    ("dart-not-trued", |pattern| {
        let front = pattern.piece_mut("skirt-front").expect("it has a skirt");
        let dart = front.darts[0].clone();
        let index = front.edge_index(&dart.edge).expect("it opens there");
        let run = &mut front.edges[index].runs[dart.gap];
        let (start, end) = (run.start(), run.end());
        let aside = geometry::Vec2::new(0.0, 12.0);
        *run = Curve::cubic(
            start,
            start.lerp(end, 0.3) - aside,
            start.lerp(end, 0.6) - aside,
            end,
        );
    }),
    ("dart-point-outside", |pattern| {
        let front = pattern.piece_mut("front").expect("it has a bodice");
        front.darts[0].point.y -= 5000.0;
    }),
    ("seam-not-smooth", |pattern| {
        let front = pattern.piece_mut("skirt-front").expect("it has a skirt");
        let hem = front.edge_index("hem").expect("it has a hem");
        let (start, end) = (front.edges[hem].start(), front.edges[hem].end());
        let low = start.midpoint(end) + geometry::Vec2::new(0.0, 40.0);
        front.edges[hem].runs = vec![Curve::polyline(&[start, low, end]).expect("three points")];
    }),
    ("centre-not-square", |pattern| {
        let front = pattern.piece_mut("skirt-front").expect("it has a skirt");
        let hem = front.edge_index("hem").expect("it has a hem");
        let (start, end) = (front.edges[hem].start(), front.edges[hem].end());
        let low = start.midpoint(end) + geometry::Vec2::new(0.0, 40.0);
        front.edges[hem].runs = vec![Curve::polyline(&[start, low, end]).expect("three points")];
    }),
    ("girth-off", |pattern| pattern.girths[0].body += 1.0),
];

#[test]
fn what_the_draft_forbids_is_seen() {
    let clean: Vec<&str> = all(&dress())
        .iter()
        .filter(|one| one.severity > Severity::Note)
        .map(|one| one.code)
        .collect();
    assert_eq!(clean, [""; 0]);
    for (code, spoil) in SPOILT {
        let mut pattern = dress();
        spoil(&mut pattern);
        let findings = all(&pattern);
        assert!(
            findings.iter().any(|one| one.code == *code),
            "{code}: {:?}",
            findings.iter().map(|one| one.code).collect::<Vec<_>>()
        );
    }
}

/// Each code that a check declares is tripped above.
#[test]
fn no_check_is_left_out() {
    const MENDED: [&str; 8] = [
        "grain-differs",
        "opening-does-not-pass",
        "hem-too-narrow",
        "piece-wider-than-cloth",
        "seam-too-thick",
        "hem-too-thick",
        "waist-darts-apart",
        "allowance-does-not-fit",
    ];
    for check in CHECKS {
        for (code, _) in check.codes {
            let tried = MENDED.contains(code) || SPOILT.iter().any(|(spoilt, _)| spoilt == code);
            assert!(tried, "nothing trips {code}");
        }
    }
}
