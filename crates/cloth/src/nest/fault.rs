//! What can be wrong with a problem, in words for a person: place, found, allowed, next step.

/// What makes a ring of points no outline.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Unsound {
    /// Fewer than three corners.
    #[error("it has {found} corners, and an outline needs at least 3")]
    Few {
        /// How many there are.
        found: usize,
    },
    /// A coordinate is not a number.
    #[error("its corner {place} has a coordinate that is no finite number")]
    NotFinite {
        /// Which corner, from 0.
        place: usize,
    },
    /// All corners lie on a line.
    #[error("it encloses no area")]
    NoArea,
    /// Two sides cross.
    #[error("its sides {} and {} cross each other", sides[0], sides[1])]
    Crossing {
        /// Which sides, from 0.
        sides: [usize; 2],
    },
}

/// What can be wrong with a problem.
#[derive(Clone, Debug, PartialEq, thiserror::Error)]
pub enum Fault {
    /// The cloth has no width.
    #[error("the cloth is {found} wide, and its width must be above 0; give the usable width")]
    Width {
        /// The width.
        found: f64,
    },
    /// There are no pieces.
    #[error(
        "there is nothing to lay: no piece has a demand of 1 or more; add a piece or raise its demand"
    )]
    Nothing,
    /// A flaw is no outline.
    #[error("flaw {place} is no outline: {what}; draw round it once, without crossing the line")]
    Flaw {
        /// Which flaw, from 0.
        place: usize,
        /// What is wrong.
        what: Unsound,
    },
    /// A piece is no outline.
    #[error("{item} has no sound outline: {what}; correct its corners")]
    Outline {
        /// The piece.
        item: String,
        /// What is wrong.
        what: Unsound,
    },
    /// No turn is allowed.
    #[error("{item} has no turn that it may lie at; allow at least one, such as 0 degrees")]
    NoTurn {
        /// The piece.
        item: String,
    },
    /// A turn is not a number.
    #[error(
        "{item} may be turned by {found} degrees, which is no finite number; give degrees such as 0 or 180"
    )]
    Turn {
        /// The piece.
        item: String,
        /// The turn.
        found: f64,
    },
    /// A repeat is impossible.
    #[error(
        "{item} has to lie on a repeat of {every} from {phase}; the repeat must be above 0 and both finite"
    )]
    Repeat {
        /// The piece.
        item: String,
        /// The repeat.
        every: f64,
        /// The phase.
        phase: f64,
    },
    /// A piece fits at no turn.
    #[error(
        "{item} takes {least} across the cloth, and no place of {room} that it may have holds it; use wider cloth or allow other turns"
    )]
    TooLarge {
        /// The piece.
        item: String,
        /// The room across the cloth.
        room: f64,
        /// The least it takes.
        least: f64,
    },
}
