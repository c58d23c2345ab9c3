//! `lay`: lays the pieces of a garment on their cloths, says how much to buy, and draws it.

use std::path::{Path, PathBuf};
use std::time::Duration;

use cloth::lay::{Effort, Matching, Told, Way, Wishes};
use cloth::nest::Continue;
use document::{Finding, Severity};
use pattern::Layer;
use sheet::PaperSize;

use super::answers::{self, Choice};
use crate::arguments::LayArguments;
use crate::draft::draft;
use crate::progress::Progress;
use crate::{Exit, Look, Said, files};
use making::Listener as _;
use making::draft::Draft;
use making::lays::{self, Goods, Laid};
use making::papers::{title, unprinted};
use making::report::report;
use making::words::{WIDTH, wrapped};

/// Width of a picture, pixels.
const PICTURE_WIDTH: u32 = 2000;

/// Runs the command.
pub(crate) fn run(arguments: &LayArguments, look: Look) -> Said {
    let progress = Progress::new(look.progress);
    progress.step("Drafting");
    let made = draft(&arguments.given).and_then(|draft| {
        progress.step("Laying the pieces on the cloth");
        let laid = laid(arguments, &draft)?;
        progress.step("Trying what would save cloth, or make it fit");
        let beside = answers::beside(arguments, &draft, &laid, &wishes(arguments))?;
        progress.step("Drawing the lays");
        let mut files = papers(arguments, &draft, &laid)?;
        if let Some((_, json)) = &beside {
            let text = pattern::json::text(json);
            files.push(("answers.json".to_owned(), text.into_bytes()));
        }
        progress.step("Writing");
        let folder = folder(arguments);
        files::write_all(&folder, &files).map_err(|fault| vec![fault])?;
        let said = beside.map_or_else(String::new, |(words, _)| words);
        Ok((draft, laid, said, files, folder))
    });
    drop(progress);
    match made {
        Ok((draft, laid, said, files, folder)) => {
            let out = summary(&draft, &laid, &said, (&files, &folder), look);
            let is_whole = laid.iter().all(|one| !one.lays.is_empty());
            let exit = if is_whole { Exit::Clean } else { Exit::Errors };
            Said::out(out, exit)
        }
        Err(findings) => Said::stopped(&findings, look),
    }
}

fn folder(arguments: &LayArguments) -> PathBuf {
    arguments.out.clone().unwrap_or_else(|| {
        let stem = arguments.given.garment.file_stem().unwrap_or_default();
        PathBuf::from(format!("{}-lays", stem.to_string_lossy()))
    })
}

/// The lays of every cloth that is asked for; the time is shared among them.
fn laid(arguments: &LayArguments, draft: &Draft) -> Result<Vec<Laid>, Vec<Finding>> {
    let goods = goods(arguments, draft)?;
    let wishes = wishes(arguments);
    let effort = Effort {
        evaluations: arguments.evaluations,
        time: arguments
            .evaluations
            .is_none()
            .then(|| Duration::from_secs_f64(arguments.seconds / goods.len() as f64)),
        seed: arguments.seed,
    };
    let mut laid = Vec::new();
    let mut go_on = |_: Told<'_>| Continue::Yes;
    for one in goods {
        laid.push(lays::lay_out(
            draft,
            &one,
            &wishes,
            &effort,
            &[],
            &mut go_on,
        )?);
    }
    Ok(laid)
}

fn wishes(arguments: &LayArguments) -> Wishes {
    Wishes {
        ways: arguments.fold.clone(),
        grain_tolerance: arguments.grain,
        matching: matching(arguments),
        held: Vec::new(),
        whole: Vec::new(),
    }
}

fn matching(arguments: &LayArguments) -> Matching {
    Matching {
        sleeves: arguments.match_sleeves,
        level: arguments.match_at.clone(),
    }
}

/// The cloths, each with its layers.
fn goods(arguments: &LayArguments, draft: &Draft) -> Result<Vec<Goods>, Vec<Finding>> {
    let choice = Choice {
        cloth: arguments.cloth.as_ref(),
        layers: &arguments.layer,
        length: arguments.length,
        width: arguments.width,
    };
    answers::goods(&choice, draft)
}

fn papers(
    arguments: &LayArguments,
    draft: &Draft,
    laid: &[Laid],
) -> Result<Vec<(String, Vec<u8>)>, Vec<Finding>> {
    let fault = |fault| vec![unprinted(&fault)];
    let mut files = Vec::new();
    for one in laid {
        for shown in &one.lays {
            let panel = lays::drawn(draft, &one.goods, shown);
            let drawing = drawing::lay_drawing(panel, &making::papers::labels(draft));
            let name = format!(
                "lay-{}-{}",
                file_name(&one.goods.cloth.name),
                shown.lay.way.word()
            );
            let svg = sheet::svg(&drawing).map_err(fault)?;
            let png = sheet::png(&drawing, PICTURE_WIDTH).map_err(fault)?;
            files.push((format!("{name}.svg"), svg.into_bytes()));
            files.push((format!("{name}.png"), png));
        }
    }
    let pages = lays::pages(draft, laid, PaperSize::A4);
    if !pages.pages.is_empty() {
        files.push(("lays.pdf".to_owned(), sheet::pdf(&pages)));
    }
    let json = lays::json(
        &draft.garment.pattern,
        laid,
        &matching(arguments),
        arguments.seed,
    );
    let text = pattern::json::text(&json);
    files.push(("lays.json".to_owned(), text.into_bytes()));
    let words: Vec<String> = laid.iter().map(lays::text).collect();
    let words = format!("{}\nLays\n\n{}", title(draft), words.join("\n"));
    files.push(("lays.txt".to_owned(), words.into_bytes()));
    Ok(files)
}

/// A name of letters, figures and hyphens: `black-wool-crepe`.
fn file_name(name: &str) -> String {
    let letter = |letter: char| {
        if letter.is_alphanumeric() {
            letter.to_lowercase().next().unwrap_or('-')
        } else {
            '-'
        }
    };
    name.chars().map(letter).collect()
}

fn summary(
    draft: &Draft,
    laid: &[Laid],
    said: &str,
    (files, folder): (&[(String, Vec<u8>)], &Path),
    look: Look,
) -> String {
    let mut out = format!("{}\n\n", title(draft));
    for one in laid {
        out += &lays::text(one);
        out.push('\n');
    }
    let mut findings: Vec<Finding> = laid.iter().flat_map(|one| one.findings.clone()).collect();
    findings.sort_by_key(|one| std::cmp::Reverse(one.severity));
    if findings.iter().any(|one| one.severity != Severity::Note) || laid_in_part(laid) {
        out += &report(&findings, look.colour_out);
        out.push('\n');
    }
    if !said.is_empty() {
        out += said;
        out.push('\n');
    }
    let names: Vec<&str> = files.iter().map(|(name, _)| name.as_str()).collect();
    let written = format!("Written to {}:", folder.display());
    out + &wrapped(&format!("{written} {}.", names.join(", ")), WIDTH) + "\n"
}

/// Whether a cloth has no lay at all.
fn laid_in_part(laid: &[Laid]) -> bool {
    laid.iter().any(|one| one.lays.is_empty())
}

/// The layers by their words.
pub(crate) fn layer_by_word(word: &str) -> Option<Layer> {
    Layer::ALL.into_iter().find(|layer| layer.word() == word)
}

/// The ways by their words.
pub(crate) fn way_by_word(word: &str) -> Option<Way> {
    Way::ALL.into_iter().find(|way| way.word() == word)
}
