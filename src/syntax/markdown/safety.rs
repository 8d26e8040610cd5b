//! Safety messages: block quotes that open with a signal word in bold.
//!
//! Owns: telling a safety message from a quote, and what was meant as one. Must not know: how it is shown.

use super::{MdBlock, MdBlockKind, MdInline, MdInlineKind};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Span, Spanned};

/// The signal words of ANSI Z535.6 (danger, warning, caution, notice), and `NOTE`.
const WORDS: [&str; 5] = ["DANGER", "WARNING", "CAUTION", "NOTICE", "NOTE"];

const HELP: &str = "begin every line of the message with `>`, and the first with the signal word in bold: \
                    `> **WARNING** …`";

/// A block quote as a safety message, where it is one. `source` is the quote as written.
pub(super) fn quote(mut blocks: Vec<MdBlock>, span: Span, source: &str, sink: &mut Sink) -> MdBlockKind {
    if let Some(word) = take_word(&mut blocks) {
        check_lines(span, source, sink);
        second_message(&blocks, sink);
        return MdBlockKind::Safety { word, blocks };
    }
    if let Some((place, word)) = meant(&blocks) {
        sink.push(
            Diagnostic::error("unread-safety", format!("this safety message is not read as one: `{word}`"))
                .at(place, "the signal word must stand first in the quote, in bold")
                .help(HELP),
        );
    }
    MdBlockKind::Quote(blocks)
}

/// Reports paragraphs outside a quote that open like a safety message. List entries, quotes and footnotes are looked
/// through when they are read.
pub(super) fn outside(blocks: &[MdBlock], sink: &mut Sink) {
    for block in blocks {
        match &block.kind {
            MdBlockKind::Only { blocks, .. } => outside(blocks, sink),
            MdBlockKind::Paragraph(content) => {
                let Some(MdInlineKind::Strong(strong)) = content.first().map(|i| &i.kind) else { continue };
                let shouted = |w: &Spanned<String>| w.value.chars().all(char::is_uppercase);
                let Some((word, _)) = leading_word(strong).filter(|(w, _)| shouted(w)) else { continue };
                sink.push(
                    Diagnostic::error("unread-safety", format!("`{}` stands outside a safety message", word.value))
                        .at(word.span, "opens like a safety message, but stands in no block quote")
                        .help(HELP),
                );
            }
            _ => {}
        }
    }
}

/// Takes the signal word out of the first paragraph.
fn take_word(blocks: &mut Vec<MdBlock>) -> Option<Spanned<String>> {
    let MdBlockKind::Paragraph(content) = &mut blocks.first_mut()?.kind else { return None };
    let MdInlineKind::Strong(strong) = &mut content.first_mut()?.kind else { return None };
    let (word, length) = leading_word(strong)?;
    let word = word.map(|w| w.to_uppercase());
    let MdInlineKind::Text(text) = &mut strong.first_mut()?.kind else { return None };
    text.drain(..length);
    let rest = text.trim_start_matches([':', '!', '.', ' ', '–', '—']).to_owned();
    if rest.is_empty() {
        strong.remove(0);
    } else {
        let first = strong.first_mut()?;
        first.span.start = first.span.end - (rest.len() as u32).min(first.span.end - first.span.start);
        first.kind = MdInlineKind::Text(rest);
    }
    if strong.is_empty() {
        content.remove(0);
        trim_start(content);
    }
    if content.is_empty() {
        blocks.remove(0);
    }
    Some(word)
}

/// What stood between the signal word and the message: white space, a colon, a dash, a line break.
fn trim_start(content: &mut Vec<MdInline>) {
    while let Some(first) = content.first_mut() {
        match &mut first.kind {
            MdInlineKind::Text(text) => {
                let rest = text.trim_start_matches([':', '!', ' ', '–', '—']);
                if rest.is_empty() {
                    content.remove(0);
                    continue;
                }
                let cut = (text.len() - rest.len()) as u32;
                first.span.start = (first.span.start + cut).min(first.span.end);
                *text = rest.to_owned();
                return;
            }
            MdInlineKind::SoftBreak | MdInlineKind::HardBreak => {
                content.remove(0);
            }
            _ => return,
        }
    }
}

