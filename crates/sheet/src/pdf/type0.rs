//! The fonts of a PDF: only the letters used, each with the character it stands for, so that words can be searched.

use std::collections::BTreeMap;

use pdf_writer::types::{CidFontType, FontFlags, SystemInfo, UnicodeCmap};
use pdf_writer::{Filter, Finish, Name, Pdf, Rect, Ref, Str};
use subsetter::GlyphRemapper;
use ttf_parser::GlyphId;

use super::deflated;
use crate::font::{self, Weight};

const SYSTEM: SystemInfo = SystemInfo {
    registry: Str(b"Adobe"),
    ordering: Str(b"Identity"),
    supplement: 0,
};

/// The name under which content asks for a font.
pub(crate) const fn name(weight: Weight) -> Name<'static> {
    match weight {
        Weight::Regular => Name(b"regular"),
        Weight::Bold => Name(b"bold"),
    }
}

/// Which letters of each face have been used.
#[derive(Default)]
pub(crate) struct Faces {
    of: BTreeMap<Weight, Letters>,
}

#[derive(Default)]
struct Letters {
    glyphs: GlyphRemapper,
    /// By number in the embedded font: the glyph of the whole font, and its character.
    used: BTreeMap<u16, (GlyphId, char)>,
}

impl Faces {
    /// The weights of which any letter was used, lighter first.
    pub(crate) fn used(&self) -> impl Iterator<Item = Weight> + '_ {
        Weight::ALL
            .into_iter()
            .filter(|weight| self.of.contains_key(weight))
    }

    /// The words as a string of the embedded font: two bytes a letter.
    pub(crate) fn encode(&mut self, weight: Weight, text: &str) -> Vec<u8> {
        let letters = self.of.entry(weight).or_default();
        let mut bytes = Vec::with_capacity(2 * text.len());
        for letter in text.chars() {
            let glyph = font::glyph(weight, letter);
            let number = letters.glyphs.remap(glyph.0);
            letters.used.insert(number, (glyph, letter));
            bytes.extend(number.to_be_bytes());
        }
        bytes
    }

    /// Writes one font under `id`.
    pub(crate) fn write(&self, weight: Weight, id: Ref, next: &mut Ref, pdf: &mut Pdf) {
        let Some(letters) = self.of.get(&weight) else {
            return;
        };
        let (cid, descriptor, map, file) = (next.bump(), next.bump(), next.bump(), next.bump());
        let full_name = match weight {
            Weight::Regular => Name(b"NOTCHA+Andika"),
            Weight::Bold => Name(b"NOTCHB+Andika-Bold"),
        };
        pdf.type0_font(id)
            .base_font(full_name)
            .encoding_predefined(Name(b"Identity-H"))
            .descendant_font(cid)
            .to_unicode(map);
        write_cid(pdf, cid, descriptor, weight, full_name, letters);
        write_descriptor(pdf, descriptor, file, weight, full_name);
        write_map(pdf, map, letters);
        write_file(pdf, file, weight, letters);
    }
}

fn write_cid(
    pdf: &mut Pdf,
    id: Ref,
    descriptor: Ref,
    weight: Weight,
    full_name: Name,
    letters: &Letters,
) {
    let mut cid = pdf.cid_font(id);
    cid.subtype(CidFontType::Type2).base_font(full_name);
    cid.system_info(SYSTEM)
        .font_descriptor(descriptor)
        .default_width(0.0);
    let widths = letters
        .used
        .values()
        .map(|(glyph, _)| thousandths(font::advance(weight, *glyph)));
    let first = letters.used.keys().next().copied().unwrap_or(0);
    // The numbers of used letters run on from the first without a gap: the remapper counts them up.
    cid.widths().consecutive(first, widths).finish();
    cid.cid_to_gid_map_predefined(Name(b"Identity"));
}

fn thousandths(ems: f64) -> f32 {
    (ems * 1000.0).round() as f32
}

fn write_descriptor(pdf: &mut Pdf, id: Ref, file: Ref, weight: Weight, full_name: Name) {
    let face = weight.face();
    let scaled = |units: i16| thousandths(f64::from(units) / f64::from(face.units_per_em()));
    let bounds = face.global_bounding_box();
    let bounds = Rect::new(
        scaled(bounds.x_min),
        scaled(bounds.y_min),
        scaled(bounds.x_max),
        scaled(bounds.y_max),
    );
    // The thickness of stems is only a hint for readers that substitute the font; ours is embedded.
    let stem = if weight == Weight::Bold { 140.0 } else { 80.0 };
    pdf.font_descriptor(id)
        .name(full_name)
        .flags(FontFlags::SYMBOLIC)
        .bbox(bounds)
        .italic_angle(0.0)
        .ascent(scaled(face.ascender()))
        .descent(scaled(face.descender()))
        .cap_height(scaled(face.capital_height().unwrap_or(face.ascender())))
        .stem_v(stem)
        .font_file2(file);
}

fn write_map(pdf: &mut Pdf, id: Ref, letters: &Letters) {
    let mut map = UnicodeCmap::new(Name(b"Notchbook-Letters"), SYSTEM);
    for (number, (_, letter)) in &letters.used {
        map.pair(*number, *letter);
    }
    pdf.cmap(id, &deflated(&map.finish()))
        .filter(Filter::FlateDecode);
}

fn write_file(pdf: &mut Pdf, id: Ref, weight: Weight, letters: &Letters) {
    let subset = subsetter::subset(weight.file(), 0, &letters.glyphs)
        .expect("the font is part of the program and a test subsets it");
    let length = i32::try_from(subset.len()).unwrap_or(i32::MAX);
    pdf.stream(id, &deflated(&subset))
        .filter(Filter::FlateDecode)
        .pair(Name(b"Length1"), length);
}
