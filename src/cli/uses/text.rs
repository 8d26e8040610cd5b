//! Links in the text.

use super::{Kind, Under, Use, Walk};
use crate::syntax::markdown::{Block, BlockKind, Inline, InlineKind};

/// Every mention in the text of a page.
pub(in crate::cli) fn uses_in_text(blocks: &[Block]) -> Vec<Use<'_>> {
    let mut w = Walk { found: Vec::new(), only: Vec::new() };
    w.blocks(blocks);
    w.found
}

impl<'a> Walk<'a> {
    pub(super) fn blocks(&mut self, blocks: &'a [Block]) {
        for block in blocks {
            match &block.kind {
                BlockKind::Paragraph(text) | BlockKind::Heading { content: text, .. } => self.inlines(text),
                BlockKind::List { items, .. } => items.iter().for_each(|i| self.blocks(&i.blocks)),
                BlockKind::Quote(blocks)
                | BlockKind::Safety { blocks, .. }
                | BlockKind::FootnoteDefinition { blocks, .. } => self.blocks(blocks),
                BlockKind::Table { head, rows, .. } => {
                    head.iter().chain(rows.iter().flatten()).for_each(|cell| self.inlines(cell));
                }
                BlockKind::Code(_) | BlockKind::Rule => {}
                BlockKind::Only { condition, condition_span, blocks } => {
                    self.only.push(Under { condition, span: *condition_span });
                    self.blocks(blocks);
                    self.only.pop();
                }
            }
        }
    }

    fn inlines(&mut self, inlines: &'a [Inline]) {
        for inline in inlines {
            match &inline.kind {
                InlineKind::Strong(inner) | InlineKind::Emphasis(inner) => self.inlines(inner),
                InlineKind::Link { to, content } => {
                    if let Some((kind, name)) = target(to) {
                        self.add(kind, name, to.span, "named in the text");
                    }
                    self.inlines(content);
                }
                InlineKind::Text(_)
                | InlineKind::Code(_)
                | InlineKind::SoftBreak
                | InlineKind::HardBreak
                | InlineKind::FootnoteMark(_) => {}
            }
        }
    }
}

/// What a link leads to: `part:KW-103-L`.
fn target(to: &str) -> Option<(Kind, &str)> {
    let (scheme, name) = to.split_once(':')?;
    let kinds = [Kind::Part, Kind::Hardware, Kind::Tool, Kind::Consumable, Kind::Figure, Kind::Step];
    kinds.into_iter().find(|k| k.word() == scheme).map(|k| (k, name))
}
