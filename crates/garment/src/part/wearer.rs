//! What the checks need of the body, as plain numbers.

use body::{Body, Measure};
use pattern::Wearer;

/// Head girth is 560 ± 15 mm unless it was taped: the larger end must pass. Common practice, no source.
const HEAD: f64 = 575.0;
/// What raised arms need over the bust where a garment goes over the head: 2 in. Common practice, no source.
const OVER_BUST: f64 = 50.8;

/// The wearer of a garment.
pub(super) fn of(body: &Body) -> Wearer {
    let head = if body.is_measured(Measure::Head) {
        body.mm(Measure::Head)
    } else {
        HEAD
    };
    Wearer {
        head,
        shoulders: body.mm(Measure::Bust) + OVER_BUST,
        waist: body.mm(Measure::Waist),
        hip: body.mm(Measure::Hip),
        waist_to_hip: body.mm(Measure::WaistToHip),
        waist_to_knee: body.mm(Measure::WaistToKnee),
        stature: body.mm(Measure::Stature),
    }
}
