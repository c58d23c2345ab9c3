//! What stands between the browser and the desk: who may ask, what is served as it is, how an answer looks.
//!
//! Knows HTTP and no garment. Invariant: nothing behind the guard is reached by a request that the guard has not let through.

pub(crate) mod answer;
pub(crate) mod asked;
pub(crate) mod files;
pub(crate) mod guard;
