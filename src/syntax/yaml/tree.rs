//! From the parser's events to the tree.
//!
//! Owns: nodes and their spans, aliases under a budget, what is lost or stands twice. Must not know: how a fault of
//! form is worded.

use std::collections::BTreeMap;

use granit_parser::{Event, Parser, Placement, ScalarStyle, ScanError, Tag, options};

use super::{Node, NodeKind, YamlOrigin};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Span, Spanned};
use crate::syntax::hidden::without_hidden;

/// How many nested lists and mappings are read.
const DEEPEST: usize = 64;
/// How many nodes the aliases of one text may add: far above any manual's need, far below what hurts.
const MOST_REPEATED: usize = 20_000;
/// How many entries a list or a mapping may have.
const MOST_ENTRIES: usize = 10_000;

/// A list or mapping that is still open.
struct OpenNode {
    anchor: usize,
    start: usize,
    end: usize,
    /// Whether it was said that it has too many entries.
    is_full: bool,
    kind: OpenKind,
}

enum OpenKind {
    Sequence(Vec<Node>),
    Mapping {
        entries: Vec<(Spanned<String>, Node)>,
        /// Where each key stands.
        keys: BTreeMap<String, Span>,
        key: Option<YamlKey>,
    },
}

/// A key that waits for its value. A key that could not be read, or stands twice, drops its value.
enum YamlKey {
    Kept(Spanned<String>),
    Dropped,
}

struct TreeBuilder<'a> {
    text: &'a str,
    origin: YamlOrigin,
    sink: &'a mut Sink,
    open: Vec<OpenNode>,
    /// What an anchor stands for and how many nodes that is, by the parser's number for it.
    anchors: BTreeMap<usize, (Node, usize)>,
    repeated: usize,
    root: Option<Node>,
    documents: usize,
    /// The end of the last scalar, for comments that cut a text off.
    last_end: usize,
}

/// Reads one document. Everything but a fault of form goes to `sink`.
///
/// # Errors
/// The first fault of form.
pub(super) fn read(text: &str, origin: YamlOrigin, sink: &mut Sink) -> Result<Node, ScanError> {
    let options = options! {
        emit_unresolved_aliases: true,
        disallow_directives: true,
        flow_nesting_limit: DEEPEST,
        block_nesting_limit: DEEPEST,
        max_buffered_comment_events: 100_000,
    };
    let mut found = Sink::new();
    let mut builder = TreeBuilder {
        text,
        origin,
        sink: &mut found,
        open: Vec::new(),
        anchors: BTreeMap::new(),
        repeated: 0,
        root: None,
        documents: 0,
        last_end: 0,
    };
    for event in Parser::new_from_str_with_options(text, options) {
        let (event, span) = event?;
        let range = span.byte_range().unwrap_or(0..0);
        builder.event(event, range.start..range.end.max(range.start));
    }
    let root = builder.root.take();
    sink.append(&mut found);
    Ok(root.unwrap_or(Node { span: origin.span(0..0), kind: NodeKind::Null }))
}

