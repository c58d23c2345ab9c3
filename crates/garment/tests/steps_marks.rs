//! Steps that mark pieces: notches that meet across seams, points, and the grain.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use document::Finding;
use geometry::{Angle, Point, curve};
use pattern::step::{self, Along, Arguments, Done, Place, Value};
use pattern::{Fullness, Mark, Pattern, Piece, Stretch};

fn blocks(skirt: &str, count: usize) -> Vec<Pattern> {
    let sleeve = "sleeve ease=\"60 mm\" cap-ease=\"30 mm\"";
    let recipe = common::dress("side", skirt, sleeve);
    let bodies = body::population::draw(count, 11).map(|tape| body::complete(&tape));
    // Some bodies' armholes are too small for this sleeve, and the block says so.
    bodies
        .filter_map(|body| garment::make(&recipe, &body).ok())
        .map(|garment| garment.pattern)
        .collect()
}

fn straight(count: usize) -> Vec<Pattern> {
    blocks("\"straight\" length=\"650 mm\"", count)
}

fn run(pattern: &Pattern, name: &str, arguments: &Arguments) -> Result<Done, Finding> {
    step::find(name)
        .expect("the step is known")
        .run(pattern, arguments)
}

fn done(pattern: &Pattern, name: &str, arguments: &Arguments) -> Pattern {
    run(pattern, name, arguments)
        .unwrap_or_else(|finding| panic!("{name}: {finding:#?}"))
        .pattern
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    pattern
        .piece(name)
        .unwrap_or_else(|| panic!("there is no {name}"))
}

fn text(word: &str) -> Value {
    Value::Text(word.into())
}

/// Lengths along a side of a seam at which a notch of a name is met.
fn met(pattern: &Pattern, side: &[Stretch], wanted: &str) -> Vec<f64> {
    let mut before = 0.0;
    let mut found = Vec::new();
    for stretch in side {
        for (owner, edge) in pattern.edges_of(stretch) {
            for mark in &owner.marks {
                if let Mark::Notch {
                    name,
                    edge: on,
                    along,
                    ..
                } = mark
                    && name == wanted
                    && *on == edge.name
                {
                    let within = if stretch.backwards {
                        edge.length() - along
                    } else {
                        *along
                    };
                    found.push(before + within);
                }
            }
            before += edge.length();
        }
    }
    found.sort_by(f64::total_cmp);
    found
}

/// Places on flat, eased and gathered seams, on the edge of one piece or of several.
const PLACES: [(&str, &str, f64); 7] = [
    ("front", "side", 0.8),
    ("front", "shoulder", 0.3),
    ("back", "armhole", 0.2),
    ("skirt-front", "waist", 0.35),
    ("skirt-back", "side", 0.9),
    ("sleeve", "cap-front", 0.6),
    ("sleeve", "underarm-front", 0.4),
];

#[test]
fn a_notch_is_met_on_the_other_side_of_every_seam() {
    let gathered = blocks("\"gathered\" fullness=2 length=\"600 mm\"", 20);
    for pattern in straight(20).iter().chain(&gathered) {
        for (owner, edge, share) in PLACES {
            let at = Place::on_edge(owner, edge, Along::Share(share));
            let arguments = Arguments::new().at("at", at).with("name", text("mine"));
            let notched = done(pattern, "notch", &arguments);
            let mut seams = 0;
            for seam in &notched.seams {
                let own = |stretch: &Stretch| stretch.piece == owner && stretch.edge == edge;
                if !seam.held.iter().chain(&seam.worked).any(own) {
                    continue;
                }
                seams += 1;
                let sides = [&seam.held, &seam.worked];
                let [held, worked] = sides.map(|side| met(&notched, side, "mine"));
                assert!(
                    !held.is_empty() && held.len() == worked.len(),
                    "{owner}.{edge} {}",
                    seam.name
                );
                let lengths = sides.map(|side| notched.side_length(side));
                for (one, other) in held.iter().zip(&worked) {
                    let off = match seam.fullness {
                        Fullness::None => one - other,
                        _ => one - other * lengths[0] / lengths[1],
                    };
                    assert!(
                        off.abs() < 1e-6,
                        "{owner}.{edge} {}: {one} {other}",
                        seam.name
                    );
                }
            }
            assert!(seams > 0, "{owner}.{edge} is part of no seam");
        }
    }
}

