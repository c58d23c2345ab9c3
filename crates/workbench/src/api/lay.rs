//! Lays: which cloth each layer is cut from, searches for short ones, and copies that a person holds in their place.

use std::sync::Arc;
use std::time::Duration;

use axum::extract::State;
use axum::response::{IntoResponse as _, Response};
use cloth::lay::{Effort, Held, Lay, Told, Way, Wishes};
use cloth::nest::Continue;
use document::Finding;
use geometry::Point;
use making::draft::Draft;
use making::lays::{Goods, Shown, goods, lay_out};
use serde::{Deserialize, Serialize};
use serde_json::Value;
use serde_json::value::RawValue;

use super::garment::garment_document;
use super::{AtBench, InUnits, Looked};
use crate::desk::{Desk, Drafted, not_drafted};
use crate::http::answer::{Answer, Problem};
use crate::http::asked::{Asked, Sent};
use crate::jobs::{Job, Said};
use crate::view::finding::plain_findings;
use crate::view::garment::title;
use crate::view::lay::{LayView, offsets, view};
use crate::view::units::Units;

/// Seconds that a search may take.
const SECONDS: std::ops::RangeInclusive<f64> = 0.1..=600.0;
/// How long an answer may wait for news.
const PATIENCE: Duration = Duration::from_secs(1);

#[derive(Serialize)]
struct LayersView {
    name: String,
    title: String,
    revision: u32,
    layers: Vec<GoodsView>,
    ways: Vec<WayView>,
    /// Whether it can be asked what would save cloth.
    answers: bool,
    findings: Value,
}

/// A cloth and what is cut from it.
#[derive(Serialize)]
struct GoodsView {
    layer: &'static str,
    title: String,
    cloth: ClothView,
    pieces: Vec<String>,
    lays: Vec<Box<RawValue>>,
}

#[derive(Serialize)]
struct ClothView {
    name: String,
    title: String,
    width_shown: String,
    length_shown: Option<String>,
    words: String,
}

#[derive(Serialize)]
struct WayView {
    id: &'static str,
    title: String,
}

/// Lays that were found, to go on from and to hold copies of.
pub(crate) struct Kept {
    layer: &'static str,
    revision: book::RevisionId,
    lays: Vec<Shown>,
}

/// `GET /api/lay`
pub(crate) async fn lay(State(bench): AtBench, Asked(looked): Asked<Looked>) -> Response {
    bench.answer(move |desk| look(desk, &looked)).await
}

fn look(desk: &mut Desk, looked: &Looked) -> Answer<LayersView> {
    let drafted = drafted(desk, &looked.name)?;
    let draft = draft_of(&drafted)?;
    let layers = goods(draft)
        .into_iter()
        .map(|one| goods_view(desk, &drafted, &one, looked.units))
        .collect::<Answer<Vec<_>>>()?;
    Ok(LayersView {
        name: drafted.document.name.to_string(),
        title: title(&drafted),
        revision: drafted.document.revisions,
        layers,
        ways: Way::ALL
            .iter()
            .map(|way| WayView {
                id: way.word(),
                title: making::words::sentence(way.title()),
            })
            .collect(),
        answers: true,
        findings: plain_findings(drafted.findings()),
    })
}

