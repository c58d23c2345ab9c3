//! The lay engine: a short lay of outlines on a cloth of a given width.
//!
//! A [`Problem`] is a cloth, its flaws and pieces; [`solve`] searches within a [`Budget`] and returns a [`Layout`].
//!
//! ```
//! use cloth::nest::{Budget, Continue, Item, PoseSpace, Problem, Turn, solve};
//! use geometry::Point;
//!
//! let square = [(0.0, 0.0), (300.0, 0.0), (300.0, 300.0), (0.0, 300.0)];
//! let yoke = Item {
//!     name: "yoke".to_owned(),
//!     outline: square.map(Point::from).to_vec(),
//!     demand: 4,
//!     turns: vec![Turn::by(0.0), Turn::by(180.0)],
//!     space: PoseSpace::free(),
//! };
//! let problem = Problem::new(650.0, vec![yoke], Vec::new())?;
//! let lay = solve(&problem, &Budget::evaluations(10_000), 1, &mut |_| Continue::Yes, None);
//! assert!((lay.length - 600.0).abs() < 0.01);
//! # Ok::<(), cloth::nest::Fault>(())
//! ```

mod budget;
mod chance;
mod convolution;
mod crew;
mod fault;
mod grid;
mod layout;
mod no_fit;
mod outline;
mod problem;
mod push;
mod relax;
mod room;
mod search;
mod solve;
mod start;
mod state;
mod table;
mod worker;

pub use budget::{Budget, Continue, Progress};
pub use fault::{Fault, Unsound};
pub use layout::{Layout, Placement};
pub use outline::check as sound;
pub use problem::{Area, Item, PoseSpace, Problem, Repeat, Turn};
pub use solve::solve;
