//! From blocks and marks in one sequence to conditional regions.
//!
//! Owns: which blocks a condition holds. Must not know: how marks are written.

use super::{Block, BlockKind};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Span, Spanned};
use crate::syntax::parse_condition;

/// What follows one another in a text, a list item, a quote.
pub(super) enum Piece {
    Block(Block),
    /// `<!-- only: … -->`: the whole mark, and its condition.
    Only {
        mark: Span,
        condition: Spanned<String>,
    },
    EndOnly(Span),
}

/// What holds the pieces, for messages.
#[derive(Clone, Copy)]
pub(super) enum Holder {
    Text,
    Item,
    Quote,
    Footnote,
}

impl Holder {
    fn word(self) -> &'static str {
        match self {
            Self::Text => "text",
            Self::Item => "list entry",
            Self::Quote => "block quote",
            Self::Footnote => "footnote",
        }
    }
}

struct Open {
    mark: Span,
    condition: Spanned<String>,
    blocks: Vec<Block>,
}

/// Puts the blocks between two marks under their condition. `source` gives the text of a span.
pub(super) fn fold<'a>(
    pieces: Vec<Piece>,
    holder: Holder,
    source: impl Fn(Span) -> &'a str,
    sink: &mut Sink,
) -> Vec<Block> {
    let mut outer: Vec<Block> = Vec::new();
    let mut open: Vec<Open> = Vec::new();
    // A table that was the last block, and the first mark after it.
    let (mut after_table, mut torn): (bool, Option<Span>) = (false, None);
    for piece in pieces {
        match piece {
            Piece::Block(block) => {
                let row = matches!(block.kind, BlockKind::Paragraph(_)) && source(block.span).starts_with('|');
                if let Some(mark) = torn.filter(|_| row) {
                    sink.push(
                        Diagnostic::error("condition-in-table", "a condition stands inside a table")
                            .at(mark, "the table ends here, and its further rows are read as plain text")
                            .note(block.span, "no longer part of the table")
                            .help("write the table once for each condition, each whole and between its own marks"),
                    );
                }
                after_table = matches!(block.kind, BlockKind::Table { .. }) || (row && torn.is_some());
                torn = None;
                open.last_mut().map_or(&mut outer, |o| &mut o.blocks).push(block);
            }
            Piece::Only { mark, condition } => {
                torn = torn.or(after_table.then_some(mark));
                if open.len() >= 16 {
                    sink.push(
                        Diagnostic::error("condition-mark", "conditions are nested too deep")
                            .at(mark, "not read")
                            .help("join conditions with `and`"),
                    );
                    continue;
                }
                open.push(Open { mark, condition, blocks: Vec::new() });
            }
            Piece::EndOnly(mark) => {
                torn = torn.or(after_table.then_some(mark));
                match open.pop() {
                    Some(inner) => close(inner, mark, &mut open, &mut outer, sink),
                    None => sink.push(
                        Diagnostic::error("condition-mark", "a condition ends here that was never opened")
                            .at(mark, format!("no `<!-- only: … -->` is open in this {}", holder.word()))
                            .help("take this line out, or write `<!-- only: … -->` above, indented as this line is"),
                    ),
                }
            }
        }
    }
    while let Some(inner) = open.pop() {
        let mark = inner.mark;
        sink.push(
            Diagnostic::error("condition-mark", "a condition is opened and not closed")
                .at(mark, format!("no `<!-- end only -->` follows in this {}", holder.word()))
                .help("write `<!-- end only -->` on a line of its own where it ends, indented as this line is"),
        );
        close(inner, mark, &mut open, &mut outer, sink);
    }
    outer
}

fn close(inner: Open, end: Span, open: &mut [Open], outer: &mut Vec<Block>, sink: &mut Sink) {
    let Open { mark, condition, blocks } = inner;
    let span = blocks.last().map_or(mark, |b| mark.to(b.span)).to(end);
    let condition_span = condition.span;
    let condition = parse_condition(&condition.value, condition_span, sink);
    let block = Block { span, kind: BlockKind::Only { condition, condition_span, blocks } };
    open.last_mut().map_or(outer, |o| &mut o.blocks).push(block);
}
