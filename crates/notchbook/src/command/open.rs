//! `open`: opens a book on a page in the browser and answers it until the program is stopped.
//!
//! Listens on this machine only. The address is printed as soon as requests are answered, since whoever opened it from
//! another program waits for that line.

use std::io::{Write as _, stdout};
use std::process::{Command, Stdio};

use document::Finding;
use workbench::{Fault, Options, Workbench};

use crate::arguments::OpenArguments;
use crate::{Exit, Look, Said};

/// Runs the command; comes back when the workbench is closed.
pub(crate) fn run(arguments: &OpenArguments, look: Look) -> Said {
    match open(arguments) {
        Ok(()) => Said::out("The workbench is closed.\n".to_owned(), Exit::Clean),
        Err(finding) => Said::stopped(&[finding], look),
    }
}

fn open(arguments: &OpenArguments) -> Result<(), Finding> {
    let named = arguments.book.clone();
    let book = named.or_else(book::default_place).ok_or_else(no_place)?;
    let options = Options {
        book,
        port: arguments.port,
    };
    let workbench = Workbench::open(&options).map_err(|fault| not_opened(&fault))?;
    let address = workbench.address();
    let said = format!(
        "The workbench is open at {address}\nOnly this machine can reach it. Press Ctrl+C here to close it; everything is stored as you go.\n"
    );
    // Whoever closed the pipe does not want to read it.
    let _ = stdout()
        .write_all(said.as_bytes())
        .and_then(|()| stdout().flush());
    if !arguments.no_browser {
        show(&address);
    }
    workbench.run().map_err(|fault| not_opened(&fault))
}

/// Asks the system to open the address in its browser; where it does not, the address stands on the terminal.
fn show(address: &str) {
    let mut command = if cfg!(target_os = "windows") {
        let mut command = Command::new("rundll32");
        command.args(["url.dll,FileProtocolHandler", address]);
        command
    } else if cfg!(target_os = "macos") {
        let mut command = Command::new("open");
        command.arg(address);
        command
    } else {
        let mut command = Command::new("xdg-open");
        command.arg(address);
        command
    };
    command
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null());
    if let Ok(mut shown) = command.spawn() {
        // It is waited for aside, so that nothing of it is left over while the workbench is open.
        std::thread::spawn(move || shown.wait());
    }
}

fn not_opened(fault: &Fault) -> Finding {
    let code = match fault {
        Fault::Book(_) => "book-not-opened",
        Fault::Port { .. } => "port-not-free",
        Fault::System { .. } => "workbench-not-started",
    };
    Finding::error(code, fault.to_string()).cure(fault.cure())
}

fn no_place() -> Finding {
    Finding::error(
        "book-place-unknown",
        "This system does not say where your own files belong.",
    )
    .allowed("the path of a book")
    .cure("Name the book: notchbook open --book FILE")
}
