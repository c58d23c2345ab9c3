//! Steps that draw edges anew, cut pieces and join them, on blocks of many bodies.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod common;

use body::Measure;
use document::{Finding, Severity};
use pattern::step::{self, Along, Arguments, Done, Place, Value};
use pattern::{Edge, Mark, Pattern, Piece, Stretch, check};

const INCH: f64 = 25.4;

/// Blocks of bodies drawn from the published population; those whose recipe a body cannot take are not drawn.
fn blocks(recipe: &garment::Recipe, count: usize) -> Vec<Pattern> {
    let bodies = body::population::draw(count, 7).map(|tape| body::complete(&tape));
    bodies
        .map(|body| {
            garment::make(recipe, &body)
                .expect("these blocks fit every body")
                .pattern
        })
        .collect()
}

fn dress(bust_dart: &str) -> garment::Recipe {
    common::dress(bust_dart, "\"straight\" length=\"650 mm\"", "")
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

/// Errors of all checks that the pattern did not have before.
fn errors(before: &Pattern, after: &Pattern) -> Vec<Finding> {
    let known: Vec<String> = check::of_sewing(before)
        .into_iter()
        .map(|finding| finding.message)
        .collect();
    check::of_sewing(after)
        .into_iter()
        .filter(|finding| finding.severity == Severity::Error && !known.contains(&finding.message))
        .collect()
}

fn clean(before: &Pattern, after: &Pattern, what: &str) {
    let errors: Vec<String> = errors(before, after)
        .iter()
        .map(|finding| finding.message.clone())
        .collect();
    assert!(errors.is_empty(), "{what}: {errors:#?}");
}

fn piece<'a>(pattern: &'a Pattern, name: &str) -> &'a Piece {
    pattern
        .piece(name)
        .unwrap_or_else(|| panic!("there is no {name}"))
}

fn edge<'a>(pattern: &'a Pattern, owner: &str, name: &str) -> &'a Edge {
    piece(pattern, owner)
        .edge(name)
        .unwrap_or_else(|| panic!("the {owner} has no {name}"))
}

fn length(pattern: &Pattern, owner: &str, name: &str) -> f64 {
    pattern.side_length(&[pattern::Stretch::forwards(owner, name)])
}

fn areas(pattern: &Pattern, name: &str) -> f64 {
    pattern.pieces_of(name).map(Piece::area).sum()
}

fn text(word: &str) -> Value {
    Value::Text(word.into())
}

/// A princess line from the bust dart over the bust point to the waist dart below it, or straight down where there is none.
fn princess(pattern: &Pattern) -> Arguments {
    let front = piece(pattern, "front");
    let below = ["waist-dart", "waist-dart-1"]
        .into_iter()
        .find(|name| front.dart(name).is_some());
    let to = match below {
        Some(dart) => Place::point("front", dart),
        None => Place::on_edge("front", "waist", Along::AlongGrain("bust-point".into())),
    };
    Arguments::new()
        .at("from", Place::point("front", "bust-dart"))
        .at("through", Place::point("front", "bust-point"))
        .at("to", to)
        .with("seam", text("princess"))
}

/// The bust line of the block stands at the bust point unless that lies above the underarm or below the waist of this body.
fn bust_line_at_bust_point(pattern: &Pattern) -> bool {
    let front = piece(pattern, "front");
    let level = front.line("bust").map(|line| line.runs[0].start().y);
    let point = front.point("bust-point").map(|point| point.y);
    level
        .zip(point)
        .is_some_and(|(level, point)| (level - point).abs() < 0.5)
}

