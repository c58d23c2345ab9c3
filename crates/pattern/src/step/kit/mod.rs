//! The kit on which every step stands: finding names and places, opening and closing the outline, moving a part of a piece,
//! spreading along lines, dividing a piece, truing edges, refusing what cannot be sewn.
//!
//! A step clones the pattern, changes the clone with these tools, and gives it back; nothing here panics for any input.
//! Numbers of pieces, edges and runs are only good until something is opened, filled or divided: [`gap::open`] takes the
//! gaps that are held and keeps them right.

pub mod closed;
pub mod dart_end;
pub mod divide;
pub mod fill;
pub mod find;
pub mod fullness;
pub mod gap;
pub mod inner;
pub mod notches;
pub mod part;
pub mod part_edge;
pub mod place;
pub mod refuse;
pub mod shift_edge;
pub mod slash;
pub mod true_up;

pub use gap::Gap;
pub use part::Part;
pub use place::{Along, On, Place, SAME_POINT, Seat};
