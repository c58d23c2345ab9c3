//! The one door to transcendental functions, so that a pattern has the same bytes on every machine.
//!
//! The standard library hands these to the platform, whose last bits differ; `libm` computes them in portable code.
//! Angles are radians here.

pub use libm::{acos, asin, atan2, cos, exp, hypot, log as ln, pow, sin, sincos as sin_cos, tan};
