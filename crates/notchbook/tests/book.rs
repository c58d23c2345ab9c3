//! `book`: documents in and out of one file, their history, and what is said where something does not go.

mod common;

use common::{BODY, DRESS, Table};
use std::fs;

/// A folder with texts and a book that has them.
fn with_book(name: &str) -> Table {
    let table = Table::new(name);
    fs::create_dir_all(table.path("texts/bodies")).expect("the folder can be written");
    let dress = DRESS.replace("body \"body.kdl\"", "body \"bodies/imke.kdl\"");
    let table = table.with("texts/dress.kdl", &dress).with("texts/bodies/imke.kdl", BODY).with(
        "texts/long-dress.kdl",
        "garment \"Long dress\" {\n    based-on \"dress.kdl\"\n    skirt \"straight\" length=\"900 mm\"\n}\n",
    );
    said(&table, &["import", "texts"]);
    table
}

/// What `book` says of the book on the table, with every time and every folder of this run left out.
fn said(table: &Table, arguments: &[&str]) -> String {
    let mut all = vec!["book", "--book", "my.notchbook"];
    all.extend(arguments);
    without_times(&table.said(&all))
}

fn without_times(words: &str) -> String {
    let mut out = String::new();
    let mut rest = words;
    while let Some(end) = rest.find(" UTC") {
        let start = end - "2026-12-01 10:48".len();
        out.push_str(&rest[..start]);
        out.push_str("YYYY-MM-DD hh:mm UTC");
        rest = &rest[end + " UTC".len()..];
    }
    out + rest
}

#[test]
fn a_dress_is_changed_undone_and_gone_back_to() {
    let table = with_book("book-story");
    let wider = DRESS
        .replace("60 mm", "70 mm")
        .replace("body.kdl", "bodies/imke.kdl");
    let table = table.with("dress.kdl", wider);
    let story = [
        said(&table, &["import", "dress.kdl", "--reason", "wider"]),
        said(&table, &["list"]),
        said(&table, &["difference", "dress.kdl"]),
        said(&table, &["undo", "dress.kdl"]),
        said(&table, &["undo", "dress.kdl"]),
        said(&table, &["redo", "dress.kdl"]),
        said(&table, &["redo", "dress.kdl"]),
        said(
            &table,
            &["go-back", "dress.kdl", "1", "--reason", "rather as it was"],
        ),
        said(&table, &["difference", "dress.kdl", "--from", "1"]),
        said(&table, &["history", "dress.kdl"]),
        said(&table, &["history"]),
        said(&table, &["verify"]),
    ];
    insta::assert_snapshot!("book-story", story.join("\n"));
}

#[test]
fn texts_leave_as_they_came() {
    let table = with_book("book-out");
    for (name, was) in [
        ("dress.kdl", "texts/dress.kdl"),
        ("bodies/imke.kdl", "texts/bodies/imke.kdl"),
    ] {
        let shown = table.run(&["book", "show", name, "--book", "my.notchbook"]);
        assert_eq!(shown.stdout, table.bytes(was));
    }
    assert!(said(&table, &["export", "out"]).starts_with("exit 0"));
    assert_eq!(
        table.bytes("out/bodies/imke.kdl"),
        table.bytes("texts/bodies/imke.kdl")
    );
    assert_eq!(
        table.bytes("out/long-dress.kdl"),
        table.bytes("texts/long-dress.kdl")
    );
    // The same again is no loss; what differs is somebody's work.
    assert!(said(&table, &["export", "out"]).starts_with("exit 0"));
    fs::write(table.path("out/dress.kdl"), "mine").expect("it can be written");
    insta::assert_snapshot!("book-export-differs", said(&table, &["export", "out"]));
    assert_eq!(table.bytes("out/dress.kdl"), b"mine");
    assert!(said(&table, &["export", "out", "dress.kdl", "--replace"]).starts_with("exit 0"));
    assert_eq!(table.bytes("out/dress.kdl"), table.bytes("texts/dress.kdl"));
}

#[test]
fn everything_leaves_and_comes_in_again() {
    let table = with_book("book-all");
    said(&table, &["undo", "dress.kdl"]);
    assert!(said(&table, &["export", "saved", "--all"]).starts_with("exit 0"));
    let other = ["book", "--book", "other.notchbook"];
    let of_other = |arguments: &[&str]| table.said(&[&other[..], arguments].concat());
    assert!(of_other(&["import", "saved"]).starts_with("exit 0"));
    assert!(of_other(&["verify"]).starts_with("exit 0"));
    assert_eq!(
        without_times(&of_other(&["history"])),
        said(&table, &["history"])
    );
    assert!(of_other(&["export", "again", "--all"]).starts_with("exit 0"));
    assert_eq!(
        table.bytes("again/history.json"),
        table.bytes("saved/history.json")
    );
    assert!(said(&table, &["copy", "copy.notchbook"]).starts_with("exit 0"));
    let copied = table.said(&["book", "list", "--book", "copy.notchbook"]);
    assert_eq!(
        copied.lines().count(),
        said(&table, &["list"]).lines().count()
    );
}

