//! Interfacing and stays: pieces within the seam line of what they stiffen, and edges held that run off the threads.

mod common;

use body::population;
use document::Severity;
use geometry::outline::{contains, distance_to};
use pattern::{EdgeKind, Fullness, Layer, Pattern, Stay};

const DRESS: &str = "bodice { bust-dart \"side\"; neckline \"round\" depth=\"25 mm\" width=\"20 mm\" back-depth=\"10 mm\" }; skirt \"a-line\" length=\"600 mm\"; facings { neck; armhole }";

fn made(text: &str, body: &body::Body) -> Pattern {
    let recipe = common::recipe(&format!("garment \"Test\" {{ {text} }}"));
    garment::make(&recipe, body)
        .unwrap_or_else(|finding| panic!("{text}: {finding:#?}"))
        .pattern
}

fn interfacings(pattern: &Pattern) -> Vec<&str> {
    let own = pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == Layer::Interfacing);
    own.map(|piece| piece.name.as_str()).collect()
}

#[test]
fn interfacing_lies_within_the_seam_line_of_whoever() {
    for tape in population::draw(16, 5) {
        let body = body::complete(&tape);
        let pattern = made(&format!("{DRESS}; interfacing"), &body);
        for finding in pattern::check::all(&pattern) {
            assert_ne!(
                finding.severity,
                Severity::Error,
                "{}: {finding:#?}",
                body.name
            );
        }
        assert_eq!(interfacings(&pattern).len(), 4);
        for name in interfacings(&pattern) {
            let piece = pattern.piece(name).expect("it is listed");
            let lies = pattern
                .makeup
                .lies_of(name)
                .next()
                .expect("it lies somewhere");
            let upon = pattern.piece(&lies.upon).expect("on a piece");
            let outline = upon.seam_outline();
            for edge in &piece.edges {
                let middle = edge.place_at(edge.length() / 2.0).0;
                let off = distance_to(&outline, middle);
                let wanted = if edge.kind == EdgeKind::Fold {
                    0.0
                } else {
                    2.0
                };
                assert!(
                    (off - wanted).abs() < 0.01,
                    "{name}: {} by {off:.3}",
                    edge.name
                );
                assert!(wanted == 0.0 || contains(&outline, middle));
                assert_eq!(edge.allowance, 0.0);
            }
        }
    }
}

#[test]
fn only_what_is_named_is_stiffened_and_a_band_by_halves() {
    let body = common::body_of_bust(920.0);
    let named = made(
        &format!("{DRESS}; interfacing {{ behind \"neck-facing\" }}"),
        &body,
    );
    assert_eq!(
        interfacings(&named),
        [
            "front-neck-facing-interfacing",
            "back-neck-facing-interfacing"
        ]
    );
    let skirt = |how: &str| {
        let text = format!(
            "skirt \"straight\" length=\"600 mm\"; waistband height=\"35 mm\"; interfacing {{ {how} }}"
        );
        let pattern = made(&text, &body);
        pattern
            .piece("waistband-interfacing")
            .expect("the band is stiffened")
            .clone()
    };
    let high = |piece: &pattern::Piece| piece.edge("start").map_or(0.0, pattern::Edge::length);
    // A band of 35 mm folded: 70 mm high, 2 mm less on both sides; its half 35 mm, 2 mm less on both sides.
    assert!((high(&skirt("")) - 66.0).abs() < 1e-6);
    assert!((high(&skirt("waistband \"half\"")) - 31.0).abs() < 1e-6);
    let with = skirt("waistband \"half\"; cut \"with-allowance\"");
    assert!((high(&with) - 35.0).abs() < 1e-6);
    assert_eq!(with.edge("waist").map(|edge| edge.allowance), Some(15.0));
}

#[test]
fn a_name_that_means_nothing_is_told_at_its_place() {
    let body = common::body_of_bust(920.0);
    let pattern = made(
        &format!("{DRESS}; interfacing {{ behind \"neck-facing\" \"colar\" }}"),
        &body,
    );
    let told: Vec<_> = pattern
        .findings
        .iter()
        .filter(|one| one.code == "interfacing-behind-nothing")
        .collect();
    assert_eq!(told.len(), 1);
    assert!(!told[0].places.is_empty());
}

#[test]
fn stiffer_facings_are_drawn_in_farther() {
    let body = common::body_of_bust(920.0);
    let shoulder = |more: &str| {
        let pattern = made(&format!("{DRESS}; {more}"), &body);
        let piece = pattern
            .piece("front-neck-facing")
            .expect("it is faced")
            .clone();
        piece.edge("shoulder").map_or(0.0, pattern::Edge::length)
    };
    // The stack that is turned is thicker by one layer of interfacing, 0.25 mm.
    assert!((shoulder("") - shoulder("interfacing") - 0.25).abs() < 0.02);
}

#[test]
fn edges_off_the_grain_are_held_on_one_side_of_their_seam() {
    let body = common::body_of_bust(920.0);
    let text = |off: &str| {
        format!(
            "bodice {{ bust-dart \"side\"; neckline \"v\" depth=\"120 mm\" width=\"20 mm\" back-depth=\"15 mm\" }}; facings {{ neck; armhole }}; interfacing {{ tape width=\"8 mm\" off-grain=\"{off}\" }}"
        )
    };
    let pattern = made(&text("20°"), &body);
    let stay = |piece: &str, edge: &str| {
        let mut all = pattern.makeup.stayed.iter();
        all.find(|one| one.piece == piece && one.along == edge)
    };
    // A straight V is taped, round edges are stitched.
    assert_eq!(
        stay("front", "neckline").map(|one| one.stay),
        Some(Stay::Tape(8.0))
    );
    assert_eq!(
        stay("back", "neckline").map(|one| one.stay),
        Some(Stay::Staystitching)
    );
    assert_eq!(
        stay("front", "armhole").map(|one| one.stay),
        Some(Stay::Staystitching)
    );
    assert!(stay("front", "shoulder").is_some() != stay("back", "shoulder").is_some());
    for one in &pattern.makeup.stayed {
        let edge = pattern
            .piece(&one.piece)
            .and_then(|piece| piece.edge(&one.along));
        assert_eq!(edge.map(pattern::Edge::length), Some(one.length));
        assert!(one.why.contains("off the grain"));
    }
    // At 45° nothing is farther off than that.
    assert!(made(&text("45°"), &body).makeup.stayed.is_empty());
    // A gathered waist is held by its band or bodice, not by a tape of its own length.
    let gathered = made(
        "skirt \"gathered\" fullness=2 length=\"600 mm\"; waistband; interfacing",
        &body,
    );
    assert!(
        gathered
            .seams
            .iter()
            .any(|seam| matches!(seam.fullness, Fullness::Gathered(_)))
    );
    assert!(gathered.makeup.stayed.is_empty());
}
