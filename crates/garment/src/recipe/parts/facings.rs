//! What a recipe says of facings.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of facings.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct FacingWishes {}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> FacingWishes {
    FacingWishes {}
}
