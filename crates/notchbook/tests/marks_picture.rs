//! The picture of docs/marks.md is drawn by the program: pieces that bear the marks, as they are printed.
//!
//! `NOTCHBOOK_WRITE=1 cargo test -p notchbook --test marks_picture` draws it anew.

mod manual;

use drawing::Labels;
use manual::Pages;

/// The command that draws the picture.
const COMMAND: &str = "NOTCHBOOK_WRITE=1 cargo test -p notchbook --test marks_picture";

/// A bodice with darts, buttons and a facing that is interfaced.
const BODICE: &str = r#"
    opening "front" closed="buttons"
    ease { bust "60 mm" }
    bodice { bust-dart "side"; neckline "round" depth="30 mm" width="15 mm" }
    facings { neck width="55 mm" without-seam="shoulder" }
    interfacing { behind "neck-facing" }
"#;

#[test]
fn the_picture_shows_the_marks_as_they_are_printed() {
    let pattern = manual::garment(BODICE, "the marks").garment().pattern;
    let labels = Labels {
        garment: "Blouse".to_owned(),
        version: "version 1".to_owned(),
        ..Labels::default()
    };
    let mut drawn = drawing::drawing(&pattern, &labels).expect("it can be cut");
    let shown = ["front", "back", "neck-facing"];
    drawn
        .panels
        .retain(|panel| shown.contains(&panel.id.as_str()));
    assert_eq!(drawn.panels.len(), shown.len());
    let svg = sheet::svg(&drawn).expect("it can be written");
    let pages = Pages::from([("pieces.svg".to_owned(), svg)]);
    manual::check("docs/marks", &pages, COMMAND);
}
