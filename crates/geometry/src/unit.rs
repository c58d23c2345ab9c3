//! Quantities that a person reads and writes: lengths and angles, and the tolerance that approximations take.

use crate::math;

/// A length, kept in millimetres.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Length(f64);

impl Length {
    /// Millimetres in an inch, by the international definition of 1959.
    pub const MM_PER_INCH: f64 = 25.4;

    /// A length of so many millimetres.
    pub const fn from_mm(mm: f64) -> Self {
        Self(mm)
    }

    /// A length of so many centimetres.
    pub const fn from_cm(cm: f64) -> Self {
        Self(cm * 10.0)
    }

    /// A length of so many inches.
    pub const fn from_inches(inches: f64) -> Self {
        Self(inches * Self::MM_PER_INCH)
    }

    /// The length in millimetres.
    pub const fn mm(self) -> f64 {
        self.0
    }

    /// The length in centimetres.
    pub const fn cm(self) -> f64 {
        self.0 / 10.0
    }

    /// The length in inches.
    pub const fn inches(self) -> f64 {
        self.0 / Self::MM_PER_INCH
    }
}

/// An angle, kept in radians.
#[derive(Clone, Copy, Debug, Default, PartialEq, PartialOrd)]
pub struct Angle(f64);

impl Angle {
    /// An angle of so many degrees.
    pub const fn from_degrees(degrees: f64) -> Self {
        Self(degrees * (std::f64::consts::PI / 180.0))
    }

    /// An angle of so many radians.
    pub const fn from_radians(radians: f64) -> Self {
        Self(radians)
    }

    /// The angle in degrees.
    pub const fn degrees(self) -> f64 {
        self.0 * (180.0 / std::f64::consts::PI)
    }

    /// The angle in radians.
    pub const fn radians(self) -> f64 {
        self.0
    }

    /// Sine of the angle.
    pub fn sin(self) -> f64 {
        math::sin(self.0)
    }

    /// Cosine of the angle.
    pub fn cos(self) -> f64 {
        math::cos(self.0)
    }

    /// Tangent of the angle.
    pub fn tan(self) -> f64 {
        math::tan(self.0)
    }
}

/// How far an approximation may stray, in millimetres; always above zero.
#[derive(Clone, Copy, Debug, PartialEq, PartialOrd)]
pub struct Tolerance(f64);

impl Tolerance {
    /// What a pattern promises of its lengths, 0.001 mm: a hundred times finer than the 0.1 mm to which seams must agree.
    pub const PATTERN: Self = Self(0.001);
    /// What corners are computed to, 10⁻⁶ mm, so that crossings at slight angles are not mistaken for touching.
    pub(crate) const CORNER: Self = Self(1e-6);
    /// What a drawing needs, 0.02 mm: below the width of the finest printed line.
    pub const DRAWING: Self = Self(0.02);

    /// A tolerance of so many millimetres, or `None` where that is not above zero.
    pub fn from_mm(mm: f64) -> Option<Self> {
        (mm > 0.0 && mm.is_finite()).then_some(Self(mm))
    }

    /// The tolerance in millimetres.
    pub const fn mm(self) -> f64 {
        self.0
    }
}
