//! The parts of a garment, derived from its styled shell: facings, lining, interfacing, pockets, closings, hems.
//!
//! Each part is one file with one function from pattern to pattern. They are done in the order of [`ORDER`] after the last
//! step, on every change anew, so that they follow the shell. Invariants: a part names its pieces after those that it is
//! derived from (`front-lining`, never `front/lining`), tells where they lie, and adds a mate for every edge on which two
//! layers must agree.

mod closing;
mod facing;
pub(crate) mod figures;
pub(crate) mod hem;
mod interfacing;
mod lining;
mod pocket;
mod vent;
mod waist;
mod wearer;

use body::Body;
use document::Finding;
use pattern::Pattern;

use crate::recipe::Recipe;

/// What parts are asked for, and for whom.
#[allow(dead_code, reason = "parts that read it follow")]
pub(crate) struct Asked<'a> {
    /// The recipe.
    pub(crate) recipe: &'a Recipe,
    /// The body.
    pub(crate) body: &'a Body,
}

type Derive = fn(&mut Pattern, &Asked<'_>) -> Result<(), Finding>;

/// Openings first, since they give edges other ends and stands; hems and facings before the lining that meets them; vents and the
/// shell's own waist last of what changes the shell, so that the lining keeps straight edges.
const ORDER: [Derive; 9] = [
    closing::derive,
    hem::derive,
    facing::derive,
    lining::derive,
    hem::derive_lining,
    vent::derive,
    waist::derive,
    pocket::derive,
    interfacing::derive,
];

/// Derives all parts; the finding that stops it points into the recipe where it can.
pub(crate) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    pattern.makeup.cloths.clone_from(&asked.recipe.parts.cloths);
    pattern.makeup.wearer = Some(wearer::of(asked.body));
    ORDER
        .into_iter()
        .try_for_each(|derive| derive(pattern, asked))
}
