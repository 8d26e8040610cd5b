//! A step as lines of text, for putting two steps side by side.

use super::step::plain;
use crate::model::Step;
use crate::model::schema::{Holds, STEP, item_words, words};
use crate::syntax::markdown::{MdBlock, MdBlockKind};
use crate::syntax::{Node, NodeKind};

/// What a step says, a line each, with what the line is. Two steps made alike have lines that go together.
pub fn step_units(step: &Step) -> Vec<(&'static str, String)> {
    let mut out: Vec<(&'static str, String)> = Vec::new();
    let NodeKind::Mapping(entries) = &step.front.kind else { return out };
    for (name, node) in entries {
        let Some(key) = STEP.key(&name.value) else { continue };
        match key.holds {
            Holds::Items(form) => {
                let nodes: &[Node] = match &node.kind {
                    NodeKind::Sequence(nodes) => nodes,
                    NodeKind::Null => &[],
                    _ => std::slice::from_ref(node),
                };
                out.extend(nodes.iter().map(|item| match item_words(form, item) {
                    (name, rest) if rest.is_empty() => (key.name, name),
                    (name, rest) if name.is_empty() => (key.name, rest),
                    (name, rest) => (key.name, format!("{name} ({rest})")),
                }));
            }
            _ if key.silent => {}
            holds => out.push((key.name, words(holds.inner(), node))),
        }
    }
    blocks(&step.body, &mut out);
    out
}

fn blocks(body: &[MdBlock], out: &mut Vec<(&'static str, String)>) {
    for block in body {
        match &block.kind {
            MdBlockKind::Table { head, rows, .. } => {
                for row in std::iter::once(head).chain(rows) {
                    out.push(("row", row.iter().map(|cell| plain(cell)).collect::<Vec<_>>().join(" | ")));
                }
            }
            MdBlockKind::Code(text) => out.push(("text", text.clone())),
            _ => out.extend(block.runs().map(|run| ("text", plain(run)))),
        }
        block.children().for_each(|inner| blocks(inner, out));
    }
}
