//! What closes the openings, as it is bought.

use crate::makeup::Closure;
use crate::seam::Pattern;

/// Something that is bought to close an opening.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Fastening {
    /// Zips.
    Zip {
        /// Whether its teeth are hidden by the seam.
        invisible: bool,
        /// Length, mm.
        length: f64,
        /// How many.
        count: u32,
    },
    /// Buttons.
    Buttons {
        /// Diameter, mm.
        diameter: f64,
        /// How many.
        count: u32,
    },
    /// Hooks with their eyes or bars.
    Hooks {
        /// How many.
        count: u32,
    },
}

/// Everything to be bought; what is alike is counted together.
pub(super) fn fastenings(pattern: &Pattern) -> Vec<Fastening> {
    let mut all: Vec<Fastening> = Vec::new();
    for closing in &pattern.makeup.closings {
        let one = bought(closing.closure, closing.length);
        if !all.iter_mut().any(|known| known.take_in(one)) {
            all.push(one);
        }
    }
    all
}

fn bought(closure: Closure, length: f64) -> Fastening {
    let zip = |invisible| Fastening::Zip {
        invisible,
        length,
        count: 1,
    };
    match closure {
        Closure::InvisibleZip => zip(true),
        Closure::LappedZip => zip(false),
        Closure::Buttons {
            count, diameter, ..
        } => Fastening::Buttons { diameter, count },
        Closure::Hooks { count } => Fastening::Hooks { count },
    }
}

impl Fastening {
    /// Adds another one to this if both are alike; whether they were.
    fn take_in(&mut self, other: Self) -> bool {
        let alike = match (&*self, other) {
            (
                Self::Zip {
                    invisible, length, ..
                },
                Self::Zip {
                    invisible: hidden,
                    length: long,
                    ..
                },
            ) => *invisible == hidden && *length == long,
            (Self::Buttons { diameter, .. }, Self::Buttons { diameter: wide, .. }) => {
                *diameter == wide
            }
            (Self::Hooks { .. }, Self::Hooks { .. }) => true,
            _ => false,
        };
        if alike {
            *self.count_mut() += other.count();
        }
        alike
    }

    /// How many.
    pub const fn count(&self) -> u32 {
        match self {
            Self::Zip { count, .. } | Self::Buttons { count, .. } | Self::Hooks { count } => *count,
        }
    }

    const fn count_mut(&mut self) -> &mut u32 {
        match self {
            Self::Zip { count, .. } | Self::Buttons { count, .. } | Self::Hooks { count } => count,
        }
    }
}
