//! Plausibility: what the measures of one body say about each other.
//!
//! Each measure is held against what all others lead one to expect, in standard deviations; sizes must stand in order;
//! parts must add up; repeat readings must agree. Knows no pattern. Invariant: nothing is corrected, only said.

use document::{Allowed, Finding, Place, Quantity, Severity, Unit};

use crate::complete::{Body, known};
use crate::figures;
use crate::measure::Measure;
use crate::normal::{Expected, Known, Normal};
use crate::relation::{RELATIONS, Relation};
use crate::slip::{Slip, slips};
use crate::tape::Tape;

/// From so many standard deviations on, a measure is worth a look.
const NOTABLE: f64 = 2.0;
/// From so many, it should be taped again.
const UNLIKELY: f64 = 3.0;
/// From so many, no body is like that.
const INCREDIBLE: f64 = 6.0;

/// Everything that is odd about the measures of a body, contradictions first.
pub fn findings(tape: &Tape, body: &Body) -> Vec<Finding> {
    let mut findings: Vec<Finding> = RELATIONS
        .iter()
        .filter_map(|relation| out_of_order(tape, relation))
        .collect();
    findings.extend(side_and_back(tape));
    findings.extend(outliers(tape));
    findings.extend(Measure::ALL.iter().filter_map(|m| repeats(tape, *m)));
    findings.extend(technical_error(tape));
    findings.extend(few_measures(body));
    findings
}

/// Two measures of which the lesser is the greater.
fn out_of_order(tape: &Tape, relation: &Relation) -> Option<Finding> {
    let (lesser, greater) = (relation.lesser, relation.greater);
    let (less, more) = (tape.mean(lesser)?, tape.mean(greater)?);
    let gap = relation.gap(less, more);
    if gap >= relation.never {
        return None;
    }
    let message = format!(
        "The {} ({}) and the {} ({}) cannot both be right.",
        lesser.label(),
        lesser.quantity(less),
        greater.label(),
        greater.quantity(more),
    );
    Some(
        placed(
            Finding::error("measures-contradict", message),
            tape,
            &[lesser, greater],
        )
        .measured(
            lesser.quantity(less),
            Allowed::AtMost(lesser.quantity(relation.share * more - relation.never)),
        )
        .because(format!(
            "{} {}",
            lesser.about().definition,
            greater.about().definition
        ))
        .cure(format!(
            "See whether the two were exchanged; if not, tape the {} and the {} again.",
            lesser.label(),
            greater.label()
        )),
    )
}

/// Armhole depth and side length together are the back waist length, within what tapes and round backs leave open.
fn side_and_back(tape: &Tape) -> Option<Finding> {
    // Three times the root of three readings' variances (5 mm each) and 8 mm for the difference between back and side.
    const MOST: f64 = 36.0;
    let parts = [
        Measure::ScyeDepth,
        Measure::SideLength,
        Measure::BackWaistLength,
    ];
    let [depth, side, back] = parts.map(|measure| tape.mean(measure));
    let over = depth? + side? - back?;
    if over.abs() <= MOST {
        return None;
    }
    let message = format!(
        "Armhole depth and side length add up to {}, and the back waist length is {}.",
        Quantity::mm(depth? + side?),
        Quantity::mm(back?),
    );
    Some(
        placed(Finding::warning("measures-do-not-add-up", message), tape, &parts)
            .measured(Quantity::mm(over.abs()), Allowed::AtMost(Quantity::mm(MOST)))
            .because("All three run between nape, armpit level and waist cord.")
            .cure("Lay a card level under the arm, mark its height at the middle of the back, and tape all three again."),
    )
}

/// Measures that the others do not lead one to expect, the oddest first; each is set aside before the rest are judged.
fn outliers(tape: &Tape) -> Vec<Finding> {
    let normal = figures::joint();
    let mut rest = known(tape);
    let mut found = Vec::new();
    while rest.len() > 1 {
        let expected = normal.leave_one_out(&rest);
        let Some((i, away)) = oddest(&rest, &expected) else {
            break;
        };
        if away.abs() < NOTABLE {
            break;
        }
        let odd = rest.remove(i);
        let partner = partner(&normal, odd, &rest);
        found.push(outlier(tape, odd, &expected[i], partner));
    }
    found
}

fn oddest(known: &[Known], expected: &[Expected]) -> Option<(usize, f64)> {
    known
        .iter()
        .zip(expected)
        .map(|(known, expected)| deviations(known.value, expected))
        .enumerate()
        .max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))
}

fn deviations(value: f64, expected: &Expected) -> f64 {
    (value - expected.mean) / expected.deviation
}

/// The other reading without which the odd one would be least odd: the one to tape again next.
fn partner(normal: &Normal, odd: Known, rest: &[Known]) -> Option<Measure> {
    let mut least: Option<(f64, Measure)> = None;
    for i in 0..rest.len() {
        let mut without = rest.to_vec();
        let left_out = without.remove(i);
        let expected = normal.expected_reading(odd, &without);
        let away = deviations(odd.value, &expected).abs();
        if least.is_none_or(|(best, _)| away < best) {
            least = Some((away, Measure::ALL[left_out.place]));
        }
    }
    least.map(|(_, measure)| measure)
}