#[test]
fn princess_seams_come_out_clean_on_every_body() {
    let mut lower = 0;
    for from in ["shoulder", "armhole"] {
        for (number, block) in blocks(&dress(from), 60).iter().enumerate() {
            let what = format!("{from}, body {number}");
            let cut = done(block, "cut", &princess(block));
            let off: Vec<String> = errors(block, &cut)
                .into_iter()
                // Away from the bust point the seam takes in what the darts took in; only there the bust line stays.
                .filter(|finding| finding.code != "girth-off" || bust_line_at_bust_point(block))
                .map(|finding| finding.message)
                .collect();
            lower += usize::from(!bust_line_at_bust_point(block));
            assert!(off.is_empty(), "{what}: {off:#?}");
            for edge in ["shoulder", "armhole", "waist", "side", "neckline", "centre"] {
                let (before, after) = (length(block, "front", edge), length(&cut, "front", edge));
                assert!(
                    (before - after).abs() < 1e-6,
                    "{what}: {edge} {before} {after}"
                );
            }
            let seam = cut
                .seams
                .iter()
                .find(|seam| seam.name == "princess")
                .expect("a new seam joins the parts");
            let sides = [&seam.held, &seam.worked].map(|side| cut.side_length(side));
            assert!(
                (sides[0] - sides[1]).abs() < 1e-6,
                "{what}: sides {sides:?}"
            );
            notches_meet(&cut, "princess", &what);
        }
    }
    assert!(
        lower <= 15,
        "{lower} of 120 blocks have their bust line away from the bust point"
    );
}

/// Every notch of a flat seam is met by one of the same name on the other side.
fn notches_meet(pattern: &Pattern, seam: &str, what: &str) {
    let seam = pattern
        .seams
        .iter()
        .find(|other| other.name == seam)
        .expect("the seam is there");
    let sides = [&seam.held, &seam.worked].map(|side| along_side(pattern, side));
    assert!(!sides[0].is_empty(), "{what}: no notches");
    assert_eq!(sides[0].len(), sides[1].len(), "{what}");
    for ((name, one), (other_name, other)) in sides[0].iter().zip(&sides[1]) {
        assert!(
            name == other_name && (one - other).abs() < 1e-6,
            "{what}: {name} {one} {other}"
        );
    }
}

/// Notches of a side with their lengths along it, in order.
fn along_side(pattern: &Pattern, side: &[Stretch]) -> Vec<(String, f64)> {
    let mut found = Vec::new();
    let mut before = 0.0;
    for stretch in side {
        for (piece, edge) in pattern.edges_of(stretch) {
            for mark in &piece.marks {
                if let Mark::Notch {
                    name,
                    edge: on,
                    along,
                    ..
                } = mark
                    && *on == edge.name
                {
                    let within = if stretch.backwards {
                        edge.length() - along
                    } else {
                        *along
                    };
                    found.push((name.clone(), before + within));
                }
            }
            before += edge.length();
        }
    }
    found.sort_by(|a, b| a.1.total_cmp(&b.1));
    found
}

/// The front and the back as they were, whatever the order of their edges.
fn same_piece(one: &Piece, other: &Piece, what: &str) {
    assert!(
        (one.area() - other.area()).abs() < 1e-3,
        "{what}: area {} {}",
        one.area(),
        other.area()
    );
    assert_eq!((&one.cut, one.grain), (&other.cut, other.grain), "{what}");
    assert_eq!(one.edges.len(), other.edges.len(), "{what}");
    for edge in &one.edges {
        let again = other
            .edge(&edge.name)
            .unwrap_or_else(|| panic!("{what}: no {} again", edge.name));
        assert!(
            (edge.length() - again.length()).abs() < 1e-6,
            "{what}: {}",
            edge.name
        );
        // How corners end follows from the order of sewing, after the last step.
        assert_eq!(
            (edge.kind, edge.runs.len()),
            (again.kind, again.runs.len()),
            "{what}: {}",
            edge.name
        );
        assert!(
            (edge.start() - again.start()).hypot() < 1e-6
                && (edge.end() - again.end()).hypot() < 1e-6,
            "{what}: {}",
            edge.name
        );
    }
    for line in &one.lines {
        let again = other
            .line(&line.name)
            .unwrap_or_else(|| panic!("{what}: no line {} again", line.name));
        assert!(
            (line.length() - again.length()).abs() < 0.02,
            "{what}: line {}",
            line.name
        );
    }
    assert_eq!(notch_list(one), notch_list(other), "{what}");
    assert_eq!(one.peaked, other.peaked, "{what}");
}

