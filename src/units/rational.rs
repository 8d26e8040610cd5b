//! Exact numbers. Inch fractions and decimals are rationals, so that nothing is lost on the way to print.

/// An exact number; always in lowest terms.
pub type Rational = num_rational::Ratio<i64>;

/// Why a text could not be read as a value. Its text is a lower case headline without a full stop.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnreadableNumber(pub String);

impl std::fmt::Display for UnreadableNumber {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for UnreadableNumber {}

/// Reads an unsigned decimal such as `12`, `0.125`, `.032`. At most nine digits on either side.
pub(super) fn decimal(text: &str) -> Option<Rational> {
    let (whole, fraction) = text.split_once('.').unwrap_or((text, ""));
    if whole.is_empty() && fraction.is_empty() || whole.len() > 9 || fraction.len() > 6 {
        return None;
    }
    let digits = |s: &str| -> Option<i64> {
        if s.is_empty() {
            return Some(0);
        }
        s.bytes().all(|b| b.is_ascii_digit()).then(|| s.parse().ok()).flatten()
    };
    let scale = 10_i64.pow(fraction.len() as u32);
    Some(Rational::new(digits(whole)? * scale + digits(fraction)?, scale))
}

/// Reads an unsigned number with an optional common fraction: `23 15/16`, `23-15/16`, `15/16`, `23.5`.
pub(super) fn mixed(text: &str) -> Option<Rational> {
    let text = text.trim();
    let Some((head, denominator)) = text.split_once('/') else {
        return decimal(text);
    };
    let denominator = denominator.trim();
    let head = head.trim_end();
    let (whole, numerator) = match head.rfind([' ', '-']) {
        Some(at) => (head[..at].trim(), head[at + 1..].trim()),
        None => ("0", head),
    };
    let small = |s: &str| -> Option<i64> {
        (s.len() <= 5 && !s.is_empty() && s.bytes().all(|b| b.is_ascii_digit())).then(|| s.parse().ok()).flatten()
    };
    let (numerator, denominator) = (small(numerator)?, small(denominator)?);
    if denominator == 0 {
        return None;
    }
    let whole = if whole.len() <= 9 && !whole.is_empty() && whole.bytes().all(|b| b.is_ascii_digit()) {
        whole.parse::<i64>().ok()?
    } else {
        return None;
    };
    Some(Rational::from_integer(whole) + Rational::new(numerator, denominator))
}

/// Splits a leading sign off: `-1/2` is (true, `1/2`). A minus between whole and fraction is not a sign.
pub(super) fn sign(text: &str) -> (bool, &str) {
    let text = text.trim();
    match text.strip_prefix(['-', '\u{2212}']) {
        Some(rest) => (true, rest.trim_start()),
        None => (false, text.strip_prefix('+').unwrap_or(text).trim_start()),
    }
}

/// Splits a number from the unit written behind it: `608 mm` is (`608`, `mm`), `12°` is (`12`, `°`).
pub(super) fn split_unit(text: &str) -> (&str, &str) {
    let text = text.trim();
    let at = text
        .char_indices()
        .find(|&(_, c)| !(c.is_ascii_digit() || matches!(c, '.' | '/' | ' ' | '-' | '+' | '\u{2212}')))
        .map_or(text.len(), |(i, _)| i);
    (text[..at].trim(), text[at..].trim())
}

/// Decimal text of `value` with at most `places` digits behind the point, trailing zeros dropped.
/// Rounds half away from zero.
pub fn decimal_text(value: Rational, places: u32) -> String {
    let scale = 10_i128.pow(places);
    let n = i128::from(*value.numer()) * scale;
    let d = i128::from(*value.denom());
    let rounded = (n.abs() * 2 + d) / (2 * d);
    let negative = n < 0 && rounded != 0;
    let (whole, fraction) = (rounded / scale, rounded % scale);
    let mut text = format!("{}{whole}", if negative { "\u{2212}" } else { "" });
    if fraction != 0 {
        let digits = format!("{fraction:0width$}", width = places as usize);
        text.push('.');
        text.push_str(digits.trim_end_matches('0'));
    }
    text
}
