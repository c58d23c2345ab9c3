//! What a revision costs on this disk, and what asking for the newest costs.

use book::{Book, Kind, Name, RevisionId};
use divan::Bencher;

fn main() {
    divan::main();
}

/// A book in the build folder, so on a disk and not in memory, with so many revisions of one garment of 3 kB.
fn filled(revisions: usize) -> (tempfile::TempDir, Book, Name, RevisionId) {
    let folder =
        tempfile::tempdir_in(env!("CARGO_TARGET_TMPDIR")).expect("the build folder can be written");
    let mut book = Book::open_or_begin(&folder.path().join("book.notchbook")).expect("it is new");
    let name = Name::new("dress.kdl").expect("it is safe");
    let text = "garment \"Dress\" {}\n".repeat(160);
    let on = book
        .change(|batch| {
            let mut on = batch.create(&name, Kind::Garment, &text, "begun", &[])?;
            for _ in 1..revisions {
                on = batch.add(&name, on, &text, "again", &[])?;
            }
            Ok::<_, book::Fault>(on)
        })
        .expect("it is the only writer");
    (folder, book, name, on)
}

/// How many revisions the book holds.
const REVISIONS: [usize; 2] = [10, 10_000];

#[divan::bench(args = REVISIONS)]
fn add(bencher: Bencher, revisions: usize) {
    let (_folder, mut book, name, mut on) = filled(revisions);
    let text = "garment \"Dress\" { }\n".repeat(160);
    bencher.bench_local(|| {
        on = book
            .add(&name, on, &text, "benched", &[])
            .expect("it is the only writer");
    });
}

#[divan::bench(args = REVISIONS)]
fn undo_and_redo(bencher: Bencher, revisions: usize) {
    let (_folder, mut book, name, _) = filled(revisions);
    bencher.bench_local(|| {
        book.undo(&name).expect("there is something");
        book.redo(&name).expect("there is something")
    });
}

#[divan::bench(args = REVISIONS)]
fn last(bencher: Bencher, revisions: usize) {
    let (_folder, book, ..) = filled(revisions);
    bencher.bench_local(|| book.last().expect("it can be read"));
}

#[divan::bench(args = REVISIONS)]
fn open(bencher: Bencher, revisions: usize) {
    let (_folder, book, ..) = filled(revisions);
    let path = book.path().to_owned();
    bencher.bench_local(|| Book::open(&path).expect("it is a book"));
}

#[divan::bench(args = REVISIONS)]
fn history(bencher: Bencher, revisions: usize) {
    let (_folder, book, name, _) = filled(revisions);
    bencher.bench_local(|| book.history(&name).expect("it can be read"));
}
