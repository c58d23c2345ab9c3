//! What it costs to put a drawing on paper: the more panels, the more pages, the more bytes.

use divan::Bencher;
use geometry::{BezPath, Point, Vec2};
use sheet::{
    Drawing, Item, Layer, Line, List, Panel, Paper, PaperSize, Turns, Words, arrow, lay_out, pdf,
};

fn main() {
    divan::main();
}

/// Panels for `divan` to count by: a dress has about twelve.
const PANELS: [usize; 4] = [6, 12, 24, 48];

#[divan::bench(args = PANELS)]
fn lay_out_on_a4(bencher: Bencher, panels: usize) {
    let drawing = drawing(panels);
    bencher.bench(|| lay_out(&drawing, &Paper::new(PaperSize::A4)));
}

#[divan::bench(args = PANELS)]
fn lay_out_on_roll(bencher: Bencher, panels: usize) {
    let drawing = drawing(panels);
    bencher.bench(|| lay_out(&drawing, &Paper::new(PaperSize::Roll914)));
}

#[divan::bench(args = PANELS)]
fn write_pdf_of_a4(bencher: Bencher, panels: usize) {
    let layout =
        lay_out(&drawing(panels), &Paper::new(PaperSize::A4)).expect("the panels are sound");
    bencher.bench(|| pdf(&layout));
}

fn drawing(panels: usize) -> Drawing {
    Drawing {
        title: "Bench".to_owned(),
        subject: String::new(),
        version: String::new(),
        date: None,
        language: "en".to_owned(),
        panels: (0..panels).map(panel).collect(),
        lists: vec![List {
            title: "To cut".to_owned(),
            lines: (0..panels)
                .map(|index| format!("Panel {index} · cut 2"))
                .collect(),
        }],
        plates: Vec::new(),
        legend: Vec::new(),
    }
}

/// Panels from the size of a pocket to that of a skirt, none like the one before.
fn panel(index: usize) -> Panel {
    let width = 80.0 + 37.0 * (index * 5 % 8) as f64;
    let height = 120.0 + 53.0 * (index * 7 % 12) as f64;
    let middle = Point::new(width / 2.0, height / 2.0);
    let up = Vec2::new(0.0, height / 4.0);
    Panel {
        id: format!("panel-{index}"),
        title: format!("Panel {index}"),
        items: vec![
            Item::path(
                Layer::CuttingLine,
                outline(width, height, 0.0),
                Line::cutting(),
            ),
            Item::path(Layer::SeamLine, outline(width, height, 12.0), Line::seam()),
            Item::path(Layer::Grain, arrow(middle - up, middle + up), Line::mark()),
            Item::text(Words::new(middle, 5.0, format!("Panel {index}"))),
        ],
        turns: Turns::Any,
    }
}

fn outline(width: f64, height: f64, inset: f64) -> BezPath {
    let (right, bottom) = (width - inset, height - inset);
    let mut path = BezPath::new();
    path.move_to((inset, height / 3.0));
    path.curve_to(
        (width / 4.0, height / 3.0),
        (width / 3.0, height / 4.0),
        (width / 3.0, inset),
    );
    path.line_to((right, inset));
    path.curve_to(
        (right, height / 3.0),
        (right, height / 2.0),
        (right - 8.0, bottom),
    );
    path.line_to((inset, bottom));
    path.close_path();
    path
}
