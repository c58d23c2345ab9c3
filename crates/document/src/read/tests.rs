use super::*;
use proptest::prelude::*;

fn parsed(text: &str) -> Vec<Entry> {
    parse(&Source::new("test.kdl", text)).unwrap_or_else(|findings| panic!("{findings:#?}"))
}

fn refused_with(text: &str) -> Vec<Finding> {
    parse(&Source::new("test.kdl", text)).expect_err(text)
}

#[test]
fn a_statement_keeps_its_parts_and_their_places() {
    let entries = parsed(
        "// a dress\nskirt \"gathered\" length=\"70 cm\" ease = (mm)38 {\n    hem \"5 cm\"; lined #true\n}\n",
    );
    let [skirt] = entries.as_slice() else {
        panic!("{entries:#?}")
    };
    assert_eq!(skirt.name(), "skirt");
    assert_eq!(skirt.name_span().text(), "skirt");
    assert_eq!(skirt.arguments()[0].text().unwrap(), "gathered");
    assert_eq!(skirt.arguments()[0].span().text(), "\"gathered\"");
    let length = skirt.property("length").unwrap();
    assert_eq!(length.length().unwrap().mm(), 700.0);
    assert_eq!(length.span().text(), "\"70 cm\"");
    let ease = skirt.property("ease").unwrap();
    assert_eq!(ease.length().unwrap().mm(), 38.0);
    assert_eq!(ease.span().text(), "(mm)38");
    assert_eq!(skirt.child("hem").unwrap().span().text(), "hem \"5 cm\"");
    assert!(
        skirt
            .child("lined")
            .unwrap()
            .argument("x")
            .unwrap()
            .truth()
            .unwrap()
    );
    assert_eq!(skirt.properties().len(), 2);
    assert!(skirt.span().text().ends_with('}'));
}

#[test]
fn windows_line_ends_and_byte_order_marks_change_nothing() {
    let source = Source::from_bytes("a.kdl", "\u{FEFF}a 1\r\nb 2\r\n".into()).unwrap();
    let entries = parse(&source).unwrap();
    assert_eq!(entries.len(), 2);
    assert_eq!(entries[1].span().text(), "b 2");
    assert_eq!(source.line_column(entries[1].span().start), (2, 1));
}

#[test]
fn bytes_that_are_no_utf8_are_shown() {
    for bytes in [b"bust \"92 \xB5m\"".to_vec(), b"\xFF\xFEb\0".to_vec()] {
        let finding = Source::from_bytes("a.kdl", bytes).unwrap_err();
        assert_eq!(finding.code, "text-not-utf8");
        assert!(finding.cure.contains("UTF-8"));
    }
}

#[test]
fn every_slip_in_a_text_is_told_in_one_go() {
    let findings = refused_with("bust \"92 cm\nwaist 29 1/2 in\nhip \"96 cm\"\n");
    assert!(findings.len() >= 2, "{findings:#?}");
    assert!(
        findings
            .iter()
            .all(|finding| finding.code == "text-not-readable")
    );
    assert!(
        findings[0].message.contains("quotation mark"),
        "{findings:#?}"
    );
    assert!(findings[1].message.contains("29 1/2 in"), "{findings:#?}");
    assert!(findings[1].cure.contains("\"29 1/2 in\""), "{findings:#?}");
}

#[test]
fn braces_that_do_not_match_are_named() {
    assert!(
        refused_with("a {\n b 1\n")[0]
            .message
            .contains("never closed")
    );
    assert!(
        refused_with("a 1\n}\n")[0]
            .message
            .contains("no block is open")
    );
}

#[test]
fn a_length_without_quotes_is_told_where_it_can_be() {
    let entries = parsed("bust 92 cm");
    let finding = entries[0].argument("a length").unwrap_err();
    assert!(finding.cure.contains("bust \"92 cm\""), "{finding:#?}");
    assert!(refused_with("bust 92cm")[0].cure.contains("\"92cm\""));
}

