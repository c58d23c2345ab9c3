//! What a recipe says of the lining.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of the lining.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct LiningWish {}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> LiningWish {
    LiningWish {}
}
