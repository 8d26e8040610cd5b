//! What a builder measures: a value in one of the units a manual asks for.

use super::rational::{Rational, UnreadableNumber, decimal_text, mixed, sign, split_unit};
use super::style::{UnitStyle, ValuePiece};
use super::{Angle, Length};

/// The unit of a measured value.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum MeasureUnit {
    Length,
    Degree,
    PoundForce,
    Newton,
    InchPound,
    NewtonMetre,
    PoundPerSquareInch,
    Bar,
    Kilogram,
    Gram,
    Volt,
    Ampere,
    Ohm,
    Litre,
    Millilitre,
    SquareMetre,
    Celsius,
}

impl MeasureUnit {
    /// The unit as written behind a number. For lengths the documents choose it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Length => "in",
            Self::Degree => "°",
            Self::PoundForce => "lb",
            Self::Newton => "N",
            Self::InchPound => "in-lb",
            Self::NewtonMetre => "N m",
            Self::PoundPerSquareInch => "psi",
            Self::Bar => "bar",
            Self::Kilogram => "kg",
            Self::Gram => "g",
            Self::Volt => "V",
            Self::Ampere => "A",
            Self::Ohm => "ohm",
            Self::Litre => "litre",
            Self::Millilitre => "ml",
            Self::SquareMetre => "m²",
            Self::Celsius => "°C",
        }
    }

    /// The unit of a word behind a number; lengths and angles are read elsewhere.
    fn read(word: &str) -> Option<Self> {
        Some(match word {
            "lb" | "lbf" => Self::PoundForce,
            "N" => Self::Newton,
            "in-lb" | "in lb" => Self::InchPound,
            "N m" | "Nm" => Self::NewtonMetre,
            "psi" => Self::PoundPerSquareInch,
            "bar" => Self::Bar,
            "kg" => Self::Kilogram,
            "g" => Self::Gram,
            "V" => Self::Volt,
            "A" => Self::Ampere,
            "ohm" | "\u{3a9}" | "\u{2126}" => Self::Ohm,
            "litre" | "litres" | "l" | "L" => Self::Litre,
            "ml" => Self::Millilitre,
            "m2" | "m\u{b2}" => Self::SquareMetre,
            "C" | "\u{b0}C" | "deg C" => Self::Celsius,
            _ => return None,
        })
    }
}

/// A value to be measured. Lengths are in inches, angles in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Measure {
    pub value: Rational,
    pub unit: MeasureUnit,
}

impl Measure {
    /// Reads `1/32`, `23 mm`, `30 deg`, `120 lb`, `60 in-lb`, `8 N m`, `25 psi`, `12 V`, `20 C`. Without a unit: inches.
    ///
    /// # Errors
    /// A text that is no such value.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        if let Ok(length) = Length::parse(text) {
            return Ok(Self { value: length.as_inches(), unit: MeasureUnit::Length });
        }
        if let Ok(angle) = Angle::parse(text) {
            return Ok(Self { value: angle.as_degrees(), unit: MeasureUnit::Degree });
        }
        let (negative, rest) = sign(text);
        let (number, unit) = split_unit(rest);
        match (MeasureUnit::read(unit), mixed(number)) {
            (Some(unit), Some(value)) => Ok(Self { value: if negative { -value } else { value }, unit }),
            _ => Err(UnreadableNumber(format!("`{}` is not a value with a unit the manual knows", text.trim()))),
        }
    }

    /// The pieces of this value; a length follows `style`.
    pub fn pieces(self, style: UnitStyle) -> Vec<ValuePiece> {
        match self.unit {
            MeasureUnit::Length => Length::from_inches(self.value).pieces(style),
            MeasureUnit::Degree => vec![ValuePiece::Text(format!("{}°", decimal_text(self.value, 2)))],
            unit => vec![ValuePiece::Text(format!("{} {}", decimal_text(self.value, 3), unit.word()))],
        }
    }
}
