//! The front matter of a step for the other hand, as a tree: what is compared between releases names the parts, the
//! words and the figures of the made step.

use std::collections::BTreeMap;

use super::step::Mirror;
use crate::syntax::{Node, NodeKind};
use crate::units::{Clock, FigureName, PartNumber};

/// Keys whose values are part numbers, with or without a count before them.
const PARTS: [&str; 6] = ["parts", "part", "becomes", "stack", "from", "onto"];

/// Keys whose values are words or names in which a side may stand.
const WORDS: [&str; 22] = [
    "title", "note", "text", "danger", "warning", "caution", "notice", "alt", "caption", "view", "forward", "up", "measure",
    "look-for", "sign-off", "hole", "joint", "makes", "closes", "assembly", "inspect", "hand",
];

impl Mirror<'_> {
    /// Mirrors what stands under `key`. Keys that no side stands in stay as they are.
    pub(super) fn tree(&self, key: &str, node: &mut Node, figures: &BTreeMap<FigureName, FigureName>) {
        match &mut node.kind {
            NodeKind::Null => {}
            NodeKind::Sequence(nodes) => nodes.iter_mut().for_each(|n| self.tree(key, n, figures)),
            NodeKind::Mapping(entries) => {
                for (key, n) in entries {
                    self.tree(&key.value, n, figures);
                }
            }
            NodeKind::Scalar { text, .. } => {
                if PARTS.contains(&key) {
                    *text = self.counted_part(text);
                } else if matches!(key, "figures" | "figure") {
                    if let Some(other) = figures.get(&FigureName::new(&*text)) {
                        *text = other.to_string();
                    }
                } else if key == "offset" {
                    *text = negated(text);
                } else if key == "long-point" {
                    if let Ok(clock) = Clock::parse(text) {
                        *text = clock.from_other_end().to_string();
                    }
                } else if WORDS.contains(&key) {
                    *text = self.sides.swapped(text);
                }
            }
        }
    }

    fn counted_part(&self, text: &str) -> String {
        let (count, name) = text.split_once(" x ").map_or(("", text), |(count, name)| (count, name));
        let other = self.parts.get(&PartNumber::new(name.trim())).map_or(name.trim(), |p| p.as_str());
        if count.is_empty() { other.to_owned() } else { format!("{count} x {other}") }
    }
}

fn negated(text: &str) -> String {
    let text = text.trim();
    match text.strip_prefix('-') {
        Some(rest) => rest.to_owned(),
        None if text.chars().any(|c| ('1'..='9').contains(&c)) => format!("-{text}"),
        None => text.to_owned(),
    }
}
