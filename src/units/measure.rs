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
        }
    }
}

/// A value to be measured. Lengths are in inches, angles in degrees.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Measure {
    pub value: Rational,
    pub unit: MeasureUnit,
}

impl Measure {
    /// Reads `1/32`, `23 mm`, `30 deg`, `120 lb`, `60 in-lb`, `8 N m`, `25 psi`. Without a unit: inches.
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
        let unit = match unit {
            "lb" | "lbf" => Some(MeasureUnit::PoundForce),
            "N" => Some(MeasureUnit::Newton),
            "in-lb" | "in lb" => Some(MeasureUnit::InchPound),
            "N m" | "Nm" => Some(MeasureUnit::NewtonMetre),
            "psi" => Some(MeasureUnit::PoundPerSquareInch),
            _ => None,
        };
        match (unit, mixed(number)) {
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
