//! What the checks need to know of the body: a few girths and heights, as plain numbers.
//!
//! Knows no measure by key and no spread; who fills it in says which figures were estimated. All in mm.

/// The one for whom a garment is made, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Wearer {
    /// Head girth that an opening must let pass; the larger end of what is usual where it was not taped.
    pub head: f64,
    /// Girth that must pass where a garment is put on over the head: bust and raised arms.
    pub shoulders: f64,
    /// Waist girth.
    pub waist: f64,
    /// Hip girth.
    pub hip: f64,
    /// From waist to hip.
    pub waist_to_hip: f64,
    /// From waist to knee.
    pub waist_to_knee: f64,
    /// Height.
    pub stature: f64,
}
