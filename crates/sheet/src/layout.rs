//! The layout: pages of paper with everything that is drawn on them, in each page's own millimetres.
//!
//! Knows no file format. Invariant: what lies on a page is already in page coordinates (x right, y down, from the top
//! left corner of the paper), so an exporter only writes it down.

use geometry::{Affine, Rect};

use crate::check;
use crate::drawing::{Drawing, Item, Panel, Shape};
use crate::fault::Fault;
use crate::ink::Turned;
use crate::pack::Spot;
use crate::paper::{Paper, Spread};
use crate::{tiles, whole};

/// A drawing on paper, ready to be written.
#[derive(Clone, Debug, PartialEq)]
pub struct Layout {
    /// What it is.
    pub title: String,
    /// Whose it is; may be empty.
    pub subject: String,
    /// The date that the file bears, as `2026-11-24`.
    pub date: Option<String>,
    /// Language of the words, as BCP 47 has it.
    pub language: String,
    /// The paper.
    pub paper: Paper,
    /// The pages in the order of printing.
    pub pages: Vec<Page>,
}

/// A page of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Its label: "cover", "B3".
    pub label: String,
    /// Width, mm.
    pub width_mm: f64,
    /// Height, mm.
    pub height_mm: f64,
    /// The part of the page that is printed on, mm.
    pub printed: Rect,
    /// The part of the joined sheet that it shows, in the sheet's millimetres; none on a cover.
    pub shows: Option<Rect>,
    /// What is drawn, in this order.
    pub groups: Vec<Group>,
}

/// Things on a page that belong together.
#[derive(Clone, Debug, PartialEq)]
pub struct Group {
    /// Name of the panel that they come from; none for what helps to print and join.
    pub id: Option<String>,
    /// Outside this nothing is drawn, page millimetres.
    pub clip: Option<Rect>,
    /// What is drawn.
    pub items: Vec<Item>,
}

/// Lays a drawing out on paper: pieces packed and turned so that few sheets are printed.
pub fn lay_out(drawing: &Drawing, paper: &Paper) -> Result<Layout, Fault> {
    check::check(drawing)?;
    paper.check()?;
    let pages = match paper.size.spread() {
        Spread::Tiles => tiles::pages(drawing, paper)?,
        Spread::Sheets | Spread::Roll => whole::pages(drawing, paper)?,
    };
    Ok(Layout {
        title: drawing.title.clone(),
        subject: drawing.subject.clone(),
        date: drawing.date.clone(),
        language: drawing.language.clone(),
        paper: *paper,
        pages,
    })
}

/// A panel in its place on a sheet or page.
#[derive(Clone, Debug)]
pub(crate) struct Placed {
    /// Stable name of the panel.
    pub(crate) id: String,
    /// Name for people.
    pub(crate) title: String,
    /// Its box, mm.
    pub(crate) place: Rect,
    /// Its items, layer by layer, in the coordinates of the sheet.
    pub(crate) items: Vec<Item>,
    /// Boxes of its ink, likewise.
    pub(crate) ink: Vec<Rect>,
}

/// Puts a panel into its place. The shift is a whole number of hundredths of a millimetre, so that coordinates that
/// were kept to hundredths stay as they are.
pub(crate) fn put(panel: &Panel, turned: &Turned, spot: &Spot) -> Placed {
    let at = spot.place.origin().to_vec2() + turned.into_box.translation();
    let into_sheet = turned
        .into_box
        .with_translation((hundredths(at.x), hundredths(at.y)).into());
    let shift = into_sheet.translation() - turned.into_box.translation();
    let moved = |item: &Item| transformed(item, into_sheet, turned.quarter);
    let mut items: Vec<Item> = panel.items.iter().map(moved).collect();
    items.sort_by_key(|item| item.layer);
    Placed {
        id: panel.id.clone(),
        title: panel.title.clone(),
        place: spot.place,
        items,
        ink: turned.ink.iter().map(|one| *one + shift).collect(),
    }
}

fn hundredths(mm: f64) -> f64 {
    (mm * 100.0).round() / 100.0
}

/// The item under a transform that turns by quarters and shifts.
pub(crate) fn transformed(item: &Item, transform: Affine, quarter: u8) -> Item {
    let mut item = item.clone();
    match &mut item.shape {
        Shape::Path { path, .. } => path.apply_affine(transform),
        Shape::Text(words) => {
            words.at = transform * words.at;
            words.turn_degrees = (words.turn_degrees + 90.0 * f64::from(quarter)) % 360.0;
        }
    }
    item
}

impl Placed {
    /// The part of the panel that a page shows: `window` of the sheet, whose corner comes to lie at the corner of
    /// `printed`. `None` where nothing of it lies there.
    pub(crate) fn on_page(&self, window: Rect, printed: Rect) -> Option<Group> {
        let shift = Affine::translate(printed.origin() - window.origin());
        let items: Vec<Item> = self
            .items
            .iter()
            .filter(|item| item.bounds().is_some_and(|bounds| bounds.overlaps(window)))
            .map(|item| transformed(item, shift, 0))
            .collect();
        (!items.is_empty()).then(|| Group {
            id: Some(self.id.clone()),
            clip: Some(printed),
            items,
        })
    }
}
