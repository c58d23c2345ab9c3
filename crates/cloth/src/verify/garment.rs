//! Proves the lay of a garment, or says what is wrong with it.
//!
//! Shares no code with the search or with how its outlines were made: the true cutting line of every piece is drawn finely,
//! brought to its place by the lay's own transform and intersected with every other by exact booleans; grain, faces, folds, flaws
//! and repeats are read off the cloth anew. Invariant: nothing is taken from the search but the lay.

use std::fmt;

use geometry::{Affine, Curve, Point, Tolerance, Vec2};
use pattern::{Edge, EdgeKind, Laid, Layer, Materials, Pattern, Piece};

use super::grid::{Fineness, Ring};
use crate::goods::{Bars, Cloth};
use crate::lay::{Lay, Meeting, Part, Placed, STRIPS, Section, Way, strip_square};

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
    wrong.extend(meetings(subject, &put));
    wrong.extend(centres(subject, &put));
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

/// A copy in its place.
struct Put<'a> {
    copy: &'a Placed,
    piece: Option<&'a Piece>,
    section: &'a Section,
    /// What lies there: one ring, or two halves of a whole piece.
    rings: Vec<Vec<Point>>,
}

impl<'a> Put<'a> {
    fn new(subject: &Subject<'a>, lay: &'a Lay, copy: &'a Placed) -> Option<Self> {
        let section = lay.sections.get(copy.section)?;
        let piece = subject.pattern.piece(&copy.piece);
        let [a, b, c, d, ..] = copy.into.as_coeffs();
        let is_rigid = (Vec2::new(a, b).hypot() - 1.0).abs() < 1e-9
            && (Vec2::new(c, d).hypot() - 1.0).abs() < 1e-9
            && (a * c + b * d).abs() < 1e-9;
        if !is_rigid || !copy.into.is_finite() {
            return None;
        }
        let drawn = match piece {
            Some(piece) if subject.layers.contains(&piece.cut.layer) => cutting_line(piece)?,
            Some(_) => return None,
            None => square(subject, copy)?,
        };
        let mut rings = vec![drawn];
        if copy.part == Part::Whole
            && let Some(piece) = piece
        {
            let Laid::OnFold(name) = &piece.cut.laid else {
                return None;
            };
            let edge = piece.edge(name)?;
            let mirror = mirror(edge.start(), edge.end());
            rings.push(rings[0].iter().map(|point| mirror * *point).collect());
        }
        for point in rings.iter_mut().flatten() {
            *point = copy.into * *point;
        }
        Some(Self {
            copy,
            piece,
            section,
            rings,
        })
    }

    /// The direction of its lengthwise grain.
    fn grain(&self) -> Vec2 {
        let angle = self.piece.map_or(0.0, |piece| piece.grain.radians());
        let (sin, cos) = geometry::math::sin_cos(angle);
        self.copy.into * Point::new(cos, sin) - self.copy.into * Point::ORIGIN
    }

    fn off_grain(&self, subject: &Subject<'_>) -> Option<Wrong> {
        let grain = self.grain();
        let off = geometry::math::atan2(grain.y.abs(), grain.x.abs()).to_degrees();
        let allowed = match self.copy.part {
            Part::OnFold => 0.0,
            _ if subject.cloth.repeats.any() => 0.0,
            _ => subject.grain_tolerance,
        };
        (off > allowed + DEGREES).then(|| Wrong::Grain {
            piece: self.copy.piece.clone(),
            degrees: off,
        })
    }

    /// Where y may lie for what the copy needs: two layers or one.
    fn band(&self) -> [f64; 2] {
        let section = self.section;
        let nowhere = [f64::INFINITY, f64::NEG_INFINITY];
        let needs_two = matches!(self.copy.part, Part::OnFold | Part::Both);
        match section.way {
            Way::Partly if needs_two => [0.0, section.double],
            Way::Partly => [section.double, section.width],
            Way::Open if needs_two => nowhere,
            Way::Crosswise if self.copy.part == Part::OnFold => nowhere,
            // One piece through two layers would be two.
            Way::Lengthwise | Way::Crosswise if !needs_two => nowhere,
            Way::Open | Way::Lengthwise | Way::Crosswise => [0.0, section.width],
        }
    }

