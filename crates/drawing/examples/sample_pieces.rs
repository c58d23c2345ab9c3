//! Draws sample pieces and writes each as SVG and PNG into a folder, and all of them as one picture and on paper.
//!
//! `cargo run -p drawing --example sample_pieces -- FOLDER`

use std::error::Error;
use std::path::{Path, PathBuf};
use std::{env, fs};

use document::Finding;
use sheet::{Drawing, Panel, Paper, PaperSize};

#[path = "../tests/samples/mod.rs"]
mod samples;

/// Pixels of a picture for every millimetre.
const PIXELS_PER_MM: f64 = 3.0;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(env::args().nth(1).ok_or("give a folder to write to")?);
    fs::create_dir_all(&folder)?;
    let (pattern, labels) = (samples::pattern(), samples::labels());
    let drawing = drawing::drawing(&pattern, &labels).map_err(said)?;
    for panel in &drawing.panels {
        write(&folder, panel, &drawing)?;
    }
    let overview = drawing::overview(&pattern, &labels).map_err(said)?;
    fs::write(folder.join("overview.png"), sheet::png(&overview, 1800)?)?;
    let layout = sheet::lay_out(&drawing, &Paper::new(PaperSize::Roll914))?;
    fs::write(folder.join("roll.pdf"), sheet::pdf(&layout))?;
    Ok(())
}

fn write(folder: &Path, panel: &Panel, of: &Drawing) -> Result<(), Box<dyn Error>> {
    let alone = Drawing {
        panels: vec![panel.clone()],
        ..of.clone()
    };
    let width = panel.bounds().map_or(0.0, |bounds| bounds.width() + 20.0);
    let pixels = (width * PIXELS_PER_MM).ceil() as u32;
    fs::write(
        folder.join(format!("{}.svg", panel.id)),
        sheet::svg(&alone)?,
    )?;
    fs::write(
        folder.join(format!("{}.png", panel.id)),
        sheet::png(&alone, pixels)?,
    )?;
    Ok(())
}

fn said(findings: Vec<Finding>) -> Box<dyn Error> {
    let messages: Vec<String> = findings
        .into_iter()
        .map(|finding| finding.message)
        .collect();
    messages.join("; ").into()
}
