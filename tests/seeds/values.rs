//! Slips in a value or a sentence, as people make them. Each gives another text, or none where it can't be made.

use std::ops::Range;

/// The numbers in a text: whole, with a point, a fraction, or a whole number with a fraction. What is part of a name is none.
pub fn numbers(text: &str) -> Vec<Range<usize>> {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    let run = |mut i: usize| {
        while digit(i) {
            i += 1;
        }
        i
    };
    let mut found = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let starts = digit(at) || bytes[at] == b'.' && digit(at + 1);
        let before = at.checked_sub(1).map(|i| bytes[i]);
        let glued = before.is_some_and(|b| b.is_ascii_alphanumeric() || matches!(b, b'#' | b'/' | b'-' | b'_'));
        if !starts || glued && !text[..at].ends_with("..") {
            at += 1;
            continue;
        }
        let mut end = run(at);
        if matches!(bytes.get(end), Some(b'.' | b'/')) && digit(end + 1) {
            end = run(end + 1);
        } else if bytes.get(end) == Some(&b' ') && digit(end + 1) {
            let next = run(end + 1);
            if bytes.get(next) == Some(&b'/') && digit(next + 1) {
                end = run(next + 1);
            }
        }
        let named = bytes.get(end).is_some_and(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'/' | b'_'));
        if !named {
            found.push(at..end);
        }
        // The rest of a name is passed over.
        at = end.max(at + 1);
        while named && bytes.get(at).is_some_and(|b| !b.is_ascii_whitespace() && *b != b'.') {
            at += 1;
        }
    }
    found
}

/// The value of a number as [`numbers`] finds it.
pub fn value(number: &str) -> Option<f64> {
    let fraction = |text: &str| -> Option<f64> {
        let (n, d) = text.split_once('/')?;
        Some(n.parse::<f64>().ok()? / d.parse::<f64>().ok()?)
    };
    match number.split_once(' ') {
        Some((whole, rest)) => Some(whole.parse::<f64>().ok()? + fraction(rest)?),
        None if number.contains('/') => fraction(number),
        None => number.parse().ok(),
    }
}

