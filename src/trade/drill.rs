//! Drills by number, letter, fraction and millimetre.

use super::cited::mils;
use super::{Cited, Source};
use crate::units::{Length, Rational, UnreadableNumber};

const GAUGE: Source = Source::Published("ASME B94.11M drill sizes, as printed in general drill tables");
const ITSELF: Source = Source::Published("the size itself");

/// Diameters of the numbered drills from No. 1, in ten-thousandths of an inch.
const NUMBERS: [u16; 80] = [
    2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, // 1 to 10
    1910, 1890, 1850, 1820, 1800, 1770, 1730, 1695, 1660, 1610, // 11 to 20
    1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, // 21 to 30
    1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015, 995, 980, // 31 to 40
    960, 935, 890, 860, 820, 810, 785, 760, 730, 700, // 41 to 50
    670, 635, 595, 550, 520, 465, 430, 420, 410, 400, // 51 to 60
    390, 380, 370, 360, 350, 330, 320, 310, 292, 280, // 61 to 70
    260, 250, 240, 225, 210, 200, 180, 160, 145, 135, // 71 to 80
];

/// Diameters of the letter drills from A, in thousandths of an inch.
const LETTERS: [u16; 26] = [
    234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295, // A to M
    302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413, // N to Z
];

/// Numbers whose size the tables at hand round to thousandths; the exact size is from memory.
const ROUNDED: [u8; 6] = [5, 10, 18, 25, 28, 69];

/// Largest drill that is read, in inches.
const LARGEST: i64 = 4;

/// A drill as it is called in the shop.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Drill {
    /// 1 to 80.
    Number(u8),
    /// `A` to `Z`.
    Letter(char),
    /// A fraction of an inch, in sixty-fourths.
    SixtyFourths(u16),
    /// A size in millimetres.
    Millimetre(Length),
    /// A size in decimal inches that is no fraction.
    Decimal(Length),
}

impl Drill {
    /// Reads `#30`, `No. 30`, `F`, `letter F`, `1/4`, `1 1/8 in`, `.257`, `6.5 mm`.
    ///
    /// ```
    /// use kitwright::{trade::Drill, units::Length};
    /// let drill = Drill::parse("#30").unwrap();
    /// assert_eq!(drill.size().value, Length::parse(".1285").unwrap());
    /// assert_eq!(drill.to_string(), "No. 30");
    /// assert!(Drill::parse("30").is_err());
    /// ```
    ///
    /// # Errors
    /// A text that is no drill, with what is near it.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let text = text.trim();
        let lower = text.to_ascii_lowercase();
        if let Some(number) = ["#", "no.", "no ", "number "].iter().find_map(|p| lower.strip_prefix(p)) {
            let number = number.trim();
            return match number.parse::<u8>() {
                Ok(n @ 1..=80) if number.bytes().all(|b| b.is_ascii_digit()) => Ok(Self::Number(n)),
                _ => Err(UnreadableNumber(format!("`{text}` is no numbered drill; they run from No. 1 to No. 80"))),
            };
        }
        let letter = lower.strip_prefix("letter ").map_or(text, |_| &text["letter ".len()..]).trim();
        if let [letter] = letter.as_bytes()
            && letter.is_ascii_alphabetic()
        {
            return Ok(Self::Letter(char::from(letter.to_ascii_uppercase())));
        }
        if !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit()) {
            return Err(UnreadableNumber(format!(
                "`{text}` may be a numbered drill or a size; write `#{text}`, `{text} in` or `{text} mm`"
            )));
        }
        let length = Length::parse(text).map_err(|_| UnreadableNumber(format!("`{text}` is not a drill")))?;
        if length <= Length::ZERO || length > Length::inches(LARGEST, 1) {
            return Err(UnreadableNumber(format!("`{text}` is no size for a drill, which has 0 to {LARGEST} in")));
        }
        if lower.ends_with('m') {
            return Ok(Self::Millimetre(length));
        }
        let parts = length.as_inches() * Rational::from_integer(64);
        Ok(if parts.is_integer() { Self::SixtyFourths(parts.to_integer() as u16) } else { Self::Decimal(length) })
    }

    /// The exact diameter.
    pub fn size(self) -> Cited<Length> {
        match self {
            Self::Number(n) => {
                let size = NUMBERS[usize::from(n.clamp(1, 80)) - 1];
                let source = if ROUNDED.contains(&n) { Source::FromMemory } else { GAUGE };
                Cited::new(Length::inches(i64::from(size), 10_000), source)
            }
            Self::Letter(letter) => {
                let at = (letter.to_ascii_uppercase() as usize).wrapping_sub('A' as usize).min(25);
                Cited::new(mils(i64::from(LETTERS[at])), GAUGE)
            }
            Self::SixtyFourths(n) => Cited::new(Length::inches(i64::from(n), 64), ITSELF),
            Self::Millimetre(size) | Self::Decimal(size) => Cited::new(size, ITSELF),
        }
    }

    /// The size in decimal inches as the shop reads it, at most four places: `.1285`.
    pub fn decimal(self) -> String {
        let tenths = (self.size().value.as_inches() * Rational::from_integer(10_000)).round().to_integer();
        let digits = format!("{:04}", tenths % 10_000);
        let digits = if digits.ends_with('0') { &digits[..3] } else { &digits[..] };
        if tenths >= 10_000 { format!("{}.{digits}", tenths / 10_000) } else { format!(".{digits}") }
    }

    /// All numbered and letter drills, smallest first.
    pub fn gauges() -> impl Iterator<Item = Self> {
        (1..=80).rev().map(Self::Number).chain(('A'..='Z').map(Self::Letter))
    }
}