fn goods_view(
    desk: &mut Desk,
    drafted: &Drafted,
    goods: &Goods,
    units: Units,
) -> Answer<GoodsView> {
    let draft = draft_of(drafted)?;
    let layer = layer_of(goods);
    let kept = desk.remembered(&drafted.document.name).lays.iter();
    let kept = kept.filter(|kept| kept.layer == layer && kept.revision == drafted.document.newest);
    let lays: Vec<Box<RawValue>> = kept
        .flat_map(|kept| &kept.lays)
        .filter_map(|shown| {
            serde_json::value::to_raw_value(&view(draft, goods, shown, &[], units)).ok()
        })
        .collect();
    let pieces = draft.garment.pattern.pieces.iter();
    let words: Vec<String> = goods
        .layers
        .iter()
        .map(|layer| layer.word().to_owned())
        .collect();
    let cloth = &goods.cloth;
    let length_shown = cloth.length.map(making::lays::metres);
    Ok(GoodsView {
        layer,
        title: making::words::sentence(&making::words::listed(&words)),
        cloth: ClothView {
            name: cloth.name.clone(),
            title: making::words::sentence(&cloth.name),
            width_shown: width(cloth.width, units),
            words: match &length_shown {
                Some(length) => format!("{} wide, {length} at hand", width(cloth.width, units)),
                None => format!("{} wide", width(cloth.width, units)),
            },
            length_shown,
        },
        pieces: pieces
            .filter(|piece| goods.layers.contains(&piece.cut.layer))
            .map(pattern::Piece::title)
            .collect(),
        lays,
    })
}

fn width(mm: f64, units: Units) -> String {
    match units {
        Units::Metric => format!("{:.0} cm", mm / 10.0),
        Units::Inch => units.length(mm),
    }
}

/// How the cloth of several layers is called: by the first of them.
fn layer_of(goods: &Goods) -> &'static str {
    goods.layers.first().map_or("shell", |layer| layer.word())
}

pub(crate) fn drafted(desk: &mut Desk, name: &str) -> Answer<Arc<Drafted>> {
    let document = garment_document(desk, name)?;
    desk.drafted(&document)
}

pub(crate) fn draft_of(drafted: &Drafted) -> Answer<&Draft> {
    drafted
        .draft
        .as_ref()
        .map_err(|findings| not_drafted(findings))
}

#[derive(Debug, Deserialize)]
pub(crate) struct Start {
    name: String,
    #[serde(default)]
    layer: Option<String>,
    #[serde(default)]
    way: Option<String>,
    #[serde(default = "usual_seconds")]
    seconds: f64,
    #[serde(default = "usual_seed")]
    seed: u64,
    #[serde(default)]
    held: Vec<HeldAt>,
}

const fn usual_seconds() -> f64 {
    5.0
}

const fn usual_seed() -> u64 {
    1
}

/// A copy that stays where it was put on the drawing.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct HeldAt {
    piece: String,
    copy: usize,
    x: f64,
    y: f64,
}

#[derive(Serialize)]
pub(crate) struct Started {
    pub(crate) job: u64,
}

/// `POST /api/lay/start`
pub(crate) async fn start(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(start): Sent<Start>,
) -> Response {
    let at_work = Arc::clone(&bench);
    bench
        .answer(move |desk| {
            let search = search(desk, &start, units)?;
            let job = at_work.clone().jobs.start(move |job| {
                let found = run(&search, job)?;
                at_work.with_desk(|desk| keep(desk, &search, found));
                Ok(())
            })?;
            Ok(Started { job })
        })
        .await
}

/// A search that is to be made.
struct Search {
    drafted: Arc<Drafted>,
    goods: Goods,
    wishes: Wishes,
    effort: Effort,
    from: Vec<Lay>,
    held: Vec<(String, usize)>,
    units: Units,
}

fn search(desk: &mut Desk, start: &Start, units: Units) -> Answer<Search> {
    if !SECONDS.contains(&start.seconds) || start.held.len() > 200 {
        return Err(Problem::refused(
            "search-out-of-bounds",
            "A search takes from a tenth of a second to ten minutes.",
        ));
    }
    let drafted = drafted(desk, &start.name)?;
    let goods = goods_of(&drafted, start.layer.as_deref())?;
    let ways = ways(start.way.as_deref())?;
    let layer = layer_of(&goods);
    let kept = desk.remembered(&drafted.document.name).lays.iter();
    let kept: Vec<&Lay> = kept
        .filter(|kept| kept.layer == layer)
        .flat_map(|kept| kept.lays.iter().map(|shown| &shown.lay))
        .collect();
    Ok(Search {
        wishes: Wishes {
            held: held(&start.held, &kept, &ways),
            ways,
            ..Wishes::default()
        },
        effort: Effort {
            evaluations: None,
            time: Some(Duration::from_secs_f64(start.seconds)),
            seed: start.seed,
        },
        from: kept.into_iter().cloned().collect(),
        held: start
            .held
            .iter()
            .map(|one| (one.piece.clone(), one.copy))
            .collect(),
        drafted,
        goods,
        units,
    })
}

