//! A recipe whose files are open, before it is known for which body.
//!
//! Invariant: the files are read once; for every body the same statements are worked out anew.

use std::sync::Arc;

use body::Body;
use document::{Entry, Finding, Source};
use pattern::Layer;

use super::formula::Person;
use super::layers::{self, Layers, Sources};
use super::{Recipe, Written};

/// The statements of a recipe and of those on which it stands.
#[derive(Clone, Debug)]
pub struct Opened {
    /// Garments, base first.
    garments: Vec<Entry>,
    /// What should not stand beside them.
    beside: Vec<Finding>,
    /// What the files of cloths say, one for each layer that names one.
    cloths: Vec<pattern::Cloth>,
    /// The texts of these files.
    texts: Vec<(Layer, Arc<Source>)>,
}

/// Opens a recipe and, through `sources`, those on which it stands.
pub fn open(source: &Arc<Source>, sources: &mut Sources<'_>) -> Result<Opened, Vec<Finding>> {
    let (garments, beside) = layers::gather(source, sources)?;
    Ok(Opened {
        garments,
        beside,
        cloths: Vec::new(),
        texts: Vec::new(),
    })
}

/// Reads a recipe that stands on no other and on no measure.
pub fn read(source: &Arc<Source>) -> Result<Recipe, Vec<Finding>> {
    let opened = open(source, &mut |name, span| {
        Err(
            Finding::error("base-not-open", format!("“{name}” cannot be opened here."))
                .at_text(span, "named here")
                .allowed("a garment on its own")
                .cure("Put the statements of both into one file."),
        )
    })?;
    opened.read(Person::Nobody)
}

impl Opened {
    /// The name of the garment, where it has one.
    pub fn name(&self) -> &str {
        let own = self.garments.last();
        own.and_then(|own| own.arguments().first()?.text().ok())
            .unwrap_or("")
    }

    /// The file of the body, relative to the file in which it is named.
    pub fn body(&self) -> Option<Written<String>> {
        let layers = Layers::of(&self.garments);
        let value = layers.child("body")?.arguments().first()?;
        Some(Written {
            value: value.text().ok()?.to_owned(),
            span: value.span().clone(),
        })
    }

    /// The files of the cloths that are named, each relative to the file in which it is named.
    pub fn cloth_files(&self) -> Vec<(Layer, Written<String>)> {
        super::parts::cloth_files(&Layers::of(&self.garments))
    }

    /// The same with what the files of its cloths say, and their texts; what stands in the garment's own line goes before it.
    pub fn with_cloths(self, cloths: Vec<(pattern::Cloth, Arc<Source>)>) -> Self {
        let texts = cloths.iter();
        Self {
            texts: texts
                .map(|(cloth, text)| (cloth.layer, Arc::clone(text)))
                .collect(),
            cloths: cloths.into_iter().map(|(cloth, _)| cloth).collect(),
            ..self
        }
    }

    /// The texts of the cloths' files, by layer, where they were handed in.
    pub fn cloth_texts(&self) -> &[(Layer, Arc<Source>)] {
        &self.texts
    }

    /// All slips of the pen that can be seen while the body is not known.
    pub fn slips(&self) -> Vec<Finding> {
        self.read(Person::Later).err().unwrap_or_default()
    }

    /// The recipe for a body: its measures stand in the lengths.
    pub fn recipe(&self, body: &Body) -> Result<Recipe, Vec<Finding>> {
        self.read(Person::Known(body))
    }

    fn read(&self, person: Person<'_>) -> Result<Recipe, Vec<Finding>> {
        super::read::read(&self.garments, (&self.beside, &self.cloths), person)
    }
}
