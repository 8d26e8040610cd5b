//! Sentences of a text and their words, counted as a reader of instructions meets them.
//!
//! A number with its fraction and unit is one word, and so is a reference without a text of its own. The points of
//! abbreviations end no sentence. After ASD-STE100; the details of counting from memory.

use std::borrow::Cow;

use crate::source::{Span, Spanned};
use crate::syntax::markdown::{MdInline, MdInlineKind};

/// A sentence.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sentence {
    pub span: Span,
    pub words: usize,
}

/// A word with its place.
struct SentenceWord<'a> {
    text: Cow<'a, str>,
    span: Span,
}

/// The sentences of a value in front matter. Where it is folded or quoted, their places are the whole value's.
pub fn of_text(text: &Spanned<String>) -> Vec<Sentence> {
    let mut tokens = Vec::new();
    push_text(&text.value, text.span, false, &mut tokens);
    split(&tokens)
}

/// The sentences of a paragraph.
pub fn of_inlines(content: &[MdInline]) -> Vec<Sentence> {
    let mut tokens = Vec::new();
    push_inlines(content, &mut false, &mut tokens);
    split(&tokens)
}

/// `glued` says that the text goes on in the middle of a word.
fn push_inlines<'a>(content: &'a [MdInline], glued: &mut bool, tokens: &mut Vec<SentenceWord<'a>>) {
    for inline in content {
        match &inline.kind {
            MdInlineKind::Text(text) => {
                push_text(text, inline.span, *glued && !text.starts_with(char::is_whitespace), tokens);
                *glued = !text.ends_with(char::is_whitespace);
            }
            MdInlineKind::Code(text) => {
                // Something to be read as it stands: one word, whatever is in it.
                push_word(text.split_whitespace().collect::<String>().into(), inline.span, *glued, tokens);
                *glued = true;
            }
            MdInlineKind::Link { content, .. } if content.is_empty() => {
                push_word("reference".into(), inline.span, *glued, tokens);
                *glued = true;
            }
            MdInlineKind::Strong(inner) | MdInlineKind::Emphasis(inner) | MdInlineKind::Link { content: inner, .. } => {
                push_inlines(inner, glued, tokens);
            }
            MdInlineKind::SoftBreak | MdInlineKind::HardBreak => *glued = false,
            MdInlineKind::FootnoteMark(_) => {}
        }
    }
}

fn push_text<'a>(text: &'a str, span: Span, glued: bool, tokens: &mut Vec<SentenceWord<'a>>) {
    let exact = (span.end - span.start) as usize == text.len();
    for (i, word) in text.split_whitespace().enumerate() {
        let at = word.as_ptr() as usize - text.as_ptr() as usize;
        let start = span.start + at as u32;
        let place = if exact { Span { start, end: start + word.len() as u32, ..span } } else { span };
        push_word(word.into(), place, glued && i == 0, tokens);
    }
}

fn push_word<'a>(text: Cow<'a, str>, span: Span, glued: bool, tokens: &mut Vec<SentenceWord<'a>>) {
    match tokens.last_mut() {
        Some(last) if glued => {
            last.text.to_mut().push_str(&text);
            last.span = last.span.to(span);
        }
        _ => tokens.push(SentenceWord { text, span }),
    }
}

/// Abbreviations after which a sentence goes on, whatever follows.
const GOES_ON: [&str; 12] =
    ["no.", "nos.", "fig.", "figs.", "e.g.", "i.e.", "approx.", "vs.", "min.", "max.", "dia.", "ref."];

/// Units that are part of the number before them.
const UNITS: [&str; 14] = ["in", "in.", "ft", "ft.", "mm", "cm", "m", "lb", "lb.", "oz", "deg", "in-lb", "psi", "%"];

fn split(tokens: &[SentenceWord]) -> Vec<Sentence> {
    let mut sentences = Vec::new();
    let mut start = 0;
    for i in 0..tokens.len() {
        if i + 1 == tokens.len() || ends(&tokens[i].text, &tokens[i + 1].text) {
            let part = &tokens[start..=i];
            sentences.push(Sentence { span: part[0].span.to(tokens[i].span), words: words(part) });
            start = i + 1;
        }
    }
    sentences
}

/// Whether a sentence ends between two words.
fn ends(word: &str, next: &str) -> bool {
    let bare = word.trim_end_matches(['"', '\'', ')', '\u{201d}', '\u{2019}']);
    let opens = |c: char| !c.is_lowercase();
    match bare.chars().last() {
        Some('!' | '?' | ':') => true,
        Some('.') => {
            let next_opens =
                next.trim_start_matches(['"', '\'', '(', '\u{201c}', '\u{2018}']).chars().next().is_some_and(opens);
            next_opens && !GOES_ON.contains(&bare.trim_start_matches('(').to_lowercase().as_str())
        }
        _ => false,
    }
}

fn words(tokens: &[SentenceWord]) -> usize {
    let mut count = 0;
    // Whether the word before is a number, to which a fraction or unit belongs.
    let mut number = false;
    for token in tokens {
        let bare = token.text.trim_matches(|c: char| !c.is_alphanumeric() && !matches!(c, '%' | '.' | '/' | '-'));
        if !bare.chars().any(|c| c.is_alphanumeric() || c == '%') {
            continue;
        }
        let numeric = bare.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '/' | '-' | ','));
        let belongs = number && (numeric && bare.contains('/') || UNITS.contains(&bare));
        if !belongs {
            count += 1;
        }
        number = numeric;
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::source::FileId;

    fn count(text: &str) -> Vec<usize> {
        let span = Span { file: FileId(0), start: 0, end: text.len() as u32 };
        of_text(&Spanned::new(text.to_owned(), span)).iter().map(|s| s.words).collect()
    }

    #[test]
    fn numbers_and_abbreviations() {
        assert_eq!(count("Drill the hole with a No. 30 drill."), [8]);
        assert_eq!(count("Saw 23 15/16 in from the end. Deburr it."), [5, 2]);
        assert_eq!(count("Leave 1/16 in. Then file."), [2, 2]);
        assert_eq!(count("Use a file, e.g. a flat one."), [7]);
        assert_eq!(count("Do this: Turn it. Stop!"), [2, 2, 1]);
        assert_eq!(count("\u{2013} "), [0]);
        assert_eq!(count(""), [0; 0]);
    }

    #[test]
    fn a_place_is_that_of_the_sentence() {
        let text = "One two. Three four five.";
        let span = Span { file: FileId(0), start: 100, end: 100 + text.len() as u32 };
        let found = of_text(&Spanned::new(text.to_owned(), span));
        assert_eq!(found[1].span.range(), 109..125);
    }
}
