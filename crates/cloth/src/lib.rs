//! Cloth, and how pieces lie on it.
//!
//! [`nest`] searches for a short lay of outlines on a strip; [`verify`] proves a lay by other means; [`instance`] reads
//! the open benchmark format. Knows no file, no garment. Invariants: a lay that is returned was proven; a search repeats
//! from its seed and its number of evaluations, and a clock can only stop it.

pub mod instance;
pub mod nest;
pub mod verify;
