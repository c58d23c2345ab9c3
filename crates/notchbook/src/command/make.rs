//! `make`: drafts a garment, writes its papers, and says in plain words what it made and what it found.

use std::path::{Path, PathBuf};

use garment::block::bodice::{Witness, Witnesses};
use pattern::Pattern;
use sheet::{Layout, PaperSize};

use crate::arguments::MakeArguments;
use crate::draft::draft;
use crate::progress::Progress;
use crate::{Exit, Look, Said, files};
use making::Listener as _;
use making::draft::Draft;
use making::papers::{self, Papers, pattern_file};
use making::report::found;
use making::words::{count, listed, table};

/// Runs the command.
pub(crate) fn run(arguments: &MakeArguments, look: Look) -> Said {
    let progress = Progress::new(look.progress);
    progress.step("Drafting");
    let made = draft(&arguments.given).and_then(|draft| {
        let papers = papers::papers(&draft, &arguments.paper, &progress)?;
        progress.step("Writing");
        let folder = folder(arguments);
        files::write_all(&folder, &papers.files).map_err(|fault| vec![fault])?;
        Ok((draft, papers, folder))
    });
    drop(progress);
    match made {
        Ok((draft, papers, folder)) => {
            let exit = Exit::of(&draft.findings);
            Said::out(summary(&draft, &papers, &folder, look), exit)
        }
        Err(findings) => Said::stopped(&findings, look),
    }
}

/// The folder for the papers: that asked for, or one in the current folder named after the garment's file.
fn folder(arguments: &MakeArguments) -> PathBuf {
    arguments.out.clone().unwrap_or_else(|| {
        let stem = arguments.given.garment.file_stem().unwrap_or_default();
        PathBuf::from(format!("{}-papers", stem.to_string_lossy()))
    })
}

fn summary(draft: &Draft, papers: &Papers, folder: &Path, look: Look) -> String {
    let pattern = &draft.garment.pattern;
    let parts = [
        format!("{}\n{}", papers::title(draft), pieces(pattern)),
        written(papers, folder),
        measures(draft),
        format!(
            "{}{}",
            errors(draft),
            found(&draft.findings, look.colour_out)
        ),
    ];
    parts.join("\n")
}

fn pieces(pattern: &Pattern) -> String {
    let names: Vec<String> = pattern
        .pieces
        .iter()
        .map(|one| one.title().to_lowercase())
        .collect();
    format!("{}: {}.\n", count(names.len(), "piece"), listed(&names))
}

fn written(papers: &Papers, folder: &Path) -> String {
    let about = |name: &str| match name {
        "pieces.svg" => "the pieces at full size, as a drawing".to_owned(),
        "pieces.png" => "a picture of the pieces".to_owned(),
        "layers.svg" => "what lies behind each piece, layer on layer".to_owned(),
        "layers.png" => "a picture of the layers".to_owned(),
        "lays.pdf" => "how the pieces lie on their cloths".to_owned(),
        "pattern.json" => "the pattern for other programs".to_owned(),
        "cutting-list.txt" => "what to cut".to_owned(),
        "things-to-buy.txt" => "what to buy".to_owned(),
        "findings.txt" => "what was found".to_owned(),
        name => papers
            .layouts
            .iter()
            .find(|layout| pattern_file(layout.paper.size) == name)
            .map_or_else(String::new, on_paper),
    };
    let rows: Vec<Vec<String>> = papers
        .files
        .iter()
        .map(|(name, _)| vec![name.clone(), about(name)])
        .collect();
    format!(
        "Written to {}:\n{}{}",
        folder.display(),
        table(&rows, &[]),
        left(papers, folder)
    )
}

/// Patterns on other papers and pictures of an earlier time, which are not of this draft.
fn left(papers: &Papers, folder: &Path) -> String {
    let others = PaperSize::ALL.map(pattern_file);
    let others: Vec<&str> = others
        .iter()
        .map(String::as_str)
        .chain(["layers.svg", "layers.png", "lays.pdf"])
        .filter(|name| papers.files.iter().all(|(written, _)| written != name))
        .collect();
    let there = files::already_there(folder, &others);
    if there.is_empty() {
        return String::new();
    }
    let names: Vec<String> = there.into_iter().map(str::to_owned).collect();
    format!(
        "Still there from an earlier time, and not of this draft: {}.\n",
        listed(&names)
    )
}

/// "23 sheets of A4 and a cover; joined 1.26 m wide and 1.85 m high".
fn on_paper(layout: &Layout) -> String {
    let paper = layout.paper.size.title();
    let sheets: Vec<_> = layout.pages.iter().filter_map(|page| page.shows).collect();
    let covers = layout.pages.len() - sheets.len();
    let metres = |mm: f64| format!("{:.2} m", mm / 1000.0);
    match layout.paper.size {
        PaperSize::Roll841 | PaperSize::Roll914 => {
            let length: f64 = layout.pages.iter().map(|page| page.height_mm).sum();
            format!(
                "{} of {paper} in {}",
                metres(length),
                count(layout.pages.len(), "length")
            )
        }
        PaperSize::A0 => format!("{} of {paper}", count(layout.pages.len(), "sheet")),
        _ => {
            let width = sheets.iter().map(|one| one.x1).fold(0.0, f64::max);
            let height = sheets.iter().map(|one| one.y1).fold(0.0, f64::max);
            format!(
                "{} of {paper} to join, {} wide and {} high, and {}",
                count(sheets.len(), "sheet"),
                metres(width),
                metres(height),
                count(covers, "page") + " before them"
            )
        }
    }
}

fn measures(draft: &Draft) -> String {
    let girths = girths(&draft.garment.pattern);
    let dart = draft
        .garment
        .witnesses
        .as_ref()
        .map_or_else(String::new, bust_dart);
    format!("{girths}{dart}")
}

/// The girths of the closed pattern, with the body's own and the ease.
fn girths(pattern: &Pattern) -> String {
    if pattern.girths.is_empty() {
        return String::new();
    }
    let heading = ["", "body", "ease", "closed pattern", ""]
        .map(str::to_owned)
        .to_vec();
    let row = |girth: &pattern::Girth| {
        let closed = pattern.girth(girth);
        let asked = if girth.at_least && closed > girth.body + girth.ease + 0.5 {
            format!("at least {:.0} asked for", girth.ease)
        } else {
            String::new()
        };
        vec![
            girth.level.clone(),
            format!("{:.0}", girth.body),
            format!("{:.0}", closed - girth.body),
            format!("{closed:.0}"),
            asked,
        ]
    };
    let rows: Vec<Vec<String>> = std::iter::once(heading)
        .chain(pattern.girths.iter().map(row))
        .collect();
    format!(
        "Round the body, mm:\n{}",
        table(&rows, &[false, true, true, true, false])
    )
}

/// "Bust dart: 20.9° ± 1.6°. The girths say 19.4° ± 2.1°, the lengths 23.1° ± 2.5°; they are 1.1 spreads apart."
fn bust_dart(heard: &Witnesses) -> String {
    let said = |one: &Witness| format!("{:.1}° ± {:.1}°", one.degrees, one.spread);
    format!(
        "Bust dart: {}. The girths say {}, the lengths {}; they are {:.1} spreads apart.\n",
        said(&heard.joined),
        said(&heard.girths),
        said(&heard.lengths),
        heard.apart
    )
}

fn errors(draft: &Draft) -> &'static str {
    match Exit::of(&draft.findings) {
        Exit::Clean => "",
        _ => "THE PATTERN HAS ERRORS. Do not cut before they are mended.\n",
    }
}
