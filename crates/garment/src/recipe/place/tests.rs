use document::{Source, Value};

use super::*;

fn value(text: &str) -> Value {
    let source = Source::new("test.kdl", format!("to \"{text}\""));
    let entries = document::parse(&source).expect("the text is sound");
    entries[0].arguments()[0].clone()
}

fn read(text: &str) -> Result<PlaceText, Finding> {
    let body = body::complete(&body::Tape::new("test").with(body::Measure::Bust, 900.0));
    let value = value(text);
    let place = place(
        &Text::of(&value).expect("it is a text"),
        Person::Known(&body),
    )?;
    Ok(place.expect("the body is known"))
}

fn slip(text: &str) -> (&'static str, String) {
    let finding = read(text).expect_err(text);
    let document::Place::Text { span, .. } = &finding.places[0] else {
        panic!("{finding:?}")
    };
    (finding.code, span.text().to_owned())
}

/// A place in few words, for tests.
fn short(at: &Where) -> String {
    let end = |from: &From| match from {
        From::Start => "start".to_owned(),
        From::End => "end".to_owned(),
        From::Edge(edge) => edge.value.clone(),
    };
    match at {
        Where::Itself => "itself".into(),
        Where::Length(mm, from) => format!("{:.1} mm from {}", mm.value, end(from)),
        Where::Share(share, from) => format!("{:.3} from {}", share.value, end(from)),
        Where::Name(name) => format!("at {}", name.value),
        Where::Notch(name) => format!("notch {}", name.value),
        Where::Plumb(name) => format!("plumb {}", name.value),
        Where::Level(name) => format!("level {}", name.value),
    }
}

#[test]
fn places_are_read_as_people_say_them() {
    for (text, wanted) in [
        ("front.bust-point", "itself"),
        ("front.armhole+side", "itself"),
        ("front.shoulder halfway", "0.500 from start"),
        ("front.side at 90 mm from armhole", "90.0 mm from armhole"),
        ("front.side 3 1/2 in from waist", "88.9 mm from waist"),
        ("front.side at bust / 10 from start", "90.0 mm from start"),
        ("front.side at bust from end", "900.0 mm from end"),
        (
            "front.side at (bust - 80 cm) / 2 from end",
            "50.0 mm from end",
        ),
        ("front.neckline at 1/3", "0.333 from start"),
        ("front.neckline 40 % from centre", "0.400 from centre"),
        ("front.waist at bust-dart", "at bust-dart"),
        ("front.waist at front.bust-dart", "at front.bust-dart"),
        ("front.side at armhole", "at armhole"),
        ("front.side at notch hip", "notch hip"),
        ("front.waist below bust-point", "plumb bust-point"),
        ("front.centre level with bust-point", "level bust-point"),
        ("front/centre.side/upper  halfway", "0.500 from start"),
    ] {
        let read = read(text).unwrap_or_else(|finding| panic!("{text}: {finding:?}"));
        assert_eq!(short(&read.at), wanted, "{text}");
    }
}

#[test]
fn the_part_that_is_wrong_is_underlined() {
    for (text, code, part) in [
        ("front", "name-not-readable", "front"),
        ("front.", "name-not-readable", "front."),
        ("front.a.b", "name-not-readable", "front.a.b"),
        ("front.side at", "place-not-readable", "at"),
        ("front.side at 90 mm", "place-not-readable", "90 mm"),
        ("front.side at 90 from armhole", "share-out-of-bounds", "90"),
        ("front.side at 90 mm from", "place-not-readable", "from"),
        (
            "front.side at 90 mm from the armhole",
            "place-not-readable",
            "armhole",
        ),
        ("front.side at from armhole", "place-not-readable", "from"),
        ("front.side hafway", "place-not-readable", "hafway"),
        (
            "front.side at bsut / 10 from armhole",
            "unknown-measure",
            "bsut",
        ),
        (
            "front.side at 90 kg from armhole",
            "length-not-readable",
            "90 kg",
        ),
        (
            "front.side beside bust-point",
            "place-not-readable",
            "beside",
        ),
    ] {
        let (found, underlined) = slip(text);
        assert_eq!((found, underlined.as_str()), (code, part), "{text}");
    }
}

#[test]
fn no_text_makes_it_stumble() {
    for text in [
        "",
        " ",
        ".",
        "..",
        "a.b at at",
        "a.b at %",
        "é.é at é",
        "a.b ½",
        "a.b from",
        "a.b at 1 from from",
    ] {
        let _ = read(text);
    }
}

/// Places cut off anywhere, and with a strange letter anywhere, are read or told.
#[test]
fn places_cut_off_anywhere_are_read_or_told() {
    for whole in [
        "front/centre.side/upper at bust / 10 + 1½ in from armhole",
        "skirt-front.hem 40 % from centre",
        "front.centre level with bust-point",
    ] {
        let cuts = whole.char_indices().map(|(at, _)| at);
        for at in cuts.chain([whole.len()]) {
            let (start, end) = whole.split_at(at);
            for text in [start.to_owned(), end.to_owned(), format!("{start}é.½{end}")] {
                if let Err(finding) = read(&text) {
                    assert!(!finding.places.is_empty(), "{text}: {finding:?}");
                }
            }
        }
    }
}
