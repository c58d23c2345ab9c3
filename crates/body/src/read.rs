//! The reader of body files: from text to a tape.
//!
//! ```kdl
//! body "Imke" {
//!     note "taped over a thin shirt"
//!     bust "92 cm"
//!     bust "91.5 cm" on="2026-10-03"
//!     waist "29 in"
//!     shoulder-slope "21 deg"
//! }
//! ```
//!
//! Knows which names may stand in such a file and what no body can measure; whether the measures agree is another
//! question. Invariant: a tape that was read holds only possible values.

use std::sync::Arc;

use document::{
    Allowed, Entry, Finding, Source, Span, Value, check_properties, check_statements, given_twice,
    missing, unknown,
};

use crate::date::Date;
use crate::measure::Measure;
use crate::slip::slip_of_impossible;
use crate::tape::{Reading, Tape};

/// Reads a body file; every slip in it is told in one go.
pub fn read(source: &Arc<Source>) -> Result<Tape, Vec<Finding>> {
    let entries = document::parse(source)?;
    let mut findings = check_statements(&entries, &["body"]);
    let mut bodies = entries.iter().filter(|entry| entry.name() == "body");
    let Some(entry) = bodies.next() else {
        if findings.is_empty() {
            findings.push(no_body(source));
        }
        return Err(findings);
    };
    findings.extend(bodies.map(|second| {
        given_twice("statement-given-twice", "body", second.name_span())
            .at_text(entry.name_span(), "first given here")
            .because("A file describes one body.")
            .cure("Put the second body into a file of its own.")
    }));
    let mut reader = Reader { findings };
    let tape = reader.body(entry);
    if reader.findings.is_empty() {
        Ok(tape)
    } else {
        Err(reader.findings)
    }
}

struct Reader {
    findings: Vec<Finding>,
}

impl Reader {
    fn body(&mut self, entry: &Entry) -> Tape {
        self.findings.extend(check_properties(entry, &[]));
        let name = entry
            .optional_argument("a name, such as \"Imke\"")
            .and_then(|value| value.map_or(Ok(""), Value::text));
        let mut tape = Tape::new(self.kept(name).unwrap_or_default());
        for statement in entry.children() {
            self.statement(&mut tape, statement);
        }
        if entry.children().is_empty() {
            self.findings.push(no_measures(entry.name_span()));
        }
        tape
    }

    fn statement(&mut self, tape: &mut Tape, entry: &Entry) {
        if entry.name() == "note" {
            let note = entry.argument("a few words").and_then(Value::text);
            if let Some(note) = self.kept(note) {
                tape.set_note(note.to_owned());
            }
            return;
        }
        let Some(measure) = Measure::from_key(entry.name()) else {
            let mut allowed = vec!["note"];
            allowed.extend(Measure::ALL.iter().map(|measure| measure.key()));
            self.findings.push(unknown(
                "unknown-measure",
                entry.name(),
                entry.name_span(),
                &allowed,
            ));
            return;
        };
        self.findings.extend(check_properties(entry, &["on"]));
        for child in entry.children() {
            self.findings.push(unknown(
                "unknown-statement",
                child.name(),
                child.name_span(),
                &[],
            ));
        }
        let value = self.value(measure, entry);
        let date = entry.property("on").and_then(|value| self.date(value));
        if let Some((value, span)) = value {
            tape.add(
                measure,
                Reading {
                    value,
                    span: Some(span),
                    date,
                },
            );
        }
    }

    fn value(&mut self, measure: Measure, entry: &Entry) -> Option<(f64, Span)> {
        let what = if measure.is_angle() {
            "an angle, such as \"21 deg\""
        } else {
            "a length, such as \"92 cm\" or \"36 1/4 in\""
        };
        let argument = self.kept(entry.argument(what))?;
        let value = self.kept(number(measure, argument))?;
        let about = measure.about();
        if (about.least..=about.most).contains(&value) {
            return Some((value, argument.span().clone()));
        }
        self.findings.push(impossible(measure, value, argument));
        None
    }

    fn date(&mut self, value: &Value) -> Option<Date> {
        let text = self.kept(value.text())?;
        let date = Date::parse(text);
        if date.is_none() {
            self.findings.push(
                Finding::error(
                    "date-not-readable",
                    format!("{} is not a day of the calendar.", value.shown()),
                )
                .at_text(value.span(), "not a date")
                .allowed("a date such as \"2026-10-03\": year, month, day")
                .cure("Write the year with four figures, month and day with two."),
            );
        }
        date
    }

    fn kept<T>(&mut self, read: Result<T, Finding>) -> Option<T> {
        read.map_err(|finding| self.findings.push(finding)).ok()
    }
}

/// The value in millimetres, or in degrees for the slope.
fn number(measure: Measure, value: &Value) -> Result<f64, Finding> {
    if measure.is_angle() {
        value.angle().map(geometry::Angle::degrees)
    } else {
        value.length().map(geometry::Length::mm)
    }
}

