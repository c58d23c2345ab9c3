//! What a recipe says of pockets.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of pockets.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PocketWishes {}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> PocketWishes {
    PocketWishes {}
}
