//! Near misses of a designation: stray space, lower case, missing dash, the letter O for zero.

use std::collections::BTreeMap;

use super::{Undecoded, read};

/// What is wrong with the spelling of a designation.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum DesignationFault {
    Space,
    LowerCase,
    DashSign,
    MissingDash,
    StrayDash,
    LetterForDigit,
}

impl DesignationFault {
    /// The fault, lower case, as a message says it.
    pub fn words(self) -> &'static str {
        match self {
            Self::Space => "stray or missing space",
            Self::LowerCase => "lower case",
            Self::DashSign => "another sign for the dash",
            Self::MissingDash => "missing dash",
            Self::StrayDash => "a dash too many",
            Self::LetterForDigit => "a letter in place of a digit",
        }
    }
}

/// How a designation compares with the built-in ones.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Normalised {
    /// Exactly as it should be, or of a form of its own that is left to the hardware list.
    AsWritten,
    /// Understood, with the spelling it should have.
    Corrected { to: String, faults: Vec<DesignationFault> },
    /// It may be any of these.
    Ambiguous(Vec<String>),
    /// Not a designation of the built-in tables, nor near one.
    NotBuiltIn,
}

/// Where the designation is written in its usual spelling, or nearly so.
///
/// ```
/// use kitwright::trade::{Normalised, normalise};
/// let Normalised::Corrected { to, .. } = normalise(" an4 1OA") else { panic!() };
/// assert_eq!(to, "AN4-10A");
/// ```
pub fn normalise(designation: &str) -> Normalised {
    if is_ours(designation) {
        return Normalised::AsWritten;
    }
    // Long texts are no designations; a budget keeps hostile input from costing time.
    if designation.len() > 64 {
        return Normalised::NotBuiltIn;
    }
    let mut faults = Vec::new();
    let mut text = designation.to_owned();
    step(&mut text, &mut faults, DesignationFault::DashSign, |s| {
        s.replace(['\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}', '\u{2212}'], "-")
    });
    if text.trim().to_ascii_uppercase().starts_with("ISO") {
        step(&mut text, &mut faults, DesignationFault::LowerCase, iso_case);
        step(&mut text, &mut faults, DesignationFault::Space, iso_spaces);
        let seen = [(text, faults)].into_iter().filter(|(text, _)| is_ours(text)).collect();
        return verdict(seen);
    }
    step(&mut text, &mut faults, DesignationFault::LowerCase, str::to_ascii_uppercase);
    let mut seen = BTreeMap::new();
    // A space may stand where a dash belongs, or for nothing.
    let spaced = text.trim();
    for (joined, fault) in [("", DesignationFault::Space), ("-", DesignationFault::MissingDash)] {
        let mut faults = faults.clone();
        let mut text = spaced.to_owned();
        let joined = spaced.split_whitespace().collect::<Vec<_>>().join(joined);
        if text != joined || text.len() != designation.len() {
            text = joined;
            faults.push(if spaced.contains(char::is_whitespace) { fault } else { DesignationFault::Space });
        }
        candidates(&text, &faults, &mut seen);
    }
    verdict(seen)
}

fn is_ours(text: &str) -> bool {
    !matches!(read(text), Err(Undecoded::NotBuiltIn))
}

fn step(
    text: &mut String,
    faults: &mut Vec<DesignationFault>,
    fault: DesignationFault,
    change: impl Fn(&str) -> String,
) {
    let changed = change(text);
    if changed != *text {
        *text = changed;
        faults.push(fault);
    }
}

/// Adds `text` and its spellings with digits for letters and with a dash put in, where they are designations.
fn candidates(text: &str, faults: &[DesignationFault], seen: &mut BTreeMap<String, Vec<DesignationFault>>) {
    let mut add = |text: String, more: &[DesignationFault]| {
        if is_ours(&text) {
            let mut all = faults.to_vec();
            all.extend_from_slice(more);
            all.sort();
            all.dedup();
            let known = seen.entry(text).or_insert_with(|| all.clone());
            if all.len() < known.len() {
                *known = all;
            }
        }
    };
    let digits = digits_for_letters(text);
    for (text, letters) in [(text.to_owned(), false), (digits, true)] {
        let fault: &[DesignationFault] = if letters { &[DesignationFault::LetterForDigit] } else { &[] };
        add(text.clone(), fault);
        for (at, _) in text.match_indices('-') {
            let both: Vec<DesignationFault> = fault.iter().copied().chain([DesignationFault::StrayDash]).collect();
            add(format!("{}{}", &text[..at], &text[at + 1..]), &both);
        }
        if text.is_ascii() && !text.contains('-') {
            for at in 3..text.len() {
                let both: Vec<DesignationFault> =
                    fault.iter().copied().chain([DesignationFault::MissingDash]).collect();
                add(format!("{}-{}", &text[..at], &text[at..]), &both);
            }
        }
    }
}

/// O and I next to a digit or a dash are 0 and 1; the letters of the standards have neither there.
fn digits_for_letters(text: &str) -> String {
    let chars: Vec<char> = text.chars().collect();
    let number = |c: Option<&char>| c.is_some_and(|c| c.is_ascii_digit() || matches!(c, 'O' | '-'));
    (0..chars.len())
        .map(|i| match chars[i] {
            'O' if i > 1 && (number(chars.get(i - 1)) || number(chars.get(i + 1))) => '0',
            // The small letter l, which has become a capital by now; the L of a thin washer stands at the end.
            'L' if i > 1 && number(chars.get(i - 1)) && number(chars.get(i + 1)) => '1',
            'I' if i > 1 && (number(chars.get(i - 1)) || number(chars.get(i + 1))) => '1',
            c => c,
        })
        .collect()
}

/// Upper case, but for the `x` between sizes.
fn iso_case(text: &str) -> String {
    text.to_ascii_uppercase().replace(['X', '×'], "x").replace("ST", "St")
}

/// `ISO4014-M6 x 30 - 8.8` as `ISO 4014 M6x30 8.8`.
fn iso_spaces(text: &str) -> String {
    let text = text.trim();
    let rest = text.strip_prefix("ISO").unwrap_or(text).trim_start_matches([' ', '-']);
    let at = rest.bytes().take_while(u8::is_ascii_digit).count();
    let (standard, rest) = rest.split_at(at);
    let rest = rest.trim_start_matches([' ', '-']);
    let words: Vec<&str> = rest.split_whitespace().filter(|word| *word != "-").collect();
    let joined = words.join(" ").replace(" x ", "x").replace(" x", "x").replace("x ", "x");
    // The grade stands apart from the size; a dash within the grade, as in A4-70, stays.
    let (size, grade) = joined.split_once([' ', '-']).unwrap_or((&joined, ""));
    format!("ISO {standard} {size} {}", grade.trim_start_matches(['-', ' '])).trim_end().to_owned()
}

/// One existing item wins over those that do not exist; one of the latter is still worth its own message.
fn verdict(seen: BTreeMap<String, Vec<DesignationFault>>) -> Normalised {
    // "AN365428A" is one item that exists, and might be a senseless length of another series.
    let exist: Vec<_> = seen.iter().filter(|(text, _)| read(text).is_ok()).collect();
    let chosen = if exist.is_empty() { seen.iter().collect() } else { exist };
    match chosen.as_slice() {
        [] => Normalised::NotBuiltIn,
        [(text, faults)] => Normalised::Corrected { to: (*text).clone(), faults: (*faults).clone() },
        many => Normalised::Ambiguous(many.iter().map(|(text, _)| (*text).clone()).collect()),
    }
}
