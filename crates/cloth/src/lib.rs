//! Cloth, and how pieces lie on it.
//!
//! [`goods`] is a cloth as its file says; [`lay`] lays a garment on it; [`answers`] says what would save cloth and what fits; [`nest`] searches for a short lay of outlines on a strip; [`verify`] proves a lay by other means; [`instance`] reads
//! the open benchmark format. Knows no file, no body, no recipe. Invariants: a lay that is returned was proven; a search repeats
//! from its seed and its number of evaluations, and a clock can only stop it.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

pub mod answers;
pub mod goods;
pub mod instance;
pub mod lay;
pub mod nest;
pub mod verify;
