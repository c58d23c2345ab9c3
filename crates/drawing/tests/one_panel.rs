//! One drawn piece, item by item, so that a change of the drawing is seen.

mod samples;

use std::fmt::Write as _;

use geometry::{BezPath, PathEl, Point};
use sheet::{Panel, Shape};

#[test]
fn the_front_is_drawn_as_it_was() {
    let panel =
        drawing::panel(&samples::bodice_front(), &samples::labels()).expect("it can be cut");
    insta::assert_snapshot!(told(&panel));
}

#[test]
fn the_same_piece_is_drawn_the_same() {
    let draw = || drawing::panels(&samples::pattern(), &samples::labels()).expect("all can be cut");
    assert_eq!(draw(), draw());
}

fn told(panel: &Panel) -> String {
    let mut text = format!("{} \"{}\"\n", panel.id, panel.title);
    for item in &panel.items {
        let id = item.id.as_deref().unwrap_or("-");
        let shape = match &item.shape {
            Shape::Text(words) => {
                let (at, size, turn) = (point(words.at), words.size_mm, words.turn_degrees);
                format!("{size} mm at {at} turned {turn:.2}: {}", words.text)
            }
            Shape::Path { path, line, .. } => {
                let line = line.as_ref().map_or(0.0, |line| line.width_mm);
                // How an offset is drawn is the business of the geometry.
                let path = if id.ends_with("cutting-line") {
                    &BezPath::new()
                } else {
                    path
                };
                format!(
                    "line {line}: {}",
                    path.elements()
                        .iter()
                        .map(element)
                        .collect::<Vec<_>>()
                        .join(" ")
                )
            }
        };
        let _ = writeln!(text, "{} {id} {shape}", item.layer.word());
    }
    text
}

fn element(element: &PathEl) -> String {
    match *element {
        PathEl::MoveTo(to) => format!("M{}", point(to)),
        PathEl::LineTo(to) => format!("L{}", point(to)),
        PathEl::QuadTo(a, to) => format!("Q{} {}", point(a), point(to)),
        PathEl::CurveTo(a, b, to) => format!("C{} {} {}", point(a), point(b), point(to)),
        PathEl::ClosePath => "Z".to_owned(),
    }
}

/// To a tenth of a millimetre; adding 0 turns -0 into 0.
fn point(at: Point) -> String {
    let tenth = |value: f64| (value * 10.0).round() / 10.0 + 0.0;
    format!("{},{}", tenth(at.x), tenth(at.y))
}
