//! What is to be laid: a cloth, its flaws, pieces with the turns and the places they may have.
//!
//! Knows no search. Units are whatever the caller uses throughout, millimetres for garments; x runs along the cloth, y
//! across it from 0 to the width. Invariant: a [`Problem`] that was made has sound outlines, and every piece has at least
//! one turn in which the cloth can hold it.

use geometry::Point;

use super::fault::Fault;
use super::outline;

/// A way to put a piece down: a reflection, then a turn counter-clockwise about the outline's origin.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Turn {
    /// Degrees counter-clockwise.
    pub degrees: f64,
    /// Whether the piece is turned face down first: x becomes −x.
    pub mirrored: bool,
}

impl Turn {
    /// As it is given.
    pub const AS_GIVEN: Self = Self::by(0.0);

    /// A turn without a reflection.
    pub const fn by(degrees: f64) -> Self {
        Self {
            degrees,
            mirrored: false,
        }
    }
}

/// Places a whole repeat apart: `phase`, `phase ± every`, `phase ± 2 every`, …
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Repeat {
    /// The length of the repeat; above 0.
    pub every: f64,
    /// One of the places.
    pub phase: f64,
}

/// A box on the cloth. A side that is not needed is infinite.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Area {
    /// Least x and y.
    pub low: [f64; 2],
    /// Greatest x and y.
    pub high: [f64; 2],
}

/// Where a piece may lie. The search never leaves these places, so a lay obeys them at every moment.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PoseSpace {
    /// The box that holds the piece, in place of the whole cloth.
    pub area: Option<Area>,
    /// Whether the piece's lowest edge lies on y = 0, where the cloth is folded.
    pub pinned: bool,
    /// Where along the cloth the outline's origin may lie.
    pub along: Option<Repeat>,
    /// Where across the cloth the outline's origin may lie.
    pub across: Option<Repeat>,
}

impl PoseSpace {
    /// Anywhere on the cloth.
    pub fn free() -> Self {
        Self::default()
    }

    /// With the fold edge on y = 0, anywhere along it.
    pub fn pinned() -> Self {
        Self {
            pinned: true,
            ..Self::default()
        }
    }

    /// Anywhere within a box.
    pub fn boxed(area: Area) -> Self {
        Self {
            area: Some(area),
            ..Self::default()
        }
    }

    /// Whole repeats along the cloth, across it, or both.
    pub fn lattice(along: Option<Repeat>, across: Option<Repeat>) -> Self {
        Self {
            along,
            across,
            ..Self::default()
        }
    }
}

/// A piece, and how many of it.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// What messages call it.
    pub name: String,
    /// Its outline; either way round.
    pub outline: Vec<Point>,
    /// How many copies.
    pub demand: usize,
    /// The turns it may have.
    pub turns: Vec<Turn>,
    /// Where each copy may lie.
    pub space: PoseSpace,
}

/// A cloth and what is to lie on it.
#[derive(Clone, Debug, PartialEq)]
pub struct Problem {
    width: f64,
    items: Vec<Item>,
    flaws: Vec<Vec<Point>>,
}

impl Problem {
    /// A cloth of a width with flaws to keep off, and the pieces; or what is wrong with them.
    pub fn new(width: f64, items: Vec<Item>, flaws: Vec<Vec<Point>>) -> Result<Self, Fault> {
        if !(width.is_finite() && width > 0.0) {
            return Err(Fault::Width { found: width });
        }
        if items.iter().all(|item| item.demand == 0) {
            return Err(Fault::Nothing);
        }
        for (place, flaw) in flaws.iter().enumerate() {
            outline::check(flaw).map_err(|what| Fault::Flaw { place, what })?;
        }
        let problem = Self {
            width,
            items,
            flaws,
        };
        for item in &problem.items {
            problem.check(item)?;
        }
        Ok(problem)
    }

    /// The width of the cloth.
    pub fn width(&self) -> f64 {
        self.width
    }

    /// The pieces.
    pub fn items(&self) -> &[Item] {
        &self.items
    }

    /// What must stay bare.
    pub fn flaws(&self) -> &[Vec<Point>] {
        &self.flaws
    }

    /// The number of pieces, copies counted.
    pub fn pieces(&self) -> usize {
        self.items.iter().map(|item| item.demand).sum()
    }

    /// The area of all copies.
    pub fn area(&self) -> f64 {
        self.items
            .iter()
            .map(|item| item.demand as f64 * outline::area(&item.outline).abs())
            .sum()
    }

    /// A length below which no lay can be: the area over the width.
    pub fn least_length(&self) -> f64 {
        self.area() / self.width
    }

    /// The share of a length of cloth that pieces cover, 0 to 1.
    pub fn density(&self, length: f64) -> f64 {
        self.area() / (self.width * length)
    }

    fn check(&self, item: &Item) -> Result<(), Fault> {
        let name = || item.name.clone();
        outline::check(&item.outline).map_err(|what| Fault::Outline { item: name(), what })?;
        if item.turns.is_empty() {
            return Err(Fault::NoTurn { item: name() });
        }
        if let Some(turn) = item.turns.iter().find(|turn| !turn.degrees.is_finite()) {
            return Err(Fault::Turn {
                item: name(),
                found: turn.degrees,
            });
        }
        for repeat in [item.space.along, item.space.across].into_iter().flatten() {
            if !(repeat.every.is_finite() && repeat.every > 0.0 && repeat.phase.is_finite()) {
                return Err(Fault::Repeat {
                    item: name(),
                    every: repeat.every,
                    phase: repeat.phase,
                });
            }
        }
        if item.demand > 0 && !item.turns.iter().any(|&turn| self.holds(item, turn)) {
            return Err(Fault::TooLarge {
                item: name(),
                room: self.room(item),
                least: least_across(item),
            });
        }
        Ok(())
    }

    fn room(&self, item: &Item) -> f64 {
        let area = item.space.area.unwrap_or(Area {
            low: [0.0; 2],
            high: [f64::INFINITY; 2],
        });
        area.high[1].min(self.width) - area.low[1].max(0.0)
    }

    /// Whether some place holds the piece at a turn.
    pub(super) fn holds(&self, item: &Item, turn: Turn) -> bool {
        super::room::Room::new(self.width, item, turn).is_some()
    }
}

/// The least that a piece takes across the cloth.
fn least_across(item: &Item) -> f64 {
    let across = |&turn: &Turn| {
        let [low, high] = outline::bounds(&outline::turned(&item.outline, turn));
        high[1] - low[1]
    };
    item.turns.iter().map(across).fold(f64::INFINITY, f64::min)
}