fn impossible(measure: Measure, value: f64, written: &Value) -> Finding {
    let about = measure.about();
    let shown = written.shown();
    let slip = slip_of_impossible(measure, value, shown);
    let label = about.label;
    let (code, label_there, cure) = match slip {
        Some(slip) => (
            "unit-slip",
            format!("perhaps {}?", slip.words),
            format!(
                "If {}, it would be {}. Correct it, or tape the {label} again.",
                slip.words,
                measure.quantity(slip.value)
            ),
        ),
        None => (
            "measure-impossible",
            "no grown body measures this".to_owned(),
            format!("Tape the {label} again: {}", about.definition),
        ),
    };
    Finding::error(
        code,
        format!("The {label} is written as {shown}; no grown body measures that."),
    )
    .at_text(written.span(), label_there)
    .measured(
        measure.quantity(value),
        Allowed::Between(measure.quantity(about.least), measure.quantity(about.most)),
    )
    .because("The figures behind the drafts are those of grown women; children are not covered.")
    .cure(cure)
}

fn no_body(source: &Arc<Source>) -> Finding {
    missing(
        "body-missing",
        "body",
        &Span::new(source, 0, 0),
        "body \"Imke\" { bust \"92 cm\" }",
    )
}

fn no_measures(span: &Span) -> Finding {
    Finding::error("body-without-measures", "The body has no measures.")
        .at_text(span, "nothing was measured")
        .allowed("at least one measure; twelve for a bodice that fits")
        .cure("Write the measures in braces behind it, one a line: bust \"92 cm\".")
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn tape(text: &str) -> Tape {
        read(&Source::new("imke.kdl", text)).unwrap_or_else(|findings| panic!("{findings:#?}"))
    }

    fn codes(text: &str) -> Vec<&'static str> {
        let findings = read(&Source::new("imke.kdl", text)).expect_err(text);
        findings.iter().map(|finding| finding.code).collect()
    }

    #[test]
    fn a_body_file_is_read_in_any_units() {
        let tape = tape(
            "body \"Imke\" {\n note \"thin shirt\"\n bust \"92 cm\"\n bust \"915 mm\" on=\"2026-10-03\"\n waist \"29 1/2 in\"\n shoulder-slope \"21 deg\"\n stature \"5 ft 4 in\"\n wrist (cm)15.5\n}\n",
        );
        assert_eq!(tape.name(), "Imke");
        assert_eq!(tape.note(), Some("thin shirt"));
        assert_eq!(tape.readings(Measure::Bust).len(), 2);
        assert_eq!(tape.mean(Measure::Bust), Some(917.5));
        assert_eq!(
            tape.readings(Measure::Bust)[1].date.unwrap().to_string(),
            "2026-10-03"
        );
        assert_eq!(tape.span(Measure::Bust).unwrap().text(), "\"915 mm\"");
        assert!((tape.mean(Measure::Waist).unwrap() - 749.3).abs() < 1e-9);
        assert!((tape.mean(Measure::Stature).unwrap() - 1625.6).abs() < 1e-9);
        assert!((tape.mean(Measure::ShoulderSlope).unwrap() - 21.0).abs() < 1e-9);
        assert_eq!(tape.measured().count(), 5);
    }

    #[test]
    fn each_slip_has_its_code() {
        for (text, code) in [
            ("", "body-missing"),
            ("garment \"x\"", "unknown-statement"),
            ("body \"x\"", "body-without-measures"),
            ("body \"x\" { busst \"92 cm\" }", "unknown-measure"),
            ("body \"x\" { bust 92 }", "length-not-readable"),
            ("body \"x\" { bust \"92\" }", "length-not-readable"),
            ("body \"x\" { bust \"-92 cm\" }", "measure-impossible"),
            ("body \"x\" { bust \"36 cm\" }", "unit-slip"),
            ("body \"x\" { bust \"92 mm\" }", "unit-slip"),
            (
                "body \"x\" { shoulder-slope \"21 cm\" }",
                "angle-not-readable",
            ),
            (
                "body \"x\" { bust \"92 cm\" on=\"2026-02-30\" }",
                "date-not-readable",
            ),
            (
                "body \"x\" { bust \"92 cm\" at=\"home\" }",
                "unknown-property",
            ),
            (
                "body \"x\" { bust \"92 cm\" }\nbody \"y\" { bust \"92 cm\" }",
                "statement-given-twice",
            ),
            ("body \"x\" { bust }", "value-missing"),
            ("body \"x\" { bust 92 cm }", "value-too-many"),
        ] {
            assert_eq!(codes(text), [code], "{text}");
        }
    }

    #[test]
    fn all_slips_are_told_together() {
        assert_eq!(
            codes("body \"x\" { busst \"92 cm\"\n waist \"29\"\n hip \"38 cm\" }"),
            ["unknown-measure", "length-not-readable", "unit-slip"]
        );
    }

    proptest! {
        #[test]
        fn any_file_gives_a_tape_or_findings(text in "(body|bust|waist|on|=|\"|\\{|\\}|[0-9]| |cm|\n){0,60}") {
            if let Err(findings) = read(&Source::new("any.kdl", text)) {
                prop_assert!(!findings.is_empty());
            }
        }
    }
}
