//! Export and import of the whole history without loss, and what is kept of documents and links.

use std::collections::BTreeMap;
use std::path::Path;

use book::{Act, Book, Fault, HISTORY, Kind, Name, RevisionId};

fn name(text: &str) -> Name {
    Name::new(text).expect("it is safe")
}

/// A book with every kind of act, links, several documents, strange ends of lines.
fn lived_in(path: &Path) -> Book {
    let mut book = Book::open_or_begin(path).expect("the folder can be written");
    let (body, dress) = (name("bodies/ärmel.kdl"), name("dress.kdl"));
    let body_1 = book
        .create(&body, Kind::Body, "\u{feff}body \"Ä\" {}\r\n", "", &[])
        .expect("it is new");
    let dress_1 = book
        .create(
            &dress,
            Kind::Garment,
            "garment",
            "“begun”\nin two lines",
            &[body_1],
        )
        .expect("it is new");
    let body_2 = book
        .add(&body, body_1, "", "taped again", &[])
        .expect("it is the newest");
    let dress_2 = book
        .add(&dress, dress_1, "wider\t\r", "", &[body_2, body_2])
        .expect("it is the newest");
    book.undo(&dress).expect("there is something");
    book.redo(&dress).expect("there is something");
    book.undo(&dress).expect("there is something");
    let newest = book.document(&dress).expect("it is there").newest;
    book.add(&dress, newest, "shorter", "another way", &[body_1])
        .expect("it is the newest");
    book.go_back(&dress, dress_2, "rather as it was")
        .expect("it is there");
    book
}

fn files(book: &Book) -> BTreeMap<String, Vec<u8>> {
    book.export_all()
        .expect("it can be read")
        .into_iter()
        .collect()
}

fn taken_from(files: &BTreeMap<String, Vec<u8>>, book: &mut Book) -> Result<book::Taken, Fault> {
    let text_of = |path: &str| {
        let found = files.get(path).cloned();
        found.ok_or_else(|| Fault::History {
            what: format!("{path} is missing"),
        })
    };
    book.import_all(&files[HISTORY], text_of)
}

#[test]
fn the_whole_book_leaves_and_comes_in_without_loss() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = lived_in(&folder.path().join("one"));
    let exported = files(&book);
    let mut other = Book::open_or_begin(&folder.path().join("other")).expect("it is new");
    let taken = taken_from(&exported, &mut other).expect("it is whole");
    assert_eq!((taken.documents, taken.revisions), (2, 9));
    assert_eq!(files(&other), exported);
    assert_eq!(
        other.whole_history().expect("read"),
        book.whole_history().expect("read")
    );
    assert_eq!(other.verify().expect("read"), Vec::<String>::new());
    // The newest texts lie under their own names.
    assert_eq!(exported["documents/dress.kdl"], b"wider\t\r");
    assert_eq!(
        exported["revisions/bodies/ärmel.kdl/000001.kdl"],
        "\u{feff}body \"Ä\" {}\r\n".as_bytes()
    );
    // Undo and redo go on where they stood.
    let (mut book, dress) = (book, name("dress.kdl"));
    for book in [&mut book, &mut other] {
        book.undo(&dress).expect("there is something");
        let now = book.document(&dress).expect("it is there").newest;
        assert_eq!(book.text(now).expect("it is there"), "shorter");
    }
}

#[test]
fn a_history_comes_beside_what_is_there_or_not_at_all() {
    let folder = tempfile::tempdir().expect("a folder");
    let exported = files(&lived_in(&folder.path().join("one")));
    let mut other = Book::open_or_begin(&folder.path().join("other")).expect("it is new");
    let first = other
        .create(&name("skirt.kdl"), Kind::Garment, "s", "", &[])
        .expect("it is new");
    taken_from(&exported, &mut other).expect("no document of it is there");
    assert_eq!(other.verify().expect("read"), Vec::<String>::new());
    let dress = other.history(&name("dress.kdl")).expect("it is there");
    assert_eq!(dress[0].links, [RevisionId::new(first.number() + 1)]);
    // A second time the names are taken, and nothing is altered.
    let before = files(&other);
    assert!(matches!(
        taken_from(&exported, &mut other),
        Err(Fault::NameTaken { .. })
    ));
    assert_eq!(files(&other), before);
}

