//! Lays on paper: a panel at a stated scale, and a page for each lay.
//!
//! Knows panels and pages. Invariant: a page is drawn at the scale that it states.

use cloth::lay::Lay;
use drawing::{LayWords, lay_frame, lay_panel};
use geometry::{Affine, Rect};
use sheet::{Group, Layout, Page, Panel, Paper, PaperSize, Shape};

use super::words::{buy_words, title};
use super::{Goods, Laid, Shown};
use crate::Draft;

/// Scales that are tried, the largest first; a hundredth of the width of an A4 page is enough for any cloth.
const SCALES: [f64; 9] = [10.0, 12.5, 15.0, 20.0, 25.0, 30.0, 40.0, 50.0, 100.0];

/// A lay as a panel, so many times smaller than the cloth.
pub fn panel(draft: &Draft, goods: &Goods, shown: &Shown, scale: f64) -> Panel {
    let words = above(goods, shown, scale);
    let pattern = &draft.garment.pattern;
    lay_panel(
        pattern,
        &goods.cloth,
        &shown.lay,
        &shown.answer.order,
        &words,
    )
}

/// What stands above a lay.
fn above(goods: &Goods, shown: &Shown, scale: f64) -> LayWords {
    LayWords {
        title: title(goods, shown.lay.way),
        lines: buy_words(goods, shown),
        scale,
    }
}

/// A page for the shortest lay of each cloth, upright or lying, whichever shows it larger.
pub fn pages(draft: &Draft, laid: &[Laid], size: PaperSize) -> Layout {
    let paper = Paper::new(size);
    let mut pages = Vec::new();
    for one in laid {
        for shown in one.lays.iter().take(1) {
            pages.push(page(draft, &one.goods, shown, &paper, pages.len() + 1));
        }
    }
    Layout {
        title: format!("{}: lays", draft.recipe.name),
        subject: draft.body.name.clone(),
        date: draft.recipe.date.clone(),
        language: "en".to_owned(),
        paper,
        pages,
    }
}

fn page(draft: &Draft, goods: &Goods, shown: &Shown, paper: &Paper, number: usize) -> Page {
    let (short, long) = paper.size.size_mm();
    let is_long = is_longer_than_wide(&shown.lay);
    let sizes = if is_long {
        [(long, short), (short, long)]
    } else {
        [(short, long), (long, short)]
    };
    let mut chosen = None;
    'scales: for scale in SCALES {
        let words = above(goods, shown, scale);
        let frame = lay_frame(&goods.cloth, &shown.lay, &shown.answer.order, &words);
        let bounds = frame.bounds().unwrap_or_default();
        for (width, height) in sizes {
            let printed = Rect::new(0.0, 0.0, width, height).inset(-paper.margin_mm);
            let fits = bounds.width() <= printed.width() && bounds.height() <= printed.height();
            if fits || scale == SCALES[SCALES.len() - 1] {
                chosen = Some((scale, bounds, printed, (width, height)));
                break 'scales;
            }
        }
    }
    let (scale, bounds, printed, (width_mm, height_mm)) = chosen.expect("the last scale is taken");
    let panel = panel(draft, goods, shown, scale);
    let onto = Affine::translate(printed.origin() - bounds.origin());
    Page {
        label: format!("lay {number}"),
        width_mm,
        height_mm,
        printed,
        shows: None,
        groups: vec![Group {
            id: Some(format!("{}-{number}", panel.id)),
            clip: None,
            items: moved(panel, onto),
        }],
    }
}

fn is_longer_than_wide(lay: &Lay) -> bool {
    let long = lay
        .sections
        .iter()
        .map(|one| one.length)
        .fold(0.0, f64::max);
    let wide: f64 = lay.sections.iter().map(|one| one.width).sum();
    long > wide
}

fn moved(panel: Panel, by: Affine) -> Vec<sheet::Item> {
    let mut items = panel.items;
    for item in &mut items {
        match &mut item.shape {
            Shape::Path { path, .. } => path.apply_affine(by),
            Shape::Text(words) => words.at = by * words.at,
        }
    }
    items.sort_by_key(|item| item.layer);
    items
}
