//! The papers of a draft, made in memory before the first is written.
//!
//! Knows no folder. Invariant: the same draft gives the same bytes, wherever its files lie.

use document::Finding;
use drawing::Labels;
use pattern::Materials;
use pattern::json::{About, BustDart, Spread};
use sheet::{Drawing, Layout, Paper, PaperSize};

use crate::Listener;
use crate::cut_list;
use crate::draft::Draft;
use crate::lays::{self, Laid};
use crate::materials;
use crate::report::{found, with_file_names};
use crate::words::printable;

/// Name of the pages that show how the pieces lie on their cloths.
pub const LAYS: &str = "lays.pdf";
/// Width of the preview, pixels.
const PREVIEW_WIDTH: u32 = 1600;

/// The papers, and what a person wants to know of them.
pub struct Papers {
    /// Names and bytes, in the order in which they are named.
    pub files: Vec<(String, Vec<u8>)>,
    /// What the pattern is printed on.
    pub layouts: Vec<Layout>,
}

/// Name of the pattern on a paper.
pub fn pattern_file(paper: PaperSize) -> String {
    format!("pattern-{}.pdf", paper.name())
}

/// Makes all papers.
pub fn papers(
    draft: &Draft,
    sizes: &[PaperSize],
    progress: &dyn Listener,
) -> Result<Papers, Vec<Finding>> {
    let labels = labels(draft);
    let pattern = &draft.garment.pattern;
    progress.step("Drawing the pieces");
    let mut drawing = drawing::drawing(pattern, &labels)?;
    let materials = Materials::of(pattern);
    drawing.lists.extend(cut_list::strips_and_tapes(&materials));
    progress.step("Laying the pieces on the cloth");
    let laid = lays::quick(draft);
    drawing.lists.push(materials::list_laid(&materials, &laid));
    let overview = drawing::overview(pattern, &labels)?;
    let mut layouts: Vec<Layout> = Vec::new();
    let mut files = Vec::new();
    for size in sizes {
        if layouts.iter().any(|one| one.paper.size == *size) {
            continue;
        }
        progress.step("Laying the pieces out on paper");
        let layout = lay_out(&drawing, *size)?;
        files.push((pattern_file(*size), sheet::pdf(&layout)));
        layouts.push(layout);
    }
    progress.step("Drawing the pictures");
    let svg = sheet::svg(&drawing).map_err(|fault| vec![unprinted(&fault)])?;
    let png = sheet::png(&overview, PREVIEW_WIDTH).map_err(|fault| vec![unprinted(&fault)])?;
    files.push(("pieces.svg".to_owned(), svg.into_bytes()));
    files.push(("pieces.png".to_owned(), png));
    if let Some(layers) = drawing::layers(pattern, &labels) {
        let svg = sheet::svg(&layers).map_err(|fault| vec![unprinted(&fault)])?;
        let png = sheet::png(&layers, PREVIEW_WIDTH).map_err(|fault| vec![unprinted(&fault)])?;
        files.push(("layers.svg".to_owned(), svg.into_bytes()));
        files.push(("layers.png".to_owned(), png));
    }
    let pages = lays::pages(draft, &laid, of_lays(sizes));
    if !pages.pages.is_empty() {
        files.push((LAYS.to_owned(), sheet::pdf(&pages)));
    }
    files.extend(texts(draft, &materials, &laid));
    Ok(Papers { files, layouts })
}

/// On what lays are printed: as the pattern where a home printer takes that, else A4.
fn of_lays(sizes: &[PaperSize]) -> PaperSize {
    let small = [
        PaperSize::A4,
        PaperSize::Letter,
        PaperSize::A3,
        PaperSize::Legal,
    ];
    let first = sizes.iter().find(|size| small.contains(size));
    first.copied().unwrap_or(PaperSize::A4)
}

/// The files that are text: for programs, for the cutting table, and what was found.
fn texts(draft: &Draft, materials: &Materials, laid: &[Laid]) -> [(String, Vec<u8>); 4] {
    let title = title(draft);
    let findings = with_file_names(&draft.findings);
    let json = pattern::json::pattern_json(&draft.garment.pattern, &findings, &about(draft));
    let cut_list = cut_list::text(&draft.garment.pattern, materials, &title);
    let to_buy = materials::text(materials, laid, &title);
    let found = format!("{title}\n{}", found(&findings, false));
    [
        ("pattern.json".to_owned(), json.into_bytes()),
        ("cutting-list.txt".to_owned(), cut_list.into_bytes()),
        ("things-to-buy.txt".to_owned(), to_buy.into_bytes()),
        ("findings.txt".to_owned(), found.into_bytes()),
    ]
}

/// "Concert dress, version 1, for Marit (2026-11-24)".
pub fn title(draft: &Draft) -> String {
    let recipe = &draft.recipe;
    let body = match draft.body.name.as_str() {
        "" => String::new(),
        name => format!(", for {name}"),
    };
    let date = match &recipe.date {
        Some(date) => format!(" ({date})"),
        None => String::new(),
    };
    printable(&format!(
        "{}, version {}{body}{date}",
        recipe.name, recipe.version
    ))
}

/// What is written on every piece.
pub fn labels(draft: &Draft) -> Labels {
    Labels {
        garment: draft.recipe.name.clone(),
        version: format!("version {}", draft.recipe.version),
        body: if draft.body.name.is_empty() {
            String::new()
        } else {
            format!("for {}", draft.body.name)
        },
        date: draft.recipe.date.clone(),
    }
}

fn about(draft: &Draft) -> About {
    let recipe = &draft.recipe;
    let bust_dart = draft.garment.witnesses.as_ref().map(|heard| {
        let [girths, lengths, joined] =
            [heard.girths, heard.lengths, heard.joined].map(|one| Spread {
                degrees: one.degrees,
                spread: one.spread,
            });
        BustDart {
            girths,
            lengths,
            joined,
            apart: heard.apart,
        }
    });
    About {
        garment: recipe.name.clone(),
        version: recipe.version.clone(),
        date: recipe.date.clone(),
        body: draft.body.name.clone(),
        bust_dart,
    }
}

fn lay_out(drawing: &Drawing, size: PaperSize) -> Result<Layout, Vec<Finding>> {
    sheet::lay_out(drawing, &Paper::new(size)).map_err(|fault| vec![unprinted(&fault)])
}

/// Why a drawing cannot be written.
pub fn unprinted(fault: &sheet::Fault) -> Finding {
    Finding::error(
        "not-printable",
        format!("The pattern cannot be put on paper: {fault}."),
    )
    .because("Nothing was written.")
}
