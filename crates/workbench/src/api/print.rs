//! Papers: the same bytes as the command `make` writes, with a map of the sheets and a picture of each page.

use std::collections::BTreeMap;

use axum::extract::State;
use axum::http::header::{CONTENT_DISPOSITION, HeaderValue};
use axum::response::{IntoResponse as _, Response};
use book::RevisionId;
use geometry::Affine;
use making::papers::{Papers, papers};
use serde::{Deserialize, Serialize};
use sheet::{Layer, Layout, Page, PaperSize, Shape};

use super::AtBench;
use super::book::{PaperView, papers as sizes};
use super::garment::garment_document;
use crate::desk::{Desk, not_drafted};
use crate::http::answer::{Answer, Problem, bytes_of};
use crate::http::asked::Asked;
use crate::view::drawn::as_box;
use crate::view::garment::title;
use crate::view::path::letters;

/// The papers that were made last, and from what.
pub(crate) struct Printed {
    of: (String, RevisionId, Vec<RevisionId>, PaperSize),
    papers: Papers,
}

#[derive(Debug, Deserialize)]
pub(crate) struct Print {
    name: String,
    #[serde(default)]
    paper: Option<String>,
    #[serde(default)]
    page: Option<usize>,
    #[serde(default)]
    file: Option<String>,
}

impl Print {
    fn size(&self) -> Answer<PaperSize> {
        let name = self.paper.as_deref().filter(|name| !name.is_empty());
        let Some(name) = name else {
            return Ok(PaperSize::A4);
        };
        PaperSize::by_name(name).ok_or_else(|| {
            let names: Vec<String> = PaperSize::ALL.map(|size| size.name().to_owned()).to_vec();
            Problem::refused("paper-unknown", "There is no paper of this name.")
                .next(format!("Choose {}.", making::words::listed(&names)))
        })
    }
}

#[derive(Serialize)]
struct PrintView {
    name: String,
    title: String,
    revision: u32,
    paper: &'static str,
    papers: Vec<PaperView>,
    sheets: usize,
    words: String,
    map: MapView,
    files: Vec<FileView>,
}

#[derive(Serialize)]
struct MapView {
    r#box: [f64; 4],
    /// The cutting lines of the pieces on the joined sheet.
    outlines: Vec<String>,
    pages: Vec<PageView>,
}

#[derive(Serialize)]
struct PageView {
    number: usize,
    /// What stands on it: "cover", "B3".
    page: String,
    /// The part of the joined sheet that it shows; none on a cover.
    r#box: Option<[f64; 4]>,
    width: f64,
    height: f64,
    pieces: Vec<String>,
    words: String,
}

#[derive(Serialize)]
struct FileView {
    name: String,
    about: &'static str,
    bytes: usize,
}

/// `GET /api/print`
pub(crate) async fn print(State(bench): AtBench, Asked(print): Asked<Print>) -> Response {
    bench.answer(move |desk| look(desk, &print)).await
}

/// `GET /api/print/page`
pub(crate) async fn page(State(bench): AtBench, Asked(print): Asked<Print>) -> Response {
    let drawn = bench.at_desk(move |desk| {
        let size = print.size()?;
        let number = print.page.unwrap_or(1);
        let layout = layout(printed(desk, &print.name, size)?)?;
        let page = number
            .checked_sub(1)
            .and_then(|page| sheet::page_svg(layout, page));
        page.ok_or_else(|| Problem::missing("page-missing", "There is no page of this number."))
    });
    match drawn.await {
        Ok(svg) => bytes_of("image/svg+xml", svg.into_bytes()),
        Err(problem) => problem.into_response(),
    }
}

/// `GET /api/print/file`
pub(crate) async fn file(State(bench): AtBench, Asked(print): Asked<Print>) -> Response {
    let found = bench.at_desk(move |desk| {
        let size = print.size()?;
        let wanted = print.file.clone().unwrap_or_default();
        let papers = printed(desk, &print.name, size)?;
        let file = papers.files.iter().find(|(name, _)| *name == wanted);
        file.cloned()
            .ok_or_else(|| Problem::missing("paper-missing", "There is no paper of this name."))
    });
    match found.await {
        Ok((name, bytes)) => {
            let mut response = bytes_of(kind(&name), bytes);
            // Names of papers are plain letters, figures, points and strokes.
            if let Ok(value) = HeaderValue::from_str(&format!("attachment; filename=\"{name}\"")) {
                response.headers_mut().insert(CONTENT_DISPOSITION, value);
            }
            response
        }
        Err(problem) => problem.into_response(),
    }
}

fn kind(name: &str) -> &'static str {
    match name.rsplit('.').next().unwrap_or_default() {
        "pdf" => "application/pdf",
        "svg" => "image/svg+xml",
        "png" => "image/png",
        "json" => "application/json",
        _ => "text/plain; charset=utf-8",
    }
}

