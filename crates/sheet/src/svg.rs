//! SVG 1.1 in true millimetres: a group a piece, named edges, layers as classes, words as words.
//!
//! Layers of cloth have groups of their own within their piece, such as `front.lining`, so that a page can hide them. Width, height and view box are the same millimetres, so one unit of the file is one millimetre. Pieces lie side by
//! side and unturned. Knows no paper.

use std::collections::BTreeSet;
use std::fmt::Write as _;

use geometry::{BezPath, PathEl, Point, Vec2};

use crate::check;
use crate::drawing::{Anchor, Colour, Drawing, Item, Line, Shape, Words};
use crate::fault::Fault;
use crate::font::{self, Weight};
use crate::ink::{self, Turned};
use crate::layout::{self, Layout, Page, Placed};
use crate::pack::{self, Spot};

/// Paper round the drawing, mm.
const MARGIN_MM: f64 = 10.0;

/// Writes a drawing as SVG.
pub fn svg(drawing: &Drawing) -> Result<String, Fault> {
    check::check(drawing)?;
    let placed = side_by_side(drawing);
    let right = placed.iter().map(|one| one.place.x1).fold(0.0, f64::max);
    let bottom = placed.iter().map(|one| one.place.y1).fold(0.0, f64::max);
    let size = Vec2::new((right + MARGIN_MM).ceil(), (bottom + MARGIN_MM).ceil());
    let mut writer = Writer::new(size, &drawing.language, &drawing.title);
    writer.background(size);
    for panel in &placed {
        writer.open_group(Some(&panel.id), &panel.title);
        writer.cloths(&panel.id, &panel.items);
        writer.close_group();
    }
    Ok(writer.finish())
}

/// One page of a layout as SVG, to look at; `None` where there is no such page, from 0.
pub fn page_svg(layout: &Layout, page: usize) -> Option<String> {
    let drawn = layout.pages.get(page)?;
    Some(self::page(drawn, &layout.language))
}

/// Writes one page of a layout as SVG.
pub(crate) fn page(page: &Page, language: &str) -> String {
    let size = Vec2::new(page.width_mm, page.height_mm);
    let mut writer = Writer::new(size, language, &page.label);
    for (index, group) in page.groups.iter().enumerate() {
        let clip = group
            .clip
            .map(|clip| writer.clip(index, &crate::marks::rectangle(clip)));
        writer.open_clipped(clip.as_deref());
        writer.items(group.id.as_deref(), &group.items);
        writer.close_group();
    }
    writer.finish()
}

/// The panels packed upright into something like a square.
fn side_by_side(drawing: &Drawing) -> Vec<Placed> {
    let upright = |panel| ink::turned(panel).into_iter().take(1).collect();
    let turned: Vec<Vec<Turned>> = drawing.panels.iter().map(upright).collect();
    let sizes = || turned.iter().map(|turns| turns[0].size);
    let area: f64 = sizes().map(|size| size.x * size.y).sum();
    let widest = sizes().map(|size| size.x).fold(0.0, f64::max);
    let page = Vec2::new(widest.max(1.2 * area.sqrt()), f64::INFINITY);
    let order: Vec<usize> = (0..turned.len()).collect();
    let spots = pack::on_pages(&turned, &order, page)
        .expect("the page is as wide as the widest panel and endless");
    let put = |spot: &Spot| {
        let place = spot.place + Vec2::new(MARGIN_MM, MARGIN_MM);
        let spot = Spot { place, ..*spot };
        layout::put(&drawing.panels[spot.panel], &turned[spot.panel][0], &spot)
    };
    spots.iter().map(put).collect()
}

struct Writer {
    text: String,
    ids: BTreeSet<String>,
}

impl Writer {
    fn new(size: Vec2, language: &str, title: &str) -> Self {
        let (width, height) = (number(size.x), number(size.y));
        let text = format!(
            "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n\
             <svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" xml:lang=\"{}\" stroke-linejoin=\"round\">\n\
             <title>{}</title>\n",
            escaped(language),
            escaped(title)
        );
        Self {
            text,
            ids: BTreeSet::new(),
        }
    }

    fn finish(mut self) -> String {
        self.text.push_str("</svg>\n");
        self.text
    }

    fn open_group(&mut self, id: Option<&str>, title: &str) {
        let id = id.map(|id| self.id(&[id])).unwrap_or_default();
        self.push(format_args!(
            "<g{id} class=\"piece\">\n<title>{}</title>\n",
            escaped(title)
        ));
    }

    /// Paper behind everything, so that a dark viewer shows ink on paper too.
    fn background(&mut self, size: Vec2) {
        self.push(format_args!(
            "<rect width=\"{}\" height=\"{}\" fill=\"{}\"/>\n",
            number(size.x),
            number(size.y),
            colour(Colour::PAPER)
        ));
    }

    /// Items of a panel, each layer of cloth in a group of its own.
    fn cloths(&mut self, panel: &str, items: &[Item]) {
        for run in items.chunk_by(|one, other| one.layer == other.layer) {
            let layer = run[0].layer;
            if layer.is_cloth() {
                let id = self.id(&[panel, layer.word()]);
                self.push(format_args!(
                    "<g{id} class=\"cloth {}\">\n<title>{}</title>\n",
                    layer.word(),
                    layer.title()
                ));
                self.items(Some(panel), run);
                self.close_group();
            } else {
                self.items(Some(panel), run);
            }
        }
    }

    fn clip(&mut self, index: usize, path: &BezPath) -> String {
        let id = format!("printed-{index}");
        self.push(format_args!(
            "<clipPath id=\"{id}\"><path d=\"{}\"/></clipPath>\n",
            data(path)
        ));
        id
    }

