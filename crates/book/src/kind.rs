//! What a document is about, as one word.

use std::fmt;
use std::str::FromStr;

use crate::Fault;

/// What a document is about.
///
/// The store knows no more of a document than this word and its text.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    /// Measures of a body.
    Body,
    /// A cloth.
    Cloth,
    /// A block that other garments stand on.
    Block,
    /// A garment.
    Garment,
    /// What was seen on a mock-up or on the finished garment.
    Fitting,
    /// A session of work.
    Work,
}

impl Kind {
    /// Every kind, in the order in which a garment comes about.
    pub const ALL: [Self; 6] = [
        Self::Body,
        Self::Cloth,
        Self::Block,
        Self::Garment,
        Self::Fitting,
        Self::Work,
    ];

    /// The word: `body`, `cloth`, `block`, `garment`, `fitting`, `work`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Body => "body",
            Self::Cloth => "cloth",
            Self::Block => "block",
            Self::Garment => "garment",
            Self::Fitting => "fitting",
            Self::Work => "work",
        }
    }
}

impl fmt::Display for Kind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.word())
    }
}

impl FromStr for Kind {
    type Err = Fault;

    fn from_str(word: &str) -> Result<Self, Fault> {
        let found = Self::ALL.into_iter().find(|kind| kind.word() == word);
        found.ok_or_else(|| Fault::UnknownKind { word: word.into() })
    }
}
