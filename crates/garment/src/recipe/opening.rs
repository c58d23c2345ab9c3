//! Where a garment opens, as a recipe says it.

use super::fields::Fields;
use super::layers::Layers;

/// Where a garment opens.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Opening {
    /// At CB, which is a seam there.
    #[default]
    Back,
    /// At CF, where the front is cut as a pair.
    Front,
    /// In the left side seam; the pattern stays alike on both sides.
    Side,
    /// Nowhere.
    Nowhere,
}

impl Opening {
    /// What each is called in a recipe.
    pub(super) const WORDS: [(&'static str, Self); 4] = [
        ("back", Self::Back),
        ("front", Self::Front),
        ("side", Self::Side),
        ("none", Self::Nowhere),
    ];
}

pub(super) fn read(garment: &Layers<'_>, fields: &mut Fields<'_>) -> Opening {
    let Some(line) = garment.child("opening") else {
        return Opening::default();
    };
    let value = fields.keep(line.argument("\"back\", \"front\", \"side\" or \"none\""));
    value
        .and_then(|value| fields.keep(value.choice(&Opening::WORDS)))
        .unwrap_or_default()
}