/// A waistband is sewn to both halves of the skirt: one notch on half a front is two on the band, alike from its middle.
#[test]
fn a_notch_on_a_half_is_two_on_the_band() {
    let recipe =
        common::recipe("garment \"Skirt\" { skirt \"straight\" length=\"600 mm\"; waistband }");
    for tape in body::population::draw(20, 5) {
        let pattern = garment::make(&recipe, &body::complete(&tape))
            .expect("a skirt can be drafted")
            .pattern;
        let at = Place::on_edge("skirt-front", "waist", Along::Share(0.3));
        let notched = done(
            &pattern,
            "notch",
            &Arguments::new().at("at", at).with("name", text("loop")),
        );
        let seam = notched
            .seams
            .iter()
            .find(|seam| seam.name == "waistband")
            .expect("there is a band");
        let on_band = met(&notched, &seam.held, "loop");
        let whole = notched.side_length(&seam.held);
        assert_eq!(on_band.len(), 2);
        assert!(
            (on_band[0] + on_band[1] - whole).abs() < 1e-6,
            "{on_band:?} of {whole}"
        );
    }
}

#[test]
fn notches_move_no_line_and_keep_one_place_to_a_name() {
    let pattern = &straight(1)[0];
    let at = |share: f64| Place::on_edge("front", "side", Along::Share(share));
    let named = |share: f64| {
        Arguments::new()
            .at("at", at(share))
            .with("name", text("balance"))
            .with("strokes", Value::Count(2))
    };
    let once = done(pattern, "notch", &named(0.8));
    for (before, after) in pattern.pieces.iter().zip(&once.pieces) {
        assert_eq!(
            (&before.edges, &before.darts, &before.lines),
            (&after.edges, &after.darts, &after.lines)
        );
    }
    let finding = run(&once, "notch", &named(0.9)).expect_err("the name has another place");
    assert_eq!(finding.code, "notch-name-taken");
    assert_eq!(done(&once, "notch", &named(0.8)).pieces, once.pieces);
    let alone = Arguments::new().at("at", at(0.7)).flag("matched", false);
    let alone = done(pattern, "notch", &alone);
    assert_eq!(piece(&alone, "back").marks, piece(pattern, "back").marks);
    assert_eq!(
        piece(&alone, "front").marks.len(),
        piece(pattern, "front").marks.len() + 1
    );
}

#[test]
fn points_are_marked_by_the_grain_and_on_the_way() {
    let pattern = &straight(1)[0];
    let bust = piece(pattern, "front")
        .point("bust-point")
        .expect("a front has a bust point");
    let pocket = Arguments::new()
        .with("name", text("pocket"))
        .at("at", Place::point("front", "bust-point"))
        .length("along", -40.0)
        .length("across", 15.0);
    let marked = done(pattern, "mark", &pocket);
    let at = piece(&marked, "front")
        .point("pocket")
        .expect("it is marked");
    assert!((at - (bust + geometry::Vec2::new(15.0, -40.0))).hypot() < 1e-9);
    let corner = Place::corner("front", "side", "waist");
    let drill = Arguments::new()
        .with("name", text("drill"))
        .at("at", Place::point("front", "bust-point"))
        .at("toward", corner)
        .number("share", 0.25);
    let end = piece(pattern, "front")
        .edge("side")
        .expect("a front has a side")
        .end();
    let at = piece(&done(pattern, "mark", &drill), "front")
        .point("drill")
        .expect("it is marked");
    assert!((at - bust.lerp(end, 0.25)).hypot() < 1e-9);
    let outside = pocket.clone().length("turn", 0.0);
    assert_eq!(
        run(pattern, "mark", &outside)
            .expect_err("there is no such value")
            .code,
        "step-value-unknown"
    );
    assert_eq!(
        run(&marked, "mark", &pocket)
            .expect_err("the name is taken")
            .code,
        "point-name-taken"
    );
    let far = Arguments::new()
        .with("name", text("far"))
        .at("at", Place::point("front", "bust-point"))
        .length("across", 900.0);
    assert_eq!(
        run(pattern, "mark", &far)
            .expect_err("it lies outside")
            .code,
        "point-outside"
    );
}

