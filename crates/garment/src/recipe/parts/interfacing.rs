//! What a recipe says of interfacing, tapes and staystitching.

use crate::recipe::fields::Fields;
use crate::recipe::layers::Layers;

/// What is asked of interfacing, tapes and staystitching.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct InterfacingWish {}

impl InterfacingWish {
    /// Whether interfacing lies behind derived pieces of a name.
    pub(crate) fn lies_behind(&self, _word: &str) -> bool {
        false
    }
}

pub(super) fn read(_layers: &Layers<'_>, _fields: &mut Fields<'_>) -> InterfacingWish {
    InterfacingWish {}
}
