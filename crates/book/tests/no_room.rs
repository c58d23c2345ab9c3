//! Where the system lets a file grow no further, or lets nothing be written, the book says so and keeps all it had.
#![cfg(unix)]

mod common;

use std::fs;
use std::os::unix::fs::{MetadataExt as _, PermissionsExt as _};
use std::os::unix::process::CommandExt as _;
use std::path::Path;
use std::process::{Command, Output};

/// The writer under a limit of so many kilobytes a file, with the signal for it ignored: POSIX `setrlimit`, `RLIMIT_FSIZE`.
fn written_within(kilobytes: u32, path: &Path, count: u32) -> Output {
    let blocks = kilobytes * 2;
    Command::new("sh")
        .arg("-c")
        .arg(format!(
            r#"trap '' XFSZ; ulimit -f {blocks}; exec "$0" "$1" {count}"#
        ))
        .arg(common::writer())
        .arg(path)
        .output()
        .expect("every POSIX system has sh")
}

#[test]
fn a_file_that_may_not_grow_keeps_what_it_has() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    for kilobytes in [60, 61, 90, 123, 200] {
        let output = written_within(kilobytes, &path, 400);
        let words = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(1), "{kilobytes} kB: {words}");
        assert!(words.starts_with("disk-full: "), "{kilobytes} kB: {words}");
        let said = common::numbers(&String::from_utf8(output.stdout).expect("numbers"));
        let before = book::Book::open(&path)
            .expect("it is sound")
            .last()
            .expect("it can be read");
        common::assert_kept(
            &path,
            said.last()
                .copied()
                .unwrap_or(before.map_or(0, book::RevisionId::number)),
        );
    }
}

#[test]
fn a_book_that_cannot_even_be_begun_leaves_nothing_half_done() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    let output = written_within(8, &path, 1);
    assert!(String::from_utf8_lossy(&output.stderr).starts_with("disk-full: "));
    let output = Command::new(common::writer())
        .arg(&path)
        .arg("1")
        .output()
        .expect("it runs");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
}

#[test]
fn a_folder_that_can_only_be_read_is_told() {
    let folder = tempfile::tempdir().expect("a folder");
    let place = folder.path().join("shelf");
    fs::create_dir(&place).expect("it is new");
    let path = place.join("book.notchbook");
    let writer = folder.path().join("writer");
    fs::copy(common::writer(), &writer).expect("it can be copied");
    assert!(
        Command::new(&writer)
            .arg(&path)
            .arg("2")
            .output()
            .expect("it runs")
            .status
            .success()
    );
    let bytes = fs::read(&path).expect("it is there");
    let mode = |path: &Path, mode| {
        fs::set_permissions(path, fs::Permissions::from_mode(mode)).expect("it is ours");
    };
    mode(folder.path(), 0o755);
    mode(&place, 0o555);
    let mut command = Command::new(&writer);
    // Whoever may do everything writes everywhere: somebody else is asked.
    if fs::metadata(&path).expect("it is there").uid() == 0 {
        command.uid(65_534).gid(65_534);
    }
    for (file_mode, code) in [(0o666, "book-"), (0o444, "book-read-only: ")] {
        mode(&path, file_mode);
        let output = command.arg(&path).arg("1").output().expect("it runs");
        let words = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(1), "{words}");
        assert!(words.starts_with(code), "{words}");
        assert_eq!(fs::read(&path).expect("it is there"), bytes);
    }
    mode(&place, 0o755);
}
