//! Whatever is wrong with what the program is given: one clear message with place, found, allowed and next step; exit 2;
//! nothing written. Each message is kept whole, so that a change of its words is seen.

mod common;

use common::{BODY, DRESS, Table};
use std::fs;

/// Runs `make` on files that should stop it, and keeps what it says.
fn stops(name: &str, table: &Table, arguments: &[&str]) {
    let before = table.names(".");
    let said = table.said(arguments);
    assert!(said.starts_with("exit 2\n"), "{said}");
    assert_eq!(table.names("."), before, "something was written");
    insta::assert_snapshot!(name, said);
}

/// A garment that is the usual one but for one line.
fn dress(name: &str, from: &str, to: &str) {
    assert_eq!(DRESS.matches(from).count(), 1, "{from}");
    let table = Table::laid(name).with("dress.kdl", DRESS.replace(from, to));
    stops(name, &table, &["make", "dress.kdl"]);
}

/// A body that is the usual one but for one line.
fn body(name: &str, from: &str, to: &str) {
    assert_eq!(BODY.matches(from).count(), 1, "{from}");
    let table = Table::laid(name).with("body.kdl", BODY.replace(from, to));
    stops(name, &table, &["make", "dress.kdl"]);
}

#[test]
fn files_that_are_not_there() {
    let table = Table::laid("file-missing");
    stops("garment-file-missing", &table, &["make", "drss.kdl"]);
    stops(
        "body-file-missing",
        &table,
        &["make", "dress.kdl", "--body", "imke.kdl"],
    );
    dress(
        "named-body-missing",
        "body \"body.kdl\"",
        "body \"../bodies/imke.kdl\"",
    );
    dress("no-body-named", "    body \"body.kdl\"\n", "");
}

#[test]
fn things_that_are_no_text_files() {
    let table = Table::laid("no-text").with("picture.kdl", [0x89, b'P', b'N', b'G', 0, 0, 1]);
    stops("folder-for-file", &table, &["make", "."]);
    stops("bytes-for-text", &table, &["make", "picture.kdl"]);
    let latin = DRESS.replace("Dress", "Kleid f\u{fc}r Imke");
    let latin: Vec<u8> = latin.chars().map(|letter| letter as u8).collect();
    let utf16: Vec<u8> = DRESS.encode_utf16().flat_map(u16::to_le_bytes).collect();
    let table = Table::laid("encodings")
        .with("latin.kdl", latin)
        .with("utf16.kdl", [&[0xFF, 0xFE][..], &utf16].concat());
    stops("latin-letters", &table, &["make", "latin.kdl"]);
    stops("two-bytes-a-letter", &table, &["make", "utf16.kdl"]);
}

#[test]
fn files_with_too_little_or_too_much() {
    let table = Table::laid("sizes")
        .with("empty.kdl", "")
        .with("blank.kdl", "\n\n  \n")
        .with("large.kdl", format!("{DRESS}//{}\n", "x".repeat(200_000)))
        .with("huge.kdl", "x".repeat(3 << 20));
    stops("empty-garment", &table, &["make", "empty.kdl"]);
    stops(
        "blank-body",
        &table,
        &["make", "dress.kdl", "--body", "blank.kdl"],
    );
    stops("large-garment", &table, &["make", "large.kdl"]);
    stops("huge-garment", &table, &["make", "huge.kdl"]);
    stops("body-for-garment", &table, &["make", "body.kdl"]);
}

#[test]
fn slips_of_the_pen_in_a_garment() {
    dress(
        "unknown-statement",
        "neckline \"round\"",
        "nekline \"round\"",
    );
    dress("unknown-word", "\"round\"", "\"runde\"");
    dress("number-for-length", "length=\"600 mm\"", "length=600");
    dress("unknown-unit", "length=\"600 mm\"", "length=\"600 kg\"");
    dress("negative-length", "depth=\"20 mm\"", "depth=\"-20 mm\"");
    dress("out-of-bounds", "length=\"600 mm\"", "length=\"600 cm\"");
    dress("brace-missing", "    bodice {\n", "    bodice\n");
    dress(
        "several-slips",
        "bust \"60 mm\"\n        waist \"30 mm\"",
        "bsut \"60 mm\"\n        waist 30",
    );
}