/// The signal word with which a bold text opens, and its length in bytes.
fn leading_word(strong: &[MdInline]) -> Option<(Spanned<String>, usize)> {
    let first = strong.first()?;
    let MdInlineKind::Text(text) = &first.kind else { return None };
    let length = text.find(|c: char| !c.is_alphabetic()).unwrap_or(text.len());
    let word = &text[..length];
    WORDS.iter().any(|w| w.eq_ignore_ascii_case(word)).then(|| {
        let span = Span { end: (first.span.start + length as u32).min(first.span.end), ..first.span };
        (Spanned::new(word.to_owned(), span), length)
    })
}

/// What in a plain quote was meant as a signal word: not bold, in square brackets, misspelt, under a condition.
fn meant(blocks: &[MdBlock]) -> Option<(Span, String)> {
    let first = blocks.first()?;
    if let MdBlockKind::Only { blocks, .. } = &first.kind {
        return match &blocks.first()?.kind {
            MdBlockKind::Paragraph(content) => match &content.first()?.kind {
                MdInlineKind::Strong(strong) => leading_word(strong).map(|(word, _)| (word.span, word.value)),
                _ => meant(blocks),
            },
            _ => None,
        };
    }
    let (MdBlockKind::Paragraph(content) | MdBlockKind::Heading { content, .. }) = &first.kind else { return None };
    let inline = content.first()?;
    let (text, bold) = match &inline.kind {
        MdInlineKind::Text(text) => (text.as_str(), false),
        MdInlineKind::Strong(inner) | MdInlineKind::Emphasis(inner) => match &inner.first()?.kind {
            MdInlineKind::Text(text) => (text.as_str(), true),
            _ => return None,
        },
        _ => return None,
    };
    let word = text.trim_start_matches(['[', '!', '*', '_']);
    let word = &word[..word.find(|c: char| !c.is_alphabetic()).unwrap_or(word.len())];
    let upper = word.to_uppercase();
    let exact = WORDS.contains(&upper.as_str());
    let near = upper.len() > 3 && WORDS.iter().any(|w| w.len() > 4 && strsim::damerau_levenshtein(&upper, w) <= 1);
    let shouted = word.len() > 3 && word == upper;
    ((exact && (shouted || bold || text.starts_with('['))) || (near && (bold || shouted)))
        .then(|| (inline.span, word.to_owned()))
}

/// A line of a safety message that does not begin with `>` belongs to it all the same; as a rule it is not meant to.
fn check_lines(span: Span, source: &str, sink: &mut Sink) {
    let mut at = span.start as usize;
    for line in source.split_inclusive('\n') {
        let body = line.trim();
        if !body.is_empty() && !body.starts_with('>') {
            let start = at + line.len() - line.trim_start().len();
            sink.push(
                Diagnostic::error("unread-safety", "this line is taken into the safety message above it")
                    .at(Span::new(span.file, start..start + body.len()), "no blank line stands before this")
                    .help("put a blank line before it, or begin it with `>` if it belongs to the message"),
            );
            return;
        }
        at += line.len();
    }
}

/// A second signal word within a message: the two need a blank line between them.
fn second_message(blocks: &[MdBlock], sink: &mut Sink) {
    for block in blocks {
        let MdBlockKind::Paragraph(content) = &block.kind else { continue };
        for (i, inline) in content.iter().enumerate() {
            let starts = i == 0 || matches!(content[i - 1].kind, MdInlineKind::SoftBreak | MdInlineKind::HardBreak);
            let MdInlineKind::Strong(strong) = &inline.kind else { continue };
            if let Some((word, _)) = leading_word(strong).filter(|_| starts) {
                sink.push(
                    Diagnostic::error(
                        "unread-safety",
                        format!("`{}` stands inside another safety message", word.value),
                    )
                    .at(word.span, "begins a second message")
                    .help("put a blank line, without `>`, between the two"),
                );
            }
        }
    }
}
