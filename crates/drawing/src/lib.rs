//! Pieces of a pattern as drawings ready for paper, in the trade's own marks.
//!
//! Knows pieces and panels; no paper, no body, no file. Everything follows from the geometry of a piece: where its arrow
//! and its words find room is searched for, never given. Invariants: words and arrows cross no line but the thin ones
//! inside, stand on nothing and never leave the piece while it has room for the smallest of them; every id is there once.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per piece that cannot be cut, never in a loop that matters"
)]

mod block;
mod centre;
mod change;
mod compare;
mod cut_list;
mod darts;
mod edges;
mod grain;
mod ground;
mod inner;
mod lay;
mod layers;
mod lettering;
mod lines;
mod notches;
mod outline;
mod overview;
mod panel;
mod stiffened;
mod view;
mod words;

use document::Finding;
use pattern::{Pattern, Piece};
use sheet::{Drawing, List, Panel};
use stiffened::Stiffened;

pub use change::{Change, change};
pub use compare::{compare, moved, overlay};
pub use cut_list::cutting_list;
pub use lay::{LAY_SCALE, LayWords, lay_drawing, lay_frame, lay_panel};
pub use layers::{layer_of, layers};
pub use lines::lines;
pub use words::{how_often, spoken};

/// What is written on every piece besides what the piece itself says.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Labels {
    /// The garment, such as "Concert dress".
    pub garment: String,
    /// Its version, such as "version 3"; may be empty.
    pub version: String,
    /// Whose body or which size it is for; may be empty.
    pub body: String,
    /// The date that is printed, as `2026-11-24`; none is printed where there is none.
    pub date: Option<String>,
}

/// A piece with all its marks and words; a finding where its allowances leave no cutting line.
pub fn panel(piece: &Piece, labels: &Labels) -> Result<Panel, Finding> {
    panel::panel(piece, &Stiffened::default(), labels)
}

/// All pieces in the order of the pattern; every finding where some have no cutting line.
pub fn panels(pattern: &Pattern, labels: &Labels) -> Result<Vec<Panel>, Vec<Finding>> {
    let (mut panels, mut findings) = (Vec::new(), Vec::new());
    for piece in &pattern.pieces {
        match panel::panel(piece, &Stiffened::of(pattern, piece), labels) {
            Ok(panel) => panels.push(panel),
            Err(finding) => findings.push(finding),
        }
    }
    if findings.is_empty() {
        Ok(panels)
    } else {
        Err(findings)
    }
}

/// All pieces, the cutting list and what the marks ask for as a drawing to be laid out on paper.
pub fn drawing(pattern: &Pattern, labels: &Labels) -> Result<Drawing, Vec<Finding>> {
    Ok(Drawing {
        title: labels.garment.clone(),
        subject: labels.body.clone(),
        version: labels.version.clone(),
        date: labels.date.clone(),
        language: "en".to_owned(),
        panels: panels(pattern, labels)?,
        plates: layers::plate(pattern, labels).into_iter().collect(),
        lists: to_cut(pattern),
        legend: words::legend(pattern),
    })
}

/// The cutting list under headings of its own: "To cut from the shell".
fn to_cut(pattern: &Pattern) -> Vec<List> {
    let list = |list: List| List {
        title: list.title.replacen("From", "To cut from", 1),
        ..list
    };
    cutting_list(pattern).into_iter().map(list).collect()
}

/// The same drawing with all pieces side by side on one panel, in rows in the order of the pattern and at one scale, none
/// over another: for a picture of the whole.
pub fn overview(pattern: &Pattern, labels: &Labels) -> Result<Drawing, Vec<Finding>> {
    let drawing = drawing(pattern, labels)?;
    let panels = vec![overview::side_by_side(&drawing.panels, &labels.garment)];
    Ok(Drawing { panels, ..drawing })
}
