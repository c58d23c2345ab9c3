//! The workbench: a page in the browser over everything that the program can do.
//!
//! Listens on the loopback address only and asks nothing of any other machine. Everything the page can do, the command line
//! can do, through the same functions. Invariants: no path ever comes from the page (documents are names of the book,
//! validated by it); only the guard decides who may ask; whatever is sent, the answer is JSON that says what to do next.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip, never in a loop that matters"
)]

mod api;
mod begin;
mod desk;
mod handles;
mod http;
mod jobs;
mod rewrite;
mod serve;
mod view;

pub use http::guard::KEY_HEADER;
pub use serve::{Fault, Options, Workbench};
