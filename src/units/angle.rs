//! Angles, exact in degrees.

use super::rational::{Rational, UnreadableNumber, decimal_text, mixed, sign, split_unit};

/// An angle in degrees, kept exactly. What it is measured from is said where it is shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Angle(Rational);

impl Angle {
    /// `numerator/denominator` degrees. `denominator` must not be zero.
    pub fn degrees(numerator: i64, denominator: i64) -> Self {
        Self(Rational::new(numerator, denominator))
    }

    /// Reads `22.5`, `22 1/2`, `22.5 deg`, `22.5°`.
    ///
    /// # Errors
    /// A text that is no angle.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let (negative, rest) = sign(text);
        let (number, unit) = split_unit(rest);
        let value = matches!(unit, "" | "deg" | "°" | "degrees" | "degree")
            .then(|| mixed(number))
            .flatten()
            .ok_or_else(|| UnreadableNumber(format!("`{}` is not an angle", text.trim())))?;
        Ok(Self(if negative { -value } else { value }))
    }

    /// Degrees, exactly.
    pub fn as_degrees(self) -> Rational {
        self.0
    }

    /// Degrees as a floating-point number, for geometry and drawing.
    pub fn to_f64(self) -> f64 {
        *self.0.numer() as f64 / *self.0.denom() as f64
    }
}

impl std::fmt::Display for Angle {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{}°", decimal_text(self.0, 2))
    }
}
