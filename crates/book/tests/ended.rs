//! A program that is ended at any instruction loses at most the change in flight.
#![cfg(unix)]

mod common;

use std::io::{BufRead as _, BufReader, Read as _};
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

/// So often it is ended.
const ROUNDS: u64 = 24;
/// So many revisions it writes in all rounds, at least.
const ENOUGH: i64 = 1000;

/// Steps of Knuth's linear congruential generator (*The Art of Computer Programming* 2, 3.3.4, table 1, line 26).
fn chance(seed: u64) -> impl FnMut(u64) -> u64 {
    let mut state = seed;
    move |below| {
        state = state
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        (state >> 33) % below
    }
}

#[test]
fn what_was_said_to_be_written_is_there_after_a_sudden_end() {
    let folder = tempfile::tempdir().expect("a folder");
    let path = folder.path().join("book.notchbook");
    let writer = common::writer();
    let mut last = 0;
    for round in 0..ROUNDS {
        let said = ended_at_random(&writer, &path, round);
        if path.metadata().is_ok_and(|there| there.len() > 0) {
            last = common::assert_kept(&path, said.max(last));
        } else {
            assert_eq!(said, 0, "nothing was said before the book was there");
        }
    }
    // What is left to write, undisturbed.
    let left = (ENOUGH - last).max(0).to_string();
    let output = Command::new(&writer)
        .arg(&path)
        .arg(left)
        .output()
        .expect("it runs");
    assert!(
        output.status.success(),
        "{}",
        String::from_utf8_lossy(&output.stderr)
    );
    let said = common::numbers(&String::from_utf8(output.stdout).expect("numbers"));
    common::assert_kept(&path, said.last().copied().unwrap_or(last));
}

/// Runs the writer, ends it at a moment that the round's number decides, and returns the last number that it said.
fn ended_at_random(writer: &Path, path: &Path, round: u64) -> i64 {
    let mut chance = chance(round + 1);
    let mut child = Command::new(writer)
        .arg(path)
        .arg("1000")
        .stdout(Stdio::piped())
        .spawn()
        .expect("it runs");
    let mut lines = BufReader::new(child.stdout.take().expect("it is piped"));
    let mut said = String::new();
    // The first rounds end it before it has said anything, while the book is begun.
    let wanted = if round < 6 { 0 } else { 1 + chance(60) };
    for _ in 0..wanted {
        lines.read_line(&mut said).expect("lines can be read");
    }
    // Any instruction of the next change; turning round is finer than sleeping.
    let (begun, pause) = (Instant::now(), Duration::from_micros(chance(6000)));
    while begun.elapsed() < pause {
        std::hint::spin_loop();
    }
    child.kill().expect("it can be ended");
    child.wait().expect("it has ended");
    lines
        .read_to_string(&mut said)
        .expect("what it said can be read");
    common::numbers(&said).last().copied().unwrap_or(0)
}
