//! Completion: from a tape to a whole body, each value measured or estimated, each with its spread.
//!
//! A missing measure is what the joint normal distribution of all measures expects of it, given those that were taped and
//! how far a tape can be trusted. Knows no file. Invariants: a measured value stays as it was measured; every tape that
//! was read gives a body; every value is possible, and estimates stand in the order in which bodies have them.

use geometry::Angle;

use crate::figures;
use crate::measure::Measure;
use crate::normal::{Expected, Known};
use crate::relation::{RELATIONS, Relation};
use crate::tape::Tape;

/// Where a value comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Origin {
    /// Taped.
    Measured {
        /// How many readings it is the mean of.
        readings: usize,
    },
    /// Estimated.
    Estimated {
        /// From what, in a few words, such as `bust, waist and hip`.
        from: String,
    },
}

/// A value with its standard deviation and origin; millimetres, or degrees for the slope.
#[derive(Clone, Debug, PartialEq)]
pub struct Estimate {
    /// The value.
    pub value: f64,
    /// Its standard deviation.
    pub sd: f64,
    /// Where it comes from.
    pub origin: Origin,
}

/// A body of which every measure is known or estimated.
#[derive(Clone, Debug, PartialEq)]
pub struct Body {
    /// What the body is called.
    pub name: String,
    estimates: Vec<Estimate>,
}

impl Body {
    /// The value of a measure with its spread and origin.
    pub fn value(&self, measure: Measure) -> &Estimate {
        &self.estimates[measure.index()]
    }

    /// The value of a measure in millimetres; the slope, which is an angle, in degrees.
    pub fn mm(&self, measure: Measure) -> f64 {
        self.value(measure).value
    }

    /// The slope of the shoulder.
    pub fn shoulder_slope(&self) -> Angle {
        Angle::from_degrees(self.value(Measure::ShoulderSlope).value)
    }

    /// Standard deviation of a measure (mm or degrees).
    pub fn sd(&self, measure: Measure) -> f64 {
        self.value(measure).sd
    }

    /// Whether a measure was taped.
    pub fn is_measured(&self, measure: Measure) -> bool {
        matches!(self.value(measure).origin, Origin::Measured { .. })
    }
}

/// Completes a tape to a whole body.
pub fn complete(tape: &Tape) -> Body {
    let known = known(tape);
    let expected = figures::joint().given(&known);
    let estimates = Measure::ALL
        .into_iter()
        .zip(&expected)
        .map(|(measure, expected)| match tape.mean(measure) {
            Some(value) => Estimate {
                value,
                sd: tape.reading_error(measure),
                origin: Origin::Measured {
                    readings: tape.readings(measure).len(),
                },
            },
            None => estimated(measure, expected, &known),
        })
        .collect();
    let mut body = Body {
        name: tape.name().to_owned(),
        estimates,
    };
    put_in_order(&mut body);
    body
}

/// What a tape says, with the error of each reading.
pub(crate) fn known(tape: &Tape) -> Vec<Known> {
    tape.measured()
        .filter_map(|measure| {
            let error = tape.reading_error(measure);
            tape.mean(measure).map(|value| Known {
                place: measure.index(),
                value,
                variance: error * error,
            })
        })
        .collect()
}

fn estimated(measure: Measure, expected: &Expected, known: &[Known]) -> Estimate {
    let about = measure.about();
    Estimate {
        value: expected.mean.clamp(about.least, about.most),
        sd: expected.deviation,
        origin: Origin::Estimated {
            from: weightiest(expected, known),
        },
    }
}

/// The readings that count most for an estimate: at most three, none that counts less than a quarter of the first.
fn weightiest(expected: &Expected, known: &[Known]) -> String {
    let mut readings: Vec<(f64, &str)> = expected
        .weights
        .iter()
        .zip(known)
        .map(|(weight, known)| (weight.abs(), Measure::ALL[known.place].label()))
        .collect();
    readings.sort_by(|a, b| b.0.total_cmp(&a.0));
    let first = readings.first().map_or(0.0, |(weight, _)| *weight);
    // Below this a reading says next to nothing, and the mean over all women is what is left.
    if first < 0.05 {
        return "the mean of the survey's women".to_owned();
    }
    let labels: Vec<&str> = readings
        .iter()
        .take(3)
        .filter(|(weight, _)| *weight >= first / 4.0)
        .map(|(_, label)| *label)
        .collect();
    match labels.as_slice() {
        [rest @ .., last] if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => labels.concat(),
    }
}

/// Moves estimates that contradict the order of sizes; what was measured stays.
fn put_in_order(body: &mut Body) {
    for relation in RELATIONS {
        let lesser = body.mm(relation.lesser);
        let greater = body.mm(relation.greater);
        if relation.gap(lesser, greater) < relation.kept {
            separate(body, relation, lesser, greater);
        }
    }
}

fn separate(body: &mut Body, relation: &Relation, lesser: f64, greater: f64) {
    if !body.is_measured(relation.lesser) {
        set(body, relation.lesser, relation.most(greater));
    } else if !body.is_measured(relation.greater) {
        set(body, relation.greater, relation.least(lesser));
    }
}

fn set(body: &mut Body, measure: Measure, value: f64) {
    let about = measure.about();
    body.estimates[measure.index()].value = value.clamp(about.least, about.most);
}
