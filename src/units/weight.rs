//! Weights, exact in pounds.

use super::rational::{Rational, UnreadableNumber, decimal_text, mixed, split_unit};
use super::style::UnitStyle;

/// A weight in pounds. One pound is 0.453 592 37 kg by definition (international pound, 1959).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Weight(Rational);

impl Weight {
    /// Reads `0.4`, `0.4 lb`, `180 g`, `1.2 kg`. Without a unit: pounds.
    ///
    /// # Errors
    /// A text that is no weight.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let (number, unit) = split_unit(text);
        let number = mixed(number);
        let pounds = match unit {
            "" | "lb" => number,
            "oz" => number.map(|n| n / Rational::from_integer(16)),
            "kg" => number.map(|n| n * Rational::new(100_000_000, 45_359_237)),
            "g" => number.map(|n| n * Rational::new(100_000, 45_359_237)),
            _ => None,
        };
        pounds.map(Self).ok_or_else(|| UnreadableNumber(format!("`{}` is not a weight", text.trim())))
    }

    /// Pounds, exactly.
    pub fn as_pounds(self) -> Rational {
        self.0
    }

    /// So many pounds in the units of a manual: `0.14 lb`, `64 g`, `1.25 kg`, `0.14 lb (64 g)`.
    pub fn words(pounds: f64, style: UnitStyle) -> String {
        let grams = pounds * 453.592_37;
        let metric = if grams < 999.5 { format!("{grams:.0} g") } else { format!("{:.2} kg", grams / 1000.0) };
        match style {
            UnitStyle::Millimetre => metric,
            UnitStyle::Both => format!("{pounds:.2} lb ({metric})"),
            UnitStyle::InchFraction | UnitStyle::InchDecimal => format!("{pounds:.2} lb"),
        }
    }
}

impl std::fmt::Display for Weight {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} lb", decimal_text(self.0, 2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// International avoirdupois pound, 0.453 592 37 kg (NIST Special Publication 811, appendix B.8).
    #[test]
    fn weights_are_shown_in_the_manuals_units() {
        assert_eq!(Weight::words(1.0, UnitStyle::Millimetre), "454 g");
        assert_eq!(Weight::words(2.5, UnitStyle::Millimetre), "1.13 kg");
        assert_eq!(Weight::words(0.14, UnitStyle::Both), "0.14 lb (64 g)");
        assert_eq!(Weight::words(0.14, UnitStyle::InchFraction), "0.14 lb");
    }
}
