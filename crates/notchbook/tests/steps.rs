//! What `steps` and `compare` say, and what stops a step: each kept whole, so that a change of words is seen.

mod common;

use common::{BODY, DRESS, Table};

const STEPS: &str = r#"    steps {
        transfer dart="front.bust-dart" to="front.shoulder halfway" share=0.5 why="softer over the bust"
        shorten-dart dart="front.waist-dart" before="6 cm"
        release dart="front.waist-dart" as="pleats" off=#true
        flare hem="skirt-front.hem" from="skirt-front.waist" by="hip / 10 - 2 cm"
    }
}
"#;

/// The usual dress with a block of steps, or with one step.
fn styled(steps: &str) -> String {
    let (all, _) = DRESS
        .rsplit_once("}\n")
        .expect("the dress ends with a brace");
    format!("{all}{steps}")
}

fn one(step: &str) -> String {
    styled(&format!("    steps {{\n        {step}\n    }}\n}}\n"))
}

#[test]
fn each_step_is_told_and_drawn() {
    let table = Table::laid("steps").with("style.kdl", styled(STEPS));
    insta::assert_snapshot!("steps", table.said(&["steps", "style.kdl"]));
    let names = [
        "step-01-transfer.png",
        "step-01-transfer.svg",
        "step-02-shorten-dart.png",
        "step-02-shorten-dart.svg",
        "step-04-flare.png",
        "step-04-flare.svg",
    ];
    assert_eq!(table.names("style-steps"), names);
    let again = Table::laid("steps-again").with("style.kdl", styled(STEPS));
    again.run(&["steps", "style.kdl", "--out", "pictures"]);
    for name in names {
        let path = format!("style-steps/{name}");
        assert_eq!(
            table.bytes(&path),
            again.bytes(&format!("pictures/{name}")),
            "{name}"
        );
    }
}

/// Each picture shows the outline as it was in grey and as it is in black, and the line of the step.
#[test]
fn pictures_show_before_after_and_the_line() {
    let table = Table::laid("pictures").with("style.kdl", styled(STEPS));
    table.run(&["steps", "style.kdl"]);
    let svg =
        String::from_utf8(table.bytes("style-steps/step-01-transfer.svg")).expect("SVG is text");
    for part in [
        "stroke=\"#a8a8a8\"",
        "stroke=\"#1a1a1a\"",
        ">slash</text>",
        ">pivot</text>",
        "Step 1: transfer",
    ] {
        assert!(svg.contains(part), "{part} is not in the picture");
    }
    assert!(
        !svg.contains("Back"),
        "pieces that did not change are not drawn"
    );
}

#[test]
fn a_garment_without_steps_is_told_so() {
    let table = Table::laid("no-steps");
    insta::assert_snapshot!("no-steps", table.said(&["steps", "dress.kdl"]));
    assert!(!table.path("dress-steps").exists());
}

#[test]
fn two_garments_are_laid_over_each_other() {
    let table = Table::laid("compare").with(
        "style.kdl",
        "garment \"Style\" {\n    based-on \"dress.kdl\"\n    skirt \"a-line\" length=\"620 mm\"\n    without \"sleeve\"\n    steps {\n        transfer dart=\"front.bust-dart\" to=\"front.shoulder halfway\"\n    }\n}\n",
    );
    insta::assert_snapshot!(
        "compare",
        table.said(&["compare", "dress.kdl", "style.kdl"])
    );
    assert_eq!(
        table.names("dress-beside-style"),
        ["compared.png", "compared.svg"]
    );
    let same = table.said(&["compare", "dress.kdl", "dress.kdl", "--out", "same"]);
    assert!(same.contains("Nothing moved"), "{same}");
    table.run(&["make", "style.kdl"]);
    assert!(
        table
            .names("style-papers")
            .contains(&"pattern-a4.pdf".to_owned())
    );
}

