//! Slips of the unit: inches written as centimetres, millimetres as centimetres, half of a width for the whole.
//!
//! Knows no file. A slip is offered, never assumed: the value stays as it was written.

use crate::figures;
use crate::measure::Measure;

/// The value a person may have meant, and how it would be written.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Slip {
    /// Millimetres.
    pub(crate) value: f64,
    /// What may have happened, such as `inches were meant`.
    pub(crate) words: String,
}

/// What may have been meant by a length, likeliest first by nearness to what is expected of the measure.
///
/// `shown` is the value as it stands in the file, from which the unit is taken.
pub(crate) fn slips(measure: Measure, value: f64, shown: &str, expected: f64) -> Vec<Slip> {
    if measure.is_angle() {
        return Vec::new();
    }
    let written = written_unit(shown);
    let mut slips: Vec<Slip> = UNITS
        .iter()
        .filter(|unit| written.is_some_and(|written| written.word != unit.word))
        .map(|unit| Slip {
            value: value * unit.mm / written.map_or(1.0, |written| written.mm),
            words: format!("{} were meant", unit.name),
        })
        .collect();
    if HALVES.contains(&measure) {
        slips.push(Slip {
            value: value * 2.0,
            words: "half of it was written".to_owned(),
        });
    }
    let about = measure.about();
    slips.retain(|slip| (about.least..=about.most).contains(&slip.value));
    slips.sort_by(|a, b| {
        let away = |slip: &Slip| (slip.value - expected).abs();
        away(a).total_cmp(&away(b))
    });
    slips
}

/// What may have been meant by an impossible length, judged by the measure alone.
pub(crate) fn slip_of_impossible(measure: Measure, value: f64, shown: &str) -> Option<Slip> {
    // Farther than this from the mean is nearly as unlikely as the value itself.
    const FARTHEST: f64 = 4.5;
    let (mean, deviation) = (figures::mean(measure), figures::deviation(measure));
    slips(measure, value, shown, mean)
        .into_iter()
        .next()
        .filter(|slip| (slip.value - mean).abs() <= FARTHEST * deviation)
}

/// Widths that are drawn by half, and are sometimes noted by half.
const HALVES: [Measure; 3] = [
    Measure::AcrossBack,
    Measure::AcrossFront,
    Measure::BustPointWidth,
];

#[derive(Clone, Copy)]
struct WrittenUnit {
    word: &'static str,
    name: &'static str,
    mm: f64,
}

const UNITS: [WrittenUnit; 3] = [
    WrittenUnit {
        word: "mm",
        name: "millimetres",
        mm: 1.0,
    },
    WrittenUnit {
        word: "cm",
        name: "centimetres",
        mm: 10.0,
    },
    WrittenUnit {
        word: "in",
        name: "inches",
        mm: geometry::Length::MM_PER_INCH,
    },
];

fn written_unit(shown: &str) -> Option<WrittenUnit> {
    let shown = shown.to_lowercase();
    let inches = ["in", "″", "”", "\\\"", "''"]
        .iter()
        .any(|sign| shown.contains(sign));
    UNITS.into_iter().find(|unit| match unit.word {
        "in" => inches,
        word => shown.contains(word),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_slips_are_recognised() {
        for (measure, value, shown, words) in [
            (Measure::Bust, 360.0, "\"36 cm\"", "inches were meant"),
            (Measure::Bust, 92.0, "\"92 mm\"", "centimetres were meant"),
            (
                Measure::Bust,
                9200.0,
                "\"920 cm\"",
                "millimetres were meant",
            ),
            (Measure::Bust, 2336.8, "\"92 in\"", "centimetres were meant"),
            (
                Measure::AcrossBack,
                180.0,
                "\"18 cm\"",
                "half of it was written",
            ),
            (Measure::Stature, 16.4, "\"16.4 mm\"", ""),
        ] {
            let slip = slip_of_impossible(measure, value, shown);
            assert_eq!(
                slip.map_or(String::new(), |slip| slip.words),
                words,
                "{shown}"
            );
        }
    }
}