#[test]
fn slips_of_the_tape_in_a_body() {
    body("unknown-measure", "upper-chest", "uper-chest");
    body("number-for-measure", "waist \"74 cm\"", "waist 74");
    body("unit-of-measure-unknown", "\"74 cm\"", "\"74 kg\"");
    body("negative-measure", "\"92 cm\"", "\"-92 cm\"");
    body("inches-for-centimetres", "\"92 cm\"", "\"36 cm\"");
    body("impossible-measure", "\"99 cm\"", "\"9 m\"");
}

#[test]
fn a_body_that_contradicts_itself() {
    body(
        "contradiction",
        "back-waist-length \"40.5 cm\"",
        "back-waist-length \"40.5 cm\"\n    under-bust \"97 cm\"",
    );
    body("incredible", "arm-length \"58 cm\"", "arm-length \"74 cm\"");
}

#[test]
fn a_contradiction_can_be_overruled() {
    let wrong = BODY.replace("arm-length \"58 cm\"", "arm-length \"74 cm\"");
    let table = Table::laid("overruled").with("body.kdl", wrong);
    let said = table.said(&["make", "dress.kdl", "--even-so"]);
    assert!(said.starts_with("exit 1\n"), "{said}");
    assert!(said.contains("THE PATTERN HAS ERRORS"), "{said}");
    assert!(
        table
            .names("dress-papers")
            .contains(&"pattern-a4.pdf".to_owned())
    );
}

#[test]
fn what_geometry_cannot_give() {
    dress(
        "neckline-wider-than-shoulder",
        "width=\"10 mm\"",
        "width=\"150 mm\"",
    );
    dress("neckline-below-bust", "depth=\"20 mm\"", "depth=\"480 mm\"");
    dress(
        "sleeve-without-solution",
        "sleeve ease=\"60 mm\"",
        "sleeve ease=\"290 mm\" cap-ease=\"0 mm\"",
    );
    dress(
        "sleeve-too-short",
        "sleeve ease=\"60 mm\"",
        "sleeve length=\"60 mm\"",
    );
    dress("skirt-too-short", "length=\"600 mm\"", "length=\"150 mm\"");
    dress(
        "sweep-impossible",
        "skirt \"straight\"",
        "skirt \"a-line\" sweep=\"500 mm\"",
    );
}

#[test]
fn both_files_are_told_at_once() {
    let table = Table::laid("both")
        .with("dress.kdl", DRESS.replace("skirt", "skrit"))
        .with("body.kdl", BODY.replace("hip \"99 cm\"", "hip 99"));
    stops(
        "both-files",
        &table,
        &["make", "dress.kdl", "--body", "body.kdl"],
    );
    let json = table.run(&["check", "dress.kdl", "--body", "body.kdl", "--json"]);
    assert_eq!(json.status.code(), Some(2));
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).expect("it is JSON");
    assert_eq!(json["drafted"], false);
    assert_eq!(json["errors"], 2);
    assert_eq!(json["findings"][1]["places"][0]["line"], 5);
}

#[test]
fn places_that_cannot_be_written() {
    let table = Table::laid("out").with("papers", "a file");
    stops(
        "out-is-file",
        &table,
        &["make", "dress.kdl", "--out", "papers"],
    );
    stops(
        "out-in-file",
        &table,
        &["make", "dress.kdl", "--out", "papers/dress"],
    );
    fs::create_dir_all(table.path("there/pattern.json")).expect("the folder can be written");
    stops(
        "target-is-folder",
        &table,
        &["make", "dress.kdl", "--out", "there"],
    );
    assert_eq!(table.names("there"), ["pattern.json"]);
}

#[test]
fn arguments_that_are_not_known() {
    let table = Table::laid("arguments");
    stops(
        "unknown-paper",
        &table,
        &["make", "dress.kdl", "--paper", "b5"],
    );
    stops("no-garment", &table, &["make"]);
    stops("unknown-command", &table, &["mkae", "dress.kdl"]);
}

#[test]
fn a_body_file_that_is_wrong_stops_the_other_commands_too() {
    let table =
        Table::laid("commands").with("body.kdl", BODY.replace("bust \"92 cm\"", "bust \"36 cm\""));
    let stopped = table.said(&["body", "body.kdl"]);
    assert!(stopped.starts_with("exit 2\n"), "{stopped}");
    assert!(stopped.contains("unit-slip"), "{stopped}");
    let json = table.run(&["body", "body.kdl", "--json"]);
    assert_eq!(json.status.code(), Some(2));
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).expect("it is JSON");
    assert_eq!(json["findings"][0]["code"], "unit-slip");
    let checked = table.said(&["check", "dress.kdl"]);
    assert!(checked.starts_with("exit 2\n"), "{checked}");
}
