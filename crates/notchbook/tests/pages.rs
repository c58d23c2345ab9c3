//! The pages in docs/ say what the program says and writes.

mod common;

use clap::CommandFactory as _;
use common::Table;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../..")
}

fn page(name: &str) -> String {
    fs::read_to_string(root().join("docs").join(name)).expect("the page lies in docs/")
}

/// Every help text as it stands on the page, in lines of one width.
#[test]
fn the_page_of_commands_has_every_help_text() {
    let page = page("commands.md");
    let mut command = notchbook::Arguments::command().term_width(96);
    command.build();
    let mut missing = Vec::new();
    for mut one in with_subcommands(command) {
        let help = one.render_help().to_string();
        let help = format!("```text\n{}\n```", help.trim_end());
        if !page.contains(&help) {
            missing.push(help);
        }
    }
    assert!(
        missing.is_empty(),
        "docs/commands.md should hold:\n\n{}",
        missing.join("\n\n")
    );
}

/// A command and all that stand under it, but for the help itself.
fn with_subcommands(command: clap::Command) -> Vec<clap::Command> {
    let under = command.get_subcommands().cloned().collect::<Vec<_>>();
    let under = under.into_iter().filter(|one| one.get_name() != "help");
    let under: Vec<clap::Command> = under.flat_map(with_subcommands).collect();
    [vec![command], under].concat()
}

/// Every example of JSON on the page stands in the file of the plain skirt.
#[test]
fn the_examples_of_the_format_are_real() {
    let table = Table::new("pages");
    let skirt = root().join("examples/plain-skirt.kdl");
    table.run(&["make", skirt.to_str().expect("the path is UTF-8")]);
    let pattern: serde_json::Value =
        serde_json::from_slice(&table.bytes("plain-skirt-papers/pattern.json"))
            .expect("it is JSON");
    let page = page("pattern-json.md");
    let examples: Vec<&str> = page
        .split("```json\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .collect();
    assert_eq!(examples.len(), 3);
    for example in examples {
        let example: serde_json::Value =
            serde_json::from_str(example).expect("the example is JSON");
        let is_there = ["pieces", "seams", "girths_mm"].iter().any(|list| {
            pattern[list]
                .as_array()
                .is_some_and(|list| list.contains(&example))
        });
        assert!(is_there, "{example:#}");
    }
}

/// Every member that the files have is named on the page.
#[test]
fn every_member_of_the_format_is_on_the_page() {
    let table = Table::laid("members");
    table.run(&["make", "dress.kdl"]);
    let page = page("pattern-json.md");
    let files = [
        table.bytes("dress-papers/pattern.json"),
        table.run(&["check", "dress.kdl", "--json"]).stdout,
        table.run(&["body", "body.kdl", "--json"]).stdout,
    ];
    for file in files {
        let value: serde_json::Value = serde_json::from_slice(&file).expect("it is JSON");
        let mut members = Vec::new();
        gather(&value, &mut members);
        assert!(members.len() > 3);
        for member in members {
            assert!(
                page.contains(&format!("`{member}`")),
                "docs/pattern-json.md does not say what `{member}` is"
            );
        }
    }
}

fn gather(value: &serde_json::Value, members: &mut Vec<String>) {
    match value {
        serde_json::Value::Array(items) => items.iter().for_each(|item| gather(item, members)),
        serde_json::Value::Object(object) => {
            for (name, value) in object {
                members.push(name.clone());
                gather(value, members);
            }
        }
        _ => {}
    }
}
