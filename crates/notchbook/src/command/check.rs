//! `check`: drafts a garment and says what is wrong with it.

use document::{Finding, Severity};
use pattern::json::{findings_value, text};
use serde_json::json;

use crate::arguments::CheckArguments;
use crate::draft::draft;
use crate::{Exit, Look, Said, mend};
use making::draft::Draft;
use making::papers::title;
use making::report::{found, number_of};

/// Name of the format of `--json`, with its version.
const FORMAT: &str = "notchbook-findings-1";

/// Runs the command.
pub(crate) fn run(arguments: &CheckArguments, look: Look) -> Said {
    if let Some(which) = &arguments.mend {
        return mend::run(&arguments.given, which, look);
    }
    match draft(&arguments.given) {
        Ok(draft) => {
            let exit = Exit::of(&draft.findings);
            let out = if arguments.json {
                as_json(Some(&draft.recipe.name), &draft.findings, exit)
            } else {
                summary(&draft, look)
            };
            Said::out(out, exit)
        }
        Err(findings) if arguments.json => {
            Said::out(as_json(None, &findings, Exit::Stopped), Exit::Stopped)
        }
        Err(findings) => Said::stopped(&findings, look),
    }
}

pub(crate) fn summary(draft: &Draft, look: Look) -> String {
    format!(
        "{}\n{}",
        title(draft),
        found(&draft.findings, look.colour_out)
    )
}

fn as_json(garment: Option<&str>, findings: &[Finding], exit: Exit) -> String {
    text(&json!({
        "format": FORMAT,
        "garment": garment,
        "drafted": exit != Exit::Stopped,
        "errors": number_of(findings, Severity::Error),
        "warnings": number_of(findings, Severity::Warning),
        "notes": number_of(findings, Severity::Note),
        "findings": findings_value(findings),
    }))
}
