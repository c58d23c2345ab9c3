//! What a recipe says of interfacing, tapes and staystitching.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of interfacing, tapes and staystitching.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InterfacingWish {}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> InterfacingWish {
    InterfacingWish {}
}
