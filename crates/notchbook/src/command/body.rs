//! `body`: all measures of a body, taped or estimated, and whether they agree.

use body::{Body, Estimate, Measure, Origin, Tape};
use document::{Finding, inches_eighths};
use geometry::Length;
use pattern::json::{findings_value, rounded, text};
use serde_json::{Value, json};

use crate::arguments::BodyArguments;
use crate::draft::read_body;
use crate::{Exit, Look, Said};
use making::report::{report, tally};
use making::words::{WIDTH, count, printable, table, wrapped};

/// Name of the format of `--json`, with its version.
const FORMAT: &str = "notchbook-body-1";

/// Runs the command.
pub(crate) fn run(arguments: &BodyArguments, look: Look) -> Said {
    let tape = match read_body(&arguments.body) {
        Ok(tape) => tape,
        Err(findings) if arguments.json => return Said::out(unread(&findings), Exit::Stopped),
        Err(findings) => return Said::stopped(&findings, look),
    };
    let body = body::complete(&tape);
    let findings = body::plausible::findings(&tape, &body);
    let out = if arguments.json {
        as_json(&tape, &body, &findings)
    } else {
        summary(&tape, &body, &findings, look)
    };
    Said::out(out, Exit::of(&findings))
}

fn summary(tape: &Tape, body: &Body, findings: &[Finding], look: Look) -> String {
    let taped = tape.measured().count();
    let name = if tape.name().is_empty() {
        "Body"
    } else {
        tape.name()
    };
    let heading = ["", "cm", "in", "±", "from"].map(str::to_owned).to_vec();
    let measures = Measure::ALL.into_iter();
    let rows: Vec<Vec<String>> = std::iter::once(heading)
        .chain(measures.map(|measure| row(measure, body.value(measure))))
        .collect();
    [
        format!(
            "{}: {} taped, {} estimated\n",
            printable(name),
            count(taped, "measure"),
            Measure::COUNT - taped
        ),
        tape.note().map_or_else(String::new, |note| wrapped(&printable(note), WIDTH) + "\n"),
        "\n".to_owned(),
        table(&rows, &[false, true, true, true, false]),
        "\n± is one standard deviation: of the tape for what was taped, of the guess for what was estimated.\n".to_owned(),
        found(findings),
        report(findings, look.colour_out),
    ]
    .concat()
}

fn found(findings: &[Finding]) -> String {
    let below = if findings.is_empty() { "" } else { "\n" };
    format!("Found: {}.\n{below}", tally(findings))
}

fn row(measure: Measure, estimate: &Estimate) -> Vec<String> {
    let (value, inches, spread) = if measure.is_angle() {
        (
            format!("{:.1}°", estimate.value),
            String::new(),
            format!("{:.1}°", estimate.sd),
        )
    } else {
        (
            format!("{:.1}", estimate.value / 10.0),
            inches_eighths(Length::from_mm(estimate.value))
                .trim_end_matches(" in")
                .to_owned(),
            format!("{:.1}", estimate.sd / 10.0),
        )
    };
    let from = match &estimate.origin {
        Origin::Measured { readings: 1 } => "taped".to_owned(),
        Origin::Measured { readings } => format!("taped, mean of {readings} readings"),
        Origin::Estimated { from } => format!("estimated from {from}"),
    };
    vec![measure.label().to_owned(), value, inches, spread, from]
}

fn as_json(tape: &Tape, body: &Body, findings: &[Finding]) -> String {
    let error = tape.technical_error();
    let measures = Measure::ALL
        .into_iter()
        .map(|measure| as_value(measure, body.value(measure)));
    text(&json!({
        "format": FORMAT,
        "name": tape.name(),
        "note": tape.note(),
        "measures": measures.collect::<Vec<_>>(),
        "technical_error_mm": error.map(|(error, _)| rounded(error)),
        "measures_repeated": error.map_or(0, |(_, repeated)| repeated),
        "findings": findings_value(findings),
    }))
}

fn as_value(measure: Measure, estimate: &Estimate) -> Value {
    let (readings, from) = match &estimate.origin {
        Origin::Measured { readings } => (*readings, None),
        Origin::Estimated { from } => (0, Some(from)),
    };
    json!({
        "name": measure.key(),
        "title": measure.label(),
        "value": rounded(estimate.value),
        "unit": measure.quantity(0.0).unit.word(),
        "spread": rounded(estimate.sd),
        "readings": readings,
        "estimated_from": from,
    })
}

fn unread(findings: &[Finding]) -> String {
    text(&json!({
        "format": FORMAT,
        "name": null,
        "measures": [],
        "findings": findings_value(findings),
    }))
}