/// Runs on a garment that should stop the command, with nothing written, and keeps what is said.
fn stops(name: &str, garment: &str) {
    let table = Table::laid(name).with("style.kdl", garment);
    let before = table.names(".");
    let said = table.said(&["steps", "style.kdl"]);
    assert!(said.starts_with("exit 2\n"), "{said}");
    assert_eq!(table.names("."), before, "something was written");
    insta::assert_snapshot!(name, said);
    let made = table.said(&["make", "style.kdl"]);
    assert_eq!(made, said, "make says the same");
}

#[test]
fn slips_in_steps_are_underlined_at_their_part() {
    stops("unknown-value", &one("transfer drat=\"front.bust-dart\""));
    stops("unnamed-value", &one("transfer \"front.bust-dart\""));
    stops(
        "value-missing",
        &one("transfer to=\"front.shoulder halfway\""),
    );
    stops(
        "place-word",
        &one("transfer dart=\"front.bust-dart\" to=\"front.shoulder hafway\""),
    );
    stops(
        "place-from-where",
        &one("transfer dart=\"front.bust-dart\" to=\"front.shoulder at 40 mm\""),
    );
    stops(
        "place-edge",
        &one("transfer dart=\"front.bust-dart\" to=\"front.sholder halfway\""),
    );
    stops(
        "place-beyond",
        &one("transfer dart=\"front.bust-dart\" to=\"front.shoulder at 40 cm from neckline\""),
    );
    stops(
        "place-corner",
        &one("transfer dart=\"front.bust-dart\" to=\"front.shoulder at 40 mm from waist\""),
    );
    stops(
        "place-without-where",
        &one("transfer dart=\"front.bust-dart\" to=\"front.shoulder\""),
    );
}

/// Its words name every step there is, and so are not kept whole.
#[test]
fn the_nearest_step_is_offered() {
    let garment = one("transfr dart=\"front.bust-dart\"");
    let table = Table::laid("unknown-step").with("style.kdl", garment);
    let said = table.said(&["steps", "style.kdl"]);
    for part in [
        "exit 2\n",
        "[unknown-step]",
        "^^^^^^^ perhaps “transfer”?",
        "If “transfer” is meant",
    ] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

#[test]
fn slips_in_arithmetic_are_underlined_at_their_part() {
    stops(
        "formula-unit",
        &one("shorten-dart dart=\"front.bust-dart\" before=\"bust / 40 + 5\""),
    );
    stops(
        "formula-measure",
        &one("shorten-dart dart=\"front.bust-dart\" before=\"bsut / 40\""),
    );
    stops(
        "formula-number",
        &one("shorten-dart dart=\"front.bust-dart\" before=\"bust / waist\""),
    );
    stops(
        "formula-bounds",
        &DRESS.replace("length=\"600 mm\"", "length=\"stature × 2\""),
    );
    stops(
        "formula-place",
        &one(
            "transfer dart=\"front.bust-dart\" to=\"front.shoulder at shoulder-length / (2 cm from neckline\"",
        ),
    );
}

#[test]
fn a_step_that_cannot_be_done_says_how_much_can() {
    stops(
        "step-too-much",
        &one("narrow edge=\"front.side, back.side\" by=\"30 cm\""),
    );
}

#[test]
fn recipes_that_stand_on_nothing_or_themselves() {
    let style = |base: &str| format!("garment \"Style\" {{\n    based-on \"{base}\"\n}}\n");
    stops("base-missing", &style("blok.kdl"));
    stops("base-in-circle", &style("./style.kdl"));
    stops("base-is-body", &style("body.kdl"));
    let table = Table::laid("base-in-folder").with("body.kdl", BODY);
    std::fs::create_dir_all(table.path("blocks")).expect("the folder can be made");
    let table = table
        .with("blocks/dress.kdl", DRESS.replace("body.kdl", "../body.kdl"))
        .with("style.kdl", style("blocks/dress.kdl"));
    let said = table.said(&["check", "style.kdl"]);
    assert!(
        said.starts_with("exit 0\n"),
        "files are found from the folder of the one that names them: {said}"
    );
}
