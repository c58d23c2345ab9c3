//! Blocks: basic fitted pieces of a body, drafted from its measures.

pub mod bodice;
pub mod figures;
pub mod person;
pub mod skirt;
pub mod sleeve;
mod waistline;
