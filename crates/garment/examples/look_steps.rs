//! Draws what every step does to the blocks of a dress: before grey, after black, slashes red: `look_steps OUT_FOLDER`.
#![allow(clippy::print_stdout, reason = "it is looked at by hand")]
#![allow(clippy::too_many_lines, reason = "its list of examples is a table")]
use std::fmt::Write as _;

use document::Source;
use pattern::step::{Along, Arguments, Done, Place, Value, find};
use pattern::{Pattern, Piece};

fn dress() -> Pattern {
    let text = "garment \"Dress\" { bodice { bust-dart \"side\" }; skirt \"straight\" length=\"620 mm\"; sleeve length=\"300 mm\" }";
    let recipe =
        garment::recipe::read(&Source::new("dress.kdl", text)).expect("the recipe is sound");
    let tape = body::Tape::new("test").with(body::Measure::Bust, 940.0);
    garment::make(&recipe, &body::complete(&tape))
        .expect("the body is common")
        .pattern
}

fn on(piece: &str, edge: &str, share: f64) -> Place {
    Place::on_edge(piece, edge, Along::Share(share))
}

fn examples() -> Vec<(&'static str, &'static str, Arguments)> {
    let new = Arguments::new;
    vec![
        (
            "transfer",
            "whole",
            new()
                .named("dart", "front", "bust-dart")
                .at("to", on("front", "shoulder", 0.5)),
        ),
        (
            "transfer",
            "share",
            new()
                .named("dart", "front", "bust-dart")
                .at("to", on("front", "armhole", 0.6))
                .number("share", 0.4),
        ),
        (
            "split",
            "neck",
            new()
                .named("dart", "front", "bust-dart")
                .at("at", on("front", "neckline", 0.4)),
        ),
        ("split", "beside", new().named("dart", "front", "bust-dart")),
        (
            "combine",
            "waist",
            new()
                .named("dart", "front", "bust-dart")
                .named("into", "front", "waist-dart"),
        ),
        (
            "shorten-dart",
            "before",
            new()
                .named("dart", "front", "bust-dart")
                .length("before", 60.0),
        ),
        (
            "shorten-dart",
            "point",
            new()
                .named("dart", "front", "bust-dart")
                .at("to", Place::point("front", "bust-point")),
        ),
        (
            "release",
            "gathers",
            new()
                .named("dart", "front", "waist-dart")
                .choice("as", "gathers"),
        ),
        (
            "absorb",
            "side",
            new()
                .named("dart", "skirt-back", "waist-dart-2")
                .named("into", "skirt-back", "side"),
        ),
        (
            "lengthen",
            "bodice",
            new()
                .at("at", Place::on_edge("front", "side", Along::FromEnd(50.0)))
                .at("at", Place::on_edge("back", "side", Along::FromEnd(50.0)))
                .length("by", 40.0),
        ),
        (
            "shorten",
            "skirt",
            new()
                .at("at", on("skirt-front", "side", 0.7))
                .length("by", 60.0),
        ),
        (
            "widen",
            "side",
            new()
                .named("edge", "front", "side")
                .named("edge", "back", "side")
                .length("by", 25.0),
        ),
        (
            "narrow",
            "skirt",
            new()
                .named("edge", "skirt-front", "side")
                .length("by", 5.0)
                .length("by-end", 40.0),
        ),
        (
            "spread",
            "cap",
            new()
                .at("from", on("sleeve", "cap-front", 0.15))
                .at("to", on("sleeve", "hem", 0.5))
                .length("by", 50.0),
        ),
        (
            "spread",
            "hem",
            (1..=4)
                .fold(new(), |all, k| {
                    let share = f64::from(k) / 5.0;
                    all.at("from", on("sleeve", "hem", share)).at(
                        "to",
                        if k < 3 {
                            on("sleeve", "cap-front", 1.0 - share * 1.9)
                        } else {
                            on("sleeve", "cap-back", 1.0 - (share - 0.5) * 1.9)
                        },
                    )
                })
                .length("by", 25.0),
        ),
        (
            "spread",
            "parallel",
            new()
                .at("from", on("skirt-back", "hem", 0.5))
                .at("to", on("skirt-back", "waist", 0.45))
                .length("by", 60.0)
                .length("by-end", 60.0),
        ),
        (
            "flare",
            "edge",
            new()
                .named("hem", "skirt-front", "hem")
                .named("from", "skirt-front", "waist")
                .length("by", 200.0)
                .with("lines", Value::Count(4)),
        ),
        (
            "flare",
            "darts",
            new()
                .named("hem", "skirt-back", "hem")
                .named("from", "skirt-back", "waist")
                .length("by", 60.0)
                .choice("hinge", "darts"),
        ),
    ]
}

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| ".".into());
    let before = dress();
    for (name, what, arguments) in examples() {
        let step = find(name).expect("the step is in the list");
        match step.run(&before, &arguments) {
            Ok(done) => {
                println!("{name} {what}: {}", done.words);
                for finding in pattern::check::of_sewing(&done.pattern) {
                    println!("    {}: {}", finding.code, finding.message);
                }
                let path = format!("{folder}/{name}-{what}.svg");
                std::fs::write(path, drawn(&before, &done)).expect("the folder can be written");
            }
            Err(finding) => println!(
                "{name} {what}: REFUSED {} | {} | {:?}",
                finding.message, finding.cure, finding.allowed
            ),
        }
    }
}

