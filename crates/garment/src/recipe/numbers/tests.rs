//! The bounds of the list are those of the reader.

use document::{Mend, Source, mend};

use super::{Measure, NUMBERS, Number, Slot};

/// Between them, these have a place for every number.
const GARMENTS: [&str; 5] = [
    "garment \"a\" {\n    ease {\n        bust \"40 mm\"\n    }\n    bodice {\n        neckline \"v\" depth=\"90 mm\"\n    }\n    sleeve\n    skirt \"gathered\" fullness=2 length=\"700 mm\"\n    facings {\n        neck\n    }\n    lining \"open\"\n    pockets {\n        in-seam seam=\"skirt-side\"\n    }\n    hems {\n        skirt \"turned\"\n        sleeve \"turned\"\n    }\n}\n",
    "garment \"b\" {\n    skirt \"gored\" length=\"600 mm\" sweep=\"2 m\"\n    waistband\n}\n",
    "garment \"c\" {\n    skirt \"wrapped\" length=\"600 mm\"\n    waistband\n}\n",
    "garment \"d\" {\n    bodice {\n    }\n    skirt \"straight\" length=\"600 mm\"\n    facings {\n        all-in-one\n    }\n    vents {\n        vent seam=\"skirt-centre-back\" height=\"200 mm\"\n    }\n}\n",
    "garment \"e\" {\n    skirt \"straight\" length=\"600 mm\"\n    vents {\n        vent seam=\"skirt-centre-back\" height=\"200 mm\"\n    }\n}\n",
];

/// Codes of what is found when a value stands where this number does.
fn found(garment: &str, number: &Number, value: &str) -> Vec<&'static str> {
    let path = number.path;
    let mend = match number.slot {
        Slot::Value => Mend::value(path, value, ""),
        Slot::Property(name) => Mend::property(path, name, value, ""),
    };
    let source = Source::new("x.kdl", garment);
    let text = mend::apply(&source, &[], &mend.changes).expect("it can be written");
    let read = super::super::read(&Source::new("x.kdl", text));
    let findings = read.err().unwrap_or_default();
    findings.iter().map(|finding| finding.code).collect()
}

fn written(number: &Number, value: f64) -> String {
    match number.measure {
        Measure::Length(..) => format!("\"{value} mm\""),
        _ => format!("{value}"),
    }
}

fn has_place(garment: &str, number: &Number) -> bool {
    let recipe = super::super::read(&Source::new("x.kdl", garment)).expect("it can be read");
    (number.reading)(&recipe).is_some()
}

#[test]
fn bounds_and_words_are_those_of_the_reader() {
    for number in NUMBERS {
        let garment = GARMENTS.iter().find(|garment| has_place(garment, number));
        let garment = garment.unwrap_or_else(|| panic!("no garment has a place for {}", number.id));
        if let Measure::Word(words) = number.measure {
            for word in words {
                let codes = found(garment, number, &format!("\"{word}\""));
                assert!(codes.is_empty(), "{} {word}: {codes:?}", number.id);
            }
            let codes = found(garment, number, "\"no such word\"");
            assert!(!codes.is_empty(), "{} takes any word", number.id);
            continue;
        }
        let (least, most) = number.bounds().expect("it is a number");
        for value in [least, most] {
            let codes = found(garment, number, &written(number, value));
            assert!(codes.is_empty(), "{} = {value}: {codes:?}", number.id);
        }
        let step = if matches!(number.measure, Measure::Count(..)) {
            1.0
        } else {
            0.01
        };
        for value in [least - step, most + step] {
            let codes = found(garment, number, &written(number, value));
            assert!(!codes.is_empty(), "{} takes {value}", number.id);
        }
    }
}

#[test]
fn every_number_has_its_own_name() {
    let mut ids: Vec<&str> = NUMBERS.iter().map(|number| number.id).collect();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), NUMBERS.len());
    assert!(Number::find("neckline.depth").is_some());
    assert!(Number::find("neckline").is_none());
}