#[test]
fn an_altered_export_is_refused_whole() {
    let folder = tempfile::tempdir().expect("a folder");
    let exported = files(&lived_in(&folder.path().join("one")));
    let history = String::from_utf8(exported[HISTORY].clone()).expect("it is JSON");
    let altered = [
        ("notchbook-history-1", "notchbook-history-2"),
        ("\"number\": 2", "\"number\": 3"),
        ("\"act\": \"undo\"", "\"act\": \"edit\""),
        ("\"act\": \"undo\"", "\"act\": \"forget\""),
        ("\"kind\": \"body\"", "\"kind\": \"pet\""),
        ("bodies/ärmel.kdl\"", "../ärmel.kdl\""),
        ("\"parent\": 1", "\"parent\": 70"),
        ("\"parent\": 1", "\"parent\": 2"),
        ("\"time\": \"2", "\"time\": \"yesterday 2"),
        ("\"bytes\": 7", "\"bytes\": 8"),
        ("\"id\": 3", "\"id\": 2"),
        ("{", "["),
        ("\"reason\"", "\"why\""),
    ];
    for (from, to) in altered {
        assert!(history.contains(from), "{from}");
        let mut files = exported.clone();
        files.insert(
            HISTORY.to_owned(),
            history.replacen(from, to, 1).into_bytes(),
        );
        let path = folder.path().join("other");
        let mut other = Book::open_or_begin(&path).expect("it is new");
        taken_from(&files, &mut other).expect_err(to);
        assert_eq!(other.last().expect("read"), None, "{to}");
    }
    let mut files = exported;
    files.remove("revisions/dress.kdl/000002.kdl");
    let mut other = Book::open_or_begin(&folder.path().join("other")).expect("it is new");
    taken_from(&files, &mut other).expect_err("a text is missing");
}

#[test]
fn an_undo_says_what_it_takes_back_and_keeps_the_links_of_then() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = lived_in(&folder.path().join("one"));
    let history = book.history(&name("dress.kdl")).expect("it is there");
    let undo = &history[2];
    assert_eq!((undo.act, undo.again), (Act::Undo, Some(history[0].id)));
    assert_eq!(undo.reason, "undoes revision 2");
    assert_eq!(undo.links, history[0].links);
    let another_way = &history[5];
    assert_eq!(
        another_way.parent,
        Some(history[0].id),
        "it stands beside what was undone"
    );
    assert_eq!(history[6].again, Some(history[1].id));
    assert_eq!(history[6].parent, Some(another_way.id));
}

#[test]
fn names_are_free_in_any_letters_and_no_folder_and_file_at_once() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = lived_in(&folder.path().join("one"));
    for taken in [
        "dress.kdl",
        "Dress.KDL",
        "bodies",
        "BODIES/Ärmel.kdl",
        "dress.kdl/x.kdl",
    ] {
        let fault = book
            .create(&name(taken), Kind::Body, "", "", &[])
            .expect_err(taken);
        assert!(matches!(fault, Fault::NameTaken { .. }), "{taken}: {fault}");
    }
    book.create(&name("bodies2"), Kind::Body, "", "", &[])
        .expect("it is free");
    book.create(&name("dress.kdl2"), Kind::Body, "", "", &[])
        .expect("it is free");
}

#[test]
fn what_is_not_there_or_no_text_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let mut book = lived_in(&folder.path().join("one"));
    let (dress, body) = (name("dress.kdl"), name("bodies/ärmel.kdl"));
    let newest = book.document(&dress).expect("it is there").newest;
    let body_1 = RevisionId::new(1);
    let before = files(&book);
    assert!(matches!(
        book.undo(&name("x")),
        Err(Fault::NoDocument { .. })
    ));
    assert!(matches!(
        book.history(&name("x")),
        Err(Fault::NoDocument { .. })
    ));
    assert!(matches!(
        book.numbered(&dress, 8),
        Err(Fault::NoNumber { newest: 7, .. })
    ));
    assert!(matches!(
        book.go_back(&dress, body_1, ""),
        Err(Fault::NoRevision { .. })
    ));
    assert!(matches!(
        book.text(RevisionId::new(-1)),
        Err(Fault::NoRevision { .. })
    ));
    let of_nothing = [RevisionId::new(99)];
    assert!(matches!(
        book.add(&dress, newest, "", "", &of_nothing),
        Err(Fault::NoRevision { .. })
    ));
    assert!(matches!(
        book.add(&dress, newest, "a\0", "", &[]),
        Err(Fault::NoText { .. })
    ));
    let long = "x".repeat(book::LONGEST_TEXT + 1);
    assert!(matches!(
        book.add(&dress, newest, &long, "", &[]),
        Err(Fault::TooLong { .. })
    ));
    assert!(matches!(book.redo(&body), Err(Fault::NothingToRedo { .. })));
    assert_eq!(files(&book), before);
}

#[test]
fn a_copy_is_a_book_and_replaces_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    let book = lived_in(&folder.path().join("one"));
    let place = folder.path().join("copy");
    book.copy_to(&place).expect("the place is free");
    assert_eq!(
        files(&Book::open(&place).expect("it is a book")),
        files(&book)
    );
    assert!(matches!(book.copy_to(&place), Err(Fault::NoCopy { .. })));
    let nowhere = folder.path().join("no/where");
    assert!(matches!(book.copy_to(&nowhere), Err(Fault::NoCopy { .. })));
}
