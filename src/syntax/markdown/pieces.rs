//! From blocks and marks in one sequence to conditional regions.
//!
//! Owns: which blocks a condition holds. Must not know: how marks are written.

use super::{MdBlock, MdBlockKind};
use crate::diag::{Diagnostic, Sink};
use crate::source::{Span, Spanned};
use crate::syntax::parse_condition;

/// What follows one another in a text, a list item, a quote.
pub(super) enum MdPiece {
    Block(MdBlock),
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

struct OpenRegion {
    mark: Span,
    condition: Spanned<String>,
    blocks: Vec<MdBlock>,
}

/// Puts the blocks between two marks under their condition. `source` gives the text of a span.
pub(super) fn fold<'a>(
    pieces: Vec<MdPiece>,
    holder: Holder,
    source: impl Fn(Span) -> &'a str,
    sink: &mut Sink,
) -> Vec<MdBlock> {
    let mut outer: Vec<MdBlock> = Vec::new();
    let mut open: Vec<OpenRegion> = Vec::new();
    // A table that was the last block, and the first mark after it.
    let (mut after_table, mut torn): (bool, Option<Span>) = (false, None);
    for piece in pieces {
        match piece {
            MdPiece::Block(block) => {
                let row = matches!(block.kind, MdBlockKind::Paragraph(_)) && source(block.span).starts_with('|');
                if let Some(mark) = torn.filter(|_| row) {
                    sink.push(
                        Diagnostic::error("condition-in-table", "a condition stands inside a table")
                            .at(mark, "the table ends here, and its further rows are read as plain text")
                            .note(block.span, "no longer part of the table")
                            .help("write the table once for each condition, each whole and between its own marks"),
                    );
                }
                after_table = matches!(block.kind, MdBlockKind::Table { .. }) || (row && torn.is_some());
                torn = None;
                open.last_mut().map_or(&mut outer, |o| &mut o.blocks).push(block);
            }
            MdPiece::Only { mark, condition } => {
                torn = torn.or(after_table.then_some(mark));
                if open.len() >= 16 {
                    sink.push(
                        Diagnostic::error("condition-mark", "conditions are nested too deep")
                            .at(mark, "not read")
                            .help("join conditions with `and`"),
                    );
                    continue;
                }
                open.push(OpenRegion { mark, condition, blocks: Vec::new() });
            }
            MdPiece::EndOnly(mark) => {
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

fn close(inner: OpenRegion, end: Span, open: &mut [OpenRegion], outer: &mut Vec<MdBlock>, sink: &mut Sink) {
    let OpenRegion { mark, condition, blocks } = inner;
    let span = blocks.last().map_or(mark, |b| mark.to(b.span)).to(end);
    let condition_span = condition.span;
    let condition = parse_condition(&condition.value, condition_span, sink);
    let block = MdBlock { span, kind: MdBlockKind::Only { condition, condition_span, blocks } };
    open.last_mut().map_or(outer, |o| &mut o.blocks).push(block);
}
