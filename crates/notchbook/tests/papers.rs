//! What `make`, `check`, `body` and `new` write and say where all is well.

mod common;

use common::{BODY, DRESS, Table};
use std::fs;
use std::path::Path;

const FILES: [&str; 8] = [
    "cutting-list.txt",
    "findings.txt",
    "lays.pdf",
    "pattern-a4.pdf",
    "pattern.json",
    "pieces.png",
    "pieces.svg",
    "things-to-buy.txt",
];

#[test]
fn make_writes_the_papers_and_says_so() {
    let table = Table::laid("make");
    insta::assert_snapshot!("make", table.said(&["make", "dress.kdl"]));
    assert_eq!(table.names("dress-papers"), FILES);
    assert_eq!(table.names("."), ["body.kdl", "dress-papers", "dress.kdl"]);
    assert!(
        table
            .bytes("dress-papers/pattern-a4.pdf")
            .starts_with(b"%PDF-1.7")
    );
    assert!(
        table
            .bytes("dress-papers/pieces.png")
            .starts_with(b"\x89PNG")
    );
    assert!(table.bytes("dress-papers/pieces.svg").starts_with(b"<?xml"));
    let json: serde_json::Value =
        serde_json::from_slice(&table.bytes("dress-papers/pattern.json")).expect("it is JSON");
    assert_eq!(json["format"], "notchbook-pattern-1");
    assert_eq!(json["pieces"].as_array().map(Vec::len), Some(5));
    let text = |name: &str| String::from_utf8(table.bytes(name)).expect("it is text");
    insta::assert_snapshot!("cutting-list", text("dress-papers/cutting-list.txt"));
    insta::assert_snapshot!("things-to-buy", text("dress-papers/things-to-buy.txt"));
    insta::assert_snapshot!("findings", text("dress-papers/findings.txt"));
}

#[test]
fn the_same_files_give_the_same_bytes_wherever_they_lie() {
    let near = Table::laid("near");
    let far = Table::laid("far");
    let wide = DRESS.replace(
        "sleeve ease=\"60 mm\"",
        "sleeve ease=\"60 mm\" cap-ease=\"45 mm\"",
    );
    let (near, far) = (near.with("dress.kdl", &wide), far.with("dress.kdl", &wide));
    let garment = far.path("dress.kdl");
    let garment = garment.to_str().expect("the path is UTF-8");
    let papers = ["--paper", "a4,letter,a0,roll-914"];
    let first = near.run(&[&["make", "dress.kdl"][..], &papers].concat());
    let again = far.run(&[&["make", garment, "--out", "elsewhere/papers"][..], &papers].concat());
    assert_eq!(
        (first.status.code(), again.status.code()),
        (Some(0), Some(0))
    );
    let names = near.names("dress-papers");
    assert_eq!(names.len(), 11);
    assert_eq!(names, far.names("elsewhere/papers"));
    for name in names {
        let one = near.bytes(&format!("dress-papers/{name}"));
        assert_eq!(
            one,
            far.bytes(&format!("elsewhere/papers/{name}")),
            "{name}"
        );
    }
    let findings = String::from_utf8(near.bytes("dress-papers/findings.txt")).expect("it is text");
    assert!(findings.contains("cap-ease-large"), "{findings}");
}

#[test]
fn older_papers_are_replaced_and_others_named() {
    let table = Table::laid("replace");
    table.run(&["make", "dress.kdl", "--paper", "a3"]);
    fs::write(table.path("dress-papers/pieces.svg"), "old").expect("the folder can be written");
    let said = table.said(&["make", "dress.kdl"]);
    assert!(
        said.contains("Still there from an earlier time, and not of this draft: pattern-a3.pdf."),
        "{said}"
    );
    assert!(table.bytes("dress-papers/pieces.svg").starts_with(b"<?xml"));
}

