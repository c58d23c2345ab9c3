//! What is no sound book is refused, and not a byte of it is touched.

use std::fs;
use std::path::{Path, PathBuf};

use book::{Book, Fault, Kind, Name};
use rusqlite::Connection;

/// A book of some pages in a folder of its own.
fn book_in(folder: &Path) -> PathBuf {
    let path = folder.join("book.notchbook");
    let mut book = Book::open_or_begin(&path).expect("the folder can be written");
    let name = Name::new("skirt.kdl").expect("it is safe");
    let text = "garment \"Skirt\" {}\n".repeat(300);
    let mut on = book
        .create(&name, Kind::Garment, &text, "begun", &[])
        .expect("it is new");
    for _ in 0..12 {
        on = book
            .add(&name, on, &text, "again", &[])
            .expect("it is the newest");
    }
    path
}

/// Refused by both ways of opening, with the file as it was and nothing left beside it.
fn refused(path: &Path) -> Fault {
    let bytes = fs::read(path).expect("it is there");
    let fault = Book::open(path).expect_err("it is no sound book");
    if !bytes.is_empty() {
        Book::open_or_begin(path).expect_err("it is no sound book");
    }
    assert_eq!(
        fs::read(path).expect("it is there"),
        bytes,
        "it is as it was"
    );
    let folder = path.parent().expect("it lies in a folder");
    assert_eq!(
        fs::read_dir(folder).expect("it is there").count(),
        1,
        "nothing lies beside it"
    );
    fault
}

#[test]
fn files_of_another_kind() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    let files: [&[u8]; 6] = [
        b"",
        b"x",
        b"garment \"Skirt\" {}\n",
        b"\x89PNG\r\n\x1a\n and so on, for more than a hundred bytes, as a picture would be ................................",
        &[0; 4096],
        b"SQLite format 4\0",
    ];
    for bytes in files {
        fs::write(&path, bytes).expect("it can be written");
        let fault = refused(&path);
        assert!(
            matches!(fault, Fault::NotABook { .. }),
            "{bytes:?}: {fault}"
        );
    }
}

#[test]
fn a_database_of_another_program() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("other.db");
    let other = Connection::open(&path).expect("it can be begun");
    other
        .execute_batch("CREATE TABLE document (id INTEGER); PRAGMA user_version = 1; PRAGMA application_id = 7;")
        .expect("it can be written");
    drop(other);
    assert!(matches!(refused(&path), Fault::NotABook { .. }));
}

#[test]
fn a_folder_and_nothing() {
    let folder = tempfile::tempdir().expect("a folder");
    assert!(matches!(
        Book::open(folder.path()),
        Err(Fault::NotABook { .. })
    ));
    let missing = folder.path().join("missing");
    assert!(matches!(Book::open(&missing), Err(Fault::Missing { .. })));
    assert!(!missing.exists());
}

#[test]
fn a_book_that_breaks_off_anywhere() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = book_in(folder.path());
    let bytes = fs::read(&path).expect("it is there");
    let pages = bytes.len() / 4096;
    let cuts =
        (1..pages)
            .map(|page| page * 4096)
            .chain([1, 15, 16, 99, 100, 4095, 4097, bytes.len() - 1]);
    for cut in cuts {
        fs::write(&path, &bytes[..cut]).expect("it can be written");
        let fault = refused(&path);
        assert!(
            matches!(fault, Fault::Damaged { .. } | Fault::NotABook { .. }),
            "{cut} of {} bytes: {fault}",
            bytes.len()
        );
        assert!(
            cut < 100 || matches!(fault, Fault::Damaged { .. }),
            "{cut} bytes: {fault}"
        );
    }
}

/// A page that was overwritten is found on opening wherever the store can see it; whatever is not seen is not touched.
#[test]
fn a_book_in_which_bytes_were_altered() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = book_in(folder.path());
    let bytes = fs::read(&path).expect("it is there");
    let mut found = 0;
    for at in (0..bytes.len()).step_by(977) {
        let mut altered = bytes.clone();
        let end = (at + 64).min(altered.len());
        altered[at..end].fill(0xA5);
        fs::write(&path, &altered).expect("it can be written");
        match Book::open(&path) {
            Ok(book) => {
                let _ = (book.verify(), book.whole_history(), book.documents());
            }
            Err(_) => found += 1,
        }
        assert_eq!(
            fs::read(&path).expect("it is there"),
            altered,
            "altered at {at}"
        );
    }
    assert!(found > 0, "some of them hit what holds the file together");
}

#[test]
fn a_newer_book() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = book_in(folder.path());
    let newer = Connection::open(&path).expect("it is there");
    newer
        .pragma_update(None, "user_version", 99)
        .expect("it can be written");
    drop(newer);
    assert!(matches!(refused(&path), Fault::Newer { found: 99, .. }));
}

#[test]
fn a_book_whose_form_was_meddled_with() {
    for meddle in [
        "DROP TRIGGER revision_kept",
        "CREATE TABLE more (id INTEGER)",
        "PRAGMA user_version = 0",
        "PRAGMA user_version = -3",
        "CREATE TRIGGER more AFTER INSERT ON revision BEGIN SELECT 1; END",
    ] {
        let folder = tempfile::tempdir().expect("a folder");
        let path = book_in(folder.path());
        let other = Connection::open(&path).expect("it is there");
        other.execute_batch(meddle).expect("it can be meddled with");
        drop(other);
        let fault = refused(&path);
        assert!(matches!(fault, Fault::Damaged { .. }), "{meddle}: {fault}");
    }
}

/// Whoever opens the file with another program cannot alter the past by plain statements either.
#[test]
fn the_file_itself_refuses_to_forget() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = book_in(folder.path());
    let other = Connection::open(&path).expect("it is there");
    for statement in [
        "UPDATE revision SET text = 'x' WHERE id = 1",
        "DELETE FROM revision WHERE id = 3",
        "DELETE FROM revision",
        "INSERT OR REPLACE INTO revision SELECT id, document, number, parent, act, again, time, reason, 'x' FROM revision WHERE id = 2",
        "REPLACE INTO revision SELECT 99, document, number, parent, act, again, time, reason, 'x' FROM revision WHERE id = 2",
        "INSERT INTO revision SELECT 99, document, 99, parent, act, again, time, reason, 'x' FROM revision WHERE id = 2",
        "INSERT INTO revision SELECT 0, document, 14, NULL, act, again, time, reason, 'x' FROM revision WHERE id = 2",
        "UPDATE document SET name = 'x'",
        "DELETE FROM document",
        "REPLACE INTO document VALUES (9, 'skirt.kdl', 'skirt.kdl', 'body')",
        "INSERT INTO link VALUES (3, 1)",
    ] {
        let fault = other.execute(statement, []).expect_err(statement);
        assert!(fault.to_string().contains(" are "), "{statement}: {fault}");
    }
    drop(other);
    let book = Book::open(&path).expect("it is as it was");
    assert_eq!(book.verify().expect("it can be read"), Vec::<String>::new());
    assert_eq!(book.whole_history().expect("it can be read").len(), 13);
}
