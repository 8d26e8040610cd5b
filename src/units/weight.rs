//! Weights, exact in pounds.

use super::rational::{Rational, Unreadable, decimal_text, mixed, split_unit};

/// A weight in pounds. One pound is 0.453 592 37 kg by definition (international pound, 1959).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Weight(Rational);

impl Weight {
    /// Reads `0.4`, `0.4 lb`, `180 g`, `1.2 kg`. Without a unit: pounds.
    ///
    /// # Errors
    /// A text that is no weight.
    pub fn parse(text: &str) -> Result<Self, Unreadable> {
        let (number, unit) = split_unit(text);
        let number = mixed(number);
        let pounds = match unit {
            "" | "lb" => number,
            "oz" => number.map(|n| n / Rational::from_integer(16)),
            "kg" => number.map(|n| n * Rational::new(100_000_000, 45_359_237)),
            "g" => number.map(|n| n * Rational::new(100_000, 45_359_237)),
            _ => None,
        };
        pounds.map(Self).ok_or_else(|| Unreadable(format!("`{}` is not a weight", text.trim())))
    }

    /// Pounds, exactly.
    pub fn as_pounds(self) -> Rational {
        self.0
    }
}

impl std::fmt::Display for Weight {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} lb", decimal_text(self.0, 2))
    }
}
