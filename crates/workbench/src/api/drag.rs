//! Dragging: the garment follows the pointer, and is stored when it is let go.

use std::sync::Arc;

use axum::extract::State;
use axum::response::Response;
use geometry::Point;
use making::draft::Draft;
use serde::{Deserialize, Serialize};

use super::edit::{at_newest, keep};
use super::{AtBench, InUnits};
use crate::desk::{Desk, Drafted, not_drafted};
use crate::handles::{Handle, HandleView, Handles, Pulled};
use crate::http::answer::{Answer, Problem};
use crate::http::asked::{Asked, Sent};
use crate::view::drawing::{self, DrawingView, Hashes, shell};
use crate::view::finding::{FindingView, Where, views};
use crate::view::garment::{GarmentView, GirthView, girths};
use crate::view::units::Units;

/// Drafts more while a handle is dragged, and when it is let go.
const TRIES: [usize; 2] = [0, 3];

#[derive(Debug, Deserialize)]
pub(crate) struct Drag {
    name: String,
    on: u32,
    handle: String,
    to: [f64; 2],
    #[serde(default)]
    known: Hashes,
}

#[derive(Serialize)]
struct DragView {
    drawing: DrawingView,
    handles: Vec<HandleView>,
    number: NumberNow,
    findings: Vec<FindingView>,
    girths: Vec<GirthView>,
}

#[derive(Serialize)]
struct NumberNow {
    id: String,
    shown: String,
}

/// `POST /api/garment/drag`
pub(crate) async fn drag(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(drag): Sent<Drag>,
) -> Response {
    bench.answer(move |desk| dragged(desk, &drag, units)).await
}

/// `POST /api/garment/drag-end`
pub(crate) async fn drag_end(
    State(bench): AtBench,
    Asked(InUnits { units }): Asked<InUnits>,
    Sent(drag): Sent<Drag>,
) -> Response {
    bench.answer(move |desk| let_go(desk, &drag, units)).await
}

fn dragged(desk: &mut Desk, drag: &Drag, units: Units) -> Answer<DragView> {
    let held = Held::of(desk, drag)?;
    let pulled = held.pull((units, TRIES[0]))?;
    let remembered = desk.remembered(&held.drafted.document.name);
    let pattern = &pulled.draft.garment.pattern;
    let asked = drawing::Asked {
        units,
        known: &drag.known,
        anew: false,
    };
    let (drawing, mut findings) = shell(pattern, &mut remembered.shell, asked);
    findings.extend(pulled.draft.findings.iter().cloned());
    let wherever = Where {
        pattern: Some((pattern, &remembered.shell.table)),
        texts: None,
    };
    Ok(DragView {
        drawing,
        handles: held
            .handles
            .views(&pulled.draft, &remembered.shell.table, units),
        number: NumberNow {
            id: held.handle().turned.id(),
            shown: held
                .handle()
                .turned
                .shown_value(&pulled.draft, pulled.value, units),
        },
        findings: views(&findings, wherever),
        girths: girths(pattern, units),
    })
}

fn let_go(desk: &mut Desk, drag: &Drag, units: Units) -> Answer<GarmentView> {
    let held = Held::of(desk, drag)?;
    let pulled = held.pull((units, TRIES[1]))?;
    let turned = &held.handle().turned;
    let reason = format!(
        "{} {}",
        turned.label(&pulled.draft),
        turned.shown_value(&pulled.draft, pulled.value, units)
    );
    keep(
        desk,
        &held.drafted,
        (&pulled.text, &reason),
        &drag.known,
        units,
    )
}

/// A handle in somebody's hand.
struct Held {
    drafted: Arc<Drafted>,
    handles: Arc<Handles>,
    index: usize,
    to: Point,
}

impl Held {
    fn of(desk: &mut Desk, drag: &Drag) -> Answer<Self> {
        let [x, y] = drag.to;
        if !x.is_finite() || !y.is_finite() || x.abs() > 1e6 || y.abs() > 1e6 {
            return Err(Problem::refused(
                "place-impossible",
                "The pointer is nowhere on the drawing.",
            ));
        }
        let drafted = at_newest(desk, &drag.name, drag.on)?;
        let draft = draft_of(&drafted)?;
        let handles = desk.handles(&drafted, draft);
        let remembered = desk.remembered(&drafted.document.name);
        let index = handles
            .all
            .iter()
            .position(|handle| handle.turned.id() == drag.handle)
            .ok_or_else(|| {
                Problem::missing(
                    "handle-missing",
                    "There is nothing to be held there any more.",
                )
            })?;
        if remembered.shell.drawn.is_empty() {
            // Nobody has looked at it since the program was started: it is laid out as the page would see it.
            let asked = drawing::Asked {
                units: Units::Metric,
                known: &Hashes::new(),
                anew: true,
            };
            shell(&draft.garment.pattern, &mut remembered.shell, asked);
        }
        let at = remembered.shell.table.at(&handles.all[index].spot.piece);
        Ok(Self {
            to: Point::new(x, y) - at - handles.all[index].grip,
            drafted,
            handles,
            index,
        })
    }

    fn handle(&self) -> &Handle {
        &self.handles.all[self.index]
    }

    fn pull(&self, how: (Units, usize)) -> Answer<Pulled> {
        let draft = draft_of(&self.drafted)?;
        let pulled = self.handle().pull(&self.drafted, draft, self.to, how);
        match pulled {
            Some(Ok(pulled)) => Ok(pulled),
            Some(Err(findings)) => Err(not_drafted(&findings)),
            None => Err(Problem::missing(
                "handle-missing",
                "There is nothing to be held there any more.",
            )),
        }
    }
}

fn draft_of(drafted: &Drafted) -> Answer<&Draft> {
    drafted
        .draft
        .as_ref()
        .map_err(|findings| not_drafted(findings))
}
