//! Text as it is set: fractions as such, apostrophes and quotation marks in their printed form, numbers tied to their units.
//!
//! Owns: what of a text is set otherwise than it is typed. Must not know: faces, markup.

use std::borrow::Cow;

use crate::units::ValuePiece;

/// A stretch of text as it is set.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SetRun<'a> {
    Words(Cow<'a, str>),
    /// A number with a fraction, never broken: `14 1/8`.
    Value(Vec<ValuePiece>),
}

/// The divisions of a tape or a drill gauge: what stands under a stroke in a measured fraction.
const DENOMINATORS: [u32; 6] = [2, 4, 8, 16, 32, 64];

/// What a number is not parted from, as authors write it.
const UNITS: [&str; 26] = [
    "in", "ft", "mm", "cm", "m", "km", "g", "kg", "lb", "oz", "in-lb", "ft-lb", "N", "ml", "l", "psi", "bar", "V", "A",
    "°C", "°F", "hour", "hours", "minutes", "days", "o'clock",
];

/// The runs of a text, in order. What they say is what the text says.
pub fn set_text(text: &str) -> Vec<SetRun<'_>> {
    let mut out = Vec::new();
    let mut from = 0;
    let mut at = 0;
    while let Some(slash) = text[at..].find('/').map(|i| at + i) {
        at = slash + 1;
        let Some((start, end, pieces)) = fraction_at(text, slash).filter(|(start, ..)| *start >= from) else {
            continue;
        };
        if start > from {
            out.push(SetRun::Words(words(&text[from..start], from > 0)));
        }
        out.push(SetRun::Value(pieces));
        (from, at) = (end, end);
    }
    if from < text.len() || out.is_empty() {
        out.push(SetRun::Words(words(&text[from..], from > 0)));
    }
    out
}

/// The fraction around a stroke, with a whole number before it: where it begins and ends.
fn fraction_at(text: &str, slash: usize) -> Option<(usize, usize, Vec<ValuePiece>)> {
    let digits_back = |to: usize| to - text[..to].bytes().rev().take_while(u8::is_ascii_digit).count();
    let start = digits_back(slash);
    let end = slash + 1 + text[slash + 1..].bytes().take_while(u8::is_ascii_digit).count();
    let numerator: u32 = text[start..slash].parse().ok()?;
    let denominator: u32 = text[slash + 1..end].parse().ok()?;
    let free =
        |c: Option<char>| !c.is_some_and(|c| c.is_alphanumeric() || matches!(c, '/' | '.' | '-' | '_' | ',' | '±'));
    let after = text[end..].chars().next();
    let ends = !after.is_some_and(|c| c.is_alphanumeric() || matches!(c, '/' | '_'))
        && !text[end..].strip_prefix('.').is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()));
    if !DENOMINATORS.contains(&denominator) || numerator == 0 || numerator >= denominator || !ends {
        return None;
    }
    let mut pieces = vec![ValuePiece::Fraction { numerator, denominator }];
    let before = text[..start].strip_suffix(' ').map(str::len);
    if let Some(space) = before {
        let whole = digits_back(space);
        if whole < space && free(text[..whole].chars().next_back()) {
            pieces.insert(0, ValuePiece::Text(text[whole..space].to_owned()));
            return Some((whole, end, pieces));
        }
    }
    let before = text[..start].chars().next_back();
    (free(before) || before == Some('±')).then_some((start, end, pieces))
}