impl std::fmt::Display for Drill {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match *self {
            Self::Number(n) => write!(f, "No. {n}"),
            Self::Letter(letter) => write!(f, "letter {letter}"),
            Self::SixtyFourths(_) => f.write_str(&fraction(self.size().value)),
            Self::Millimetre(size) => {
                let hundredths = (size.as_inches() * Rational::new(2540, 1)).round().to_integer();
                let text = format!("{}.{:02}", hundredths / 100, hundredths % 100);
                write!(f, "{} mm", text.trim_end_matches('0').trim_end_matches('.'))
            }
            Self::Decimal(_) => write!(f, "{} in", self.decimal()),
        }
    }
}

fn fraction(length: Length) -> String {
    let (whole, rest) = (length.as_inches().to_integer(), length.as_inches().fract());
    match (whole, *rest.numer()) {
        (w, 0) => format!("{w} in"),
        (0, n) => format!("{n}/{} in", rest.denom()),
        (w, n) => format!("{w} {n}/{} in", rest.denom()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_the_shop_writes() {
        for (text, words, decimal) in [
            ("#30", "No. 30", ".1285"),
            ("No. 30", "No. 30", ".1285"),
            ("no 40", "No. 40", ".098"),
            ("F", "letter F", ".257"),
            ("letter f", "letter F", ".257"),
            ("1/4", "1/4 in", ".250"),
            ("1/64", "1/64 in", ".0156"),
            ("1 1/8", "1 1/8 in", "1.125"),
            ("6.5 mm", "6.5 mm", ".2559"),
            ("3 in", "3 in", "3.000"),
            (".190", ".190 in", ".190"),
        ] {
            let drill = Drill::parse(text).expect(text);
            assert_eq!((drill.to_string().as_str(), drill.decimal().as_str()), (words, decimal), "{text}");
        }
        for text in ["", "#0", "#81", "#3.5", "30", "3", "Hand", "0", "-1/4", "5 in", "#", "AA", "1/0"] {
            assert!(Drill::parse(text).is_err(), "{text}");
        }
    }

    #[test]
    fn gauges_grow() {
        let sizes: Vec<_> = Drill::gauges().map(|d| d.size().value).collect();
        assert_eq!(sizes.len(), 106);
        assert!(sizes.windows(2).all(|pair| pair[0] < pair[1]));
    }
}
