//! How a garment is lined, and what is sewn by hand.
//!
//! Knows no shapes: lengths are those of the whole garment, both halves of the body counted. Lengths in mm.

/// How a lining is joined to its shell.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LiningWay {
    /// Sewn to the shell by machine all round and turned through a gap.
    Bagged,
    /// Each piece laid flat on its shell piece, the two sewn as one.
    Mounted,
    /// Neckline and armholes left raw until the end, the waist caught, all of it felled by hand.
    Open,
}

impl LiningWay {
    /// The word for it: `bagged`, `mounted`, `open`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Bagged => "bagged",
            Self::Mounted => "mounted",
            Self::Open => "open",
        }
    }
}

/// What a way of lining comes to.
#[derive(Clone, Debug, PartialEq)]
pub struct Lined {
    /// The way.
    pub way: LiningWay,
    /// Pieces of cloth that are cut for it.
    pub pieces: u32,
    /// Whether seams can be let out later without unpicking the lining from the shell.
    pub alterable: bool,
}

/// A stretch that is sewn by hand.
#[derive(Clone, Debug, PartialEq)]
pub struct HandSewn {
    /// What is sewn, in a few words: “neckline, felled”.
    pub what: String,
    /// Length in the whole garment, mm.
    pub length: f64,
    /// Length of a stitch, mm.
    pub stitch: f64,
}

impl HandSewn {
    /// Minutes that it takes at so many stitches a minute.
    pub fn minutes(&self, stitches_a_minute: f64) -> f64 {
        self.length / self.stitch / stitches_a_minute
    }
}
