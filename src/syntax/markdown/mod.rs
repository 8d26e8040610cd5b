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
pub struct Block {
    pub span: Span,
    pub kind: BlockKind,
}

#[derive(Clone, Debug)]
pub enum BlockKind {
    Paragraph(Vec<Inline>),
    Heading {
        level: u8,
        content: Vec<Inline>,
    },
    List {
        ordered: Option<u64>,
        items: Vec<Item>,
    },
    Quote(Vec<Block>),
    /// A block quote that opens with a signal word in bold; the word is taken out of the blocks.
    Safety {
        word: Spanned<String>,
        blocks: Vec<Block>,
    },
    Table {
        aligns: Vec<ColumnAlign>,
        head: Vec<Vec<Inline>>,
        rows: Vec<Vec<Vec<Inline>>>,
    },
    Code(String),
    Rule,
    FootnoteDefinition {
        label: String,
        blocks: Vec<Block>,
    },
    /// `<!-- only: … -->` up to its end. Lists on both sides of its edges belong together.
    Only {
        condition: Condition,
        condition_span: Span,
        blocks: Vec<Block>,
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
pub struct Item {
    pub span: Span,
    /// A task list item and whether it is ticked.
    pub task: Option<bool>,
    pub blocks: Vec<Block>,
}

#[derive(Clone, Debug)]
pub struct Inline {
    pub span: Span,
    pub kind: InlineKind,
}

#[derive(Clone, Debug)]
pub enum InlineKind {
    Text(String),
    Strong(Vec<Inline>),
    Emphasis(Vec<Inline>),
    Code(String),
    /// `to` is the destination as written, for example `part:KW-103-L`; its span is the destination's own.
    Link {
        to: Spanned<String>,
        content: Vec<Inline>,
    },
    SoftBreak,
    HardBreak,
    FootnoteMark(String),
}

/// Reads Markdown. `offset` is where `text` starts in the file, in bytes. HTML other than the condition comments,
/// pictures in the text, an unclosed or stray condition, a condition inside a table, a footnote without its text
/// go to `sink`.
pub fn parse_markdown(file: FileId, text: &str, offset: usize, sink: &mut Sink) -> Vec<Block> {
    reader::read(file, text, offset, sink)
}

#[cfg(test)]
mod plain_html;
#[cfg(test)]
mod tests;
