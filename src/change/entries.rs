//! What a step or a page says in a configuration, as a list of entries that can be compared whatever keys there are.
//!
//! Owns: entries, their keys and their words. Must not know: two sides.

use std::collections::BTreeMap;

use crate::model::schema::{Holds, Key, STEP, item_words, words};
use crate::model::{Manual, Page, Step};
use crate::resolve::{Facts, ResolvedStep, numbered};
use crate::syntax::markdown::{self as md, MdBlockKind, MdInlineKind};
use crate::syntax::{Node, NodeKind};

use super::digest::hex_digest;

/// Something that a step says.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct StepEntry {
    /// The key of the front matter, or `text`, or `picture`.
    pub field: String,
    /// What names the item in its list: a part number, a designation; empty for texts and single values.
    pub name: String,
    /// All else that the item says.
    pub value: String,
    /// The item's number as documents count it, from 0.
    pub index: usize,
}

/// The entries of a step, its front matter in the order of the keys, then its text.
pub(super) fn of_step(
    step: &ResolvedStep,
    manual: &Manual,
    facts: &Facts,
    pictures: &BTreeMap<&str, &str>,
) -> Vec<StepEntry> {
    let mut entries = Vec::new();
    if let Some(effectivity) = &step.effectivity {
        entries.push(entry("effectivity", "", effectivity.clone(), 0));
    }
    if let NodeKind::Mapping(keys) = &step.step.front.kind {
        let says = |key: &str| !STEP.key(key).is_some_and(|k| k.silent);
        for (key, node) in keys.iter().filter(|(key, _)| says(&key.value)) {
            field(&key.value, node, facts, &mut entries);
        }
    }
    for figure in &step.step.figures {
        let name = &figure.figure.value;
        // A drawing that was mirrored is in no file.
        let digest = match pictures.get(name.as_str()) {
            Some(digest) => Some((*digest).to_owned()),
            None => manual.figures.get(name).map(|file| hex_digest(&file.bytes)),
        };
        entries.extend(
            digest.map(|d| entry("picture", name.as_str(), d.get(..12).unwrap_or(&d).to_owned(), figure.index)),
        );
    }
    text(&step.step.body, &mut 0, &mut entries);
    entries
}

/// The entries of a page of text.
pub(super) fn of_page(page: &Page) -> Vec<StepEntry> {
    let mut entries = Vec::new();
    entries.extend(page.title.as_ref().map(|t| entry("title", "", t.clone(), 0)));
    text(&page.body, &mut 0, &mut entries);
    entries
}

fn entry(field: &str, name: &str, value: String, index: usize) -> StepEntry {
    StepEntry { field: field.to_owned(), name: name.to_owned(), value, index }
}

fn field(key: &str, node: &Node, facts: &Facts, entries: &mut Vec<StepEntry>) {
    if matches!(node.kind, NodeKind::Null) {
        return;
    }
    let known = STEP.key(key);
    let Some(Key { holds: Holds::Items(form), .. }) = known else {
        let group = known.and_then(|k| k.holds.inner());
        entries.extend(numbered(node, facts).into_iter().map(|(i, n)| entry(key, "", words(group, &n), i)));
        return;
    };
    for (index, item) in numbered(node, facts) {
        let (name, value) = item_words(form, &item);
        entries.push(entry(key, &name, value, index));
    }
}

/// The blocks of a text, each with its number in reading order. Composing counts them in the same way.
fn text(blocks: &[md::MdBlock], count: &mut usize, entries: &mut Vec<StepEntry>) {
    for block in blocks {
        let at = *count;
        *count += 1;
        let mut say = |value: String| entries.push(entry("text", "", value, at));
        match &block.kind {
            MdBlockKind::Code(code) => say(code.clone()),
            MdBlockKind::Safety { word, .. } => say(word.value.to_ascii_uppercase()),
            MdBlockKind::Table { head, rows, .. } => {
                let line =
                    |cells: &[Vec<md::MdInline>]| cells.iter().map(|c| inlines(c)).collect::<Vec<_>>().join(" | ");
                say(line(head));
                for row in rows {
                    entries.push(entry("text", "", line(row), *count));
                    *count += 1;
                }
            }
            _ => block.runs().for_each(|run| say(inlines(run))),
        }
        block.children().for_each(|inner| text(inner, count, entries));
    }
}

fn inlines(content: &[md::MdInline]) -> String {
    let mut out = String::new();
    push(content, &mut out);
    out.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn push(content: &[md::MdInline], out: &mut String) {
    for inline in content {
        match &inline.kind {
            MdInlineKind::Text(text) | MdInlineKind::Code(text) => out.push_str(text),
            // Emphasis is a matter of look, except that a reader acts on it; it counts.
            MdInlineKind::Strong(inner) => {
                out.push_str("**");
                push(inner, out);
                out.push_str("**");
            }
            MdInlineKind::Emphasis(inner) => {
                out.push('*');
                push(inner, out);
                out.push('*');
            }
            MdInlineKind::Link { to, content } => {
                push(content, out);
                if content.is_empty() {
                    out.push_str(to.split_once(':').map_or(to.as_str(), |(_, name)| name));
                } else {
                    out.push_str(&format!(" ({})", to.as_str()));
                }
            }
            MdInlineKind::SoftBreak | MdInlineKind::HardBreak => out.push(' '),
            MdInlineKind::FootnoteMark(label) => out.push_str(&format!("[{label}]")),
        }
    }
}

/// Whether the author says that only typing errors were mended in the text since the release `base`.
pub fn only_typing_errors(step: &Step, base: &str) -> bool {
    let NodeKind::Mapping(keys) = &step.front.kind else { return false };
    keys.iter().any(|(key, node)| {
        key.value == "typing-errors" && matches!(&node.kind, NodeKind::Scalar { text, .. } if text.trim() == base)
    })
}