/// Notches by edge and name, with lengths to a thousandth.
fn notch_list(piece: &Piece) -> Vec<(String, String, i64)> {
    let mut all: Vec<_> = piece
        .marks
        .iter()
        .filter_map(|mark| match mark {
            Mark::Notch {
                name, edge, along, ..
            } => Some((edge.clone(), name.clone(), (along * 1e3).round() as i64)),
            Mark::Point { .. } => None,
        })
        .collect();
    all.sort();
    all
}

/// Style lines that absorb no dart: from edge to edge, straight, bowed or through points.
fn plain_lines() -> Vec<(&'static str, Arguments)> {
    let side = |at: f64| Place::on_edge("front", "side", Along::Share(at));
    let centre = |at: f64| Place::on_edge("front", "centre", Along::Share(at));
    let cut = |from: Place, to: Place| Arguments::new().at("from", from).at("to", to);
    vec![
        (
            "yoke",
            cut(
                Place::on_edge("front", "armhole", Along::Share(0.3)),
                centre(0.9),
            ),
        ),
        (
            "yoke, bowed",
            cut(
                centre(0.9),
                Place::on_edge("front", "armhole", Along::Share(0.3)),
            )
            .length("bow", 20.0),
        ),
        (
            "neck to armhole",
            cut(
                Place::on_edge("front", "neckline", Along::Share(0.5)),
                Place::on_edge("front", "armhole", Along::Share(0.4)),
            ),
        ),
        (
            "to a corner",
            cut(
                Place::corner("front", "shoulder", "neckline"),
                Place::on_edge("front", "armhole", Along::Share(0.35)),
            ),
        ),
        (
            "under the bust",
            cut(
                side(0.95),
                Place::on_edge("front", "waist", Along::Share(0.2)),
            ),
        ),
    ]
}

#[test]
fn cutting_and_joining_gives_the_start_back() {
    for (number, block) in blocks(&dress("side"), 30).iter().enumerate() {
        for (name, line) in plain_lines() {
            let what = format!("{name}, body {number}");
            let cut = done(block, "cut", &line);
            clean(block, &cut, &what);
            let parts: Vec<&Piece> = cut.pieces_of("front").collect();
            assert_eq!(parts.len(), 2, "{what}");
            assert!(
                (areas(&cut, "front") - piece(block, "front").area()).abs() < 1e-3,
                "{what}"
            );
            notches_meet(&cut, "style-line", &what);
            let joined = done(
                &cut,
                "join",
                &Arguments::new().named("seam", "", "style-line"),
            );
            same_piece(piece(block, "front"), piece(&joined, "front"), &what);
            assert_eq!(block.seams, joined.seams, "{what}");
            assert_eq!(block.girths, joined.girths, "{what}");
        }
    }
}

#[test]
fn joining_a_princess_seam_gives_the_darts_back() {
    for (number, block) in blocks(&dress("shoulder"), 30).iter().enumerate() {
        let what = format!("body {number}");
        // The line runs past the ends of the darts, which stay where they are.
        let mut line = princess(block);
        line.given.retain(|given| given.name != "through");
        let cut = done(block, "cut", &line);
        clean(block, &cut, &what);
        let joined = done(
            &cut,
            "join",
            &Arguments::new().named("seam", "", "princess"),
        );
        let (before, after) = (piece(block, "front"), piece(&joined, "front"));
        assert_eq!(block.seams, joined.seams, "{what}");
        for edge in &before.edges {
            let again = after.edge(&edge.name).expect("the edge is there again");
            assert!((edge.length() - again.length()).abs() < 1e-6, "{what}");
            assert_eq!(edge.runs.len(), again.runs.len(), "{what}: {}", edge.name);
        }
        let bust = before.dart("bust-dart").expect("a front has a bust dart");
        let again = after
            .darts_on("shoulder")
            .next()
            .expect("the shoulder has a dart again");
        let (old, new) = (before.legs(bust), after.legs(again));
        assert!((old.intake() - new.intake()).abs() < 1e-6, "{what}");
        // Both sides of the seam part slowly at the end of the dart: it is found to a few mm.
        assert!(
            (old.point - new.point).hypot() < 8.0,
            "{what}: {old:?} {new:?}"
        );
    }
}

