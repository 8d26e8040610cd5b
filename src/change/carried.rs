//! Files that the sources name by their path and that a release carries with them: every key of the schema that holds the
//! path of a file.

use crate::model::schema::{Form, Holds, MANUAL, PAGE, STEP, walk};
use crate::syntax::Node;

/// The paths that the keys of a source name.
pub(super) fn carried_paths(source: &str, tree: &Node) -> Vec<String> {
    let form: &'static Form = if source == "manual.yaml" {
        &MANUAL
    } else if source.starts_with("pages/") {
        &PAGE
    } else {
        &STEP
    };
    let mut paths = Vec::new();
    walk(tree, form, &mut |leaf| {
        if matches!(leaf.holds, Holds::File) {
            paths.push(leaf.text.to_owned());
        }
    });
    paths
}
