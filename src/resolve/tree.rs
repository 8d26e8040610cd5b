//! Front matter as a tree with every condition decided, whatever keys it has.

use super::effectivity::{Facts, holds};
use crate::diag::Sink;
use crate::syntax::{Node, NodeKind, parse_condition};

/// The key of a condition.
const ONLY: &str = "only";

/// The tree without what does not hold and without its conditions; None where the whole does not hold. An item of a list
/// that does not hold leaves an empty place, so that the others keep their numbers as written.
pub fn decide_tree(node: &Node, facts: &Facts) -> Option<Node> {
    let kind = match &node.kind {
        NodeKind::Mapping(entries) => {
            if !mapping_holds(node, facts) {
                return None;
            }
            let kept = entries.iter().filter(|(key, _)| key.value != ONLY);
            NodeKind::Mapping(kept.filter_map(|(key, n)| Some((key.clone(), decide_tree(n, facts)?))).collect())
        }
        NodeKind::Sequence(nodes) => {
            let none = |n: &Node| Node { span: n.span, kind: NodeKind::Null };
            NodeKind::Sequence(nodes.iter().map(|n| decide_tree(n, facts).unwrap_or_else(|| none(n))).collect())
        }
        other => other.clone(),
    };
    Some(Node { span: node.span, kind })
}

/// The items of a list that hold, decided, each with its number as written; a single value counts as a list of one.
pub fn numbered(node: &Node, facts: &Facts) -> Vec<(usize, Node)> {
    let nodes = match &node.kind {
        NodeKind::Sequence(nodes) => nodes.as_slice(),
        _ => std::slice::from_ref(node),
    };
    nodes.iter().enumerate().filter_map(|(i, n)| Some((i, decide_tree(n, facts)?))).collect()
}

fn mapping_holds(node: &Node, facts: &Facts) -> bool {
    let NodeKind::Mapping(entries) = &node.kind else { return true };
    let only = entries.iter().find(|(key, _)| key.value == ONLY);
    only.is_none_or(|(_, n)| match &n.kind {
        // Faults of the condition were reported when the manual was read.
        NodeKind::Scalar { text, .. } => holds(&parse_condition(text, n.span, &mut Sink::new()), facts),
        _ => true,
    })
}
