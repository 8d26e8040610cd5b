//! Markdown as a tree of spanned blocks, with conditional regions and safety messages found.
//!
//! Owns: the tree, and what an author may write in a text. Must not know: front matter, which names exist.

mod children;
mod comment;
mod destination;
mod inlines;
mod pieces;
mod reader;
mod safety;

pub use children::{each_block, each_inline, each_link, reference};

use super::Condition;
use crate::diag::Sink;
use crate::source::{FileId, Span, Spanned};

#[derive(Clone, Debug)]
pub struct MdBlock {
    pub span: Span,
    pub kind: MdBlockKind,
}

#[derive(Clone, Debug)]
pub enum MdBlockKind {
    Paragraph(Vec<MdInline>),
    Heading {
        level: u8,
        content: Vec<MdInline>,
    },
    List {
        ordered: Option<u64>,
        items: Vec<MdItem>,
    },
    Quote(Vec<MdBlock>),
    /// A block quote that opens with a signal word in bold; the word is taken out of the blocks.
    Safety {
        word: Spanned<String>,
        blocks: Vec<MdBlock>,
    },
    Table {
        aligns: Vec<ColumnAlign>,
        head: Vec<Vec<MdInline>>,
        rows: Vec<Vec<Vec<MdInline>>>,
    },
    Code(String),
    Rule,
    FootnoteDefinition {
        label: String,
        blocks: Vec<MdBlock>,
    },
    /// `<!-- only: … -->` up to its end. Lists on both sides of its edges belong together.
    Only {
        condition: Condition,
        condition_span: Span,
        blocks: Vec<MdBlock>,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ColumnAlign {
    None,
    Left,
    Center,
    Right,
}

#[derive(Clone, Debug)]
pub struct MdItem {
    pub span: Span,
    /// A task list item and whether it is ticked.
    pub task: Option<bool>,
    pub blocks: Vec<MdBlock>,
}

#[derive(Clone, Debug)]
pub struct MdInline {
    pub span: Span,
    pub kind: MdInlineKind,
}

#[derive(Clone, Debug)]
pub enum MdInlineKind {
    Text(String),
    Strong(Vec<MdInline>),
    Emphasis(Vec<MdInline>),
    Code(String),
    /// `to` is the destination as written, for example `part:KW-103-L`; its span is the destination's own.
    Link {
        to: Spanned<String>,
        content: Vec<MdInline>,
    },
    SoftBreak,
    HardBreak,
    FootnoteMark(String),
}

/// Reads Markdown. `offset` is where `text` starts in the file, in bytes. HTML other than the condition comments,
/// pictures in the text, an unclosed or stray condition, a condition inside a table, a footnote without its text
/// go to `sink`.
pub fn parse_markdown(file: FileId, text: &str, offset: usize, sink: &mut Sink) -> Vec<MdBlock> {
    reader::read(file, text, offset, sink)
}

#[cfg(test)]
mod plain_html;
#[cfg(test)]
mod tests;
