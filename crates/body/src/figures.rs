//! Means, spreads and correlations of the measures over women, as data.
//!
//! From the 2012 Anthropometric Survey of US Army Personnel (ANSUR II, 1,986 women, public data) where it has the measure,
//! by linear rules with a stated spread where it has not; `scripts/survey/derive.py` holds every rule with its source and
//! writes the table. The survey's women served in an army: fitter and of a narrower range of weight than most.

mod table;

use crate::measure::Measure;
use crate::normal::{Normal, Square};

pub use table::WOMEN;

/// How a row of the survey gives a measure: a constant and shares of columns, all in millimetres.
pub(crate) struct FromSurvey {
    /// Key of the measure.
    pub(crate) key: &'static str,
    /// Added to the shares.
    pub(crate) constant: f64,
    /// Column of the survey and its share.
    pub(crate) columns: &'static [(&'static str, f64)],
    /// Standard deviation of what the rule does not know.
    pub(crate) spread: f64,
}

pub(crate) use table::FROM_SURVEY;

/// The joint normal distribution of all measures, in the order of [`Measure::ALL`].
pub(crate) fn joint() -> Normal {
    let mut covariance = Square::zero(Measure::COUNT);
    let mut below = table::CORRELATION.iter();
    for (i, deviation) in table::DEVIATION.iter().enumerate() {
        for (j, other) in table::DEVIATION[..i].iter().enumerate() {
            let correlation = below.next().expect("the table holds every pair once");
            covariance.set_both(i, j, correlation * deviation * other);
        }
        covariance.set_both(i, i, deviation * deviation);
    }
    Normal {
        mean: table::MEAN.to_vec(),
        covariance,
    }
}

/// Mean over the survey's women (mm or degrees).
pub fn mean(measure: Measure) -> f64 {
    table::MEAN[measure.index()]
}

/// Standard deviation over the survey's women (mm or degrees).
pub fn deviation(measure: Measure) -> f64 {
    table::DEVIATION[measure.index()]
}

/// Correlation of two measures over the survey's women.
pub fn correlation(one: Measure, other: Measure) -> f64 {
    let (low, high) = (one.min(other).index(), one.max(other).index());
    if low == high {
        return 1.0;
    }
    table::CORRELATION[high * (high - 1) / 2 + low]
}
