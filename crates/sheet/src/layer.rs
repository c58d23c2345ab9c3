//! The layers of a drawing: what a reader of the PDF can switch off, and what an SVG marks by class.

/// What a thing on the paper is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// What helps to print, trim and join the sheets; no part of the pattern.
    Furniture,
    /// Interfacing, in a picture of cloths that lie on each other.
    Interfacing,
    /// The outside of the garment, likewise.
    Shell,
    /// Lining, likewise.
    Lining,
    /// Facings of hems, likewise.
    HemFacing,
    /// Facings of edges, likewise.
    Facing,
    /// Pockets, likewise.
    Pocket,
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
    pub const ALL: [Self; 12] = [
        Self::Furniture,
        Self::Interfacing,
        Self::Shell,
        Self::Lining,
        Self::HemFacing,
        Self::Facing,
        Self::Pocket,
        Self::SeamLine,
        Self::CuttingLine,
        Self::Grain,
        Self::Marks,
        Self::Text,
    ];

    /// Whether it is a layer of cloth, not a kind of mark.
    pub const fn is_cloth(self) -> bool {
        matches!(
            self,
            Self::Interfacing
                | Self::Lining
                | Self::Pocket
                | Self::Facing
                | Self::HemFacing
                | Self::Shell
        )
    }

    /// The name that a reader of the PDF shows.
    pub const fn title(self) -> &'static str {
        match self {
            Self::Furniture => "Sheet joins and labels",
            Self::Interfacing => "Interfacing",
            Self::Lining => "Lining",
            Self::Pocket => "Pockets",
            Self::Facing => "Facings",
            Self::HemFacing => "Hem facings",
            Self::Shell => "Shell",
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
            Self::Interfacing => "interfacing",
            Self::Lining => "lining",
            Self::Pocket => "pocket",
            Self::Facing => "facing",
            Self::HemFacing => "hem-facing",
            Self::Shell => "shell",
            Self::SeamLine => "seam-line",
            Self::CuttingLine => "cutting-line",
            Self::Grain => "grain",
            Self::Marks => "marks",
            Self::Text => "text",
        }
    }
}