#[test]
fn steps_that_name_the_whole_find_its_parts() {
    for (number, block) in blocks(&dress("shoulder"), 20).iter().enumerate() {
        let what = format!("body {number}");
        let cut = done(block, "cut", &princess(block));
        let waist = length(block, "front", "waist");
        for (share, owner) in [(0.05, "front/side"), (0.95, "front/centre")] {
            let at = Place::on_edge("front", "waist", Along::Share(share));
            let notched = done(&cut, "notch", &Arguments::new().at("at", at));
            let before = notch_list(piece(&cut, owner)).len();
            assert_eq!(
                notch_list(piece(&notched, owner)).len(),
                before + 1,
                "{what}"
            );
            // The skirt is sewn to it over both parts.
            let skirt = along_side(&notched, &[Stretch::forwards("skirt-front", "waist")]);
            let own = along_side(&notched, &[Stretch::backwards("front", "waist")]);
            for (name, along) in own.iter().filter(|(name, _)| name == "notch") {
                let met = skirt
                    .iter()
                    .any(|(other, at)| other == name && (at - along).abs() < 1e-6);
                assert!(met, "{what}: {own:?} {skirt:?} of {waist}");
            }
        }
        // The part at the centre is cut again, across.
        let yoke = Arguments::new()
            .at(
                "from",
                Place::on_edge("front", "princess", Along::Share(0.2)),
            )
            .at("to", Place::on_edge("front", "centre", Along::Share(0.8)));
        let again = run(&cut, "cut", &yoke).expect_err("the seam has an edge on either side");
        assert!(!again.cure.is_empty());
        let yoke = Arguments::new()
            .at(
                "from",
                Place::on_edge("front/centre", "princess", Along::Share(0.8)),
            )
            .at(
                "to",
                Place::on_edge("front/centre", "centre", Along::Share(0.8)),
            );
        let three = done(&cut, "cut", &yoke);
        assert!(
            errors(&cut, &three)
                .iter()
                .all(|finding| finding.code == "allowance-does-not-fit"),
            "{what}: {:#?}",
            errors(&cut, &three)
        );
        for edge in ["shoulder", "waist", "centre", "princess"] {
            let lengths = [&cut, &three].map(|pattern| length(pattern, "front", edge));
            assert!((lengths[0] - lengths[1]).abs() < 1e-6, "{what}: {edge}");
        }
    }
}

#[test]
fn princess_lines_run_from_bodice_to_skirt() {
    for (number, block) in blocks(&dress("shoulder"), 30).iter().enumerate() {
        let what = format!("body {number}");
        let Some(dart) = piece(block, "skirt-front").darts.first() else {
            continue;
        };
        let length_of_waist = length(block, "skirt-front", "waist");
        let panel = Arguments::new()
            .at("from", Place::point("skirt-front", &dart.name))
            .at(
                "to",
                Place::on_edge("skirt-front", "hem", Along::DartLine(dart.name.clone())),
            )
            .with("seam", text("skirt-princess"));
        let bodice = done(block, "cut", &princess(block));
        let both = done(&bodice, "cut", &panel);
        clean(&bodice, &both, &what);
        assert!((length(&both, "skirt-front", "waist") - length_of_waist).abs() < 1e-6);
        assert_eq!(
            both.piece("skirt-front/centre")
                .map(|piece| piece.cut.count),
            Some(1)
        );
        assert_eq!(
            both.piece("skirt-front/side").map(|piece| piece.cut.count),
            Some(2)
        );
    }
}

/// What no redrawing of a neckline may touch.
fn rest_is_untouched(before: &Pattern, after: &Pattern, what: &str) {
    for name in ["armhole", "side", "waist"] {
        assert_eq!(
            edge(before, "front", name),
            edge(after, "front", name),
            "{what}: {name}"
        );
    }
    for owner in ["sleeve", "skirt-front", "skirt-back"] {
        assert_eq!(before.piece(owner), after.piece(owner), "{what}");
    }
}

