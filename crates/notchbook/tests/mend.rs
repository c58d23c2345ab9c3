//! What `check --mend` says and writes, kept whole, so that a change of words is seen.

mod common;

use common::Table;

const BODY: &str = "body \"Nobody\" {\n    bust \"92 cm\"\n    waist \"72 cm\"\n    hip \"98 cm\"\n    stature \"168 cm\"\n}\n";

/// A skirt too narrow to walk in, its back on the bias by mistake.
const SKIRT: &str = "// Long.\ngarment \"Skirt\" {\n    body \"body.kdl\"\n    skirt \"straight\" length=\"900 mm\" // to the ankle\n\n    waistband height=\"30 mm\"\n    steps {\n        grain piece=\"skirt-back\" angle=\"30 deg\" // a slip\n    }\n}\n";

fn table(name: &str) -> Table {
    Table::new(name)
        .with("body.kdl", BODY)
        .with("skirt.kdl", SKIRT)
}

fn text(table: &Table, name: &str) -> String {
    String::from_utf8(table.bytes(name)).expect("a recipe is text")
}

#[test]
fn cures_are_shown_and_nothing_is_written() {
    let table = table("mend-shown");
    insta::assert_snapshot!("shown", table.said(&["check", "skirt.kdl", "--mend"]));
    assert_eq!(text(&table, "skirt.kdl"), SKIRT);
}

#[test]
fn the_chosen_cures_are_written_and_checked() {
    let table = table("mend-chosen");
    insta::assert_snapshot!("chosen", table.said(&["check", "skirt.kdl", "--mend", "1"]));
    insta::assert_snapshot!("chosen-file", text(&table, "skirt.kdl"));
    let said = table.said(&["check", "skirt.kdl", "--mend", "all"]);
    assert!(said.contains("Written to skirt.kdl."), "{said}");
    insta::assert_snapshot!("all-file", text(&table, "skirt.kdl"));
    insta::assert_snapshot!("none-left", table.said(&["check", "skirt.kdl", "--mend"]));
}

#[test]
fn a_base_stays_as_it_is() {
    let own = "garment \"Mine\" { based-on \"skirt.kdl\"; }\n";
    let table = table("mend-base").with("mine.kdl", own);
    table.run(&["check", "mine.kdl", "--mend", "all"]);
    assert_eq!(text(&table, "skirt.kdl"), SKIRT);
    insta::assert_snapshot!("base-file", text(&table, "mine.kdl"));
}

/// The neckline lets no head pass; opened at CB it does, but then there is no fold over which the back could be mirrored.
#[test]
fn what_would_be_worse_is_not_written() {
    let top = "garment \"Top\" {\n    body \"body.kdl\"\n    opening \"none\"\n    bodice\n    skirt \"straight\" length=\"500 mm\"\n    steps {\n        mirror piece=\"back\"\n        cut-on-fold piece=\"back\"\n    }\n}\n";
    let table = table("mend-worse").with("top.kdl", top);
    let said = table.said(&["check", "top.kdl", "--mend", "1"]);
    assert!(said.contains("NOTHING WAS WRITTEN"), "{said}");
    assert_eq!(text(&table, "top.kdl"), top);
    insta::assert_snapshot!("worse", said);
    table.run(&["check", "top.kdl", "--mend", "1", "--even-so"]);
    assert!(text(&table, "top.kdl").contains("opening \"back\""));
}

#[test]
fn a_cure_that_is_not_there_is_refused() {
    let table = table("mend-unknown");
    insta::assert_snapshot!(
        "unknown",
        table.said(&["check", "skirt.kdl", "--mend", "9"])
    );
    insta::assert_snapshot!(
        "alternatives",
        table.said(&["check", "skirt.kdl", "--mend", "1,2"])
    );
    insta::assert_snapshot!("before", table.said(&["check", "--mend", "skirt.kdl"]));
    assert_eq!(text(&table, "skirt.kdl"), SKIRT);
}

/// What stops the draft can be mended too.
#[test]
fn a_skirt_that_cannot_be_drafted_is_mended() {
    let short = SKIRT.replace("900", "150");
    let table = table("mend-stopped").with("short.kdl", &short);
    insta::assert_snapshot!("stopped", table.said(&["check", "short.kdl", "--mend"]));
    let said = table.said(&["check", "short.kdl", "--mend", "1"]);
    assert!(said.contains("Written to short.kdl."), "{said}");
    assert_ne!(text(&table, "short.kdl"), short);
}
