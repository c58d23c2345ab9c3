//! `check --mend`: cures that findings carry, shown with the lines that they change, or written into the garment's file.
//!
//! Nothing is written that was not asked for by its number, nothing silently, and nothing into a garment on which this one
//! stands. Invariant: before the file is replaced, whole, the garment has been drafted and checked with the cures in it.

use std::path::Path;
use std::sync::Arc;

use document::mend::apply;
use document::{Finding, Mend, Severity, Source};

use crate::arguments::{Given, Which};
use crate::command::check::summary;
use crate::draft::{draft, draft_text, texts};
use crate::{Exit, Look, Said, files};
use making::draft::{Draft, Texts};
use making::report::{number_of, report, tally};
use making::words::{WIDTH, count, file_name, listed, printable, wrapped};

/// Shows all cures or writes those that are chosen.
pub(crate) fn run(given: &Given, which: &[Which], look: Look) -> Said {
    let before = Before::of(given, look);
    let done = texts(&given.garment).and_then(|texts| {
        if which.is_empty() {
            return Ok(shown(given, &before, &texts));
        }
        let mends = chosen(&before.findings, which).map_err(|fault| vec![fault])?;
        written(given, &before, &texts, &mends, look)
    });
    // What keeps the files from being read is told by the draft, with its places.
    done.unwrap_or_else(|findings| match before.exit {
        Exit::Stopped if before.findings.iter().all(|one| one.mends.is_empty()) => {
            Said::stopped(&before.findings, look)
        }
        _ => Said::stopped(&findings, look),
    })
}

/// What was found before anything was mended: by the checks or, where it cannot be drafted, what stopped it.
struct Before {
    findings: Vec<Finding>,
    told: String,
    exit: Exit,
}

impl Before {
    fn of(given: &Given, look: Look) -> Self {
        match draft(given) {
            Ok(draft) => Self {
                told: summary(&draft, look),
                exit: Exit::of(&draft.findings),
                findings: draft.findings,
            },
            Err(findings) => Self {
                told: report(&findings, look.colour_out),
                exit: Exit::Stopped,
                findings,
            },
        }
    }
}

/// A cure, with its number and that of its finding.
struct Numbered<'a> {
    number: usize,
    finding: usize,
    mend: &'a Mend,
}

fn numbered(findings: &[Finding]) -> Vec<Numbered<'_>> {
    let all = findings
        .iter()
        .enumerate()
        .flat_map(|(finding, one)| one.mends.iter().map(move |mend| (finding, mend)));
    (1..)
        .zip(all)
        .map(|(number, (finding, mend))| Numbered {
            number,
            finding,
            mend,
        })
        .collect()
}

fn shown(given: &Given, before: &Before, (source, bases): &Texts) -> Said {
    let mends = numbered(&before.findings);
    let told = &before.told;
    if mends.is_empty() {
        let out = format!("{told}\nNo finding has a cure that can be written into the file.\n");
        return Said::out(out, before.exit);
    }
    let lines: Vec<String> = mends
        .iter()
        .map(|one| {
            let change = match apply(source, bases, &one.mend.changes) {
                Ok(text) => difference(&source.text, &text),
                Err(finding) => {
                    wrapped(&format!("    {} {}", finding.message, finding.cure), WIDTH) + "\n"
                }
            };
            format!("{}\n{change}", heading(one))
        })
        .collect();
    let out = format!(
        "{told}\n{} can be written into {}:\n\n{}\nNothing was written. To write cures, name their numbers: notchbook check {} --mend {}\n",
        capital(&count(mends.len(), "cure")),
        file_name(&source.name),
        lines.join("\n"),
        given.garment.display(),
        mends[0].number,
    );
    Said::out(out, before.exit)
}

fn heading(one: &Numbered<'_>) -> String {
    wrapped(
        &format!("{}. {}", one.number, printable(&one.mend.words)),
        WIDTH,
    )
}

/// The cures that are asked for, in the order of their numbers.
fn chosen<'a>(findings: &'a [Finding], which: &[Which]) -> Result<Vec<Numbered<'a>>, Finding> {
    let all = numbered(findings);
    let unknown = which.iter().find_map(|which| match which {
        Which::Number(number) if *number > all.len() => Some(*number),
        _ => None,
    });
    if let Some(number) = unknown {
        return Err(no_such_cure(number, all.len()));
    }
    let mut chosen: Vec<Numbered<'_>> = Vec::new();
    for one in all {
        let is_first = chosen.last().is_none_or(|last| last.finding != one.finding);
        let is_named = which.contains(&Which::Number(one.number));
        if is_named && !is_first {
            return Err(same_finding(&chosen[chosen.len() - 1], &one, findings));
        }
        let in_all = which.contains(&Which::All)
            && is_first
            && !names_another(which, &one, findings[one.finding].mends.len());
        if is_named || in_all {
            chosen.push(one);
        }
    }
    if chosen.is_empty() {
        return Err(no_such_cure(1, 0));
    }
    Ok(chosen)
}

/// Whether a later cure of the same finding is asked for by its number.
fn names_another(which: &[Which], first: &Numbered<'_>, mends: usize) -> bool {
    (1..mends).any(|more| which.contains(&Which::Number(first.number + more)))
}

