//! The cubics that run beside one cubic at a constant distance.
//!
//! Knows nothing of what comes before or after it. Uses no transcendental function, so that the same cubics come out on
//! every machine. Invariant: each starts where the one before ended, and keeps its distance to the tolerance.

use kurbo::{CubicBez, Line, ParamCurve, ParamCurveDeriv, PathSeg, Point, QuadBez, Vec2};

use crate::{curve::direction, offset::left, solve::bracketed};

/// Places at which a fit is judged.
const PLACES: usize = 9;
/// Rounds in which handles are improved.
const ROUNDS: u32 = 3;
/// Halvings after which a fit is taken as it is: pieces are then a thousandth of the cubic.
const DEEPEST: u32 = 10;

/// A cubic and the distance at which others run to its left, mm.
struct Source {
    cubic: CubicBez,
    pace: QuadBez,
    bend: Line,
    distance: f64,
}

/// A stretch of the source by its parameters, with the direction in which the offset runs there: 1 with the source, −1
/// against it where it is hollower than the distance.
#[derive(Clone, Copy)]
struct Stretch {
    from: f64,
    to: f64,
    sense: f64,
}

/// Cubics at a distance, mm, to the left of one, within a tolerance in mm; loops and cusps are kept.
///
/// Ends and end directions are exact; handle lengths come from the offset's own speed and are improved by least squares of
/// what is missing at right angles (the idea of J. Hoschek, "Spline approximation of offset curves", Computer Aided
/// Geometric Design 5, 1988), the cubic being halved until it fits.
pub(crate) fn parallels(cubic: &CubicBez, distance: f64, tolerance: f64) -> Vec<CubicBez> {
    let pace = cubic.deriv();
    let source = Source {
        cubic: *cubic,
        pace,
        bend: pace.deriv(),
        distance,
    };
    let mut found = Vec::new();
    for stretch in source.stretches() {
        source.fit(stretch, tolerance, 0, &mut found);
    }
    found
}

impl Source {
    /// The source between the cusps of its offset.
    fn stretches(&self) -> Vec<Stretch> {
        const STEPS: u32 = 16;
        let mut borders = vec![0.0];
        let place = |step: u32| f64::from(step) / f64::from(STEPS);
        for step in 0..STEPS {
            let (low, high) = (place(step), place(step + 1));
            if (self.forward(low) > 0.0) != (self.forward(high) > 0.0) {
                borders.extend(bracketed(low, high, 1e-12, |t| self.forward(t)));
            }
        }
        borders.push(1.0);
        borders
            .windows(2)
            .filter(|pair| pair[1] - pair[0] > 1e-9)
            .map(|pair| Stretch {
                from: pair[0],
                to: pair[1],
                sense: self.forward(f64::midpoint(pair[0], pair[1])).signum(),
            })
            .collect()
    }

    /// Above zero where the offset runs with the source: its speed, times the square of the source's.
    fn forward(&self, t: f64) -> f64 {
        let (way, bend) = (self.pace.eval(t).to_vec2(), self.bend.eval(t).to_vec2());
        way.hypot2() * way.hypot() + self.distance * way.cross(bend)
    }

    /// Speed of the offset over the parameter, without its sign.
    fn speed(&self, t: f64) -> f64 {
        let square = self.pace.eval(t).to_vec2().hypot2();
        if square > 1e-12 {
            self.forward(t).abs() / square
        } else {
            0.0
        }
    }

    fn direction(&self, t: f64) -> Vec2 {
        direction(&PathSeg::Cubic(self.cubic), t)
    }

    /// The point of the offset beside a parameter.
    fn at(&self, t: f64) -> Point {
        self.cubic.eval(t) + left(self.direction(t)) * self.distance
    }

    fn fit(&self, stretch: Stretch, tolerance: f64, depth: u32, found: &mut Vec<CubicBez>) {
        let (fitted, error) = self.fitted(stretch, tolerance);
        if error <= tolerance || depth >= DEEPEST {
            found.push(fitted);
            return;
        }
        let middle = f64::midpoint(stretch.from, stretch.to);
        self.fit(
            Stretch {
                to: middle,
                ..stretch
            },
            tolerance,
            depth + 1,
            found,
        );
        self.fit(
            Stretch {
                from: middle,
                ..stretch
            },
            tolerance,
            depth + 1,
            found,
        );
    }

    /// The best cubic beside a stretch, and how far it strays.
    fn fitted(&self, stretch: Stretch, tolerance: f64) -> (CubicBez, f64) {
        let width = (stretch.to - stretch.from) / 3.0;
        let mut handles = [
            self.speed(stretch.from) * width,
            self.speed(stretch.to) * width,
        ];
        let mut feet: [f64; PLACES] =
            std::array::from_fn(|k| stretch.from + share(k) * (stretch.to - stretch.from));
        let mut best = (self.drawn(stretch, handles), f64::INFINITY);
        for _ in 0..=ROUNDS {
            let drawn = self.drawn(stretch, handles);
            let missing = self.missing(stretch, &drawn, &mut feet);
            let error = missing.iter().map(|gap| gap.hypot()).fold(0.0, f64::max);
            if error < best.1 {
                best = (drawn, error);
            }
            if best.1 <= tolerance {
                break;
            }
            handles = self.improved(stretch, handles, &missing, &feet);
        }
        best
    }

