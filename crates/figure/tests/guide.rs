//! The page on measuring and its figures are what the program makes now.

use std::fs;
use std::path::{Path, PathBuf};

use figure::guide;
use sheet::svg;

fn docs() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs")
}

fn committed(path: &Path) -> String {
    fs::read_to_string(path).unwrap_or_default()
}

#[test]
fn committed_figures_are_those_that_are_drawn_now() {
    let mut made: Vec<String> = Vec::new();
    for (name, drawing) in guide::figures() {
        let file = format!("{name}.svg");
        let now = svg(&drawing).expect("the figures of the page can be written");
        let then = committed(&docs().join("figures").join(&file));
        assert!(
            now == then,
            "docs/figures/{file} is not what is drawn now; run: {}",
            guide::COMMAND
        );
        made.push(file);
    }
    made.sort();
    let files = fs::read_dir(docs().join("figures")).expect("the folder of the figures");
    let mut found: Vec<String> = files
        .flatten()
        .map(|file| file.file_name().to_string_lossy().into_owned())
        .collect();
    found.sort();
    assert_eq!(
        found,
        made,
        "docs/figures holds other files than {} writes",
        guide::COMMAND
    );
}

#[test]
fn the_page_says_what_the_table_says() {
    let page = committed(&docs().join("measuring.md"));
    assert!(
        guide::page(&page) == page,
        "docs/measuring.md is not what the table says; run: {}",
        guide::COMMAND
    );
    assert!(page.contains(&format!("figures/{}.svg", guide::OVERVIEW)));
}