impl TreeBuilder<'_> {
    fn event(&mut self, event: Event<'_>, range: std::ops::Range<usize>) {
        match event {
            Event::DocumentStart(..) => {
                self.documents += 1;
                if self.documents == 2 {
                    self.sink.push(
                        Diagnostic::error("broken-yaml", "a second part begins here, and only the first is read")
                            .at(self.origin.span(range), "`---` begins a second part")
                            .help("take this line out, and what follows it if it is a copy"),
                    );
                }
            }
            Event::Scalar(value, style, anchor, tag) => {
                let quoted = self.tag(tag.as_deref(), &range) || style != ScalarStyle::Plain;
                if style == ScalarStyle::Plain {
                    self.swallowed_key(&range);
                }
                self.last_end = range.end;
                let node = self.scalar(&value, range, quoted);
                self.put(node, anchor, 1);
            }
            Event::Alias(id) => self.alias(id, range),
            Event::UnresolvedAlias(name) => {
                self.last_end = range.end;
                let span = self.origin.span(range);
                self.sink.push(
                    Diagnostic::error("broken-yaml", format!("nothing is marked `&{name}`"))
                        .at(span, "a text that begins with `*` repeats what was marked earlier")
                        .help("if this is plain text, put it in quotes: \"*…\""),
                );
                self.put(Node { span, kind: NodeKind::Null }, 0, 1);
            }
            Event::SequenceStart(_, anchor, tag) => {
                self.tag(tag.as_deref(), &range);
                self.open(anchor, range, OpenKind::Sequence(Vec::new()));
            }
            Event::MappingStart(_, anchor, tag) => {
                self.tag(tag.as_deref(), &range);
                self.open(anchor, range, OpenKind::Mapping { entries: Vec::new(), keys: BTreeMap::new(), key: None });
            }
            Event::SequenceEnd | Event::MappingEnd => self.close(range),
            Event::Comment(comment, placement) => self.comment(&comment, placement, range),
            _ => {}
        }
    }

    fn scalar(&mut self, value: &str, range: std::ops::Range<usize>, quoted: bool) -> Node {
        if !quoted && (range.is_empty() || matches!(value, "" | "~" | "null" | "Null" | "NULL")) {
            return Node { span: self.origin.span(range), kind: NodeKind::Null };
        }
        let inner = range.start + 1..range.end.saturating_sub(1);
        let verbatim = quoted && self.text.get(inner.clone()) == Some(value);
        // A block text's span reaches over its last line end, which no message should mark.
        let trimmed = self.text.get(range.clone()).map_or(range.end, |s| range.start + s.trim_end().len());
        let span = if verbatim { inner } else { range.start..trimmed.max(range.start) };
        let source = self.text.get(span.clone()).unwrap_or("");
        let span = self.origin.span(span);
        let text = without_hidden(value, source, span, self.sink).unwrap_or_else(|| value.to_owned());
        Node { span, kind: NodeKind::Scalar { text, quoted } }
    }

    fn open(&mut self, anchor: usize, range: std::ops::Range<usize>, kind: OpenKind) {
        self.open.push(OpenNode { anchor, start: range.start, end: range.end, is_full: false, kind });
    }

    fn close(&mut self, range: std::ops::Range<usize>) {
        let Some(open) = self.open.pop() else { return };
        // The end of a block list or mapping is noticed only at the next token; its last entry ends it.
        let end = if range.is_empty() { open.end } else { range.end };
        let span = self.origin.span(open.start..end.max(open.start));
        let kind = match open.kind {
            OpenKind::Sequence(nodes) => NodeKind::Sequence(nodes),
            OpenKind::Mapping { entries, .. } => NodeKind::Mapping(entries),
        };
        let node = Node { span, kind };
        let size = if open.anchor > 0 { size(&node) } else { 1 };
        self.last_end = end;
        self.put(node, open.anchor, size);
    }

    /// Puts a finished node where it belongs: into the innermost open list or mapping.
    fn put(&mut self, node: Node, anchor: usize, size: usize) {
        if anchor > 0 {
            self.anchors.insert(anchor, (node.clone(), size));
        }
        let end = (node.span.end as usize).saturating_sub(self.origin.offset).max(self.last_end);
        let Some(open) = self.open.last_mut() else {
            if self.root.is_none() {
                self.root = Some(node);
            }
            return;
        };
        open.end = open.end.max(end);
        let held = match &open.kind {
            OpenKind::Sequence(nodes) => nodes.len(),
            OpenKind::Mapping { entries, .. } => entries.len(),
        };
        if held >= MOST_ENTRIES {
            if !open.is_full {
                open.is_full = true;
                self.sink.push(
                    Diagnostic::error(
                        "text-too-large",
                        format!("more than {MOST_ENTRIES} entries of a list are not read"),
                    )
                    .at(node.span, "from here on nothing is read")
                    .help("make the list shorter"),
                );
            }
            return;
        }
        match &mut open.kind {
            OpenKind::Sequence(nodes) => nodes.push(node),
            OpenKind::Mapping { entries, keys, key } => match key.take() {
                None => *key = Some(read_key(node, keys, self.sink)),
                Some(YamlKey::Kept(key)) => entries.push((key, node)),
                Some(YamlKey::Dropped) => {}
            },
        }
    }

    fn alias(&mut self, id: usize, range: std::ops::Range<usize>) {
        self.last_end = range.end;
        let span = self.origin.span(range);
        let mut node = Node { span, kind: NodeKind::Null };
        match self.anchors.get(&id) {
            None => self.sink.push(
                Diagnostic::error("broken-yaml", "a list or mapping repeats itself inside itself")
                    .at(span, "what this repeats is not finished here")
                    .help("write out what is meant, without `*`"),
            ),
            Some((_, size)) if self.repeated + size > MOST_REPEATED => {
                if self.repeated <= MOST_REPEATED {
                    self.sink.push(
                        Diagnostic::error("broken-yaml", "too much is repeated with `*`")
                            .at(span, format!("with this, more than {MOST_REPEATED} entries would be repeated"))
                            .help("write out what is meant, without `*`"),
                    );
                    self.repeated = MOST_REPEATED + 1;
                }
            }
            Some((target, size)) => {
                self.repeated += size;
                node.kind = target.kind.clone();
                let size = *size;
                self.put(node, 0, size);
                return;
            }
        }
        self.put(node, 0, 1);
    }

    /// Whether the tag says that the node is a text; any other tag is reported.
    fn tag(&mut self, tag: Option<&Tag>, range: &std::ops::Range<usize>) -> bool {
        let Some(tag) = tag else { return false };
        if tag.is_yaml_core_schema_tag("str") {
            return true;
        }
        // The span of a node starts after its tag.
        let before = self.text.get(..range.start).unwrap_or("").trim_end();
        let start = before.rfind('!').map_or(range.start, |i| i - usize::from(before[..i].ends_with('!')));
        let word = tag.original();
        self.sink.push(
            Diagnostic::error("broken-yaml", format!("the mark `{word}` has no meaning here"))
                .at(self.origin.span(start..before.len().max(start)), "a word that begins with `!`")
                .help("if it belongs to the text, put the whole text in quotes: \"!…\""),
        );
        false
    }

    /// A comment that follows its text without a space was meant as text, as in `drill: #30`.
    fn comment(&mut self, comment: &str, placement: Placement, range: std::ops::Range<usize>) {
        let stuck = comment.chars().next().is_some_and(|c| c.is_alphanumeric());
        if placement != Placement::Right || !stuck {
            return;
        }
        let word: String = comment.split_whitespace().next().unwrap_or("").chars().take(20).collect();
        let headline = format!("`#{word}` and what follows on this line is not read");
        let digit = comment.starts_with(|c: char| c.is_ascii_digit());
        let found = if digit {
            Diagnostic::error("text-cut-off", headline)
        } else {
            Diagnostic::warning("text-cut-off", headline)
        };
        self.sink.push(
            found
                .at(self.origin.span(range), "`#` after a space begins a remark")
                .help(format!("put the whole text in quotes: \"#{word}\"; before a remark, write `# ` with a space")),
        );
    }

    /// A text over several lines that holds `word:x` has taken in a key whose space is missing.
    fn swallowed_key(&mut self, range: &std::ops::Range<usize>) {
        let Some(slice) = self.text.get(range.clone()).filter(|s| s.contains('\n')) else { return };
        let mut at = range.start;
        for (i, line) in slice.split_inclusive('\n').enumerate() {
            let body = line.trim_start();
            let start = at + line.len() - body.len();
            at += line.len();
            if i == 0 {
                continue;
            }
            if let Some(colon) = key_without_space(body) {
                self.sink.push(
                    Diagnostic::error("broken-yaml", "a key without a space after its colon is taken for text")
                        .at(self.origin.span(start..start + colon + 1), "taken for part of the text above")
                        .help(format!(
                            "write `{}: …` with a space, and line it up with the other keys",
                            &body[..colon]
                        )),
                );
            }
        }
    }
}

