//! What a recipe asks of the parts behind and on the shell: cloths, facings, lining, pockets, closings, hems.
//!
//! Knows the words of the file and their bounds; what follows from them is derived in `part`. All lengths in mm.

mod closing;
mod cloths;
mod facings;
mod hems;
pub(crate) mod interfacing;
mod lining;
mod pockets;
mod vents;
mod waist;

use super::Written;
use super::fields::Fields;
use super::layers::Layers;

pub use closing::{ButtonWish, Closed, ClosingWish};
pub(super) use cloths::files as cloth_files;
pub use facings::{Centre, FacingAt, FacingWish, FacingWishes};
pub use hems::{HemWish, HemWishes};
pub use interfacing::{Interfacing, InterfacingWish};
pub use lining::{LiningSkirt, LiningWish, Pleat};
pub use pockets::{Across, InSeamWish, PatchShape, PatchWish, PocketSide, PocketWishes};
pub use vents::VentWish;

/// What is asked of all parts.
#[derive(Clone, Debug, PartialEq)]
pub struct Parts {
    /// From what each layer is cut.
    pub cloths: Vec<pattern::Cloth>,
    /// Facings.
    pub facings: FacingWishes,
    /// The lining, if there is one.
    pub lining: Option<Written<LiningWish>>,
    /// How far the shell's waist is drawn down at CF, mm.
    pub waist: Option<Written<f64>>,
    /// Interfacing, tapes and staystitching.
    pub interfacing: InterfacingWish,
    /// Pockets.
    pub pockets: PocketWishes,
    /// What closes the openings.
    pub closing: ClosingWish,
    /// How hems are finished.
    pub hems: HemWishes,
    /// Vents and slits.
    pub vents: Vec<VentWish>,
}

pub(super) fn read(layers: &Layers<'_>, fields: &mut Fields<'_>) -> Parts {
    Parts {
        cloths: cloths::read(layers, fields),
        facings: facings::read(layers, fields),
        lining: lining::read(layers, fields),
        waist: waist::read(layers, fields),
        interfacing: interfacing::read(layers, fields),
        pockets: pockets::read(layers, fields),
        closing: closing::read(layers, fields),
        hems: hems::read(layers, fields),
        vents: vents::read(layers, fields),
    }
}