fn drawn(before: &Pattern, done: &Done) -> String {
    let mut svg = String::new();
    let mut x = 0.0;
    let mut height = 0.0_f64;
    for piece in &done.pattern.pieces {
        let old = before
            .pieces
            .iter()
            .find(|old| pattern::name::root(&piece.name) == old.name);
        if old.is_some_and(|old| old == piece) {
            continue;
        }
        let mut bounds = geometry::Rect::new(f64::MAX, f64::MAX, f64::MIN, f64::MIN);
        for curve in old
            .into_iter()
            .chain([piece])
            .flat_map(|piece| &piece.edges)
            .flat_map(|edge| &edge.runs)
        {
            bounds = bounds.union(curve.bounds());
        }
        let _ = write!(
            svg,
            "<g transform='translate({},{})' fill='none'>",
            x + 20.0 - bounds.x0,
            20.0 - bounds.y0
        );
        if let Some(old) = old {
            draw(&mut svg, old, "#aaa", 2.5);
        }
        draw(&mut svg, piece, "black", 1.2);
        for line in done.lines.iter().filter(|line| line.piece == piece.name) {
            let _ = write!(
                svg,
                "<path d='{}' stroke='red' stroke-width='1.2' stroke-dasharray='8 4'/>",
                d(&line.curve)
            );
        }
        svg.push_str("</g>");
        x += bounds.width() + 40.0;
        height = height.max(bounds.height() + 40.0);
    }
    format!(
        "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {x} {height}' width='{x}' height='{height}'><rect width='100%' height='100%' fill='white'/>{svg}</svg>"
    )
}

fn draw(svg: &mut String, piece: &Piece, colour: &str, width: f64) {
    let mut path = |curve: &geometry::Curve, dash: &str| {
        let _ = write!(
            svg,
            "<path d='{}' stroke='{colour}' stroke-width='{width}' {dash}/>",
            d(curve)
        );
    };
    for run in pattern::step::kit::refuse::open_outline(piece) {
        path(&run, "");
    }
    for run in piece.lines.iter().flat_map(|line| &line.runs) {
        path(run, "stroke-dasharray='3 3'");
    }
    for mark in &piece.marks {
        let at = match mark {
            pattern::Mark::Point { at, .. } => *at,
            pattern::Mark::Notch { edge, along, .. } => piece
                .edge(edge)
                .map_or(geometry::Point::ORIGIN, |edge| edge.place_at(*along).0),
        };
        let _ = write!(
            svg,
            "<circle cx='{}' cy='{}' r='3' stroke='{colour}'/>",
            at.x, at.y
        );
    }
}

fn d(curve: &geometry::Curve) -> String {
    let points = curve.flattened(geometry::Tolerance::DRAWING);
    let mut path = String::new();
    for (index, point) in points.iter().enumerate() {
        let _ = write!(
            path,
            "{}{:.2} {:.2}",
            if index == 0 { "M" } else { "L" },
            point.x,
            point.y
        );
    }
    path
}
