//! What is drawn on one page, in the operators of the format.

use geometry::{BezPath, PathEl, Point};
use pdf_writer::types::LineJoinStyle;
use pdf_writer::{Content, Name, Str};

use super::UNITS_PER_MM;
use super::type0::{self, Faces};
use crate::drawing::{Colour, Item, Line, Shape, Words};
use crate::font::Weight;
use crate::layer::Layer;
use crate::layout::{Group, Page};
use crate::marks::rectangle;

/// Writes a page; letters that it uses are noted in `faces`.
pub(crate) fn write(page: &Page, faces: &mut Faces) -> Vec<u8> {
    let mut content = Content::new();
    // The one line of scale: millimetres from the top left corner, y down, to units from the bottom left, y up.
    let scale = UNITS_PER_MM as f32;
    content.transform([
        scale,
        0.0,
        0.0,
        -scale,
        0.0,
        (page.height_mm * UNITS_PER_MM) as f32,
    ]);
    content.set_line_join(LineJoinStyle::RoundJoin);
    for group in &page.groups {
        add_group(&mut content, group, faces);
    }
    content.finish().into_vec()
}

fn add_group(content: &mut Content, group: &Group, faces: &mut Faces) {
    content.save_state();
    if let Some(clip) = group.clip {
        add_path(content, &rectangle(clip));
        content.clip_nonzero().end_path();
    }
    for run in group.items.chunk_by(|a, b| a.layer == b.layer) {
        begin_layer(content, run[0].layer);
        let mut pen = Pen::default();
        for item in run {
            add_item(content, item, &mut pen, faces);
        }
        content.end_marked_content();
    }
    content.restore_state();
}

fn begin_layer(content: &mut Content, layer: Layer) {
    content
        .begin_marked_content_with_properties(Name(b"OC"))
        .properties_named(Name(layer.word().as_bytes()));
}

/// What the last item has set, so that it is not set again.
#[derive(Default)]
struct Pen {
    line: Option<Line>,
    fill: Option<Colour>,
}

fn add_item(content: &mut Content, item: &Item, pen: &mut Pen, faces: &mut Faces) {
    match &item.shape {
        Shape::Text(words) => add_words(content, words, pen, faces),
        Shape::Path { path, line, fill } => {
            if let Some(line) = line {
                set_line(content, line, pen);
            }
            if let Some(fill) = fill {
                set_fill(content, *fill, pen);
            }
            add_path(content, path);
            match (line, fill) {
                (Some(_), Some(_)) => content.fill_nonzero_and_stroke(),
                (Some(_), None) => content.stroke(),
                (None, Some(_)) => content.fill_nonzero(),
                (None, None) => content.end_path(),
            };
        }
    }
}

fn set_line(content: &mut Content, line: &Line, pen: &mut Pen) {
    if pen.line.as_ref() == Some(line) {
        return;
    }
    content.set_line_width(kept(line.width_mm));
    content.set_dash_pattern(line.dash.iter().map(|mm| kept(*mm)), 0.0);
    match grey(line.colour) {
        Ok(grey) => content.set_stroke_gray(grey),
        Err([r, g, b]) => content.set_stroke_rgb(r, g, b),
    };
    pen.line = Some(line.clone());
}

fn set_fill(content: &mut Content, colour: Colour, pen: &mut Pen) {
    if pen.fill == Some(colour) {
        return;
    }
    match grey(colour) {
        Ok(grey) => content.set_fill_gray(grey),
        Err([r, g, b]) => content.set_fill_rgb(r, g, b),
    };
    pen.fill = Some(colour);
}

/// A grey is written as such, so that a printer takes its black ink only.
fn grey(Colour(r, g, b): Colour) -> Result<f32, [f32; 3]> {
    let part = |value: u8| (f32::from(value) / 255.0 * 1000.0).round() / 1000.0;
    if r == g && g == b {
        Ok(part(r))
    } else {
        Err([part(r), part(g), part(b)])
    }
}

fn add_path(content: &mut Content, path: &BezPath) {
    let mut last = Point::ORIGIN;
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(p) => {
                content.move_to(kept(p.x), kept(p.y));
                last = p;
            }
            PathEl::LineTo(p) => {
                content.line_to(kept(p.x), kept(p.y));
                last = p;
            }
            PathEl::QuadTo(c, p) => {
                // The same parabola as a cubic.
                cubic_to(content, last.lerp(c, 2.0 / 3.0), p.lerp(c, 2.0 / 3.0), p);
                last = p;
            }
            PathEl::CurveTo(a, b, p) => {
                cubic_to(content, a, b, p);
                last = p;
            }
            PathEl::ClosePath => {
                content.close_path();
            }
        }
    }
}

fn cubic_to(content: &mut Content, a: Point, b: Point, p: Point) {
    content.cubic_to(
        kept(a.x),
        kept(a.y),
        kept(b.x),
        kept(b.y),
        kept(p.x),
        kept(p.y),
    );
}

fn add_words(content: &mut Content, words: &Words, pen: &mut Pen, faces: &mut Faces) {
    set_fill(content, words.colour, pen);
    let place = words.place();
    let start = place * Point::new(-words.lead(), 0.0);
    // Letters stand up where the page's y runs down, so the matrix turns them over again.
    let [a, b, c, d, _, _] = place.as_coeffs().map(|part| part as f32);
    let glyphs = faces.encode(words.weight, &words.text);
    content.begin_text();
    content.set_font(font_name(words.weight), kept(words.size_mm));
    content.set_text_matrix([a, b, -c, -d, kept(start.x), kept(start.y)]);
    content.show(Str(&glyphs)).end_text();
}

const fn font_name(weight: Weight) -> Name<'static> {
    type0::name(weight)
}

/// Millimetres kept to a hundredth.
fn kept(mm: f64) -> f32 {
    ((mm * 100.0).round() / 100.0) as f32
}
