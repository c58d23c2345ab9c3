//! PDF 1.7 (ISO 32000-1): true size, one optional-content group a layer, fonts embedded, no clock.
//!
//! Knows only a [`Layout`]. Invariants: page content is written in millimetres with two decimals, and turned into the
//! format's units by the one matrix of [`content`]; curves stay curves; the same layout gives the same bytes.

mod content;
mod type0;

use std::collections::BTreeSet;

use pdf_writer::types::PageMode;
use pdf_writer::{Date, Filter, Finish, Name, Pdf, Rect, Ref, TextStr};

use crate::font::Weight;
use crate::layer::Layer;
use crate::layout::{Layout, Page};
use type0::Faces;

/// Units of the format in a millimetre: 1/72 in each.
const UNITS_PER_MM: f64 = 72.0 / 25.4;

/// Writes a layout as PDF.
pub fn pdf(layout: &Layout) -> Vec<u8> {
    let mut writer = Writer::new(layout);
    writer.pages();
    writer.layers();
    writer.fonts();
    writer.catalog();
    writer.about();
    writer.pdf.finish()
}

struct Writer<'a> {
    layout: &'a Layout,
    layers: Vec<Layer>,
    pdf: Pdf,
    faces: Faces,
    next: Ref,
    catalog: Ref,
    tree: Ref,
    layer_ids: Vec<Ref>,
    font_ids: [Ref; 2],
}

impl<'a> Writer<'a> {
    fn new(layout: &'a Layout) -> Self {
        let layers = used_layers(layout);
        let mut next = Ref::new(1);
        let (catalog, tree) = (next.bump(), next.bump());
        let layer_ids = layers.iter().map(|_| next.bump()).collect();
        let font_ids = [next.bump(), next.bump()];
        Self {
            layout,
            layers,
            pdf: Pdf::new(),
            faces: Faces::default(),
            next,
            catalog,
            tree,
            layer_ids,
            font_ids,
        }
    }

    fn pages(&mut self) {
        let mut ids = Vec::new();
        for page in &self.layout.pages {
            let (id, stream) = (self.next.bump(), self.next.bump());
            let bytes = deflated(&content::write(page, &mut self.faces));
            self.pdf.stream(stream, &bytes).filter(Filter::FlateDecode);
            self.page(id, stream, page);
            ids.push(id);
        }
        let mut tree = self.pdf.pages(self.tree);
        tree.count(i32::try_from(ids.len()).unwrap_or(i32::MAX))
            .kids(ids);
        // Fonts and layers are the same on every page, so they are inherited from the tree.
        let mut resources = tree.resources();
        let mut fonts = resources.fonts();
        for (weight, id) in self.faces.used().zip(self.font_ids) {
            fonts.pair(type0::name(weight), id);
        }
        fonts.finish();
        let mut properties = resources.insert(Name(b"Properties")).dict();
        for (layer, id) in self.layers.iter().zip(&self.layer_ids) {
            properties.pair(Name(layer.word().as_bytes()), *id);
        }
    }

    fn page(&mut self, id: Ref, stream: Ref, page: &Page) {
        let units = |mm: f64| (mm * UNITS_PER_MM) as f32;
        let paper = Rect::new(0.0, 0.0, units(page.width_mm), units(page.height_mm));
        let mut writer = self.pdf.page(id);
        writer.parent(self.tree).media_box(paper).crop_box(paper);
        writer.bleed_box(paper).trim_box(paper).contents(stream);
    }

    fn layers(&mut self) {
        for (layer, id) in self.layers.iter().zip(&self.layer_ids) {
            let mut group = self.pdf.indirect(*id).dict();
            group.pair(Name(b"Type"), Name(b"OCG"));
            group.pair(Name(b"Name"), TextStr(layer.title()));
        }
    }

    fn fonts(&mut self) {
        let used: Vec<Weight> = self.faces.used().collect();
        for (weight, id) in used.into_iter().zip(self.font_ids) {
            self.faces.write(weight, id, &mut self.next, &mut self.pdf);
        }
    }

    fn catalog(&mut self) {
        let labels: Vec<Ref> = self.layout.pages.iter().map(|_| self.next.bump()).collect();
        for (page, id) in self.layout.pages.iter().zip(&labels) {
            self.pdf
                .indirect(*id)
                .start::<pdf_writer::writers::PageLabel>()
                .prefix(TextStr(&page.label));
        }
        let mut catalog = self.pdf.catalog(self.catalog);
        catalog.pages(self.tree).page_mode(PageMode::UseNone);
        catalog.lang(TextStr(&self.layout.language));
        let mut preferences = catalog.viewer_preferences();
        preferences.display_doc_title(true);
        // No scaling, the tray by the page's size, one side: what a pattern needs and a print dialogue forgets.
        preferences.pair(Name(b"PrintScaling"), Name(b"None"));
        preferences.pair(Name(b"PickTrayByPDFSize"), true);
        preferences.pair(Name(b"Duplex"), Name(b"Simplex"));
        preferences.finish();
        let mut numbers = catalog.page_labels();
        let mut entries = numbers.nums();
        for (index, id) in labels.iter().enumerate() {
            entries.insert(i32::try_from(index).unwrap_or(i32::MAX), *id);
        }
        entries.finish();
        numbers.finish();
        let ids = || self.layer_ids.iter().copied();
        let mut layers = catalog.insert(Name(b"OCProperties")).dict();
        layers.insert(Name(b"OCGs")).array().items(ids());
        let mut shown = layers.insert(Name(b"D")).dict();
        shown.pair(Name(b"Name"), TextStr("Layers"));
        shown.insert(Name(b"Order")).array().items(ids());
        shown.insert(Name(b"ON")).array().items(ids());
    }

    fn about(&mut self) {
        let id = self.next.bump();
        let mut info = self.pdf.document_info(id);
        info.title(TextStr(&self.layout.title))
            .creator(TextStr("Notchbook"));
        if !self.layout.subject.is_empty() {
            info.subject(TextStr(&self.layout.subject));
        }
        if let Some(date) = self.layout.date.as_deref().and_then(date) {
            info.creation_date(date);
        }
    }
}

fn used_layers(layout: &Layout) -> Vec<Layer> {
    let groups = layout.pages.iter().flat_map(|page| &page.groups);
    let items = groups.flat_map(|group| &group.items);
    let used: BTreeSet<Layer> = items.map(|item| item.layer).collect();
    used.into_iter().collect()
}

/// The date of a text such as `2026-11-24`, if it is one.
fn date(text: &str) -> Option<Date> {
    let mut parts = text.splitn(3, '-');
    let year: u16 = parts.next()?.parse().ok()?;
    let month: u8 = parts.next()?.parse().ok()?;
    let day: u8 = parts.next()?.parse().ok()?;
    let sound = year <= 9999 && (1..=12).contains(&month) && (1..=31).contains(&day);
    sound.then(|| Date::new(year).month(month).day(day))
}

/// Compressed as the format's `FlateDecode` has it; level 6 of 10, beyond which drawings hardly shrink.
fn deflated(bytes: &[u8]) -> Vec<u8> {
    miniz_oxide::deflate::compress_to_vec_zlib(bytes, 6)
}