    fn outside(&self) -> Option<Wrong> {
        let [low, high] = self.band();
        let beyond = |point: &Point| {
            let ways = [
                -point.x,
                point.x - self.section.length,
                low - point.y,
                point.y - high,
            ];
            ways.into_iter().fold(0.0, f64::max)
        };
        let by = self.rings.iter().flatten().map(beyond).fold(0.0, f64::max);
        (by > TOLERANCE).then(|| Wrong::Outside {
            piece: self.copy.piece.clone(),
            by,
        })
    }

    fn off_fold(&self) -> Option<Wrong> {
        if self.copy.part != Part::OnFold {
            return None;
        }
        let by = match self.piece {
            Some(piece) => {
                let Laid::OnFold(name) = &piece.cut.laid else {
                    return Some(self.never_on_fold());
                };
                let edge = piece.edge(name)?;
                let runs = edge.runs.iter().flat_map(flattened);
                let off = runs.map(|point| (self.copy.into * point).y.abs());
                off.fold(0.0, f64::max)
            }
            None => self.rings[0]
                .iter()
                .map(|point| point.y)
                .fold(f64::INFINITY, f64::min)
                .abs(),
        };
        (by > TOLERANCE).then(|| Wrong::Fold {
            piece: self.copy.piece.clone(),
            by,
        })
    }

    fn never_on_fold(&self) -> Wrong {
        Wrong::Fold {
            piece: self.copy.piece.clone(),
            by: f64::INFINITY,
        }
    }

    /// The layers of cloth under a point of the section, on the cloth itself.
    fn on_cloth(&self, point: Point) -> Vec<Point> {
        let section = self.section;
        let upper = Point::new(section.from + point.x, section.edge + point.y);
        let mut layers = vec![upper];
        if matches!(self.copy.part, Part::OnFold | Part::Both) {
            layers.push(match section.way {
                Way::Crosswise => Point::new(section.from - point.x, section.edge + point.y),
                _ => Point::new(section.from + point.x, section.edge - point.y),
            });
        }
        layers
    }

