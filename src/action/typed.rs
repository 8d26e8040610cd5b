//! Values that an author has typed into a sentence: torques, sizes of drills, lengths.
//!
//! Must not know: which of them are right.

use crate::source::Span;
use crate::syntax::markdown::{MdBlock, MdInline, MdInlineKind, each_block, each_inline};
use crate::trade::{Drill, inch_pounds};
use crate::units::{Length, Measure, MeasureUnit, Rational};

/// A value in a sentence, with its place.
#[derive(Clone, Debug, PartialEq)]
pub struct TypedValue {
    pub span: Span,
    pub kind: TypedKind,
}

#[derive(Clone, Debug, PartialEq)]
pub enum TypedKind {
    /// From the least to the most, in-lb, not rounded.
    Torque(Rational, Rational),
    Drill(Drill),
    Length(Length),
}

struct Token<'a> {
    text: &'a str,
    span: Span,
}

/// The torques, drills and lengths in some blocks, in reading order. A size counts as a drill where a bit, a drill or a reamer
/// is spoken of right behind it, or where it has a number as drills have.
pub fn typed_values(blocks: &[MdBlock]) -> Vec<TypedValue> {
    let mut out = Vec::new();
    each_block(blocks, &mut |block| {
        for run in block.runs() {
            in_run(run, &mut out);
        }
    });
    out
}

/// The same of a text in the front matter, all at one place.
pub fn typed_in(text: &str, span: Span) -> Vec<TypedValue> {
    let tokens: Vec<Token> = text.split_whitespace().map(|text| Token { text, span }).collect();
    let mut out = Vec::new();
    in_tokens(&tokens, &mut out);
    out
}

fn in_run(run: &[MdInline], out: &mut Vec<TypedValue>) {
    let mut tokens = Vec::new();
    each_inline(run, &mut |inline| {
        let MdInlineKind::Text(text) = &inline.kind else { return };
        let exact = (inline.span.end - inline.span.start) as usize == text.len();
        for word in text.split_whitespace() {
            let start = inline.span.start + (word.as_ptr() as usize - text.as_ptr() as usize) as u32;
            let span = if exact { Span { start, end: start + word.len() as u32, ..inline.span } } else { inline.span };
            tokens.push(Token { text: word, span });
        }
    });
    in_tokens(&tokens, out);
}

fn in_tokens(tokens: &[Token], out: &mut Vec<TypedValue>) {
    for at in 0..tokens.len() {
        out.extend(torque(tokens, at));
        out.extend(drill(tokens, at));
        out.extend(length(tokens, at));
    }
}

fn bare(text: &str) -> &str {
    text.trim_matches(|c: char| matches!(c, '.' | ',' | ';' | ':' | '(' | ')' | '!' | '?'))
}

fn is_number(text: &str) -> bool {
    text.starts_with(|c: char| c.is_ascii_digit() || c == '.')
        && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/'))
}

/// A torque whose unit begins at a token.
fn torque(tokens: &[Token], at: usize) -> Option<TypedValue> {
    let unit = bare(tokens[at].text);
    let next = tokens.get(at + 1).map_or("", |t| bare(t.text));
    // How many in-lb one is, or that it is N m, and how many tokens the unit takes.
    let (times, metric, long) = match (unit.to_ascii_lowercase().as_str(), unit, next) {
        ("in-lb" | "in-lbs" | "inch-pound" | "inch-pounds", ..) => (1, false, 1),
        ("in", _, "lb" | "lbs") => (1, false, 2),
        ("ft-lb" | "ft-lbs" | "foot-pound" | "foot-pounds", ..) => (12, false, 1),
        ("ft", _, "lb" | "lbs") => (12, false, 2),
        (_, "Nm" | "N\u{b7}m" | "N-m", _) => (1, true, 1),
        (_, "N", "m") => (1, true, 2),
        _ => return None,
    };
    let back = |n: usize| at.checked_sub(n).map(|i| &tokens[i]);
    let last = back(1)?;
    let text = last.text.trim_start_matches('(');
    let apart = ["..", "\u{2013}", "-"].iter().find_map(|by| text.split_once(by));
    let (least, most, first) = match (apart, back(2).map(|t| t.text), back(3)) {
        (Some((least, most)), ..) => (least, most, last),
        (None, Some("to" | "and" | "or"), Some(before)) if is_number(before.text.trim_start_matches('(')) => {
            (before.text.trim_start_matches('('), text, before)
        }
        _ => (text, text, last),
    };
    let value = |number: &str| {
        if !is_number(number) {
            return None;
        }
        let unit = if metric { MeasureUnit::NewtonMetre } else { MeasureUnit::InchPound };
        let read = Measure::parse(&format!("{number} {}", unit.word())).ok()?;
        Some(inch_pounds(read)? * Rational::from_integer(times))
    };
    // Without the bracket before it.
    let begins = first.span.start + (first.text.len() - first.text.trim_start_matches('(').len()) as u32;
    let exact = (first.span.end - first.span.start) as usize == first.text.len();
    let from = if exact { Span { start: begins, ..first.span } } else { first.span };
    let span = from.to(tokens[(at + long - 1).min(tokens.len() - 1)].span);
    Some(TypedValue { span, kind: TypedKind::Torque(value(least)?, value(most)?) })
}

