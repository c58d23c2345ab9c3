use document::{Source, Value};

use super::*;

fn body() -> Body {
    let tape = body::Tape::new("test")
        .with(Measure::Bust, 920.0)
        .with(Measure::Waist, 740.0)
        .with(Measure::WaistToHip, 200.0);
    body::complete(&tape)
}

fn value(text: &str) -> Value {
    let source = Source::new("test.kdl", format!("length \"{text}\""));
    let entries = document::parse(&source).expect("the text is sound");
    entries[0].arguments()[0].clone()
}

fn worked(text: &str, person: Person<'_>) -> Result<Option<f64>, Finding> {
    let value = value(text);
    length(&Text::of(&value).expect("it is a text"), person)
}

/// The finding's code, the text that it underlines, and its next step.
fn slip(text: &str) -> (&'static str, String, String) {
    let body = body();
    let finding = worked(text, Person::Known(&body)).expect_err(text);
    let document::Place::Text { span, .. } = &finding.places[0] else {
        panic!("{finding:?} has no place")
    };
    (finding.code, span.text().to_owned(), finding.cure.clone())
}

#[test]
fn arithmetic_is_that_of_the_schools() {
    let body = body();
    for (text, mm) in [
        ("bust / 4 + 20 mm", 250.0),
        ("waist-to-hip - 2 cm", 180.0),
        ("waist-to-hip - 1 1/2 in", 161.9),
        ("(bust − waist) / 2 + 1/2 in", 102.7),
        ("2 × (10 mm + 1 cm) - -5 mm", 45.0),
        ("bust/4", 230.0),
        ("3/4 x bust", 690.0),
        ("10 % * bust", 92.0),
        ("bust / waist × 74 mm", 92.0),
        ("20 mm + 1½ in", 58.1),
        ("1 ft 2 in + 3,8 cm", 393.6),
        ("waist-to-hip", 200.0),
        ("100 mm - 20 mm - 30 mm", 50.0),
        ("100 mm / 2 / 5", 10.0),
        ("12 mm / 2", 6.0),
    ] {
        let found = worked(text, Person::Known(&body));
        let found = found.unwrap_or_else(|finding| panic!("{text}: {finding:?}"));
        assert!(
            (found.unwrap_or(f64::NAN) - mm).abs() < 1e-9,
            "{text}: {found:?}"
        );
        let is_plain = document::parse_length(text).is_ok();
        assert!(is_plain || looks_like_one(text), "{text}");
    }
}

#[test]
fn units_are_checked_and_the_wrong_part_is_underlined() {
    for (text, code, part) in [
        ("bust / 4 + 20", "units-do-not-go", "20"),
        ("2 + bust", "units-do-not-go", "2"),
        ("20 mm - 1/2", "units-do-not-go", "1/2"),
        ("bust × waist", "units-do-not-go", "bust × waist"),
        ("2 / bust × 3 mm", "units-do-not-go", "bust"),
        ("bust + shoulder-slope", "units-do-not-go", "shoulder-slope"),
        (
            "bust / (waist - waist)",
            "divided-by-nothing",
            "(waist - waist)",
        ),
        ("bust / (2 - 2)", "divided-by-nothing", "(2 - 2)"),
        ("bust / waist", "length-expected", "bust / waist"),
        ("bsut / 4", "unknown-measure", "bsut"),
        ("bust + waist-hip", "unknown-measure", "waist-hip"),
        ("bust 20 mm", "formula-not-readable", "20 mm"),
        ("2 waist", "formula-not-readable", "waist"),
        ("bust +", "formula-not-readable", "+"),
        ("bust + × 2", "formula-not-readable", "×"),
        ("(bust + 2 cm", "formula-not-readable", "("),
        ("bust + 2 cm)", "formula-not-readable", ")"),
        ("bust + 20 kg", "length-not-readable", "20 kg"),
        ("bust + 1/0 in", "length-not-readable", "1/0 in"),
        ("bust + $", "formula-not-readable", "$"),
    ] {
        let (found, underlined, _) = slip(text);
        assert_eq!((found, underlined.as_str()), (code, part), "{text}");
    }
}

#[test]
fn the_nearest_measure_is_offered() {
    assert_eq!(slip("bsut / 4").2, "If “bust” is meant, write that.");
    assert_eq!(
        slip("waist-to-hips - 1 cm").2,
        "If “waist-to-hip” is meant, write that."
    );
}

#[test]
fn without_a_body_units_are_checked_all_the_same() {
    assert_eq!(worked("bust / 4 + 20 mm", Person::Later), Ok(None));
    assert!(worked("bust / 4 + 20", Person::Later).is_err());
    let refused = worked("bust / 4", Person::Nobody).expect_err("no body is known");
    assert_eq!(refused.code, "measure-without-body");
}

#[test]
fn no_text_makes_it_stumble() {
    let body = body();
    for text in [
        "",
        " ",
        "((((((((((((((((((((((((((((((",
        "----------------------------1 mm",
        "½",
        "1/",
        "/2",
        "1 /",
        "%",
        "2%%",
        "x",
        "1,2,3 mm + bust",
        "é",
        "9é",
    ] {
        let _ = worked(text, Person::Known(&body));
    }
}

/// Texts cut off anywhere, and with a strange letter anywhere, give a length or a finding that lies within the text.
#[test]
fn a_slip_lies_within_its_text() {
    let body = body();
    let whole = "(bust − 1½ in) / 2 x 3/4 + 5 ft 4 in·2 − 40 % × waist-to-hip";
    let cuts = whole.char_indices().map(|(at, _)| at);
    for at in cuts.chain([whole.len()]) {
        let (start, end) = whole.split_at(at);
        for text in [
            start.to_owned(),
            end.to_owned(),
            format!("{start}é½/{end}"),
            format!("{start} . {end}"),
        ] {
            let value = value(&text);
            if let Err(finding) = worked(&text, Person::Known(&body)) {
                let document::Place::Text { span, .. } = &finding.places[0] else {
                    panic!("{finding:?} has no place")
                };
                assert!(
                    span.start >= value.span().start && span.end <= value.span().end,
                    "{text}: {span:?}"
                );
            }
        }
    }
}
