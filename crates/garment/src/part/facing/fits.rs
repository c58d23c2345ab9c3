//! What a facing meets: another facing on the shoulder, and the width of its cloth.
use pattern::Pattern;
use crate::recipe::parts::FacingWish;
pub(super) fn overlaps(_pattern: &mut Pattern, _wishes: &[FacingWish]) {}
pub(super) fn widths(_pattern: &mut Pattern, _wishes: &[FacingWish]) {}