    fn open_clipped(&mut self, clip: Option<&str>) {
        match clip {
            Some(id) => self.push(format_args!("<g clip-path=\"url(#{id})\">\n")),
            None => self.text.push_str("<g>\n"),
        }
    }

    fn close_group(&mut self) {
        self.text.push_str("</g>\n");
    }

    fn items(&mut self, panel: Option<&str>, items: &[Item]) {
        for item in items {
            let name = item.id.as_deref().unwrap_or_default();
            let id = match (panel, name) {
                (_, "") => String::new(),
                (Some(panel), name) => self.id(&[panel, name, item.layer.word()]),
                (None, name) => self.id(&[name]),
            };
            let head = format!("{id} class=\"{}\"", item.layer.word());
            match &item.shape {
                Shape::Path { path, line, fill } => self.path(&head, path, line.as_ref(), *fill),
                Shape::Text(words) => self.words(&head, words),
            }
        }
    }

    /// An `id` of the first two parts; the further parts, then a count, are added where it was given before.
    fn id(&mut self, parts: &[&str]) -> String {
        let joined = |count: usize| slug(&parts[..count.min(parts.len())].join("."));
        let whole = joined(parts.len());
        let counted = (2..).map(|count| format!("{whole}.{count}"));
        let mut choices = [joined(2), whole.clone()].into_iter().chain(counted);
        let id = choices
            .find(|id| !self.ids.contains(id))
            .unwrap_or_default();
        let attribute = format!(" id=\"{}\"", escaped(&id));
        self.ids.insert(id);
        attribute
    }

    fn path(&mut self, head: &str, path: &BezPath, line: Option<&Line>, fill: Option<Colour>) {
        let fill = fill.map_or_else(|| "none".to_owned(), colour);
        self.push(format_args!(
            "<path{head} d=\"{}\" fill=\"{fill}\"",
            data(path)
        ));
        if let Some(line) = line {
            let width = number(line.width_mm);
            self.push(format_args!(
                " stroke=\"{}\" stroke-width=\"{width}\"",
                colour(line.colour)
            ));
            if !line.dash.is_empty() {
                let dash: Vec<String> = line.dash.iter().map(|mm| number(*mm)).collect();
                self.push(format_args!(" stroke-dasharray=\"{}\"", dash.join(" ")));
            }
        }
        self.text.push_str("/>\n");
    }

    fn words(&mut self, head: &str, words: &Words) {
        let (x, y) = (number(words.at.x), number(words.at.y));
        let anchor = match words.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        self.push(format_args!(
            "<text{head} x=\"{x}\" y=\"{y}\" font-family=\"{}, sans-serif\" font-size=\"{}\" text-anchor=\"{anchor}\" \
             fill=\"{}\"",
            font::FAMILY,
            number(words.size_mm),
            colour(words.colour)
        ));
        if words.weight == Weight::Bold {
            self.text.push_str(" font-weight=\"700\"");
        }
        if words.turn_degrees != 0.0 {
            let turn = number(words.turn_degrees);
            self.push(format_args!(" transform=\"rotate({turn} {x} {y})\""));
        }
        self.push(format_args!(">{}</text>\n", escaped(&words.text)));
    }

    fn push(&mut self, text: std::fmt::Arguments<'_>) {
        self.text.write_fmt(text).expect("a string takes any text");
    }
}

/// A path's data, curves as curves.
fn data(path: &BezPath) -> String {
    let pair = |p: &Point| format!("{} {}", number(p.x), number(p.y));
    let element = |element: &PathEl| match element {
        PathEl::MoveTo(p) => format!("M{}", pair(p)),
        PathEl::LineTo(p) => format!("L{}", pair(p)),
        PathEl::QuadTo(a, p) => format!("Q{} {}", pair(a), pair(p)),
        PathEl::CurveTo(a, b, p) => format!("C{} {} {}", pair(a), pair(b), pair(p)),
        PathEl::ClosePath => "Z".to_owned(),
    };
    let elements: Vec<String> = path.elements().iter().map(element).collect();
    elements.join(" ")
}

/// A number kept to hundredths, without needless zeros; the same for 0 and −0.
fn number(mm: f64) -> String {
    let hundredths = (mm * 100.0).round() + 0.0;
    format!("{}", hundredths / 100.0)
}

fn colour(Colour(r, g, b): Colour) -> String {
    format!("#{r:02x}{g:02x}{b:02x}")
}

/// Text as XML takes it: signs escaped, control characters, which XML forbids, left out.
fn escaped(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for letter in text.chars() {
        match letter {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\u{fffe}' | '\u{ffff}' => {}
            letter if letter.is_control() => {}
            letter => safe.push(letter),
        }
    }
    safe
}

/// A name as an `id` takes it: without spaces.
fn slug(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short_and_never_minus_nought() {
        assert_eq!(number(-0.001), "0");
        assert_eq!(number(12.345_678), "12.35");
        assert_eq!(number(100.0), "100");
    }

    #[test]
    fn signs_are_escaped() {
        assert_eq!(
            escaped("a<b & \"c\"\u{7}>"),
            "a&lt;b &amp; &quot;c&quot;&gt;"
        );
    }

    #[test]
    fn the_same_edge_on_two_layers_gets_two_ids() {
        let mut writer = Writer::new(Vec2::new(1.0, 1.0), "en", "");
        assert_eq!(
            writer.id(&["front", "side seam", "seam-line"]),
            " id=\"front.side-seam\""
        );
        assert_eq!(
            writer.id(&["front", "side seam", "cutting-line"]),
            " id=\"front.side-seam.cutting-line\""
        );
        assert_eq!(
            writer.id(&["front", "side seam", "cutting-line"]),
            " id=\"front.side-seam.cutting-line.2\""
        );
    }
}
