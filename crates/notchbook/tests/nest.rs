//! `nest`: a lay of a small instance, the same at every run; and what it says of files that are none.

mod common;

use common::Table;
use serde_json::Value;

/// Four squares that fill 20 × 20, and so a known density of 100 %.
const SQUARES: &str = r#"{"format": "neutral-strip-packing-1", "name": "squares", "strip_width": 20,
 "allowed_rotations_deg": [0, 90],
 "items": [{"id": 0, "demand": 4, "vertices": [[0, 0], [10, 0], [10, 10], [0, 10]]}],
 "best_known": {"density_percent": 100.0}}"#;

fn lay(table: &Table, arguments: &[&str]) -> Value {
    let output = table.run(arguments);
    assert_eq!(output.status.code(), Some(0));
    let mut lay: Value = serde_json::from_slice(&output.stdout).expect("it is JSON");
    lay["seconds"].take();
    lay
}

#[test]
fn squares_fill_the_strip_and_the_lay_repeats() {
    let table = Table::new("nest").with("squares.json", SQUARES);
    let arguments = [
        "nest",
        "squares.json",
        "--evaluations",
        "5000",
        "--seed",
        "3",
        "--json",
    ];
    let first = lay(&table, &arguments);
    assert_eq!(first["density_percent"], 100.0);
    assert_eq!(first["proven"], true);
    assert_eq!(first["poses"].as_array().map(Vec::len), Some(4));
    assert_eq!(first, lay(&table, &arguments));
}

#[test]
fn the_words_name_length_density_and_proof() {
    let table = Table::new("nest-words").with("squares.json", SQUARES);
    let said = table.said(&["nest", "squares.json", "--seconds", "0.2"]);
    for words in [
        "squares: 4 pieces",
        "Length 20.0000, density 100.00 %",
        "Proven:",
    ] {
        assert!(said.contains(words), "{said}");
    }
}

#[test]
fn what_is_no_instance_is_said_with_its_place() {
    let table = Table::new("nest-bad")
        .with(
            "bad.json",
            SQUARES.replace("\"demand\": 4", "\"demand\": 0.5"),
        )
        .with("cut.json", &SQUARES[..80]);
    let said = table.said(&["nest", "bad.json"]);
    assert!(said.starts_with("exit 2\n"), "{said}");
    assert!(
        said.contains("items[0].demand: 0.5 stands where a whole number"),
        "{said}"
    );
    let said = table.said(&["nest", "cut.json"]);
    assert!(said.contains("line 2, column 4: this is no JSON"), "{said}");
    let said = table.said(&["nest", "none.json", "--json"]);
    assert!(
        said.starts_with("exit 2\n") && said.contains("There is no file none.json"),
        "{said}"
    );
}
