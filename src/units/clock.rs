//! Clock positions around a tube.

use super::rational::UnreadableNumber;

/// A position around a tube's end, 1 to 12, looking at that end. The datum line is 12 at both ends, so what
/// is 3 at one end is 9 at the other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Clock(u8);

impl Clock {
    /// The datum line.
    pub const TWELVE: Self = Self(12);

    /// Reads `12`, `3 o'clock`.
    ///
    /// # Errors
    /// A text that is no whole hour from 1 to 12.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let digits = text.trim().trim_end_matches("o'clock").trim();
        match digits.parse::<u8>() {
            Ok(hour @ 1..=12) => Ok(Self(hour)),
            _ => Err(UnreadableNumber(format!("`{}` is not a clock position from 1 to 12", text.trim()))),
        }
    }

    /// The hour, 1 to 12.
    pub fn hour(self) -> u8 {
        self.0
    }

    /// The position across the tube.
    pub fn across(self) -> Self {
        Self((self.0 + 5) % 12 + 1)
    }

    /// The same line of the tube as it is named when looking at the other end.
    pub fn from_other_end(self) -> Self {
        Self(if self.0 == 12 { 12 } else { 12 - self.0 })
    }
}

impl std::fmt::Display for Clock {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} o'clock", self.0)
    }
}
