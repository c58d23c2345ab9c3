//! How the lower edges of a garment are finished.

/// How a hem is finished.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HemFinish {
    /// Turned up and sewn down.
    Turned,
    /// Sewn to a facing of its own shape.
    Faced,
    /// Turned twice, a few millimetres wide.
    Narrow,
    /// Bound with a bias strip.
    Bound,
}

impl HemFinish {
    /// The word for it: `turned`, `faced`, `narrow`, `bound`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Turned => "turned",
            Self::Faced => "faced",
            Self::Narrow => "narrow",
            Self::Bound => "bound",
        }
    }
}

/// A hem and its finish.
#[derive(Clone, Debug, PartialEq)]
pub struct Hem {
    /// Piece that carries it.
    pub piece: String,
    /// Its edge.
    pub edge: String,
    /// How it is finished.
    pub finish: HemFinish,
    /// How deep it is when finished, mm.
    pub depth: f64,
    /// By how much the edge of what is turned up is longer than the line at which it is sewn down, in one piece, mm; below zero
    /// where it is shorter.
    pub surplus: f64,
    /// The strip that binds it.
    pub strip: Option<Strip>,
}

/// A bias strip, for all pieces of cloth that are cut from a pattern piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Strip {
    /// Width as it is cut, mm.
    pub width: f64,
    /// Length without what joining takes, mm.
    pub length: f64,
}

/// An opening at the lower end of a seam.
#[derive(Clone, Debug, PartialEq)]
pub struct Vent {
    /// The seam that ends above it, or the centre line: `centre-back`.
    pub seam: String,
    /// How high it opens above the hem, mm.
    pub height: f64,
    /// How far its two sides lie over each other, mm; 0 for a slit.
    pub width: f64,
}
