//! All pieces of all layers, how they lie on each other, what to cut and what to buy.

use axum::extract::State;
use axum::response::Response;
use document::Finding;
use pattern::{Materials, Pattern, Piece};
use serde::Serialize;
use sheet::List;

use super::garment::garment_document;
use super::{AtBench, Looked};
use crate::desk::Desk;
use crate::http::answer::Answer;
use crate::http::asked::Asked as Query;
use crate::view::drawing::{Asked, DrawingView, draw};
use crate::view::finding::{FindingView, Where, views};
use crate::view::garment::title;
use crate::view::over::{LAYERS, layer, over};
use crate::view::partners::{Partner, partners};
use crate::view::walk::{WalkView, walks};

#[derive(Serialize)]
struct PartsView {
    name: String,
    title: String,
    revision: u32,
    can_undo: Option<String>,
    can_redo: Option<String>,
    drawing: Option<DrawingView>,
    layers: Vec<LayerView>,
    over: Option<DrawingView>,
    cutting_list: Vec<ListView>,
    things_to_buy: Vec<ListView>,
    walks: Vec<WalkView>,
    partners: Vec<Partner>,
    findings: Vec<FindingView>,
}

#[derive(Serialize)]
struct LayerView {
    id: &'static str,
    title: &'static str,
    pieces: Vec<String>,
}

/// Lines under a heading.
#[derive(Serialize)]
struct ListView {
    title: String,
    lines: Vec<String>,
}

impl From<List> for ListView {
    fn from(list: List) -> Self {
        Self {
            title: list.title,
            lines: list.lines,
        }
    }
}

/// `GET /api/parts`
pub(crate) async fn parts(State(bench): AtBench, Query(looked): Query<Looked>) -> Response {
    bench.answer(move |desk| look(desk, &looked)).await
}

fn look(desk: &mut Desk, looked: &Looked) -> Answer<PartsView> {
    let document = garment_document(desk, &looked.name)?;
    let drafted = desk.drafted(&document)?;
    let [can_undo, can_redo] = desk.ways(&document)?;
    let pattern = drafted
        .draft
        .as_ref()
        .ok()
        .map(|draft| &draft.garment.pattern);
    let surface = &mut desk.remembered(&document.name).layers;
    let known = looked.hashes();
    let asked = Asked {
        units: looked.units,
        known: &known,
        anew: true,
    };
    let pieces: Vec<&Piece> =
        pattern.map_or_else(Vec::new, |pattern| pattern.pieces.iter().collect());
    let drawn = pattern.map(|pattern| draw(pattern, &pieces, surface, asked));
    let (drawing, mut findings): (Option<DrawingView>, Vec<Finding>) = match drawn {
        Some((drawing, findings)) => (Some(drawing), findings),
        None => (None, Vec::new()),
    };
    findings.extend(drafted.findings().iter().cloned());
    let table = &surface.table;
    let wherever = Where {
        pattern: pattern.map(|pattern| (pattern, table)),
        texts: Some((&drafted.source, &drafted.bases)),
    };
    let [cutting_list, things_to_buy] = pattern.map_or_else(Default::default, lists);
    Ok(PartsView {
        name: document.name.to_string(),
        title: title(&drafted),
        revision: document.revisions,
        can_undo,
        can_redo,
        drawing,
        layers: layers(&pieces),
        over: pattern.map(over),
        cutting_list,
        things_to_buy,
        walks: pattern.map_or_else(Vec::new, |pattern| walks(pattern, table, looked.units)),
        partners: pattern.map_or_else(Vec::new, partners),
        findings: views(&findings, wherever),
    })
}

fn layers(pieces: &[&Piece]) -> Vec<LayerView> {
    let of = |(id, title): (&'static str, &'static str)| LayerView {
        id,
        title,
        pieces: pieces
            .iter()
            .filter(|piece| layer(piece) == id)
            .map(|piece| piece.name.clone())
            .collect(),
    };
    let layers = LAYERS.into_iter().map(of);
    layers.filter(|layer| !layer.pieces.is_empty()).collect()
}

/// What to cut and what to buy, as the papers say it.
fn lists(pattern: &Pattern) -> [Vec<ListView>; 2] {
    let materials = Materials::of(pattern);
    let mut cut = drawing::cutting_list(pattern);
    cut.extend(making::cut_list::strips_and_tapes(&materials));
    let buy = vec![making::materials::list(&materials)];
    [cut, buy].map(|lists| lists.into_iter().map(ListView::from).collect())
}
