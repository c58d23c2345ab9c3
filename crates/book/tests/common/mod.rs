//! The example that writes revisions, built as the tests are.

#![allow(dead_code, reason = "each test file uses its own part of this")]

use std::path::{Path, PathBuf};
use std::process::Command;

/// The program `write_revisions`, newly built.
pub(crate) fn writer() -> PathBuf {
    let test = std::env::current_exe().expect("a test knows where it lies");
    let profile = test.ancestors().nth(2).expect("it lies in PROFILE/deps");
    let cargo = std::env::var("CARGO").unwrap_or_else(|_| "cargo".into());
    let mut build = Command::new(cargo);
    build.args([
        "build",
        "-q",
        "--offline",
        "-p",
        "book",
        "--example",
        "write_revisions",
    ]);
    if profile.ends_with("release") {
        build.arg("--release");
    }
    let built = build
        .current_dir(env!("CARGO_MANIFEST_DIR"))
        .env(
            "CARGO_TARGET_DIR",
            profile
                .parent()
                .expect("a profile lies in the build folder"),
        )
        .status()
        .expect("cargo runs where its tests run");
    assert!(built.success(), "the example can be built");
    profile
        .join("examples")
        .join(format!("write_revisions{}", std::env::consts::EXE_SUFFIX))
}

/// What the example writes as the revision of this number of the book.
pub(crate) fn text_of(number: i64) -> String {
    let lines = if number % 10 == 0 { 600 } else { 3 };
    format!("// revision {number}\n").repeat(lines)
}

/// Numbers in the lines that were written to the end: one that is broken off was never said.
pub(crate) fn numbers(lines: &str) -> Vec<i64> {
    let whole = lines.rfind('\n').map_or("", |end| &lines[..end]);
    whole
        .lines()
        .map(|line| line.parse().expect("a number a line"))
        .collect()
}

/// Everything that was said to be written is there, nothing else but one change in flight, and the book is sound.
pub(crate) fn assert_kept(path: &Path, said: i64) -> i64 {
    let book = book::Book::open(path).expect("it is a sound book");
    let last = book
        .last()
        .expect("it can be read")
        .map_or(0, book::RevisionId::number);
    assert!(
        (said..=said + 2).contains(&last),
        "{said} was said, {last} is the newest"
    );
    for number in 1..=last {
        let text = book
            .text(book::RevisionId::new(number))
            .expect("it is there");
        assert_eq!(text, text_of(number), "revision {number}");
    }
    assert_eq!(book.verify().expect("it can be read"), Vec::<String>::new());
    last
}