fn about(name: &str) -> &'static str {
    match name {
        "pieces.svg" => "all pieces at full size, for a program that draws",
        "pieces.png" => "a picture of all pieces",
        "layers.svg" | "layers.png" => "what lies behind each piece",
        "pattern.json" => "the pattern for programs",
        "cutting-list.txt" => "what to cut from which cloth",
        "things-to-buy.txt" => "cloth, tape, closings and thread",
        "findings.txt" => "what was found about the pattern",
        _ => "the pattern at full size, to be printed at 100 %",
    }
}

/// The papers of a garment's newest text, made once as long as nothing changes.
fn printed<'a>(desk: &'a mut Desk, name: &str, size: PaperSize) -> Answer<&'a Papers> {
    let document = garment_document(desk, name)?;
    let drafted = desk.drafted(&document)?;
    let of = (
        document.name.to_string(),
        document.newest,
        drafted.stands.links(),
        size,
    );
    if desk.papers.as_ref().is_none_or(|printed| printed.of != of) {
        let draft = drafted
            .draft
            .as_ref()
            .map_err(|findings| not_drafted(findings))?;
        let papers = papers(draft, &[size], &()).map_err(|findings| not_drafted(&findings))?;
        desk.papers = Some(Printed { of, papers });
    }
    match &desk.papers {
        Some(printed) => Ok(&printed.papers),
        None => Err(Problem::mistake()),
    }
}

fn layout(papers: &Papers) -> Answer<&Layout> {
    papers.layouts.first().ok_or_else(Problem::mistake)
}

fn look(desk: &mut Desk, print: &Print) -> Answer<PrintView> {
    let size = print.size()?;
    let document = garment_document(desk, &print.name)?;
    let drafted = desk.drafted(&document)?;
    let titles: BTreeMap<String, String> = match &drafted.draft {
        Ok(draft) => {
            let pieces = draft.garment.pattern.pieces.iter();
            pieces
                .map(|piece| (piece.name.clone(), piece.title()))
                .collect()
        }
        Err(_) => BTreeMap::new(),
    };
    let papers = printed(desk, &print.name, size)?;
    let layout = layout(papers)?;
    let pages: Vec<PageView> = layout
        .pages
        .iter()
        .zip(1..)
        .map(|(page, number)| page_view(page, number, &titles))
        .collect();
    let whole = layout
        .pages
        .iter()
        .filter_map(|page| page.shows)
        .reduce(|all, one| all.union(one))
        .unwrap_or_default();
    Ok(PrintView {
        name: document.name.to_string(),
        title: title(&drafted),
        revision: document.revisions,
        paper: size.name(),
        papers: sizes(),
        sheets: pages.len(),
        words: words(&pages, size),
        map: MapView {
            r#box: as_box(whole),
            outlines: outlines(layout),
            pages,
        },
        files: papers
            .files
            .iter()
            .map(|(name, bytes)| FileView {
                name: name.clone(),
                about: about(name),
                bytes: bytes.len(),
            })
            .collect(),
    })
}

/// The cutting line of each piece where it falls on the joined sheet.
fn outlines(layout: &Layout) -> Vec<String> {
    let mut seen: Vec<&str> = Vec::new();
    let mut outlines = Vec::new();
    for page in &layout.pages {
        let Some(shows) = page.shows else { continue };
        let onto_sheet = Affine::translate(shows.origin() - page.printed.origin());
        for group in &page.groups {
            let Some(id) = group.id.as_deref().filter(|id| !seen.contains(id)) else {
                continue;
            };
            seen.push(id);
            let lines = group
                .items
                .iter()
                .filter(|item| item.layer == Layer::CuttingLine);
            outlines.extend(lines.filter_map(|item| match &item.shape {
                Shape::Path { path, .. } => Some(letters(&(onto_sheet * path.clone()))),
                Shape::Text(_) => None,
            }));
        }
    }
    outlines
}

fn page_view(page: &Page, number: usize, titles: &BTreeMap<String, String>) -> PageView {
    let mut pieces: Vec<String> = Vec::new();
    for id in page.groups.iter().filter_map(|group| group.id.as_ref()) {
        let title = titles.get(id).unwrap_or(id);
        if !pieces.contains(title) {
            pieces.push(title.clone());
        }
    }
    let on_it = if pieces.is_empty() {
        String::new()
    } else {
        format!(", with {}", making::words::listed(&pieces))
    };
    PageView {
        number,
        page: page.label.clone(),
        r#box: page.shows.map(as_box),
        width: page.width_mm,
        height: page.height_mm,
        words: format!("Page {number}, {}{on_it}", page.label),
        pieces,
    }
}

fn words(pages: &[PageView], size: PaperSize) -> String {
    let sheets = pages.iter().filter(|page| page.r#box.is_some()).count();
    let others = pages.len() - sheets;
    format!(
        "{} on {}: {} of the pattern and {} to read. Print at 100 % and measure the test square before you cut.",
        making::words::sentence(&making::words::count(pages.len(), "page")),
        size.title(),
        sheets,
        others
    )
}
