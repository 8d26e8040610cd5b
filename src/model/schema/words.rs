//! Front matter in words, whatever keys it has.

use super::{Form, Holds};
use crate::source::Spanned;
use crate::syntax::{Node, NodeKind};

/// An item of a list: what names it, and all else that it says.
pub fn item_words(form: &'static Form, item: &Node) -> (String, String) {
    match &item.kind {
        NodeKind::Mapping(all) => {
            let naming = form.keys.iter().find(|k| all.iter().any(|(key, _)| key.value == k.name));
            let name = all.iter().find(|(key, _)| naming.is_some_and(|k| k.name == key.value));
            let rest = all.iter().filter(|(key, _)| naming.is_none_or(|k| k.name != key.value));
            match name {
                // A safety message is named by its signal word: the word and the text change together.
                Some((word, node)) if form.needs.first().is_some_and(|n| n.len() > 1 && all_words(form, n)) => {
                    (String::new(), format!("{}: {}", word.value, words(None, node)))
                }
                Some((_, node)) => (words(None, node), rest_words(form, rest)),
                None => (String::new(), rest_words(form, rest)),
            }
        }
        NodeKind::Scalar { text, .. } => short(form, text),
        _ => (String::new(), words(Some(form), item)),
    }
}

/// Whether the item is what one of these keys says.
fn all_words(form: &Form, names: &[&str]) -> bool {
    names.iter().all(|n| form.key(n).is_some_and(|k| matches!(k.holds, Holds::Words)))
}

/// `2 x KW-102` says what `{ part: KW-102, quantity: 2 }` says.
fn short(form: &Form, text: &str) -> (String, String) {
    match text.split_once(" x ") {
        Some((count, name))
            if matches!(form.short, Some(Holds::Counted(..)))
                && count.trim_start().starts_with(|c: char| c.is_ascii_digit()) =>
        {
            let count = count.trim();
            (name.trim().to_owned(), if count == "1" { String::new() } else { format!("quantity {count}") })
        }
        _ => (text.trim().to_owned(), String::new()),
    }
}

fn rest_words<'a>(form: &'static Form, entries: impl Iterator<Item = &'a (Spanned<String>, Node)>) -> String {
    let mut all: Vec<String> = entries
        .filter(|(_, n)| !matches!(n.kind, NodeKind::Null))
        .map(|(key, n)| format!("{} {}", key.value, words(form.key(&key.value).and_then(|k| k.holds.inner()), n)))
        // One is what is meant where nothing is written.
        .filter(|w| w != "quantity 1" && w != "places 1" && w != "count 1")
        .collect();
    all.sort();
    all.join(", ")
}

/// A tree in words; its keys are those of `form`.
pub fn words(form: Option<&'static Form>, node: &Node) -> String {
    match &node.kind {
        NodeKind::Null => String::new(),
        NodeKind::Scalar { text, .. } => text.split_whitespace().collect::<Vec<_>>().join(" "),
        NodeKind::Sequence(nodes) => {
            let there = nodes.iter().filter(|n| !matches!(n.kind, NodeKind::Null));
            there.map(|n| words(form, n)).collect::<Vec<_>>().join(" + ")
        }
        NodeKind::Mapping(entries) => {
            let Some(form) = form else {
                let all = entries.iter().map(|(key, n)| format!("{} {}", key.value, words(None, n)));
                return all.collect::<Vec<_>>().join(", ");
            };
            let naming = form.keys.first().filter(|_| !form.needs.is_empty());
            let name = entries.iter().find(|(k, _)| naming.is_some_and(|n| n.name == k.value));
            let rest = rest_words(form, entries.iter().filter(|(k, _)| naming.is_none_or(|n| n.name != k.value)));
            match name {
                Some((_, n)) if rest.is_empty() => words(None, n),
                Some((_, n)) => format!("{} ({rest})", words(None, n)),
                None => rest,
            }
        }
    }
}
