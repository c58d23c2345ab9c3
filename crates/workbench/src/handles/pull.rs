//! A pull at a handle: from where the pointer is to the value of the number, and the garment with it.

use document::Finding;
use geometry::Point;
use making::draft::Draft;

use super::Handle;
use super::find::with_value;
use crate::desk::Drafted;
use crate::view::units::Units;

/// As near as this to the pointer is near enough, mm.
const NEAR: f64 = 0.6;

/// A garment with one number pulled.
pub(crate) struct Pulled {
    /// The number.
    pub(crate) value: f64,
    /// The text with it.
    pub(crate) text: String,
    /// The draft of that.
    pub(crate) draft: Draft,
}

impl Handle {
    /// Pulls the handle towards a point of its piece; `tries` more drafts are made where the motion is not straight.
    ///
    /// Where the garment cannot be drafted with the value that the pointer asks for, that is what comes back.
    pub(crate) fn pull(
        &self,
        drafted: &Drafted,
        draft: &Draft,
        to: Point,
        (units, tries): (Units, usize),
    ) -> Option<Result<Pulled, Vec<Finding>>> {
        let mut value = self.turned.value(draft)?;
        let mut at = self.spot.on(&draft.garment.pattern)?;
        let (mut rate, mut best) = (self.motion, None);
        for _ in 0..=tries {
            let wanted = value + (to - at).dot(rate) / rate.hypot2();
            let wanted = self.turned.neat(draft, wanted, units);
            if wanted == value && best.is_some() {
                break;
            }
            let pulled = match self.pulled(drafted, draft, wanted, units) {
                Ok(pulled) => pulled,
                // A later try that went too far does not undo the one before.
                Err(findings) if best.is_none() => return Some(Err(findings)),
                Err(_) => break,
            };
            let now = self.spot.on(&pulled.draft.garment.pattern)?;
            if (wanted - value).abs() > 1e-9 && (now - at).hypot() > 1e-6 {
                rate = (now - at) / (wanted - value);
            }
            (value, at) = (wanted, now);
            best = Some(pulled);
            let off = (to - at).dot(rate) / rate.hypot();
            if off.abs() < NEAR {
                break;
            }
        }
        best.map(Ok)
    }

    fn pulled(
        &self,
        drafted: &Drafted,
        draft: &Draft,
        value: f64,
        units: Units,
    ) -> Result<Pulled, Vec<Finding>> {
        let source =
            with_value(drafted, draft, &self.turned, value, units).map_err(|fault| vec![fault])?;
        let draft = drafted.again(&source)?;
        Ok(Pulled {
            value,
            text: source.text.clone(),
            draft,
        })
    }
}