/// A number as it is typed.
pub fn typed(value: f64) -> String {
    let text = format!("{value:.4}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

fn each_number(text: &str, change: impl Fn(&str) -> Option<String>) -> Option<String> {
    let mut out = text.to_owned();
    let all = numbers(text);
    for range in all.iter().rev() {
        out.replace_range(range.clone(), &change(&text[range.clone()])?);
    }
    (!all.is_empty() && out != text).then_some(out)
}

fn one_number(text: &str, which: usize, change: impl Fn(&str) -> Option<String>) -> Option<String> {
    let all = numbers(text);
    let range = all.get(which.checked_rem(all.len())?)?.clone();
    let changed = change(&text[range.clone()])?;
    let out = format!("{}{changed}{}", &text[..range.start], &text[range.end..]);
    (out != text).then_some(out)
}

/// The point a place too far to the right.
pub fn ten_times(text: &str) -> Option<String> {
    each_number(text, |n| Some(typed(value(n)? * 10.0)))
}

/// One number of several ten times.
pub fn one_ten_times(text: &str, which: usize) -> Option<String> {
    one_number(text, which, |n| Some(typed(value(n)? * 10.0)))
}

/// A digit read or typed wrong: of a fraction the numerator, else the last before the point.
pub fn digit(text: &str, which: usize) -> Option<String> {
    one_number(text, which, |n| {
        if let Some((left, right)) = n.split_once('/') {
            let (whole, top) = left.rsplit_once(' ').map_or(("", left), |(w, t)| (w, t));
            let (top, bottom): (u32, u32) = (top.parse().ok()?, right.parse().ok()?);
            let other = if top + 2 < bottom { top + 2 } else { top.checked_sub(2).filter(|n| *n > 0)? };
            let gap = if whole.is_empty() { "" } else { " " };
            return Some(format!("{whole}{gap}{other}/{bottom}"));
        }
        let place = match n.find('.') {
            Some(0) => n.len() - 1,
            Some(point) => point - 1,
            None => n.len() - 1,
        };
        let old = n[place..=place].parse::<u32>().ok()?;
        let new = if old == 9 { 8 } else { old + 1 };
        Some(format!("{}{new}{}", &n[..place], &n[place + 1..]))
    })
}

/// The same figure with the unit beside it: millimetres for inches and the like. `bare` is what a number without a unit means.
pub fn other_unit(text: &str, bare: &str, which: usize) -> Option<String> {
    const UNITS: [(&str, &str); 14] = [
        ("in-lb", "ft-lb"),
        ("N m", "in-lb"),
        ("inches", "mm"),
        ("inch", "mm"),
        ("mm", "in"),
        ("in", "mm"),
        ("ft", "in"),
        ("lb", "oz"),
        ("min", "h"),
        ("h", "min"),
        ("d", "h"),
        ("C", "F"),
        ("N", "lb"),
        ("m", "mm"),
    ];
    let all = numbers(text);
    let range = all.get(which.checked_rem(all.len())?)?.clone();
    let rest = &text[range.end..];
    let unit = rest.trim_start();
    let ends = |u: &str| unit[u.len()..].chars().next().is_none_or(|c| !c.is_alphanumeric() && c != '-');
    if let Some((old, new)) = UNITS.iter().find(|(u, _)| unit.starts_with(u) && ends(u)) {
        let at = text.len() - unit.len();
        return Some(format!("{}{new}{}", &text[..at], &text[at + old.len()..]));
    }
    let other = match bare {
        "mm" => "in",
        "in" => "mm",
        _ => return None,
    };
    let alone = unit.is_empty() && range.start == 0;
    alone.then(|| format!("{} {other}", text.trim_end()))
}

/// Degrees from the other side.
pub fn complement(text: &str) -> Option<String> {
    each_number(text, |n| Some(typed((90.0 - value(n)?).abs())).filter(|c| c != "0"))
}

/// The other end of the clock.
pub fn across_the_clock(text: &str) -> Option<String> {
    let hour: u32 = text.trim().parse().ok()?;
    Some(((hour + 5) % 12 + 1).to_string())
}

/// As it is seen from the other end.
pub fn mirrored_clock(text: &str) -> Option<String> {
    let hour: u32 = text.trim().parse().ok()?;
    (!hour.is_multiple_of(6) && hour < 12).then(|| (12 - hour).to_string())
}

/// One more, or with `less` one less.
pub fn by_one(text: &str, less: bool) -> Option<String> {
    let count: i64 = text.trim().parse().ok()?;
    match less {
        true if count > 1 => Some((count - 1).to_string()),
        true => None,
        false => Some((count + 1).to_string()),
    }
}

/// Pairs of words for sides.
pub const SIDES: [(&str, &str); 2] = [("left", "right"), ("port", "starboard")];

/// Pairs of words for directions, places and sequence.
pub const DIRECTIONS: [(&str, &str); 14] = [
    ("forward", "aft"),
    ("front", "rear"),
    ("upper", "lower"),
    ("above", "below"),
    ("inner", "outer"),
    ("inside", "outside"),
    ("top", "bottom"),
    ("first", "second"),
    ("before", "after"),
    ("over", "under"),
    ("up", "down"),
    ("between", "beside"),
    ("both", "one of the"),
    ("head", "nut"),
];

/// Numbers written as words, each with another.
pub const NUMBER_WORDS: [(&str, &str); 8] = [
    ("one", "two"),
    ("two", "three"),
    ("three", "four"),
    ("four", "six"),
    ("five", "four"),
    ("six", "eight"),
    ("half", "a whole"),
    ("twice", "once"),
];

/// Turns one word of the pairs into its partner, with its capital.
pub fn turned(text: &str, pairs: &[(&str, &str)], both_ways: bool, which: usize) -> Option<String> {
    let mut places: Vec<(usize, &str, &str)> = Vec::new();
    for (a, b) in pairs {
        places.extend(words(text, a).map(|at| (at, *a, *b)));
        if both_ways {
            places.extend(words(text, b).map(|at| (at, *b, *a)));
        }
    }
    places.sort_unstable();
    let (at, old, new) = *places.get(which.checked_rem(places.len())?)?;
    let capital = text[at..].starts_with(|c: char| c.is_ascii_uppercase());
    let all_capital = capital && text[at..at + old.len()].chars().all(|c| c.is_ascii_uppercase());
    let new = match (all_capital, capital) {
        (true, _) => new.to_uppercase(),
        (_, true) => format!("{}{}", new[..1].to_uppercase(), &new[1..]),
        _ => new.to_owned(),
    };
    Some(format!("{}{new}{}", &text[..at], &text[at + old.len()..]))
}

/// Where a word stands alone, without regard to case.
pub fn words<'a>(text: &'a str, word: &'a str) -> impl Iterator<Item = usize> + 'a {
    let part = |b: Option<&u8>| b.is_some_and(|b| b.is_ascii_alphanumeric() || matches!(b, b'-' | b'_'));
    let bytes = text.as_bytes();
    (0..text.len().saturating_sub(word.len().saturating_sub(1))).filter(move |&at| {
        let here = text.get(at..at + word.len()).is_some_and(|t| t.eq_ignore_ascii_case(word));
        here && !part(at.checked_sub(1).and_then(|i| bytes.get(i))) && !part(bytes.get(at + word.len()))
    })
}

/// The sentences of a text with the white space behind each.
pub fn sentences(text: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut start = 0;
    for (at, c) in text.char_indices() {
        if !matches!(c, '.' | '!' | '?') {
            continue;
        }
        let rest = &text[at + 1..];
        let next = rest.trim_start();
        let ended = rest.starts_with(char::is_whitespace)
            && next.starts_with(|c: char| c.is_uppercase() || matches!(c, '[' | '*'))
            && !text[..at].ends_with("No");
        if ended {
            let end = text.len() - next.len();
            found.push(start..end);
            start = end;
        }
    }
    found.push(start..text.len());
    found
}

/// A sentence less, of two or more.
pub fn sentence_out(text: &str, which: usize) -> Option<String> {
    let all = sentences(text);
    let out = all.get(which % all.len()).filter(|_| all.len() > 1)?;
    Some(format!("{}{}", &text[..out.start], &text[out.end..]).trim_end().to_owned())
}

/// Two sentences that follow each other, swapped.
pub fn sentences_swapped(text: &str, which: usize) -> Option<String> {
    let all = sentences(text);
    let first = which.checked_rem(all.len() - 1)?;
    let (a, b) = (text[all[first].clone()].trim_end(), text[all[first + 1].clone()].trim_end());
    let rest = &text[all[first + 1].end..];
    let gap = if rest.is_empty() { "" } else { " " };
    Some(format!("{}{b} {a}{gap}{rest}", &text[..all[first].start]))
}

/// A sentence without what follows its last `and` or comma: an action less.
pub fn half_out(text: &str, which: usize) -> Option<String> {
    let all = sentences(text);
    let cut = |range: &Range<usize>| {
        let sentence = text[range.clone()].trim_end();
        let body = sentence.trim_end_matches(['.', '!', '?']);
        let at = [", and ", " and ", ", "].iter().find_map(|mark| body.rfind(mark))?;
        // What is left must be a sentence.
        (body[..at].split(' ').count() > 2).then(|| range.start + at..range.start + body.len())
    };
    let cuts: Vec<Range<usize>> = all.iter().filter_map(cut).collect();
    let out = cuts.get(which.checked_rem(cuts.len())?)?.clone();
    Some(format!("{}{}", &text[..out.start], &text[out.end..]))
}

/// A prohibition turned into its opposite.
pub fn not_out(text: &str) -> Option<String> {
    [("do not ", ""), ("Do not ", ""), (" not ", " "), ("never ", "always "), ("Never ", "Always ")]
        .iter()
        .find(|(old, _)| text.contains(old))
        .map(|(old, new)| text.replacen(old, new, 1))
}

/// The name with two of its letters or digits in the other order.
pub fn mistyped(name: &str) -> Option<String> {
    let mut letters: Vec<char> = name.chars().collect();
    let at = (1..letters.len())
        .rev()
        .find(|&i| letters[i] != letters[i - 1] && letters[i].is_alphanumeric() && letters[i - 1].is_alphanumeric())?;
    letters.swap(at, at - 1);
    Some(letters.into_iter().collect())
}