    fn layers(&self) -> Vec<Vec<Point>> {
        let mut all = Vec::new();
        for ring in &self.rings {
            let points: Vec<Vec<Point>> = ring.iter().map(|point| self.on_cloth(*point)).collect();
            for layer in 0..points.first().map_or(0, Vec::len) {
                all.push(points.iter().map(|layers| layers[layer]).collect());
            }
        }
        all
    }
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

/// Bars meet at every place where they are matched, in every copy of both pieces.
fn meetings(subject: &Subject<'_>, put: &[Put<'_>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let repeats = subject.cloth.repeats;
    for meeting in subject.meetings {
        let mut axes = vec![(repeats.along, 0)];
        if meeting.across {
            axes.push((repeats.across, 1));
        }
        for (bars, axis) in axes {
            let Some(bars) = bars else { continue };
            let mut phases: Vec<f64> = Vec::new();
            for (piece, point) in &meeting.sides {
                for one in put.iter().filter(|one| one.copy.piece == *piece) {
                    phases.extend(phases_at(one, *point, bars, axis));
                }
            }
            let by = phases
                .iter()
                .map(|phase| off(phase - phases[0], bars.every))
                .fold(0.0, f64::max);
            if by > BARS {
                wrong.push(Wrong::Bars {
                    name: meeting.name.clone(),
                    by,
                });
            }
        }
    }
    wrong
}

/// Where in the repeat a point of a piece lies, in every layer, counted along its own grain and towards its own drawn side.
fn phases_at(put: &Put<'_>, point: Point, bars: Bars, axis: usize) -> Vec<f64> {
    let grain = put.grain();
    let layers = put.on_cloth(put.copy.into * point);
    let mut phases = Vec::new();
    for (layer, at) in layers.into_iter().enumerate() {
        let is_under = layer == 1;
        let crosswise = put.section.way == Way::Crosswise;
        let (at, mut sign) = if axis == 0 {
            (at.x, grain.x.signum())
        } else {
            // The drawn side is to the left or to the right of the grain by its face.
            (
                at.y,
                grain.x.signum() * put.copy.into.determinant().signum(),
            )
        };
        if is_under && crosswise == (axis == 0) {
            sign = -sign;
        }
        phases.push(sign * (at - bars.from));
    }
    phases
}

/// Every centre line lies on a main bar, and so does every fold.
fn centres(subject: &Subject<'_>, put: &[Put<'_>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let repeats = subject.cloth.repeats;
    for one in put {
        let fold = match one.section.way {
            Way::Crosswise => repeats.along.map(|bars| (one.section.from, bars)),
            Way::Lengthwise | Way::Partly => repeats.across.map(|bars| (one.section.edge, bars)),
            Way::Open => None,
        };
        let mut check = |name: String, at: f64, bars: Bars| {
            let by = off(at - bars.from, bars.every);
            if by > BARS {
                wrong.push(Wrong::Bars { name, by });
            }
        };
        if let Some((at, bars)) = fold {
            check("fold".to_owned(), at, bars);
        }
        let (Some(bars), Some(piece)) = (repeats.across, one.piece) else {
            continue;
        };
        let lines = piece.edges.iter().find(|edge| is_centre(edge));
        let ends = lines.map(|edge| [edge.start(), edge.end()]);
        let Some([from, to]) = ends.map(|ends| ends.map(|end| one.copy.into * end)) else {
            continue;
        };
        if (to.y - from.y).abs() < 0.02 * (to.x - from.x).abs() {
            let middle = Point::new(from.x, 0.5 * (from.y + to.y));
            for at in one.on_cloth(middle) {
                check(
                    format!("centre of the {}", piece.title().to_lowercase()),
                    at.y,
                    bars,
                );
            }
        }
    }
    wrong
}

fn is_centre(edge: &Edge) -> bool {
    edge.kind == EdgeKind::Fold || edge.answers_to("centre") || edge.name == "centre"
}

/// How far a distance is from whole repeats.
fn off(distance: f64, every: f64) -> f64 {
    let rest = distance.rem_euclid(every);
    rest.min(every - rest)
}

/// The cutting line of a piece, finely drawn.
fn cutting_line(piece: &Piece) -> Option<Vec<Point>> {
    let outline = piece.cutting_outline().ok()?;
    Some(outline.curves().flat_map(flattened).collect())
}

fn flattened(curve: &Curve) -> Vec<Point> {
    let chords = Tolerance::from_mm(CHORDS).unwrap_or(Tolerance::DRAWING);
    curve.flattened(chords)
}

/// The square for bias strips, or its half on the fold.
fn square(subject: &Subject<'_>, copy: &Placed) -> Option<Vec<Point>> {
    if copy.piece != STRIPS {
        return None;
    }
    let side = strip_square(&Materials::of(subject.pattern).strips)?;
    let least = match copy.part {
        Part::OnFold => 0.0,
        _ => -side / 2.0,
    };
    let p = Point::new;
    let most = side / 2.0;
    Some(vec![
        p(0.0, least),
        p(side, least),
        p(side, most),
        p(0.0, most),
    ])
}

/// The reflection in the line through two points.
fn mirror(from: Point, to: Point) -> Affine {
    let way = (to - from).normalize();
    let (a, b) = (way.x * way.x - way.y * way.y, 2.0 * way.x * way.y);
    let linear = Affine::new([a, b, b, -a, 0.0, 0.0]);
    Affine::translate(from.to_vec2()) * linear * Affine::translate(-from.to_vec2())
}

fn girth(ring: &[Point]) -> f64 {
    let next = ring.iter().cycle().skip(1);
    ring.iter().zip(next).map(|(a, b)| a.distance(*b)).sum()
}