fn neckline(shape: &str, depth: f64, width: f64) -> Arguments {
    let at =
        |edge: &str, mm: f64| Place::on_edge("front", edge, Along::FromEdge("neckline".into(), mm));
    Arguments::new()
        .named("edge", "front", "neckline")
        .choice("shape", shape)
        .at("ends", at("centre", depth))
        .at("ends", at("shoulder", width))
}

#[test]
fn necklines_keep_their_name_and_stay_smooth_or_are_peaked() {
    for (number, block) in blocks(&dress("side"), 40).iter().enumerate() {
        for (shape, depth, width) in [
            ("v", 90.0, 15.0),
            ("round", 60.0, 30.0),
            ("square", 70.0, 25.0),
            ("boat", 10.0, 50.0),
            ("straight", 40.0, 10.0),
        ] {
            let what = format!("{shape}, body {number}");
            let new = done(block, "redraw", &neckline(shape, depth, width));
            clean(block, &new, &what);
            rest_is_untouched(block, &new, &what);
            // The front shoulder loses the width, the back its share of it, and the ease with them.
            let shoulders = [block, &new]
                .map(|pattern| ["front", "back"].map(|owner| length(pattern, owner, "shoulder")));
            assert!(
                (shoulders[0][0] - shoulders[1][0] - width).abs() < 1e-6,
                "{what}"
            );
            let ratio = shoulders.map(|[front, back]| back / front);
            assert!((ratio[0] - ratio[1]).abs() < 1e-9, "{what}: {ratio:?}");
            let front = piece(&new, "front");
            let parts = front.edges_of("neckline").count();
            assert_eq!(parts, if shape == "square" { 2 } else { 1 }, "{what}");
            let peaked = !front.peaked.is_empty();
            assert_eq!(peaked, matches!(shape, "v" | "straight"), "{what}");
            let shoulder = new
                .seams
                .iter()
                .find(|seam| seam.name == "shoulder")
                .expect("there is a shoulder seam");
            let smooth = matches!(shape, "v" | "round");
            assert!(shoulder.runs_on[0] == smooth || !smooth, "{what}");
            if smooth {
                assert!(shoulder.runs_on[0], "{what}");
            }
            let notch =
                Arguments::new().at("at", Place::on_edge("front", "neckline", Along::Share(0.5)));
            done(&new, "notch", &notch);
        }
    }
}

/// Redrawing the neckline to where it was, square to the centre and smooth over the shoulder, gives the block's own.
#[test]
fn a_round_neckline_of_no_depth_is_the_blocks_own() {
    for block in blocks(&dress("side"), 20) {
        let new = done(&block, "redraw", &neckline("round", 0.0, 0.0));
        let (old, again) = (
            edge(&block, "front", "neckline"),
            edge(&new, "front", "neckline"),
        );
        assert!(
            (old.length() - again.length()).abs() < 0.2,
            "{} {}",
            old.length(),
            again.length()
        );
    }
}

#[test]
fn waists_and_hems_take_shapes() {
    let bodice = common::recipe("garment \"Bodice\" { bodice { bust-dart \"side\" } }");
    let mut peaks = 0;
    for (number, block) in blocks(&bodice, 40).iter().enumerate() {
        let what = format!("body {number}");
        let peak = Arguments::new()
            .named("edge", "front", "waist")
            .choice("shape", "peaked")
            .length("end-by", 50.0);
        let peaked = done(block, "redraw", &peak);
        clean(block, &peaked, &what);
        peaks += piece(&peaked, "front").peaked.len();
        let centres = [block, &peaked].map(|pattern| length(pattern, "front", "centre"));
        assert!((centres[1] - centres[0] - 50.0).abs() < 1e-9, "{what}");
        // The waist of the body stays inside as a line, and goes round it as before.
        assert_eq!(peaked.girths, block.girths, "{what}");
        for girth in &block.girths {
            assert!(
                (block.girth(girth) - peaked.girth(girth)).abs() < 0.1,
                "{what}"
            );
        }
        darts_keep_their_angles(piece(block, "front"), piece(&peaked, "front"), &what);
        let straight = Arguments::new()
            .named("edge", "front", "waist")
            .choice("shape", "straight");
        let straight = done(block, "redraw", &straight);
        clean(block, &straight, &what);
        let closed = step::kit::closed::Closed::of(
            piece(&straight, "front"),
            edge(&straight, "front", "waist"),
        )
        .curve();
        assert!(
            (closed.length() - (closed.end() - closed.start()).hypot()).abs() < 1e-6,
            "{what}"
        );
        darts_keep_their_angles(piece(block, "front"), piece(&straight, "front"), &what);
    }
    // A waist that slopes towards the centre may meet it square again.
    assert!(peaks > 35, "{peaks} of 40 waists are peaked");
    for (number, block) in blocks(&dress("side"), 30).iter().enumerate() {
        let what = format!("hem, body {number}");
        let higher = Arguments::new()
            .named("edge", "skirt-front", "hem")
            .length("start-by", -60.0);
        let shaped = done(block, "redraw", &higher);
        clean(block, &shaped, &what);
        for owner in ["skirt-front", "skirt-back"] {
            let sides = [block, &shaped].map(|pattern| length(pattern, owner, "side"));
            assert!(
                (sides[0] - sides[1] - 60.0).abs() < 1e-6,
                "{what}: {sides:?}"
            );
        }
        let longer = Arguments::new()
            .named("edge", "skirt-front", "hem")
            .length("start-by", 40.0)
            .length("end-by", 40.0);
        clean(block, &done(block, "redraw", &longer), &what);
    }
}

