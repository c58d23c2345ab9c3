//! The layers of a drawing: what a reader of the PDF can switch off, and what an SVG marks by class.

/// What a thing on the paper is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// What helps to print, trim and join the sheets; no part of the pattern.
    Furniture,
    /// The line along which cloth is sewn.
    SeamLine,
    /// The line along which cloth is cut.
    CuttingLine,
    /// Grain lines and folds.
    Grain,
    /// Notches, darts, drill marks, lines of balance.
    Marks,
    /// Words.
    Text,
}

impl Layer {
    /// All layers, in the order in which they are listed and drawn over each other.
    pub const ALL: [Self; 6] = [
        Self::Furniture,
        Self::SeamLine,
        Self::CuttingLine,
        Self::Grain,
        Self::Marks,
        Self::Text,
    ];

    /// The name that a reader of the PDF shows.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Furniture => "Sheet joins and labels",
            Self::SeamLine => "Seam line",
            Self::CuttingLine => "Cutting line",
            Self::Grain => "Grain and folds",
            Self::Marks => "Notches and marks",
            Self::Text => "Words",
        }
    }

    /// The name as a word of a file: `cutting-line`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Furniture => "furniture",
            Self::SeamLine => "seam-line",
            Self::CuttingLine => "cutting-line",
            Self::Grain => "grain",
            Self::Marks => "marks",
            Self::Text => "text",
        }
    }
}
