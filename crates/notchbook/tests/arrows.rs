//! Which room may know which: the arrows of ARCHITECTURE.md, read from the workspace's own metadata.

use std::collections::BTreeMap;
use std::process::Command;

/// Each room and the rooms that it may use.
const ARROWS: [(&str, &[&str]); 13] = [
    ("geometry", &[]),
    ("document", &["geometry"]),
    ("sheet", &["geometry"]),
    ("body", &["geometry", "document"]),
    ("pattern", &["geometry", "document"]),
    ("garment", &["geometry", "document", "body", "pattern"]),
    (
        "cloth",
        &["geometry", "document", "body", "pattern", "garment"],
    ),
    (
        "drawing",
        &["geometry", "document", "pattern", "cloth", "sheet"],
    ),
    ("figure", &["geometry", "document", "body", "sheet"]),
    (
        "making",
        &[
            "geometry", "document", "body", "pattern", "garment", "cloth", "drawing", "sheet",
        ],
    ),
    ("book", &[]),
    (
        "workbench",
        &[
            "geometry", "document", "body", "pattern", "garment", "cloth", "drawing", "figure",
            "sheet", "making", "book",
        ],
    ),
    (
        "notchbook",
        &[
            "geometry",
            "document",
            "body",
            "pattern",
            "garment",
            "cloth",
            "drawing",
            "figure",
            "sheet",
            "making",
            "book",
            "workbench",
        ],
    ),
];

/// Rooms in which no file is read, no clock asked and nothing printed: they have no dependency that could.
const QUIET: [&str; 5] = ["geometry", "document", "body", "pattern", "garment"];
const LOUD: [&str; 5] = [
    "clap",
    "indicatif",
    "tokio",
    "rusqlite",
    "annotate-snippets",
];

fn dependencies() -> BTreeMap<String, Vec<String>> {
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let output = Command::new(cargo)
        .args([
            "metadata",
            "--no-deps",
            "--format-version",
            "1",
            "--offline",
        ])
        .current_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../.."))
        .output()
        .expect("cargo runs where its tests run");
    let metadata: serde_json::Value =
        serde_json::from_slice(&output.stdout).expect("cargo writes JSON");
    let packages = metadata["packages"]
        .as_array()
        .expect("metadata lists packages");
    packages.iter().map(room).collect()
}

fn room(package: &serde_json::Value) -> (String, Vec<String>) {
    let text = |value: &serde_json::Value| value.as_str().unwrap_or_default().to_owned();
    let used = package["dependencies"].as_array().into_iter().flatten();
    let used = used
        .filter(|dependency| dependency["kind"].is_null())
        .map(|dependency| text(&dependency["name"]));
    (text(&package["name"]), used.collect())
}

#[test]
fn arrows_run_one_way() {
    let rooms = dependencies();
    let names: Vec<&str> = rooms.keys().map(String::as_str).collect();
    for (room, used) in &rooms {
        let allowed = ARROWS.iter().find(|(name, _)| name == room);
        let (_, allowed) = allowed.unwrap_or_else(|| panic!("{room} is not in the list of arrows"));
        let inside = used.iter().filter(|name| names.contains(&name.as_str()));
        for name in inside {
            assert!(
                allowed.contains(&name.as_str()),
                "{room} may not use {name}"
            );
        }
    }
}

#[test]
fn quiet_rooms_have_no_loud_dependencies() {
    let rooms = dependencies();
    for room in QUIET {
        let used = rooms
            .get(room)
            .unwrap_or_else(|| panic!("{room} is a room"));
        for name in LOUD {
            assert!(
                !used.iter().any(|used| used == name),
                "{room} must not use {name}"
            );
        }
    }
}
