//! Lengths, exact in inches.

use super::rational::{Rational, UnreadableNumber, decimal_text, mixed, sign, split_unit};
use super::style::{UnitStyle, ValuePiece};

/// A length, kept exactly. One inch is 25.4 mm by definition (international inch, 1959).
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Length(Rational);

impl Length {
    /// No length.
    pub const ZERO: Self = Self(Rational::new_raw(0, 1));

    /// `numerator/denominator` inches. `denominator` must not be zero.
    pub fn inches(numerator: i64, denominator: i64) -> Self {
        Self(Rational::new(numerator, denominator))
    }

    /// A length from an exact number of inches.
    pub fn from_inches(inches: Rational) -> Self {
        Self(inches)
    }

    /// `numerator/denominator` millimetres. `denominator` must not be zero.
    pub fn millimetres(numerator: i64, denominator: i64) -> Self {
        Self(Rational::new(numerator, denominator) * Rational::new(5, 127))
    }

    /// Inches, exactly.
    pub fn as_inches(self) -> Rational {
        self.0
    }

    /// Inches as a floating-point number, for geometry and drawing.
    pub fn to_f64(self) -> f64 {
        *self.0.numer() as f64 / *self.0.denom() as f64
    }

    /// Reads `23 15/16`, `23-15/16`, `23.9375 in`, `608 mm`, `12 ft 3 in`, `1'-6"`. Without a unit: inches.
    ///
    /// # Errors
    /// A text that is no length, with what was expected.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let unreadable = || UnreadableNumber(format!("`{}` is not a length", text.trim()));
        let plain = without_typography(text);
        let (negative, rest) = sign(plain.as_deref().unwrap_or(text));
        let value = Self::parse_unsigned(rest).ok_or_else(unreadable)?;
        Ok(if negative { Self(-value.0) } else { value })
    }

    fn parse_unsigned(text: &str) -> Option<Self> {
        let (number, unit) = split_unit(text);
        match unit {
            "" | "in" | "in." | "inch" | "inches" | "\"" | "\u{2033}" => mixed(number).map(Self),
            "mm" => Some(Self(mixed(number)? * Rational::new(5, 127))),
            "cm" => Some(Self(mixed(number)? * Rational::new(50, 127))),
            "m" => Some(Self(mixed(number)? * Rational::new(5000, 127))),
            _ => {
                let rest = unit
                    .strip_prefix("ft")
                    .or_else(|| unit.strip_prefix('\''))
                    .or_else(|| unit.strip_prefix('\u{2032}'))?;
                let feet = mixed(number)? * Rational::from_integer(12);
                let rest = rest.trim_start().trim_start_matches(['-', '.']).trim();
                if rest.is_empty() {
                    return Some(Self(feet));
                }
                let (number, unit) = split_unit(rest);
                matches!(unit, "in" | "in." | "\"" | "\u{2033}" | "inch" | "inches")
                    .then(|| mixed(number).map(|inches| Self(feet + inches)))
                    .flatten()
            }
        }
    }

    /// The pieces of this length in `style`, with its unit.
    pub fn pieces(self, style: UnitStyle) -> Vec<ValuePiece> {
        match style {
            UnitStyle::InchFraction => self.inch_pieces(),
            UnitStyle::InchDecimal => vec![ValuePiece::Text(format!("{} in", decimal_text(self.0, 4)))],
            UnitStyle::Millimetre => vec![ValuePiece::Text(self.millimetre_text())],
            UnitStyle::Both => {
                let mut pieces = self.inch_pieces();
                pieces.push(ValuePiece::Text(format!(" ({})", self.millimetre_text())));
                pieces
            }
        }
    }

    fn millimetre_text(self) -> String {
        format!("{} mm", decimal_text(self.0 * Rational::new(127, 5), 1))
    }

    /// Inch fraction where the value is a whole number of 64ths, else decimal: a fraction is never rounded.
    fn inch_pieces(self) -> Vec<ValuePiece> {
        let (n, d) = (*self.0.numer(), *self.0.denom());
        if d == 1 || !matches!(d, 2 | 4 | 8 | 16 | 32 | 64) {
            return vec![ValuePiece::Text(format!("{} in", decimal_text(self.0, 4)))];
        }
        let mut lead = String::new();
        if n < 0 {
            lead.push('\u{2212}');
        }
        let (whole, rest) = (n.abs() / d, n.abs() % d);
        if whole != 0 {
            lead.push_str(&whole.to_string());
        }
        let mut pieces = Vec::with_capacity(3);
        if !lead.is_empty() {
            pieces.push(ValuePiece::Text(lead));
        }
        pieces.push(ValuePiece::Fraction { numerator: rest as u32, denominator: d as u32 });
        pieces.push(ValuePiece::Text(" in".to_owned()));
        pieces
    }
}