/// The disk refuses a file in the middle of writing: a limit on the size of files stands in for a disk that is full.
#[cfg(unix)]
#[test]
fn a_disk_that_refuses_leaves_all_as_it_was() {
    let table = Table::laid("refused");
    table.run(&["make", "dress.kdl"]);
    let before: Vec<Vec<u8>> = FILES
        .iter()
        .map(|name| table.bytes(&format!("dress-papers/{name}")))
        .collect();
    let table = table.with("dress.kdl", DRESS.replace("600 mm", "640 mm"));
    let script = "trap '' XFSZ; ulimit -f 40; exec \"$@\"";
    let output = std::process::Command::new("sh")
        .args([
            "-c",
            script,
            "sh",
            env!("CARGO_BIN_EXE_notchbook"),
            "make",
            "dress.kdl",
        ])
        .current_dir(table.path("."))
        .output()
        .expect("a shell can be run");
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(said.contains("error[file-not-written]"), "{said}");
    assert!(
        said.contains("The files that were there before are unchanged."),
        "{said}"
    );
    let after: Vec<Vec<u8>> = FILES
        .iter()
        .map(|name| table.bytes(&format!("dress-papers/{name}")))
        .collect();
    assert_eq!(table.names("dress-papers"), FILES);
    assert!(before == after);
}

#[test]
fn check_says_what_is_found_and_writes_nothing() {
    let wide = DRESS.replace(
        "sleeve ease=\"60 mm\"",
        "sleeve ease=\"60 mm\" cap-ease=\"45 mm\"",
    );
    let table = Table::laid("check").with("dress.kdl", wide);
    insta::assert_snapshot!("check", table.said(&["check", "dress.kdl"]));
    insta::assert_snapshot!("check-json", table.said(&["check", "dress.kdl", "--json"]));
    assert_eq!(table.names("."), ["body.kdl", "dress.kdl"]);
}

#[test]
fn body_shows_every_measure() {
    let twice = BODY.replace("bust \"92 cm\"", "bust \"92 cm\"\n    bust \"91.2 cm\"");
    let table = Table::laid("body").with("body.kdl", twice);
    insta::assert_snapshot!("body", table.said(&["body", "body.kdl"]));
    let json = table.run(&["body", "body.kdl", "--json"]);
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).expect("it is JSON");
    assert_eq!(json["format"], "notchbook-body-1");
    assert_eq!(
        json["measures"].as_array().map(Vec::len),
        Some(body::Measure::COUNT)
    );
    assert_eq!(json["measures"][0]["readings"], 2);
    assert_eq!(json["measures"][0]["value"], 916.0);
    // Two readings 8 mm apart: sqrt(8²/2).
    assert_eq!(json["technical_error_mm"], 5.657);
}

#[test]
fn new_begins_a_garment_that_can_be_made_once_the_body_is_written() {
    let table = Table::new("new");
    insta::assert_snapshot!("new", table.said(&["new", "summer"]));
    assert_eq!(
        table.names("summer"),
        ["body.kdl", "garment.kdl", "measuring.txt"]
    );
    // Nobody's dress is drafted from invented figures by mistake.
    insta::assert_snapshot!("new-unfilled", table.said(&["make", "summer/garment.kdl"]));
    let text = fs::read_to_string(table.path("summer/body.kdl")).expect("it is there");
    let filled: Vec<String> = text
        .lines()
        .map(|line| {
            let is_measure = line.ends_with("cm\"") && line.starts_with("    // ");
            if is_measure {
                line.replacen("// ", "", 1)
            } else {
                line.to_owned()
            }
        })
        .collect();
    let table = table.with("summer/body.kdl", filled.join("\n"));
    insta::assert_snapshot!("new-body", table.said(&["body", "summer/body.kdl"]));
    let said = table.said(&["make", "summer/garment.kdl"]);
    assert!(said.starts_with("exit 0\n"), "{said}");
    assert!(table.path("garment-papers/pattern-a4.pdf").exists());
}

#[test]
fn new_replaces_nothing() {
    let table = Table::new("new-again").with("garment.kdl", "mine");
    let said = table.said(&["new", "."]);
    insta::assert_snapshot!("new-again", said);
    assert_eq!(table.names("."), ["garment.kdl"]);
    assert_eq!(table.bytes("garment.kdl"), b"mine");
}

