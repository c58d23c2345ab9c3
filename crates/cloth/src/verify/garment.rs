//! Proves the lay of a garment, or says what is wrong with it.
//!
//! Shares no code with the search or with how its outlines were made: the true cutting line of every piece is drawn finely,
//! brought to its place by the lay's own transform and intersected with every other by exact booleans; grain, faces, folds, flaws
//! and repeats are read off the cloth anew. Invariant: nothing is taken from the search but the lay.

mod bars;
mod put;

use std::fmt;

use geometry::Point;
use pattern::{Laid, Layer, Materials, Pattern};

use super::grid::{Fineness, Ring};
use crate::goods::Cloth;
use crate::lay::{Lay, Meeting, Part, STRIPS, Way, strip_square};
use put::Put;

/// How far a line may be off, mm: a fifth of a pencil's line.
const TOLERANCE: f64 = 0.05;
/// How far the grain may be off beyond what is allowed, degrees.
const DEGREES: f64 = 1e-6;
/// How far a bar may be off at a seam, mm.
pub const BARS: f64 = 0.5;
/// How finely cutting lines are drawn, mm.
const CHORDS: f64 = 0.01;

/// What was to be laid, by which rules.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The garment.
    pub pattern: &'a Pattern,
    /// The layers that are cut from the cloth.
    pub layers: &'a [Layer],
    /// The cloth as it is laid.
    pub cloth: &'a Cloth,
    /// Where its repeats must meet.
    pub meetings: &'a [Meeting],
    /// How far the grain may be off, degrees.
    pub grain_tolerance: f64,
}

/// What is wrong with a lay.
#[derive(Clone, Debug, PartialEq)]
pub enum Wrong {
    /// Not as many pieces as were to be cut, or not as many left as right ones.
    Copies {
        /// The piece.
        piece: String,
        /// How many lie there: as drawn, and mirrored.
        found: [usize; 2],
        /// How many were to be cut.
        wanted: usize,
    },
    /// A copy is no piece of this cloth, was stretched, or lies in no section.
    Unknown {
        /// The piece.
        piece: String,
    },
    /// A copy lies off the grain, or against the nap.
    Grain {
        /// The piece.
        piece: String,
        /// How far off, degrees.
        degrees: f64,
    },
    /// A copy sticks out of the cloth, or of the layers that it needs.
    Outside {
        /// The piece.
        piece: String,
        /// By how much, mm.
        by: f64,
    },
    /// Two copies overlap.
    Overlap {
        /// The pieces.
        pieces: [String; 2],
        /// How thick the overlap is, mm.
        depth: f64,
    },
    /// A copy lies on a flaw.
    Flaw {
        /// The piece.
        piece: String,
        /// The flaw.
        flaw: String,
    },
    /// An edge that belongs on the fold does not lie there.
    Fold {
        /// The piece.
        piece: String,
        /// How far off, mm.
        by: f64,
    },
    /// Bars do not meet.
    Bars {
        /// The seam, or the line.
        name: String,
        /// How far they are off, mm.
        by: f64,
    },
}

impl fmt::Display for Wrong {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Copies {
                piece,
                found: [drawn, mirrored],
                wanted,
            } => write!(
                f,
                "{piece}: {drawn} as drawn and {mirrored} mirrored lie there, {wanted} are to be cut"
            ),
            Self::Unknown { piece } => write!(f, "{piece} is no piece of this cloth"),
            Self::Grain { piece, degrees } => {
                write!(
                    f,
                    "{piece} lies {degrees:.2}° off the grain or against the nap"
                )
            }
            Self::Outside { piece, by } => write!(f, "{piece} sticks out by {by:.2} mm"),
            Self::Overlap { pieces, depth } => {
                write!(
                    f,
                    "{} and {} overlap by {depth:.2} mm",
                    pieces[0], pieces[1]
                )
            }
            Self::Flaw { piece, flaw } => write!(f, "{piece} lies on the {flaw}"),
            Self::Fold { piece, by } => write!(f, "{piece} lies {by:.2} mm off the fold"),
            Self::Bars { name, by } => write!(f, "bars are {by:.2} mm off at the {name}"),
        }
    }
}

/// Whether a lay keeps every rule; all that is wrong with it otherwise.
pub fn verify(subject: &Subject<'_>, lay: &Lay) -> Result<(), Vec<Wrong>> {
    let mut wrong = counts(subject, lay);
    let mut put: Vec<Put<'_>> = Vec::new();
    for copy in &lay.copies {
        match Put::new(subject, lay, copy) {
            Some(one) => put.push(one),
            None => wrong.push(Wrong::Unknown {
                piece: copy.piece.clone(),
            }),
        }
    }
    wrong.extend(put.iter().filter_map(|one| one.off_grain(subject)));
    wrong.extend(against(subject, &put));
    wrong.extend(put.iter().filter_map(Put::outside));
    wrong.extend(put.iter().filter_map(Put::off_fold));
    wrong.extend(overlaps(subject, lay, &put));
    wrong.extend(bars::meetings(subject, &put));
    wrong.extend(bars::centres(subject, &put));
    if wrong.is_empty() { Ok(()) } else { Err(wrong) }
}