fn darts_keep_their_angles(before: &Piece, after: &Piece, what: &str) {
    for dart in &before.darts {
        let again = after.dart(&dart.name).expect("the dart is still there");
        let angles = [before.legs(dart), after.legs(again)].map(|legs| legs.angle().degrees());
        assert!(
            (angles[0] - angles[1]).abs() < 1e-6,
            "{what}: {} {angles:?}",
            dart.name
        );
        let [one, other] = after.legs(again).lengths();
        assert!((one - other).abs() < 1e-6, "{what}: {}", dart.name);
    }
}

#[test]
fn points_through_which_an_edge_runs_lie_on_it() {
    for block in blocks(&dress("side"), 20) {
        let old = edge(&block, "front", "armhole").clone();
        let scooped = Arguments::new()
            .named("edge", "front", "armhole")
            .number("at", 0.3)
            .length("out", -12.0)
            .number("at", 0.6)
            .length("out", -15.0);
        let new = done(&block, "redraw", &scooped);
        let run = &edge(&new, "front", "armhole").runs[0];
        for (share, out) in [(0.3, -12.0), (0.6, -15.0)] {
            let (at, way) = old.place_at(old.length() * share);
            let at = at + geometry::Vec2::new(way.y, -way.x) * out;
            assert!(run.nearest(at).distance < 1e-6);
        }
        clean(&block, &new, "armhole");
    }
}

/// A bodice that opens at the back, its side seams straight: front and back become one piece, where the shoulders have room.
#[test]
fn front_and_back_are_joined_at_the_side() {
    let recipe =
        common::recipe("garment \"Bodice\" { opening \"back\"; bodice { bust-dart \"waist\" } }");
    let arguments = Arguments::new()
        .named("seam", "", "side")
        .with("name", text("body"));
    let mut done = 0;
    for (number, block) in blocks(&recipe, 40).iter().enumerate() {
        let what = format!("body {number}");
        let joined = match run(block, "join", &arguments) {
            Ok(joined) => joined.pattern,
            Err(finding) => {
                assert_eq!(finding.code, "outline-crosses", "{what}: {finding:#?}");
                continue;
            }
        };
        done += 1;
        for finding in errors(block, &joined) {
            assert_eq!(
                finding.code, "allowance-does-not-fit",
                "{what}: {finding:#?}"
            );
        }
        let body = piece(&joined, "body");
        let sum = areas(block, "front") + areas(block, "back");
        assert!(
            (body.area() - sum).abs() < 1e-3,
            "{what}: {} {sum}",
            body.area()
        );
        for (owner, old, new) in [
            ("front", "armhole", "armhole"),
            ("back", "armhole", "back-armhole"),
            ("back", "centre", "back-centre"),
            ("front", "waist", "waist"),
        ] {
            assert!(
                (length(block, owner, old) - length(&joined, "body", new)).abs() < 1e-6,
                "{what}: {new}"
            );
        }
        assert_eq!(joined.girths.len(), block.girths.len(), "{what}");
        for (before, after) in block.girths.iter().zip(&joined.girths) {
            assert!(
                (block.girth(before) - joined.girth(after)).abs() < 1e-6,
                "{what}: {}",
                before.level
            );
        }
        assert!(
            joined.seams.iter().all(|seam| seam.name != "side"),
            "{what}"
        );
    }
    assert!(done > 25, "{done} of 40 could be joined");
}