/// The cloth of a layer, or the first where none is named.
pub(crate) fn goods_of(drafted: &Drafted, layer: Option<&str>) -> Answer<Goods> {
    let wanted = layer.filter(|layer| !layer.is_empty());
    let found = goods(draft_of(drafted)?)
        .into_iter()
        .find(|one| match wanted {
            Some(layer) => one.layers.iter().any(|of| of.word() == layer),
            None => true,
        });
    found
        .ok_or_else(|| Problem::missing("layer-without-pieces", "No piece is cut from this layer."))
}

fn ways(way: Option<&str>) -> Answer<Vec<Way>> {
    let Some(way) = way.filter(|way| !way.is_empty() && *way != "best") else {
        return Ok(Vec::new());
    };
    let found = Way::ALL.into_iter().find(|one| one.word() == way);
    let words: Vec<String> = Way::ALL.iter().map(|way| way.word().to_owned()).collect();
    found.map(|way| vec![way]).ok_or_else(|| {
        Problem::refused("way-unknown", "Cloth is not folded like that.")
            .next(format!("Choose {}.", making::words::listed(&words)))
    })
}

/// The copies that are held: each as it lay in the last lay of the way that is searched, at its new place.
fn held(held: &[HeldAt], kept: &[&Lay], ways: &[Way]) -> Vec<Held> {
    let lay = kept
        .iter()
        .find(|lay| ways.is_empty() || ways.contains(&lay.way));
    let Some(lay) = lay else { return Vec::new() };
    let offsets = offsets(lay);
    held.iter()
        .filter(|one| one.x.is_finite() && one.y.is_finite())
        .filter_map(|one| {
            let mut copies = lay.copies.iter();
            let copy = copies.find(|copy| copy.piece == one.piece && copy.copy == one.copy)?;
            let at = offsets.get(copy.section).copied().unwrap_or_default();
            Some(Held {
                piece: one.piece.clone(),
                copy: one.copy,
                place: Point::new(one.x, one.y) - at,
                degrees: copy.degrees,
                face_down: copy.face_down,
            })
        })
        .collect()
}

/// Searches, and shows every shorter lay.
fn run(search: &Search, job: &Job) -> Answer<Vec<Shown>> {
    let draft = draft_of(&search.drafted)?;
    let pattern = &draft.garment.pattern;
    let Goods { cloth, layers } = &search.goods;
    let mut best: Vec<Shown> = Vec::new();
    let mut listen = |told: Told<'_>| {
        if let Some(lay) = told.found
            && let Some(answer) = cloth::lay::answer(pattern, layers, cloth, lay)
        {
            let lay = lay.clone();
            best.retain(|one| one.lay.way != lay.way);
            best.push(Shown { lay, answer });
            best.sort_by(|one, other| one.lay.length.total_cmp(&other.lay.length));
            job.show(letters(search, draft, &best), words(told));
        }
        if job.is_stopped() {
            Continue::No
        } else {
            Continue::Yes
        }
    };
    let found = lay_out(
        draft,
        &search.goods,
        &search.wishes,
        &search.effort,
        &search.from,
        &mut listen,
    );
    let laid = found.map_err(|findings| not_drafted(&findings))?;
    if laid.lays.is_empty() {
        return Err(no_lay(&laid.findings));
    }
    let said = plain_words(&laid.findings);
    job.show(letters(search, draft, &laid.lays), said);
    Ok(laid.lays)
}

fn no_lay(findings: &[Finding]) -> Problem {
    let problem = findings.first().map_or_else(
        || Problem::refused("no-lay", "No lay was found on this cloth."),
        |finding| Problem::from(finding.clone()),
    );
    problem.with("findings", plain_findings(findings))
}

