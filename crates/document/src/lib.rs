//! What a person wrote and what is said about it: text with places, values read from it, findings.
//!
//! Files are KDL 2, one statement a line, in the order in which they are written. This room knows no garment: it turns
//! text into typed values and remembers where each of them stands, so that whatever is wrong can be shown there.

pub mod finding;
pub mod source;

pub use finding::{Allowed, Finding, Place, Quantity, Severity, Unit};
pub use source::{Source, Span};
