//! The commands, one a file.

mod answers;
pub(crate) mod body;
pub(crate) mod book;
pub(crate) mod check;
pub(crate) mod compare;
pub(crate) mod lay;
pub(crate) mod make;
pub(crate) mod most;
pub(crate) mod nest;
pub(crate) mod new;
pub(crate) mod open;
pub(crate) mod steps;