/// What a word processor makes of `5 1/2"`: fractions of one sign, curved marks, blanks that do not break. None where there is none.
fn without_typography(text: &str) -> Option<String> {
    // The fractions of Unicode's Latin-1 Supplement and Number Forms that are on a tape.
    const FRACTIONS: [(char, &str); 7] =
        [('¼', "1/4"), ('½', "1/2"), ('¾', "3/4"), ('⅛', "1/8"), ('⅜', "3/8"), ('⅝', "5/8"), ('⅞', "7/8")];
    if text.is_ascii() {
        return None;
    }
    let mut plain = String::with_capacity(text.len() + 4);
    for c in text.chars() {
        match FRACTIONS.iter().find(|(sign, _)| *sign == c) {
            Some((_, fraction)) => {
                plain.push(' ');
                plain.push_str(fraction);
            }
            None => plain.push(match c {
                '\u{201D}' | '\u{201C}' => '"',
                '\u{2019}' => '\'',
                '\u{A0}' | '\u{202F}' => ' ',
                '\u{2044}' => '/',
                c => c,
            }),
        }
    }
    Some(plain)
}

impl std::ops::Add for Length {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self(self.0 + other.0)
    }
}

impl std::ops::Sub for Length {
    type Output = Self;
    fn sub(self, other: Self) -> Self {
        Self(self.0 - other.0)
    }
}

impl std::ops::Mul<i64> for Length {
    type Output = Self;
    fn mul(self, times: i64) -> Self {
        Self(self.0 * Rational::from_integer(times))
    }
}

impl std::iter::Sum for Length {
    fn sum<I: Iterator<Item = Self>>(iter: I) -> Self {
        iter.fold(Self::ZERO, |a, b| a + b)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_every_spelling_exactly() {
        let expected = Length::inches(383, 16);
        for text in ["23 15/16", "23-15/16", "23.9375", "23.9375 in", "23 15/16\"", "1 ft 11 15/16 in", "1'-11 15/16\""]
        {
            assert_eq!(Length::parse(text), Ok(expected), "{text}");
        }
        for text in ["23 15\u{2044}16", "23\u{A0}15/16\u{201D}", "1\u{2019}-11 15/16\u{201D}"] {
            assert_eq!(Length::parse(text), Ok(expected), "{text}");
        }
        assert_eq!(Length::parse("35½"), Ok(Length::inches(71, 2)));
        assert_eq!(Length::parse("-⅜ in"), Ok(Length::inches(-3, 8)));
        assert!(Length::parse("1/2½").is_err() && Length::parse("½½").is_err());
        assert_eq!(Length::parse("608 mm"), Ok(Length::inches(608 * 5, 127)));
        assert_eq!(Length::parse("12 ft 3 in"), Ok(Length::inches(147, 1)));
        assert_eq!(Length::parse("-1/32"), Ok(Length::inches(-1, 32)));
        assert_eq!(Length::parse(".032"), Ok(Length::inches(4, 125)));
    }

    proptest::proptest! {
        /// A fraction stays exact through every unit it is written in: 64ths of an inch and tenths of a millimetre.
        #[test]
        fn conversions_are_exact(sixty_fourths in 1_i64..100_000, tenths in 1_i64..100_000) {
            let length = Length::inches(sixty_fourths, 64);
            let written = super::super::style::plain(&length.pieces(UnitStyle::InchFraction));
            proptest::prop_assert_eq!(Length::parse(&written), Ok(length), "{}", written);
            let metric = Length::millimetres(tenths, 10);
            let written = super::super::style::plain(&metric.pieces(UnitStyle::Millimetre));
            proptest::prop_assert_eq!(Length::parse(&written), Ok(metric), "{}", written);
            // 25.4 mm are an inch, exactly, there and back.
            proptest::prop_assert_eq!(Length::from_inches(metric.as_inches() * Rational::new(127, 5)).as_inches(), Rational::new(tenths, 10));
            proptest::prop_assert_eq!(length + metric - metric, length);
        }
    }

    #[test]
    fn refuses_what_is_no_length() {
        for text in ["", "abc", "1/0", "12 furlong", "1 2 3", "1..2", "--3", "9999999999999999999", "1e9", "NaN"] {
            assert!(Length::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn writes_a_fraction_only_where_it_is_exact() {
        let show = |l: Length, s| super::super::style::plain(&l.pieces(s));
        assert_eq!(show(Length::inches(383, 16), UnitStyle::InchFraction), "23 15/16 in");
        assert_eq!(show(Length::inches(4, 125), UnitStyle::InchFraction), "0.032 in");
        assert_eq!(show(Length::inches(1, 1), UnitStyle::Both), "1 in (25.4 mm)");
        assert_eq!(show(Length::inches(-1, 2), UnitStyle::InchFraction), "\u{2212}1/2 in");
    }
}
