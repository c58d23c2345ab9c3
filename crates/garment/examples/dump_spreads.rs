//! Slashes and spreads sleeve and skirt at many places and writes, as JSON, the outlines before and after, for an independent
//! reader: `dump_spreads EXAMPLES_FOLDER`.
#![allow(
    clippy::print_stdout,
    reason = "this example writes for another program"
)]

use document::Source;
use geometry::{Curve, Point, Tolerance};
use pattern::step::{self, Along, Arguments, On, Place, Value};
use pattern::{Pattern, Piece};

/// Two edges of a piece that lines join.
const LINES: [(&str, &str, &str); 4] = [
    ("sleeve", "cap-front", "hem"),
    ("sleeve", "cap-back", "hem"),
    ("skirt-front", "waist", "hem"),
    ("skirt-back", "hem", "waist"),
];

fn main() {
    let folder = std::env::args().nth(1).unwrap_or_else(|| "examples".into());
    let pattern = concert_dress(&folder);
    for (piece, from, to) in LINES {
        for (share, other) in [(0.3, 0.4), (0.5, 0.5), (0.62, 0.35)] {
            for (by, by_end) in [(20.0, 0.0), (45.0, 45.0), (60.0, 25.0), (-6.0, -6.0)] {
                let sides =
                    [(from, share), (to, other)].map(|(edge, share)| place(piece, edge, share));
                report(&pattern, piece, sides, by, by_end);
            }
        }
    }
}

fn concert_dress(folder: &str) -> Pattern {
    let read = |name: &str| {
        let path = format!("{folder}/{name}");
        let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{path}: {error}"));
        Source::new(path, text)
    };
    let recipe = garment::recipe::read(&read("concert-dress.kdl")).expect("the example reads");
    let body = body::complete(&body::read(&read("bodies/cellist.kdl")).expect("the example reads"));
    garment::make(&recipe, &body)
        .expect("the example can be drafted")
        .pattern
}

fn place(piece: &str, edge: &str, share: f64) -> Place {
    Place {
        piece: piece.into(),
        on: On::Edge {
            edge: edge.into(),
            at: Along::Share(share),
        },
    }
}

fn report(pattern: &Pattern, piece: &str, [from, to]: [Place; 2], by: f64, by_end: f64) {
    let arguments = Arguments::new()
        .with("from", Value::Place(from.clone()))
        .with("to", Value::Place(to.clone()))
        .length("by", by)
        .length("by-end", by_end)
        .flag("trued", false);
    let spread = step::find("spread").expect("spread is a step");
    let done = spread
        .run(pattern, &arguments)
        .expect("these spreads can be done");
    let (before, after) = (of(pattern, piece), of(&done.pattern, piece));
    let ends = [&from, &to]
        .map(|place| step::kit::place::seat(pattern, place).expect("the place is there"));
    let ends = ends.map(|seat| before.edges[seat.edge].place_at(seat.along).0);
    println!(
        "{{\"piece\":\"{piece}\",\"by\":{by},\"by_end\":{by_end},\"line\":{},\"before\":{},\"after\":{}}}",
        points(&ends),
        points(&outline(before)),
        points(&outline(after))
    );
}

fn of<'a>(pattern: &'a Pattern, piece: &str) -> &'a Piece {
    pattern.piece(piece).expect("the dress has this piece")
}

fn outline(piece: &Piece) -> Vec<Point> {
    let fine = Tolerance::from_mm(1e-4).expect("above zero");
    piece
        .seam_outline()
        .iter()
        .flat_map(|curve: &Curve| curve.flattened(fine))
        .collect()
}

fn points(points: &[Point]) -> String {
    let each: Vec<String> = points
        .iter()
        .map(|point| format!("[{:.6},{:.6}]", point.x, point.y))
        .collect();
    format!("[{}]", each.join(","))
}
