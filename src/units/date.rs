//! Dates as ISO 8601 writes them.

/// A day of the Gregorian calendar, from the year 1970 to 9999.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date {
    year: u16,
    month: u8,
    day: u8,
}

impl Date {
    /// Reads `2026-03-01`.
    pub fn parse(text: &str) -> Option<Self> {
        let bytes = text.as_bytes();
        let digits = |range: std::ops::Range<usize>| {
            let part = text.get(range)?;
            part.bytes().all(|b| b.is_ascii_digit()).then(|| part.parse::<u16>().ok())?
        };
        if bytes.len() != 10 || bytes[4] != b'-' || bytes[7] != b'-' {
            return None;
        }
        let (year, month, day) = (digits(0..4)?, digits(5..7)? as u8, digits(8..10)? as u8);
        let good = year >= 1970 && (1..=12).contains(&month) && (1..=days(year, month)).contains(&day);
        good.then_some(Self { year, month, day })
    }

    /// The day that is so many days after 1970-01-01.
    pub fn after_epoch(days_after: u64) -> Option<Self> {
        let (mut left, mut year) = (days_after, 1970_u16);
        loop {
            let length = if leap(year) { 366 } else { 365 };
            if left < length {
                break;
            }
            left -= length;
            year = year.checked_add(1).filter(|y| *y <= 9999)?;
        }
        let mut month = 1;
        while left >= u64::from(days(year, month)) {
            left -= u64::from(days(year, month));
            month += 1;
        }
        Some(Self { year, month, day: left as u8 + 1 })
    }
}

fn leap(year: u16) -> bool {
    year.is_multiple_of(4) && (!year.is_multiple_of(100) || year.is_multiple_of(400))
}

fn days(year: u16, month: u8) -> u8 {
    match month {
        2 if leap(year) => 29,
        2 => 28,
        4 | 6 | 9 | 11 => 30,
        _ => 31,
    }
}

impl std::fmt::Display for Date {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{:04}-{:02}-{:02}", self.year, self.month, self.day)
    }
}

#[cfg(test)]
mod tests {
    use super::Date;

    #[test]
    fn dates_are_real_days() {
        for good in ["2024-02-29", "2000-02-29", "1970-01-01", "9999-12-31"] {
            assert_eq!(Date::parse(good).unwrap().to_string(), good);
        }
        for bad in [
            "2023-02-29",
            "1900-02-29",
            "2026-13-01",
            "2026-1-01",
            "26-01-01",
            "2026-04-31",
            "+026-01-01",
            "2026/01/01",
            "",
        ] {
            assert_eq!(Date::parse(bad), None, "{bad}");
        }
    }

    /// The days are those of `date -u -d @…` of GNU coreutils.
    #[test]
    fn days_are_counted_from_the_epoch() {
        for (days, date) in [(0, "1970-01-01"), (59, "1970-03-01"), (11_016, "2000-02-29"), (20_423, "2025-12-01")] {
            assert_eq!(Date::after_epoch(days).unwrap().to_string(), date);
        }
        assert_eq!(Date::after_epoch(u64::MAX), None);
    }
}
