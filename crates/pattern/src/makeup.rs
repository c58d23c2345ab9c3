//! What a garment is made up with besides its pieces and seams: layers that lie on each other, cloths, closings, hems, tapes.
//!
//! Everything here is derived from the styled pieces and made anew whenever they change; no step edits it. Invariant: pieces,
//! edges and seams are named as in the pattern beside which it stands.

mod hem;
mod lined;
mod wearer;

use geometry::Affine;

use crate::piece::Layer;
use crate::seam::{Seam, Stretch};

pub use hem::{Hem, HemFinish, Strip, Vent};
pub use lined::{HandSewn, Lined, LiningWay};
pub use wearer::Wearer;

/// How easily the threads of a cut edge come out.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub enum Fraying {
    /// Hardly: felted, coated, very dense.
    Little,
    /// As most woven cloth does.
    #[default]
    Some,
    /// At a touch: loose weaves, smooth filament.
    Much,
}

/// A cloth from which a layer is cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// Which layer.
    pub layer: Layer,
    /// What its owner calls it: "wool crepe".
    pub name: String,
    /// Usable width between the selvedges, mm.
    pub width: f64,
    /// Thickness of one layer, mm.
    pub thickness: f64,
    /// Weight, g/m².
    pub weight: f64,
    /// How its edges fray.
    pub frays: Fraying,
}

/// That a derived piece lies on another one when the garment is made up.
#[derive(Clone, Debug, PartialEq)]
pub struct Lies {
    /// The derived piece: a facing, a lining, an interfacing, a pocket.
    pub piece: String,
    /// The piece on or behind which it lies.
    pub upon: String,
    /// Takes the derived piece's coordinates to those of the other one.
    pub placed: Affine,
}

/// What keeps an edge from stretching.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Stay {
    /// A tape of this width caught in the seam, mm.
    Tape(f64),
    /// A row of stitches just outside the seam line.
    Staystitching,
}

/// An edge, or a line, that is kept from stretching.
#[derive(Clone, Debug, PartialEq)]
pub struct Stayed {
    /// How.
    pub stay: Stay,
    /// Piece that carries it.
    pub piece: String,
    /// Its edge or inner line.
    pub along: String,
    /// Length of one, mm.
    pub length: f64,
    /// Why, in a few words: "cut 34° off grain".
    pub why: String,
}

/// What closes an opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Closure {
    /// A zip whose teeth are hidden by the seam.
    InvisibleZip,
    /// A zip under a lap.
    LappedZip,
    /// Buttons in buttonholes.
    Buttons {
        /// How many.
        count: u32,
        /// Diameter, mm.
        diameter: f64,
        /// Length of a buttonhole, mm.
        hole: f64,
    },
    /// Hooks and eyes or bars.
    Hooks {
        /// How many.
        count: u32,
    },
}

impl Closure {
    /// The word for it in files: `invisible-zip`, `lapped-zip`, `buttons`, `hooks`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::InvisibleZip => "invisible-zip",
            Self::LappedZip => "lapped-zip",
            Self::Buttons { .. } => "buttons",
            Self::Hooks { .. } => "hooks",
        }
    }
}

/// An opening and what closes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Closing {
    /// What closes it.
    pub closure: Closure,
    /// The edges that part when it is undone, from its top downwards, one side of it.
    pub along: Vec<Stretch>,
    /// How far below their top it begins, mm.
    pub from: f64,
    /// How much of them parts from there, mm; 0 for a hook that holds one place.
    pub opening: f64,
    /// What is to be bought: length of the zip, mm; 0 for buttons and hooks.
    pub length: f64,
    /// How far one edge reaches over the other, mm: the lap of a zip, twice the stand of buttons.
    pub lap: f64,
}

/// Everything that belongs to a garment besides the styled pieces and their seams.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Makeup {
    /// Layer against layer, walked like seams: facing or lining on shell, with the ease that is meant.
    pub mates: Vec<Seam>,
    /// Which derived piece lies where.
    pub lies: Vec<Lies>,
    /// The cloths, one for each layer that is known.
    pub cloths: Vec<Cloth>,
    /// Edges that are kept from stretching.
    pub stayed: Vec<Stayed>,
    /// Openings.
    pub closings: Vec<Closing>,
    /// Hems.
    pub hems: Vec<Hem>,
    /// Vents and slits.
    pub vents: Vec<Vent>,
    /// How it is lined, if it is.
    pub lined: Option<Lined>,
    /// What is sewn by hand.
    pub by_hand: Vec<HandSewn>,
    /// For whom it is made, where that is known.
    pub wearer: Option<Wearer>,
}

impl Makeup {
    /// The cloth of a layer.
    pub fn cloth(&self, layer: Layer) -> Option<&Cloth> {
        self.cloths.iter().find(|cloth| cloth.layer == layer)
    }

    /// The pieces on which a derived piece lies.
    pub fn lies_of<'a>(&'a self, piece: &'a str) -> impl Iterator<Item = &'a Lies> {
        self.lies.iter().filter(move |lies| lies.piece == piece)
    }

    /// Whether a piece was derived from another.
    pub fn is_derived(&self, piece: &str) -> bool {
        self.lies_of(piece).next().is_some()
    }
}
