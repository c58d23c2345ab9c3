//! The reference of findings, docs/findings, is made from the code: a page for every check from its module text, and a table of
//! all codes that are found anywhere in the sources, with what they say, what is allowed, and what to do.
//!
//! `NOTCHBOOK_WRITE=1 cargo test -p notchbook --test findings_manual` writes the pages anew.

mod common;
mod manual;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::PathBuf;

use common::sources::{Entry, entries, literal_codes, root, sources};
use pattern::check::{CHECKS, Check};

/// The command that writes the pages.
const COMMAND: &str = "NOTCHBOOK_WRITE=1 cargo test -p notchbook --test findings_manual";

/// Rooms in the order of the table, with what their findings are about.
const ROOMS: [(&str, &str); 9] = [
    ("pattern/src/check", "The pattern, checked on every change"),
    ("pattern", "Steps"),
    ("garment/src/recipe", "What a recipe says"),
    ("garment", "Blocks and parts"),
    ("body", "Measures"),
    ("document", "Files as text"),
    ("cloth", "Cloths and lays"),
    ("book", "The book"),
    ("notchbook", "The program"),
];

fn room(entry: &Entry) -> usize {
    let place = entry.file.as_str();
    let found = ROOMS.iter().position(|(room, _)| place.starts_with(room));
    found.unwrap_or(ROOMS.len() - 1)
}

/// All pages by name.
fn pages() -> BTreeMap<String, String> {
    let entries = all_entries();
    let mut pages = BTreeMap::from([("README.md".to_owned(), index(&entries))]);
    for check in CHECKS {
        pages.insert(format!("{}.md", slug(check)), page(check, &entries));
    }
    pages
}

/// Entries of all codes; of those of the checks, the limit is the one that the check declares.
fn all_entries() -> Vec<Entry> {
    let mut entries = entries(&sources());
    for check in CHECKS {
        for (code, limit) in check.codes {
            let entry = entries
                .iter_mut()
                .find(|entry| entry.code == *code && entry.file.contains("/check/"))
                .unwrap_or_else(|| panic!("no source finds {code}"));
            (*limit).clone_into(&mut entry.allowed);
        }
    }
    entries
}

fn slug(check: &Check) -> String {
    check.title.to_lowercase().replace(' ', "-")
}

fn index(entries: &[Entry]) -> String {
    let tables = ROOMS.iter().enumerate().map(|(number, (_, title))| {
        let rows = entries.iter().filter(|entry| room(entry) == number);
        let rows = rows
            .map(|entry| row(entry, true))
            .collect::<Vec<_>>()
            .concat();
        format!("\n## {title}\n\n{HEAD}{rows}")
    });
    format!(
        "# Findings\n\nEverything that is said about measures, recipes and garments has a code that never changes its meaning. \
         Where a cure can be written into\nthe recipe, `notchbook check GARMENT.kdl --mend` shows it and writes it when asked to. \
         Parts of a message that depend on the\ngarment stand as … here. These pages are made from the program (`{COMMAND}`).\n{}",
        tables.collect::<Vec<_>>().concat()
    )
}

const HEAD: &str =
    "| code | | what is found | within which all is well | what to do |\n|---|---|---|---|---|\n";

fn row(entry: &Entry, links: bool) -> String {
    let page = CHECKS.iter().find(|check| {
        entry.file.contains("/check/") && check.codes.iter().any(|(code, _)| *code == entry.code)
    });
    let code = match page {
        Some(check) if links => format!("[`{}`]({}.md)", entry.code, slug(check)),
        _ => format!("`{}`", entry.code),
    };
    format!(
        "| {code} | {} | {} | {} | {} |\n",
        entry.severity,
        cell(&entry.message),
        cell(&entry.allowed),
        cell(&entry.cure)
    )
}

fn cell(words: &str) -> String {
    words.replace('|', "\\|")
}

fn page(check: &Check, entries: &[Entry]) -> String {
    let rows = check.codes.iter().map(|(code, _)| {
        let entry = entries
            .iter()
            .find(|entry| entry.code == *code && entry.file.contains("/check/"));
        row(entry.expect("each code has an entry"), false)
    });
    format!(
        "# {}\n\n{}\n\n{HEAD}{}\nAll findings: [the table](README.md).\n",
        check.title,
        module_text(check.manual),
        rows.collect::<Vec<_>>().concat()
    )
}

/// The module's text, with its parts in paragraphs of their own.
fn module_text(source: &str) -> String {
    let lines = source.lines().take_while(|line| line.starts_with("//!"));
    let text: Vec<&str> = lines
        .map(|line| line.trim_start_matches("//!").trim())
        .collect();
    text.join("\n")
        .trim()
        .replace("\n**", "\n\n**")
        .replace("\n\n\n", "\n\n")
}

fn folder() -> PathBuf {
    root().join("docs/findings")
}

#[test]
fn the_pages_are_what_the_code_says() {
    manual::check("docs/findings", &pages(), COMMAND);
}

/// Read apart from the pages: every code that a source gives to a finding, and every one that a kept answer of the program shows.
#[test]
fn no_code_is_without_an_entry() {
    let table = if std::env::var_os("NOTCHBOOK_WRITE").is_some() {
        // The other test may be writing it at this moment.
        index(&all_entries())
    } else {
        fs::read_to_string(folder().join("README.md")).expect("the table is there")
    };
    let mut codes: BTreeSet<String> = literal_codes(&sources());
    for snapshot in manual::there(&root().join("crates/notchbook/tests/snapshots")).values() {
        for kind in ["error[", "warning[", "note["] {
            let found = snapshot.split(kind).skip(1);
            codes.extend(found.filter_map(|rest| Some(rest.split_once("]:")?.0.to_owned())));
        }
    }
    assert!(codes.len() > 100, "the sources were found: {}", codes.len());
    let missing: Vec<&String> = codes
        .iter()
        .filter(|code| !table.contains(&format!("`{code}`")))
        .collect();
    assert!(missing.is_empty(), "no entry for {missing:?}; {COMMAND}");
}
