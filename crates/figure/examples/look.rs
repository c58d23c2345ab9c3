//! Draws bodies of many sizes as PNG into a folder, to be looked at.
//!
//! `cargo run -p figure --example look -- FOLDER`

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

use body::{Measure, Tape, complete};
use figure::{Group, Style, guide, sheet_of};
use sheet::png;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(env::args().nth(1).ok_or("give a folder to draw into")?);
    fs::create_dir_all(&folder)?;
    for (name, drawing) in guide::figures() {
        fs::write(folder.join(format!("{name}.png")), png(&drawing, 1800)?)?;
    }
    for (name, tape) in bodies() {
        let body = complete(&tape);
        for (file, shown) in [
            ("all", &Measure::ALL[..]),
            ("girths", Group::ALL[0].measures),
        ] {
            let drawing = sheet_of(&body, shown, &Style::default());
            fs::write(
                folder.join(format!("{name}-{file}.png")),
                png(&drawing, 1600)?,
            )?;
        }
    }
    Ok(())
}

fn bodies() -> Vec<(String, Tape)> {
    let by_bust = [760.0, 880.0, 1000.0, 1200.0, 1400.0].map(|bust| {
        (
            format!("bust-{bust}"),
            Tape::new("By bust").with(Measure::Bust, bust),
        )
    });
    let of = |name: &str, values: &[(Measure, f64)]| {
        let tape = values
            .iter()
            .fold(Tape::new(name), |tape, (measure, value)| {
                tape.with(*measure, *value)
            });
        (name.to_owned(), tape)
    };
    let mut bodies = by_bust.to_vec();
    bodies.extend([
        of(
            "short",
            &[(Measure::Bust, 900.0), (Measure::Stature, 1480.0)],
        ),
        of(
            "tall",
            &[(Measure::Bust, 900.0), (Measure::Stature, 1860.0)],
        ),
        of(
            "flat",
            &[
                (Measure::Bust, 880.0),
                (Measure::UpperChest, 872.0),
                (Measure::UnderBust, 800.0),
            ],
        ),
        of(
            "full",
            &[
                (Measure::Bust, 1080.0),
                (Measure::UpperChest, 900.0),
                (Measure::UnderBust, 780.0),
            ],
        ),
    ]);
    bodies
}
