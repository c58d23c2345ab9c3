//! A garment to look at.

use axum::extract::State;
use axum::response::Response;

use super::{AtBench, Looked};
use crate::desk::Desk;
use crate::http::answer::{Answer, Problem};
use crate::http::asked::Asked as Query;
use crate::view::drawing::{Asked, Hashes};
use crate::view::garment::{GarmentView, view};
use crate::view::units::Units;

/// `GET /api/garment`
pub(crate) async fn garment(State(bench): AtBench, Query(looked): Query<Looked>) -> Response {
    bench
        .answer(move |desk| look(desk, &looked.name, &looked.hashes(), looked.units))
        .await
}

/// A document that is a garment.
pub(crate) fn garment_document(desk: &Desk, name: &str) -> Answer<book::Document> {
    let document = desk.document(name)?;
    if matches!(document.kind, book::Kind::Garment | book::Kind::Block) {
        return Ok(document);
    }
    Err(Problem::refused(
        "not-a-garment",
        format!("{} is no garment but a {}.", document.name, document.kind),
    )
    .next("Open it in its own chapter."))
}

/// The whole view of a garment.
pub(crate) fn look(
    desk: &mut Desk,
    name: &str,
    known: &Hashes,
    units: Units,
) -> Answer<GarmentView> {
    let document = garment_document(desk, name)?;
    let drafted = desk.drafted(&document)?;
    let asked = Asked {
        units,
        known,
        anew: true,
    };
    view(desk, &drafted, asked)
}