    fn drawn(&self, stretch: Stretch, handles: [f64; 2]) -> CubicBez {
        let (start, end) = (self.at(stretch.from), self.at(stretch.to));
        let [leaves, arrives] = self.ways(stretch);
        CubicBez::new(
            start,
            start + leaves * handles[0],
            end - arrives * handles[1],
            end,
        )
    }

    /// Directions of the offset at a stretch's ends.
    fn ways(&self, stretch: Stretch) -> [Vec2; 2] {
        [stretch.from, stretch.to].map(|t| self.direction(t) * stretch.sense)
    }

    /// From the true offset to the drawn one at every place, after a step of each foot towards the one at right angles.
    fn missing(
        &self,
        stretch: Stretch,
        drawn: &CubicBez,
        feet: &mut [f64; PLACES],
    ) -> [Vec2; PLACES] {
        std::array::from_fn(|k| {
            let point = drawn.eval(share(k));
            for _ in 0..2 {
                let t = feet[k];
                let (way, bend) = (self.pace.eval(t).to_vec2(), self.bend.eval(t).to_vec2());
                let away = point - self.cubic.eval(t);
                let slope = way.hypot2() - away.dot(bend);
                let most = (stretch.to - stretch.from) / 8.0;
                if slope.abs() > 1e-9 {
                    feet[k] += (away.dot(way) / slope).clamp(-most, most);
                }
                feet[k] = feet[k].clamp(stretch.from, stretch.to);
            }
            point - self.at(feet[k])
        })
    }

    /// Handles that make the least squares of what is missing at right angles smallest.
    fn improved(
        &self,
        stretch: Stretch,
        handles: [f64; 2],
        missing: &[Vec2; PLACES],
        feet: &[f64; PLACES],
    ) -> [f64; 2] {
        // Where both handles run along the curve they hardly matter; this keeps the system solvable there.
        const STEADY: f64 = 1e-6;
        let [leaves, arrives] = self.ways(stretch);
        let (mut aa, mut ab, mut bb, mut ar, mut br) = (STEADY, 0.0, STEADY, 0.0, 0.0);
        for k in 0..PLACES {
            let (u, outside) = (share(k), left(self.direction(feet[k])));
            let a = 3.0 * (1.0 - u) * (1.0 - u) * u * leaves.dot(outside);
            let b = -3.0 * (1.0 - u) * u * u * arrives.dot(outside);
            let off = missing[k].dot(outside);
            aa += a * a;
            ab += a * b;
            bb += b * b;
            ar -= a * off;
            br -= b * off;
        }
        let whole = aa * bb - ab * ab;
        [
            (handles[0] + (ar * bb - br * ab) / whole).max(0.0),
            (handles[1] + (aa * br - ab * ar) / whole).max(0.0),
        ]
    }
}

/// Parameter of a place at which a fit is judged.
fn share(place: usize) -> f64 {
    (place + 1) as f64 / (PLACES + 1) as f64
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_wave_is_followed_by_few_cubics() {
        let wave = CubicBez::new((0.0, 0.0), (60.0, -50.0), (80.0, 70.0), (140.0, 10.0));
        for distance in [15.0, -15.0, 40.0] {
            let beside = parallels(&wave, distance, 0.0005);
            assert!(beside.len() <= 16, "{}", beside.len());
            assert!(
                beside
                    .windows(2)
                    .all(|pair| (pair[0].p3 - pair[1].p0).hypot() < 1e-9)
            );
            let curve = crate::Curve::cubic(wave.p0, wave.p1, wave.p2, wave.p3);
            let ends = [beside[0].p0, beside[beside.len() - 1].p3];
            assert!(
                ends.iter()
                    .all(|end| curve.nearest(*end).distance <= distance.abs() + 1e-9)
            );
        }
    }

    #[test]
    fn cusps_are_borders() {
        // At 40 mm inside, the offset of this hollow turns back and forth once.
        let hollow = CubicBez::new((0.0, 0.0), (10.0, 60.0), (70.0, 60.0), (80.0, 0.0));
        let source = Source {
            cubic: hollow,
            pace: hollow.deriv(),
            bend: hollow.deriv().deriv(),
            distance: 40.0,
        };
        let senses: Vec<f64> = source
            .stretches()
            .iter()
            .map(|stretch| stretch.sense)
            .collect();
        assert_eq!(senses, [1.0, -1.0, 1.0]);
    }
}
