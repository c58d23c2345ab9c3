//! Makes a sample drawing and writes it on several papers into a folder, for readers outside the project to check.
//!
//! `cargo run -p sheet --example sample_sheet -- FOLDER`

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

use geometry::{BezPath, Point, Vec2};
use sheet::{
    Anchor, Colour, Drawing, Item, Layer, Line, List, Panel, Paper, PaperSize, Turns, Weight,
    Words, arrow, circle, fold_mark, lay_out, page_png, pdf, png, svg, text_block,
};

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(env::args().nth(1).ok_or("give a folder to write to")?);
    fs::create_dir_all(&folder)?;
    let drawing = drawing();
    for size in PaperSize::ALL {
        let layout = lay_out(&drawing, &Paper::new(size))?;
        fs::write(folder.join(format!("sample-{size}.pdf")), pdf(&layout))?;
    }
    let cover = lay_out(&drawing, &Paper::new(PaperSize::A4))?;
    fs::write(folder.join("sample.svg"), svg(&drawing)?)?;
    fs::write(folder.join("sample.png"), png(&drawing, 1600)?)?;
    fs::write(folder.join("sample-cover.png"), page_png(&cover, 0, 1000)?)?;
    Ok(())
}

/// Twelve leaves and pods, so large that they span sheets.
fn drawing() -> Drawing {
    let sizes = [
        (280.0, 640.0),
        (300.0, 655.0),
        (330.0, 720.0),
        (345.0, 720.0),
        (360.0, 610.0),
        (120.0, 250.0),
        (60.0, 480.0),
        (60.0, 520.0),
        (180.0, 210.0),
        (90.0, 300.0),
        (240.0, 440.0),
        (75.0, 160.0),
    ];
    let panels: Vec<Panel> = sizes
        .into_iter()
        .enumerate()
        .map(|(index, (width, height))| leaf(index + 1, width, height))
        .collect();
    Drawing {
        title: "Sample of leaves".to_owned(),
        subject: "Twelve shapes of no garment, to try the paper".to_owned(),
        version: "version 1".to_owned(),
        date: Some("2026-11-24".to_owned()),
        language: "en".to_owned(),
        lists: vec![List {
            title: "To cut".to_owned(),
            lines: panels
                .iter()
                .map(|panel| {
                    format!(
                        "{} · cut 2 from paper, then fold each along its middle line",
                        panel.title
                    )
                })
                .collect(),
        }],
        plates: Vec::new(),
        legend: vec![
            "Allowances are drawn: 15 mm all round (⅝ in at 15.9 mm is near enough).".to_owned(),
            "Lengths are in millimetres; angles in degrees (°).".to_owned(),
        ],
        panels,
    }
}

fn leaf(number: usize, width: f64, height: f64) -> Panel {
    let title = format!("Leaf {number}");
    let top = Point::new(width / 2.0, 0.0);
    let bottom = Point::new(width / 2.0, height);
    let words = [
        (Weight::Bold, title.clone()),
        (Weight::Regular, "Sample of leaves · version 1".to_owned()),
        (Weight::Regular, "cut 2 · paper".to_owned()),
    ];
    let size = if width > 100.0 { 6.0 } else { 4.0 };
    let middle = Point::new(width / 2.0 + 1.5 * size, height / 2.0);
    let mut items = vec![
        Item::path(
            Layer::CuttingLine,
            outline(width, height, 0.0),
            Line::cutting(),
        )
        .named("edge"),
        Item::path(Layer::SeamLine, outline(width, height, 15.0), Line::seam()),
        Item::path(
            Layer::Grain,
            arrow(
                top + Vec2::new(0.0, height * 0.3),
                bottom - Vec2::new(0.0, height * 0.3),
            ),
            Line::mark(),
        ),
        Item::path(
            Layer::Marks,
            circle(top + Vec2::new(0.0, height * 0.2), 2.0),
            Line::mark(),
        ),
    ];
    items.extend(text_block(&words, middle, size, Anchor::Middle, -90.0));
    if number == 5 {
        let (from, to) = (
            Point::new(0.0, height * 0.45),
            Point::new(0.0, height * 0.62),
        );
        items.push(Item::path(
            Layer::Grain,
            fold_mark(from, to, 12.0),
            Line::mark(),
        ));
        let fold = Words::new(Point::new(24.0, height / 2.0), 4.0, "cut on the fold")
            .anchored(Anchor::Middle)
            .turned(-90.0)
            .coloured(Colour::INK);
        items.push(Item::text(fold));
    }
    Panel {
        id: format!("leaf-{number}"),
        title,
        items,
        turns: if number.is_multiple_of(4) {
            Turns::Half
        } else {
            Turns::Any
        },
    }
}

/// A shape of two points and two bellies, drawn in from its edge by `inset`.
fn outline(width: f64, height: f64, inset: f64) -> BezPath {
    let (left, right) = (inset, width - inset);
    let (top, bottom) = (inset, height - inset);
    let middle = width / 2.0;
    let mut path = BezPath::new();
    path.move_to((middle - width / 6.0, top));
    path.line_to((middle + width / 6.0, top));
    path.curve_to(
        (right, top + height * 0.1),
        (right, top + height * 0.3),
        (right, height * 0.55),
    );
    path.curve_to(
        (right, height * 0.8),
        (middle + width / 5.0, bottom),
        (middle, bottom),
    );
    path.curve_to(
        (middle - width / 5.0, bottom),
        (left, height * 0.8),
        (left, height * 0.55),
    );
    path.curve_to(
        (left, top + height * 0.3),
        (left, top + height * 0.1),
        (middle - width / 6.0, top),
    );
    path.close_path();
    path
}
