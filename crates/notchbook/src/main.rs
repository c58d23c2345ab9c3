//! The program: arguments in, words and an exit code out. Only this file prints.
#![allow(clippy::print_stderr, reason = "only the program prints")]

use std::io::{IsTerminal, Write, stderr, stdout};
use std::process::ExitCode;

use clap::Parser as _;
use notchbook::{Arguments, Look};

fn main() -> ExitCode {
    std::panic::set_hook(Box::new(|mistake| {
        eprintln!(
            "notchbook has made a mistake of its own, and has stopped; the files that were there before are unchanged.\n\
             Please report it, with the files you gave it: {mistake}"
        );
    }));
    let arguments = Arguments::parse();
    let said = notchbook::run(&arguments, look());
    // Whoever closed the pipe has read enough.
    let _ = stdout().lock().write_all(said.out.as_bytes());
    let _ = stderr().lock().write_all(said.err.as_bytes());
    ExitCode::from(said.exit.code())
}

/// Colours only where a terminal shows them and nobody asked for none (<https://no-color.org>).
fn look() -> Look {
    let is_set = |name| std::env::var_os(name).is_some_and(|value| !value.is_empty());
    let plain = is_set("NO_COLOR") || std::env::var_os("TERM").is_some_and(|term| term == "dumb");
    Look {
        colour_out: stdout().is_terminal() && !plain,
        colour_err: stderr().is_terminal() && !plain,
        progress: stderr().is_terminal(),
    }
}
