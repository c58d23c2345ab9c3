//! What a person wrote and what is said about it: text with places, values read from it, findings.
//!
//! Files are KDL 2, one statement a line, in the order in which they are written. This room knows no garment: it turns
//! text into typed values and remembers where each of them stands, so that whatever is wrong can be shown there.

#![allow(
    clippy::result_large_err,
    reason = "a finding is made once per slip of the pen, never in a loop that matters"
)]

pub mod entry;
pub mod finding;
pub mod length;
pub mod mend;
mod names;
mod nearest;
mod read;
pub mod source;
mod syntax;
pub mod value;

pub use entry::Entry;
pub use finding::{Allowed, Finding, Place, Quantity, Severity, Unit};
pub use length::{QuantityFault, degrees, inches_eighths, metric, parse_angle, parse_length};
pub use mend::{Change, Mend, written_mm};
pub use names::{check_properties, check_repeats, check_statements, given_twice, missing, unknown};
pub use nearest::nearest;
pub use read::parse;
pub use source::{Source, Span};
pub use value::{Content, Value};