/// As many of each piece as are cut, left and right alike.
fn counts(subject: &Subject<'_>, lay: &Lay) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    for piece in &subject.pattern.pieces {
        if !subject.layers.contains(&piece.cut.layer) {
            continue;
        }
        let mut found = [0, 0];
        for copy in lay.copies.iter().filter(|copy| copy.piece == piece.name) {
            match copy.part {
                Part::Both => found = found.map(|count| count + 1),
                _ => found[usize::from(copy.into.determinant() < 0.0)] += 1,
            }
        }
        let wanted = piece.cut.count as usize;
        let all = found[0] + found[1];
        let fits = match piece.cut.laid {
            Laid::Pair => all == wanted && found[0].abs_diff(found[1]) == wanted % 2,
            Laid::Single => all == wanted && (found[1] == 0 || subject.cloth.sides_alike),
            Laid::OnFold(_) => all == wanted,
        };
        if !fits {
            wrong.push(Wrong::Copies {
                piece: piece.name.clone(),
                found,
                wanted,
            });
        }
    }
    let square = strip_square(&Materials::of(subject.pattern).strips);
    let wanted = usize::from(square.is_some() && subject.layers.contains(&Layer::Shell));
    let found = lay
        .copies
        .iter()
        .filter(|copy| copy.piece == STRIPS)
        .count();
    if found != wanted {
        wrong.push(Wrong::Copies {
            piece: STRIPS.to_owned(),
            found: [found, 0],
            wanted,
        });
    }
    wrong
}

/// Nap and prints with an upright: all grains run the same way, and no layer lies turned round.
fn against(subject: &Subject<'_>, put: &[Put<'_>]) -> Vec<Wrong> {
    let cloth = subject.cloth;
    if !cloth.direction.is_one_way() && !cloth.repeats.uneven {
        return Vec::new();
    }
    let first = put.first().map_or(1.0, |one| one.grain().x.signum());
    let turned = put.iter().filter(|one| {
        one.piece.is_some()
            && (one.grain().x.signum() != first || one.section.way == Way::Crosswise)
    });
    turned
        .map(|one| Wrong::Grain {
            piece: one.copy.piece.clone(),
            degrees: 180.0,
        })
        .collect()
}

fn overlaps(subject: &Subject<'_>, lay: &Lay, put: &[Put<'_>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let outline = subject.cloth.outline.iter();
    let flaws = subject.cloth.flaws.iter().map(|flaw| &flaw.outline);
    let every = put.iter().flat_map(|one| &one.rings);
    let fineness = Fineness::of(every.chain(flaws).chain(outline));
    let rings: Vec<Vec<Ring>> = put
        .iter()
        .map(|one| {
            one.rings
                .iter()
                .map(|ring| Ring::new(ring, fineness))
                .collect()
        })
        .collect();
    let deepest = |one: &[Ring], other: &[Ring]| {
        let pairs = one
            .iter()
            .flat_map(|a| other.iter().map(move |b| a.common(b)));
        pairs.flatten().map(|(depth, _)| depth).fold(0.0, f64::max)
    };
    for (index, one) in put.iter().enumerate() {
        for (other, second) in put.iter().enumerate().skip(index + 1) {
            if one.copy.section != second.copy.section {
                continue;
            }
            let depth = deepest(&rings[index], &rings[other]);
            if depth > TOLERANCE {
                wrong.push(Wrong::Overlap {
                    pieces: [one.copy.piece.clone(), second.copy.piece.clone()],
                    depth,
                });
            }
        }
    }
    wrong.extend(sections_apart(lay));
    wrong.extend(off_cloth(subject, put, fineness));
    wrong
}

/// Sections lie behind each other on the cloth.
fn sections_apart(lay: &Lay) -> Option<Wrong> {
    let mut end = 0.0;
    for section in &lay.sections {
        let (first, last) = match section.way {
            Way::Crosswise => (section.from - section.length, section.from + section.length),
            _ => (section.from, section.from + section.length),
        };
        if first < end - TOLERANCE {
            return Some(Wrong::Outside {
                piece: format!("the section that is laid {}", section.way.title()),
                by: end - first,
            });
        }
        end = last;
    }
    None
}

/// Copies on flaws, and beyond the outline of a left-over.
fn off_cloth(subject: &Subject<'_>, put: &[Put<'_>], fineness: Fineness) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let cloth = subject.cloth;
    for one in put {
        let layers = one.layers();
        let rings: Vec<Ring> = layers
            .iter()
            .map(|ring| Ring::new(ring, fineness))
            .collect();
        for flaw in &cloth.flaws {
            let bare = Ring::new(&flaw.outline, fineness);
            let hits = rings.iter().filter_map(|ring| ring.common(&bare));
            if hits.map(|(depth, _)| depth).fold(0.0, f64::max) > TOLERANCE {
                wrong.push(Wrong::Flaw {
                    piece: one.copy.piece.clone(),
                    flaw: flaw.name.clone(),
                });
            }
        }
        if let Some(outline) = &cloth.outline {
            let outline = Ring::new(outline, fineness);
            for (ring, points) in rings.iter().zip(&layers) {
                let own = ring.common(ring).map_or(0.0, |(_, area)| area);
                let inside = ring.common(&outline).map_or(0.0, |(_, area)| area);
                // What is missing, spread along the whole girth, would be so thick.
                let by = 2.0 * (own - inside) / girth(points);
                if by > TOLERANCE {
                    wrong.push(Wrong::Outside {
                        piece: one.copy.piece.clone(),
                        by,
                    });
                }
            }
        }
    }
    wrong
}

fn girth(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a.distance(*b)).sum()
}