/// Front and back are drawn alike, centre to the left and side to the right: the grain makes one angle with the side on both.
#[test]
fn grain_is_copied_across_the_seam() {
    for pattern in blocks("\"a-line\" length=\"650 mm\"", 30) {
        let askew = Arguments::new()
            .named("piece", "skirt-front", "")
            .with("angle", Value::Angle(Angle::from_degrees(33.0)));
        let askew = done(&pattern, "grain", &askew);
        let copied = Arguments::new()
            .named("piece", "skirt-back", "")
            .named("seam", "", "skirt-side")
            .number("share", 0.8);
        let pattern = done(&askew, "grain", &copied);
        let [front, back] = ["skirt-front", "skirt-back"].map(|name| {
            let piece = piece(&pattern, name);
            let side = piece.edge("side").expect("a skirt has sides");
            let way = side.place_at(side.length() * 0.8).1;
            curve::angle_between(way, curve::unit(piece.grain)).degrees()
        });
        assert!((front - back).abs() < 1e-9, "{front} {back}");
    }
}

/// The parts of a piece that was cut share its grain already: copying across the new seam changes nothing.
#[test]
fn parts_of_a_piece_share_its_grain() {
    for pattern in straight(20) {
        let yoke = Arguments::new()
            .at("from", Place::on_edge("back", "armhole", Along::Share(0.4)))
            .at("to", Place::on_edge("back", "centre", Along::Share(0.8)));
        let cut = done(&pattern, "cut", &yoke);
        let copy =
            Arguments::new()
                .named("piece", "back/upper", "")
                .named("seam", "", "style-line");
        let copied = done(&cut, "grain", &copy);
        let grains = [&cut, &copied].map(|pattern| piece(pattern, "back/upper").grain.degrees());
        assert!((grains[0] - grains[1]).abs() < 1e-9, "{grains:?}");
    }
}

#[test]
fn grain_runs_along_an_edge_or_on_the_bias() {
    let pattern = &straight(1)[0];
    let along =
        Arguments::new()
            .named("piece", "sleeve", "")
            .named("edge", "sleeve", "underarm-front");
    let turned = done(pattern, "grain", &along);
    let edge = piece(pattern, "sleeve")
        .edge("underarm-front")
        .expect("a sleeve has an underarm");
    let (way, grain) = (
        edge.end() - edge.start(),
        curve::unit(piece(&turned, "sleeve").grain),
    );
    assert!(way.cross(grain).abs() < 1e-9 * way.hypot());
    // It keeps its sense: down the sleeve.
    assert!(grain.dot(curve::unit(piece(pattern, "sleeve").grain)) > 0.0);
    let bias = Arguments::new()
        .named("piece", "skirt-front", "")
        .named("edge", "skirt-front", "centre")
        .with("angle", Value::Angle(Angle::from_degrees(45.0)));
    let bias = done(pattern, "grain", &bias);
    assert!((piece(&bias, "skirt-front").grain.degrees() - 135.0).abs() < 1e-9);
    let wrong = Arguments::new()
        .named("piece", "sleeve", "")
        .named("seam", "", "skirt-side");
    assert_eq!(
        run(pattern, "grain", &wrong)
            .expect_err("not its seam")
            .code,
        "seam-joins-other-pieces"
    );
    assert_ne!(
        piece(pattern, "front").point("bust-point"),
        Some(Point::ORIGIN)
    );
}