#[test]
fn what_cannot_be_cut_or_joined_is_refused_with_a_reason() {
    let block = &blocks(&dress("side"), 1)[0];
    let code = |step: &str, arguments: &Arguments| {
        run(block, step, arguments)
            .expect_err("this cannot be done")
            .code
    };
    let seam = |name: &str| Arguments::new().named("seam", "", name);
    assert_eq!(code("join", &seam("shoulder")), "seam-cannot-be-joined");
    assert_eq!(code("join", &seam("side")), "seam-cannot-be-joined");
    assert_eq!(code("join", &seam("skirt-side")), "gap-between-edges");
    assert_eq!(code("join", &seam("shoulders")), "seam-not-there");
    let across = Arguments::new()
        .at("from", Place::on_edge("front", "side", Along::Share(0.8)))
        .at("to", Place::on_edge("front", "centre", Along::Share(0.1)));
    assert_eq!(code("cut", &across), "line-crosses-dart");
    let same = Arguments::new()
        .at("from", Place::on_edge("front", "side", Along::Share(0.8)))
        .at("to", Place::on_edge("front", "side", Along::Share(0.8)));
    assert_eq!(code("cut", &same), "line-has-no-length");
    let apart = Arguments::new()
        .at("from", Place::on_edge("front", "side", Along::Share(0.8)))
        .at("to", Place::on_edge("back", "centre", Along::Share(0.1)));
    assert_eq!(code("cut", &apart), "place-on-other-piece");
    let beyond = neckline("v", 80.0, 10_000.0);
    assert_eq!(code("redraw", &beyond), "place-beyond-edge");
    let elsewhere = Arguments::new()
        .named("edge", "front", "neckline")
        .at("ends", Place::on_edge("front", "waist", Along::Share(0.5)));
    assert_eq!(code("redraw", &elsewhere), "end-not-beside");
}

