//! Bodies by the thousand: drawn from the published distribution, or mapped from the survey's own rows.
//!
//! For tests and for figures in the documents. Invariant: the same seed gives the same bodies on every machine.

use std::iter;

use geometry::math;
use rand_chacha::ChaCha8Rng;
use rand_chacha::rand_core::{Rng, SeedableRng};

use crate::figures;
use crate::measure::Measure;
use crate::relation::RELATIONS;
use crate::tape::Tape;

/// Bodies further from the mean in any measure are not drawn, in standard deviations.
const FARTHEST: f64 = 3.5;

/// So many tapes of invented women, every measure taped without error.
pub fn draw(count: usize, seed: u64) -> impl Iterator<Item = Tape> {
    let normal = figures::joint();
    let root = normal
        .covariance
        .root()
        .expect("a test shows that the survey's table is positive definite");
    let mut chance = Chance::new(seed);
    iter::repeat_with(move || {
        let steps: Vec<f64> = (0..Measure::COUNT).map(|_| chance.normal()).collect();
        let beyond = root.times(&steps);
        normal
            .mean
            .iter()
            .zip(beyond)
            .map(|(mean, beyond)| mean + beyond)
            .collect()
    })
    .filter(|values: &Vec<f64>| is_human(values))
    .take(count)
    .enumerate()
    .map(|(i, values)| tape(&format!("woman {}", i + 1), &values))
}

/// The tape of one woman of the survey, from her row: the columns' names and values in millimetres.
///
/// Measures whose columns are missing from the row, and those that the survey has not, are left out.
pub fn survey_body(name: &str, row: &[(&str, f64)]) -> Tape {
    let column = |wanted: &str| {
        row.iter()
            .find(|(name, _)| *name == wanted)
            .map(|(_, value)| *value)
    };
    let mut tape = Tape::new(name);
    for rule in figures::FROM_SURVEY {
        let shares = rule
            .columns
            .iter()
            .map(|(name, share)| column(name).map(|value| share * value));
        let measure = Measure::from_key(rule.key);
        if let (Some(measure), Some(sum)) = (measure, shares.sum::<Option<f64>>()) {
            tape = tape.with(measure, rule.constant + sum);
        }
    }
    tape
}

/// The measures that a survey row gives, and the standard deviation (mm) of what the mapping does not know.
pub fn survey_measures() -> impl Iterator<Item = (Measure, f64)> {
    figures::FROM_SURVEY
        .iter()
        .filter_map(|rule| Measure::from_key(rule.key).map(|measure| (measure, rule.spread)))
}

fn is_human(values: &[f64]) -> bool {
    let likely = Measure::ALL
        .into_iter()
        .zip(values)
        .all(|(measure, value)| {
            let away = (value - figures::mean(measure)) / figures::deviation(measure);
            let about = measure.about();
            away.abs() <= FARTHEST && (about.least..=about.most).contains(value)
        });
    likely
        && RELATIONS.iter().all(|relation| {
            let (lesser, greater) = (
                values[relation.lesser.index()],
                values[relation.greater.index()],
            );
            relation.gap(lesser, greater) >= relation.never
        })
}

fn tape(name: &str, values: &[f64]) -> Tape {
    Measure::ALL
        .into_iter()
        .zip(values)
        .fold(Tape::new(name), |tape, (measure, value)| {
            tape.with(measure, *value)
        })
}

/// Chance from a seed.
struct Chance(ChaCha8Rng);

impl Chance {
    fn new(seed: u64) -> Self {
        Self(ChaCha8Rng::seed_from_u64(seed))
    }

    /// A number from above 0 to 1.
    fn unit(&mut self) -> f64 {
        ((self.0.next_u64() >> 11) + 1) as f64 / (1_u64 << 53) as f64
    }

    /// A number from the standard normal distribution (Box and Muller 1958).
    fn normal(&mut self) -> f64 {
        let radius = (-2.0 * math::ln(self.unit())).sqrt();
        radius * math::cos(std::f64::consts::TAU * self.unit())
    }
}
