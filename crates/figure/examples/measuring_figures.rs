//! Writes the figures of the measuring page into a folder, and the page beside it, whose measures are the program's table.
//!
//! `cargo run -p figure --example measuring_figures -- docs/figures`

use std::error::Error;
use std::path::PathBuf;
use std::{env, fs};

use figure::guide;
use sheet::svg;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(
        env::args()
            .nth(1)
            .ok_or("give the folder of the figures: docs/figures")?,
    );
    fs::create_dir_all(&folder)?;
    for (name, drawing) in guide::figures() {
        fs::write(folder.join(format!("{name}.svg")), svg(&drawing)?)?;
    }
    let page = folder.join("../measuring.md");
    let before = fs::read_to_string(&page)?;
    fs::write(page, guide::page(&before))?;
    Ok(())
}