/// The words of a text with printed apostrophes and quotation marks, and with numbers tied to their units; whether a value
/// stands before it.
fn words(text: &str, after_value: bool) -> Cow<'_, str> {
    // Most words have nothing of all this.
    if !after_value && !text.contains(|c: char| matches!(c, '\'' | '"') || c.is_ascii_digit()) {
        return Cow::Borrowed(text);
    }
    let mut out = String::with_capacity(text.len());
    let mut open = false;
    for (at, c) in text.char_indices() {
        let (before, rest) = (out.chars().next_back(), &text[at + c.len_utf8()..]);
        let begins = before.is_none_or(|b| b.is_whitespace() || matches!(b, '(' | '[' | '\u{201c}' | '\u{2018}'));
        out.push(match c {
            // A quotation is closed somewhere; an apostrophe is not.
            '\'' if begins && closes(rest) => {
                open = true;
                '\u{2018}'
            }
            '\'' => {
                open = false;
                '\u{2019}'
            }
            // Behind a number it means inches.
            '"' if !open && before.is_some_and(|b| b.is_ascii_digit()) => '"',
            '"' if begins && rest.starts_with(char::is_alphanumeric) => '\u{201c}',
            '"' => '\u{201d}',
            ' ' if before.is_some_and(|b| b.is_ascii_digit()) && begins_with_unit(rest) => '\u{a0}',
            // `N m`
            ' ' if out.ends_with("\u{a0}N") && begins_with_unit(rest) => '\u{a0}',
            ' ' if after_value && at == 0 && begins_with_unit(rest) => '\u{a0}',
            c => c,
        });
    }
    Cow::Owned(out)
}

/// Whether a single quotation mark follows that ends a word.
fn closes(rest: &str) -> bool {
    rest.char_indices().any(|(at, c)| c == '\'' && at > 0 && !rest[at + 1..].starts_with(char::is_alphanumeric))
}

fn begins_with_unit(rest: &str) -> bool {
    let end = rest.find(|c: char| !(c.is_alphanumeric() || matches!(c, '-' | '\'' | '°'))).unwrap_or(rest.len());
    UNITS.contains(&&rest[..end])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn shown(text: &str) -> String {
        let run = |run: &SetRun| match run {
            SetRun::Words(words) => words.replace('\u{a0}', "~"),
            SetRun::Value(pieces) => format!("[{}]", crate::units::plain(pieces)),
        };
        set_text(text).iter().map(run).collect()
    }

    #[test]
    fn measured_fractions_are_set_as_such_and_names_are_not() {
        for (typed, set) in [
            ("Drill 1/4 in (.250) through.", "Drill [1/4]~in (.250) through."),
            ("14 1/8 in ± 1/8 in", "[14 1/8]~in ± [1/8]~in"),
            ("±1/16", "±[1/16]"),
            ("thread 1/4-28", "thread [1/4]-28"),
            ("(5/16)", "([5/16])"),
            ("TB-1/4, CS-1/8", "TB-1/4, CS-1/8"),
            ("7/19, 4/2, 10/4, 3/4/5, 1/2.5, and/or", "7/19, 4/2, 10/4, 3/4/5, 1/2.5, and/or"),
            ("half: 1/2.", "half: [1/2]."),
            ("A2 1/2", "A2 [1/2]"),
            ("", ""),
        ] {
            assert_eq!(shown(typed), set, "{typed}");
        }
    }

    #[test]
    fn apostrophes_and_quotation_marks_are_printed_ones() {
        for (typed, set) in [
            ("the designer's value", "the designer\u{2019}s value"),
            ("the bolts' heads", "the bolts\u{2019} heads"),
            ("'s", "\u{2019}s"),
            ("say 'on' and \"off\".", "say \u{2018}on\u{2019} and \u{201c}off\u{201d}."),
            ("a 4\" drill", "a 4\" drill"),
            ("at 3 o'clock", "at 3~o\u{2019}clock"),
        ] {
            assert_eq!(shown(typed), set, "{typed}");
        }
    }

    #[test]
    fn a_number_is_not_parted_from_its_unit() {
        assert_eq!(
            shown("30 in-lb (3.4 N m), 0.5 hours, 2 bolts in 3 steps"),
            "30~in-lb (3.4~N~m), 0.5~hours, 2 bolts in 3 steps"
        );
    }
}
