//! A recipe: what a person asks of a garment, read from a hand-writable text, with the place of every wish.
//!
//! Knows the words of the file and their bounds; what follows from them is drafted elsewhere. All lengths in mm.

mod allowances;
mod fields;
mod formula;
mod layers;
pub mod numbers;
mod opened;
mod opening;
pub mod parts;
mod place;
mod read;
mod skirt;
mod steps;
mod text;

use document::Span;

use crate::block::bodice::{BodiceEase, BustDartAt, Neckline};

pub use allowances::{Allowances, EdgeAllowance, turn_of_cloth};
pub use layers::Sources;
pub use opened::{Opened, open, read};
pub use opening::Opening;
pub use place::{From, NameText, PlaceText, Where};
pub use skirt::SkirtPart;
pub use steps::{Asked, AskedValue, Step};

/// The statements of a garment.
const STATEMENTS: [&str; 21] = [
    "version",
    "date",
    "based-on",
    "without",
    "body",
    "opening",
    "ease",
    "bodice",
    "skirt",
    "sleeve",
    "waistband",
    "allowances",
    "cloths",
    "lining",
    "waist",
    "facings",
    "interfacing",
    "hems",
    "vents",
    "pockets",
    "steps",
];

/// A wish and where it was written.
#[derive(Clone, Debug, PartialEq)]
pub struct Written<T> {
    /// What is wished.
    pub value: T,
    /// Where it stands.
    pub span: Span,
}

/// A garment as it is asked for.
#[derive(Clone, Debug, PartialEq)]
pub struct Recipe {
    /// Name of the garment.
    pub name: String,
    /// Version, as its maker counts.
    pub version: String,
    /// Date, as its maker writes it; papers carry this one and no other.
    pub date: Option<String>,
    /// File of the body, relative to the recipe.
    pub body: Option<Written<String>>,
    /// Where it opens.
    pub opening: Opening,
    /// Ease by place.
    pub ease: Ease,
    /// The bodice, if it has one.
    pub bodice: Option<Written<BodicePart>>,
    /// The skirt, if it has one.
    pub skirt: Option<Written<SkirtPart>>,
    /// The sleeves, if it has any.
    pub sleeve: Option<Written<SleevePart>>,
    /// The waistband, if it has one.
    pub waistband: Option<Written<WaistbandPart>>,
    /// Allowances by place.
    pub allowances: Allowances,
    /// Parts behind and on the shell.
    pub parts: parts::Parts,
    /// What is done to the pieces after they are drafted, in order.
    pub steps: Vec<Step>,
}

impl Recipe {
    /// Whether there is a seam at CB that opens.
    pub fn opens_at_back(&self) -> bool {
        self.opening == Opening::Back
    }

    /// Whether it opens anywhere.
    pub fn opens(&self) -> bool {
        self.opening != Opening::Nowhere
    }
}

/// Ease over the body, mm: over whole girths and whole widths.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ease {
    /// What the bodice takes.
    pub bodice: BodiceEase,
    /// At the hip.
    pub hip: f64,
}

impl Ease {
    /// Wearing ease where nothing is asked for. Bust 1 1/2–2 in, waist of a dress 3/4–1 in, hip 2–2 3/4 in: Robinson, Central
    /// Washington University, *Costume Text* ch. 16; across back and front and at the neck: common practice, no source.
    pub const WEARING: Self = Self {
        bodice: BodiceEase {
            bust: 50.0,
            waist: 25.0,
            across_back: 12.0,
            across_front: 6.0,
            neck: 4.0,
        },
        hip: 55.0,
    };
    /// Ease at the waist of a skirt on its own: 1/2–3/4 in, the same source.
    pub const SKIRT_WAIST: f64 = 15.0;
}

/// The bodice of a recipe.
#[derive(Clone, Debug, PartialEq)]
pub struct BodicePart {
    /// Where the bust dart opens.
    pub bust_dart: Written<BustDartAt>,
    /// The neckline.
    pub neckline: Written<Neckline>,
}

/// The sleeves of a recipe, mm.
#[derive(Clone, Debug, PartialEq)]
pub struct SleevePart {
    /// Length from the shoulder point; to the wrist where `None`.
    pub length: Option<f64>,
    /// Ease over the upper arm.
    pub ease: f64,
    /// Ease of the cap.
    pub cap_ease: Written<f64>,
    /// Girth at the hem, by the arm where `None`.
    pub hem: Option<f64>,
}

/// The waistband of a recipe, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WaistbandPart {
    /// Finished height.
    pub height: f64,
    /// How far one end reaches under the other.
    pub underlap: f64,
}
