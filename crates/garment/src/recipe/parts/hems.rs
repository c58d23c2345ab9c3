//! What a recipe says of how hems are finished.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of how hems are finished.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct HemWishes {}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> HemWishes {
    HemWishes {}
}
