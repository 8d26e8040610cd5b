//! YAML as a tree of spanned nodes. Scalars keep the text the author wrote, so that `0104` stays `0104`.
//!
//! Owns: the tree, reading under limits, duplicate keys, faults in plain words. Must not know: what a key means.

mod fault;
mod tree;

use crate::diag::Sink;
use crate::source::{FileId, Span, Spanned};

#[derive(Clone, Debug)]
pub struct Node {
    /// What the author wrote. Of a quoted text on one line without escapes, what stands between the quotes, so
    /// that places inside the text are places in the file.
    pub span: Span,
    pub kind: NodeKind,
}

#[derive(Clone, Debug)]
pub enum NodeKind {
    /// Nothing was written, or `~`, or `null`.
    Null,
    /// The text as written; without its quotes where it had some.
    Scalar {
        text: String,
        quoted: bool,
    },
    Sequence(Vec<Node>),
    /// Keys in the order written; each stands once.
    Mapping(Vec<(Spanned<String>, Node)>),
}

/// How many faults of form are reported of one text before reading it is given up.
const MOST_FAULTS: usize = 8;

/// Reads one YAML document. `offset` is where `text` starts in the file (front matter), in bytes.
///
/// A fault of form goes to `sink` at its place; then there is no tree. A key that stands twice, a text cut off by
/// `#`, a mark that has no meaning here go to `sink` too, and the tree is kept.
pub fn parse_yaml(file: FileId, text: &str, offset: usize, sink: &mut Sink) -> Option<Node> {
    let origin = YamlOrigin { file, offset };
    let first = match tree::read(text, origin, sink) {
        Ok(node) => return Some(node),
        Err(error) => error,
    };
    // Entries that can't be read are blanked one by one, so that the faults of the others are found as well.
    let mut rest = text.to_owned();
    let mut error = first;
    for _ in 0..MOST_FAULTS {
        let (found, cause) = fault::explain(&rest, origin, &error);
        sink.push(found);
        if !fault::blank_entry(&mut rest, cause) {
            return None;
        }
        match tree::read(&rest, origin, &mut Sink::new()) {
            Ok(_) => return None,
            Err(next) => error = next,
        }
    }
    None
}

/// Where a text stands in its file.
#[derive(Clone, Copy)]
struct YamlOrigin {
    file: FileId,
    offset: usize,
}

impl YamlOrigin {
    fn span(self, range: std::ops::Range<usize>) -> Span {
        Span::new(self.file, self.offset + range.start..self.offset + range.end)
    }
}

#[cfg(test)]
mod tests;
