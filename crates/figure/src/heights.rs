//! Heights above the floor of the places that a tape runs between.
//!
//! Knows no widths. Lengths that a tape takes over the body are turned into heights by what they are longer (the rules of
//! docs/sources-body.md, the other way round). Invariant: the heights stand in the order in which bodies have them, whatever
//! was measured: a figure of a body that contradicts itself is still a figure.

use body::{Body, Measure};

/// Height over length from nape to waist down the back: what makes the drawn back as long as the tape. The survey's mean is
/// 0.977, spread 0.027 (ANSUR II, women, nape to navel).
const BACK_STRAIGHT: f64 = 0.955;

/// Heights, mm above the floor.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Heights {
    pub(crate) top: f64,
    pub(crate) chin: f64,
    pub(crate) nape: f64,
    /// Side neck point.
    pub(crate) neck: f64,
    /// The hollow between the collar bones.
    pub(crate) hollow: f64,
    /// Shoulder point.
    pub(crate) shoulder: f64,
    pub(crate) armpit: f64,
    pub(crate) bust: f64,
    pub(crate) under_bust: f64,
    pub(crate) waist: f64,
    pub(crate) high_hip: f64,
    pub(crate) hip: f64,
    pub(crate) crotch: f64,
    pub(crate) knee: f64,
}

impl Heights {
    pub(crate) fn of(body: &Body) -> Self {
        let top = body.mm(Measure::Stature);
        // A tape down the side is 10 longer to the floor, 8 to knee and hip; sitting spreads the seat by 30.
        let waist = (body.mm(Measure::WaistToFloor) - 10.0).clamp(0.54 * top, 0.7 * top);
        let down = |measure, over: f64| waist - (body.mm(measure) - over).max(10.0);
        let back = BACK_STRAIGHT * body.mm(Measure::BackWaistLength);
        // Survey: nape at 0.913·S − 90, spread 11: between 0.83 and 0.885 of the height in all women.
        let nape = (waist + back).clamp(0.825 * top, 0.885 * top);
        let torso = nape - waist;
        let neck = nape + 3.0;
        let fall = body.mm(Measure::ShoulderLength) * body.shoulder_slope().sin();
        let shoulder = neck - fall.min(0.3 * torso);
        let armpit = nape - BACK_STRAIGHT * body.mm(Measure::ScyeDepth);
        let armpit = armpit
            .clamp(nape - 0.62 * torso, nape - 0.3 * torso)
            .min(shoulder - 70.0);
        // Side neck to bust point = 0.9 × (nape − bust height) + 0.05 bust + 20, see docs/sources-body.md.
        let to_bust = body.mm(Measure::NeckToBustPoint) - 0.05 * body.mm(Measure::Bust) - 20.0;
        let bust = (nape - to_bust / 0.9).clamp(waist + 0.24 * torso, armpit - 14.0);
        let hip = down(Measure::WaistToHip, 8.0).max(0.4 * top);
        let high_hip = down(Measure::WaistToHighHip, 4.0).clamp(hip + 25.0, waist - 25.0);
        let crotch = down(Measure::CrotchDepth, 30.0).clamp(0.38 * top, hip - 35.0);
        Self {
            top,
            chin: top - head_height(body),
            nape,
            neck,
            // Survey: the upper edge of the breast bone lies 0.039·S + 3 below the nape, spread 12.
            hollow: nape - (0.039 * top + 3.0),
            shoulder,
            armpit,
            bust,
            under_bust: under_bust(body, bust, waist),
            waist,
            high_hip,
            hip,
            crotch,
            knee: down(Measure::WaistToKnee, 8.0).clamp(0.22 * top, 0.36 * top),
        }
    }
}

/// From crown to chin, mm: no source, chosen to give a head of 216 in a height of 1628.
pub(crate) fn head_height(body: &Body) -> f64 {
    0.385 * body.mm(Measure::Head)
}

/// The fold below the breasts: 50 below the bust points of a flat bust, more below a full one; no source.
fn under_bust(body: &Body, bust: f64, waist: f64) -> f64 {
    let fullness = (body.mm(Measure::Bust) - body.mm(Measure::UnderBust)).max(0.0);
    (bust - 40.0 - 0.17 * fullness).max(waist + 0.3 * (bust - waist))
}