fn outlier(tape: &Tape, odd: Known, expected: &Expected, partner: Option<Measure>) -> Finding {
    let measure = Measure::ALL[odd.place];
    let away = deviations(odd.value, expected);
    let slip = slip(tape, measure, odd.value, expected);
    let (code, severity) = match (&slip, away.abs()) {
        (Some(_), _) => ("unit-slip", Severity::Warning),
        (None, away) if away >= INCREDIBLE => ("measure-unlikely", Severity::Error),
        (None, away) if away >= UNLIKELY => ("measure-unlikely", Severity::Warning),
        _ => ("measure-unusual", Severity::Note),
    };
    let severity = if away.abs() >= INCREDIBLE {
        Severity::Error
    } else {
        severity
    };
    let message = format!(
        "The {} is {}; the other measures lead one to expect {}, give or take {}: {:.1} standard deviations {}.",
        measure.label(),
        measure.quantity(odd.value),
        measure.quantity(expected.mean),
        measure.quantity(expected.deviation),
        away.abs(),
        if away > 0.0 { "more" } else { "less" },
    );
    placed(Finding::new(code, severity, message), tape, &[measure])
        .measured(
            Quantity {
                value: away.abs(),
                unit: Unit::Deviations,
            },
            Allowed::AtMost(Quantity {
                value: UNLIKELY,
                unit: Unit::Deviations,
            }),
        )
        .because(reason(away.abs()))
        .cure(cure(measure, slip.as_ref(), partner))
}

const fn reason(away: f64) -> &'static str {
    if away >= INCREDIBLE {
        "No body is likely to be like that; a pattern drafted from it would not fit."
    } else if away >= UNLIKELY {
        "A slip of the tape is likelier than such a figure; if it is right, all is well."
    } else {
        "One woman in twenty differs as much; it is worth a second look before cloth is cut."
    }
}

fn cure(measure: Measure, slip: Option<&Slip>, partner: Option<Measure>) -> String {
    let label = measure.label();
    if let Some(slip) = slip {
        return format!(
            "Perhaps {}: that would be {}. If not, tape the {label} again.",
            slip.words,
            measure.quantity(slip.value)
        );
    }
    match partner {
        Some(partner) => format!(
            "Tape the {label} again; if it stays, tape the {} again.",
            partner.label()
        ),
        None => format!("Tape the {label} again."),
    }
}

/// A slip of the unit that would turn an unlikely value into an ordinary one.
fn slip(tape: &Tape, measure: Measure, value: f64, expected: &Expected) -> Option<Slip> {
    if deviations(value, expected).abs() < UNLIKELY {
        return None;
    }
    let shown = tape.span(measure)?.text();
    slips(measure, value, shown, expected.mean)
        .into_iter()
        .next()
        .filter(|slip| deviations(slip.value, expected).abs() < NOTABLE)
}

/// Repeat readings that lie further apart than a tape's own error allows.
fn repeats(tape: &Tape, measure: Measure) -> Option<Finding> {
    // Two readings differ by more than this, 3 · sqrt(2) times the error of one, in three pairs of a thousand.
    const MOST: f64 = 4.25;
    let readings = tape.readings(measure);
    let values = || readings.iter().map(|reading| reading.value);
    let apart = values().fold(f64::MIN, f64::max) - values().fold(f64::MAX, f64::min);
    let most = MOST * measure.about().observer_error;
    if readings.len() < 2 || apart <= most {
        return None;
    }
    let mut finding = Finding::warning(
        "readings-differ",
        format!(
            "The readings of the {} lie {} apart; their mean is used.",
            measure.label(),
            measure.quantity(apart)
        ),
    );
    for reading in readings {
        if let Some(span) = &reading.span {
            finding = finding.at_text(span, measure.quantity(reading.value).to_string());
        }
    }
    Some(
        finding
            .measured(measure.quantity(apart), Allowed::AtMost(measure.quantity(most)))
            .because("That is more than a tape's own error; one of them is a slip, or the body has changed.")
            .cure(repeat_cure(tape, measure)),
    )
}

fn repeat_cure(tape: &Tape, measure: Measure) -> String {
    let dates = || {
        tape.readings(measure)
            .iter()
            .filter_map(|reading| reading.date)
    };
    let days = dates()
        .min()
        .zip(dates().max())
        .map_or(0, |(first, last)| first.days_to(last));
    if days > 28 {
        format!("They were taken {days} days apart: keep only the newest, and tape it once more.")
    } else {
        "Tape it a third time and take the odd one out.".to_owned()
    }
}

fn technical_error(tape: &Tape) -> Option<Finding> {
    let (error, repeated) = tape.technical_error()?;
    let measures = if repeated == 1 {
        "1 measure was".to_owned()
    } else {
        format!("{repeated} measures were")
    };
    Some(
        Finding::note(
            "readings-agree-to",
            format!("{measures} read more than once; the technical error of measurement is {}.", Quantity::mm(error)),
        )
        .because("It is the spread of one reading about the mean of its repeats; practised hands keep below 4 to 9 mm."),
    )
}

/// Says which of the twelve measures of a bodice are estimated.
fn few_measures(body: &Body) -> Option<Finding> {
    let missing: Vec<&str> = Measure::ALL
        .into_iter()
        .filter(|measure| measure.about().minimum && !body.is_measured(*measure))
        .map(Measure::label)
        .collect();
    if missing.is_empty() {
        return None;
    }
    Some(
        Finding::note(
            "measures-estimated",
            format!(
                "Estimated from the others, since they were not taped: {}.",
                missing.join(", ")
            ),
        )
        .because(
            "A bodice drafted from estimates fits the average of all bodies with these measures.",
        )
        .cure("For a bodice, tape them too; a skirt needs only waist, hip and waist to hip."),
    )
}

/// The finding with the places of measures: where they stand in the file, or by their keys.
fn placed(mut finding: Finding, tape: &Tape, measures: &[Measure]) -> Finding {
    for measure in measures {
        finding = match tape.span(*measure) {
            Some(span) => finding.at_text(span, measure.label()),
            None => finding.at(Place::Measure(measure.key().to_owned())),
        };
    }
    finding
}