#[test]
fn what_does_not_go_is_told_and_nothing_is_altered() {
    let table = with_book("book-wrong")
        .with("shopping.kdl", "buttons 5\n")
        .with("empty.kdl", "// nothing yet\n")
        .with("broken.kdl", "garment \"Skirt\" {\n")
        .with("foreign.db", "a picture, or a letter\n")
        .with("imke.kdl", BODY);
    let before = table.bytes("my.notchbook");
    let wrong: [&[&str]; 17] = [
        &["show", "dres.kdl"],
        &["show", "cape.kdl"],
        &["show", "../dress.kdl"],
        &["show", "dress.kdl", "--revision", "9"],
        &["difference", "dress.kdl", "--from", "0"],
        &["go-back", "dress.kdl", "7"],
        &["import", "shopping.kdl"],
        &["import", "empty.kdl"],
        &["import", "broken.kdl"],
        &["import", "nowhere.kdl"],
        &["import", "foreign.db", "shopping.kdl", "broken.kdl"],
        &["import", "imke.kdl", "texts/bodies/imke.kdl"],
        &["import", "imke.kdl", "--into", "../bodies"],
        &["import", "imke.kdl", "--into", "bodies", "--kind", "cloth"],
        &["import", "imke.kdl", "--into", "dress.kdl"],
        &[
            "export",
            "out",
            "dress.kdl",
            "long-dress.kdl",
            "--revision",
            "1",
        ],
        &["copy", "my.notchbook"],
    ];
    let told: Vec<String> = wrong
        .into_iter()
        .map(|arguments| {
            let told = said(&table, arguments);
            assert!(told.starts_with("exit 2\n"), "{arguments:?}: {told}");
            format!("book {}\n{told}", arguments.join(" "))
        })
        .collect();
    insta::assert_snapshot!("book-wrong", told.join("\n"));
    assert_eq!(table.bytes("my.notchbook"), before);
    assert!(!table.path("out").exists());
}

#[test]
fn what_is_no_book_is_told_and_not_touched() {
    let table = with_book("book-foreign").with("letter.txt", "Dear Imke,\n");
    let whole = table.bytes("my.notchbook");
    let table = table.with("cut.notchbook", &whole[..whole.len() - 5000]);
    let told = ["letter.txt", "cut.notchbook", "texts", "missing.notchbook"]
        .map(|file| format!("{file}\n{}", table.said(&["book", "list", "--book", file])));
    insta::assert_snapshot!("book-foreign", told.join("\n"));
    assert_eq!(table.bytes("letter.txt"), b"Dear Imke,\n");
    assert_eq!(table.bytes("cut.notchbook"), &whole[..whole.len() - 5000]);
    assert!(!table.path("missing.notchbook").exists());
}

/// A newest revision that cannot be read is an error of the book's maker; an older one is worth a warning.
#[test]
fn verify_reads_every_revision() {
    let table = with_book("book-verify").with("bodies.kdl", "x");
    let slip = BODY.replace("92 cm", "92 feet");
    let table = table.with("imke.kdl", slip);
    assert!(said(&table, &["import", "imke.kdl", "--into", "bodies"]).starts_with("exit 0"));
    let newest = said(&table, &["verify"]);
    assert!(newest.starts_with("exit 1\n"), "{newest}");
    said(&table, &["undo", "bodies/imke.kdl"]);
    let older = said(&table, &["verify"]);
    assert!(older.starts_with("exit 0\n"), "{older}");
    insta::assert_snapshot!("book-verify", format!("{newest}\n{older}"));
}

/// A cloth is read as a cloth, not by its grammar alone.
#[test]
fn verify_reads_cloths() {
    let lawn = "cloth \"lawn\" {\n    width \"142 cm\"\n}\n";
    let table = with_book("book-cloth").with("lawn.kdl", lawn);
    let import = ["import", "lawn.kdl", "--into", "cloths"];
    assert!(said(&table, &import).starts_with("exit 0"));
    assert!(said(&table, &["verify"]).starts_with("exit 0\n"));
    let table = table.with("lawn.kdl", lawn.replace("142 cm", "142 m"));
    assert!(said(&table, &import).starts_with("exit 0"));
    let told = said(&table, &["verify"]);
    assert!(
        told.starts_with("exit 1\n") && told.contains("out-of-bounds"),
        "{told}"
    );
}

/// Without `--book` the book lies by the convention of the platform; on Linux `XDG_DATA_HOME` says where.
#[cfg(target_os = "linux")]
#[test]
fn the_usual_place_follows_the_platform() {
    let table = with_book("book-place");
    let run = |arguments: &[&str]| {
        std::process::Command::new(env!("CARGO_BIN_EXE_notchbook"))
            .args(arguments)
            .current_dir(table.path(""))
            .env(
                "XDG_DATA_HOME",
                fs::canonicalize(table.path(""))
                    .expect("it is there")
                    .join("data"),
            )
            .output()
            .expect("the program is built and can be run")
    };
    assert_eq!(run(&["book", "list"]).status.code(), Some(2));
    assert!(!table.path("data").exists(), "looking begins nothing");
    assert_eq!(run(&["book", "import", "texts"]).status.code(), Some(0));
    assert!(table.path("data/notchbook/book.notchbook").is_file());
    assert_eq!(run(&["book", "list"]).status.code(), Some(0));
}
