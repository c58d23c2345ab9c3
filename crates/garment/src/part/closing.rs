//! Openings and what closes them.

use document::Finding;
use pattern::Pattern;

use super::Asked;

pub(super) fn derive(_pattern: &mut Pattern, _asked: &Asked<'_>) -> Result<(), Finding> {
    Ok(())
}
