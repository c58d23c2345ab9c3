//! A tape: every reading that was taken of one body.
//!
//! Knows no other body: it keeps what was read, with its place in the file and its day, and says how far repeat readings
//! agree. Invariant: values are millimetres, degrees for the slope.

use document::Span;

use crate::date::Date;
use crate::measure::Measure;

/// One reading of one measure.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// Millimetres, or degrees for the slope.
    pub value: f64,
    /// Where it stands in the file, if it comes from one.
    pub span: Option<Span>,
    /// The day on which it was taken, if noted.
    pub date: Option<Date>,
}

/// All readings of one body.
#[derive(Clone, Debug, PartialEq)]
pub struct Tape {
    name: String,
    note: Option<String>,
    readings: Vec<Vec<Reading>>,
}

impl Tape {
    /// A tape without readings.
    pub fn new(name: impl Into<String>) -> Self {
        Self {
            name: name.into(),
            note: None,
            readings: vec![Vec::new(); Measure::COUNT],
        }
    }

    /// The tape with one more reading (mm or degrees) that stands in no file.
    pub fn with(mut self, measure: Measure, value: f64) -> Self {
        self.add(
            measure,
            Reading {
                value,
                span: None,
                date: None,
            },
        );
        self
    }

    /// The tape without any reading of a measure.
    pub fn without(mut self, measure: Measure) -> Self {
        self.readings[measure.index()].clear();
        self
    }

    /// Adds a reading.
    pub fn add(&mut self, measure: Measure, reading: Reading) {
        self.readings[measure.index()].push(reading);
    }

    /// Sets the note.
    pub(crate) fn set_note(&mut self, note: String) {
        self.note = Some(note);
    }

    /// The name of the body.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The note written with it.
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    /// The readings of a measure, as written.
    pub fn readings(&self, measure: Measure) -> &[Reading] {
        &self.readings[measure.index()]
    }

    /// Mean of the readings of a measure (mm or degrees), where there are any.
    pub fn mean(&self, measure: Measure) -> Option<f64> {
        let readings = self.readings(measure);
        if readings.is_empty() {
            return None;
        }
        let sum: f64 = readings.iter().map(|reading| reading.value).sum();
        Some(sum / readings.len() as f64)
    }

    /// Standard deviation of the mean reading about the true value (mm or degrees).
    pub fn reading_error(&self, measure: Measure) -> f64 {
        let count = self.readings(measure).len().max(1);
        measure.about().observer_error / (count as f64).sqrt()
    }

    /// The measures that were read, in the order of [`Measure::ALL`].
    pub fn measured(&self) -> impl Iterator<Item = Measure> {
        Measure::ALL
            .into_iter()
            .filter(|measure| !self.readings(*measure).is_empty())
    }

    /// Where the last reading of a measure stands.
    pub fn span(&self, measure: Measure) -> Option<&Span> {
        self.readings(measure)
            .iter()
            .rev()
            .find_map(|reading| reading.span.as_ref())
    }

    /// Technical error of measurement of the repeat readings of lengths, in mm, and how many measures were repeated.
    ///
    /// For two readings of each measure it is sqrt(Σ(x1 − x2)²/2N), eq. 2.2 of Zakaria and Gupta (eds.), *Anthropometry,
    /// Apparel Sizing and Design*, 2nd ed. 2020; for more, squares about each measure's own mean are pooled, which
    /// comes to the same for two.
    pub fn technical_error(&self) -> Option<(f64, usize)> {
        let (mut squares, mut freedom, mut repeated) = (0.0, 0, 0);
        for measure in self.measured().filter(|measure| !measure.is_angle()) {
            let readings = self.readings(measure);
            let mean = self
                .mean(measure)
                .expect("only measures that were read are listed");
            if readings.len() > 1 {
                squares += readings
                    .iter()
                    .map(|r| (r.value - mean) * (r.value - mean))
                    .sum::<f64>();
                freedom += readings.len() - 1;
                repeated += 1;
            }
        }
        (repeated > 0).then(|| ((squares / freedom as f64).sqrt(), repeated))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn repeat_readings_are_averaged_and_their_error_is_that_of_the_handbook() {
        let tape = Tape::new("Imke")
            .with(Measure::Bust, 920.0)
            .with(Measure::Bust, 914.0)
            .with(Measure::Waist, 740.0)
            .with(Measure::Waist, 748.0)
            .with(Measure::Hip, 1000.0);
        assert_eq!(tape.mean(Measure::Bust), Some(917.0));
        assert_eq!(tape.mean(Measure::Wrist), None);
        // Zakaria & Gupta (eds.) 2020, eq. 2.2: sqrt(Σ(x1 − x2)² / 2N) with differences 6 and 8, N = 2.
        let by_hand = ((36.0_f64 + 64.0) / 4.0).sqrt();
        let (error, repeated) = tape.technical_error().unwrap();
        assert!((error - by_hand).abs() < 1e-12);
        assert_eq!(repeated, 2);
        assert!((tape.reading_error(Measure::Bust) - 9.0 / 2.0_f64.sqrt()).abs() < 1e-12);
    }
}
