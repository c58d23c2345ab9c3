use super::*;
use crate::{Kind, Name};

/// A second form, as a later version might have it.
const LATER: &[&str] = &[
    form::STEPS[0],
    "CREATE TABLE mark (revision INTEGER NOT NULL REFERENCES revision (id), word TEXT NOT NULL) STRICT;",
];

fn begun(path: &Path) -> crate::RevisionId {
    let mut book = Book::open_or_begin(path).expect("the folder can be written");
    let name = Name::new("bodies/imke.kdl").expect("it is safe");
    book.create(&name, Kind::Body, "body \"Imke\" {}", "begun", &[])
        .expect("it is new")
}

fn names(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).expect("it is there");
    let mut names: Vec<String> = entries
        .map(|one| {
            one.expect("it can be listed")
                .file_name()
                .to_string_lossy()
                .into_owned()
        })
        .collect();
    names.sort();
    names
}

#[test]
fn an_older_book_is_brought_up_after_a_copy_was_laid_aside() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("my.book.notchbook");
    let id = begun(&path);
    let book = open(&path, false, LATER).expect("it is brought up");
    assert_eq!(book.ask(form::number).expect("it has one"), 2);
    assert_eq!(book.text(id).expect("it is there"), "body \"Imke\" {}");
    drop(book);
    let names = names(folder.path());
    assert_eq!(names.len(), 2, "{names:?}");
    let copy = names
        .iter()
        .find(|name| name.starts_with("my.book.form-1."))
        .expect("the copy is there");
    let copy = Book::open(&folder.path().join(copy)).expect("the copy is a book of the older form");
    assert_eq!(copy.text(id).expect("it is there"), "body \"Imke\" {}");
    // An older program now refuses the book.
    assert!(matches!(
        Book::open(&path),
        Err(Fault::Newer {
            found: 2,
            known: 1,
            ..
        })
    ));
    // Opened once more, it is not brought up again.
    open(&path, false, LATER).expect("it is in the newest form");
    assert_eq!(self::names(folder.path()).len(), 2);
}

#[test]
fn no_upgrade_without_a_copy() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    begun(&path);
    let before = fs::read(&path).expect("it is there");
    let broken: &[&str] = &[
        form::STEPS[0],
        "CREATE TABLE mark (id INTEGER) STRICT; CREATE NONSENSE;",
    ];
    let fault = open(&path, false, broken).expect_err("the step is no SQL");
    assert!(matches!(fault, Fault::Store { .. }), "{fault}");
    assert_eq!(
        fs::read(&path).expect("it is there"),
        before,
        "a step that fails leaves the book as it was"
    );
    assert_eq!(names(folder.path()).len(), 2, "the copy stays");
}

#[test]
fn a_full_disk_takes_nothing_away() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    let mut on = begun(&path);
    let name = Name::new("bodies/imke.kdl").expect("it is safe");
    let mut book = Book::open(&path).expect("it is a book");
    let limit = |pages: i64| {
        move |c: &Connection| c.pragma_update_and_check(None, "max_page_count", pages, |_| Ok(()))
    };
    book.ask(limit(40)).expect("the limit is taken");
    let text = "x".repeat(3000);
    let mut written = Vec::new();
    let fault = loop {
        match book.add(&name, on, &text, "more", &[]) {
            Ok(id) => on = id,
            Err(fault) => break fault,
        }
        written.push(on);
        assert!(written.len() < 100, "the limit is reached long before");
    };
    assert!(matches!(fault, Fault::Full { .. }), "{fault}");
    assert_eq!(book.last().expect("it can be read"), Some(on));
    for id in &written {
        assert_eq!(book.text(*id).expect("it is there"), text);
    }
    assert_eq!(book.verify().expect("it can be read"), Vec::<String>::new());
    // With room again, the same book goes on.
    book.ask(limit(400)).expect("the limit is taken");
    book.add(&name, on, &text, "more", &[])
        .expect("there is room");
}

#[test]
fn another_programs_writing_is_told_as_such() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    let on = begun(&path);
    let name = Name::new("bodies/imke.kdl").expect("it is safe");
    let mut book = Book::open(&path).expect("it is a book");
    book.ask(|c| c.busy_timeout(Duration::ZERO))
        .expect("it can be set");
    let other = Connection::open(&path).expect("it can be opened");
    other
        .execute_batch("BEGIN IMMEDIATE")
        .expect("nobody else writes");
    let fault = book
        .add(&name, on, "body {}", "", &[])
        .expect_err("it is locked");
    assert!(matches!(fault, Fault::Locked { .. }), "{fault}");
    assert_eq!(book.last().expect("reading goes on"), Some(on));
    other.execute_batch("ROLLBACK").expect("it can be given up");
    book.add(&name, on, "body {}", "", &[])
        .expect("it is free again");
}
