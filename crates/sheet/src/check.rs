//! What a drawing must hold before it is laid out: every number finite and of a size that cloth can have.

use geometry::{PathEl, Point};

use crate::drawing::{Drawing, Item, Line, Panel, Shape, Words};
use crate::fault::Fault;

/// Farthest a coordinate may lie from the panel's origin, mm: twenty metres.
const FARTHEST_MM: f64 = 20_000.0;

/// Says what is wrong with the drawing, if anything.
pub(crate) fn check(drawing: &Drawing) -> Result<(), Fault> {
    if drawing.panels.is_empty() {
        return Err(Fault::NoPanels);
    }
    for plate in &drawing.plates {
        check_panel(plate)?;
    }
    for (index, panel) in drawing.panels.iter().enumerate() {
        check_panel(panel)?;
        if drawing.panels[..index]
            .iter()
            .any(|other| other.id == panel.id)
        {
            return Err(Fault::SameName {
                panel: panel.id.clone(),
            });
        }
    }
    Ok(())
}

fn check_panel(panel: &Panel) -> Result<(), Fault> {
    for item in &panel.items {
        check_item(item).map_err(|slip| slip.on(panel))?;
    }
    panel.bounds().map(|_| ()).ok_or_else(|| Fault::EmptyPanel {
        panel: panel.id.clone(),
    })
}

struct Slip {
    what: &'static str,
    found: String,
    allowed: &'static str,
}

impl Slip {
    fn on(self, panel: &Panel) -> Fault {
        Fault::BadNumber {
            panel: panel.id.clone(),
            what: self.what,
            found: self.found,
            allowed: self.allowed,
        }
    }
}

fn check_item(item: &Item) -> Result<(), Slip> {
    match &item.shape {
        Shape::Text(words) => check_words(words),
        Shape::Path { path, line, .. } => {
            if !matches!(path.elements().first(), None | Some(PathEl::MoveTo(_))) {
                return Err(Slip {
                    what: "a path",
                    found: "a path without a starting point".to_owned(),
                    allowed: "paths that begin with a move",
                });
            }
            for element in path.elements() {
                points(element)
                    .into_iter()
                    .flatten()
                    .try_for_each(check_point)?;
            }
            line.as_ref().map_or(Ok(()), check_line)
        }
    }
}

fn points(element: &PathEl) -> [Option<Point>; 3] {
    match *element {
        PathEl::MoveTo(p) | PathEl::LineTo(p) => [Some(p), None, None],
        PathEl::QuadTo(a, p) => [Some(a), Some(p), None],
        PathEl::CurveTo(a, b, p) => [Some(a), Some(b), Some(p)],
        PathEl::ClosePath => [None; 3],
    }
}

fn check_point(point: Point) -> Result<(), Slip> {
    // A comparison with NaN is false, so this refuses it too.
    if point.x.abs() <= FARTHEST_MM && point.y.abs() <= FARTHEST_MM {
        return Ok(());
    }
    Err(Slip {
        what: "a point of the drawing",
        found: format!("({}, {}) mm", point.x, point.y),
        allowed: "coordinates within 20,000 mm of the piece's origin",
    })
}

fn check_line(line: &Line) -> Result<(), Slip> {
    let in_range = |value: &f64| (0.0..=1000.0).contains(value);
    if !(0.01..=20.0).contains(&line.width_mm) {
        return Err(Slip {
            what: "the width of a line",
            found: format!("{} mm", line.width_mm),
            allowed: "0.01 to 20 mm",
        });
    }
    let sum: f64 = line.dash.iter().sum();
    if line.dash.is_empty() || (line.dash.iter().all(in_range) && sum >= 0.1) {
        return Ok(());
    }
    Err(Slip {
        what: "the dashes of a line",
        found: format!("{:?} mm", line.dash),
        allowed: "lengths from 0 to 1000 mm, together at least 0.1 mm",
    })
}

fn check_words(words: &Words) -> Result<(), Slip> {
    check_point(words.at)?;
    if !(0.5..=500.0).contains(&words.size_mm) {
        return Err(Slip {
            what: "the size of words",
            found: format!("{} mm", words.size_mm),
            allowed: "0.5 to 500 mm",
        });
    }
    if words.turn_degrees.abs() <= 360.0 {
        return Ok(());
    }
    Err(Slip {
        what: "the turn of words",
        found: format!("{}°", words.turn_degrees),
        allowed: "−360° to 360°",
    })
}
