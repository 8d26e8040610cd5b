//! Files that the sources name by their path and that a release carries with them.

use crate::syntax::{Node, NodeKind};

/// The keys whose value is the path of a file: in which source, and the keys from the top.
const NAME_A_FILE: [(&str, &[&str]); 1] = [("manual.yaml", &["fonts", "body"])];

/// The paths that the keys of a source name.
pub(super) fn carried_paths(source: &str, tree: &Node) -> Vec<String> {
    let keys = NAME_A_FILE.iter().filter(|(file, _)| *file == source);
    let mut paths = Vec::new();
    for (_, keys) in keys {
        named(tree, keys, &mut paths);
    }
    paths
}

/// The values at the end of `keys`, of every item where there is a list on the way.
fn named(node: &Node, keys: &[&str], into: &mut Vec<String>) {
    match (&node.kind, keys) {
        (NodeKind::Scalar { text, .. }, []) => into.push(text.clone()),
        (NodeKind::Sequence(items), _) => items.iter().for_each(|item| named(item, keys, into)),
        (NodeKind::Mapping(entries), [first, rest @ ..]) => {
            entries.iter().filter(|(key, _)| key.value == *first).for_each(|(_, node)| named(node, rest, into));
        }
        _ => {}
    }
}
