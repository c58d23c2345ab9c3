//! What the program does: read files, draft, check, write papers, say it in plain words.
//!
//! Nothing here prints or exits: a command returns what is to be said and with which code to leave. Invariant: whatever
//! the files hold, a command ends with words for a person; files are replaced whole or not at all.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod arguments;
mod command;

mod draft;
mod files;

mod mend;

mod progress;

pub use arguments::{
    Arguments, BodyArguments, BookArguments, BookCommand, CheckArguments, Command,
    CompareArguments, CopyArguments, DifferenceArguments, ExportArguments, Given, GoBackArguments,
    HistoryArguments, ImportArguments, LayArguments, MakeArguments, MostArguments, NestArguments,
    NewArguments, OneDocument, OpenArguments, ShowArguments, StepsArguments, Which,
};

use document::{Finding, Severity};

/// How things are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Look {
    /// Whether what is said on the standard output may have colours.
    pub colour_out: bool,
    /// Whether what is said on the error output may have colours.
    pub colour_err: bool,
    /// Whether anything over a second says what it is doing, on the error output.
    pub progress: bool,
}

/// With which code a command leaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Exit {
    /// All is well, but for notes and warnings.
    Clean,
    /// The pattern was drafted and has errors.
    Errors,
    /// What was given could not be read, drafted or written.
    Stopped,
}

impl Exit {
    /// The code: 0, 1 or 2.
    pub const fn code(self) -> u8 {
        match self {
            Self::Clean => 0,
            Self::Errors => 1,
            Self::Stopped => 2,
        }
    }

    fn of(findings: &[Finding]) -> Self {
        if findings.iter().any(|one| one.severity == Severity::Error) {
            Self::Errors
        } else {
            Self::Clean
        }
    }
}

/// What a command has to say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Said {
    /// For the standard output.
    pub out: String,
    /// For the error output.
    pub err: String,
    /// With which code to leave.
    pub exit: Exit,
}

impl Said {
    fn out(out: String, exit: Exit) -> Self {
        Self {
            out,
            err: String::new(),
            exit,
        }
    }

    /// Why nothing was done.
    fn stopped(findings: &[Finding], look: Look) -> Self {
        Self {
            out: String::new(),
            err: making::report::report(findings, look.colour_err),
            exit: Exit::Stopped,
        }
    }
}

/// Does what the arguments ask for.
pub fn run(arguments: &Arguments, look: Look) -> Said {
    match &arguments.command {
        Command::Make(arguments) => command::make::run(arguments, look),
        Command::Check(arguments) => command::check::run(arguments, look),
        Command::Steps(arguments) => command::steps::run(arguments, look),
        Command::Compare(arguments) => command::compare::run(arguments, look),
        Command::Body(arguments) => command::body::run(arguments, look),
        Command::New(arguments) => command::new::run(arguments, look),
        Command::Open(arguments) => command::open::run(arguments, look),
        Command::Nest(arguments) => command::nest::run(arguments, look),
        Command::Lay(arguments) => command::lay::run(arguments, look),
        Command::Most(arguments) => command::most::run(arguments, look),
        Command::Book(arguments) => command::book::run(arguments, look),
    }
}
