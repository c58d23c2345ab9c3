//! One copy in its place: its true cutting line brought there, and the rules that it keeps or breaks by itself.

use geometry::{Affine, Curve, Point, Tolerance, Vec2};
use pattern::{Laid, Materials, Piece};

use super::{CHORDS, DEGREES, Subject, TOLERANCE, Wrong};
use crate::lay::{Lay, Part, Placed, STRIPS, Section, Way, strip_square};

/// A copy in its place.
pub(super) struct Put<'a> {
    pub(super) copy: &'a Placed,
    pub(super) piece: Option<&'a Piece>,
    pub(super) section: &'a Section,
    /// What lies there: one ring, or two halves of a whole piece.
    pub(super) rings: Vec<Vec<Point>>,
}

impl<'a> Put<'a> {
    pub(super) fn new(subject: &Subject<'a>, lay: &'a Lay, copy: &'a Placed) -> Option<Self> {
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
    pub(super) fn grain(&self) -> Vec2 {
        let angle = self.piece.map_or(0.0, |piece| piece.grain.radians());
        let (sin, cos) = geometry::math::sin_cos(angle);
        self.copy.into * Point::new(cos, sin) - self.copy.into * Point::ORIGIN
    }

    pub(super) fn off_grain(&self, subject: &Subject<'_>) -> Option<Wrong> {
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

    pub(super) fn outside(&self) -> Option<Wrong> {
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

    pub(super) fn off_fold(&self) -> Option<Wrong> {
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
    pub(super) fn on_cloth(&self, point: Point) -> Vec<Point> {
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

    pub(super) fn layers(&self) -> Vec<Vec<Point>> {
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
