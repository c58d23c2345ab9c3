//! PNG previews, drawn from the SVG with the font of the papers.

use std::sync::{Arc, LazyLock};

use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{Options, Tree, fontdb};

use crate::drawing::Drawing;
use crate::fault::Fault;
use crate::font::{self, Weight};
use crate::layout::Layout;
use crate::svg;

/// Draws all pieces of a drawing side by side, so many pixels wide.
pub fn png(drawing: &Drawing, width_px: u32) -> Result<Vec<u8>, Fault> {
    picture(&svg::svg(drawing)?, width_px)
}

/// Draws one page of a layout, counted from 0, so many pixels wide.
pub fn page_png(layout: &Layout, page: usize, width_px: u32) -> Result<Vec<u8>, Fault> {
    let found = layout.pages.get(page).ok_or(Fault::NoSuchPage {
        found: page,
        pages: layout.pages.len(),
    })?;
    picture(&svg::page(found, &layout.language), width_px)
}

fn picture(svg: &str, width_px: u32) -> Result<Vec<u8>, Fault> {
    let wrong_size = Fault::PictureSize { found: width_px };
    if !(16..=8192).contains(&width_px) {
        return Err(wrong_size);
    }
    let tree =
        Tree::from_str(svg, &options()).expect("our own writer makes sound SVG, as its tests show");
    let scale = width_px as f32 / tree.size().width();
    let height_px = (tree.size().height() * scale).ceil().max(1.0) as u32;
    if height_px > 65_000 {
        return Err(wrong_size);
    }
    let mut pixels = Pixmap::new(width_px, height_px).ok_or(wrong_size)?;
    pixels.fill(Color::WHITE);
    resvg::render(
        &tree,
        Transform::from_scale(scale, scale),
        &mut pixels.as_mut(),
    );
    Ok(pixels
        .encode_png()
        .expect("pixels in memory can be written as PNG"))
}

fn options() -> Options<'static> {
    static FONTS: LazyLock<Arc<fontdb::Database>> = LazyLock::new(|| {
        let mut fonts = fontdb::Database::new();
        for weight in Weight::ALL {
            fonts.load_font_data(weight.file().to_vec());
        }
        Arc::new(fonts)
    });
    Options {
        font_family: font::FAMILY.to_owned(),
        fontdb: Arc::clone(&FONTS),
        ..Options::default()
    }
}