#[test]
fn measuring_names_every_measure() {
    let table = Table::new("measuring");
    table.run(&["new", "x"]);
    let text = fs::read_to_string(table.path("x/measuring.txt")).expect("it is there");
    for measure in body::Measure::ALL {
        assert!(
            text.contains(&format!("\n{} ({}", measure.label(), measure.key())),
            "{}",
            measure.key()
        );
    }
    assert!(text.lines().all(|line| line.chars().count() <= 110));
}

#[test]
fn the_examples_are_made_without_errors() {
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples");
    let table = Table::new("examples");
    for name in ["concert-dress", "linen-dress", "plain-skirt"] {
        let garment = examples.join(format!("{name}.kdl"));
        let said = table.said(&["make", garment.to_str().expect("the path is UTF-8")]);
        assert!(said.starts_with("exit 0\n"), "{said}");
        let mut files = FILES.to_vec();
        files.extend(["layers.png", "layers.svg"]);
        files.sort_unstable();
        assert_eq!(table.names(&format!("{name}-papers")), files);
    }
}

/// Neckline and armholes of a dress without sleeves: each strip as long as its edges in pattern.json, and two ends.
#[test]
fn bias_strips_are_as_long_as_their_edges() {
    let table = Table::laid("strips").with(
        "dress.kdl",
        DRESS.replace("    sleeve ease=\"60 mm\"\n", ""),
    );
    table.run(&["make", "dress.kdl"]);
    let json: serde_json::Value =
        serde_json::from_slice(&table.bytes("dress-papers/pattern.json")).expect("it is JSON");
    let edge = |piece: usize, name: &str| {
        let edges = json["pieces"][piece]["edges"].as_array().expect("a list");
        let found = edges.iter().find(|edge| edge["name"] == name);
        found.expect("the edge is there")["length_mm"]
            .as_f64()
            .expect("a number")
    };
    let strip = |along: f64| ((along + 40.0) / 5.0).ceil() * 5.0;
    let neckline = strip(2.0 * (edge(0, "neckline") + edge(1, "neckline")));
    let armhole = strip(edge(0, "armhole") + edge(1, "armhole"));
    let list = String::from_utf8(table.bytes("dress-papers/cutting-list.txt")).expect("it is text");
    for line in [
        format!("  Neckline: 1 bias strip 35 mm wide, {neckline:.0} mm long\n"),
        format!("  Armhole: 2 bias strips 35 mm wide, {armhole:.0} mm long each\n"),
    ] {
        assert!(list.contains(&line), "{line}{list}");
    }
}

/// A facing and what stiffens it are drawn over their pieces, and need no strip; without them older pictures are named.
#[test]
fn layers_are_drawn_where_there_are_any() {
    let faced = DRESS.replace(
        "    skirt ",
        "    facings { neck }\n    interfacing { behind \"neck-facing\" }\n    cloths { shell \"wool crepe\" width=\"150 cm\" }\n    skirt ",
    );
    let table = Table::laid("layers").with("dress.kdl", faced);
    let said = table.said(&["make", "dress.kdl"]);
    assert!(said.starts_with("exit 0\n"), "{said}");
    let text = |name: &str| String::from_utf8(table.bytes(name)).expect("it is text");
    let svg = text("dress-papers/layers.svg");
    for group in [
        "front.shell",
        "front.facing",
        "front.interfacing",
        "back.facing",
    ] {
        assert!(
            svg.contains(&format!("<g id=\"{group}\" class=\"cloth ")),
            "{group}"
        );
    }
    assert!(
        table
            .bytes("dress-papers/layers.png")
            .starts_with(b"\x89PNG")
    );
    let list = text("dress-papers/cutting-list.txt");
    assert!(list.contains("\nFrom the shell (wool crepe)\n"), "{list}");
    assert!(
        list.contains("; cut within the seam line") && !list.contains("bias strip"),
        "{list}"
    );
    let buy = text("dress-papers/things-to-buy.txt");
    assert!(buy.contains(" of 150 cm width, for "), "{buy}");
    let table = table.with("dress.kdl", DRESS);
    let said = table.said(&["make", "dress.kdl"]);
    let left =
        "Still there from an earlier time, and not of this draft: layers.svg and layers.png.";
    assert!(said.contains(left), "{said}");
}