#[test]
fn values_that_are_something_else_say_so() {
    let entries = parsed("a 92 \"x\" #true #null (ell)3 -1 2.5 \"1,234 mm\"");
    let values = entries[0].arguments();
    let code = |finding: Finding| finding.code;
    assert_eq!(values[0].length().map_err(code), Err("length-not-readable"));
    assert_eq!(values[0].angle().map_err(code), Err("angle-not-readable"));
    assert_eq!(values[0].text().map_err(code), Err("text-expected"));
    assert_eq!(values[1].number().map_err(code), Err("number-not-readable"));
    assert_eq!(values[2].length().map_err(code), Err("length-not-readable"));
    assert_eq!(values[3].truth().map_err(code), Err("truth-expected"));
    assert_eq!(values[4].length().map_err(code), Err("length-not-readable"));
    assert_eq!(values[5].count().map_err(code), Err("number-not-readable"));
    assert_eq!(values[6].count().map_err(code), Err("number-not-readable"));
    let two_ways = values[7].length().unwrap_err();
    assert!(two_ways.cure.contains("1.234 mm"), "{two_ways:#?}");
    let bare = values[0].length().unwrap_err();
    assert!(bare.cure.contains("\"92 cm\""), "{bare:#?}");
    assert!(bare.allowed.unwrap().to_string().contains("mm, cm, m, in"));
}

#[test]
fn a_word_near_a_known_one_is_offered() {
    let entries = parsed("a gatherd");
    let value = &entries[0].arguments()[0];
    let finding = value
        .choice(&[("straight", 1), ("gathered", 2)])
        .unwrap_err();
    assert!(finding.cure.contains("gathered"), "{finding:#?}");
    let entries = parsed("a gathered");
    assert_eq!(
        entries[0].arguments()[0].choice(&[("straight", 1), ("gathered", 2)]),
        Ok(2)
    );
}

#[test]
fn names_are_checked_against_those_that_are_known() {
    let entries = parsed("bsut 1\nwaist 2 om=3\nwaist 3\n");
    let unknown = crate::check_statements(&entries, &["bust", "waist"]);
    assert_eq!(unknown.len(), 1);
    assert!(unknown[0].cure.contains("bust"));
    assert_eq!(
        crate::check_properties(&entries[1], &["on"])[0].code,
        "unknown-property"
    );
    assert_eq!(
        crate::check_repeats(&entries)[0].code,
        "statement-given-twice"
    );
    assert_eq!(refused_with("a b=1 b=2")[0].code, "property-given-twice");
}

#[test]
fn texts_made_to_exhaust_the_reader_are_refused_or_read() {
    for (open, times, close) in [
        ("a {", 10, "}"),
        ("a {", 300, "}"),
        ("a {", 100_000, "}"),
        ("a { b \"}\" ", 600, ""),
        ("a {\n", 950, "}\n"),
        ("{", 2000, ""),
        ("}", 2000, ""),
        ("/- ", 2000, ""),
        ("a /- {", 18, "}"),
        ("a \\\n/- {", 18, "}"),
        ("/-a \"", 1000, ""),
        ("/*", 950, "*/"),
        ("(", 20_000, ""),
        (")", 130_000, ""),
        ("\"", 50_001, ""),
        ("= ", 60_000, ""),
        ("a=", 60_000, ""),
        ("#\"", 5_000, ""),
        ("\"\"\"\n", 5_000, ""),
    ] {
        let text = open.repeat(times) + &close.repeat(times);
        if let Err(findings) = parse(&Source::new("hostile.kdl", text)) {
            assert!(!findings.is_empty(), "{open} × {times}");
            assert!(findings.len() <= 20, "{open} × {times}");
        }
    }
}

proptest! {
    #[test]
    fn any_text_is_read_or_refused(text in ".{0,200}") {
        let _ = parse(&Source::new("any.kdl", text));
    }

    #[test]
    fn text_made_of_the_grammars_own_signs_is_read_or_refused(
        text in "([a-c ={}\"#();\\\\\n]|/-|/\\*|\\*/|//|\"\"\"|1\\.|-){0,60}"
    ) {
        let source = Source::new("any.kdl", text);
        for finding in parse(&source).err().into_iter().flatten() {
            prop_assert!(!finding.message.is_empty() && !finding.cure.is_empty());
        }
    }

    #[test]
    fn what_is_written_is_read_back(
        name in "[a-z][a-z-]{0,10}",
        text in "[^\"\\\\\\p{C}\\p{Z}]{0,12}",
        tenths in -100_000_i32..100_000,
    ) {
        let mm = f64::from(tenths) / 10.0;
        prop_assume!(!["true", "false", "null", "inf", "nan"].contains(&name.as_str()));
        let entries = parsed(&format!("{name} \"{text}\" length=\"{mm} mm\"\n"));
        prop_assert_eq!(entries[0].name(), &name);
        prop_assert_eq!(entries[0].arguments()[0].text().unwrap(), &text);
        prop_assert_eq!(entries[0].property("length").unwrap().length().unwrap().mm(), mm);
    }
}
