//! Walking through the Markdown of a step or a page: its inlines, its references.

use crate::source::{Span, Spanned};
use crate::syntax::markdown::{Block, BlockKind, Inline, InlineKind};

/// Calls `visit` for every inline below `blocks`, those inside others included.
pub fn inlines<'a>(blocks: &'a [Block], visit: &mut dyn FnMut(&'a Inline)) {
    for block in blocks {
        match &block.kind {
            BlockKind::Paragraph(content) | BlockKind::Heading { content, .. } => spread(content, visit),
            BlockKind::List { items, .. } => items.iter().for_each(|item| inlines(&item.blocks, visit)),
            BlockKind::Quote(blocks)
            | BlockKind::Safety { blocks, .. }
            | BlockKind::FootnoteDefinition { blocks, .. }
            | BlockKind::Only { blocks, .. } => inlines(blocks, visit),
            BlockKind::Table { head, rows, .. } => {
                for cell in head.iter().chain(rows.iter().flatten()) {
                    spread(cell, visit);
                }
            }
            BlockKind::Code(_) | BlockKind::Rule => {}
        }
    }
}

fn spread<'a>(content: &'a [Inline], visit: &mut dyn FnMut(&'a Inline)) {
    for inline in content {
        visit(inline);
        match &inline.kind {
            InlineKind::Strong(inner) | InlineKind::Emphasis(inner) => spread(inner, visit),
            InlineKind::Link { content, .. } => spread(content, visit),
            _ => {}
        }
    }
}

/// The destinations of all links below `blocks`.
pub fn links(blocks: &[Block]) -> Vec<&Spanned<String>> {
    let mut links = Vec::new();
    inlines(blocks, &mut |inline| {
        if let InlineKind::Link { to, .. } = &inline.kind {
            links.push(to);
        }
    });
    links
}

/// Splits `part:KW-103-L` into its scheme, the name and the name's own place.
pub fn reference(to: &Spanned<String>) -> Option<(&str, &str, Span)> {
    let (scheme, name) = to.value.split_once(':')?;
    let written = (to.span.end - to.span.start) as usize;
    let span = if written == to.value.len() {
        Span { start: to.span.start + scheme.len() as u32 + 1, ..to.span }
    } else {
        to.span
    };
    Some((scheme, name, span))
}
