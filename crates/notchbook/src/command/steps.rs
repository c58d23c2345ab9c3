//! `steps`: what each step of a garment changed, in words and in a picture.

use std::path::{Path, PathBuf};

use document::Finding;
use drawing::{Change, change};
use garment::Replay;

use crate::arguments::StepsArguments;
use crate::draft::draft;
use crate::progress::Progress;
use crate::{Exit, Look, Said, files};
use making::Listener as _;
use making::difference::{Look as Seen, difference};
use making::draft::Draft;
use making::papers::{title, unprinted};
use making::words::{WIDTH, count, printable, table, wrapped};

/// Width of a picture, pixels.
const PICTURE_WIDTH: u32 = 1200;

/// Runs the command.
pub(crate) fn run(arguments: &StepsArguments, look: Look) -> Said {
    let progress = Progress::new(look.progress);
    progress.step("Drafting");
    let made = draft(&arguments.given).and_then(|draft| {
        progress.step("Drawing the steps");
        let pictures = pictures(&draft)?;
        progress.step("Writing");
        let folder = folder(arguments);
        if !pictures.is_empty() {
            files::write_all(&folder, &pictures).map_err(|fault| vec![fault])?;
        }
        Ok((draft, pictures, folder))
    });
    drop(progress);
    match made {
        Ok((draft, pictures, folder)) => {
            let out = summary(&draft, &pictures, &folder);
            Said::out(out, Exit::of(&draft.findings))
        }
        Err(findings) => Said::stopped(&findings, look),
    }
}

fn folder(arguments: &StepsArguments) -> PathBuf {
    arguments.out.clone().unwrap_or_else(|| {
        let stem = arguments.given.garment.file_stem().unwrap_or_default();
        PathBuf::from(format!("{}-steps", stem.to_string_lossy()))
    })
}

fn summary(draft: &Draft, pictures: &[(String, Vec<u8>)], folder: &Path) -> String {
    let replays = &draft.garment.replays;
    let mut parts = vec![format!(
        "{}\n{}.\n",
        title(draft),
        count(replays.len(), "step")
    )];
    let told = replays.iter().enumerate();
    parts.extend(told.map(|(index, replay)| one(index, replay)));
    if replays.is_empty() {
        parts.push(
            wrapped(
                "The garment has no steps: add a block steps { … } to it.",
                WIDTH,
            ) + "\n",
        );
    } else if !pictures.is_empty() {
        let last = pictures.len() / 2;
        parts.push(format!(
            "Written to {}: {}, each as SVG and PNG.\n",
            folder.display(),
            count(last, "picture")
        ));
    }
    parts.join("\n")
}

/// A step in words: what it did, why, and what is different now.
fn one(index: usize, replay: &Replay) -> String {
    let heading = heading(index, replay);
    let why = replay.step.why.as_ref().map_or_else(String::new, |why| {
        wrapped(&format!("Why: {}", printable(why)), WIDTH) + "\n"
    });
    let Some(done) = &replay.done else {
        return format!("{heading} (left out)\n{why}");
    };
    let words = wrapped(&sentence(&printable(&done.words)), WIDTH);
    let changed = difference(&replay.before, &done.after, Seen::Step);
    let said: String = changed
        .said
        .iter()
        .map(|said| wrapped(&sentence(said), WIDTH) + "\n")
        .collect();
    let nothing = if changed.is_nothing() {
        "Nothing has another length, width or area.\n"
    } else {
        ""
    };
    let rows = table(&changed.rows, &[false, true, true, true]);
    format!("{heading}\n{words}\n{why}{said}{nothing}{rows}")
}

fn heading(index: usize, replay: &Replay) -> String {
    format!("Step {}: {}", index + 1, replay.step.kind.name)
}

fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    let first = letters.next().map(|first| first.to_uppercase().to_string());
    let text = first.unwrap_or_default() + letters.as_str();
    if text.ends_with('.') {
        text
    } else {
        text + "."
    }
}

/// Two files a step: `step-03-transfer.svg` and `.png`.
fn pictures(draft: &Draft) -> Result<Vec<(String, Vec<u8>)>, Vec<Finding>> {
    let mut pictures = Vec::new();
    for (index, replay) in draft.garment.replays.iter().enumerate() {
        let Some(done) = &replay.done else { continue };
        let drawn = change(&Change {
            before: &replay.before,
            after: &done.after,
            lines: &done.lines,
            title: &heading(index, replay),
            words: &sentence(&done.words),
        });
        let name = format!("step-{:02}-{}", index + 1, replay.step.kind.name);
        pictures.extend(both(&name, &drawn)?);
    }
    Ok(pictures)
}

/// A drawing as SVG and as PNG.
pub(crate) fn both(
    name: &str,
    drawn: &sheet::Drawing,
) -> Result<[(String, Vec<u8>); 2], Vec<Finding>> {
    let svg = sheet::svg(drawn).map_err(|fault| vec![unprinted(&fault)])?;
    let png = sheet::png(drawn, PICTURE_WIDTH).map_err(|fault| vec![unprinted(&fault)])?;
    Ok([
        (format!("{name}.svg"), svg.into_bytes()),
        (format!("{name}.png"), png),
    ])
}
