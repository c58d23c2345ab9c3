//! What a text is about, and which other texts it was drafted on.
//!
//! Knows the words with which texts begin, not what may stand in them; texts come from a [`Shelf`].

use std::sync::Arc;

use document::{Entry, Finding, Source, Span, parse};

use crate::draft::Shelf;

/// The word with which a text begins, such as `body` or `garment`; what keeps it from being read, where something does.
pub fn first_word(source: &Arc<Source>) -> Result<String, Vec<Finding>> {
    let entries = parse(source)?;
    let first = entries.first().map(Entry::name);
    first.map(str::to_owned).ok_or_else(|| vec![empty(source)])
}

/// Names of the texts that a garment names: those on which it stands, nearest first, then its body and
/// its cloths.
///
/// Where one of them is not on the shelf or not readable, what is named so far.
pub fn named(shelf: &mut dyn Shelf, garment: &Arc<Source>) -> Vec<String> {
    let mut names = Vec::new();
    let opened = garment::recipe::open(garment, &mut |name, span| {
        let name = shelf.beside(&span.source.name, name);
        let found = shelf.text(&name, "a garment");
        names.push(name);
        found
    });
    match opened {
        Ok(opened) => {
            let body = opened.body();
            names.extend(body.map(|body| shelf.beside(&body.span.source.name, &body.value)));
            let cloths = opened.cloth_files();
            let beside = |shelf: &dyn Shelf, (_, file): (_, garment::recipe::Written<String>)| {
                shelf.beside(&file.span.source.name, &file.value)
            };
            names.extend(cloths.into_iter().map(|file| beside(shelf, file)));
        }
        Err(_) => names.extend(own_body(shelf, garment)),
    }
    names
}

/// The body that a garment names in its own text.
fn own_body(shelf: &dyn Shelf, garment: &Arc<Source>) -> Option<String> {
    let entries = parse(garment).ok()?;
    let value = entries.first()?.child("body")?.arguments().first()?;
    Some(shelf.beside(&garment.name, value.text().ok()?))
}

fn empty(source: &Arc<Source>) -> Finding {
    Finding::error("text-empty", format!("{} says nothing.", source.name))
        .at_text(&Span::new(source, 0, 0), "nothing stands here")
        .allowed("a text that begins with what it is about, such as body \"Name\" { … }")
        .cure("See whether the right file was named.")
}
