//! Spans of time and temperatures: how long something sets, and how warm it has to be.

use super::rational::{Rational, UnreadableNumber, decimal_text, mixed, sign, split_unit};

/// A span of time, kept exactly in hours; never negative.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Period(Rational);

impl Period {
    /// `n` hours.
    pub fn hours(n: i64) -> Self {
        Self(Rational::from_integer(n))
    }

    /// Hours, exactly.
    pub fn as_hours(self) -> Rational {
        self.0
    }

    /// Whole minutes, rounded up: what must wait never begins early.
    pub fn minutes_up(self) -> i64 {
        *(self.0 * Rational::from_integer(60)).ceil().numer()
    }

    /// Reads `24 h`, `90 min`, `7 d`.
    ///
    /// # Errors
    /// A text that is no span of time; one without a unit.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let (number, unit) = split_unit(text);
        let hours = match unit {
            "min" | "minutes" => Some(Rational::new(1, 60)),
            "h" | "hour" | "hours" => Some(Rational::from_integer(1)),
            "d" | "day" | "days" => Some(Rational::from_integer(24)),
            _ => None,
        };
        match (mixed(number), hours) {
            (Some(value), Some(hours)) if value <= Rational::from_integer(100_000) => Ok(Self(value * hours)),
            _ => Err(UnreadableNumber(format!("`{}` is not a time with its unit (min, h, d)", text.trim()))),
        }
    }
}

impl std::fmt::Display for Period {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let one = Rational::from_integer(1);
        let days = self.0 / Rational::from_integer(24);
        let (value, word) = if self.0 < one {
            (self.0 * Rational::from_integer(60), "minute")
        } else if days >= Rational::from_integer(3) && days.is_integer() {
            (days, "day")
        } else {
            (self.0, "hour")
        };
        let end = if value == one { "" } else { "s" };
        write!(f, "{} {word}{end}", decimal_text(value, 2))
    }
}

/// A temperature, kept exactly in degrees Celsius.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Temperature(Rational);

impl Temperature {
    /// Degrees Celsius, exactly.
    pub fn as_celsius(self) -> Rational {
        self.0
    }

    /// Reads `20 C`, `68 F`.
    ///
    /// # Errors
    /// A text that is no temperature; one without a unit.
    pub fn parse(text: &str) -> Result<Self, UnreadableNumber> {
        let (negative, rest) = sign(text);
        let (number, unit) = split_unit(rest);
        let value = mixed(number).map(|v| if negative { -v } else { v });
        match (value, unit.trim_start_matches('\u{b0}').trim_start_matches("deg ").trim()) {
            (Some(value), "C") => Ok(Self(value)),
            (Some(value), "F") => Ok(Self((value - Rational::from_integer(32)) * Rational::new(5, 9))),
            _ => Err(UnreadableNumber(format!("`{}` is not a temperature with its unit (C or F)", text.trim()))),
        }
    }
}

impl std::fmt::Display for Temperature {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let fahrenheit = self.0 * Rational::new(9, 5) + Rational::from_integer(32);
        write!(f, "{}\u{a0}°C ({}\u{a0}°F)", decimal_text(self.0, 0), decimal_text(fahrenheit, 0))
    }
}

#[cfg(test)]
mod tests {
    use super::{Period, Temperature};

    #[test]
    fn a_time_says_its_unit() {
        let words = |text: &str| Period::parse(text).map(|p| p.to_string()).map_err(|e| e.0);
        assert_eq!(words("24 h").as_deref(), Ok("24 hours"));
        assert_eq!(words("90 min").as_deref(), Ok("1.5 hours"));
        assert_eq!(words("7 d").as_deref(), Ok("7 days"));
        assert_eq!(words("20 min").as_deref(), Ok("20 minutes"));
        assert!(words("24").is_err() && words("h").is_err() && words("-2 h").is_err());
        assert_eq!(Period::parse("10.5 min").map(Period::minutes_up), Ok(11));
    }

    /// The definition of degrees Fahrenheit: 32 at 0 °C, 212 at 100 °C.
    #[test]
    fn a_temperature_is_kept_in_celsius() {
        let words = |text: &str| Temperature::parse(text).map(|t| t.to_string()).map_err(|e| e.0);
        assert_eq!(words("20 C").as_deref(), Ok("20\u{a0}°C (68\u{a0}°F)"));
        assert_eq!(words("68 °F").as_deref(), Ok("20\u{a0}°C (68\u{a0}°F)"));
        assert_eq!(words("212 F").as_deref(), Ok("100\u{a0}°C (212\u{a0}°F)"));
        assert!(words("20").is_err());
    }
}
