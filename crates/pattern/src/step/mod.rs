//! Steps: pure functions from a piece to a piece, or a finding that says why not; nothing is edited in place.

mod transfer_dart;

pub use transfer_dart::{Target, transfer_dart};