fn written(
    given: &Given,
    before: &Before,
    (source, bases): &Texts,
    mends: &[Numbered<'_>],
    look: Look,
) -> Result<Said, Vec<Finding>> {
    let mut now = Arc::clone(source);
    let mut told = String::new();
    for one in mends {
        let text = apply(&now, bases, &one.mend.changes).map_err(|finding| vec![finding])?;
        for part in [&heading(one), "\n", &difference(&now.text, &text), "\n"] {
            told.push_str(part);
        }
        now = Source::new(source.name.clone(), text);
    }
    let after = draft_text(given, &now);
    let worse = worse(before, after.as_ref());
    if let Some(why) = &worse
        && !given.even_so
    {
        let findings = after.map_or_else(|findings| findings, |draft| draft.findings);
        let out = format!(
            "{told}NOTHING WAS WRITTEN: {why}. Choose other cures, or add --even-so to write these all the same.\n\n{}",
            report(&findings, look.colour_out)
        );
        return Ok(Said::out(out, Exit::Errors));
    }
    replace(&given.garment, &now).map_err(|fault| vec![fault])?;
    let name = file_name(&source.name);
    let said = match &after {
        Ok(draft) => {
            let found = [&before.findings, &draft.findings].map(|findings| tally(findings));
            format!(
                "{told}Written to {name}. Found before: {}; now: {}.\n\n{}",
                found[0],
                found[1],
                summary(draft, look)
            )
        }
        Err(findings) => format!(
            "{told}Written to {name}, which cannot be drafted now.\n\n{}",
            report(findings, look.colour_out)
        ),
    };
    let exit = after.map_or(Exit::Stopped, |draft| Exit::of(&draft.findings));
    Ok(Said::out(said, exit))
}

/// Why a garment would be worse than before, where it would.
fn worse(before: &Before, after: Result<&Draft, &Vec<Finding>>) -> Option<String> {
    let errors = |findings| number_of(findings, Severity::Error);
    match after {
        // What stopped the draft hides what comes behind it.
        Ok(_) if before.exit == Exit::Stopped => None,
        Err(findings)
            if before.exit == Exit::Stopped && errors(findings) <= errors(&before.findings) =>
        {
            None
        }
        Err(_) => Some("the garment could not be drafted any more".to_owned()),
        Ok(draft) if errors(&draft.findings) > errors(&before.findings) => Some(format!(
            "the garment would have {} instead of {}",
            count(errors(&draft.findings), "error"),
            errors(&before.findings)
        )),
        Ok(_) => None,
    }
}

/// Replaces the file, whole; a link stays a link to it.
fn replace(path: &Path, source: &Source) -> Result<(), Finding> {
    let place = path.canonicalize().unwrap_or_else(|_| path.to_owned());
    let folder = place.parent().unwrap_or(Path::new(""));
    let name = place.file_name().unwrap_or_default().to_string_lossy();
    files::write_all(
        folder,
        &[(name.into_owned(), source.text.as_bytes().to_vec())],
    )
}

/// The lines that differ between two texts, each with its number: those before with −, those after with +.
fn difference(before: &str, after: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let same = |pairs: &mut dyn Iterator<Item = (&&str, &&str)>| {
        pairs.take_while(|(one, other)| one == other).count()
    };
    let head = same(&mut old.iter().zip(&new));
    let tail = same(&mut old[head..].iter().rev().zip(new[head..].iter().rev()));
    let part = |sign: &str, lines: &[&str]| -> String {
        let stretch = &lines[head..lines.len() - tail];
        (head + 1..)
            .zip(stretch)
            .map(|(number, line)| format!("    {sign} {number:>3} | {}\n", printable(line)))
            .collect::<Vec<_>>()
            .concat()
    };
    part("-", &old) + &part("+", &new)
}

fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

fn no_such_cure(number: usize, count: usize) -> Finding {
    let finding = Finding::error("mend-unknown", format!("there is no cure {number}"));
    if count == 0 {
        return finding
            .allowed("no finding has a cure that can be written into the file")
            .cure("Mend what was found by hand.");
    }
    finding
        .allowed(format!("1 to {count}, or all"))
        .cure("Leave the numbers away to see all cures.")
}

fn same_finding(first: &Numbered<'_>, second: &Numbered<'_>, findings: &[Finding]) -> Finding {
    let both = [first.number.to_string(), second.number.to_string()];
    Finding::error(
        "mends-exclude-each-other",
        format!("{} are cures of the same finding", listed(&both)),
    )
    .allowed("one cure for each finding")
    .because(findings[first.finding].message.clone())
    .cure("choose one of them")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_that_differ_are_shown() {
        let shown = difference("a\nb\nc\nd\n", "a\nx\nc\nd\n");
        assert_eq!(shown, "    -   2 | b\n    +   2 | x\n");
        assert_eq!(difference("a\na\n", "a\na\na\n"), "    +   3 | a\n");
    }

    #[test]
    fn cures_of_one_finding_exclude_each_other() {
        let finding = || {
            Finding::warning("x", "x")
                .mend(Mend::remove("a", "one"))
                .mend(Mend::remove("b", "other"))
        };
        let findings = [finding(), finding()];
        let numbers = |which: &[Which]| {
            chosen(&findings, which)
                .map(|all| all.iter().map(|one| one.number).collect::<Vec<_>>())
                .map_err(|finding| finding.code)
        };
        assert_eq!(numbers(&[Which::All]), Ok(vec![1, 3]));
        assert_eq!(numbers(&[Which::All, Which::Number(2)]), Ok(vec![2, 3]));
        assert_eq!(
            numbers(&[Which::Number(4), Which::Number(1)]),
            Ok(vec![1, 4])
        );
        assert_eq!(
            numbers(&[Which::Number(1), Which::Number(2)]),
            Err("mends-exclude-each-other")
        );
        assert_eq!(numbers(&[Which::Number(5)]), Err("mend-unknown"));
        assert!(chosen(&[], &[Which::All]).is_err());
    }
}