/// A drill whose size begins at a token.
fn drill(tokens: &[Token], at: usize) -> Option<TypedValue> {
    let word = |n: usize| tokens.get(at + n).map_or("", |t| bare(t.text));
    let found = |text: &str, long: usize| {
        let span = tokens[at].span.to(tokens[at + long - 1].span);
        Some(TypedValue { span, kind: TypedKind::Drill(Drill::parse(text).ok()?) })
    };
    let first = tokens[at].text.trim_start_matches('(');
    if matches!(first, "No." | "no.") {
        return found(&format!("No. {}", word(1)), 2);
    }
    if first.starts_with('#') && first.len() > 1 {
        return found(bare(first), 1);
    }
    if !is_number(bare(first)) || first.ends_with([',', ';']) {
        return None;
    }
    let unit = word(1);
    if matches!(unit, "in" | "mm") && is_bit(word(2)) {
        return found(&format!("{} {unit}", bare(first)), 2);
    }
    if is_bit(unit) { found(&format!("{} in", bare(first)), 1) } else { None }
}

/// A length whose unit stands at a token.
fn length(tokens: &[Token], at: usize) -> Option<TypedValue> {
    let unit = bare(tokens[at].text);
    let next = tokens.get(at + 1).map_or("", |t| bare(t.text));
    if !matches!(unit, "in" | "ft" | "mm" | "cm" | "m") || matches!(next, "lb" | "lbs") || is_bit(next) {
        return None;
    }
    let back = |n: usize| at.checked_sub(n).map(|i| &tokens[i]);
    let last = back(1)?;
    let number = last.text.trim_start_matches(['(', '\u{b1}']);
    if !is_number(number) || unit == "m" && back(2).is_some_and(|t| t.text == "N") {
        return None;
    }
    // `step 4 in the list`
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    if unit == "in" && digits(number) && !tokens[at].text.ends_with(['.', ',', ')']) && is_article(next) {
        return None;
    }
    let before = back(2).map(|t| (t, t.text.trim_start_matches('(')));
    let whole = before.filter(|(_, text)| number.contains('/') && digits(text));
    let text = whole.map_or_else(|| format!("{number} {unit}"), |(_, whole)| format!("{whole} {number} {unit}"));
    let span = whole.map_or(last, |(token, _)| token).span.to(tokens[at].span);
    Some(TypedValue { span, kind: TypedKind::Length(Length::parse(&text).ok()?) })
}

/// What is spoken of behind the size of a drill.
fn is_bit(word: &str) -> bool {
    matches!(word, "bit" | "bits" | "drill" | "reamer")
}

fn is_article(word: &str) -> bool {
    matches!(
        word,
        "a" | "an" | "the" | "each" | "both" | "all" | "any" | "this" | "that" | "these" | "one" | "its" | "turn"
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::FileId;
    use crate::syntax::markdown::parse_markdown;

    fn read(text: &str) -> Vec<(String, TypedKind)> {
        let blocks = parse_markdown(FileId(0), text, 0, &mut Default::default());
        let all = typed_values(&blocks);
        all.into_iter().map(|v| (text[v.span.start as usize..v.span.end as usize].to_owned(), v.kind)).collect()
    }

    #[test]
    fn torques_are_read_in_all_their_units() {
        let torque =
            |least: i64, most: i64| TypedKind::Torque(Rational::from_integer(least), Rational::from_integer(most));
        assert_eq!(read("Torque to 30 to 40 in-lb."), [("30 to 40 in-lb.".to_owned(), torque(30, 40))]);
        assert_eq!(read("Torque them (5 ft-lb)."), [("5 ft-lb).".to_owned(), torque(60, 60))]);
        assert_eq!(read("Not above 30..40 in lb"), [("30..40 in lb".to_owned(), torque(30, 40))]);
        // 11.298 N m are 100 in-lb, by 0.11298 N m for one.
        let metric = read("Torque to 11.298 N m, no more.");
        assert_eq!(metric[0].1, torque(100, 100));
        let cord = read("Leave 30 in of cord on the drum.");
        assert_eq!(cord, [("30 in".to_owned(), TypedKind::Length(Length::parse("30 in").expect("a length")))]);
    }

    #[test]
    fn drills_are_read_where_a_tool_is_spoken_of() {
        let drill = |kind: &TypedKind| matches!(kind, TypedKind::Drill(_));
        let sizes = |text: &str| read(text).into_iter().filter(|v| drill(&v.1)).map(|(t, _)| t).collect::<Vec<_>>();
        assert_eq!(sizes("Take the No. 30 bit, then the 1/4 in drill."), ["No. 30", "1/4 in"]);
        assert_eq!(sizes("Open up with a 3.3 mm bit."), ["3.3 mm"]);
        assert_eq!(sizes("Mark it 1/4 in from the edge, and drill."), [""; 0]);
    }

    #[test]
    fn lengths_are_read_with_their_units() {
        let lengths = |text: &str| {
            let each = |(words, kind)| match kind {
                TypedKind::Length(length) => Some((words, length)),
                _ => None,
            };
            read(text).into_iter().filter_map(each).collect::<Vec<_>>()
        };
        for (text, words, length) in [
            ("Mark it 10 1/2 in left of the pivot.", "10 1/2 in", "10.5 in"),
            ("Leave 1/8 in.", "1/8 in.", ".125 in"),
            ("Keep (12 mm) free.", "(12 mm)", "12 mm"),
            ("Bend it 2.5 in from the end", "2.5 in", "2.5 in"),
        ] {
            assert_eq!(lengths(text), [(words.to_owned(), Length::parse(length).expect("a length"))], "{text}");
        }
        for none in ["as in step 4 in the list", "11 N m", "30 in lb", "the 1/4 in bit", "in the frame"] {
            assert_eq!(lengths(none), [], "{none}");
        }
    }
}