/// The place of the colon where a line begins like a key, `word:x`, but for the space. A link such as `part:KW-1` is
/// told apart by nothing, so this asks for a line that begins with it.
pub(super) fn key_without_space(line: &str) -> Option<usize> {
    let colon = line.find(':')?;
    let key = &line[..colon];
    let plain = !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || c == '-');
    let after = line[colon + 1..].chars().next();
    (plain
        && key.starts_with(|c: char| c.is_ascii_lowercase())
        && after.is_some_and(|c| !c.is_whitespace() && c != '/'))
    .then_some(colon)
}

fn read_key(node: Node, keys: &mut BTreeMap<String, Span>, sink: &mut Sink) -> YamlKey {
    let NodeKind::Scalar { text, .. } = node.kind else {
        let (headline, label) = match node.kind {
            NodeKind::Null => ("a key is missing before the colon", "no word stands before this colon"),
            _ => ("a list or mapping stands where a key should", "not a word"),
        };
        sink.push(
            Diagnostic::error("broken-yaml", headline)
                .at(node.span, label)
                .help("write `key: value`; a text that begins with `[` or `{` goes in quotes"),
        );
        return YamlKey::Dropped;
    };
    if let Some(first) = keys.get(&text) {
        sink.push(
            Diagnostic::error("duplicate-key", format!("the key `{text}` stands twice"))
                .at(node.span, "the second time; it is not read")
                .note(*first, "the first time")
                .help("keep one of the two, or join them in one list"),
        );
        return YamlKey::Dropped;
    }
    keys.insert(text.clone(), node.span);
    YamlKey::Kept(Spanned::new(text, node.span))
}

/// The number of nodes in a tree.
fn size(node: &Node) -> usize {
    match &node.kind {
        NodeKind::Null | NodeKind::Scalar { .. } => 1,
        NodeKind::Sequence(nodes) => 1 + nodes.iter().map(size).sum::<usize>(),
        NodeKind::Mapping(entries) => 1 + entries.iter().map(|(_, n)| 1 + size(n)).sum::<usize>(),
    }
}
