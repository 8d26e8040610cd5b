//! The front matter of a step for the other hand, as a tree: what is compared between releases names the parts, the
//! words and the figures of the made step.

use std::collections::BTreeMap;

use super::step::Mirror;
use crate::syntax::{Node, NodeKind};
use crate::units::{Clock, FigureName, PartNumber};

/// Keys whose values are part numbers, with or without a count before them.
const PARTS: [&str; 8] = ["parts", "part", "becomes", "stack", "from", "onto", "fairlead", "pulley"];

/// Keys whose values are clock positions.
const CLOCKS: [&str; 4] = ["long-point", "toward", "faces", "line"];

/// Keys whose values are words or names in which a side may stand.
const WORDS: [&str; 27] = [
    "title", "note", "text", "danger", "warning", "caution", "notice", "alt", "caption", "view", "forward", "up",
    "measure", "look-for", "sign-off", "cable", "label", "at", "safety", "place", "hole", "joint", "makes", "closes",
    "assembly", "inspect", "hand",
];

impl Mirror<'_> {
    /// Mirrors what stands under `key`. Keys that no side stands in stay as they are.
    pub(super) fn tree(&self, key: &str, node: &mut Node, figures: &BTreeMap<FigureName, FigureName>) {
        match &mut node.kind {
            NodeKind::Null => {}
            NodeKind::Sequence(nodes) => nodes.iter_mut().for_each(|n| self.tree(key, n, figures)),
            NodeKind::Mapping(entries) => {
                let inside = key;
                for (key, n) in entries.iter_mut() {
                    self.tree(&key.value, n, figures);
                    if inside == "offsets" {
                        key.value = self.sides.swapped(&key.value);
                    }
                }
                if key == "one-jig" {
                    other_face_up(entries);
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
                } else if CLOCKS.contains(&key) {
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

/// Mirrors what a jig for both hands says of the face that is up.
fn other_face_up(entries: &mut [(crate::source::Spanned<String>, Node)]) {
    let text = |entries: &[(crate::source::Spanned<String>, Node)], name: &str| {
        entries.iter().find(|(k, _)| k.value == name).and_then(|(_, n)| match &n.kind {
            NodeKind::Scalar { text, .. } => Some(text.clone()),
            _ => None,
        })
    };
    let Some(face) = text(entries, "face-up") else { return };
    let given = text(entries, "opposite-face-up");
    let other = given.or_else(|| crate::model::other_face(&face)).unwrap_or_default();
    for (key, node) in entries {
        if let NodeKind::Scalar { text, .. } = &mut node.kind {
            match key.value.as_str() {
                "face-up" => *text = other.clone(),
                "opposite-face-up" => *text = face.clone(),
                _ => {}
            }
        }
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
