//! The kit on which every step stands: finding names and places, opening and closing the outline, moving a part of a piece,
//! spreading along lines, dividing a piece, truing edges, refusing what cannot be sewn.
//!
//! A step clones the pattern, changes the clone with these tools, and gives it back; nothing here panics for any input.
//! Numbers of pieces, edges and runs are only good until something is opened, filled or divided: [`gap::open`] takes the
//! gaps that are held and keeps them right.

pub mod across;
pub mod apex;
pub mod bend;
pub mod bust;
pub mod bust_seam;
pub mod bust_waist;
pub mod closed;
pub mod corner;
pub mod dart_end;
pub mod divide;
pub mod fill;
pub mod find;
pub mod frame;
pub mod fullness;
pub mod gap;
pub mod halves;
pub mod inner;
pub mod levels;
pub mod new_piece;
pub mod notches;
pub mod part;
pub mod part_edge;
pub mod partner;
pub mod place;
pub mod refuse;
pub mod reshape;
pub mod shift_edge;
pub mod slash;
pub mod square_edge;
pub mod stretch;
pub mod style_line;
pub mod true_up;
pub mod turn_over;
pub mod walk;
pub mod weld;

pub use gap::Gap;
pub use part::Part;
pub use place::{Along, On, Place, SAME_POINT, Seat};