fn words(told: Told<'_>) -> String {
    format!(
        "Searching {}: {} places tried.",
        told.way.title(),
        told.evaluations
    )
}

fn plain_words(findings: &[Finding]) -> String {
    let said: Vec<&str> = findings
        .iter()
        .map(|finding| finding.message.as_str())
        .collect();
    said.join(" ")
}

fn letters(search: &Search, draft: &Draft, lays: &[Shown]) -> String {
    let views: Vec<LayView> = lays
        .iter()
        .map(|shown| view(draft, &search.goods, shown, &search.held, search.units))
        .collect();
    serde_json::to_string(&views).unwrap_or_else(|_| "[]".to_owned())
}

/// Remembers what was found, to go on from.
fn keep(desk: &mut Desk, search: &Search, lays: Vec<Shown>) {
    let layer = layer_of(&search.goods);
    let remembered = desk.remembered(&search.drafted.document.name);
    remembered.lays.retain(|kept| kept.layer != layer);
    remembered.lays.push(Kept {
        layer,
        revision: search.drafted.document.newest,
        lays,
    });
}

#[derive(Debug, Deserialize)]
pub(crate) struct Since {
    job: u64,
    #[serde(default)]
    since: u64,
}

#[derive(Serialize)]
struct NowView {
    state: &'static str,
    step: u64,
    elapsed: f64,
    words: String,
    length_shown: Option<String>,
    density_shown: Option<String>,
    lays: Box<RawValue>,
    #[serde(skip_serializing_if = "Option::is_none")]
    savings: Option<Vec<SavingView>>,
    #[serde(skip_serializing_if = "Option::is_none")]
    problem: Option<Value>,
}

/// What a change would save, in a sentence.
#[derive(Serialize)]
struct SavingView {
    words: String,
}

/// `GET /api/lay/now`
pub(crate) async fn now(State(bench): AtBench, Asked(since): Asked<Since>) -> Response {
    let job = match bench.jobs.find(since.job) {
        Ok(job) => job,
        Err(problem) => return problem.into_response(),
    };
    let said = job.said_since(since.since, PATIENCE).await;
    crate::http::answer::Json(now_view(&job, said)).into_response()
}

fn now_view(job: &Job, said: Said) -> NowView {
    let lays = RawValue::from_string(said.found);
    let lays =
        lays.unwrap_or_else(|_| serde_json::value::to_raw_value(&[(); 0]).unwrap_or_default());
    let first: Value = serde_json::from_str::<Vec<Value>>(lays.get())
        .ok()
        .and_then(|lays| lays.into_iter().next())
        .unwrap_or_default();
    let text = |field: &str| first[field].as_str().map(str::to_owned);
    let problem = said.ended.as_ref().and_then(|ended| ended.problem.as_ref());
    NowView {
        state: match &said.ended {
            None => "running",
            Some(ended) if ended.stopped => "stopped",
            Some(_) => "done",
        },
        step: said.step,
        elapsed: (job.elapsed().as_secs_f64() * 10.0).round() / 10.0,
        words: said.words,
        length_shown: text("length_shown"),
        density_shown: text("density_shown"),
        lays,
        savings: said.answered.map(|words| {
            words
                .into_iter()
                .map(|words| SavingView { words })
                .collect()
        }),
        problem: problem.map(Problem::value),
    }
}

#[derive(Debug, Deserialize)]
pub(crate) struct Stop {
    job: u64,
}

/// `POST /api/lay/stop`
pub(crate) async fn stop(State(bench): AtBench, Sent(stop): Sent<Stop>) -> Response {
    let job = match bench.jobs.find(stop.job) {
        Ok(job) => job,
        Err(problem) => return problem.into_response(),
    };
    job.stop();
    let said = job.said_since(u64::MAX, Duration::from_secs(5)).await;
    crate::http::answer::Json(now_view(&job, said)).into_response()
}
