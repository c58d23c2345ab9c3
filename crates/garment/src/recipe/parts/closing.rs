//! What a recipe says of what closes the openings.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of what closes the openings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct ClosingWish {}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> ClosingWish {
    ClosingWish {}
}
