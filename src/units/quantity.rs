//! Quantities: how many, or how much of something sold by length or weight.

use super::rational::{Rational, UnreadableNumber, decimal_text, mixed, sign, split_unit};

/// What a quantity counts.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Unit {
    #[default]
    Each,
    Foot,
    Pound,
    Metre,
    SquareMetre,
    Kilogram,
    Gram,
    Litre,
    Millilitre,
}

impl Unit {
    /// Reads `each`, `ft`, `lb`, `m`, `m2`, `kg`, `g`, `litre`, `ml`.
    ///
    /// # Errors
    /// Any other word.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        match text.trim() {
            "" | "each" | "ea" | "pc" => Ok(Self::Each),
            "ft" => Ok(Self::Foot),
            "lb" => Ok(Self::Pound),
            "m" => Ok(Self::Metre),
            "m2" | "m\u{b2}" => Ok(Self::SquareMetre),
            "kg" => Ok(Self::Kilogram),
            "g" => Ok(Self::Gram),
            "litre" | "litres" | "l" | "L" => Ok(Self::Litre),
            "ml" => Ok(Self::Millilitre),
            other => Err(UnreadableNumber(format!(
                "`{other}` is not a unit of quantity (each, ft, lb, m, m2, kg, g, litre, ml)"
            ))),
        }
    }

    /// The unit in which a length off an item is counted: the item's own, where it is counted by the foot, by the metre or
    /// each; else feet, which are not its own.
    pub fn of_a_length(self) -> Self {
        if matches!(self, Self::Each | Self::Foot | Self::Metre) { self } else { Self::Foot }
    }

    /// The unit by its name, as a list has it in a column of its own.
    pub fn name(self) -> &'static str {
        if self == Self::Each { "each" } else { self.word() }
    }

    /// The unit as written behind a number; nothing for `each`.
    pub fn word(self) -> &'static str {
        match self {
            Self::Each => "",
            Self::Foot => "ft",
            Self::Pound => "lb",
            Self::Metre => "m",
            Self::SquareMetre => "m²",
            Self::Kilogram => "kg",
            Self::Gram => "g",
            Self::Litre => "litre",
            Self::Millilitre => "ml",
        }
    }
}

/// A quantity with its unit. May be negative only as a difference.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Quantity {
    pub value: Rational,
    pub unit: Unit,
}

impl Quantity {
    /// `n` pieces.
    pub fn each(n: i64) -> Self {
        Self { value: Rational::from_integer(n), unit: Unit::Each }
    }

    /// Nothing, in `unit`.
    pub fn none(unit: Unit) -> Self {
        Self { value: Rational::from_integer(0), unit }
    }

    /// Reads `4`, `0.05 lb`, `12 ft`, `-2`.
    ///
    /// # Errors
    /// A text that is no quantity; a fraction of a piece.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let (negative, rest) = sign(text);
        let (number, unit) = split_unit(rest);
        let unit = Unit::parse(unit)?;
        let value = mixed(number).ok_or_else(|| UnreadableNumber(format!("`{}` is not a quantity", text.trim())))?;
        if unit == Unit::Each && !value.is_integer() {
            return Err(UnreadableNumber(format!("`{}` is not a whole number of pieces", text.trim())));
        }
        Ok(Self { value: if negative { -value } else { value }, unit })
    }

    pub fn is_zero(self) -> bool {
        *self.value.numer() == 0
    }

    pub fn is_negative(self) -> bool {
        *self.value.numer() < 0
    }
}

impl std::fmt::Display for Quantity {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&decimal_text(self.value, 3))?;
        match self.unit {
            Unit::Each => Ok(()),
            unit => write!(f, " {}", unit.word()),
        }
    }
}