/// Bennett, *The Perfect Dressmaking System*, 1914, five-gore skirt, inches: waist 25, hip 40, front 38, side 39, sweep 81; each
/// gore 5 at the waist; front gore 10 at the hem, the other four 17 3/4 (the book prints 17 1/2, which makes 80). His gores are
/// 8 at the hip and flare below it; the block flares from the waist, so that its hip has room and is not compared.
#[test]
fn five_gore_skirt_of_bennett() {
    let body = common::body(&[
        (Measure::Waist, 25.0 * INCH),
        (Measure::Hip, 40.0 * INCH),
        // One and a half gores of two and a half lie before the side seam.
        (Measure::WaistFrontArc, 15.0 * INCH),
        (Measure::HipFrontArc, 24.0 * INCH),
    ]);
    let recipe = common::recipe(
        "garment \"Gores\" { ease { waist \"0 mm\"; hip \"0 mm\" }\n opening \"back\"\n skirt \"a-line\" sweep=\"81 in\" length=\"38 in\" }",
    );
    let block = garment::make(&recipe, &body)
        .expect("this skirt can be drafted")
        .pattern;
    let hip = body.mm(Measure::WaistToHip);
    let on = |edge: &str, inches: f64| {
        let from = Along::FromEdge("centre".into(), inches * INCH);
        Place::on_edge("skirt-front", edge, from)
    };
    let to_side = Arguments::new()
        .named("dart", "skirt-front", "waist-dart-2")
        .named("into", "skirt-front", "side");
    let to_seam = Arguments::new()
        .named("dart", "skirt-front", "waist-dart-1")
        .at("to", on("waist", 2.5));
    let hip_point = Arguments::new()
        .with("name", text("gore"))
        .at("at", Place::corner("skirt-front", "waist", "centre"))
        .length("along", hip)
        .length("across", 4.0 * INCH);
    let gore = Arguments::new()
        .at("from", Place::point("skirt-front", "waist-dart-1"))
        .at("through", Place::point("skirt-front", "gore"))
        .at("to", on("hem", 5.0))
        .with("seam", text("gore"))
        .with("parts", text("front"))
        .with("parts", text("side"));
    let steps = [
        ("absorb", to_side),
        ("transfer", to_seam),
        ("mark", hip_point),
        ("cut", gore),
    ];
    let skirt = steps
        .iter()
        .fold(block.clone(), |pattern, (step, arguments)| {
            done(&pattern, step, arguments)
        });
    clean(&block, &skirt, "gores");
    let inches = |owner: &str, edge: &str| length(&skirt, owner, edge) / INCH;
    let gores = ["skirt-front/front", "skirt-front/side", "skirt-back"];
    let cut: Vec<u32> = gores
        .iter()
        .map(|gore| piece(&skirt, gore).cut.count)
        .collect();
    assert_eq!(cut, [1, 2, 2]);
    assert!((2.0 * inches(gores[0], "waist") - 5.0).abs() < 1e-3);
    assert!((2.0 * inches(gores[0], "hem") - 10.0).abs() < 1e-3);
    for gore in &gores[1..] {
        assert!(
            (inches(gore, "waist") - 5.0).abs() < 0.01,
            "{gore} {}",
            inches(gore, "waist")
        );
        let hem = inches(gore, "hem");
        assert!((hem - 17.75).abs() < 0.3, "{gore} {hem}");
    }
    let sweep = 2.0 * gores.iter().map(|gore| inches(gore, "hem")).sum::<f64>();
    assert!((sweep - 81.0).abs() < 0.01, "sweep {sweep}");
    assert!((inches("skirt-front/front", "centre") - 38.0).abs() < 1e-6);
    let side = inches("skirt-back", "side");
    assert!((side - 39.0).abs() < 0.5, "side {side}");
    let hip_of_front = piece(&skirt, gores[0])
        .line("hip")
        .map_or(0.0, |line| line.length() / INCH);
    assert!(
        (hip_of_front - 4.0).abs() < 0.02,
        "front gore at the hip {hip_of_front}"
    );
}

/// Darts that end at the bust point itself make a seam that is rounded there, both sides of one length.
#[test]
fn darts_that_meet_at_the_bust_point_make_even_sides() {
    for (number, block) in blocks(&dress("shoulder"), 40).iter().enumerate() {
        let what = format!("body {number}");
        let front = piece(block, "front");
        let names: Vec<String> = front.darts.iter().map(|dart| dart.name.clone()).collect();
        if names.len() != 2 {
            continue;
        }
        let pointed = names.iter().fold(block.clone(), |pattern, dart| {
            let arguments = Arguments::new()
                .named("dart", "front", dart)
                .length("before", 0.0);
            done(&pattern, "shorten-dart", &arguments)
        });
        let cut = done(&pointed, "cut", &princess(&pointed));
        let seam = cut
            .seams
            .iter()
            .find(|seam| seam.name == "princess")
            .expect("a new seam joins the parts");
        let sides = [&seam.held, &seam.worked].map(|side| cut.side_length(side));
        assert!(
            (sides[0] - sides[1]).abs() < 1e-6,
            "{what}: sides {sides:?}"
        );
        notches_meet(&cut, "princess", &what);
        for edge in ["shoulder", "armhole", "waist", "side"] {
            let lengths = [&pointed, &cut].map(|pattern| length(pattern, "front", edge));
            assert!(
                (lengths[0] - lengths[1]).abs() < 1e-6,
                "{what}: {edge} {lengths:?}"
            );
        }
        let off = errors(&pointed, &cut)
            .into_iter()
            .filter(|finding| finding.code != "girth-off" || bust_line_at_bust_point(block));
        let off: Vec<String> = off.map(|finding| finding.message).collect();
        assert!(off.is_empty(), "{what}: {off:#?}");
    }
}
