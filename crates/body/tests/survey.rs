//! The survey's own rows, where the survey lies beside the project; the test says so where it does not.

use std::fmt::Write as _;
use std::io::Write as _;
use std::path::Path;
use std::{fs, io};

use body::{Measure, Tape, complete, population};

const SURVEY: &str = "../../../shared/data/ansur2_female_tape.csv";

/// Every woman of the survey as a tape, or none where the survey is not there.
fn women() -> Vec<Tape> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(SURVEY);
    let Ok(text) = fs::read_to_string(&path) else {
        let _ = writeln!(io::stderr(), "SKIPPED: the survey is not at {SURVEY}");
        return Vec::new();
    };
    let mut lines = text.lines().filter(|line| !line.starts_with('#'));
    let head: Vec<&str> = lines
        .next()
        .expect("the survey has a head line")
        .split(',')
        .collect();
    lines
        .map(|line| {
            let numbers = line
                .split(',')
                .map(|cell| cell.parse().expect("cells are numbers"));
            let row: Vec<(&str, f64)> = head.iter().copied().zip(numbers).collect();
            population::survey_body("survey", &row)
        })
        .collect()
}

/// The mapping's own spread and the tape's error, added from a fixed sequence: a survey row is the centre of what a
/// dressmaker would have read.
struct Taping(Vec<Tape>);

impl Taping {
    /// Standard normal numbers: a drawn woman's measures about their means, made independent by taking each from
    /// another woman.
    fn noise(&self, woman: usize, measure: Measure) -> f64 {
        let place = Measure::ALL
            .iter()
            .position(|m| *m == measure)
            .expect("listed");
        let other = &self.0[(woman * 31 + place * 577) % self.0.len()];
        (other.mean(measure).expect("drawn women have all measures") - body::figures::mean(measure))
            / body::figures::deviation(measure)
    }

    fn taped(&self, woman: usize, tape: &Tape) -> Tape {
        population::survey_measures().fold(Tape::new("taped"), |taped, (measure, spread)| {
            let error = measure.about().observer_error;
            let sd = (spread * spread + error * error).sqrt();
            let value = tape.mean(measure).expect("survey rows give the measure");
            taped.with(measure, value + sd * self.noise(woman, measure))
        })
    }
}

#[test]
fn what_is_left_out_is_predicted_with_the_stated_spread() {
    let women = women();
    let taping = Taping(population::draw(5003, 5).collect());
    // Every third woman: enough to know the spread to 3 %.
    let taped: Vec<Tape> = women
        .iter()
        .enumerate()
        .step_by(3)
        .map(|(i, woman)| taping.taped(i, woman))
        .collect();
    let mut report = String::new();
    for (measure, _) in population::survey_measures() {
        let z: Vec<f64> = taped.iter().map(|tape| left_out(tape, measure)).collect();
        if z.is_empty() {
            return;
        }
        let mean = z.iter().sum::<f64>() / z.len() as f64;
        let sd = (z.iter().map(|z| (z - mean) * (z - mean)).sum::<f64>() / z.len() as f64).sqrt();
        let _ = writeln!(report, "{:20} mean {mean:5.2} sd {sd:.2}", measure.key());
        assert!(mean.abs() < 0.15, "{}: mean {mean:.2}", measure.key());
        assert!((0.85..=1.15).contains(&sd), "{}: sd {sd:.2}", measure.key());
    }
    let _ = writeln!(io::stderr(), "{report}");
}

/// How many standard deviations a measure lies from what the woman's others predict.
fn left_out(tape: &Tape, measure: Measure) -> f64 {
    let value = tape.mean(measure).expect("taped");
    let body = complete(&tape.clone().without(measure));
    let error = measure.about().observer_error;
    (value - body.mm(measure)) / (body.sd(measure) * body.sd(measure) + error * error).sqrt()
}

#[test]
fn every_woman_of_the_survey_is_completed_to_a_drawable_body() {
    for woman in women() {
        let body = complete(&woman);
        let mm = |measure| body.mm(measure);
        assert!(
            mm(Measure::UpperChest) < mm(Measure::Bust),
            "bust {:.0}",
            mm(Measure::Bust)
        );
        assert!(mm(Measure::UnderBust) < mm(Measure::UpperChest));
        assert!(mm(Measure::FrontWaistLength) - mm(Measure::NeckToBustPoint) > 80.0);
        let width =
            (mm(Measure::UpperChest) - mm(Measure::AcrossBack) - mm(Measure::AcrossFront)) / 2.0;
        assert!(
            width > 20.0,
            "armhole {width:.0} wide at bust {:.0}",
            mm(Measure::Bust)
        );
    }
}
